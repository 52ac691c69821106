"""How high a block's carcass is, as a sum: under a deck, the rail, the roof, or in a range."""

from __future__ import annotations

from dataclasses import dataclass

from stowright.design.context import Context
from stowright.design.over_arches import Lift, lift_of
from stowright.design.sums import fitted, line
from stowright.errors import DesignError
from stowright.model.design import Sum, SumLine
from stowright.model.geometry import Box
from stowright.model.job import Block, Deck
from stowright.units import tidy

__all__ = ["BlockHeight", "block_height", "deck_top"]


#: A block without a deck or a range stays this far under the rail (common practice). [mm]
BELOW_RAIL = 45.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockHeight:
    """A carcass height and where it starts.

    Attributes:
        low: z of the carcass's underside, on top of its packers.
        packers: Height of the packers; 0 in the valleys or off the floor.
        sum: The height.
        lift: How it gets over the arches; None for a block that does not stand over them.
    """

    low: float
    packers: float
    sum: Sum
    lift: Lift | None = None


def deck_top(context: Context, deck: Deck) -> tuple[SumLine, ...]:
    """Return the terms of a deck's upper surface above the floor.

    Raises:
        DesignError: When neither a top nor a rail is given.
    """
    if deck.top is not None:
        return (line(f"{deck.name}: top, as the job says", deck.top),)
    rail = context.job.bay.rail
    if rail is None:
        raise DesignError(
            deck.name, "the bay has no rail to measure the deck from", "give the deck a top"
        )
    return (line("floor to rail", rail), line("deck below the rail", -deck.below_rail))


def _packers(context: Context, block: Block) -> float:
    """Return the height of packers: those that are cut have theirs whatever sheet came since."""
    cut = context.cut_block(block.name)
    return context.t(block.build.packers.sheet) if not cut or cut.packers is None else cut.packers


def block_height(context: Context, block: Block, standing: tuple[Box, ...] = ()) -> BlockHeight:
    """Return the height of a block's carcass and where it starts.

    Args:
        context: The job.
        block: The block.
        standing: The carcasses that stand already: a body over the arches may stand on one.
    """
    lift = lift_of(context, block, standing)
    if lift is not None:
        return _lifted(context, block, lift)
    build, z = block.build, block.place.z
    on_floor = z is None or z[0] <= 1.0e-6
    packers = _packers(context, block) if on_floor and build.packers.how == "on-ribs" else 0.0
    start = 0.0 if z is None else z[0]
    low = tidy(start + packers)
    terms = [*_top_terms(context, block)]
    if start:
        terms.append(line("where it starts above the floor", -start))
    if packers:
        terms.append(line("packers on the ribs", -packers))
    total = fitted(f"{block.name}: carcass height", *terms, grid=context.grid)
    return BlockHeight(low=low, packers=packers, sum=total)


def _lifted(context: Context, block: Block, lift: Lift) -> BlockHeight:
    """Return the height of a body over the arches: what is left above its underside."""
    total = fitted(
        f"{block.name}: carcass height",
        *_top_terms(context, block),
        line("underside above the floor, over the arches", -lift.low),
        grid=context.grid,
    )
    return BlockHeight(low=lift.low, packers=0.0, sum=total, lift=lift)


def _top_terms(context: Context, block: Block) -> tuple[SumLine, ...]:
    """Return the terms of the carcass's upper edge above the floor."""
    z = block.place.z
    deck = next((d for d in context.job.decks if block.name in d.over), None)
    if deck is not None:
        terms = (
            *deck_top(context, deck),
            line("deck", -context.t(deck.build.deck_sheet)),
        )
        if z is None or z[1] >= sum(term.value for term in terms) - 1.0e-9:
            return terms
    if z is not None:
        return (line("top of its range", z[1]),)
    bay = context.job.bay
    if bay.rail is not None:
        return (line("floor to rail", bay.rail), line("kept below the rail", -BELOW_RAIL))
    if bay.clear_height is None:
        raise DesignError(block.name, "nothing says how high it may be", "give it z = [..]")
    lining = block.build.lining.bay
    return (
        line("clear height", bay.clear_height),
        line("reading error", -bay.reading_error),
        *((line("lining", -lining),) if lining else ()),
        line("clear above", -block.build.end_clear),
    )
