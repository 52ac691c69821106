"""The command ``cut``: a job's parts or a list of parts, laid out on sheets."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import click

from stowright.app.cutting_csv import parts_from_csv
from stowright.app.outputs import cutting_data, write_cutting
from stowright.app.plain import json_text
from stowright.app.planning import cut_design, cut_parts, design_job
from stowright.cli.reading import given_job, given_text
from stowright.cli.show import show_cutting, show_warnings
from stowright.errors import JobError, Mistake

if TYPE_CHECKING:
    from stowright.model.layout import CuttingPlan

__all__ = ["run_cut"]

_SHEET = re.compile(r"\s*(\d+(?:\.\d+)?)\s*[xX×*]\s*(\d+(?:\.\d+)?)\s*")
_SHEET_DEFAULT = ("2440x1220",)
_KERF_DEFAULT = 3.0
_TRIM_DEFAULT = 10.0


def run_cut(
    *,
    job: str,
    as_json: bool,
    out: str | None,
    force: bool,
    sheets: tuple[str, ...],
    kerf: float | None,
    trim: float | None,
    catalogue_file: str | None,
) -> None:
    """Lay out parts; print a summary or the data; write cutting.json and the layouts."""
    if job.lower().endswith(".csv"):
        cutting = _cut_list(job, sheets, kerf, trim)
        warnings: tuple[str, ...] = ()
    else:
        _refuse_list_options(sheets=sheets or None, kerf=kerf, trim=trim)
        asked, shelf = given_job(job, catalogue_file)
        design = design_job(asked, catalogue=shelf)
        cutting = cut_design(design, catalogue=shelf)
        warnings = design.warnings
    if out is not None:
        write_cutting(cutting, Path(out), force=force)
    if as_json:
        click.echo(json_text(cutting_data(cutting)), nl=False)
    else:
        show_cutting(cutting)
    show_warnings(warnings)


def _cut_list(
    path: str, sheets: tuple[str, ...], kerf: float | None, trim: float | None
) -> CuttingPlan:
    sizes = _sheet_sizes(sheets or _SHEET_DEFAULT)
    return cut_parts(
        parts_from_csv(given_text(path)),
        sheets=sizes,
        kerf=_KERF_DEFAULT if kerf is None else kerf,
        trim=_TRIM_DEFAULT if trim is None else trim,
    )


def _sheet_sizes(sheets: tuple[str, ...]) -> tuple[tuple[float, float], ...]:
    found = [(text, _SHEET.fullmatch(text)) for text in sheets]
    wrong = [
        Mistake(field="--sheet", found=text, allowed="length x width in mm: 2440x1220")
        for text, match in found
        if match is None
    ]
    if wrong:
        raise JobError(tuple(wrong))
    return tuple((float(match[1]), float(match[2])) for _, match in found if match)


def _refuse_list_options(**given: object) -> None:
    names = {"sheets": "--sheet", "kerf": "--kerf", "trim": "--trim"}
    wrong = tuple(
        Mistake(
            field=names[key],
            found="with a job file",
            allowed="only with a parts list (.csv); a job says it by [[sheet]] and build.saw",
        )
        for key, value in given.items()
        if value is not None
    )
    if wrong:
        raise JobError(wrong)
