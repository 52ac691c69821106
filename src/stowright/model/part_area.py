"""Plane area and volume of a part from its outline and features: exact, circles as π r².

A meshed hole is a polygon, so weights are not taken from meshes. What is made from the two faces
is a rectangle with rounded corners over a range of thickness (a round hole is one whose corners
meet). One that stands clear of all others and inside the outline is a closed formula. Those that
cross each other or the outline (a groove that runs into a rebate, a notch that the outline
already shows) are cut into strips between every place where two boundaries meet; in a strip each
boundary is one line or one arc, so its integral is closed too and nothing is counted twice.

A hole drilled into an edge counts as far as it runs in wood: a rebate or groove that swallows it
whole shortens it; one that only grazes it is not taken off.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, pairwise
from math import asin, hypot, pi, sqrt
from typing import NamedTuple

from stowright.model.geometry import Point2
from stowright.model.part import Feature, Part, Relief

__all__ = [
    "Pocket",
    "Shape",
    "face_area_mm2",
    "pockets_of",
    "polygon_area_mm2",
    "shape_volume_mm3",
    "volume_mm3",
]

#: Widths and areas under this are rounding, not material. [mm]
_EPS = 1e-9


class Shape(NamedTuple):
    """What a part's volume comes from; each as in ``Part``."""

    outline: tuple[Point2, ...]
    length: float
    width: float
    thickness: float
    features: tuple[Feature, ...]
    reliefs: tuple[Relief, ...]


@dataclass(frozen=True, slots=True)
class Pocket:
    """What a feature takes away: a rectangle with round corners over a range of thickness.

    Attributes:
        u0, v0, u1, v1: The rectangle, in the part frame. [mm]
        radius: Of its corners; half of either side makes a round hole or a slot. [mm]
        w0, w1: From and to which height above the back face. [mm]
    """

    u0: float
    v0: float
    u1: float
    v1: float
    radius: float
    w0: float
    w1: float

    @property
    def area(self) -> float:
        """Plane area. [mm2]."""
        return (self.u1 - self.u0) * (self.v1 - self.v0) - (4.0 - pi) * self.radius**2


class _Line(NamedTuple):
    u0: float
    v0: float
    u1: float
    v1: float

    def at(self, u: float) -> float:
        return self.v0 + (self.v1 - self.v0) * (u - self.u0) / (self.u1 - self.u0)

    def integral(self, a: float, b: float) -> float:
        return (self.at(a) + self.at(b)) / 2.0 * (b - a)


@dataclass(frozen=True, slots=True)
class _Arc:
    """The upper (side +1) or lower (-1) half of a circle."""

    cu: float
    cv: float
    radius: float
    side: float

    def at(self, u: float) -> float:
        return self.cv + self.side * sqrt(max(self.radius**2 - (u - self.cu) ** 2, 0.0))

    def integral(self, a: float, b: float) -> float:
        return self.cv * (b - a) + self.side * (self._half(b - self.cu) - self._half(a - self.cu))

    def _half(self, s: float) -> float:
        s = min(max(s, -self.radius), self.radius)
        return (s * sqrt(self.radius**2 - s * s) + self.radius**2 * asin(s / self.radius)) / 2.0


type _Curve = _Line | _Arc


def polygon_area_mm2(points: Sequence[Point2]) -> float:
    """Return the area of a plane polygon, positive when it runs counter-clockwise. [mm2]."""
    twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in pairwise((*points, points[0])))
    return twice / 2.0


def face_area_mm2(part: Part) -> float:
    """Return the area of a part's outline less everything that goes right through. [mm2]."""
    through = [
        pocket
        for pocket in pockets_of(part)
        if pocket.w0 <= _EPS and pocket.w1 >= part.thickness - _EPS
    ]
    taken = _taken_mm3(part.outline, through)
    return abs(polygon_area_mm2(part.outline)) - taken / part.thickness


def volume_mm3(part: Part) -> float:
    """Return the volume of one copy of a part, everything made in it taken off. [mm3]."""
    return shape_volume_mm3(
        Shape(
            outline=part.outline,
            length=part.length,
            width=part.width,
            thickness=part.thickness,
            features=part.features,
            reliefs=part.reliefs,
        )
    )


@lru_cache(maxsize=2048)
def shape_volume_mm3(part: Shape) -> float:
    """Return the volume of a shape, everything made in it taken off. [mm3].

    Remembered: designs of one vehicle have many parts in common.
    """
    solid = abs(polygon_area_mm2(part.outline)) * part.thickness
    pockets = pockets_of(part)
    drilled = sum(
        _edge_hole_mm3(part, feature, pockets)
        for feature in part.features
        if feature.face not in {"good", "back"} and len(feature.size) == 1
    )
    return solid - _taken_mm3(part.outline, pockets) - drilled


def pockets_of(part: Part | Shape) -> list[Pocket]:
    """Return what each feature takes away, in their order, then what corner reliefs take.

    Round holes in edges are left out.
    """
    found = []
    for feature in part.features:
        if feature.face in {"good", "back"}:
            found.append(_face_pocket(part, feature))
        elif len(feature.size) > 1:
            found.append(_edge_pocket(part, feature))
    found += [_relief_pocket(part, row) for row in part.reliefs]
    return [p for p in found if p.u1 - p.u0 > _EPS and p.v1 - p.v0 > _EPS and p.w1 - p.w0 > _EPS]


def _face_pocket(part: Part | Shape, feature: Feature) -> Pocket:
    t = part.thickness
    depth = t if feature.through else min(feature.depth, t)
    low, high = (t - depth, t) if feature.face == "good" else (0.0, depth)
    u, v = feature.at
    if len(feature.size) == 1:
        r = feature.size[0] / 2.0
        return Pocket(u - r, v - r, u + r, v + r, r, low, high)
    along, across = feature.size[0], feature.size[1]
    radius = min(feature.radius, along / 2.0, across / 2.0)
    return Pocket(u, v, u + along, v + across, radius, low, high)


def _relief_pocket(part: Part | Shape, row: Relief) -> Pocket:
    t, r, (u, v) = part.thickness, row.diameter / 2.0, row.centre
    depth = t if row.through else min(row.depth, t)
    low, high = (t - depth, t) if row.face == "good" else (0.0, depth)
    return Pocket(u - r, v - r, u + r, v + r, r, low, high)


def _edge_pocket(part: Part | Shape, feature: Feature) -> Pocket:
    """A rectangle cut into an edge is a rectangle in the face plane over its height."""
    a, up = feature.at
    b, top = a + feature.size[0], min(up + feature.size[1], part.thickness)
    up = max(up, 0.0)
    match feature.face:
        case "u0":
            return Pocket(0.0, a, feature.depth, b, 0.0, up, top)
        case "u1":
            return Pocket(part.length - feature.depth, a, part.length, b, 0.0, up, top)
        case "v0":
            return Pocket(a, 0.0, b, feature.depth, 0.0, up, top)
        case _:
            return Pocket(a, part.width - feature.depth, b, part.width, 0.0, up, top)


def _edge_hole_mm3(part: Shape, feature: Feature, pockets: Sequence[Pocket]) -> float:
    """π r² times the run of the hole's centre line that still lies in wood.

    The run stops at the outline and at a pocket that swallows the whole hole (a rebate, a groove).
    """
    along, up = feature.at
    radius = feature.size[0] / 2.0
    lengthwise = feature.face in {"u0", "u1"}
    size = part.length if lengthwise else part.width
    start, end = feature.starts, feature.starts + feature.depth
    if feature.face in {"u1", "v1"}:
        start, end = size - end, size - start
    outline = part.outline if lengthwise else tuple((v, u) for u, v in part.outline)
    gone = [
        (p.u0, p.u1) if lengthwise else (p.v0, p.v1)
        for p in pockets
        if p.w0 <= up - radius + _EPS
        and p.w1 >= up + radius - _EPS
        and (p.v0 if lengthwise else p.u0) <= along - radius + _EPS
        and (p.v1 if lengthwise else p.u1) >= along + radius - _EPS
    ]
    inside = sum(
        _left_over(max(start, a), min(end, b), gone) for a, b in _runs_inside(outline, along)
    )
    return pi * radius**2 * inside


def _left_over(low: float, high: float, gone: list[tuple[float, float]]) -> float:
    """Return how much of low..high is in none of the ranges."""
    left = 0.0
    for a, b in sorted(gone):
        left += max(min(a, high) - low, 0.0)
        low = max(low, b)
    return left + max(high - low, 0.0)


def _runs_inside(outline: Sequence[Point2], v: float) -> list[tuple[float, float]]:
    crossings = sorted(
        a[0] + (b[0] - a[0]) * (v - a[1]) / (b[1] - a[1])
        for a, b in pairwise((*outline, outline[0]))
        if (a[1] <= v) != (b[1] <= v)
    )
    return list(zip(crossings[::2], crossings[1::2], strict=False))


def _taken_mm3(outline: Sequence[Point2], pockets: list[Pocket]) -> float:
    """Return the volume that the pockets take from a prism over the outline."""
    taken = 0.0
    for cluster in _clusters(pockets):
        if len(cluster) == 1 and _clear_of_outline(cluster[0], outline):
            taken += cluster[0].area * (cluster[0].w1 - cluster[0].w0)
        else:
            taken += _layered_mm3(outline, cluster)
    return taken


def _clusters(pockets: list[Pocket]) -> list[list[Pocket]]:
    """Group pockets whose bounding rectangles overlap, directly or through others.

    Taken in order along u: a group that ends before a pocket begins meets no later one either.
    """
    done: list[list[Pocket]] = []
    live: list[tuple[float, list[Pocket]]] = []
    for pocket in sorted(pockets, key=lambda p: (p.u0, p.v0, p.u1, p.v1, p.w0)):
        apart: list[tuple[float, list[Pocket]]] = []
        end, joined = pocket.u1, [pocket]
        for group in live:
            if group[0] - _EPS <= pocket.u0:
                done.append(group[1])
            elif any(_overlap(pocket, other) for other in group[1]):
                end, joined = max(end, group[0]), [*group[1], *joined]
            else:
                apart.append(group)
        live = [*apart, (end, joined)]
    return [*done, *(group for _, group in live)]


def _overlap(a: Pocket, b: Pocket) -> bool:
    return a.u0 < b.u1 - _EPS and b.u0 < a.u1 - _EPS and a.v0 < b.v1 - _EPS and b.v0 < a.v1 - _EPS


def _clear_of_outline(pocket: Pocket, outline: Sequence[Point2]) -> bool:
    """Whether the pocket's rectangle lies wholly inside the outline; False when in doubt."""
    us, vs = [p[0] for p in outline], [p[1] for p in outline]
    if len(outline) == 4 and len(set(us)) == 2 and len(set(vs)) == 2:
        return (
            min(us) <= pocket.u0
            and pocket.u1 <= max(us)
            and min(vs) <= pocket.v0
            and pocket.v1 <= max(vs)
        )
    if any(
        min(a[0], b[0]) < pocket.u1
        and max(a[0], b[0]) > pocket.u0
        and min(a[1], b[1]) < pocket.v1
        and max(a[1], b[1]) > pocket.v0
        for a, b in pairwise((*outline, outline[0]))
    ):
        return False
    middle_u, middle_v = (pocket.u0 + pocket.u1) / 2.0, (pocket.v0 + pocket.v1) / 2.0
    return any(a <= middle_u <= b for a, b in _runs_inside(outline, middle_v))


def _layered_mm3(outline: Sequence[Point2], cluster: list[Pocket]) -> float:
    levels = sorted({w for pocket in cluster for w in (pocket.w0, pocket.w1)})
    volume = 0.0
    for low, high in pairwise(levels):
        active = [p for p in cluster if p.w0 <= low and p.w1 >= high]
        if active:
            volume += _union_inside_mm2(outline, active) * (high - low)
    return volume


def _union_inside_mm2(outline: Sequence[Point2], pockets: list[Pocket]) -> float:
    """Return the area of the pockets' union inside the outline, strip by strip."""
    edges = [
        _Line(*a, *b) if a[0] < b[0] else _Line(*b, *a)
        for a, b in pairwise((*outline, outline[0]))
        if abs(a[0] - b[0]) > _EPS
    ]
    breaks = _breaks(outline, edges, pockets)
    return sum(_strip_mm2(edges, pockets, a, b) for a, b in pairwise(breaks) if b - a > _EPS)


def _breaks(outline: Sequence[Point2], edges: list[_Line], pockets: list[Pocket]) -> list[float]:
    """Every u at which a boundary starts, ends or meets another one."""
    found = {point[0] for point in outline}
    for p in pockets:
        found |= {p.u0, p.u0 + p.radius, p.u1 - p.radius, p.u1}
    groups: list[list[_Curve]] = [[edge] for edge in edges]
    groups += [_boundary(p) for p in pockets]
    level = all(isinstance(c, _Line) and c.v0 == c.v1 for group in groups for c in group)
    for one, other in () if level else combinations(groups, 2):  # level lines meet nowhere
        for a in one:
            for b in other:
                found.update(_meet(a, b))
    low, high = min(p.u0 for p in pockets), max(p.u1 for p in pockets)
    return sorted(u for u in found if low <= u <= high)


def _boundary(p: Pocket) -> list[_Curve]:
    curves: list[_Curve] = [_Line(p.u0, v, p.u1, v) for v in (p.v0, p.v1)]
    if p.radius > 0.0:
        curves += [
            _Arc(u, v, p.radius, 1.0)
            for u in (p.u0 + p.radius, p.u1 - p.radius)
            for v in (p.v0 + p.radius, p.v1 - p.radius)
        ]
    return curves


def _meet(a: _Curve, b: _Curve) -> tuple[float, ...]:
    """Return where two boundaries meet, arcs taken as whole circles and lines as endless."""
    match a, b:
        case _Line(), _Line():
            return _lines_meet(a, b)
        case _Arc(), _Arc():
            return _circles_meet(a, b)
        case _Line(), _Arc():
            return _line_meets_circle(a, b)
        case _Arc(), _Line():
            return _line_meets_circle(b, a)
    return ()


def _lines_meet(a: _Line, b: _Line) -> tuple[float, ...]:
    slope_a = (a.v1 - a.v0) / (a.u1 - a.u0)
    slope_b = (b.v1 - b.v0) / (b.u1 - b.u0)
    if slope_a == slope_b:
        return ()
    return ((b.at(0.0) - a.at(0.0)) / (slope_a - slope_b),)


def _line_meets_circle(line: _Line, arc: _Arc) -> tuple[float, ...]:
    slope = (line.v1 - line.v0) / (line.u1 - line.u0)
    rise = line.at(arc.cu) - arc.cv
    under = arc.radius**2 * (1.0 + slope**2) - rise**2
    if under < 0.0:
        return ()
    root = sqrt(under)
    return tuple(arc.cu + (sign * root - slope * rise) / (1.0 + slope**2) for sign in (-1.0, 1.0))


def _circles_meet(a: _Arc, b: _Arc) -> tuple[float, ...]:
    du, dv = b.cu - a.cu, b.cv - a.cv
    apart = hypot(du, dv)
    if not abs(a.radius - b.radius) < apart < a.radius + b.radius:
        return ()
    along = (apart**2 + a.radius**2 - b.radius**2) / (2.0 * apart)
    off = sqrt(max(a.radius**2 - along**2, 0.0))
    return tuple(a.cu + (along * du + sign * off * dv) / apart for sign in (-1.0, 1.0))


def _strip_mm2(edges: list[_Line], pockets: list[Pocket], a: float, b: float) -> float:
    """Return the area of (union of pockets) and outline between u = a and u = b.

    No boundaries meet inside the strip, so their order at its middle is their order throughout.
    """
    m = (a + b) / 2.0
    crossing = sorted((e for e in edges if e.u0 < m < e.u1), key=lambda e: e.at(m))
    spans = sorted(
        ((_bound(p, m, -1.0), _bound(p, m, 1.0)) for p in pockets if p.u0 < m < p.u1),
        key=lambda span: span[0].at(m),
    )
    area = 0.0
    for floor, ceiling in zip(crossing[::2], crossing[1::2], strict=False):
        top: _Curve = floor
        for low, high in spans:
            lower = max(low, top, key=lambda curve: curve.at(m))
            upper = min(high, ceiling, key=lambda curve: curve.at(m))
            if upper.at(m) > lower.at(m):
                area += upper.integral(a, b) - lower.integral(a, b)
            top = max(top, high, key=lambda curve: curve.at(m))
    return area


def _bound(p: Pocket, u: float, side: float) -> _Curve:
    """Return the pocket's upper (side +1) or lower (-1) boundary at u."""
    v = p.v1 if side > 0.0 else p.v0
    if u < p.u0 + p.radius:
        return _Arc(p.u0 + p.radius, v - side * p.radius, p.radius, side)
    if u > p.u1 - p.radius:
        return _Arc(p.u1 - p.radius, v - side * p.radius, p.radius, side)
    return _Line(p.u0, v, p.u1, v)
