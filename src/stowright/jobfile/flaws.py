"""Mistakes on their way to the reader: found by path, told by line and column.

``shaped`` reads the tables into their shape. A value that is refused is noted and then left out,
so that everything else in the file can still be checked: all mistakes are told at once.
"""

from __future__ import annotations

import copy
import datetime as dt
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from stowright.errors import JobError, Mistake
from stowright.jobfile.keys import (
    field_text,
    header,
    known_keys,
    nearest_name,
    own_keys,
    pattern_of,
    shape_at,
    tables_with,
    walk,
)
from stowright.jobfile.scanner import Path, Positions
from stowright.jobfile.shape_job import JobFile
from stowright.units import Unit

__all__ = ["Flaw", "Flaws", "found_text", "shaped", "too_many"]

_ROUNDS = 4  # the second round is clean unless a value hid another one inside it
_MEASURED = ("build", "measured_thickness")
_QUOTED = re.compile(r"'([^']*)'")
_MOST_TOLD = 200
_KEYS_SHOWN = 4
_MOST_TABLES = 200
#: Lists that grow while a job is built, and so may be longer.
_LONG_LISTS = ("carry", "sheet", "done", "parts", "spoiled", "reading")
_MOST_IN_LONG = 5000


@dataclass(frozen=True, slots=True, kw_only=True)
class Flaw:
    """One mistake by path; ``at`` says whether the key or the value is to blame."""

    path: Path
    found: str
    allowed: str
    nearest: str = ""
    at: Literal["key", "value"] = "value"


@dataclass(slots=True)
class Flaws:
    """Every mistake found so far, and which paths were left out because of one."""

    found: list[Flaw] = field(default_factory=list)
    left_out: set[Path] = field(default_factory=set)

    def add(self, path: Path, found: str, allowed: str, nearest: str = "") -> None:
        """Note a mistake in a value."""
        self.found.append(Flaw(path=path, found=found, allowed=allowed, nearest=nearest))

    def is_left_out(self, path: Path) -> bool:
        """Say whether a path, or what holds it, was left out because of a mistake."""
        return any(path[:size] in self.left_out for size in range(1, len(path) + 1))

    def raise_any(self, positions: Positions) -> None:
        """Raise every mistake in the order of the file, if there is one.

        Raises:
            JobError: With all mistakes.
        """
        if not self.found:
            return
        told = [(_placed(flaw, positions), order) for order, flaw in enumerate(self.found)]
        told.sort(key=lambda each: (each[0].line or 10**9, each[0].column, each[1]))
        kept = dict.fromkeys(mistake for mistake, _ in told)
        raise JobError(tuple(kept)[:_MOST_TOLD])


def shaped(tables: Mapping[str, object], units: Unit, flaws: Flaws) -> JobFile:
    """Read tables into their shape, noting what is refused and leaving it out."""
    data = copy.deepcopy(dict(tables))
    for _ in range(_ROUNDS):
        try:
            shape = JobFile.model_validate(data, context={"units": units})
        except ValidationError as error:
            for details in error.errors(include_url=False):
                path = _real_path(details["loc"], data)
                flaw = _flaw(details, path)
                flaws.found.append(flaw)
                flaws.left_out.add(_leave_out(data, path))
                if flaw.at == "key" and flaw.nearest:  # a slip explains the key that it hides
                    flaws.left_out.add((*path[:-1], flaw.nearest))
        else:
            break
    else:  # every table is optional, so an empty file always has a shape
        shape = JobFile.model_validate({})
    _required(shape, flaws)
    return shape


def too_many(shape: JobFile, flaws: Flaws) -> bool:
    """Note lists that are longer than those of any job; nothing else is looked at then."""
    for path, table in walk(shape):
        for key in type(table).model_fields:
            several = getattr(table, key)
            most = _MOST_IN_LONG if key in _LONG_LISTS else _MOST_TABLES
            if isinstance(several, list) and len(several) > most:
                flaws.add((*path, key), f"{len(several)} entries", f"at most {most}")
                return True
    return False


def found_text(value: object) -> str:
    """Print what was found: short, in one line, as a person would name it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list | tuple):
        inside = ", ".join(found_text(each) for each in value[:6])
        return f"[{inside}{', …' if len(value) > 6 else ''}]"[:80]
    if isinstance(value, dt.date | dt.time):
        return f"the date or time {value}"
    text = repr(value) if isinstance(value, str) else str(value)
    text = f'"{text[1:-1]}"' if isinstance(value, str) else text
    return text if len(text) <= 60 else f"{text[:57]}…"


def _placed(flaw: Flaw, positions: Positions) -> Mistake:
    finder = positions.of_key if flaw.at == "key" else positions.of_value
    line, column = finder(flaw.path)
    return Mistake(
        field=field_text(flaw.path),
        found=flaw.found,
        allowed=flaw.allowed,
        line=line,
        column=column,
        nearest=flaw.nearest,
    )


def _real_path(loc: Sequence[str | int], data: Mapping[str, Any]) -> Path:
    """Cut a path to what stands in the file; a number may stand for a table of one key."""
    here: Any = data
    path: list[str | int] = []
    for part in loc:
        try:
            here = here[part]
        except (KeyError, IndexError, TypeError):
            break
        path.append(part)
    return tuple(path)


def _leave_out(data: dict[str, Any], path: Path) -> Path:
    """Take a refused value out and return the path that is gone.

    A table in a list is emptied rather than removed, so that the places of the others hold; any
    other list goes as a whole.
    """
    holders: list[Any] = [data]
    for part in path[:-1]:
        holders.append(holders[-1][part])
    while path and isinstance(path[-1], int) and not _holds_tables(path):
        path, holders = path[:-1], holders[:-1]
    if not path:
        data.clear()
    elif isinstance(path[-1], int):
        holders[-1][path[-1]] = {}
    else:
        holders[-1].pop(path[-1], None)
    return path


def _holds_tables(path: Path) -> bool:
    return shape_at(pattern_of(path)) is not None


def _flaw(details: ErrorDetails, path: Path) -> Flaw:
    kind, found = details["type"], found_text(details["input"])
    if kind == "extra_forbidden":
        return _unknown_key(path, details["input"])
    allowed, nearest = details["msg"], ""
    context = details.get("ctx", {})
    if kind == "literal_error":
        choices = _QUOTED.findall(str(context["expected"]))
        allowed = " | ".join(each or '""' for each in choices)
        if isinstance(details["input"], str):
            nearest = nearest_name(details["input"], [each for each in choices if each])
    elif kind in _WORDS:
        allowed = _WORDS[kind]
        if kind in ("model_type", "model_attributes_type", "list_type"):
            allowed = _table_words(path, details["input"], allowed)
    elif kind == "stowright" and path[:2] == _MEASURED and isinstance(details["input"], dict):
        allowed = f"{allowed}; the name of a material has no dot"
    elif kind == "stowright":
        nearest = "share" if "share" in allowed and _is_near_share(details["input"]) else ""
    return Flaw(path=path, found=found, allowed=allowed, nearest=nearest)


def _is_near_share(value: object) -> bool:
    return isinstance(value, str) and bool(nearest_name(value, ("share",)))


_WORDS = {
    "string_type": "a text in quotes",
    "bool_type": "true or false",
    "int_type": "a whole number",
    "float_type": "a number",
    "list_type": "a list",
    "dict_type": "a table",
    "model_type": "a table",
    "model_attributes_type": "a table",
}


def _table_words(path: Path, value: object, plain: str) -> str:
    """Say how a table or list is written where one stands for the other."""
    pattern = pattern_of(path)
    shape = shape_at(pattern)
    if shape is None:
        return plain
    if isinstance(value, dict):
        return f"a list of tables, each written {header(pattern)} or {{ … }} inside [ ]"
    if isinstance(value, list):
        return f"a table: {header(pattern)}"
    keys = ", ".join(f"{key} = …" for key in own_keys(shape)[:_KEYS_SHOWN])
    return f"{plain} of tables {{ {keys} }}" if plain == "a list" else f"{plain} {{ {keys} }}"


def _unknown_key(path: Path, value: object) -> Flaw:
    """Tell an unknown key: the table that it belongs to, else the nearest key of this one."""
    *parents, key = path
    pattern, name = pattern_of(tuple(parents)), str(key)
    shape = shape_at(pattern)
    homes = tables_with(name, pattern)
    if homes:
        belongs = ", ".join(header(home) for home in homes[:3])
        nearest = ".".join((*homes[0], name))
        allowed = f"{name} belongs to {belongs}; plain keys of a table stand before its sub-tables"
    else:
        own = own_keys(shape) if shape else ()
        nearest = nearest_name(name, known_keys(shape) if shape else ())
        allowed = f"keys of {header(pattern)}: {', '.join(own)}"
        if shape and len(own) < len(known_keys(shape)):
            allowed += ", and any key of [build]"
        if not nearest:
            nearest = _nearest_elsewhere(name)
    place = f"in {header(pattern)}" if pattern else "at the top of the file"
    sort = "table" if isinstance(value, dict) or _is_tables(value) else "key"
    return Flaw(
        path=path,
        found=f"the {sort} {name[:60]} {place}",
        allowed=allowed,
        nearest=nearest,
        at="key",
    )


def _is_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and isinstance(value[0], dict)


def _nearest_elsewhere(name: str) -> str:
    """Return a near key of the tables that people write most, with its table."""
    for pattern in (("job",), ("bay",), ("build",), ("block",), ("deck",)):
        shape = shape_at(pattern)
        near = nearest_name(name, own_keys(shape)) if shape else ""
        if near:
            return ".".join((*pattern, near))
    return ""


def _required(shape: JobFile, flaws: Flaws) -> None:
    """Note every required key that is missing, unless it was there and refused."""
    for path, table in walk(shape):
        instead = type(table).instead
        stands_in = bool(instead) and getattr(table, instead) is not None
        for key in () if stands_in else type(table).needs:
            missing = getattr(table, key) is None
            if missing and not flaws.is_left_out((*path, key)):
                sort = "table" if shape_at(pattern_of((*path, key))) else "key"
                flaws.add((*path, key), "nothing", f"this {sort} is required")
