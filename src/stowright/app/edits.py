"""Changes to a job file: as fields, with what they were made from, so that none is swallowed."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

__all__ = [
    "Clash",
    "Edits",
    "clashes",
    "edited",
    "has_moved",
    "tables_of",
    "told",
    "typed",
    "value_at",
    "worded",
]

#: New values by dotted path, list places counted from 1; None takes a key out.
type Edits = Mapping[str, object]

_PART = re.compile(r'(?:([A-Za-z0-9_-]+)|"((?:[^"\\]|\\.)*)")((?:\[\d+\])*)(?:\.|$)')
_PLAIN_NUMBER = re.compile(r"[+-]?\d{1,9}(?:[.,]\d{1,6})?", re.ASCII)
_SHOWN = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """A field that somebody else changed since the person looked at it.

    Attributes:
        path: The field.
        seen: What the person saw.
        now: What stands there now.
        wanted: What the person wants there.
    """

    path: str
    seen: Any
    now: Any
    wanted: Any


@lru_cache(maxsize=16)
def tables_of(text: str) -> Mapping[str, Any]:
    """Return the tables of a job file as plain data, to be looked at and not changed.

    Raises:
        JobError: If it is no TOML.
    """
    from stowright.jobfile.source import read_source

    return read_source(text).tables


def value_at(tables: Any, path: str) -> Any:
    """Return what stands at a dotted path; None when nothing does."""
    here: Any = tables
    for part in _steps(path):
        if isinstance(part, int):
            here = here[part] if isinstance(here, list) and 0 <= part < len(here) else None
        else:
            here = here.get(part) if isinstance(here, Mapping) else None
    return here


def clashes(seen: str, now: str, edits: Edits) -> tuple[Clash, ...]:
    """Return where a change that was made from one text meets another change made since.

    Fields that nobody else touched do not clash. A place in a list is only the same place while
    the list is as long as it was.
    """
    if seen == now:
        return ()
    old, new = tables_of(seen), tables_of(now)
    found = []
    for path, wanted in edits.items():
        was, stands = value_at(old, path), value_at(new, path)
        if stands == wanted and _lists(new, path) == _lists(old, path):
            continue
        if was != stands or _lists(old, path) != _lists(new, path):
            found.append(Clash(path=path, seen=was, now=stands, wanted=wanted))
    return tuple(found)


def edited(text: str, edits: Edits) -> str:
    """Return a job file with fields changed and comments kept; it may not be a valid job.

    Raises:
        JobError: If a value cannot stand in a job file.
        UnknownNameError: If a path leads through something that is not there.
    """
    from stowright.jobfile import save_edits

    return save_edits(text, edits)


def typed(text: str) -> object:
    """Return what a person typed into a field as the job file holds it.

    A plain number becomes one (a comma is read as a point), everything else stays a text: the job
    file reads ``47 1/16 in`` by itself. Nothing typed takes the key out.
    """
    said = text.strip()
    if not said:
        return None
    if _PLAIN_NUMBER.fullmatch(said):
        number = float(said.replace(",", "."))
        return int(number) if number.is_integer() else number
    return said


def told(edits: Edits, before: str) -> str:
    """Return a change in words for the history: ``bay.width 1402 → 1395``."""
    tables = tables_of(before)
    parts = [
        f"{path} {worded(value_at(tables, path), none='none')} → {worded(value, none='none')}"
        for path, value in edits.items()
    ]
    return "; ".join(parts)


def worded(value: object, *, none: str = "nothing") -> str:
    """Return a value of a job file in words, cut short where it is long."""
    text = _plain(value, none)
    return text if len(text) <= _SHOWN else f"{text[: _SHOWN - 1]}…"


def _plain(value: object, none: str) -> str:
    match value:
        case None:
            return none
        case bool():
            return "yes" if value else "no"
        case Mapping():
            return ", ".join(f"{key} {_plain(each, none)}" for key, each in value.items())
        case list() | tuple():
            return " ".join(_plain(each, none) for each in value)
        case _:
            return str(value)


def has_moved(before: str, now: str, path: str) -> bool:
    """Return whether a path may lead to another row of a list than it did in an earlier text.

    What was added at the end of a list moves nothing; what was taken out, or put elsewhere, does.

    Raises:
        JobError: If one of the texts is no TOML.
    """
    old, new = (_rows_on(tables_of(text), path) for text in (before, now))
    return any(
        _is_shifted(was, rows, place) for (was, place), (rows, _) in zip(old, new, strict=True)
    )


def _is_shifted(was: Any, rows: Any, place: int) -> bool:
    if not isinstance(was, list):
        return False
    if not isinstance(rows, list) or len(rows) < len(was):
        return True
    if not 0 <= place < len(was) or _tells_all_of(rows[place], was[place]):
        return False
    changed = (row for row, old in zip(rows, was, strict=False) if not _tells_all_of(row, old))
    return any(_tells_all_of(row, was[place]) for row in changed)


def _tells_all_of(row: Any, old: Any) -> bool:
    """Return whether a row is an earlier one, as it was or with defaults written out."""
    if isinstance(row, Mapping) and isinstance(old, Mapping):
        return all(key in row and _tells_all_of(row[key], value) for key, value in old.items())
    if isinstance(row, list) and isinstance(old, list) and len(row) == len(old):
        return all(map(_tells_all_of, row, old))
    return bool(row == old)


def _lists(tables: Any, path: str) -> tuple[int, ...]:
    """Return how long each list on the way to a path is."""
    return tuple(len(rows) if isinstance(rows, list) else -1 for rows, _ in _rows_on(tables, path))


def _rows_on(tables: Any, path: str) -> list[tuple[Any, int]]:
    """Return each list on the way to a path, or what stands for it, and the place in it."""
    found: list[tuple[Any, int]] = []
    here: Any = tables
    for part in _steps(path):
        if isinstance(part, int):
            found.append((here, part))
            here = here[part] if isinstance(here, list) and 0 <= part < len(here) else None
        else:
            here = here.get(part) if isinstance(here, Mapping) else None
    return found


def _steps(path: str) -> list[str | int]:
    steps: list[str | int] = []
    for match in _PART.finditer(path):
        if match[0]:
            steps.append(match[1] if match[1] is not None else match[2])
            steps.extend(int(place) - 1 for place in re.findall(r"\[(\d+)\]", match[3]))
    return steps
