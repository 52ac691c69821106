"""Sizes that are usual for each field, to ask whether the unit was meant. Millimetres."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.jobfile.keys import field_text, pattern_of, walk
from stowright.jobfile.scanner import Path
from stowright.jobfile.shape_build import BuildKeys, BuildShape
from stowright.jobfile.shape_job import JobFile
from stowright.units import MM_PER_INCH, Unit, format_length

__all__ = ["unusual_sizes"]

#: Least and greatest usual size by field. Wide on purpose (assumed): a warning asks, no more.
_USUAL: dict[str, tuple[float, float]] = {
    "job.cut_grid": (0.0, 10.0),
    "bay.length": (500.0, 7000.0),
    "bay.width": (600.0, 2600.0),
    "bay.rail": (150.0, 1200.0),
    "bay.clear_height": (250.0, 2600.0),
    "bay.reading_error": (0.0, 15.0),
    "bay.cove": (0.0, 150.0),
    "bay.diagonals": (700.0, 7500.0),
    "bay.arches.height": (40.0, 700.0),
    "bay.arches.reach": (20.0, 500.0),
    "bay.widths.width": (600.0, 2600.0),
    "bay.between.width": (400.0, 2400.0),
    "bay.lengths.length": (500.0, 7000.0),
    "bay.tail_lean.x": (-10.0, 400.0),
    "bay.floor.thickness": (0.4, 30.0),
    "bay.floor.rib_depth": (0.0, 60.0),
    "bay.floor.rib_pitch": (0.0, 400.0),
    "bay.opening.width": (300.0, 4000.0),
    "bay.opening.height": (150.0, 2500.0),
    "bay.opening.sill_rise": (0.0, 700.0),  # canopy doors begin over the side rail
    "bay.opening.above_ground": (150.0, 1600.0),
    "bay.tailgate.length": (0.0, 1500.0),
    "bay.tailgate.open_top": (-300.0, 300.0),
    "vehicle.wheelbase": (1800.0, 6500.0),
    "carry.size": (5.0, 4000.0),
    "carry.clear_above": (0.0, 1500.0),
    "block.clear_at_face": (0.0, 300.0),
    "block.columns.width": (100.0, 2500.0),
    "block.columns.least": (50.0, 2500.0),
    "block.columns.stack.height": (30.0, 1600.0),
    "block.columns.stack.least": (20.0, 1600.0),
    "block.columns.stack.sides": (0.0, 600.0),
    "block.columns.stack.cable_way": (0.0, 150.0),
    "deck.below_rail": (0.0, 400.0),
    "deck.top": (80.0, 1600.0),
    "deck.overhang": (0.0, 400.0),
    "build.joint_depth": (1.0, 20.0),
    "build.fit_allowance": (0.0, 1.0),
    "build.rail_width": (20.0, 400.0),
    "build.groove_depth": (1.0, 15.0),
    "build.groove_up": (0.0, 60.0),
    "build.lap": (0.0, 60.0),
    "build.front_gap": (0.5, 15.0),
    "build.under_gap": (0.0, 60.0),
    "build.over_gap": (0.0, 80.0),
    "build.side_clear": (0.0, 100.0),
    "build.end_clear": (0.0, 200.0),
    "build.back_room": (0.0, 150.0),
    "build.module_gap": (0.0, 50.0),
    "build.runner_up": (0.0, 200.0),
    "build.lining.drawer": (0.0, 30.0),
    "build.lining.carcass": (0.0, 30.0),
    "build.lining.bay": (0.0, 30.0),
    "build.handle.projection": (0.0, 100.0),
    "sheet.size": (100.0, 4000.0),
    "sheet.thickness": (2.0, 45.0),
}
_THICKNESS = (2.0, 45.0)
#: A caliper reading further than this from the thickness in the name is another sheet. [mm]
_OFF_NOMINAL = 2.0


def unusual_sizes(job: JobFile, units: Unit) -> tuple[str, ...]:
    """Return a line for each size that is far from what its field usually holds."""
    lines: list[str] = []
    for path, value, (low, high) in _sizes(job):
        if low <= value <= high:
            continue
        show = format_length(value, units, with_unit=True)
        usual = " to ".join(format_length(end, units, with_unit=True) for end in (low, high))
        hint = _other_unit(value, low, high, units)
        lines.append(f"{field_text(path)}: {show} is unusual here (usual: {usual}){hint}")
    return tuple(lines) + tuple(_off_nominal(job, units))


def _sizes(job: JobFile) -> Iterator[tuple[Path, float, tuple[float, float]]]:
    for path, table in walk(job):
        for key in type(table).model_fields:
            limits = _limits((*path, key), is_build=isinstance(table, BuildKeys))
            value = getattr(table, key)
            several = value if isinstance(value, tuple) else (value,)
            if limits is not None:
                yield from (((*path, key), v, limits) for v in several if isinstance(v, float))
        if isinstance(table, BuildShape):
            for name, readings in (table.measured_thickness or {}).items():
                where = (*path, "measured_thickness", name)
                yield from ((where, reading, _THICKNESS) for reading in readings)


def _limits(path: Path, *, is_build: bool) -> tuple[float, float] | None:
    """Return the usual range of a field; [build] keys have it wherever they are written."""
    pattern = pattern_of(path)
    dotted = ".".join(pattern)
    if dotted in _USUAL:
        return _USUAL[dotted]
    if is_build:
        return _USUAL.get(f"build.{pattern[-1]}")
    return _USUAL.get(f"build.{'.'.join(pattern[-2:])}")


def _other_unit(value: float, low: float, high: float, units: Unit) -> str:
    """Ask whether the other unit was meant, when the bare number would be usual in it."""
    if units == "in" and low <= value / MM_PER_INCH <= high:
        return f'; if millimetres were meant write "{value / MM_PER_INCH:g} mm"'
    if units == "mm" and low <= value * MM_PER_INCH <= high:
        return f'; if inches were meant write "{value:g} in"'
    return ""


def _off_nominal(job: JobFile, units: Unit) -> Iterator[str]:
    """Caliper readings that belong to another sheet than the one that they are given for."""
    given: list[tuple[Path, str, tuple[float, ...]]] = [
        (("build", "measured_thickness", name), name, readings)
        for name, readings in ((job.build.measured_thickness if job.build else None) or {}).items()
    ]
    sheets: list[tuple[Path, str, tuple[float, ...]]] = [
        (("sheet", place, "thickness"), sheet.material or "", sheet.thickness or ())
        for place, sheet in enumerate(job.sheet or ())
    ]
    for path, name, readings in (*given, *sheets):
        nominal = name.rpartition("-")[2]
        for reading in readings if nominal.isdecimal() else ():
            if abs(reading - float(nominal)) > _OFF_NOMINAL and reading <= _THICKNESS[1]:
                show = format_length(reading, units, with_unit=True)
                yield f"{field_text(path)}: {show} is far from the thickness in the name {name}"
                break
