"""A job file told in another unit: every length stays what it is, comments stay where they are."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from stowright.app.edits import tables_of
from stowright.units import Unit, parse_length

__all__ = ["in_unit"]

#: Keys whose plain numbers are no lengths.
_NO_LENGTHS = frozenset(
    {
        "format", "mass", "quantity", "count", "price", "weight", "front_axle", "rear_axle",
        "total", "tension", "shear", "vent", "rails", "people_in_weighed", "rating", "lateral",
        "stop", "lock", "service_class", "people", "vehicle", "flat",
    }
)  # fmt: skip


def in_unit(text: str, units: Unit) -> str:
    """Return a job file whose unit is another one and whose lengths are the same.

    Raises:
        JobError: If the text is no valid job.
    """
    from stowright.jobfile import dump_job, read_job, save_edits

    before = read_job(text)
    if before.units == units:
        return text
    edits: dict[str, object] = {"job.units": units}
    for path, value in _lengths(tables_of(text), ""):
        edits[path] = _told(parse_length(value, units=before.units), units)
    changed = save_edits(text, edits)
    wanted = replace(before, units=units, assumed=(), warnings=())
    if replace(read_job(changed), assumed=(), warnings=()) == wanted:
        return changed
    return dump_job(replace(before, units=units))


def _lengths(value: Any, path: str, key: str = "") -> Iterator[tuple[str, float | str]]:
    """Every length in plain data that depends on the job's unit, with its path."""
    if isinstance(value, Mapping):
        for each, inner in value.items():
            shown = each if each.replace("-", "").replace("_", "").isalnum() else f'"{each}"'
            yield from _lengths(inner, f"{path}.{shown}".lstrip("."), each)
    elif isinstance(value, list):
        for place, inner in enumerate(value, start=1):
            yield from _lengths(inner, f"{path}[{place}]", key)
    elif isinstance(value, bool) or key in _NO_LENGTHS:
        return
    elif isinstance(value, int | float) or _bare(value):
        yield path, value


def _bare(value: Any) -> bool:
    """Whether a text is a length without a unit of its own, as ``47 1/16``."""
    if not isinstance(value, str) or not value[:1].isdigit():
        return False
    return all(sign.isdigit() or sign in " /.-" for sign in value)


def _told(mm: float, units: Unit) -> object:
    from stowright.jobfile.dump_text import length_text

    return tomllib.loads(f"value = {length_text(mm, units)}")["value"]
