"""Where a block has to stand so that what slides out of it passes its doorway. Millimetres.

A drawer travels straight out: its front's width and height have to lie between the jambs, over the
step and under the lintel all the way. A block whose width is left open keeps its outermost drawers
between the jambs; where the job fixes width or place the plan says what does not pass.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from stowright.design.arrange import OpeningPlan
from stowright.design.box_limits import Through
from stowright.design.context import Context
from stowright.design.doorway_travel import jambs_of, travel_inside_doorway
from stowright.model.design import BlockDesign, Motion, OpeningDesign
from stowright.model.geometry import Box, Span
from stowright.model.job import Block, Column

__all__ = ["barred_warnings", "through_of", "travel_warnings"]

_SLIDES = frozenset({"drawer", "tray"})


def through_of(context: Context, block: Block) -> Through | None:
    """Return the range that keeps a block's drawers inside its doorway; None where it is fixed.

    An inset front lies between its uprights, so these may stand behind the jambs; an overlay front
    covers them.
    """
    bay, place = context.job.bay, block.place
    opening = bay.opening(block.face)
    tail = block.face == "tail"
    given = place.y if tail else place.x
    if opening is None or given is not None or (not tail and opening.at is None):
        return None
    if all(column.width is not None for column in block.columns):
        return None
    first, last = (_slides(block.columns[n]) for n in (0, -1))
    if not (first or last):
        return None
    jambs = jambs_of(bay, opening)
    behind = context.t(block.build.carcass) if block.build.front == "inset" else 0.0
    low, high = jambs.low - behind, jambs.high + behind
    # As you look at a face, the first column lies at +y at the tail, at +x at the left side.
    at_low, at_high = (first, last) if block.face == "right" else (last, first)
    number = bay.openings.index(opening) + 1
    return Through(
        axis="y" if tail else "x",
        low=low if at_low else -float("inf"),
        high=high if at_high else float("inf"),
        words=f"the {block.face} doorway that its drawers travel through (bay.opening[{number}])",
    )


def _slides(column: Column) -> bool:
    return any(fill.fill in _SLIDES for fill in column.stack)


def travel_warnings(
    context: Context, block: Block, openings: tuple[tuple[OpeningPlan, Box], ...]
) -> Iterator[str]:
    """Yield a line for each opening whose drawer does not pass its doorway.

    Args:
        context: The job.
        block: The block.
        openings: Its openings, each with its clear box in the bay.
    """
    for opening, clear in openings:
        if opening.fill.fill not in _SLIDES:
            continue
        across = clear.y if block.face == "tail" else clear.x
        room = travel_inside_doorway(bay=context.job.bay, face=block.face, across=across, z=clear.z)
        if room is None or not room.known or room.across >= -1.0e-6:
            continue
        yield (
            f"{opening.fill.name}: reaches {context.shown(-room.across)} past the jamb of the "
            f"{block.face} doorway and cannot travel out; give the block or its columns less width"
        )


def barred_warnings(
    context: Context, blocks: tuple[BlockDesign, ...], motions: Iterable[Motion]
) -> Iterator[str]:
    """Yield a line for each opening that another block stands before.

    A drawer or tray wants its travel, a door its height, free before the face.
    """
    travels = {motion.body: motion.travel for motion in motions if motion.kind == "slide"}
    for block in blocks:
        for opening in block.openings:
            wanted = travels.get(opening.name, 0.0)
            if opening.fill == "locker" and opening.front is not None:
                wanted = opening.front[1]
            swept = _before(block, opening, wanted)
            for other in blocks:
                if other is not block and _meets(swept, other.box):
                    free = _free_before(block, other.box)
                    yield (
                        f"{opening.name}: opens against {other.name}, which stands "
                        f"{context.shown(free)} before it; it wants {context.shown(wanted)}"
                    )


def _before(block: BlockDesign, opening: OpeningDesign, reach: float) -> Box:
    """Return what an opening sweeps before its face."""
    clear, at = opening.clear, block.face_at
    if block.face == "tail":
        return Box(x=Span(low=at - reach, high=at), y=clear.y, z=clear.z)
    y = Span(low=at, high=at + reach) if block.face == "left" else Span(low=at - reach, high=at)
    return Box(x=clear.x, y=y, z=clear.z)


def _meets(one: Box, two: Box) -> bool:
    return min(one.x.overlap(two.x), one.y.overlap(two.y), one.z.overlap(two.z)) > 1.0


def _free_before(block: BlockDesign, box: Box) -> float:
    """Return how far before a block's face another one stands. [mm]."""
    at = block.face_at
    free = {"tail": at - box.x.high, "left": box.y.low - at, "right": at - box.y.high}
    return max(free[block.face], 0.0)
