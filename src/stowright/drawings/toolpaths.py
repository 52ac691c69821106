"""Closed contours of a part for a router: true arcs, inside corners relieved for the cutter.

Coordinates are those of the good face as one looks at it, origin at the lower left corner, so a
mirrored part (whose u runs to the left) is turned about: x = length − u. A contour is a run of
points, each with the bulge of the arc to the next (tan of a quarter of its angle, 0 for a line).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from math import acos, atan2, cos, hypot, pi, tan

from stowright.drawings.board import (
    Rectangle,
    holds_point,
    is_round,
    is_through,
    on_face,
    rectangle_of,
    shapes_outline,
)
from stowright.model.geometry import Point2
from stowright.model.part import Feature, Part, Relief
from stowright.units import MM_PER_INCH, Unit, format_length

__all__ = ["Contour", "Drill", "Operation", "outside_of", "part_operations", "relieved", "turned"]

type Vertex = tuple[float, float, float]

_QUARTER = tan(pi / 8.0)  # bulge of a quarter circle
_NEAR = 1e-6
_SUNK = re.compile(r"countersunk (\d+(?:\.\d+)?)")
#: How far beyond a pocket's side a part is looked for. [mm]
_OUT = 0.05
#: A wider corner is filled by so little that a part seats in it (judgement).
_SHARP = 3.0 * pi / 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Contour:
    """A closed path: x, y and bulge of each vertex. [mm]."""

    vertices: tuple[Vertex, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Drill:
    """A hole: centre and diameter. [mm]."""

    centre: Point2
    diameter: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """What is done with one path, and the name of its layer in plain words.

    Attributes:
        layer: ``cut outside, through``, ``pocket, 6 mm deep``, ``drill 4.5 mm, through`` …
        path: The path.
    """

    layer: str
    path: Contour | Drill


def part_operations(
    part: Part, *, cutter: float = 0.0, units: Unit = "mm"
) -> tuple[Operation, ...]:
    """Return everything a router does to a part, holes first, its outside last.

    Args:
        part: The part.
        cutter: Diameter of the cutter. Above zero, square inside corners are relieved so that a
            square part seats, and pockets that run out at an edge overrun it by half of this. [mm]
        units: Unit of the figures in layer names.
    """
    cut = [f for f in part.features if on_face(f) and not shapes_outline(f, part)]
    operations = [_operation(part, feature, cutter, units) for feature in cut]
    operations += [row for f in cut for row in _countersink(part, f, units)]
    operations.sort(key=lambda op: not isinstance(op.path, Drill))
    outside = outside_of(part, cutter=cutter)
    return (*operations, Operation(layer="cut outside, through", path=outside))


def outside_of(part: Part, *, cutter: float = 0.0) -> Contour:
    """Return a part's outline as it is cut, the reliefs that it was designed with included."""
    outline, made = _outline(part), _as_designed(part)
    return relieved(outline, cutter, made=made) if cutter > 0.0 or made else outline


def _as_designed(part: Part, feature: Feature | None = None) -> dict[Point2, Relief]:
    """Return the reliefs that the part was designed with, by corner as one looks at it.

    Those of one feature's corners, or of all where none is named.
    """
    found = {}
    for row in part.reliefs:
        if feature is None or _is_corner(row.corner, rectangle_of(feature)):
            corner, centre = _point(part, row.corner), _point(part, row.centre)
            found[_key(corner)] = replace(row, corner=corner, centre=centre)
    return found


def _is_corner(point: Point2, r: Rectangle) -> bool:
    return min(abs(point[0] - r.u0), abs(point[0] - r.u1)) < _NEAR and (
        min(abs(point[1] - r.v0), abs(point[1] - r.v1)) < _NEAR
    )


def _point(part: Part, point: Point2) -> Point2:
    return (part.length - point[0], point[1]) if part.mirrored else point


def _key(point: Point2) -> Point2:
    return (round(point[0], 4), round(point[1], 4))


def _outline(part: Part) -> Contour:
    """Return a part's contour, counter-clockwise as one looks at the good face."""
    points = [(part.length - u if part.mirrored else u, v) for u, v in part.outline]
    if part.mirrored:
        points.reverse()
    return Contour(vertices=tuple((x, y, 0.0) for x, y in points))


def _operation(part: Part, feature: Feature, cutter: float, units: Unit) -> Operation:
    deep = ", through" if is_through(feature, part) else f", {_figure(feature.depth, units)} deep"
    back = "from the back, " if feature.face == "back" else ""
    if is_round(feature):
        path = Drill(centre=_point(part, feature.at), diameter=feature.size[0])
        return Operation(layer=f"{back}drill {_figure(feature.size[0], units)}{deep}", path=path)
    what = "cut inside" if is_through(feature, part) else "pocket"
    rectangle = _on_paper(part, rectangle_of(feature))
    contour = _inside(part, rectangle, cutter, _as_designed(part, feature))
    return Operation(layer=f"{back}{what}{deep}", path=contour)


def _countersink(part: Part, feature: Feature, units: Unit) -> Iterator[Operation]:
    """Yield the sinking of a screw's head: its rim, at the face that the head sits in."""
    sunk = _SUNK.search(feature.purpose)
    if sunk is None or not is_round(feature):
        return
    wide = float(sunk[1])
    back = "from the back, " if feature.face == "back" else ""
    path = Drill(centre=_point(part, feature.at), diameter=wide)
    yield Operation(layer=f"{back}countersink {_figure(wide, units)} wide", path=path)


def _figure(value: float, units: Unit) -> str:
    """Return a length for a layer's name, which must not hold a fraction's stroke."""
    if units == "mm":
        return f"{format_length(value)} mm"
    return f"{value / MM_PER_INCH:.3f} in"


def _on_paper(part: Part, r: Rectangle) -> Rectangle:
    if not part.mirrored:
        return r
    return replace(r, u0=part.length - r.u1, u1=part.length - r.u0)


def _inside(part: Part, r: Rectangle, cutter: float, made: Mapping[Point2, Relief]) -> Contour:
    """Return the contour of a rectangle inside a part."""
    if r.radius > _NEAR:
        return _rounded(r)
    half = cutter / 2.0
    out = _runs_out(part, r)
    seats = [c for c in _ring(r) if not {(0, c[0]), (1, c[1])} & out]
    grown = replace(
        r,
        u0=r.u0 - half * ((0, r.u0) in out),
        u1=r.u1 + half * ((0, r.u1) in out),
        v0=r.v0 - half * ((1, r.v0) in out),
        v1=r.v1 + half * ((1, r.v1) in out),
    )
    contour = Contour(vertices=tuple((x, y, 0.0) for x, y in _ring(grown)))
    if cutter <= 0.0 and not made:
        return contour
    return relieved(contour, cutter, only=seats, void_inside=True, made=made)


def _ring(r: Rectangle) -> tuple[Point2, Point2, Point2, Point2]:
    return ((r.u0, r.v0), (r.u1, r.v0), (r.u1, r.v1), (r.u0, r.v1))


def _runs_out(part: Part, r: Rectangle) -> set[tuple[int, float]]:
    """Return the sides of a rectangle that no wood lies behind: axis and place of each."""
    across, up = (r.u0 + r.u1) / 2.0, (r.v0 + r.v1) / 2.0
    sides = {
        (0, r.u0): (r.u0 - _OUT, up),
        (0, r.u1): (r.u1 + _OUT, up),
        (1, r.v0): (across, r.v0 - _OUT),
        (1, r.v1): (across, r.v1 + _OUT),
    }
    return {side for side, spot in sides.items() if not holds_point(part, _point(part, spot))}


def _rounded(r: Rectangle) -> Contour:
    """Return a rectangle with round corners, counter-clockwise."""
    k = r.radius
    quarter = (
        ((r.u0 + k, r.v0), (r.u1 - k, r.v0)),
        ((r.u1, r.v0 + k), (r.u1, r.v1 - k)),
        ((r.u1 - k, r.v1), (r.u0 + k, r.v1)),
        ((r.u0, r.v1 - k), (r.u0, r.v0 + k)),
    )
    vertices: list[Vertex] = []
    for a, b in quarter:
        if hypot(b[0] - a[0], b[1] - a[1]) > _NEAR:
            vertices.append((*a, 0.0))
        vertices.append((*b, _QUARTER))
    return Contour(vertices=tuple(vertices))


# Relief ------------------------------------------------------------------------------------------


def relieved(
    contour: Contour,
    cutter: float,
    *,
    only: list[Point2] | None = None,
    void_inside: bool = False,
    made: Mapping[Point2, Relief] | None = None,
) -> Contour:
    """Return a counter-clockwise contour whose inside corners a round cutter can clear.

    At each corner that points into the material the path swings out on an arc of the cutter's
    radius that passes through the corner itself: across the corner, or as the part was designed.

    Args:
        contour: Straight-sided, counter-clockwise.
        cutter: Diameter of the cutter, 0 to relieve only what was designed so. [mm]
        only: Corners to relieve; all inside corners when None.
        void_inside: True when what the contour encloses is cut away (a pocket), False when it is
            the part.
        made: Reliefs that the part was designed with, by corner.
    """
    given = made or {}
    points = [(x, y) for x, y, _ in contour.vertices]
    vertices: list[Vertex] = []
    for before, corner, after in _triples(points):
        turn = _cross(before, corner, after)
        inside_corner = turn > 0.0 if void_inside else turn < 0.0
        asked = only is None or corner in only
        row = given.get(_key(corner))
        if inside_corner and row is not None:
            vertices += _designed_relief(before, row, after, void_inside=void_inside)
        elif inside_corner and asked and cutter > 0.0:
            vertices += _relief(before, corner, after, cutter / 2.0, void_inside=void_inside)
        else:
            vertices.append((*corner, 0.0))
    return Contour(vertices=tuple(vertices))


def _triples(points: list[Point2]) -> Iterator[tuple[Point2, Point2, Point2]]:
    for k, corner in enumerate(points):
        yield points[k - 1], corner, points[(k + 1) % len(points)]


def _cross(a: Point2, b: Point2, c: Point2) -> float:
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])


def _relief(
    before: Point2, corner: Point2, after: Point2, radius: float, *, void_inside: bool
) -> list[Vertex]:
    """Return the two ends of the relieving arc, the first with its bulge.

    With half the corner's opening a, the arc's ends lie 2 r cos a from the corner and its angle is
    2 pi − 4 a, so its bulge is cot a.
    """
    p, q = _unit(corner, before), _unit(corner, after)
    half = acos(max(-1.0, min(1.0, p[0] * q[0] + p[1] * q[1]))) / 2.0
    if 2.0 * half > _SHARP:
        return [(*corner, 0.0)]
    reach = 2.0 * radius * cos(half)
    bulge = 1.0 / tan(half)
    first = (corner[0] + p[0] * reach, corner[1] + p[1] * reach)
    last = (corner[0] + q[0] * reach, corner[1] + q[1] * reach)
    return [(*first, bulge if void_inside else -bulge), (*last, 0.0)]


def _designed_relief(
    before: Point2, row: Relief, after: Point2, *, void_inside: bool
) -> list[Vertex]:
    """Return the two ends of an arc about a relief's centre, the first with its bulge.

    The rim passes through the corner, so it meets a leg p again 2 (c · p) from the corner, c being
    the way from the corner to the centre; where that is behind the corner, the arc ends in it.
    """
    corner, centre = row.corner, row.centre
    c = (centre[0] - corner[0], centre[1] - corner[1])
    ends = []
    for leg in (_unit(corner, before), _unit(corner, after)):
        reach = max(0.0, 2.0 * (c[0] * leg[0] + c[1] * leg[1]))
        ends.append((corner[0] + leg[0] * reach, corner[1] + leg[1] * reach))
    first, last = (atan2(y - centre[1], x - centre[0]) for x, y in ends)
    turn = (last - first if void_inside else first - last) % (2.0 * pi)
    bulge = tan(turn / 4.0)
    return [(*ends[0], bulge if void_inside else -bulge), (*ends[1], 0.0)]


def _unit(a: Point2, b: Point2) -> Point2:
    dx, dy = b[0] - a[0], b[1] - a[1]
    reach = hypot(dx, dy)
    return (dx / reach, dy / reach)


# Placing -----------------------------------------------------------------------------------------


def turned(operation: Operation, place: Callable[[Point2], Point2]) -> Operation:
    """Return an operation moved or turned (never mirrored: bulges keep their sign)."""
    path = operation.path
    if isinstance(path, Drill):
        return replace(operation, path=replace(path, centre=place(path.centre)))
    vertices = tuple((*place((x, y)), bulge) for x, y, bulge in path.vertices)
    return replace(operation, path=Contour(vertices=vertices))
