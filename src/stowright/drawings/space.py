"""Free room on the paper, kept as a grid: where a note can go without touching anything.

Cells are half a millimetre. Marks are entered generously (every cell that they touch), so what the
grid calls free is free.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from itertools import pairwise
from math import ceil, cos, floor, hypot, pi, sin
from typing import Literal

import numpy as np
import numpy.typing as npt

from stowright.drawings.extent import Bounds, bounds, mark_points
from stowright.drawings.figures import marks_of
from stowright.drawings.scene import (
    Arc,
    Circle,
    Dimension,
    Item,
    Leader,
    Line,
    Mark,
    Polyline,
    Region,
    Running,
    Text,
)
from stowright.model.geometry import Point2

__all__ = ["Space", "ring_offsets"]

_CELL = 0.5
_TIP = 2.0  # of a leader, where it leaves what it points at
_CHUNK = 64  # leaders looked at in one go
type Level = Literal["lines", "edges", "dimensions", "leaders", "texts"]
_LEVELS: tuple[Level, ...] = ("lines", "edges", "dimensions", "leaders", "texts")
type _Cells = tuple[slice, slice] | tuple[npt.NDArray[np.intp], npt.NDArray[np.intp]]


class Space:
    """What is taken on a piece of paper.

    Grids are kept of every line and text (``lines``), of those without extension lines, which may
    be interrupted (``edges``), of lettering, leaders and dimension lines (``dimensions``), of
    lettering and leaders (``leaders``), and of lettering alone (``texts``).

    Args:
        room: The paper.
        apart: Kept free before and after a word on its line, besides a note's own margin. [mm]
    """

    def __init__(self, room: Bounds, *, apart: float = 0.8) -> None:
        self._apart = apart
        self._left, self._bottom = room.left, room.bottom
        self.room = room
        self._shape = (ceil(room.width / _CELL) + 1, ceil(room.height / _CELL) + 1)
        self._grids: dict[Level, npt.NDArray[np.bool_]] = {
            level: np.zeros(self._shape, dtype=bool) for level in _LEVELS
        }
        self._totals: dict[Level, npt.NDArray[np.int32]] = {}

    def take(self, items: Iterable[Item]) -> None:
        """Enter items as taken."""
        self._totals = {}
        for item in items:
            for mark in marks_of(item):
                self._take(mark)
            if isinstance(item, Dimension | Running):
                self._enter(("edges", "dimensions"), *_dimension_line(item))
            elif isinstance(item, Leader):
                for a, b in _ring(item.points, closed=False):
                    self._enter(("edges", "dimensions", "leaders"), a, b)

    def _enter(self, levels: tuple[Level, ...], a: Point2, b: Point2) -> None:
        for level in levels:
            self._grids[level][self._cells(a, b)] = True

    def free(self, box: Bounds, *, margin: float = 0.6) -> bool:
        """Return whether a box lies in the room and touches nothing."""
        low_x, low_y = box.left - margin - self._left, box.bottom - margin - self._bottom
        high_x, high_y = box.right + margin - self._left, box.top + margin - self._bottom
        if low_x < 0.0 or low_y < 0.0:
            return False
        if high_x > self.room.width or high_y > self.room.height:
            return False
        cells = self._grids["lines"][
            floor(low_x / _CELL) : floor(high_x / _CELL) + 1,
            floor(low_y / _CELL) : floor(high_y / _CELL) + 1,
        ]
        return not cells.any()

    def free_for(self, items: Iterable[Item]) -> bool:
        """Return whether some items' lettering is free and their lines cross no lettering."""
        marks = [mark for item in items for mark in marks_of(item)]
        if not all(self.free(bounds((m,)), margin=0.3) for m in marks if isinstance(m, Text)):
            return False
        lines = (m for m in marks if not isinstance(m, Text))
        return not any(self._hits("texts", a, b) for m in lines for a, b in _segments(m))

    def free_boxes(
        self, rims: npt.NDArray[np.float64], *, level: Level = "lines", margin: float = 0.6
    ) -> npt.NDArray[np.intp]:
        """Return which of many boxes lie in the room and touch nothing.

        Args:
            rims: Left, bottom, right and top of each. Shape (n, 4). [mm]
            level: What must not be touched.
            margin: Kept clear round each. [mm]

        Returns:
            Their indices, in rising order.
        """
        room = self.room
        grown = rims + np.array((-margin, -margin, margin, margin))
        grown -= np.array((self._left, self._bottom) * 2)
        inside = (grown[:, :2] >= 0.0).all(axis=1)
        inside &= (grown[:, 2] <= room.width) & (grown[:, 3] <= room.height)
        cells = np.floor(grown[inside] / _CELL).astype(np.intp)
        total = self._corner_totals(level)
        x0, y0, x1, y1 = cells[:, 0], cells[:, 1], cells[:, 2] + 1, cells[:, 3] + 1
        taken = total[x1, y1] - total[x0, y1] - total[x1, y0] + total[x0, y0]
        free: npt.NDArray[np.intp] = np.flatnonzero(inside)[taken == 0]
        return free

    def _corner_totals(self, level: Level) -> npt.NDArray[np.int32]:
        """Return how many cells are taken up to each corner (a summed-area table)."""
        if level not in self._totals:
            width, height = self._shape
            totals = np.zeros((width + 1, height + 1), dtype=np.int32)
            columns = np.cumsum(self._grids[level], axis=0, dtype=np.int32)
            np.cumsum(columns, axis=1, out=totals[1:, 1:])
            self._totals[level] = totals
        return self._totals[level]

    def first_free_line(
        self,
        starts: npt.NDArray[np.float64],
        ends: npt.NDArray[np.float64],
        *,
        level: Level = "texts",
    ) -> int | None:
        """Return which of many leaders is the first that is clear; None when none is.

        Args:
            starts: Their tips. Shape (n, 2). [mm]
            ends: Their other ends. Shape (n, 2). [mm]
            level: What a leader may not cross. Its first bit, which leaves what it points at, is
                looked at for lettering alone.
        """
        grid = self._grids[level]
        corner = np.array((self._left, self._bottom))
        limits = np.array(self._shape) - 1
        for low in range(0, len(starts), _CHUNK):
            a, b = starts[low : low + _CHUNK] - corner, ends[low : low + _CHUNK] - corner
            reach = np.hypot(*(b - a).T)
            skip = np.minimum(_TIP / np.maximum(reach, _TIP), 1.0)
            skip *= level != "texts"
            count = ceil(float(reach.max()) / (0.6 * _CELL)) + 1
            share = skip[:, None] + (1.0 - skip[:, None]) * np.linspace(0.0, 1.0, count)
            points = a[:, None, :] + share[:, :, None] * (b - a)[:, None, :]
            cells = np.clip(np.floor(points / _CELL).astype(np.intp), 0, limits)
            clear = ~grid[cells[..., 0], cells[..., 1]].any(axis=1)
            if skip.any() and clear.any():
                clear &= ~self._crosses_a_word(a, a + skip[:, None] * (b - a), limits)
            if clear.any():
                return low + int(np.argmax(clear))
        return None

    def _crosses_a_word(
        self,
        starts: npt.NDArray[np.float64],
        ends: npt.NDArray[np.float64],
        limits: npt.NDArray[np.intp],
    ) -> npt.NDArray[np.bool_]:
        """Return which of some short lines lie over lettering."""
        share = np.linspace(0.0, 1.0, ceil(_TIP / (0.6 * _CELL)) + 1)
        points = starts[:, None, :] + share[None, :, None] * (ends - starts)[:, None, :]
        cells = np.clip(np.floor(points / _CELL).astype(np.intp), 0, limits)
        hit: npt.NDArray[np.bool_] = self._grids["texts"][cells[..., 0], cells[..., 1]].any(axis=1)
        return hit

    def _hits(self, level: Level, a: Point2, b: Point2) -> bool:
        return bool(self._grids[level][self._cells(a, b)].any())

    def _take(self, mark: Mark) -> None:
        solid = isinstance(mark, Text) or (isinstance(mark, Region) and mark.fill == "ink")
        if isinstance(mark, Text):
            levels: tuple[Level, ...] = _LEVELS
        else:
            levels = ("lines",) if mark.pen == "dimension" else ("lines", "edges")
        for level in levels:
            grid = self._grids[level]
            if solid:
                self._fill(grid, self._taken(mark) if level == "lines" else bounds((mark,)))
                continue
            for a, b in _segments(mark):
                grid[self._cells(a, b)] = True

    def _taken(self, mark: Mark) -> Bounds:
        """Return what a solid mark takes; a word keeps a little from the next one on its line."""
        box = bounds((mark,))
        if not isinstance(mark, Text):
            return box
        x, y = (0.0, self._apart) if mark.turn else (self._apart, 0.0)
        return Bounds(
            left=box.left - x, bottom=box.bottom - y, right=box.right + x, top=box.top + y
        )

    def _fill(self, grid: npt.NDArray[np.bool_], box: Bounds) -> None:
        x0 = max(floor((box.left - self._left) / _CELL), 0)
        y0 = max(floor((box.bottom - self._bottom) / _CELL), 0)
        x1 = max(floor((box.right - self._left) / _CELL) + 1, 0)
        y1 = max(floor((box.top - self._bottom) / _CELL) + 1, 0)
        grid[x0:x1, y0:y1] = True

    def _cells(self, a: Point2, b: Point2) -> _Cells:
        """Return the cells along a line, those outside the room left out."""
        width, height = self._shape
        x0, y0 = (a[0] - self._left) / _CELL, (a[1] - self._bottom) / _CELL
        x1, y1 = (b[0] - self._left) / _CELL, (b[1] - self._bottom) / _CELL
        if abs(x1 - x0) < 1.0 or abs(y1 - y0) < 1.0:  # level, upright or short: a block of cells
            return (_stretch(x0, x1, width), _stretch(y0, y1, height))
        steps = ceil(hypot(x1 - x0, y1 - y0) / 0.6)
        t = np.linspace(0.0, 1.0, steps + 1)
        columns = np.floor(x0 + t * (x1 - x0)).astype(np.intp)
        rows = np.floor(y0 + t * (y1 - y0)).astype(np.intp)
        inside = (columns >= 0) & (rows >= 0) & (columns < width) & (rows < height)
        return columns[inside], rows[inside]


def _dimension_line(item: Dimension | Running) -> tuple[Point2, Point2]:
    """Return the ends of a dimension line, which no lettering may interrupt."""
    feet = (item.start, item.end) if isinstance(item, Dimension) else (item.datum, *item.points)
    k = 0 if item.axis == "x" else 1
    low, high = min(p[k] for p in feet), max(p[k] for p in feet)
    if item.axis == "x":
        return (low, item.line_at), (high, item.line_at)
    return (item.line_at, low), (item.line_at, high)


def _stretch(a: float, b: float, size: int) -> slice:
    low, high = (a, b) if a <= b else (b, a)
    return slice(max(floor(low), 0), min(max(floor(high) + 1, 0), size))


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


@cache
def ring_offsets(
    *, near: float = 7.0, far: float, step: float = 4.0, turns: int = 24
) -> npt.NDArray[np.float64]:
    """Return places round (0, 0), nearest rings first, in each the slanting ones first. [mm].

    Args:
        near: Radius of the first ring.
        far: No ring is larger.
        step: From ring to ring.
        turns: Places on a ring; a multiple of four. Level and upright ones are left out.

    Returns:
        Shape (n, 2).
    """
    rings = np.arange(near, far, step)
    angles = np.arange(turns) * 2.0 * np.pi / turns
    slant = np.abs(np.sin(2.0 * angles))  # 1 at 45 degrees, 0 when level or upright
    order = np.argsort(-slant, kind="stable")
    angles = angles[order][slant[order] > 0.2]
    circle = np.column_stack((np.cos(angles), np.sin(angles)))
    places: npt.NDArray[np.float64] = (rings[:, None, None] * circle).reshape(-1, 2)
    return places
