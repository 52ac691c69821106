"""Where things stand in the text of a job file, for what is found after it was read."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace

from stowright.errors import JobError, Mistake
from stowright.jobfile.flaws import Flaws, shaped
from stowright.jobfile.naming import deck_names, names_of
from stowright.jobfile.scanner import Path
from stowright.jobfile.shape_job import JobFile
from stowright.jobfile.source import read_source

__all__ = ["line_of", "with_lines"]

_PART = re.compile(r"([\w-]+)((?:\[\d+\])*)")


def with_lines(mistakes: Iterable[Mistake], text: str | bytes) -> tuple[Mistake, ...]:
    """Return mistakes with line and column of their field, those that have none yet."""
    try:
        positions = read_source(text).positions
    except JobError:
        return tuple(mistakes)
    found = []
    for mistake in mistakes:
        line, column = positions.of_value(_path(mistake.field))
        known = mistake.line or not line
        found.append(mistake if known else replace(mistake, line=line, column=column))
    return tuple(found)


def line_of(about: str, text: str | bytes) -> int:
    """Return the line of the block, opening, deck or field that a refusal is about.

    Args:
        about: A name as the job gives it or as it is given by default, alone or with what of it
            is meant after a colon; or a dotted field.
        text: The job file.

    Returns:
        The line, counted from 1; 0 where the file says nothing of it.
    """
    try:
        source = read_source(text)
    except JobError:
        return 0
    job = source.tables.get("job")
    inches = isinstance(job, Mapping) and job.get("units") == "in"
    named = _named(shaped(source.tables, "in" if inches else "mm", Flaws()))
    for name in (about, about.partition(":")[0]):
        if name in named:
            return source.positions.of_value(named[name])[0]
    return source.positions.of_value(_path(about))[0]


def _named(job: JobFile) -> dict[str, Path]:
    """Return where each deck, block and opening stands, by name; an opening goes first."""
    names = names_of(job)
    found: dict[str, Path] = {}
    for place, name in enumerate(deck_names(job)):
        found[name] = ("deck", place)
    for place, name in enumerate(names.blocks):
        found[name] = ("block", place)
    for block, columns in enumerate(names.openings):
        for column, stack in enumerate(columns):
            for row, name in enumerate(stack):
                found[name] = ("block", block, "columns", column, "stack", row)
    return found


def _path(field: str) -> Path:
    steps: list[str | int] = []
    for name, places in _PART.findall(field):
        steps.append(name)
        steps.extend(int(place) - 1 for place in re.findall(r"\d+", places))
    return tuple(steps)
