"""Which parts of which edges are seen: each edge against the faces nearer than it.

On the screen both an edge and a plane are linear, so the part of an edge that lies behind a face's
plane is one run of it; that run is cut with the face as it is seen, and the runs that all faces
hide are joined along the edge. No order of faces is needed, so faces that overlap each other in
turn do no harm. Faces and edges that one large face hides whole are dropped first.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import STRtree

from stowright.drawings.convex import clipped_runs, convex_rings
from stowright.drawings.sight import Sight

__all__ = ["Seen", "see"]

#: Depth under which an edge counts as lying on a face, not behind it. [mm]
DEPTH_EPS = 0.05
#: Faces tried first as covers of everything behind them.
_COVERS = 100

type Floats = NDArray[np.float64]
type Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What is seen of a sight.

    Attributes:
        lines: Visible pieces of edges, n × 2 × 2, screen coordinates. [mm]
        edge: The edge each is a piece of.
        hidden: Hidden pieces, when asked for.
        hidden_edge: The edge each of those is a piece of.
        faces: Faces that look towards the eye and are not wholly hidden by one other face.
    """

    lines: Floats
    edge: Ints
    hidden: Floats
    hidden_edge: Ints
    faces: Ints


def see(sight: Sight, *, least_mm: float = 0.3, with_hidden: bool = False) -> Seen:
    """Return what is seen.

    Args:
        sight: Faces and edges in screen coordinates.
        least_mm: Pieces of longer edges that are shorter than this are dropped. [mm]
        with_hidden: Also return what is hidden, to be drawn dashed.
    """
    front = np.flatnonzero(sight.front)
    polygons = sight.polygons(front)
    kept = _uncovered_faces(sight, front, polygons)
    front, polygons = front[kept], polygons[kept]
    number, ends = _edge_ends(sight)
    lines = np.asarray(shapely.linestrings(ends[:, :, :2]), dtype=object)
    covered = _covered_edges(sight, front, polygons, ends, lines)
    open_ = np.flatnonzero(~covered)
    low, high, of = _hidden_runs(sight, front, polygons, ends[open_], lines[open_])
    length = np.hypot(*(ends[:, 1, :2] - ends[:, 0, :2]).T)
    seen, seen_of = _seen_runs((low, high, of), length[open_], least_mm)
    hid, hid_of = np.empty((0, 2)), np.empty(0, dtype=np.int64)
    if with_hidden:
        whole = np.flatnonzero(covered)
        runs = (
            np.concatenate([low, np.zeros(len(whole))]),
            np.concatenate([high, np.ones(len(whole))]),
            np.concatenate([open_[of], whole]),
        )
        hid, hid_of = _hidden_joined(runs, length, least_mm)
    return Seen(
        lines=_cut(ends, seen, open_[seen_of]),
        edge=number[open_[seen_of]],
        hidden=_cut(ends, hid, hid_of),
        hidden_edge=number[hid_of],
        faces=front,
    )


def _edge_ends(sight: Sight) -> tuple[Ints, Floats]:
    """Return numbers and ends of the edges that are not seen end-on."""
    number = sight.drawn
    ends = sight.edges[number]
    run = ends[:, 1, :2] - ends[:, 0, :2]
    has_length = np.hypot(run[:, 0], run[:, 1]) > 1e-6
    return number[has_length], ends[has_length]


def _height(sight: Sight, faces: Ints, xy: Floats) -> Floats:
    """Return how near the planes of faces are at screen points, pair by pair."""
    n = sight.normals[faces]
    return np.asarray((sight.levels[faces] - n[:, 0] * xy[:, 0] - n[:, 1] * xy[:, 1]) / n[:, 2])


def _largest(polygons: NDArray[np.object_]) -> Ints:
    return np.argsort(-shapely.area(polygons), kind="stable")[:_COVERS]


def _uncovered_faces(sight: Sight, front: Ints, polygons: NDArray[np.object_]) -> Ints:
    """Return which faces are not wholly behind one of the largest; what they hide, it hides."""
    covers = _largest(polygons)
    shapely.prepare(polygons[covers])
    face, cover = STRtree(polygons[covers]).query(polygons)
    cover = covers[cover]
    different = face != cover
    face, cover = face[different], cover[different]
    gone = np.zeros(len(front), dtype=bool)
    if len(face):
        behind = _least_drop(sight, front, face, cover) > DEPTH_EPS
        face, cover = face[behind], cover[behind]
        gone[face[shapely.covers(polygons[cover], polygons[face])]] = True
    return np.flatnonzero(~gone)


def _least_drop(sight: Sight, front: Ints, face: Ints, cover: Ints) -> Floats:
    """Return, pair by pair, how far the nearest corner of a face lies behind a cover's plane."""
    contours = [sight.rings[f][0] for f in front]
    counts = np.array([len(ring) for ring in contours])
    points = np.concatenate(contours)
    starts = np.concatenate([[0], np.cumsum(counts)])
    first = np.cumsum(counts[face]) - counts[face]
    pair = np.repeat(np.arange(len(face)), counts[face])
    corner = points[starts[face][pair] + np.arange(len(pair)) - first[pair]]
    drop = _height(sight, front[cover][pair], corner[:, :2]) - corner[:, 2]
    return np.asarray(np.minimum.reduceat(drop, first))


def _covered_edges(
    sight: Sight,
    front: Ints,
    polygons: NDArray[np.object_],
    ends: Floats,
    lines: NDArray[np.object_],
) -> NDArray[np.bool_]:
    """Return which edges lie wholly behind one of the largest faces."""
    covered = np.zeros(len(lines), dtype=bool)
    if not len(front) or not len(lines):
        return covered
    largest = _largest(polygons)
    shapely.prepare(polygons[largest])
    edge, cover = STRtree(polygons[largest]).query(lines)
    cover = largest[cover]
    behind = np.ones(len(edge), dtype=bool)
    for k in (0, 1):
        end = ends[edge, k]
        behind &= _height(sight, front[cover], end[:, :2]) - end[:, 2] > DEPTH_EPS
    edge, cover = edge[behind], cover[behind]
    covered[edge[shapely.covers(polygons[cover], lines[edge])]] = True
    return covered


def _hidden_runs(
    sight: Sight,
    front: Ints,
    polygons: NDArray[np.object_],
    ends: Floats,
    lines: NDArray[np.object_],
) -> tuple[Floats, Floats, Ints]:
    """Return the hidden runs of edges as fractions (low, high) and the edge of each."""
    none = np.empty(0), np.empty(0), np.empty(0, dtype=np.int64)
    if not len(front) or not len(lines):
        return none
    edge, face = STRtree(polygons).query(lines)
    a, b = ends[edge, 0], ends[edge, 1]
    above_a = _height(sight, front[face], a[:, :2]) - a[:, 2] - DEPTH_EPS
    above_b = _height(sight, front[face], b[:, :2]) - b[:, 2] - DEPTH_EPS
    behind = (above_a > 0.0) | (above_b > 0.0)
    edge, face, above_a, above_b = edge[behind], face[behind], above_a[behind], above_b[behind]
    if not len(edge):
        return none
    fall = above_a - above_b
    cross = above_a / np.where(fall == 0.0, 1.0, fall)
    low = np.where(above_a > 0.0, 0.0, cross)
    high = np.where(above_b > 0.0, 1.0, cross)
    start, run = ends[edge, 0, :2], ends[edge, 1, :2] - ends[edge, 0, :2]
    first, run = start + run * low[:, None], run * (high - low)[:, None]
    rings, convex = convex_rings([sight.rings[f] for f in front])
    plain = np.flatnonzero(convex[face])
    t0, t1 = clipped_runs(first[plain], run[plain], rings[face[plain]])
    inside = t1 > t0
    plain, t0, t1 = plain[inside], t0[inside], t1[inside]
    other = np.flatnonzero(~convex[face])
    s0, s1, source = _general_runs(first[other], run[other], polygons[face[other]])
    pair = np.concatenate([plain, other[source]])
    span = (high - low)[pair]
    return (
        low[pair] + np.concatenate([t0, s0]) * span,
        low[pair] + np.concatenate([t1, s1]) * span,
        edge[pair],
    )


def _general_runs(
    start: Floats, run: Floats, polygons: NDArray[np.object_]
) -> tuple[Floats, Floats, Ints]:
    """Return the parts of lines inside polygons of any shape, and the line of each."""
    none = np.empty(0), np.empty(0), np.empty(0, dtype=np.int64)
    if not len(start):
        return none
    lines = np.asarray(shapely.linestrings(np.stack([start, start + run], axis=1)), dtype=object)
    shapely.prepare(polygons)
    within = shapely.contains_properly(polygons, lines)
    whole = np.flatnonzero(within)
    asked = np.flatnonzero(~within & shapely.intersects(polygons, lines))
    low, high, source = _crossing_runs(start[asked], run[asked], lines[asked], polygons[asked])
    return (
        np.concatenate([np.zeros(len(whole)), low]),
        np.concatenate([np.ones(len(whole)), high]),
        np.concatenate([whole, asked[source]]),
    )


def _crossing_runs(
    start: Floats, run: Floats, lines: NDArray[np.object_], polygons: NDArray[np.object_]
) -> tuple[Floats, Floats, Ints]:
    """Return the parts of lines inside polygons whose rims they meet, and the line of each."""
    none = np.empty(0), np.empty(0), np.empty(0, dtype=np.int64)
    parts, source = shapely.get_parts(shapely.intersection(lines, polygons), return_index=True)
    # an empty result is a line string too: it must not get into the arithmetic
    solid = (shapely.get_type_id(parts) == 1) & ~shapely.is_empty(parts)
    parts, source = parts[solid], source[solid]
    coords, part = shapely.get_coordinates(parts, return_index=True)
    if not len(coords):
        return none
    offset, along = coords - start[source][part], run[source][part]
    at = np.einsum("ij,ij->i", offset, along) / np.einsum("ij,ij->i", along, along)
    first = np.flatnonzero(np.diff(part, prepend=-1))
    return np.minimum.reduceat(at, first), np.maximum.reduceat(at, first), source


def _gaps(length: Floats, least_mm: float) -> Floats:
    """Return which share of each edge is dropped as too short.

    A short edge (of a round hole) is drawn when it is mostly seen.
    """
    return np.minimum(least_mm / length, 0.6)


def _seen_runs(
    runs: tuple[Floats, Floats, Ints], length: Floats, least_mm: float
) -> tuple[Floats, Ints]:
    """Return what hidden runs leave of each edge, in order along it, and the edge of each."""
    order = np.lexsort((runs[0], runs[2]))
    low, high, edge = (row[order] for row in runs)
    # runs of later edges count from further on, so that no edge's reach runs into the next one's
    reach = np.maximum.accumulate(high + 2.0 * edge) - 2.0 * edge
    is_first = np.diff(edge, prepend=-1) > 0
    is_last = np.diff(edge, append=len(length)) > 0
    before = np.where(is_first, 0.0, np.concatenate([np.zeros(1), reach])[: len(reach)])
    bare = np.setdiff1d(np.arange(len(length)), edge)
    start = np.concatenate([before, reach[is_last], np.zeros(len(bare))])
    end = np.concatenate([low, np.ones(int(is_last.sum()) + len(bare))])
    of = np.concatenate([edge, edge[is_last], bare])
    kept = np.flatnonzero(end - start >= _gaps(length, least_mm)[of])
    kept = kept[np.lexsort((start[kept], of[kept]))]
    return np.stack([start[kept], end[kept]], axis=1), of[kept].astype(np.int64)


def _hidden_joined(
    runs: tuple[Floats, Floats, Ints], length: Floats, least_mm: float
) -> tuple[Floats, Ints]:
    """Return the hidden runs of each edge joined, with their edges."""
    low, high, edge = runs
    by_edge: list[list[tuple[float, float]]] = [[] for _ in length]
    for k in np.lexsort((low, edge)).tolist():
        by_edge[edge[k]].append((float(low[k]), float(high[k])))
    gaps = _gaps(length, least_mm).tolist()
    hidden: list[tuple[float, float]] = []
    of: list[int] = []
    for e, pieces in enumerate(by_edge):
        dark = _one_edge(pieces, gaps[e])
        hidden += dark
        of += [e] * len(dark)
    return _pairs(hidden), np.array(of, dtype=np.int64)


def _one_edge(pieces: list[tuple[float, float]], gap: float) -> list[tuple[float, float]]:
    """Return the hidden runs of one edge, those shorter than the gap left out."""
    dark: list[tuple[float, float]] = []
    at = 0.0
    for low, high in [*pieces, (1.0, 1.0)]:
        if low - at >= gap:
            dark.append((low, high))
        elif dark:
            dark[-1] = (dark[-1][0], max(dark[-1][1], high))
        else:
            dark.append((0.0, high))
        at = max(at, high)
    return [(low, min(high, 1.0)) for low, high in dark if min(high, 1.0) - low >= gap]


def _pairs(runs: list[tuple[float, float]]) -> Floats:
    return np.array(runs, dtype=np.float64).reshape(-1, 2)


def _cut(ends: Floats, runs: Floats, of: Ints) -> Floats:
    """Return the pieces of edges as screen lines."""
    start, run = ends[of, 0, :2], ends[of, 1, :2] - ends[of, 0, :2]
    return np.stack([start + run * runs[:, :1], start + run * runs[:, 1:]], axis=1)
