"""Cells between the lines under a sheet, and which of them are one span: plain numbers, for speed.

Axis 0 is x, axis 1 is y. Edges are bits of a number: ``LOW[axis]`` and ``HIGH[axis]``.
"""

from __future__ import annotations

from itertools import cycle
from typing import NamedTuple

__all__ = ["ENDS", "HIGH", "LOW", "Cell", "joined"]

LOW, HIGH = (1, 4), (2, 8)
ENDS = (LOW[0] | HIGH[0], LOW[1] | HIGH[1])
#: Neighbours at most this far apart may be one span. [mm]
BETWEEN = 100.0


class Cell(NamedTuple):
    """A rectangle in plan. [mm].

    Attributes:
        low_x, high_x, low_y, high_y: Where it lies.
        held: Bits of the edges that are held.
        goes_on: Bits of the edges across which the same sheet goes on.
    """

    low_x: float
    high_x: float
    low_y: float
    high_y: float
    held: int
    goes_on: int


def joined(cells: list[Cell]) -> list[Cell]:
    """Join neighbours with nothing under the edge between them and like edges beside it.

    Which way is joined first can matter; the way that leaves fewer spans hanging is taken.
    """
    ways = [_rescued(_joined_in(cells, order)) for order in ((0, 1), (1, 0))]
    return min(ways, key=lambda found: (sum(_hangs(cell) for cell in found), len(found)))


def _joined_in(cells: list[Cell], order: tuple[int, int]) -> list[Cell]:
    """Join along one axis after the other until a turn of each has changed nothing."""
    found, idle = cells, 0
    for axis in cycle(order):
        fewer = _joined_along(found, axis)
        idle = idle + 1 if len(fewer) == len(found) else 0
        found = fewer
        if idle >= len(order):
            break
    return found


def _rescued(cells: list[Cell]) -> list[Cell]:
    """Join two spans that hang where both together lie between two held edges.

    An edge that only one of them has held beside them is then left out, which is safe.
    """
    hanging = [cell for cell in cells if _hangs(cell)]
    for axis in (0, 1):
        for one in hanging:
            for other in hanging:
                both = _one_of_two(one, other, axis, alike=False) if one is not other else None
                if both is not None and not _hangs(both):
                    rest = [each for each in cells if each is not one and each is not other]
                    return _rescued([*rest, both])
    return cells


def _hangs(cell: Cell) -> bool:
    """Say whether no two opposite edges of a span are held."""
    return ENDS[0] & ~cell.held != 0 and ENDS[1] & ~cell.held != 0


def _by_row(cell: Cell) -> tuple[int, int, float]:
    return round(cell[2]), round(cell[3]), cell[0]


def _by_column(cell: Cell) -> tuple[int, int, float]:
    return round(cell[0]), round(cell[1]), cell[2]


def _joined_along(cells: list[Cell], axis: int) -> list[Cell]:
    """Join neighbours one after another along an axis."""
    found: list[Cell] = []
    for cell in sorted(cells, key=_by_column if axis else _by_row):
        both = _one_of_two(found[-1], cell, axis) if found else None
        if both is not None:
            found[-1] = both
        else:
            found.append(cell)
    return found


def _one_of_two(one: Cell, other: Cell, axis: int, *, alike: bool = True) -> Cell | None:
    """Return two spans as one where the second goes on from the first along an axis, else None.

    Unless ``alike`` is asked for, an edge beside them counts as held where it is on both.
    """
    along, across = (2, 0) if axis else (0, 2)
    if not 0.0 <= other[along] - one[along + 1] <= BETWEEN:
        return None
    held, others, sides = one.held, other.held, ENDS[1 - axis]
    if held & HIGH[axis] or others & LOW[axis]:
        return None
    if not (
        abs(one[across] - other[across]) < 1.0 and abs(one[across + 1] - other[across + 1]) < 1.0
    ):
        return None
    if alike and (held ^ others) & sides:
        return None
    held = held & LOW[axis] | others & HIGH[axis] | held & others & sides
    on = one.goes_on & (LOW[axis] | sides) | other.goes_on & HIGH[axis]
    if axis:
        return Cell(one.low_x, one.high_x, one.low_y, other.high_y, held, on)
    return Cell(one.low_x, other.high_x, one.low_y, one.high_y, held, on)
