"""The commands ``plan``, ``prove`` and ``book``."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, TypedDict, Unpack

import click

from stowright.app.outputs import OutputOptions, write_book, write_outputs, write_plan
from stowright.app.plain import json_text, plain
from stowright.app.plan_dict import plan_to_dict
from stowright.app.planning import design_job, plan, prove_design
from stowright.app.proof_sheet import proofs_named
from stowright.cli.errors import PROOF_FAILED
from stowright.cli.reading import given_job, tell
from stowright.cli.show import (
    show_cutting,
    show_design,
    show_findings,
    show_parts,
    show_ranked,
    show_sheet,
    show_warnings,
)

if TYPE_CHECKING:
    from collections.abc import Iterable

    from stowright.app.outputs import DrawingSheets, Ink, Paper, Print, Projection
    from stowright.model.finding import Finding

__all__ = ["run_book", "run_plan", "run_prove"]

#: Codes of proofs that are judged with the layouts and the book.
_OF_THE_PLAN = ("CUT", "BOOK")

_CALLED: dict[Print, str] = {
    "book": "plan book is",
    "labels": "labels are",
    "survey": "survey form is",
    "cards": "step cards are",
    "rods": "full-size rods are",
    "packing": "packing sheet is",
}


class Printed(TypedDict):
    """How drawings and prints are made, as the commands' options name it."""

    force: bool
    paper: Paper
    projection: Projection
    ink: Ink
    drawings: DrawingSheets
    revision: str
    date: str
    label_grid: str


def _options(printed: Printed, *, cards: bool = False) -> OutputOptions:
    return OutputOptions(
        paper=printed["paper"],
        projection=printed["projection"],
        ink=printed["ink"],
        force=printed["force"],
        drawings=printed["drawings"],
        revision=printed["revision"],
        date=printed["date"],
        labels=printed["label_grid"],
        cards=cards,
    )


def run_plan(
    *,
    job: str,
    as_json: bool,
    out: str | None,
    cards: bool,
    strict: bool,
    catalogue_file: str | None,
    **printed: Unpack[Printed],
) -> None:
    """Plan a job, write its files, print a summary or the data."""
    asked, shelf = given_job(job, catalogue_file)
    made = plan(asked, catalogue=shelf, progress=tell)
    written: tuple[Path, ...] = ()
    if out is not None:
        options = _options(printed, cards=cards)
        written = write_outputs(made, Path(out), options, progress=tell)
    if as_json:
        click.echo(json_text(plan_to_dict(made)), nl=False)
    else:
        show_design(made.design)
        show_parts(made.design)
        show_findings(made.findings)
        show_cutting(made.cutting, made.job.units)
        if out is not None:
            click.echo(f"{len(written)} files in {out}")
    show_warnings(made.design.warnings)
    _leave(made.findings, strict=strict)


def run_prove(
    *,
    job: str,
    as_json: bool,
    why: tuple[str, ...],
    out: str | None,
    force: bool,
    strict: bool,
    catalogue_file: str | None,
) -> None:
    """List the proofs of a job, worst first, or show some with their full working.

    With a folder, the whole plan is written. What is judged with the layouts and the book is only
    known to the whole plan, which is then made.
    """
    asked, shelf = given_job(job, catalogue_file)
    if out is not None or any(name.upper().startswith(_OF_THE_PLAN) for name in why):
        made = plan(asked, catalogue=shelf, progress=tell)
        if out is not None:
            write_plan(made, Path(out), force=force)
        design, findings = made.design, made.findings
    else:
        design = design_job(asked, catalogue=shelf, progress=tell)
        findings = prove_design(design, catalogue=shelf)
    asked_for = tuple(found for name in why for found in proofs_named(findings, name))
    if as_json:
        rows = [plain(found) | {"shown": found.shown} for found in asked_for or findings]
        click.echo(json_text(rows), nl=False)
    elif asked_for:
        for found in asked_for:
            show_sheet(found, design)
    else:
        show_ranked(findings)
    show_warnings(design.warnings)
    _leave(findings, strict=strict)


def run_book(
    *,
    job: str,
    out: str | None,
    what: Print | None,
    catalogue_file: str | None,
    **printed: Unpack[Printed],
) -> None:
    """Write the plan book of a job, or one print of it alone."""
    asked, shelf = given_job(job, catalogue_file)
    made = plan(asked, catalogue=shelf, progress=tell)
    options = _options(printed)
    path = write_book(made, Path(out or "."), options, what or "book")
    click.echo(f"The {_CALLED[what or 'book']} {path}")
    show_warnings(made.design.warnings)


def _leave(findings: Iterable[Finding], *, strict: bool) -> None:
    if strict and any(found.status == "fail" for found in findings):
        sys.exit(PROOF_FAILED)
