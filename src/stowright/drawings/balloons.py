"""Balloons around a figure: none on another, none on a text, no leader across another.

The rings stand on a convex curve around the figure. Among all ways to share them out the one with
the shortest leaders is taken: were two leaders to cross, changing their rings would make them
shorter, so in the shortest way none do. What is left to look after are leaders that pass too near
a strange ring or dot; such leaders are made dearer and the sharing is done again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import floor

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, Point, Polygon

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
    pitch = 2.0 * radius + _GAP
    best = np.empty((0, 2))
    for curve in [*curves, inner.exterior]:
        places = floor(curve.length / pitch)
        points = [curve.interpolate(k / places, normalized=True) for k in range(places)]
        found = np.array(
            [
                (p.x, p.y)
                for p in points
                if inner.buffer(1e-6).covers(p) and not blocked.intersects(p)
            ]
        ).reshape(-1, 2)
        if len(found) >= count:
            return found
        best = found if len(found) > len(best) else best
    return _beyond(best, room, radius, count)


def _beyond(rings: Floats, room: Polygon, radius: float, count: int) -> Floats:
    """Add places below the room, row by row, when it holds too few."""
    left, bottom, right, _ = room.bounds
    pitch = 2.0 * radius + _GAP
    extra: list[tuple[float, float]] = []
    columns = max(floor((right - left) / pitch), 1)
    row = 0
    while len(rings) + len(extra) < count:
        y = bottom - radius - pitch * row
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
    found: list[tuple[str, str, str]] = []
    leaders = [LineString([b.centre, b.target or b.centre]) for b in balloons]
    for (a, one), (b, other) in combinations(list(enumerate(balloons)), 2):
        gap = Point(one.centre).distance(Point(other.centre)) - one.radius - other.radius
        if gap < 0.5 * _GAP:
            found.append((one.text, other.text, "rings overlap"))
        if leaders[a].intersects(leaders[b]):
            found.append((one.text, other.text, "leaders cross"))
        for i, j in ((a, b), (b, a)):
            mine, strange = balloons[i], balloons[j]
            if leaders[i].distance(Point(strange.centre)) < strange.radius + 0.5 * _CLEAR:
                found.append((mine.text, strange.text, "leader on a ring"))
            if strange.target and leaders[i].distance(Point(strange.target)) < _CLEAR:
                found.append((mine.text, strange.text, "leader on a dot"))
    return found
