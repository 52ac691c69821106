"""The bay as a solid: walls, headboard, leaning tail face, arches with their cove, keep-outs.

Read from the measurements once and kept (``bay_solid`` remembers the last few bays), because a
search asks for thousands of boxes in the same bay. Millimetres.

How the readings are taken:

* A width is wall to wall and a reading between arches is arch to arch; the cove comes in addition.
  The cove runs round the floor at walls, headboard and arches.
* A whole width is one reading: half its error on each side. Two half widths are a reading each.
* An arch stands ``reach`` in from the wall as it is at the floor, with an upright inner face.
  ``between`` governs over ``reach``: both arches are moved alike until the clear width between them
  is the one that was read.
* The shorthand width and length hold at the floor where no station lies within 50 mm of it.
* A length is from the tail plane x = 0 to the headboard.
* The tail face leans in linearly from 0 at the floor through its readings.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from stowright.design.bay_surface import (
    Level,
    Station,
    Surface,
    readings_at,
    surface_from,
    value_at,
)
from stowright.model.bay import Arch, Bay
from stowright.model.geometry import Point2, Span

__all__ = [
    "ArchSolid",
    "BaySolid",
    "bay_solid",
    "coverage_warnings",
    "governing_reading",
    "headboard_x",
    "inner_y",
    "outline_at",
    "shorthand_only",
    "tail_lean_over",
    "tail_x",
    "wall_y",
]

type Side = Literal["left", "right"]

#: A station within this of a place speaks for it; farther off the nearest value is warned of. [mm].
SPEAKS_WITHIN = 50.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ArchSolid:
    """An arch as it bounds the bay.

    Attributes:
        field: Its name in the job: ``bay.arches[1]``.
        side: Which side it stands on.
        start, end, height: As read.
        inner: Distance from the centre line to its inner face, over x and z.
    """

    field: str
    side: Side
    start: float
    end: float
    height: float
    inner: Surface


@dataclass(frozen=True, slots=True, kw_only=True)
class BaySolid:
    """The bay's surfaces, resolved.

    Attributes:
        left, right: Distance from the centre line to each wall, over x and z.
        headboard: Distance from the tail plane, over y and z.
        tail: (z, lean, reading) of the tail face, from the floor up.
        lean_in_stations: Sideways lean over the length that the half widths already show.
        steep: x stations about which the width changes by more than 1 in 10.
        headboard_steep: The length changes by more than 1 in 10 somewhere across.
        warnings: What the readings leave open whatever is built.
    """

    bay: Bay
    left: Surface
    right: Surface
    headboard: Surface
    tail: tuple[tuple[float, float, str], ...]
    arches: tuple[ArchSolid, ...]
    lean_in_stations: float
    steep: tuple[float, ...]
    headboard_steep: bool
    warnings: tuple[str, ...]


@lru_cache(maxsize=32)
def bay_solid(bay: Bay) -> BaySolid:
    """Return the bay as a solid. The last few bays are remembered."""
    left, right = _wall(bay, "left"), _wall(bay, "right")
    headboard = surface_from(_length_stations(bay))
    return BaySolid(
        bay=bay,
        left=left,
        right=right,
        headboard=headboard,
        tail=_tail(bay),
        arches=_arches(bay, left, right),
        lean_in_stations=_station_lean(bay, left, right),
        steep=_steep(left.grid, _both(left, right)),
        headboard_steep=bool(_steep(headboard.grid, [lvl.values for lvl in headboard.levels])),
        warnings=_warnings(bay, left, headboard),
    )


def _wall(bay: Bay, side: Side) -> Surface:
    """Return one side wall from the width stations."""
    short = _only_shorthand(bay)
    stations = []
    for number, read in enumerate(bay.widths, start=1):
        name = f"bay.widths[{number}]"
        field = name if read.centred else f"{name}.{side}"
        if short:
            field = "bay.width"
        half = read.left if side == "left" else read.right
        error = bay.reading_error / 2.0 if read.centred else bay.reading_error
        stations.append(Station(u=read.at, z=read.height, value=half, error=error, field=field))
    if min(station.z for station in stations) > SPEAKS_WITHIN:
        half, error = bay.width / 2.0, bay.reading_error / 2.0
        stations.append(Station(u=0.0, z=0.0, value=half, error=error, field="bay.width"))
    return surface_from(stations)


def _only_shorthand(bay: Bay) -> bool:
    """Tell whether the one width station is the shorthand width."""
    first = bay.widths[0]
    return len(bay.widths) == 1 and first.centred and first.height == 0.0 and first.at == 0.0


def _length_stations(bay: Bay) -> list[Station]:
    """Return the headboard's readings; the shorthand holds at the floor where none was taken."""
    error = bay.reading_error
    first = bay.lengths[0]
    short = len(bay.lengths) == 1 and (first.height, first.y, first.length) == (0, 0, bay.length)
    stations = [
        Station(
            u=read.y,
            z=read.height,
            value=read.length,
            error=error,
            field="bay.length" if short else f"bay.lengths[{number}]",
        )
        for number, read in enumerate(bay.lengths, start=1)
    ]
    if min(station.z for station in stations) > SPEAKS_WITHIN:
        stations.append(Station(u=0.0, z=0.0, value=bay.length, error=error, field="bay.length"))
    return stations


def _tail(bay: Bay) -> tuple[tuple[float, float, str], ...]:
    """Return the tail face as (z, lean, reading) from the floor up."""
    rows = [
        (read.height, read.x, f"bay.tail_lean[{number}]")
        for number, read in enumerate(bay.tail_lean, start=1)
    ]
    if all(row[0] > 0.0 for row in rows):
        rows.append((0.0, 0.0, ""))
    return tuple(sorted(rows))


def _arches(bay: Bay, left: Surface, right: Surface) -> tuple[ArchSolid, ...]:
    """Return the arches; a reading between arches that aren't given holds over the whole bay."""
    if not bay.arches and bay.between:
        far = float("inf")
        blank = [
            Arch(side=side, start=-far, end=far, height=far, reach=0.0)
            for side in ("left", "right")
        ]
        return tuple(_arch(bay, arch, blank, "bay.between", left, right) for arch in blank)
    arches = list(bay.arches)
    return tuple(
        _arch(bay, arch, arches, f"bay.arches[{number}]", left, right)
        for number, arch in enumerate(arches, start=1)
    )


def _arch(
    bay: Bay, arch: Arch, arches: list[Arch], field: str, left: Surface, right: Surface
) -> ArchSolid:
    """Return one arch with its inner face from ``between`` where given, else from ``reach``."""
    own, other = (left, right) if arch.side == "left" else (right, left)
    facing = [a for a in arches if a.side != arch.side and _shared(a, arch) > 0.0]
    opposite_reach = max(facing, key=lambda a: _shared(a, arch)).reach if facing else 0.0
    if bay.between:
        inner = _inner_by_between(bay, arch, own, other, opposite_reach, lone=not facing)
    else:
        inner = _inner_by_reach(bay, arch, own, field)
    return ArchSolid(
        field=field,
        side=arch.side,
        start=arch.start,
        end=arch.end,
        height=arch.height,
        inner=inner,
    )


def _shared(a: Arch, b: Arch) -> float:
    """Return the length along x that two arches share."""
    return min(a.end, b.end) - max(a.start, b.start)


def _floor_values(surface: Surface, us: list[float]) -> list[float]:
    """Return a surface at the floor at several stations."""
    return [value_at(surface, u=u, z=0.0) for u in us]


def _inner_by_reach(bay: Bay, arch: Arch, own: Surface, field: str) -> Surface:
    """Return the inner face ``reach`` in from the wall: two readings, an error each."""
    us = list(own.grid)
    values = tuple(half - arch.reach for half in _floor_values(own, us))
    wall = own.levels[0]
    errors = tuple(error + bay.reading_error for error in wall.errors)
    name = Station(u=us[0], z=0.0, value=values[0], error=errors[0], field=f"{field}.reach")
    return Surface(
        grid=own.grid,
        levels=(Level(z=0.0, stations=(name,), values=values, errors=errors),),
    )


def _inner_by_between(
    bay: Bay, arch: Arch, own: Surface, other: Surface, opposite_reach: float, *, lone: bool
) -> Surface:
    """Return the inner face so that the clear width is the one read between the arches.

    With an arch on each side the difference to the reaches is shared alike; a lone arch is placed
    from the opposite wall. One reading: half its error on each side.
    """
    between = surface_from(
        Station(
            u=read.at,
            z=read.height,
            value=read.width,
            error=bay.reading_error,
            field=f"bay.between[{number}]",
        )
        for number, read in enumerate(bay.between, start=1)
    )
    grid = sorted({*between.grid, *own.grid, *other.grid})
    mine, theirs = _floor_values(own, grid), _floor_values(other, grid)
    if lone:
        off = [-their for their in theirs]
        share = 1.0
    else:
        reaches = arch.reach - opposite_reach
        off = [(a - b - reaches) / 2.0 for a, b in zip(mine, theirs, strict=True)]
        share = 0.5
    levels = []
    for level in between.levels:
        clear = [value_at(between, u=u, z=level.z) for u in grid]
        values = tuple(share * width + more for width, more in zip(clear, off, strict=True))
        errors = (bay.reading_error / 2.0,) * len(grid)
        levels.append(Level(z=level.z, stations=level.stations, values=values, errors=errors))
    return Surface(grid=tuple(grid), levels=tuple(levels))


def _station_lean(bay: Bay, left: Surface, right: Surface) -> float:
    """Return the sideways lean over the length that the floor's half widths show by themselves."""
    first, last = left.grid[0], left.grid[-1]
    if last - first < SPEAKS_WITHIN:
        return 0.0
    centre = [
        (value_at(left, u=u, z=0.0) - value_at(right, u=u, z=0.0)) / 2.0 for u in (first, last)
    ]
    return (centre[1] - centre[0]) * bay.length / (last - first)


def _both(left: Surface, right: Surface) -> list[tuple[float, ...]]:
    """Return the whole width on the grid, level by level."""
    return [
        tuple(a + b for a, b in zip(one.values, other.values, strict=True))
        for one, other in zip(left.levels, right.levels, strict=True)
    ]


def _steep(grid: tuple[float, ...], levels: list[tuple[float, ...]]) -> tuple[float, ...]:
    """Return the stations about which the distance changes by more than 1 in 10."""
    marked: set[float] = set()
    for values in levels:
        for k in range(len(grid) - 1):
            if abs(values[k + 1] - values[k]) > 0.1 * (grid[k + 1] - grid[k]):
                marked.update((grid[k], grid[k + 1]))
    return tuple(sorted(marked))


def _warnings(bay: Bay, left: Surface, headboard: Surface) -> tuple[str, ...]:
    """Return where the nearest reading had to speak along the bay."""
    texts = []
    for level in left.levels:
        us = [station.u for station in level.stations]
        if len(us) > 1 and (us[0] > SPEAKS_WITHIN or us[-1] < bay.length - SPEAKS_WITHIN):
            texts.append(
                f"bay.widths: no width was read near one end of the bay at the level of "
                f"{level.stations[0].field}; the nearest width is taken there"
            )
    across = headboard.levels[0].stations
    half = min(value_at(left, u=bay.length, z=0.0), bay.width / 2.0)
    if len(across) > 1 and (across[0].u > SPEAKS_WITHIN - half or across[-1].u < half / 2.0):
        texts.append(
            "bay.lengths: no length was read near one side of the bay; "
            "the nearest length is taken there"
        )
    if bay.between and not bay.arches:
        texts.append(
            "bay.between is given without bay.arches: that width is taken over the whole length "
            "and height"
        )
    return tuple(texts)


def shorthand_only(solid: BaySolid) -> bool:
    """Tell whether the bay is known by its one length and one width alone."""
    fields = {
        station.field
        for surface in (solid.left, solid.headboard)
        for level in surface.levels
        for station in level.stations
    }
    return fields <= {"bay.width", "bay.length"}


def coverage_warnings(solid: BaySolid, *, z: Span) -> tuple[str, ...]:
    """Return what the readings leave open for a body that fills a range of heights.

    Where the bay is one length and one width that is an assumption, not an oddity.
    """
    texts = list(solid.warnings)
    if shorthand_only(solid):
        return tuple(texts)
    for what, surface in (("width", solid.left), ("length", solid.headboard)):
        top = surface.levels[-1]
        if z.high > top.z + SPEAKS_WITHIN:
            texts.append(
                f"no {what} was read above {top.stations[0].field}; "
                f"the nearest {what} is taken higher up"
            )
    return tuple(texts)


def wall_y(solid: BaySolid, *, side: Side, x: float, z: float) -> float:
    """Return the distance from the centre line to a side wall, without cove or arch. [mm]."""
    return value_at(solid.left if side == "left" else solid.right, u=x, z=z)


def inner_y(solid: BaySolid, *, side: Side, x: float, z: float) -> float:
    """Return the distance from the centre line to wall or arch, whichever stands in more. [mm].

    The cove is not in it (see ``bay_surface.fillet_intrusion``).
    """
    distance = wall_y(solid, side=side, x=x, z=z)
    for arch in solid.arches:
        if arch.side == side and arch.start <= x <= arch.end and z <= arch.height:
            distance = min(distance, value_at(arch.inner, u=x, z=z))
    return distance


def headboard_x(solid: BaySolid, *, y: float, z: float) -> float:
    """Return where the headboard stands at an offset y and a height z. [mm]."""
    return value_at(solid.headboard, u=y, z=z)


def tail_x(solid: BaySolid, *, z: float) -> float:
    """Return how far the tail face stands in at a height z. [mm]."""
    rows = solid.tail
    if z <= rows[0][0]:
        return rows[0][1]
    for (low, lean, _), (high, next_lean, _) in pairwise(rows):
        if z <= high:
            return lean + (next_lean - lean) * (z - low) / (high - low)
    return rows[-1][1]


def tail_lean_over(solid: BaySolid, *, z: Span) -> tuple[float, str]:
    """Return how far the tail face stands in at most over a range of heights, and by what reading.

    Never less than 0: the body stands on the floor, where the tail face is the origin.
    """
    heights = [z.low, *(row[0] for row in solid.tail if z.low < row[0] < z.high), z.high]
    lean, at = max((tail_x(solid, z=height), height) for height in heights)
    if lean <= 0.0:
        return 0.0, ""
    above = [row for row in solid.tail if row[0] >= at and row[2]]
    row = above[0] if above else solid.tail[-1]
    return lean, row[2]


def outline_at(solid: BaySolid, *, z: float) -> tuple[Point2, ...]:
    """Return the bay's outline at a height, anticlockwise from the tail's right, without cove.

    Breakpoints only: between them every edge is straight. Keep-outs are not cut out. An arch's
    ends are steps.
    """
    x_tail = tail_x(solid, z=z)
    right = _side_points(solid, "right", z, x_tail)
    left = _side_points(solid, "left", z, x_tail)
    low, high = -right[-1][1], left[-1][1]
    across = sorted({low, high, *(y for y in solid.headboard.grid if low < y < high)})
    head = [(headboard_x(solid, y=y, z=z), y) for y in across]
    return (
        *((x, -y) for x, y in right[:-1]),
        *head,
        *((x, y) for x, y in reversed(left[:-1])),
    )


def _side_points(solid: BaySolid, side: Side, z: float, x_tail: float) -> list[Point2]:
    """Return (x, distance from the centre line) along one side, from the tail to the headboard."""
    surface = solid.left if side == "left" else solid.right
    sign = 1.0 if side == "left" else -1.0
    far = solid.bay.length
    for _ in range(3):  # the headboard's x depends on where the wall meets it: settles at once
        far = headboard_x(solid, y=sign * inner_y(solid, side=side, x=far, z=z), z=z)
    arches = [a for a in solid.arches if a.side == side and z <= a.height]
    xs = {x_tail, far}
    xs.update(x for x in surface.grid if x_tail < x < far)
    for arch in arches:
        ends = (max(arch.start, x_tail), min(arch.end, far))
        xs.update(x for x in (*ends, *arch.inner.grid) if ends[0] <= x <= ends[1])
    points: list[Point2] = []
    for x in sorted(xs):
        wall = wall_y(solid, side=side, x=x, z=z)
        inner = inner_y(solid, side=side, x=x, z=z)
        starts = any(arch.start == x > x_tail for arch in arches)
        ends_here = any(arch.end == x < far for arch in arches)
        steps = [wall, inner] if starts else [inner, wall] if ends_here else [inner]
        points.extend((x, y) for y in steps)
    return points


def governing_reading(surface: Surface, *, u: float, z: float) -> str:
    """Return which reading, or between which readings, a surface's value at (u, z) comes from."""
    names = readings_at(surface, u=u, z=z)
    if len(names) == 1:
        return names[0]
    return f"between {', '.join(names[:-1])} and {names[-1]}"
