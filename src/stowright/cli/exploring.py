"""The command ``explore``: many designs compared, or one number changed along a range."""

from __future__ import annotations

import signal
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

from stowright.app.explore_files import exploration_data, write_exploration
from stowright.app.exploring import explore_job
from stowright.app.plain import json_text, plain
from stowright.app.what_if import what_if
from stowright.app.what_if_files import value_text, values_of, write_what_if
from stowright.cli.reading import given_job, tell
from stowright.cli.show import say, show_table
from stowright.explore.budget import Budget

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from stowright.app.outputs import Ink, Paper
    from stowright.app.what_if import WhatIf
    from stowright.explore.design_search import Told
    from stowright.explore.exploring import Candidate, Exploration
    from stowright.explore.workers import Client
    from stowright.model.catalogue import Catalogue
    from stowright.model.job import Job
    from stowright.units import Unit

__all__ = ["run_explore"]

#: Heads of the columns, short enough for a terminal.
_HEADS = {
    "litres": "room",
    "mass_kg": "mass",
    "sheets": "sheets",
    "cost": "cost",
    "axle_margin_kg": "axle left",
    "height_mm": "height",
    "sleeping_mm": "to sleep",
    "worst_use": "most used",
    "cuts": "cuts",
}


def run_explore(
    *,
    job: str,
    as_json: bool,
    out: str | None,
    force: bool,
    paper: Paper,
    ink: Ink,
    seed: int,
    keep: int,
    quick: int,
    whole: int,
    time_limit_s: float | None,
    workers: int | None,
    cluster: str | None,
    change: str | None,
    catalogue_file: str | None,
) -> None:
    """Compare designs, or run one number along a range; write files; print a summary or data."""
    asked, shelf = given_job(job, catalogue_file)
    if change is not None:
        _change(asked, shelf, change, out=out, force=force, as_json=as_json)
        return
    with _asked_to_stop() as stop:
        found = explore_job(
            asked,
            catalogue=shelf,
            seed=seed,
            budget=Budget(quick=quick, whole=whole),
            keep=keep,
            time_limit_s=time_limit_s,
            workers=workers,
            client=_client(cluster),
            progress=_told,
            should_stop=stop,
        )
    if out is not None:
        written = write_exploration(found, asked, shelf, out, paper=paper, ink=ink, force=force)
    if as_json:
        click.echo(json_text(exploration_data(found)), nl=False)
        return
    _show(found, asked.units)
    if out is not None:
        say(f"{len(written)} files in {out}")


@contextmanager
def _asked_to_stop() -> Iterator[Callable[[], bool]]:
    """Yield whether Ctrl-C was pressed: once ends the search with the best so far, twice all."""
    asked: list[int] = []

    def stop(number: int, _: object) -> None:
        if asked:
            raise KeyboardInterrupt
        asked.append(number)
        tell("stopping with the best so far; again to stop at once")

    before = signal.signal(signal.SIGINT, stop)
    try:
        yield lambda: bool(asked)
    finally:
        signal.signal(signal.SIGINT, before)


def _client(cluster: str | None) -> Client | None:
    if cluster is None:
        return None
    from stowright.app.cluster import cluster_client

    return cluster_client(cluster)


def _told(told: Told) -> None:
    serving = sum(row.serves for row in told.best)
    tell(
        f"{100.0 * told.share:.0f} %: {told.quick} judged by their bodies, {told.whole} proved; "
        f"{serving} serve and are beaten by no other"
    )


def _show(found: Exploration, units: Unit) -> None:
    from stowright.book.comparison import told
    from stowright.explore.wording import shown

    rows = [(str(k), candidate) for k, candidate in enumerate(found.kept, start=1)]
    rows += [("job", found.asked)] if found.asked is not None else []
    show_table(
        "Designs compared",
        ("", *(f">{_HEADS[each.name]}" for each in found.criteria)),
        [
            (
                name,
                *(shown(each, getattr(c.measures, each.name), units) for each in found.criteria),
            )
            for name, c in rows
        ],
    )
    for k, candidate in enumerate(found.kept, start=1):
        say(f"{k}. {candidate.name}: {_words(candidate)}.")
    for line in told(found):
        say(line)


def _words(candidate: Candidate) -> str:
    from stowright.book.comparison import failing

    if candidate.judged.wrong:
        return f"does not serve yet; what fails: {failing(candidate.judged)}"
    words = [f"best at {', '.join(candidate.best_at)}"] if candidate.best_at else []
    words += [f"gives up {', '.join(candidate.gives_up)}"] if candidate.gives_up else []
    return "; ".join(words) or "between others"


def _change(
    job: Job, shelf: Catalogue, change: str, *, out: str | None, force: bool, as_json: bool
) -> None:
    field, values = values_of(change, units=job.units)
    found = what_if(
        job, field, values, catalogue=shelf, progress=lambda s: tell(f"{100.0 * s:.0f} %")
    )
    if out is not None:
        write_what_if(found, out, force=force)
    if as_json:
        click.echo(json_text(plain(found)), nl=False)
        return
    _show_change(found, job.units)


def _show_change(found: WhatIf, units: Unit) -> None:
    from stowright.explore.measures import criteria_known
    from stowright.explore.wording import FIRST_LAYOUT, shown

    criteria = criteria_known(p.measures for p in found.points if p.measures is not None)
    heads = (found.field, *(f">{_HEADS[each.name]}" for each in criteria), ">fail")
    rows = []
    for point in found.points:
        values = [
            shown(each, getattr(point.measures, each.name), units) if point.measures else "–"
            for each in criteria
        ]
        rows.append((value_text(point.value), *values, str(len(point.failing) or "none")))
    show_table("What if", heads, rows)
    for point in found.points:
        if point.failing:
            say(f"At {value_text(point.value)}: {'; '.join(point.told)}.")
    for flip in found.flips:
        say(f"{flip.told} holds at {value_text(flip.holds)} and fails at {value_text(flip.fails)}.")
    if not found.flips:
        say("No proof flips between these values.")
    say(FIRST_LAYOUT)
