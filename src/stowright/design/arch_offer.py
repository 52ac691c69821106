"""What a body over the arches would give instead of the one between them: told, not built."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from stowright.design.bearers import bearers_of
from stowright.design.block import BlockPieces, StandingBlock, make_block, stand
from stowright.design.context import Context
from stowright.design.pieces import Piece
from stowright.design.stowing import Stowing
from stowright.errors import DesignError
from stowright.model.design import BlockDesign, Skew
from stowright.model.part_area import polygon_area_mm2

__all__ = ["Offers", "offers_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Offers:
    """By block, what standing over the arches would give, in words."""

    words: tuple[tuple[str, str], ...]

    @property
    def warnings(self) -> tuple[str, ...]:
        """A line for each block that asked."""
        return tuple(f"{name}: {words}" for name, words in self.words)

    def told(self, block: BlockDesign) -> BlockDesign:
        """Return the block with its offer beside what limits its floor."""
        words = dict(self.words).get(block.name)
        if words is None:
            return block
        limits = tuple(
            replace(limit, next=f"{limit.next}; {words}" if limit.next else words)
            if limit.side == "floor"
            else limit
            for limit in block.usable.limits
        )
        return replace(block, usable=replace(block.usable, limits=limits))


def offers_of(
    context: Context,
    skew: Skew,
    standing: tuple[StandingBlock, ...],
    made: tuple[BlockPieces, ...],
    stowing: Stowing,
) -> Offers:
    """Return the offers of every block with ``over_arches = "offer"``.

    Args:
        context: The job.
        skew: How far the bay is out of square.
        standing: The blocks as they are built, between the arches.
        made: Their pieces.
        stowing: What each opening holds.
    """
    found = []
    for block, pieces in zip(standing, made, strict=True):
        if block.block.over_arches == "offer":
            others = tuple(s for s in standing if s is not block)
            words = _offer(context, skew, (block, pieces), others, stowing)
            found.append((block.block.name, words))
    return Offers(words=tuple(found))


def _offer(
    context: Context,
    skew: Skew,
    plain: tuple[StandingBlock, BlockPieces],
    others: tuple[StandingBlock, ...],
    stowing: Stowing,
) -> str:
    """Return in words what one block would win and lose over the arches."""
    block, pieces = plain
    asked = replace(block.block, over_arches="yes")
    try:
        raised = stand(context, asked, skew, others)
        made = make_block(context, raised, stowing)
    except DesignError as error:
        return f"over the arches it does not go: {error}"
    if raised.lift is None:
        return "no arch of known height is under it, so there is nothing to stand over"
    bearers = bearers_of(context, skew, (raised, *others), made.pieces)
    width = raised.plan.width - block.plan.width
    height = block.plan.height - raised.plan.height
    litres = _litres(made) - _litres(pieces)
    carried = [p for p in bearers.pieces if p.block == asked.name]
    sheet = _square_metres((*made.pieces, *carried)) - _square_metres(pieces.pieces)
    sizes = (
        _more(context, width, "wider", "narrower"),
        _more(context, height, "less high", "higher"),
    )
    return (
        f"over the arches it would be {' and '.join(sizes)} (underside "
        f"{context.shown(raised.lift.low)} above the floor): {litres:+.0f} litres, "
        f'{sheet:+.2f} m2 of sheet; over_arches = "yes" builds it'
    )


def _more(context: Context, by: float, more: str, less: str) -> str:
    return f"{context.shown(abs(by))} {more if by >= 0.0 else less}"


def _litres(made: BlockPieces) -> float:
    return sum(opening.usable.litres for opening in made.design.openings)


def _square_metres(pieces: Iterable[Piece]) -> float:
    return sum(polygon_area_mm2(piece.contour) for piece in pieces) / 1.0e6
