"""Parts seen square on: their outlines in a view, with what is hidden taken away.

Parts stand square to the bay, so in any of the main views a part is either seen on its face (its
true contour, openings included) or on an edge (a rectangle). Nearer ones hide what lies behind
them; a line that two share stays with the nearer one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import shapely

from stowright.drawings.board import is_round, is_through, on_face, rectangle_of, shapes_outline
from stowright.model.geometry import Point2, Point3
from stowright.model.part import Part, PlacedPart

__all__ = ["Sight", "Silhouette", "Visible", "silhouette", "uncovered", "visible"]

#: Openings smaller than this are not drawn in a general arrangement. [mm]
_OPENING = 15.0
_GRID = 1e-4
_VIEWS = 8
_LEAST = 0.5  # shorter bits of line are the leavings of rounding [mm]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sight:
    """A direction of view: where right and up on paper and the way one looks point in the bay."""

    right: Point3
    up: Point3
    look: Point3

    def flat(self, point: Point3) -> Point2:
        """Return a point of the bay on the picture plane. [mm]."""
        return (_dot(point, self.right), _dot(point, self.up))

    def depth(self, point: Point3) -> float:
        """Return how far away a point is, along the way one looks. [mm]."""
        return _dot(point, self.look)


@dataclass(frozen=True, slots=True, kw_only=True)
class Silhouette:
    """A part in a view.

    Attributes:
        placed: The part.
        shape: Its outline on the picture plane.
        near, far: Depth of its nearest and farthest point.
    """

    placed: PlacedPart
    shape: shapely.Polygon
    near: float
    far: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Visible:
    """What can be seen of a part: regions, and the lines along its outline."""

    placed: PlacedPart
    regions: tuple[shapely.Polygon, ...]
    lines: tuple[tuple[Point2, ...], ...]


def silhouette(placed: PlacedPart, part: Part, sight: Sight) -> Silhouette:
    """Return a part's outline as seen."""
    corners = [
        placed.point(u, v, w)
        for u in (0.0, placed.length)
        for v in (0.0, placed.width)
        for w in (0.0, placed.thickness)
    ]
    depths = [sight.depth(corner) for corner in corners]
    if abs(_dot(placed.axes[2], sight.look)) > 0.999:
        shape = _face(placed, part, sight)
    else:
        flat = [sight.flat(corner) for corner in corners]
        xs, ys = [p[0] for p in flat], [p[1] for p in flat]
        shape = shapely.box(min(xs), min(ys), max(xs), max(ys))
    return Silhouette(placed=placed, shape=shape, near=min(depths), far=max(depths))


def _face(placed: PlacedPart, part: Part, sight: Sight) -> shapely.Polygon:
    def flat(u: float, v: float) -> Point2:
        return sight.flat(placed.point(u, v, 0.0))

    holes = []
    for feature in part.features:
        if not on_face(feature) or not is_through(feature, part) or is_round(feature):
            continue
        if shapes_outline(feature, part) or min(feature.size) < _OPENING:
            continue
        r = rectangle_of(feature)
        holes.append(
            [flat(u, v) for u, v in ((r.u0, r.v0), (r.u1, r.v0), (r.u1, r.v1), (r.u0, r.v1))]
        )
    return shapely.Polygon([flat(u, v) for u, v in part.outline], holes)


@lru_cache(maxsize=_VIEWS)
def visible(shapes: tuple[Silhouette, ...]) -> tuple[Visible, ...]:
    """Return what can be seen of each part, the farthest first.

    The last few views are remembered: a sheet is tried at several scales.
    """
    covered: shapely.Geometry = shapely.Polygon()
    seen = []
    # Of two bodies that overlap on paper the nearer one ends before the other begins.
    for one in sorted(shapes, key=lambda s: (s.far, s.placed.id)):
        lines = tuple(_lines(shapely.difference(one.shape.boundary, covered)))
        regions = tuple(_polygons(shapely.difference(one.shape, covered, grid_size=_GRID)))
        if lines or regions:
            seen.append(Visible(placed=one.placed, regions=regions, lines=lines))
        covered = shapely.union(covered, one.shape, grid_size=_GRID)
    return tuple(reversed(seen))


def uncovered(line: tuple[Point2, ...], shapes: tuple[Silhouette, ...]) -> list[tuple[Point2, ...]]:
    """Return the bits of a line that no part lies over. [mm]."""
    return list(_lines(shapely.difference(shapely.LineString(line), _cover(shapes))))


@lru_cache(maxsize=_VIEWS)
def _cover(shapes: tuple[Silhouette, ...]) -> shapely.Geometry:
    """Return what some parts cover together."""
    return shapely.union_all([one.shape for one in shapes])


def _lines(shape: shapely.Geometry) -> Iterator[tuple[Point2, ...]]:
    for line in shapely.get_parts(shapely.line_merge(shape)):
        if line.geom_type in {"LineString", "LinearRing"} and line.length > _LEAST:
            yield tuple((float(x), float(y)) for x, y in line.coords)


def _polygons(shape: shapely.Geometry) -> Iterator[shapely.Polygon]:
    for polygon in shapely.get_parts(shape):
        if polygon.geom_type == "Polygon" and polygon.area > _LEAST:
            yield polygon


def _dot(a: Point3, b: Point3) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
