"""The most value that one sheet can hold, exactly, and the layout that holds it."""

from __future__ import annotations

import math
from bisect import bisect_right
from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.cutting.slots import ALONG, UPWARD, Slot, join, leaf

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stowright.cutting.problem import Kind

    type Table = np.ndarray[Any, np.dtype[np.int64]]
    type Cell = tuple[int, int]

__all__ = ["SingleSheet"]


def _places(
    kinds: Sequence[Kind],
    columns: Sequence[tuple[int, int, int, bool]],
    axis: int,
    side: int,
    *,
    repeats: bool,
) -> list[int]:
    """Return where cuts along an axis can be: the fewer of two sets that each lose nothing.

    Every layout can be pushed together until its cuts lie at sums of sides: sums with no more
    copies than there are, or sums with any number of them, thinned out.
    """
    of_kind: dict[int, set[int]] = {}
    for column in columns:
        of_kind.setdefault(column[0], set()).add(column[axis])
    most = [(sides, side // min(sides)) for sides in of_kind.values()]
    thinned = _thinned_out(_sums(most, side), side)
    if repeats:
        return thinned
    least = [(sides, min(side // min(sides), kinds[k].copies)) for k, sides in of_kind.items()]
    return min(thinned, sorted(_sums(least, side) | {side}), key=len)


def _sums(parts: Sequence[tuple[set[int], int]], side: int) -> set[int]:
    """Return the sums that some sides, each with its number of copies, make up to an end."""
    reach, mask = 1, (1 << (side + 1)) - 1
    for sides, copies in parts:
        for _ in range(copies):
            grown = reach
            for extent in sides:
                grown |= (reach << extent) & mask
            if grown == reach:
                break
            reach = grown
    return {at for at in range(side + 1) if reach >> at & 1}


def _thinned_out(sums: set[int], side: int) -> list[int]:
    """Return of all sums only the largest that leave as much beside them as smaller ones do.

    They are the raster points of Terno and Scheithauer (from memory). This needs sums to which
    any side can be added again.
    """
    order = sorted(sums)
    kept = {order[bisect_right(order, side - at) - 1] for at in order}
    return sorted({0, side} | kept)


@dataclass(frozen=True, slots=True)
class SingleSheet:
    """A sheet and the kinds of parts that it can be cut into, in whole units.

    Attributes:
        w: Grown extent along the sheet's length.
        h: Grown extent across it.
        columns: For each way that a kind can lie: kind, grown extents, turned.
        across: Places along the sheet that cuts can be at.
        up: Places across it.
        unit: Grown lengths were divided by this.
    """

    w: int
    h: int
    columns: tuple[tuple[int, int, int, bool], ...]
    across: Table
    up: Table
    unit: int

    @classmethod
    def of(
        cls, kinds: Sequence[Kind], w: int, h: int, kerf: int, *, repeats: bool = False
    ) -> SingleSheet:
        """Return the sheet of some real size with kinds of parts that fit on it.

        Args:
            kinds: The parts.
            w: Extent along the sheet's length. [1/160 mm]
            h: Extent across it. [1/160 mm]
            kerf: Width of a cut. [1/160 mm]
            repeats: True when each part can be had as often as wanted, not only its copies.
        """
        ways: list[tuple[int, int, int, bool]] = []
        for index, kind in enumerate(kinds):
            a, b = kind.length + kerf, kind.width + kerf
            if a <= w + kerf and b <= h + kerf:
                ways.append((index, a, b, False))
            if kind.turnable and a != b and b <= w + kerf and a <= h + kerf:
                ways.append((index, b, a, True))
        unit = math.gcd(w + kerf, h + kerf, *(side for way in ways for side in way[1:3]))
        columns = tuple((k, a // unit, b // unit, turned) for k, a, b, turned in ways)
        whole = (w + kerf) // unit, (h + kerf) // unit
        across, up = (
            np.array(_places(kinds, columns, axis, side, repeats=repeats), np.int64)
            for axis, side in ((1, whole[0]), (2, whole[1]))
        )
        return cls(whole[0], whole[1], columns, across, up, unit)

    @property
    def work(self) -> int:
        """How many cuts one answer looks at, about."""
        return len(self.across) * len(self.up) * (len(self.across) + len(self.up)) // 4

    def best(self, values: Sequence[int]) -> tuple[int, Slot | None]:
        """Return the most value that the sheet holds, and a layout with it.

        Args:
            values: What one part of each kind is worth, whole numbers from 0.
        """
        single = import_module("stowright.cutting.single")
        best, choice = single.best_values(self.priced(values), self.across, self.up)
        root = self._slot(choice, len(self.across) - 1, len(self.up) - 1)
        return int(best[-1, -1]), root

    def priced(self, values: Sequence[int]) -> Table:
        """Return width, height and value of each column, as the compiled programs want them."""
        rows = [(w, h, values[kind]) for kind, w, h, _ in self.columns]
        return np.array(rows, np.int64).reshape(-1, 3).T.copy()

    def part(self, column: int) -> Slot:
        """Return the part of a column as a layout."""
        kind, w, h, turned = self.columns[column]
        return leaf(kind, w * self.unit, h * self.unit, turned=turned)

    def halves(self, chosen: int, i: int, j: int) -> tuple[int, Cell, Cell]:
        """Return the axis of the cut that was chosen for a rectangle, and its two halves.

        Args:
            chosen: A choice that is a cut, as the compiled programs number them.
            i: Place of the rectangle's end along the sheet.
            j: The same across it.
        """
        place, axis = (-chosen - 2) // 2, ALONG if chosen % 2 == 0 else UPWARD
        if axis == ALONG:
            return axis, (place, j), (_rest(self.across, i, place), j)
        return axis, (i, place), (i, _rest(self.up, j, place))

    def _slot(self, choice: Table, i: int, j: int) -> Slot | None:
        """Return the layout of a rectangle, from what was chosen."""
        chosen = int(choice[i, j])
        if chosen == -1:
            return None
        if chosen >= 0:
            return self.part(chosen)
        axis, *cells = self.halves(chosen, i, j)
        kids = [kid for cell in cells if (kid := self._slot(choice, *cell)) is not None]
        return join(axis, kids) if kids else None


def _rest(points: Table, whole: int, part: int) -> int:
    """Return the last place that is no further than what a part leaves of a whole."""
    return int(np.searchsorted(points, points[whole] - points[part], side="right")) - 1
