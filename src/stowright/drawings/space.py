"""Free room on the paper, kept as a grid: where a note can go without touching anything.

Cells are half a millimetre. Marks are entered generously (every cell that they touch), so what the
grid calls free is free.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import ceil, cos, floor, hypot, pi, sin

import numpy as np
import numpy.typing as npt

from stowright.drawings.extent import Bounds, bounds, mark_points
from stowright.drawings.figures import marks_of
from stowright.drawings.scene import Arc, Circle, Item, Line, Mark, Polyline, Region, Text
from stowright.model.geometry import Point2

__all__ = ["Space", "around"]

_CELL = 0.5


class Space:
    """What is taken on a piece of paper."""

    def __init__(self, room: Bounds) -> None:
        self._left, self._bottom = room.left, room.bottom
        self.room = room
        shape = (ceil(room.width / _CELL) + 1, ceil(room.height / _CELL) + 1)
        self._all: npt.NDArray[np.bool_] = np.zeros(shape, dtype=bool)
        self._texts: npt.NDArray[np.bool_] = np.zeros(shape, dtype=bool)

    def take(self, items: Iterable[Item]) -> None:
        """Enter items as taken."""
        for item in items:
            for mark in marks_of(item):
                self._take(mark)

    def free(self, box: Bounds, *, margin: float = 0.6) -> bool:
        """Return whether a box lies in the room and touches nothing."""
        return self._is_free(self._all, box, margin)

    def free_of_texts(self, box: Bounds, *, margin: float = 0.3) -> bool:
        """Return whether a box lies in the room and touches no lettering; lines may cross it."""
        return self._is_free(self._texts, box, margin)

    def free_for(self, items: Iterable[Item]) -> bool:
        """Return whether some items' lettering is free and their lines cross no lettering."""
        for item in items:
            for mark in marks_of(item):
                if isinstance(mark, Text):
                    if not self.free(bounds((mark,))):
                        return False
                elif not self._line_free(mark):
                    return False
        return True

    def _is_free(self, grid: npt.NDArray[np.bool_], box: Bounds, margin: float) -> bool:
        low_x, low_y = box.left - margin - self._left, box.bottom - margin - self._bottom
        high_x, high_y = box.right + margin - self._left, box.top + margin - self._bottom
        if low_x < 0.0 or low_y < 0.0:
            return False
        if high_x > self.room.width or high_y > self.room.height:
            return False
        cells = grid[
            floor(low_x / _CELL) : floor(high_x / _CELL) + 1,
            floor(low_y / _CELL) : floor(high_y / _CELL) + 1,
        ]
        return not cells.any()

    def _line_free(self, mark: Mark) -> bool:
        for a, b in _segments(mark):
            columns, rows = self._cells(a, b)
            if self._texts[columns, rows].any():
                return False
        return True

    def _take(self, mark: Mark) -> None:
        if isinstance(mark, Text):
            box = bounds((mark,))
            for grid in (self._all, self._texts):
                self._fill(grid, box)
            return
        if isinstance(mark, Region) and mark.fill == "ink":
            self._fill(self._all, bounds((mark,)))
            return
        for a, b in _segments(mark):
            columns, rows = self._cells(a, b)
            self._all[columns, rows] = True

    def _fill(self, grid: npt.NDArray[np.bool_], box: Bounds) -> None:
        x0 = max(floor((box.left - self._left) / _CELL), 0)
        y0 = max(floor((box.bottom - self._bottom) / _CELL), 0)
        x1 = max(floor((box.right - self._left) / _CELL) + 1, 0)
        y1 = max(floor((box.top - self._bottom) / _CELL) + 1, 0)
        grid[x0:x1, y0:y1] = True

    def _cells(self, a: Point2, b: Point2) -> tuple[npt.NDArray[np.intp], npt.NDArray[np.intp]]:
        """Return the cells along a line, those outside the room left out."""
        steps = max(ceil(hypot(b[0] - a[0], b[1] - a[1]) / (0.6 * _CELL)), 1)
        t = np.linspace(0.0, 1.0, steps + 1)
        columns = np.floor((a[0] + t * (b[0] - a[0]) - self._left) / _CELL).astype(np.intp)
        rows = np.floor((a[1] + t * (b[1] - a[1]) - self._bottom) / _CELL).astype(np.intp)
        width, height = self._all.shape
        inside = (columns >= 0) & (rows >= 0) & (columns < width) & (rows < height)
        return columns[inside], rows[inside]


def _segments(mark: Mark) -> Iterator[tuple[Point2, Point2]]:
    match mark:
        case Line():
            yield mark.start, mark.end
        case Polyline():
            yield from _ring(mark.points, closed=mark.closed)
        case Region():
            if mark.pen is not None or mark.fill == "ink":
                for ring in (mark.outer, *mark.holes):
                    yield from _ring(ring, closed=True)
        case Circle():
            yield from _turns(mark.centre, mark.radius, 0.0, 360.0)
        case Arc():
            yield from _turns(mark.centre, mark.radius, mark.start, mark.end)
        case Text():
            yield from _ring(mark_points(mark), closed=True)


def _ring(points: tuple[Point2, ...], *, closed: bool) -> Iterator[tuple[Point2, Point2]]:
    yield from pairwise(points)
    if closed:
        yield points[-1], points[0]


def _turns(
    centre: Point2, radius: float, start: float, end: float
) -> Iterator[tuple[Point2, Point2]]:
    """Yield an arc as short chords."""
    sweep = ((end - start) % 360.0 or 360.0) * pi / 180.0
    count = max(ceil(sweep * radius / 1.0), 6)
    first = start * pi / 180.0
    turns = [first + sweep * k / count for k in range(count + 1)]
    points = [(centre[0] + radius * cos(a), centre[1] + radius * sin(a)) for a in turns]
    yield from pairwise(points)


def around(at: Point2, *, near: float, far: float, step: float = 4.0) -> Iterator[Point2]:
    """Yield places around a point, nearest rings first, the slanting ones before the level ones."""
    ring = near
    while ring <= far:
        for degrees in (45, 135, 315, 225, 60, 120, 300, 240, 25, 155, 335, 205):
            turn = degrees * pi / 180.0
            yield (at[0] + ring * cos(turn), at[1] + ring * sin(turn))
        ring += step
