"""The command ``refit``."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from stowright.app.changes import changes_data
from stowright.app.outputs import OutputOptions
from stowright.app.plain import json_text
from stowright.app.refit_files import write_refit
from stowright.app.refitting import Before, Refitted, before_from, refit_plan
from stowright.app.states import go_back, kept_states
from stowright.cli.errors import JOB_TEXT, PROOF_FAILED
from stowright.cli.reading import STDIN, catalogue_for, given_text, tell
from stowright.cli.show import say, show_cutting, show_table, show_warnings
from stowright.errors import DesignError, FileConflictError, JobError, Mistake

if TYPE_CHECKING:
    from stowright.model.job import Job
    from stowright.model.refit import PartChange, Refit
    from stowright.units import Unit

__all__ = ["run_refit"]


def run_refit(
    *,
    job: str,
    as_json: bool,
    out: str | None,
    force: bool,
    paper: Any,
    projection: Any,
    ink: Any,
    drawings: Any,
    revision: str,
    date: str,
    label_grid: str,
    strict: bool,
    catalogue_file: str | None,
    from_plan: str | None,
    back: int | None,
    states: bool,
    other: str | None,
    mirror: bool,
    target: str | None,
) -> None:
    """Refit a job to what was cut and read, go back to an earlier state, or copy it."""
    if other is not None or mirror:
        _copy(job, catalogue_file, other=other, mirror=mirror, target=target, force=force)
        return
    if states:
        _show_states(out)
        return
    if back is not None:
        _back(job, out, back)
    text = given_text(job)
    options = OutputOptions(
        paper=paper,
        projection=projection,
        ink=ink,
        drawings=drawings,
        force=force,
        revision=revision,
        date=date,
        labels=label_grid,
    )
    made = _refitted(text, job, catalogue_file, from_plan)
    written = ""
    if out is not None:
        paths, state = write_refit(made, Path(out), options, job=text.encode())
        written = f"{len(paths)} files in {out}; this is state {state.number}"
    if as_json:
        click.echo(json_text(changes_data(made)), nl=False)
    else:
        _show(made)
        if written:
            say(written)
    show_warnings(made.plan.design.warnings)
    if strict and any(found.status == "fail" for found in made.plan.findings):
        sys.exit(PROOF_FAILED)


def _refitted(text: str, path: str, catalogue_file: str | None, from_plan: str | None) -> Refitted:
    from stowright.app.loading import load_job
    from stowright.jobfile.places import with_lines

    shelf = catalogue_for(path, catalogue_file)
    asked = load_job(text.encode(), catalogue=shelf)
    click.get_current_context().meta[JOB_TEXT] = text.encode()
    before = None if from_plan is None else _before(from_plan)
    try:
        return refit_plan(asked, catalogue=shelf, before=before, progress=tell)
    except JobError as error:
        raise JobError(with_lines(error.mistakes, text)) from error


def _before(path: str) -> Before:
    try:
        data = json.loads(given_text(path))
    except ValueError as error:
        if isinstance(error, JobError):
            raise
        mistake = Mistake(field=path, found="no JSON", allowed="a plan.json of this program")
        raise JobError((mistake,)) from error
    return before_from(data)


def _back(job: str, out: str | None, number: int) -> None:
    """Put an earlier state's job file back.

    Raises:
        JobError: If there is no such state, or the job is no file.
    """
    if out is None or job == STDIN:
        mistake = Mistake(
            field="--back", found=str(number), allowed="a job file, and --out with its states"
        )
        raise JobError((mistake,))
    state = go_back(Path(out), number, Path(job))
    say(f"{job} is as it was in state {state.number}")


def _copy(
    job: str,
    catalogue_file: str | None,
    *,
    other: str | None,
    mirror: bool,
    target: str | None,
    force: bool,
) -> None:
    """Write a job for another vehicle, and say which parts differ."""
    from stowright.app.files import write_file
    from stowright.app.loading import load_job
    from stowright.app.other_vehicle import for_vehicle, mirrored
    from stowright.app.refitting import changes_between

    text = given_text(job)
    made = text
    if other is not None:
        copied = for_vehicle(text, given_text(other))
        made = copied.text
        show_warnings(copied.said)
    made = mirrored(made) if mirror else made
    if target is None:
        click.echo(made, nl=False)
        return
    path = Path(target)
    if path.exists() and not force:
        raise FileConflictError(target)
    write_file(path, made.encode())
    shelf = catalogue_for(job, catalogue_file)
    one, two = (load_job(each.encode(), catalogue=shelf) for each in (text, made))
    try:
        changes = changes_between(one, two, shelf)
    except DesignError:
        say(f"{target} is written; as it stands it cannot be built")
        raise
    say(f"{target} is written; {len(changes)} parts differ")
    if changes:
        show_table(
            "What changes",
            ("mark", "part", f">here ({one.units})", f">there ({two.units})", "what"),
            [_row(change, one)[:5] for change in changes],
        )


def _show_states(out: str | None) -> None:
    rows = kept_states(Path(out or "."))
    if not rows:
        say("no states are kept here")
        return
    show_table(
        "States",
        (">state", "what changed"),
        [(str(row.number), row.words.replace("\n", "; ")) for row in rows],
    )


def _show(made: Refitted) -> None:
    """Print what changed, old and new side by side, and why."""
    units = made.plan.job.units
    if not made.changes:
        say("No part changes: each keeps its size and its holes.")
    else:
        show_table(
            "Changes",
            ("mark", "part", f">old ({units})", f">new ({units})", "what", "why"),
            [_row(change, made.plan.job) for change in made.changes],
        )
    _show_refit(made.refit, units)
    _show_chances(made)
    show_cutting(made.plan.cutting, units)


def _show_chances(made: Refitted) -> None:
    """Print how many builds of each drawer run, the three ways they can be made."""
    if not made.chances:
        return
    heads = ("drawer", ">as first cut", ">recut", ">recut and shimmed", ">narrower (mm)")
    rows = []
    for name, found in made.chances:
        ways = (found.first, found.recut, found.shimmed)
        shares = (f"{100.0 * way.runs:.1f} %" for way in ways)
        rows.append((name, *shares, f"{found.narrower:g}"))
    builds = made.chances[0][1].builds
    show_table(f"Of {builds} builds of this plan, whatever they read, so many run", heads, rows)


def _row(change: PartChange, job: Job) -> tuple[str, ...]:
    from stowright.book.changes import changes_content

    row = changes_content(job, None, (change,))["rows"][0]
    return tuple(row)


def _show_refit(refit: Refit | None, units: Unit) -> None:
    if refit is None:
        return
    from stowright.book import shim_lines

    for reason in refit.reasons:
        say(f"- {reason}")
    shims = list(shim_lines(refit, units))
    if shims:
        heads = ("opening", "side", "screws at", "lay in")
        show_table("Shims, to begin the trial fit with", heads, shims)
    for line in refit.open:
        say(f"still open: {line}")
