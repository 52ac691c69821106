"""The cuts of a layout in an order that a person can follow.

First the sheet is broken into pieces that one person can carry. Then the cuts go stage by stage
(long rips before what is cut from the strips), equal settings one after the other, longest lines
first. Each cut runs edge to edge of the piece in hand and is measured from its lower edge. What
holds nothing but release B is cut after all the rest.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stowright.cutting.slots import LEAF, UPWARD

if TYPE_CHECKING:
    from stowright.cutting.blocks import Block
    from stowright.cutting.plates import Rect

__all__ = ["Saw", "Step", "sequence"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw:
    """What the order depends on.

    Attributes:
        kerf: Width of a cut. [1/160 mm]
        carry_area: Area that one person can carry. [1/160 mm squared]
        hold: Narrowest piece that can be held while a strip is cut along it. [1/160 mm]
        late: Kinds of parts that are cut last.
        trim: Width of the factory edges, which a heavy piece still has. [1/160 mm]
    """

    kerf: int
    carry_area: float
    hold: int
    late: frozenset[int] = frozenset()
    trim: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One cut.

    Attributes:
        held: The piece in hand.
        axis: Axis that the position is measured along.
        at: Lower edge of the kerf.
        setting: Distance from the lower edge of the piece in hand.
        low: What is left on the lower side: the block itself, or a rectangle to be cut again.
        high: The same on the higher side; None when it is all sawdust.
        level: Stage, from 1.
        breaks: True for a cut made to lighten a heavy piece.
        narrow: True when the piece in hand is narrower than can be held.
        late: True when the piece in hand holds nothing but parts that are cut last.
    """

    held: Rect
    axis: int
    at: int
    setting: int
    low: tuple[Rect, Block | None]
    high: tuple[Rect, Block | None] | None
    level: int
    breaks: bool
    narrow: bool
    late: bool


@dataclass(frozen=True, slots=True)
class _Held:
    """A run of neighbouring kids of one block, in one piece."""

    block: Block
    first: int
    last: int
    rect: Rect
    level: int
    trail: tuple[int, ...]

    @property
    def cuts(self) -> range:
        """Indices of the kids after which it can be cut."""
        kid = self.block.kids[self.last].rect
        axis = self.block.axis
        ends_short = kid[axis] + kid[2 + axis] < self.rect[axis] + self.rect[2 + axis]
        return range(self.first, self.last + ends_short)

    def is_late(self, late: frozenset[int]) -> bool:
        """Tell whether it holds parts of some kinds and no others."""
        kids = self.block.kids[self.first : self.last + 1]
        kinds = {leaf.kind for kid in kids for leaf in kid.leaves() if leaf.kind >= 0}
        return bool(kinds) and kinds <= late


def sequence(sheet: Block, saw: Saw) -> list[Step]:
    """Return the cuts of a layout in the order of work."""
    ready = [_Held(sheet, 0, len(sheet.kids) - 1, sheet.rect, 1, ())] if sheet.kids else []
    steps: list[Step] = []
    while ready:
        heavy = [h for h in ready if _area_with_edges(h.rect, sheet.rect, saw) > saw.carry_area]
        held = min(heavy or ready, key=lambda h: _urgency(h, steps, saw, heavy=bool(heavy)))
        ready.remove(held)
        after = _lightest(held) if heavy else _next_cut(held, saw)
        step, pieces = _cut(held, after, saw, breaks=bool(heavy))
        steps.append(step)
        ready.extend(pieces)
    return steps


def _area_with_edges(rect: Rect, sheet: Rect, saw: Saw) -> int:
    """Return the area of a piece with the factory edges that are still on it."""
    sides = [rect[2], rect[3]]
    for axis in (0, 1):
        sides[axis] += saw.trim * (rect[axis] == sheet[axis])
        sides[axis] += saw.trim * (_end(rect, axis) == _end(sheet, axis))
    return sides[0] * sides[1]


def _urgency(held: _Held, steps: list[Step], saw: Saw, *, heavy: bool) -> tuple[object, ...]:
    """Return a key: the piece with the smallest is cut next."""
    rect, axis = held.rect, held.block.axis
    if heavy:
        return -rect[2] * rect[3], held.trail
    setting = _end(held.block.kids[_next_cut(held, saw)].rect, axis) - rect[axis]
    same = bool(steps) and (steps[-1].axis, steps[-1].setting) == (axis, setting)
    is_late = held.is_late(saw.late)
    return is_late, held.level, not same, -rect[3 - axis], -setting, held.trail


def _end(rect: Rect, axis: int) -> int:
    return rect[axis] + rect[2 + axis]


def _next_cut(held: _Held, saw: Saw) -> int:
    """Return where to cut next: from the low edge, but waste first where that leaves more to hold.

    A narrow last strip with a sliver of waste beside it could not be held while the sliver is
    taken off; taken off first, the whole piece is still in hand.
    """
    axis, kids = held.block.axis, held.block.kids
    last = held.cuts[-1]
    start_of_last = kids[last].rect[axis]
    last_extent = _end(held.rect, axis) - start_of_last
    if len(held.cuts) > 1 and last_extent < saw.hold and _is_waste_after(held, last):
        return last
    return held.first


def _is_waste_after(held: _Held, after: int) -> bool:
    """Tell whether nothing but waste lies beyond a cut."""
    return all(k.axis == LEAF and k.kind < 0 for k in held.block.kids[after + 1 : held.last + 1])


def _lightest(held: _Held) -> int:
    """Return the cut whose heavier side is lightest."""
    axis = held.block.axis
    start, end = held.rect[axis], _end(held.rect, axis)

    def heavier(after: int) -> int:
        at = _end(held.block.kids[after].rect, axis)
        return max(at - start, end - at)

    return min(held.cuts, key=heavier)


def _cut(held: _Held, after: int, saw: Saw, *, breaks: bool) -> tuple[Step, list[_Held]]:
    """Return the step that cuts a piece after one of its kids, and what is to be cut again."""
    axis, rect = held.block.axis, held.rect
    at = _end(held.block.kids[after].rect, axis)
    low = _run(held, held.first, after, _between(rect, axis, rect[axis], at))
    start, end = at + saw.kerf, _end(rect, axis)
    high = None
    if start < end:
        high = _run(held, after + 1, held.last, _between(rect, axis, start, end))
    pieces = [p for run in (low, high) if run is not None and (p := run[1]) is not None]
    step = Step(
        held=rect,
        axis=axis,
        at=at,
        setting=at - rect[axis],
        low=(low[0], low[2]),
        high=None if high is None else (high[0], high[2]),
        level=held.level,
        breaks=breaks,
        narrow=rect[2 + axis] < saw.hold and rect[3 - axis] > rect[2 + axis],
        late=held.is_late(saw.late),
    )
    return step, pieces


def _run(held: _Held, first: int, last: int, rect: Rect) -> tuple[Rect, _Held | None, Block | None]:
    """Return a run of kids: its rectangle, what is to be cut again, its block if it is one."""
    trail = (*held.trail, first)
    if first < last or (first == last and held.block.kids[first].rect != rect):
        return rect, _Held(held.block, first, last, rect, held.level, trail), None
    block = held.block.kids[first]
    again = None
    if block.kids:
        again = _Held(block, 0, len(block.kids) - 1, rect, held.level + 1, trail)
    return rect, again, block


def _between(rect: Rect, axis: int, start: int, end: int) -> Rect:
    if axis == UPWARD:
        return rect[0], start, rect[2], end - start
    return start, rect[1], end - start, rect[3]
