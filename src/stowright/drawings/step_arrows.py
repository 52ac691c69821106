"""Arrows in the figures of steps: how a piece goes on, and where something is read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon

from stowright.drawings.figures import marks_of
from stowright.drawings.picture import Picture
from stowright.drawings.scene import Arrow, Region
from stowright.model.geometry import Point3

__all__ = ["Going", "going_arrows", "pushing_arrow", "reading_arrow"]

type Vector = NDArray[np.float64]
#: Corners of what moves together, where it is drawn, and how far that is off its place. [mm]
type Going = tuple[Vector, Point3]

#: Arrows longer than this are drawn from the piece this far towards its place. [mm on paper]
_LONGEST_ARROW = 13.0
_LEAST_ARROW = 3.0
_HEAD = 3.2
#: An arrow that pushes a long piece in from behind is this long. [mm on paper]
_PUSH = 9.0
#: Where along a piece its arrow may start, as shares of its length from the middle.
_ALONG = (0.0, 0.2, -0.2, 0.35, -0.35, 0.45, -0.45)


def going_arrows(pic: Picture, going: Sequence[Going]) -> Iterator[Arrow]:
    """Yield an arrow from each thing towards its place, moved along it where two would touch."""
    taken: list[Polygon] = []
    for corners, move in going:
        vector = np.array(move)
        if not vector.any():
            continue
        arrows = [_arrow(pic, start, vector) for start in _starts(corners, vector)]
        shown = [(a, _outline(a)) for a in arrows if a is not None]
        free = [s for s in shown if not any(s[1].intersects(other) for other in taken)]
        for arrow, outline in (free or shown)[:1]:
            taken.append(outline.buffer(0.6))
            yield arrow


def pushing_arrow(pic: Picture, corners: Vector, move: Point3) -> Arrow | None:
    """Return an arrow at the end that comes last; None when it is seen end-on."""
    vector = np.array(move)
    out = vector / np.linalg.norm(vector)
    middle = (corners.min(axis=0) + corners.max(axis=0)) / 2.0
    last = middle + out * float(((corners - middle) @ out).max())
    tip, far = pic.paper(_point(last)), pic.paper(_point(last + vector))
    shown = hypot(far[0] - tip[0], far[1] - tip[1])
    if shown < _LEAST_ARROW:
        return None
    k = _PUSH / shown
    tail = (tip[0] + k * (far[0] - tip[0]), tip[1] + k * (far[1] - tip[1]))
    return Arrow(tail=tail, tip=tip, style="block", size=_HEAD, pen="edge", fill="paper")


def reading_arrow(pic: Picture, start: Point3, end: Point3) -> Arrow:
    """Return a double arrow between two points that a reading is taken between."""
    return Arrow(tail=pic.paper(start), tip=pic.paper(end), style="double", pen="dimension")


def _arrow(pic: Picture, start: Vector, move: Vector) -> Arrow | None:
    """Return the arrow that starts at a point of a moved piece; None when it is seen end-on."""
    tail, tip = pic.paper(_point(start)), pic.paper(_point(start - move))
    shown = hypot(tip[0] - tail[0], tip[1] - tail[1])
    if shown < _LEAST_ARROW:
        return None
    share = min(1.0, _LONGEST_ARROW / shown)
    tip = (tail[0] + share * (tip[0] - tail[0]), tail[1] + share * (tip[1] - tail[1]))
    return Arrow(tail=tail, tip=tip, style="block", size=_HEAD, pen="edge", fill="paper")


def _outline(arrow: Arrow) -> Polygon:
    return next(Polygon(m.outer) for m in marks_of(arrow) if isinstance(m, Region))


def _starts(corners: Vector, move: Vector) -> Iterator[Vector]:
    """Yield points of the side that goes first on the way home: its middle, then others."""
    low, high = corners.min(axis=0), corners.max(axis=0)
    middle = (low + high) / 2.0
    home = -move / np.linalg.norm(move)
    front = middle + home * float(((corners - middle) @ home).max())
    along = np.where(np.abs(home) > 0.5, 0.0, high - low)
    longest = np.zeros(3)
    longest[int(np.argmax(along))] = float(along.max())
    for share in _ALONG:
        yield front + share * longest


def _point(vector: Vector) -> Point3:
    x, y, z = vector.tolist()
    return (x, y, z)
