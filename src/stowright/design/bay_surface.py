"""A measured surface of the bay: readings at stations, ruled between them. Millimetres.

A wall, the headboard or the inner face of an arch is known at stations u (x along a wall, y across
the headboard) on levels z. On a level the surface is linear in u between stations; between levels
it is linear in z. A level with one station takes the shape of the level below. Outside the stations
the nearest value holds.

Values are distances outwards from the bay's origin planes, so that a *least* value is what a body
inside has to respect. Every value carries how far its reading may be out; ``net`` is the value less
that error. Since everything is linear between breakpoints, the least value over a range lies at a
breakpoint or at an end of the range: nothing is sampled.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt

from stowright.model.geometry import Span

__all__ = [
    "FAR",
    "Curve",
    "Cuts",
    "Level",
    "Station",
    "Surface",
    "cuts_at",
    "fillet_intrusion",
    "least_net",
    "least_on",
    "raw_on",
    "readings_at",
    "surface_from",
    "value_at",
]

#: Two stations closer than this are the same place. [mm].
SAME = 1.0e-9
FAR = float("inf")


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """One reading on a surface.

    Attributes:
        u: Where along the surface (x or y).
        z: At which height.
        value: Distance that was read.
        error: How far it may be out.
        field: Its name in the job: ``bay.widths[2].left``.
    """

    u: float
    z: float
    value: float
    error: float
    field: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """A surface at one height, resolved onto the surface's common grid.

    Attributes:
        z: Height.
        stations: The readings of this level, by u (for naming).
        values, errors: On the surface's grid.
    """

    z: float
    stations: tuple[Station, ...]
    values: tuple[float, ...]
    errors: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """A surface: one grid of stations u, and its levels from the lowest up."""

    grid: tuple[float, ...]
    levels: tuple[Level, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """A surface cut at one height: values and net values on its grid."""

    z: float
    grid: tuple[float, ...]
    values: tuple[float, ...]
    net: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cuts:
    """The cuts of a surface at which its least values over a range of heights can lie.

    Attributes:
        grid: The surface's grid.
        curves: The cuts, lowest first.
        least: Least net value of all cuts at each station of the grid.
    """

    grid: tuple[float, ...]
    curves: tuple[Curve, ...]
    least: tuple[float, ...]


def fillet_intrusion(*, radius: float, z: float) -> float:
    """Return how far a fillet between floor and wall stands in at height z. [mm].

    A quarter circle of radius r touching floor and wall: r - sqrt(r^2 - (r - z)^2) for z < r. (Own
    derivation: the circle's centre lies r above the floor and r in from the wall.)

    Args:
        radius: Fillet radius. [mm]
        z: Height above the floor; below zero counts as zero. [mm]
    """
    if z >= radius:
        return 0.0
    below_centre = radius - max(z, 0.0)
    return radius - sqrt(max(radius * radius - below_centre * below_centre, 0.0))


def _linear(grid: Sequence[float], values: Sequence[float], u: float) -> float:
    """Return the piecewise linear value at u; the nearest value outside the grid."""
    if u <= grid[0]:
        return values[0]
    if u >= grid[-1]:
        return values[-1]
    right = bisect_right(grid, u)
    left = right - 1
    share = (u - grid[left]) / (grid[right] - grid[left])
    return values[left] + share * (values[right] - values[left])


def _by_level(stations: Iterable[Station]) -> list[list[Station]]:
    """Group stations by height, lowest first, each level by u."""
    levels: dict[float, list[Station]] = {}
    for station in stations:
        levels.setdefault(station.z, []).append(station)
    return [sorted(levels[z], key=lambda s: s.u) for z in sorted(levels)]


def surface_from(stations: Iterable[Station]) -> Surface:
    """Build a surface from its readings (at least one).

    A level with one station takes the shape of the level below, moved so that it meets the reading;
    two readings at one place on a level count as the lesser.
    """
    grouped = [_least_of_doubles(level) for level in _by_level(stations)]
    grid = tuple(sorted({station.u for level in grouped for station in level}))
    levels: list[Level] = []
    for group in grouped:
        below = levels[-1] if levels else None
        levels.append(_resolved(group, grid, below))
    return Surface(grid=grid, levels=tuple(levels))


def _least_of_doubles(level: list[Station]) -> list[Station]:
    """Keep the lesser of two readings at the same place."""
    kept: list[Station] = []
    for station in level:
        if kept and station.u - kept[-1].u <= SAME:
            kept[-1] = min(kept[-1], station, key=lambda s: s.value)
        else:
            kept.append(station)
    return kept


def _resolved(group: list[Station], grid: tuple[float, ...], below: Level | None) -> Level:
    """Return one level's values and errors on the grid."""
    if len(group) == 1:
        only = group[0]
        errors = (only.error,) * len(grid)
        if below is None:
            values = (only.value,) * len(grid)
        else:
            rise = only.value - _linear(grid, below.values, only.u)
            values = tuple(value + rise for value in below.values)
    else:
        us = [station.u for station in group]
        values = tuple(_linear(us, [s.value for s in group], u) for u in grid)
        errors = tuple(_linear(us, [s.error for s in group], u) for u in grid)
    return Level(z=group[0].z, stations=tuple(group), values=values, errors=errors)


def _between_levels(surface: Surface, z: float) -> tuple[Level, Level, float]:
    """Return the levels about z and the share of the upper one."""
    levels = surface.levels
    if z <= levels[0].z:
        return levels[0], levels[0], 0.0
    if z >= levels[-1].z:
        return levels[-1], levels[-1], 0.0
    upper = next(k for k, level in enumerate(levels) if level.z >= z)
    low, high = levels[upper - 1], levels[upper]
    return low, high, (z - low.z) / (high.z - low.z)


def _cut(surface: Surface, z: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return values and errors on the grid at height z."""
    low, high, share = _between_levels(surface, z)
    if share == 0.0:
        return low.values, low.errors
    values = tuple(a + share * (b - a) for a, b in zip(low.values, high.values, strict=True))
    errors = tuple(a + share * (b - a) for a, b in zip(low.errors, high.errors, strict=True))
    return values, errors


def value_at(surface: Surface, *, u: float, z: float) -> float:
    """Return the surface's distance at (u, z), before any error. [mm]."""
    low, high, share = _between_levels(surface, z)
    value = _linear(surface.grid, low.values, u)
    if share == 0.0:
        return value
    return value + share * (_linear(surface.grid, high.values, u) - value)


def cuts_at(surface: Surface, *, z: Span, fillet: float = 0.0) -> Cuts:
    """Return the cuts of a surface at which its least values over a range of heights can lie.

    Those are the ends of the range and the levels in it: between them the surface is linear and
    the fillet's intrusion convex (and smooth at the fillet's top), so no lesser value hides there.

    Args:
        surface: The surface.
        z: Range of heights. [mm]
        fillet: Radius of the fillet at the floor; its intrusion is taken off ``net``. [mm]
    """
    levels = surface.levels
    heights = {z.low}
    heights.update(level.z for level in levels if z.low < level.z < z.high)
    if levels[0].z < z.high <= levels[-1].z:
        heights.add(z.high)  # above the last level nothing changes any more
    curves = tuple(_curve(surface, height, fillet) for height in sorted(heights))
    least = tuple(min(nets) for nets in zip(*(curve.net for curve in curves), strict=True))
    return Cuts(grid=surface.grid, curves=curves, least=least)


def _curve(surface: Surface, z: float, fillet: float) -> Curve:
    """Return a surface cut at one height."""
    values, errors = _cut(surface, z)
    if z < fillet:
        stands_in = fillet_intrusion(radius=fillet, z=z)
        net = tuple(a - b - stands_in for a, b in zip(values, errors, strict=True))
    else:
        net = tuple(a - b for a, b in zip(values, errors, strict=True))
    return Curve(z=z, grid=surface.grid, values=values, net=net)


def least_on(curve: Curve, *, low: float, high: float) -> tuple[float, float]:
    """Return (least net value, where along u) of one cut over a range of u."""
    grid, net = curve.grid, curve.net
    best, where = _linear(grid, net, low), low
    for k in range(bisect_right(grid, low), bisect_left(grid, high)):
        if net[k] < best:
            best, where = net[k], grid[k]
    at_end = _linear(grid, net, high)
    return (at_end, high) if at_end < best else (best, where)


def raw_on(curve: Curve, *, u: float) -> float:
    """Return a cut's value at u, before error and fillet. [mm]."""
    return _linear(curve.grid, curve.values, u)


def least_net(cuts: Cuts, *, low: float, high: float) -> float:
    """Return the least net value over a range of u and the heights of the cuts. [mm]."""
    grid = cuts.grid
    if len(grid) == 1:
        return cuts.least[0]
    first, last = bisect_right(grid, low), bisect_right(grid, high)
    values = [*cuts.least[first:last]]
    for u, after in ((low, first), (high, last)):
        if after in {0, len(grid)}:
            values.append(cuts.least[after - 1 if after else 0])
        else:
            left = grid[after - 1]
            share = (u - left) / (grid[after] - left)
            values.extend(
                curve.net[after - 1] + share * (curve.net[after] - curve.net[after - 1])
                for curve in cuts.curves
            )
    return min(values)


def readings_at(surface: Surface, *, u: float, z: float) -> tuple[str, ...]:
    """Return the names of the readings that the surface's value at (u, z) comes from."""
    low, high, share = _between_levels(surface, z)
    levels = (low,) if share == 0.0 else (low, high)
    names: list[str] = []
    for level in levels:
        for station in _about(level.stations, u):
            if station.field not in names:
                names.append(station.field)
    return tuple(names)


def _about(stations: tuple[Station, ...], u: float) -> tuple[Station, ...]:
    """Return the station at u, the nearest one outside all, or the two about it."""
    if len(stations) == 1 or u <= stations[0].u + SAME:
        return stations[:1]
    if u >= stations[-1].u - SAME:
        return stations[-1:]
    right = next(k for k, station in enumerate(stations) if station.u >= u - SAME)
    if stations[right].u - u <= SAME:
        return (stations[right],)
    return stations[right - 1 : right + 1]
