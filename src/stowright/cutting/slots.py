"""The one form in which every layout is held while it is searched for.

A layout is a tree. A leaf is a part. Any other slot has an axis: its kids lie side by side along
it, one kerf apart, and neighbouring levels alternate. Sizes are *grown*: each part, and the
sheet, is one kerf larger each way than it is, which makes "n parts and n - 1 kerfs" a plain
sum. A slot is as small as its kids allow; what the sheet has beyond that is waste, and the order
of kids is free. So one tree stands for all layouts that differ only in where the waste lies.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

__all__ = [
    "ALONG",
    "LEAF",
    "UPWARD",
    "Slot",
    "count_kinds",
    "count_lines",
    "join",
    "leaf",
    "put_last",
    "renumbered",
]

LEAF = -1
ALONG = 0  # kids side by side along the sheet's length; cuts at constant x
UPWARD = 1  # kids one above the other across the sheet; cuts at constant y


@dataclass(frozen=True, slots=True)
class Slot:
    """A part, or a row of slots. Positional on purpose: thousands are made per search.

    Attributes:
        axis: ``LEAF``, ``ALONG`` or ``UPWARD``.
        w: Grown extent along the sheet's length. [1/160 mm]
        h: Grown extent across it. [1/160 mm]
        kids: What lies along the axis.
        kind: Which kind of part a leaf is; -1 otherwise.
        turned: True when the part lies turned.
    """

    axis: int
    w: int
    h: int
    kids: tuple[Slot, ...] = ()
    kind: int = -1
    turned: bool = False

    def extent(self, axis: int) -> int:
        """Return the grown extent along an axis. [1/160 mm]."""
        return self.h if axis else self.w

    def leaves(self) -> Iterator[Slot]:
        """Yield every part below, in order."""
        if self.axis == LEAF:
            yield self
        for kid in self.kids:
            yield from kid.leaves()

    def depth(self) -> int:
        """Return how many levels of rows lie here; 0 for a single part."""
        return 0 if self.axis == LEAF else 1 + max(kid.depth() for kid in self.kids)


def leaf(kind: int, w: int, h: int, *, turned: bool) -> Slot:
    """Return a slot that holds one part of the given grown size."""
    return Slot(LEAF, w, h, (), kind, turned)


def join(axis: int, kids: list[Slot]) -> Slot:
    """Return a row of slots, flattened so that neighbouring levels alternate.

    A row of one is that one.
    """
    flat: list[Slot] = []
    for kid in kids:
        flat.extend(kid.kids if kid.axis == axis else (kid,))
    if len(flat) == 1:
        return flat[0]
    along, across = sum(k.extent(axis) for k in flat), max(k.extent(1 - axis) for k in flat)
    w, h = (across, along) if axis else (along, across)
    return Slot(axis, w, h, tuple(flat))


def renumbered(slot: Slot, numbers: Sequence[int] | Mapping[int, int]) -> Slot:
    """Return a layout of a part of a problem with the kinds' numbers of the whole."""
    kids = tuple(renumbered(kid, numbers) for kid in slot.kids)
    kind = numbers[slot.kind] if slot.kind >= 0 else -1
    return replace(slot, kids=kids, kind=kind)


def put_last(slot: Slot, kinds: frozenset[int]) -> Slot:
    """Return a layout in which, in each row, what holds nothing but some kinds comes last."""
    if slot.axis == LEAF:
        return slot
    kids = [put_last(kid, kinds) for kid in slot.kids]
    kids.sort(key=lambda kid: all(part.kind in kinds for part in kid.leaves()))
    return replace(slot, kids=tuple(kids))


def count_kinds(slot: Slot) -> Counter[int]:
    """Return how many parts of each kind a slot holds."""
    return Counter(part.kind for part in slot.leaves())


def _lines_inside(slot: Slot, *, groups: bool) -> int:
    """Return the saw lines inside a slot that is exactly its own size."""
    across = 1 - slot.axis
    lines = len(slot.kids) - 1
    lines += sum(_lines_inside(kid, groups=groups) for kid in slot.kids if kid.axis != LEAF)
    narrower = [e for kid in slot.kids if (e := kid.extent(across)) < slot.extent(across)]
    return lines + len(set(narrower) if groups else narrower)


def count_lines(slot: Slot, w: int, h: int, *, groups: bool = True) -> int:
    """Return the saw lines that a layout needs on a sheet of the given grown size.

    Each separating or trimming line inside the trimmed sheet is one. Kids of a row that are
    equally much narrower than it are cut off together and trimmed by one line; where that is not
    allowed each costs a line. So does each sheet edge that is not reached.

    Args:
        slot: The layout.
        w: Grown extent of the sheet along its length. [1/160 mm]
        h: Grown extent across it. [1/160 mm]
        groups: True where kids may be trimmed together; it takes stages that a panel saw lacks.
    """
    inside = _lines_inside(slot, groups=groups) if slot.axis != LEAF else 0
    ends = 1
    if not groups and slot.axis == UPWARD:  # each row is ripped off first and has an end of its own
        ends = sum(kid.w == slot.w for kid in slot.kids)
    return inside + ends * (slot.w < w) + (slot.h < h)
