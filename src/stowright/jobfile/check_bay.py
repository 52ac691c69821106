"""Bays that cannot be: arches that meet, stations outside, no height. Refusals only."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations, pairwise

from stowright.jobfile.flaws import Flaws
from stowright.jobfile.scanner import Path
from stowright.jobfile.shape_bay import ArchShape, BayShape, WidthShape, ribs_of
from stowright.units import Unit, format_length

__all__ = ["check_bay", "floor_width_at", "whole_width"]

_DEFAULT_ERROR = 2.0
_LOWEST_LEVEL = 30.0  # stations no higher than this tell the width of the floor. [mm]
_BAY: Path = ("bay",)
_RANGES_ON = {
    "floor": ("x", "y"),
    "roof": ("x", "y"),
    "left": ("x", "z"),
    "right": ("x", "z"),
    "cab": ("y", "z"),
}


def check_bay(bay: BayShape, units: Unit, flaws: Flaws) -> None:
    """Note everything that makes a bay impossible; a missing key is not looked at again."""
    _check_height(bay, units, flaws)
    _check_stations(bay, units, flaws)
    _check_widths(bay.widths or (), flaws)
    _check_arches(bay, units, flaws)
    _check_diagonals(bay, units, flaws)
    _check_surfaces(bay, flaws)
    _check_doors(bay, units, flaws)


def floor_width_at(bay: BayShape, x: float) -> float | None:
    """Return the floor width at a station: linear between readings, the nearest one outside."""
    points = [(s.at, whole_width(s)) for s in _floor_stations(bay.widths or ())]
    known = sorted((at, width) for at, width in points if at is not None and width is not None)
    if not known:
        return bay.width
    for (x0, w0), (x1, w1) in pairwise(known):
        if x0 <= x <= x1 and x1 > x0:
            return w0 + (w1 - w0) * (x - x0) / (x1 - x0)
    return known[0][1] if x < known[0][0] else known[-1][1]


def _floor_stations(stations: Sequence[WidthShape]) -> list[WidthShape]:
    return [s for s in stations if (s.height or 0.0) <= _LOWEST_LEVEL]


def whole_width(station: WidthShape) -> float | None:
    """Return the whole width that a station gives, in one piece or two. [mm]."""
    if station.left is not None and station.right is not None:
        return station.left + station.right
    return station.width


def _slack(bay: BayShape) -> float:
    """How far a reading may lie outside the bay and still be a reading of it. [mm]."""
    return max(bay.reading_error if bay.reading_error is not None else _DEFAULT_ERROR, 2.0)


def _longest(bay: BayShape) -> float | None:
    lengths = [each.length for each in bay.lengths or () if each.length is not None]
    return None if bay.length is None else max(bay.length, *lengths, 0.0) + _slack(bay)


def _widest(bay: BayShape) -> float | None:
    widths = [each for each in map(whole_width, bay.widths or ()) if each is not None]
    return None if bay.width is None else max(bay.width, *widths, 0.0) + 2.0 * _slack(bay)


def _check_height(bay: BayShape, units: Unit, flaws: Flaws) -> None:
    given_up = any(flaws.is_left_out((*_BAY, key)) for key in ("rail", "clear_height"))
    if bay.rail is None and bay.clear_height is None and not given_up:
        flaws.add(
            _BAY, "no height", "rail (floor to the top of the side rail) or clear_height is needed"
        )
    if bay.rail is not None and bay.clear_height is not None and bay.rail > bay.clear_height:
        top = format_length(bay.clear_height, units, with_unit=True)
        found = format_length(bay.rail, units, with_unit=True)
        flaws.add((*_BAY, "rail"), found, f"a rail no higher than the clear height of {top}")
    if bay.height_from == "valley":
        rib_depth = ribs_of(bay)
        for key in ("rail", "clear_height"):
            height = getattr(bay, key)
            if height is not None and height <= rib_depth:
                shown = format_length(height, units, with_unit=True)
                flaws.add((*_BAY, key), shown, "a height above the ribs")


def _check_stations(bay: BayShape, units: Unit, flaws: Flaws) -> None:
    length, width = _longest(bay), _widest(bay)
    slack = _slack(bay)
    for key, along in (("widths", "at"), ("between", "at"), ("tail_lean", "x")):
        for place, each in enumerate(getattr(bay, key) or ()):
            path = (*_BAY, key, place)
            _inside(flaws, (*path, along), getattr(each, along), -slack, length, units)
            _below_roof(flaws, path, each.height, bay, units)
    for place, each in enumerate(bay.lengths or ()):
        path = (*_BAY, "lengths", place)
        half = None if width is None else width / 2.0
        _inside(flaws, (*path, "y"), each.y, None if half is None else -half, half, units)
        _below_roof(flaws, path, each.height, bay, units)


def _below_roof(flaws: Flaws, path: Path, height: float | None, bay: BayShape, units: Unit) -> None:
    top = None if bay.clear_height is None else bay.clear_height + _slack(bay)
    _inside(flaws, (*path, "height"), height, -_deepest(bay), top, units)


def _deepest(bay: BayShape) -> float:
    """A reading may be taken in a valley of the floor, no lower. [mm]."""
    return ribs_of(bay) + _slack(bay)


def _inside(
    flaws: Flaws,
    path: Path,
    value: float | None,
    low: float | None,
    high: float | None,
    units: Unit,
) -> None:
    if value is None or low is None or high is None:
        if value is not None and low is not None and value < low:
            flaws.add(path, format_length(value, units, with_unit=True), "a place inside the bay")
        return
    if not low <= value <= high:
        ends = (format_length(end, units, with_unit=True) for end in (low, high))
        allowed = f"a place inside the bay: {' to '.join(ends)} with the reading error"
        flaws.add(path, format_length(value, units, with_unit=True), allowed)


def _check_widths(stations: Iterable[WidthShape], flaws: Flaws) -> None:
    for place, station in enumerate(stations):
        path = (*_BAY, "widths", place)
        halves = (station.left is None) + (station.right is None)
        lost = any(flaws.is_left_out((*path, key)) for key in ("width", "left", "right"))
        if not lost and station.width is None and halves:
            flaws.add(path, "no whole width", "width, or left and right")
        one_side = station.left if station.left is not None else station.right
        if station.width is not None and halves == 1 and (one_side or 0.0) >= station.width:
            flaws.add(path, "one side as wide as the whole", "left and right, each above zero")


def _check_arches(bay: BayShape, units: Unit, flaws: Flaws) -> None:
    for place, arch in enumerate(bay.arches or ()):
        _check_arch(bay, arch, (*_BAY, "arches", place), units, flaws)
    for (i, one), (j, other) in combinations(enumerate(bay.arches or ()), 2):
        shared = _shared(one, other)
        if shared is None or shared[1] <= shared[0]:
            continue
        path = (*_BAY, "arches", j)
        if one.side == other.side:
            flaws.add(path, f"an arch that overlaps arches[{i + 1}]", "arches apart along the bay")
            continue
        if one.reach is None or other.reach is None:
            continue
        widths = [w for w in (floor_width_at(bay, x) for x in shared) if w is not None]
        reach = one.reach + other.reach
        if widths and reach >= max(widths):
            shown = format_length(max(widths), units, with_unit=True)
            flaws.add(
                (*path, "reach"),
                f"{format_length(reach, units, with_unit=True)} with arches[{i + 1}]",
                f"arches that leave room between them in a width of {shown}",
            )


def _shared(one: ArchShape, other: ArchShape) -> tuple[float, float] | None:
    ends = (one.start, other.start, one.end, other.end)
    if ends[0] is None or ends[1] is None or ends[2] is None or ends[3] is None:
        return None
    return max(ends[0], ends[1]), min(ends[2], ends[3])


def _check_arch(bay: BayShape, arch: ArchShape, path: Path, units: Unit, flaws: Flaws) -> None:
    def show(mm: float) -> str:
        return format_length(mm, units, with_unit=True)

    length, slack = _longest(bay), _slack(bay)
    if arch.start is not None and arch.end is not None:
        if not arch.start < arch.end:
            flaws.add(
                (*path, "end"), show(arch.end), f"an end beyond the start at {show(arch.start)}"
            )
        elif length is not None and arch.end - arch.start > length:
            found = f"an arch {show(arch.end - arch.start)} long"
            flaws.add(path, found, f"an arch no longer than the bay, {show(length - slack)}")
        else:
            for key in ("start", "end"):
                _inside(flaws, (*path, key), getattr(arch, key), -slack, length, units)
    width = floor_width_at(bay, arch.start or 0.0)
    if arch.reach is not None and width is not None and arch.reach >= width:
        flaws.add((*path, "reach"), show(arch.reach), f"less than the width of {show(width)}")
    if arch.height is not None and bay.clear_height is not None:
        _inside(flaws, (*path, "height"), arch.height, 0.0, bay.clear_height, units)


def _check_diagonals(bay: BayShape, units: Unit, flaws: Flaws) -> None:
    """A diagonal is longer than either side and shorter than both together."""
    if bay.diagonals is None or bay.length is None or bay.width is None:
        return
    longest, both = max(bay.length, bay.width), bay.length + bay.width
    for one in bay.diagonals:
        if not longest - _slack(bay) <= one <= both + 2.0 * _slack(bay):
            ends = (format_length(end, units, with_unit=True) for end in (longest, both))
            shown = format_length(one, units, with_unit=True)
            flaws.add((*_BAY, "diagonals"), shown, f"a diagonal between {' and '.join(ends)}")


def _check_surfaces(bay: BayShape, flaws: Flaws) -> None:
    for place, area in enumerate(bay.no_drill or ()):
        used = _RANGES_ON[area.surface] if area.surface else ("x", "y", "z")
        for key in ("x", "y", "z"):
            if getattr(area, key) is not None and key not in used:
                flaws.add(
                    (*_BAY, "no_drill", place, key),
                    f"a range along {key}",
                    f"ranges along {' and '.join(used)} on surface {area.surface}",
                )
    for key in ("anchors", "belts"):
        for place, point in enumerate(getattr(bay, key) or ()):
            path = (*_BAY, key, place)
            on = point.surface or "floor"
            for axis in ("x", "y"):
                needed = on in ("floor", "roof") or (axis == "x") == (on != "cab")
                missing = getattr(point, axis) is None and not flaws.is_left_out((*path, axis))
                if needed and missing:
                    flaws.add((*path, axis), "nothing", f"this key is required on surface {on}")


def _check_doors(bay: BayShape, units: Unit, flaws: Flaws) -> None:
    length = _longest(bay)
    for place, door in enumerate(bay.opening or ()):
        path = (*_BAY, "opening", place)
        if door.width is None and door.x is None and not flaws.is_left_out((*path, "width")):
            flaws.add((*path, "width"), "nothing", "this key is required (or x = [from, to])")
        face = door.face or "tail"
        for key in ("at", "x"):
            if getattr(door, key) is not None and face == "tail":
                flaws.add((*path, key), "a place along x", f"{key} only for a side doorway")
        if door.x is not None and (door.at is not None or door.width is not None):
            flaws.add((*path, "x"), "x beside at or width", "x = [from, to], or at and width")
        elif face != "tail":
            start = door.x[0] if door.x else door.at
            _inside(flaws, (*path, "x" if door.x else "at"), start, -_slack(bay), length, units)
