"""In which order faces are painted so that nearer ones cover what lies behind them.

For two faces that overlap as they are seen, one lies wholly in front of the other's plane, or the
planes are compared where they overlap. The order that follows is a sorting of a graph; where faces
overlap each other in a ring no order exists, and one face after another is cut back to what the
others leave of it until there is one.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon, STRtree
from shapely.geometry.base import BaseGeometry

from stowright.drawings.convex import convex_rings, rings_overlap
from stowright.drawings.sight import Sight

__all__ = ["Patch", "paint_order"]

#: Distance from a plane under which a corner counts as lying on it. [mm]
_ON = 0.01
#: Overlaps no deeper than this are faces side by side. [mm]
_LEAST_DEPTH = 0.05
#: Directions that agree to so many places are one: a metre off, they part by a micrometre.
_SAME_WAY = 9
#: Faces nearer to each other than this are not told apart. [mm]
_APART = 0.1

type Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Patch:
    """A face to be painted, whole or cut down. Screen coordinates. [mm]."""

    face: int
    shape: Polygon


def paint_order(sight: Sight, faces: Ints) -> list[Patch]:
    """Return faces from the farthest to the nearest.

    Args:
        sight: Faces in screen coordinates.
        faces: Numbers of the faces to paint; all look towards the eye.
    """
    polygons = sight.polygons(faces)
    nearer, farther = _pairs(sight, faces, polygons)
    over: list[list[int]] = [[] for _ in faces]
    under: list[list[int]] = [[] for _ in faces]
    waits = [0] * len(faces)
    for a, b in zip(nearer.tolist(), farther.tolist(), strict=True):
        over[b].append(a)
        under[a].append(b)
        waits[a] += 1
    depth = [float(sight.rings[f][0][:, 2].mean()) for f in faces]
    ready = [(depth[k], k) for k in range(len(faces)) if waits[k] == 0]
    heapq.heapify(ready)
    left = set(range(len(faces)))
    patches: list[Patch] = []
    while left:
        if ready:
            lowest = heapq.heappop(ready)[1]
            patches += _patches(int(faces[lowest]), polygons[lowest])
            left.remove(lowest)
            freed = [a for a in over[lowest] if a in left]
        else:
            lowest, freed = _weakest(_ring(left, over, under, depth), over)
            for a in freed:
                polygons[lowest] = _cut_back(sight, faces, polygons, lowest, a)
                under[a].remove(lowest)
            over[lowest] = [a for a in over[lowest] if a not in freed]
        for a in freed:
            waits[a] -= 1
            if waits[a] == 0:
                heapq.heappush(ready, (depth[a], a))
    return patches


def _weakest(ring: list[int], over: list[list[int]]) -> tuple[int, list[int]]:
    """Return the face of a ring that the fewest others of it cover, and those others."""
    members = set(ring)
    covers = {k: [a for a in over[k] if a in members] for k in ring}
    weakest = min(ring, key=lambda k: (len(covers[k]), k))
    return weakest, covers[weakest]


def _pairs(sight: Sight, faces: Ints, polygons: NDArray[np.object_]) -> tuple[Ints, Ints]:
    """Return the pairs (nearer, farther) of faces that overlap as they are seen.

    Where each of two faces is nearer in some place (one stands in a corner cut out of the other),
    the first is cut back in ``polygons`` to where it is nearer.
    """
    if not len(faces):
        return np.empty(0, dtype=np.int64), np.empty(0, dtype=np.int64)
    a, b = STRtree(polygons).query(polygons)
    a, b = a[a < b], b[a < b]
    reach = _Reach(sight, faces)
    first, second = reach.may_cover(a, b), reach.may_cover(b, a)
    asked = ~(first & second)
    a, b, first, second = a[asked], b[asked], first[asked], second[asked]
    real = _overlap(sight, faces, polygons, a, b)
    a, b, first, second = a[real], b[real], first[real], second[real]
    both_cross = np.flatnonzero(~first & ~second)
    if len(both_cross):
        one, other = a[both_cross], b[both_cross]
        first[both_cross], mutual = _compared(sight, faces, polygons, one, other)
        for k in np.flatnonzero(mutual):
            polygons[one[k]] = _cut_back(sight, faces, polygons, int(one[k]), int(other[k]))
    return np.where(first, a, b), np.where(first, b, a)


def _compared(
    sight: Sight, faces: Ints, polygons: NDArray[np.object_], a: Ints, b: Ints
) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Return, pair by pair, whether a is nearer somewhere, and whether b is elsewhere."""
    shared = np.asarray(shapely.intersection(polygons[a], polygons[b]), dtype=object)
    spots, pair = shapely.get_coordinates(shared, return_index=True)
    nearer = _height(sight, faces[a[pair]], spots) - _height(sight, faces[b[pair]], spots)
    first = np.flatnonzero(np.diff(pair, prepend=-1))
    most = np.maximum.reduceat(nearer, first)
    least = np.minimum.reduceat(nearer, first)
    mutual = (most > _APART) & (least < -_APART)
    return mutual | (most + least > 0.0), mutual


def _overlap(
    sight: Sight, faces: Ints, polygons: NDArray[np.object_], a: Ints, b: Ints
) -> NDArray[np.bool_]:
    """Return which pairs share more than a sliver as they are seen."""
    rings, convex = convex_rings([sight.rings[f] for f in faces])
    plain = convex[a] & convex[b]
    real = np.zeros(len(a), dtype=bool)
    real[plain] = rings_overlap(rings[a[plain]], rings[b[plain]], least=_LEAST_DEPTH)
    real[~plain] = _share(polygons, a[~plain], b[~plain])
    return real


def _share(polygons: NDArray[np.object_], one: Ints, other: Ints) -> NDArray[np.bool_]:
    """Return which pairs of shapes overlap by more than the least depth.

    Both are drawn in by half of it; what then still meets does.
    """
    used = np.unique(np.concatenate([one, other]))
    drawn_in = np.empty(len(polygons), dtype=object)
    drawn_in[used] = shapely.buffer(polygons[used], -_LEAST_DEPTH / 2.0, join_style="mitre")
    shapely.prepare(drawn_in[used])
    return np.asarray(shapely.intersects(drawn_in[one], drawn_in[other]), dtype=np.bool_)


class _Reach:
    """Knows on which side of each other's planes faces lie.

    Panels lie square to each other, so that faces have few different directions: how far every
    face reaches along each of them is worked out once.
    """

    def __init__(self, sight: Sight, faces: Ints) -> None:
        self._levels = sight.levels[faces]
        contours = [sight.rings[f][0] for f in faces]
        firsts = np.cumsum([0, *(len(ring) for ring in contours[:-1])])
        corners = np.concatenate(contours)
        tidy = np.round(sight.normals[faces], _SAME_WAY)
        _, self._way = np.unique(tidy, axis=0, return_inverse=True)
        self._way = self._way.reshape(-1)
        first = np.unique(self._way, return_index=True)[1]
        along = corners @ sight.normals[faces][first].T
        #: Least and greatest reach of each face along each direction, f × directions.
        self._least = np.minimum.reduceat(along, firsts, axis=0)
        self._most = np.maximum.reduceat(along, firsts, axis=0)

    def may_cover(self, a: Ints, b: Ints) -> NDArray[np.bool_]:
        """Return, pair by pair, whether a may be painted after b.

        It may when all of a is on this side of b's plane, or all of b beyond a's plane.
        """
        lowest = self._least[a, self._way[b]] - self._levels[b]
        highest = self._most[b, self._way[a]] - self._levels[a]
        return np.asarray((lowest >= -_ON) | (highest <= _ON))


def _height(sight: Sight, faces: Ints, xy: NDArray[np.float64]) -> NDArray[np.float64]:
    n = sight.normals[faces]
    return np.asarray((sight.levels[faces] - (n[:, :2] * xy).sum(axis=1)) / n[:, 2])


def _ring(
    left: set[int], over: list[list[int]], under: list[list[int]], depth: list[float]
) -> list[int]:
    """Return faces that wait for each other in a ring and for no other face.

    The farthest face is asked first: it waits for few others.
    """
    face = min(left, key=lambda k: (depth[k], k))
    while True:
        waited_for = _reached(face, under, left)
        beyond = waited_for - _reached(face, over, left)
        if not beyond:
            return sorted(waited_for)
        face = min(beyond, key=lambda k: (depth[k], k))


def _reached(start: int, links: list[list[int]], left: set[int]) -> set[int]:
    found, todo = {start}, [start]
    while todo:
        for k in links[todo.pop()]:
            if k in left and k not in found:
                found.add(k)
                todo.append(k)
    return found


def _cut_back(
    sight: Sight, faces: Ints, polygons: NDArray[np.object_], one: int, other: int
) -> BaseGeometry:
    """Return a face without what another face hides of it."""
    shared = _areas(polygons[one].intersection(polygons[other]))
    hidden = _nearer_part(sight, shared, int(faces[other]), int(faces[one]))
    return _areas(polygons[one].difference(hidden))


def _patches(face: int, shape: BaseGeometry) -> list[Patch]:
    return [
        Patch(face, piece)
        for piece in shapely.get_parts(shape)
        if isinstance(piece, Polygon) and piece.area > 0.0
    ]


def _nearer_part(sight: Sight, shared: BaseGeometry, near: int, far: int) -> BaseGeometry:
    """Return the part of a shape where face ``near`` is nearer than face ``far``."""
    n, m = sight.normals[near], sight.normals[far]
    # how much nearer: c + gx x + gy y
    gx, gy = (m[:2] / m[2] - n[:2] / n[2]).tolist()
    c = float(sight.levels[near] / n[2] - sight.levels[far] / m[2])
    x0, y0, x1, y1 = shared.bounds if not shared.is_empty else (0.0, 0.0, 0.0, 0.0)
    box = [(x0 - 1.0, y0 - 1.0), (x1 + 1.0, y0 - 1.0), (x1 + 1.0, y1 + 1.0), (x0 - 1.0, y1 + 1.0)]
    half = []
    for (ax, ay), (bx, by) in zip(box, [*box[1:], box[0]], strict=True):
        a, b = c + gx * ax + gy * ay, c + gx * bx + gy * by
        if a > 0.0:
            half.append((ax, ay))
        if (a > 0.0) != (b > 0.0):
            t = a / (a - b)
            half.append((ax + t * (bx - ax), ay + t * (by - ay)))
    return _areas(shared.intersection(Polygon(half))) if len(half) >= 3 else Polygon()


def _areas(shape: BaseGeometry) -> BaseGeometry:
    """Return a shape without the lines and points that touching edges leave in it."""
    parts = shapely.get_parts(shape)
    return MultiPolygon([p for p in parts if isinstance(p, Polygon) and not p.is_empty])
