"""Balloons around a figure: none on another, none on a text, no leader across another.

The rings stand on a convex curve around the figure. Among all ways to share them out the one with
the shortest leaders is taken: were two leaders to cross, changing their rings would make them
shorter, so in the shortest way none do. What is left to look after are leaders that pass too near
a strange ring or dot; such leaders are made dearer and the sharing is done again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import floor, hypot

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LinearRing, Point, Polygon

from stowright.drawings.assignment import cheapest_places
from stowright.drawings.lettering import text_width
from stowright.drawings.scene import Balloon
from stowright.model.geometry import Point2

__all__ = ["Spot", "balloon_faults", "balloon_radius", "place_balloons"]

LETTERING_MM = 2.5
#: Free paper between two rings. [mm]
_GAP = 1.6
#: How far the rings' centres stand off the figure, beyond their radius. [mm]
_STAND_OFF = 4.0
#: A leader keeps this much clear of strange rings and dots. [mm]
_CLEAR = 0.7
#: Between a ring and the edge of the paper. [mm]
_RIM = 0.5
_ROUNDS = 24
#: Places along a curve are looked for in steps of this. [mm]
_STEP = 0.4
_DEARER = 60.0

type Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Spot:
    """A place that a leader may point to.

    Attributes:
        at: On paper. [mm]
        penalty: How much longer another leader may be before this spot is taken. [mm]
    """

    at: Point2
    penalty: float = 0.0


def balloon_radius(texts: Sequence[str]) -> float:
    """Return the radius of rings that hold every one of the texts. [mm]."""
    widest = max((text_width(text, height=LETTERING_MM) for text in texts), default=0.0)
    return max(3.4, widest / 2.0 + 1.2)


def place_balloons(
    spots: Mapping[str, Sequence[Spot]],
    figure: Polygon,
    room: Polygon,
    *,
    taken: Sequence[Polygon] = (),
) -> tuple[Balloon, ...]:
    """Return a balloon for each text.

    Args:
        spots: For each text the places its leader may point to, at least one.
        figure: What the rings stand around, on paper; its convex hull is used.
        room: The paper that the rings may use, a rectangle around the figure. When the curve
            close to the figure is too short for so many rings, they stand along the room's sides.
        taken: Places where no ring may stand (texts, other figures).
    """
    texts = sorted(spots)
    if not texts:
        return ()
    radius = balloon_radius(texts)
    rings = _rings(figure, room, radius, len(texts), taken)
    reaches = [_reaches(spots[text], rings) for text in texts]
    best: list[Balloon] = []
    fewest = float("inf")
    for _ in range(_ROUNDS):
        places = cheapest_places(np.array([reach.min(axis=0) for reach in reaches]))
        chosen = [int(reach[:, p].argmin()) for reach, p in zip(reaches, places, strict=True)]
        balloons = [
            _balloon(text, rings[place], spots[text][spot], radius)
            for text, place, spot in zip(texts, places, chosen, strict=True)
        ]
        faults = balloon_faults(balloons)
        if len(faults) < fewest:
            best, fewest = balloons, len(faults)
        if not faults:
            break
        for one, other, what in faults:
            k, strange = texts.index(one), texts.index(other)
            reaches[k][chosen[k], places[k]] += _DEARER
            if what == "leader on a dot":
                reaches[strange][chosen[strange]] += _DEARER / 6.0
    return tuple(best)


def _balloon(text: str, ring: Floats, spot: Spot, radius: float) -> Balloon:
    centre = (float(ring[0]), float(ring[1]))
    return Balloon(centre=centre, text=text, target=spot.at, radius=radius, height=LETTERING_MM)


def _rings(
    figure: Polygon, room: Polygon, radius: float, count: int, taken: Sequence[Polygon]
) -> Floats:
    """Return places for rings on a convex curve: near the figure if it holds them, else far."""
    blocked = shapely.union_all([t.buffer(radius + _CLEAR) for t in taken])
    inner = room.buffer(-radius - _RIM, join_style="mitre")
    hull = figure.convex_hull
    curves = [hull.buffer(radius + _STAND_OFF + 3.0 * step).exterior for step in range(4)]
    best = np.empty((0, 2))
    for curve in [*curves, inner.exterior]:
        places = _spaced(curve, 2.0 * radius + _GAP)
        free = [
            place
            for place in places
            if inner.buffer(1e-6).covers(Point(place)) and not blocked.intersects(Point(place))
        ]
        if len(free) >= count:
            return np.array(free)
        best = np.array(free).reshape(-1, 2) if len(free) > len(best) else best
    return _beyond(best, room, radius, count)


def _spaced(curve: LinearRing, pitch: float) -> list[Point2]:
    """Return places along a closed curve, each at least ``pitch`` from the one before it."""
    steps = max(int(curve.length / _STEP), 8)
    on_curve = shapely.line_interpolate_point(curve, np.arange(steps) * (curve.length / steps))
    places: list[Point2] = []
    for x, y in shapely.get_coordinates(on_curve).tolist():
        if not places or hypot(x - places[-1][0], y - places[-1][1]) >= pitch:
            places.append((x, y))
    while (
        len(places) > 1
        and hypot(places[-1][0] - places[0][0], places[-1][1] - places[0][1]) < pitch
    ):
        places.pop()
    return places


def _beyond(rings: Floats, room: Polygon, radius: float, count: int) -> Floats:
    """Add places below the room, row by row, when it holds too few."""
    left, bottom, right, _ = room.bounds
    pitch = 2.0 * radius + _GAP
    extra: list[tuple[float, float]] = []
    columns = max(floor((right - left) / pitch), 1)
    row = 0
    while len(rings) + len(extra) < count:
        y = bottom - radius - _GAP - pitch * row
        extra += [(left + pitch * (k + 0.5), y) for k in range(columns)]
        row += 1
    return np.concatenate([rings, np.array(extra).reshape(-1, 2)])


def _reaches(spots: Sequence[Spot], rings: Floats) -> Floats:
    """Return the length of the leader from each spot to each ring, penalties included."""
    at = np.array([s.at for s in spots])
    penalty = np.array([s.penalty for s in spots])
    across = at[:, None] - rings[None]
    return np.asarray(np.hypot(across[..., 0], across[..., 1]) + penalty[:, None])


def balloon_faults(balloons: Sequence[Balloon]) -> list[tuple[str, str, str]]:
    """Return what is wrong between balloons: (text, other text, what).

    Rings that overlap, leaders that cross, leaders too near a strange ring or dot.
    """
    if len(balloons) < 2:
        return []
    rings = np.array([b.centre for b in balloons])
    dots = np.array([b.target or b.centre for b in balloons])
    radius = np.array([b.radius for b in balloons])
    off = rings[:, None] - rings[None]
    gap = np.hypot(off[..., 0], off[..., 1]) - radius[:, None] - radius
    upper = np.triu(np.ones_like(gap, dtype=bool), k=1)
    strange = ~np.eye(len(balloons), dtype=bool)
    checks = (
        ("rings overlap", upper & (gap < 0.5 * _GAP)),
        ("leaders cross", upper & _cross(rings, dots)),
        ("leader on a ring", strange & (_far(rings, dots, rings) < radius + 0.5 * _CLEAR)),
        ("leader on a dot", strange & (_far(rings, dots, dots) < _CLEAR)),
    )
    return [
        (balloons[a].text, balloons[b].text, what)
        for what, wrong in checks
        for a, b in np.argwhere(wrong).tolist()
    ]


def _cross(start: Floats, end: Floats) -> NDArray[np.bool_]:
    """Return which of the lines start → end cross each other, n × n."""
    run = end - start

    def side(points: Floats) -> Floats:
        off = points[None] - start[:, None]
        return np.asarray(run[:, None, 0] * off[..., 1] - run[:, None, 1] * off[..., 0])

    parted = side(start) * side(end) <= 0.0
    return np.asarray(parted & parted.T)


def _far(start: Floats, end: Floats, points: Floats) -> Floats:
    """Return how far each point is from each line start → end: [line, point]. [mm]."""
    run = (end - start)[:, None]
    off = points[None] - start[:, None]
    square = np.maximum((run * run).sum(axis=2), 1e-12)
    share = np.clip((off * run).sum(axis=2) / square, 0.0, 1.0)
    gone = off - share[..., None] * run
    return np.asarray(np.hypot(gone[..., 0], gone[..., 1]))
