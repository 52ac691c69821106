"""Where a field stands in the text of a job file, for mistakes found after it was read."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from stowright.errors import JobError, Mistake
from stowright.jobfile.scanner import Path
from stowright.jobfile.source import read_source

__all__ = ["with_lines"]

_PART = re.compile(r"([\w-]+)((?:\[\d+\])*)")


def with_lines(mistakes: Iterable[Mistake], text: str) -> tuple[Mistake, ...]:
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


def _path(field: str) -> Path:
    steps: list[str | int] = []
    for name, places in _PART.findall(field):
        steps.append(name)
        steps.extend(int(place) - 1 for place in re.findall(r"\d+", places))
    return tuple(steps)
