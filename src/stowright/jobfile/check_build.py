"""Mistakes in ``[build]``, and in what a block, a column or a fill writes over it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from stowright.jobfile.flaws import Flaws
from stowright.jobfile.keys import walk
from stowright.jobfile.known import KnownNames
from stowright.jobfile.scanner import Path
from stowright.jobfile.shape_build import BuildKeys
from stowright.jobfile.shape_job import JobFile
from stowright.model.job import Build

__all__ = ["check_build"]

_LET_IN = ("rebate", "housing")


def check_build(job: JobFile, known: KnownNames, flaws: Flaws) -> None:
    """Note joints that cannot be cut: tabs by a saw, and what would come through its sheet."""
    usual = (job.build.method if job.build else None) or "hand"
    tables = {path: table for path, table in walk(job) if isinstance(table, BuildKeys)}
    sheets = _thicknesses(job, known)
    for path, table in tables.items():
        if table.joint == "tab-and-slot":
            sawn = next((m for m in (table.method or usual, usual) if m != "cnc"), None)
            if sawn is not None:
                found = f"tab-and-slot with method = {sawn}"
                allowed = 'butt, rebate or housing; or method = "cnc" in [build]'
                flaws.add((*path, "joint"), found, allowed)
        for key, depth, sheet in _depths(path, tables):
            if depth >= sheets.get(sheet, depth + 1.0):
                found = f"{depth:g} mm into {sheet}, which is {sheets[sheet]:g} mm thick"
                flaws.add((*path, key), found, "a depth that leaves wood behind it")


def _thicknesses(job: JobFile, known: KnownNames) -> dict[str, float]:
    """Return how thick each sheet is: as measured, else the catalogue's mean. [mm]."""
    read = (job.build.measured_thickness if job.build else None) or {}
    means = {name: sum(values) / len(values) for name, values in read.items() if values}
    return {**dict(known.thicknesses), **means}


def _depths(path: Path, tables: dict[Path, BuildKeys]) -> Iterator[tuple[str, float, str]]:
    """Yield what a table cuts into its sheets: the key, its depth and the sheet."""
    table = tables[path]
    if table.joint_depth is not None and _in_force(path, tables, "joint") in _LET_IN:
        for sheet in dict.fromkeys(_in_force(path, tables, key) for key in ("carcass", "drawer")):
            yield "joint_depth", table.joint_depth, sheet
    if table.groove_depth is not None and _in_force(path, tables, "bottom_fit") == "grooved":
        yield "groove_depth", table.groove_depth, _in_force(path, tables, "drawer")


def _in_force(path: Path, tables: dict[Path, BuildKeys], key: str) -> Any:
    """Return what a key of ``[build]`` comes to in a table: its own, an outer one's, or usual."""
    outer = [path[:end] for end in range(len(path), 0, -1)]
    for where in (*outer, ("build",)):
        value = getattr(tables[where], key) if where in tables else None
        if value is not None:
            return value
    return getattr(Build(), key)
