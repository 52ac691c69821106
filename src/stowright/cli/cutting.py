"""The command ``cut``: a job's parts or a list of parts, laid out on sheets."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from stowright.app.cut_list import ListOptions, cut_list
from stowright.app.layout_pictures import write_layouts
from stowright.app.outputs import cutting_data
from stowright.app.plain import json_text
from stowright.app.planning import cut_design, design_job
from stowright.cli.reading import given_job, given_text
from stowright.cli.show import show_cutting, show_warnings
from stowright.errors import JobError, Mistake
from stowright.units import Unit

if TYPE_CHECKING:
    from collections.abc import Callable

    from stowright.cutting.effort import Progress
    from stowright.model.layout import CuttingPlan

__all__ = ["run_cut"]

_ONLY_LISTS = {
    "sheets": "--sheet",
    "kerf": "--kerf",
    "trim": "--trim",
    "method": "--method",
    "effort": "--effort",
    "time_limit_s": "--time-limit",
}


def run_cut(
    *,
    job: str,
    as_json: bool,
    out: str | None,
    force: bool,
    catalogue_file: str | None,
    **for_lists: Any,
) -> None:
    """Lay out parts; print a summary or the data; write cutting.json and the layouts."""
    given = {name: value for name, value in for_lists.items() if value not in {None, ()}}
    if job.lower().endswith(".csv"):
        options = replace(ListOptions(), **given)
        cutting = cut_list(given_text(job), options, progress=_teller())
        warnings: tuple[str, ...] = ()
        units: Unit = "mm"
    else:
        _refuse_list_options(given)
        cutting, warnings, units = _cut_job(job, catalogue_file)
    if out is not None:
        write_layouts(cutting, Path(out), force=force)
    if as_json:
        click.echo(json_text(cutting_data(cutting)), nl=False)
    else:
        show_cutting(cutting, units)
    show_warnings(warnings)


def _cut_job(job: str, catalogue_file: str | None) -> tuple[CuttingPlan, tuple[str, ...], Unit]:
    asked, shelf = given_job(job, catalogue_file)
    design = design_job(asked, catalogue=shelf)
    return cut_design(design, catalogue=shelf), design.warnings, asked.units


def _teller() -> Callable[[Progress], None] | None:
    """Return what tells a person at a terminal how the search goes."""
    if not sys.stderr.isatty():
        return None

    def tell(progress: Progress) -> None:
        sheets = f"{progress.sheets} sheet{'' if progress.sheets == 1 else 's'}"
        click.echo(f"{progress.stage}: {sheets}, at least {progress.bound} needed", err=True)

    return tell


def _refuse_list_options(given: dict[str, Any]) -> None:
    wrong = tuple(
        Mistake(
            field=_ONLY_LISTS[name],
            found="with a job file",
            allowed="only with a parts list (.csv); a job says it by [[sheet]] and [build]",
        )
        for name in given
    )
    if wrong:
        raise JobError(wrong)
