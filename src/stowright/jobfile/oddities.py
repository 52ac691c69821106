"""Warnings: what is odd in a job, and what it asks for that nothing uses yet."""

from __future__ import annotations

from collections.abc import Iterator
from statistics import fmean

from stowright.jobfile.keys import field_text, pattern_of, walk
from stowright.jobfile.naming import Names, blocks_of
from stowright.jobfile.odd_bay import odd_bay
from stowright.jobfile.plausible import unusual_sizes
from stowright.jobfile.scanner import Path
from stowright.jobfile.shape_blocks import ColumnShape, FillShape
from stowright.jobfile.shape_build import BuildKeys
from stowright.jobfile.shape_job import JobFile
from stowright.units import Unit, format_length

__all__ = ["NOT_YET_USED", "odd_things"]

#: Fields that are read and kept but do nothing yet, with what they wait for. Shorten this table
#: as the rooms learn to use them.
NOT_YET_USED: dict[str, str] = {}
_NEUTRAL: tuple[object, ...] = ("", "no", "none", False, 0.0, (), [])
_LOCKS = {"in", "out", "none", ""}
_APART = 0.1
_MOST_FIELDS = 6


def odd_things(job: JobFile, names: Names, units: Unit) -> tuple[str, ...]:
    """Return every warning, a line each."""
    lines: list[str] = []
    if job.bay is not None:
        lines.extend(odd_bay(job.bay, units))
    lines.extend(unusual_sizes(job, units))
    lines.extend(_two_thicknesses(job, units))
    lines.extend(_grid_of_inches(job, units))
    lines.extend(_idle_keys(job))
    lines.extend(_closed_sides(job, names))
    lines.extend(_over_limits(job))
    lines.extend(_not_yet(job))
    return tuple(dict.fromkeys(lines))


def _two_thicknesses(job: JobFile, units: Unit) -> Iterator[str]:
    """Readings of the batch and readings of the sheets in hand that do not agree."""
    given = (job.build.measured_thickness if job.build else None) or {}
    for name, readings in given.items():
        sheets = [
            reading
            for sheet in job.sheet or ()
            if sheet.material == name
            for reading in sheet.thickness or ()
        ]
        if sheets and abs(fmean(sheets) - fmean(readings)) > _APART:
            means = [
                format_length(fmean(each), units, with_unit=True, decimal=True)
                for each in (readings, sheets)
            ]
            field = field_text(("build", "measured_thickness", name))
            told = f"mean {means[0]}, but the sheets in hand have {means[1]}"
            yield f"{field}: {told}; the first counts"


def _grid_of_inches(job: JobFile, units: Unit) -> Iterator[str]:
    """An inch job takes the same default as any other, but few inch saws are marked in it."""
    if units == "in" and (job.job is None or job.job.cut_grid is None):
        yield 'job.cut_grid: 0.5 mm is taken; for a saw marked in inches write cut_grid = "1/32 in"'


def _idle_keys(job: JobFile) -> Iterator[str]:
    """Keys that do nothing beside what stands next to them."""
    for path, table in walk(job):
        field = field_text(path)
        if isinstance(table, FillShape):
            yield from _idle_in_fill(field, table)
        if isinstance(table, ColumnShape) and isinstance(table.width, float) and table.weight:
            yield f"{field}.weight: does nothing beside a fixed width"
        if isinstance(table, BuildKeys):
            if table.lap is not None and table.front == "inset":
                yield f"{field}.lap: does nothing beside front = inset"
            if table.joint_depth is not None and table.joint == "butt":
                yield f"{field}.joint_depth: does nothing beside joint = butt"
            if table.joint not in {None, "tab-and-slot"}:
                for key in ("slots", "fit_allowance"):
                    if getattr(table, key) is not None:
                        yield f"{field}.{key}: does nothing beside joint = {table.joint}"


def _idle_in_fill(field: str, fill: FillShape) -> Iterator[str]:
    kind = fill.fill or "drawer"
    if fill.door is not None and kind != "locker":
        yield f"{field}.door: does nothing on fill = {kind}"
    if fill.sides is not None and kind != "tray":
        yield f"{field}.sides: does nothing on fill = {kind}"
    if isinstance(fill.height, float) and fill.weight is not None:
        yield f"{field}.weight: does nothing beside a fixed height"
    if fill.lock is not None and not set(fill.lock.split("-")) <= _LOCKS:
        yield f"{field}.lock: {fill.lock} is kept as it is; known: in, out, in-out, none"


def _closed_sides(job: JobFile, names: Names) -> Iterator[str]:
    """Blocks that face a side where the job knows of no doorway."""
    kind = job.bay.kind if job.bay else None
    doors = {door.face or "tail" for door in (job.bay.opening if job.bay else None) or ()}
    for place, block in enumerate(blocks_of(job)):
        if block.face in ("left", "right") and block.face not in doors and kind != "tray":
            told = f"faces {block.face}, and no doorway is given there"
            yield f"{field_text(('block', place, 'face'))}: block {names.blocks[place]} {told}"


def _over_limits(job: JobFile) -> Iterator[str]:
    """A vehicle that is over its limits before anything is built."""
    vehicle = job.vehicle
    if vehicle is None or vehicle.weighed is None or vehicle.limits is None:
        return
    weighed, limits = vehicle.weighed, vehicle.limits
    masses = {
        "front_axle": weighed.front_axle or 0.0,
        "rear_axle": weighed.rear_axle or 0.0,
        "total": (weighed.front_axle or 0.0) + (weighed.rear_axle or 0.0),
    }
    for key, mass in masses.items():
        limit = getattr(limits, key)
        if limit is not None and mass > limit:
            yield f"vehicle.weighed: {mass:g} kg is already over vehicle.limits.{key}, {limit:g} kg"


def _not_yet(job: JobFile) -> Iterator[str]:
    """Keys that are read and kept, but that nothing uses yet."""
    found: dict[str, list[Path]] = {}
    for path, table in walk(job):
        for key in type(table).model_fields:
            value, where = getattr(table, key), (*path, key)
            dotted = ".".join(pattern_of(where))
            if dotted in NOT_YET_USED and value is not None and value not in _NEUTRAL:
                found.setdefault(dotted, []).append(where)
    for dotted, paths in found.items():
        told = [field_text(path) for path in paths[:_MOST_FIELDS]]
        more = f" and {len(paths) - _MOST_FIELDS} more" if len(paths) > _MOST_FIELDS else ""
        yield f"{', '.join(told)}{more}: kept, but not used yet (waits for: {NOT_YET_USED[dotted]})"
