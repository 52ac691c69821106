"""A part's plane faces and its edges, straight from its outline and pockets.

The thickness is cut into layers at every pocket's bottom. In a layer the part is one plane region;
between two layers lie the faces that look up and down, along each region's contour stand the walls.
Every contour is broken at every corner of any layer, so that the two faces beside an edge share
its ends exactly and an edge between two walls of one plane is known to be none.

Round holes drilled into edges are left out: they are smaller than a line is wide.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import acos, ceil, pi

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from stowright.drawings.solids import Ring, circle_corners, drawn_out, pocket_ring
from stowright.model.geometry import Point2, Point3
from stowright.model.part import Part
from stowright.model.part_area import Pocket, pockets_of, polygon_area_mm2

__all__ = ["Facet", "Shape", "part_shape"]

type Key = tuple[float, float, float]

_DIGITS = 4
_LEAST_AREA = 1e-3
#: A chord stays so near to its arc, as a share of the least opening that is shown.
_FLAT = 0.04
#: A corner nearer than this to a contour breaks it. [mm]
_NEAR = 1e-5


@dataclass(frozen=True, slots=True, kw_only=True)
class Facet:
    """A plane face: its contour, then its holes, each n × 3; the normal points out of the wood."""

    rings: tuple[NDArray[np.float64], ...]
    normal: Point3


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """The faces and edges of a part in its own frame.

    Attributes:
        facets: The faces.
        edges: Ends of the edges, e × 2 × 3. [mm]
        beside: A face of each of the two planes beside each edge, e × 2; -1 where there is none.
    """

    facets: tuple[Facet, ...]
    edges: NDArray[np.float64]
    beside: NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class _Layer:
    low: float
    high: float
    region: BaseGeometry


def part_shape(part: Part, *, least_mm: float = 0.0) -> Shape:
    """Return the faces and edges of a part.

    Args:
        part: The part.
        least_mm: Openings smaller than this in both directions are left out. [mm]
    """
    layers = _layers(part, least_mm)
    corners = _corners(layers) if len(layers) > 1 else np.empty((0, 2))
    builder = _Builder()
    for below, above in pairwise([None, *layers, None]):
        _add_flats(builder, below, above, corners)
    _add_walls(builder, layers, corners)
    return builder.shape()


def _layers(part: Part, least_mm: float) -> list[_Layer]:
    pockets = [p for p in pockets_of(part) if max(p.u1 - p.u0, p.v1 - p.v0) >= least_mm]
    outline = _rounded(part.outline)
    levels = sorted({0.0, part.thickness, *(w for p in pockets for w in (p.w0, p.w1))})
    layers: list[_Layer] = []
    last: frozenset[Pocket] | None = None
    for low, high in pairwise(levels):
        active = frozenset(p for p in pockets if p.w0 < high - _NEAR and p.w1 > low + _NEAR)
        if active == last:
            layers[-1] = _Layer(layers[-1].low, high, layers[-1].region)
            continue
        region: BaseGeometry = outline
        if active:
            ordered = [p for p in pockets if p in active]
            cut = [_rounded(_ring_of(drawn_out(p, part), least_mm)) for p in ordered]
            region = outline.difference(shapely.union_all(cut))
        layers.append(_Layer(low, high, region))
        last = active
    return layers


def _ring_of(pocket: Pocket, least_mm: float) -> Ring:
    """Return a pocket's contour, its arcs as fine as the least that is shown asks for."""
    finest = circle_corners(pocket.radius) // 4
    if least_mm <= 0.0 or pocket.radius <= 0.0:
        return pocket_ring(pocket)
    bow = min(_FLAT * least_mm / pocket.radius, 1.0)
    steps = ceil(pi / (4.0 * acos(1.0 - bow)))
    return pocket_ring(pocket, quarter_steps=max(min(steps, finest), 3))


def _rounded(ring: Sequence[Point2]) -> Polygon:
    """Return a polygon on a fine grid, so that what should meet does."""
    return Polygon([(round(u, _DIGITS), round(v, _DIGITS)) for u, v in ring])


def _polygons(region: BaseGeometry) -> list[Polygon]:
    return [p for p in shapely.get_parts(region) if isinstance(p, Polygon) and p.area > _LEAST_AREA]


def _rings(polygon: Polygon) -> list[Ring]:
    """Return contour and holes, wood always to the left."""
    rings: list[Ring] = []
    for k, ring in enumerate((polygon.exterior, *polygon.interiors)):
        points: Ring = [(x, y) for x, y in ring.coords[:-1]]
        if (polygon_area_mm2(points) > 0.0) != (k == 0):
            points.reverse()
        rings.append(points)
    return rings


def _corners(layers: Sequence[_Layer]) -> NDArray[np.float64]:
    """Return every corner of every layer's contours, each once."""
    coords = np.concatenate([shapely.get_coordinates(layer.region) for layer in layers])
    return np.unique(np.round(coords, _DIGITS), axis=0)


def _noded(ring: Ring, corners: NDArray[np.float64]) -> Ring:
    """Return the ring with every corner that lies on it put in."""
    noded: Ring = []
    for a, b in pairwise([*ring, ring[0]]):
        noded.append(a)
        noded += _between(a, b, corners)
    return noded


def _between(a: Point2, b: Point2, corners: NDArray[np.float64]) -> list[Point2]:
    if not len(corners):
        return []
    start = np.array(a)
    run = np.array(b) - start
    length = float(np.hypot(run[0], run[1]))
    offset = corners - start
    along = offset @ run / length
    across = np.abs(offset[:, 0] * run[1] - offset[:, 1] * run[0]) / length
    on = (across < 10 * _NEAR) & (along > 2 * 10**-_DIGITS) & (along < length - 2 * 10**-_DIGITS)
    found = sorted(zip(along[on].tolist(), corners[on].tolist(), strict=True))
    return [(u, v) for _, (u, v) in found]


class _Builder:
    """Collects faces and remembers which faces stand beside each edge."""

    def __init__(self) -> None:
        self.facets: list[Facet] = []
        self._edges: dict[tuple[Key, Key], list[int]] = {}

    def add(self, rings: Sequence[NDArray[np.float64]], normal: Point3) -> int:
        """Add a face and return its number."""
        self.facets.append(Facet(rings=tuple(rings), normal=normal))
        return len(self.facets) - 1

    def edge(self, facet: int, a: Point3, b: Point3) -> None:
        """Note that a face ends at an edge."""
        one, other = _key(a), _key(b)
        if one != other:
            self._edges.setdefault((min(one, other), max(one, other)), []).append(facet)

    def shape(self) -> Shape:
        """Return what was collected: no edges inside one plane, runs of one edge joined."""
        plane = self._planes()
        by_planes: dict[tuple[int, int], list[tuple[Key, Key]]] = {}
        for ends, facets in self._edges.items():
            pair = _pair([plane[f] for f in facets])
            if pair is not None:
                by_planes.setdefault(pair, []).append(ends)
        edges: list[tuple[Key, Key]] = []
        beside: list[tuple[int, int]] = []
        for pair in sorted(by_planes):
            joined = _joined(by_planes[pair])
            edges += joined
            beside += [pair] * len(joined)
        return Shape(
            facets=tuple(self.facets),
            edges=np.array(edges, dtype=np.float64).reshape(-1, 2, 3),
            beside=np.array(beside, dtype=np.int64).reshape(-1, 2),
        )

    def _planes(self) -> list[int]:
        """Return, for each face, the first face of the same plane and sense."""
        first: dict[tuple[float, ...], int] = {}
        return [
            first.setdefault(
                (*(round(c, 6) for c in f.normal), round(float(f.rings[0][0] @ f.normal), 3)), k
            )
            for k, f in enumerate(self.facets)
        ]


def _key(point: Point3) -> Key:
    x, y, z = point
    return (round(x, _DIGITS) + 0.0, round(y, _DIGITS) + 0.0, round(z, _DIGITS) + 0.0)


def _pair(facets: Sequence[int]) -> tuple[int, int] | None:
    """Return the two faces beside an edge, lowest first; None inside one plane."""
    different = sorted(set(facets))
    if len(different) == 1:
        return None if len(facets) > 1 else (-1, different[0])
    return (different[0], different[1])


def _joined(pieces: Iterable[tuple[Key, Key]]) -> list[tuple[Key, Key]]:
    """Join pieces that follow one another on one line."""
    pieces = list(pieces)
    if len(pieces) == 1:
        return pieces
    lines: dict[tuple[Key, Key], list[tuple[float, Key, Key]]] = {}
    for a, b in sorted(pieces):
        start, end = np.array(a), np.array(b)
        along = (end - start) / np.linalg.norm(end - start)
        foot = start - (start @ along) * along
        line = (_tidy(along), _tidy(foot))
        lines.setdefault(line, []).append((float(start @ along), a, b))
    joined: list[tuple[Key, Key]] = []
    for runs in lines.values():
        runs.sort()
        _, a, b = runs[0]
        for _, c, d in runs[1:]:
            if c == b:
                b = d
            else:
                joined.append((a, b))
                a, b = c, d
        joined.append((a, b))
    return joined


def _tidy(vector: NDArray[np.float64]) -> Key:
    x, y, z = (round(float(c), 3) + 0.0 for c in vector)
    return (x, y, z)


def _add_flats(
    builder: _Builder, below: _Layer | None, above: _Layer | None, corners: NDArray[np.float64]
) -> None:
    """Add the faces between two layers: up where wood ends, down where it begins."""
    if below is not None:
        bare = below.region if above is None else below.region.difference(above.region)
        _add_flat(builder, bare, below.high, 1.0, corners)
    if above is not None:
        bare = above.region if below is None else above.region.difference(below.region)
        _add_flat(builder, bare, above.low, -1.0, corners)


def _add_flat(
    builder: _Builder,
    region: BaseGeometry,
    level: float,
    sense: float,
    corners: NDArray[np.float64],
) -> None:
    for polygon in _polygons(region):
        rings = _rings(polygon)
        facet = builder.add(
            [np.array([(u, v, level) for u, v in ring]) for ring in rings], (0.0, 0.0, sense)
        )
        for ring in rings:
            noded = _noded(ring, corners)
            for a, b in pairwise([*noded, noded[0]]):
                builder.edge(facet, (*a, level), (*b, level))


def _add_walls(builder: _Builder, layers: Sequence[_Layer], corners: NDArray[np.float64]) -> None:
    """Add the walls; one that goes on unbroken through the next layer is one face."""
    open_walls: dict[tuple[Point2, Point2], int] = {}
    for layer in layers:
        walls: dict[tuple[Point2, Point2], int] = {}
        for polygon in _polygons(layer.region):
            for ring in _rings(polygon):
                for a, b in pairwise([*ring, ring[0]]):
                    wall = _wall(builder, layer, a, b, open_walls.get(_ends(a, b)))
                    walls[_ends(a, b)] = wall
                    _wall_edges(builder, wall, layer, _noded_run(a, b, corners))
        open_walls = walls


def _ends(a: Point2, b: Point2) -> tuple[Point2, Point2]:
    return (round(a[0], _DIGITS), round(a[1], _DIGITS)), (
        round(b[0], _DIGITS),
        round(b[1], _DIGITS),
    )


def _wall(builder: _Builder, layer: _Layer, a: Point2, b: Point2, known: int | None) -> int:
    low = layer.low if known is None else float(builder.facets[known].rings[0][0, 2])
    ring = np.array([(*a, low), (*b, low), (*b, layer.high), (*a, layer.high)])
    length = float(np.hypot(b[0] - a[0], b[1] - a[1]))
    normal = ((b[1] - a[1]) / length, (a[0] - b[0]) / length, 0.0)
    if known is None:
        return builder.add([ring], normal)
    builder.facets[known] = Facet(rings=(ring,), normal=normal)
    return known


def _noded_run(a: Point2, b: Point2, corners: NDArray[np.float64]) -> list[Point2]:
    return [a, *_between(a, b, corners), b]


def _wall_edges(builder: _Builder, wall: int, layer: _Layer, run: list[Point2]) -> None:
    for level in (layer.low, layer.high):
        for a, b in pairwise(run):
            builder.edge(wall, (*a, level), (*b, level))
    for end in (run[0], run[-1]):
        builder.edge(wall, (*end, layer.low), (*end, layer.high))
