"""A change along a range as files and from a terminal: values read, a table, curves."""

from __future__ import annotations

import csv
import io
from contextlib import suppress
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING

from stowright.app.files import write_files
from stowright.app.plain import json_text, plain
from stowright.errors import JobError, Mistake
from stowright.units import parse_length, parse_mass

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stowright.app.what_if import WhatIf
    from stowright.explore.measures import Criterion
    from stowright.units import Unit

__all__ = ["value_text", "values_of", "write_what_if"]

#: Steps where a range names none.
USUAL_STEPS = 10
_MOST_STEPS = 200
#: Of one small chart. [px]
_WIDE, _HIGH, _EDGE = 300.0, 130.0, 26.0
#: How a value begins that is written as TOML writes it.
_OPENS = ("[", "{", '"', "'")
_ALLOWED = "field=1380..1420:5 (from, to, step), field=1380..1420, or field=one,two,three"


def values_of(change: str, *, units: Unit = "mm") -> tuple[str, tuple[float | str, ...]]:
    """Return the field and its values from ``bay.width=1380..1420:5`` or ``…=14.2,14.6``.

    Args:
        change: The field and its values. Lists, tables and quoted texts are as TOML writes them.
        units: The job's unit; ``47 1/16`` and ``1195 mm`` become numbers in it.

    Raises:
        JobError: If it cannot be read.
    """
    field, equals, told = change.partition("=")
    if not equals or not field.strip() or not told.strip():
        raise _refused(change)
    if ".." in told and not told.strip().startswith(_OPENS):
        return field.strip(), _range(told, change, units)
    return field.strip(), tuple(_one(each, units) for each in _split(told))


def _range(told: str, change: str, units: Unit) -> tuple[float, ...]:
    ends, _, step_text = told.partition(":")
    first, _, last = ends.partition("..")
    start, end = _number(first, units), _number(last, units)
    if start is None or end is None:
        raise _refused(change)
    step = _number(step_text, units) if step_text else (end - start) / USUAL_STEPS
    if step is None or not abs(step) > 0.0 or not 0.0 < (end - start) / step <= _MOST_STEPS:
        raise _refused(change)
    count = int((end - start) / step + 1.0e-9)
    return tuple(round(start + k * step, 6) for k in range(count + 1))


def _one(text: str, units: Unit) -> float | str:
    number = _number(text, units)
    return text.strip() if number is None else number


def _number(text: str, units: Unit) -> float | None:
    """Return a number, a length in the job's unit, or a mass in kilograms; None of other text."""
    said = text.strip()
    if said.startswith(_OPENS):
        return None
    try:
        return float(said)
    except ValueError:
        pass
    with suppress(JobError):
        return round(parse_length(said, units=units) / (25.4 if units == "in" else 1.0), 9)
    with suppress(JobError):
        return parse_mass(said)
    return None


def _split(told: str) -> list[str]:
    """Return what stands between commas that are in no list, table or quoted text."""
    found, depth, quote = [""], 0, ""
    for sign in told:
        if quote:
            quote = "" if sign == quote else quote
        elif sign in "\"'":
            quote = sign
        depth += 0 if quote else (sign in "[{") - (sign in "]}")
        if sign == "," and depth == 0 and not quote:
            found.append("")
        else:
            found[-1] += sign
    return found


def value_text(value: float | str) -> str:
    """Return a value as a person writes it: ``1400``, not ``1400.0``."""
    return value if isinstance(value, str) else f"{value:.10g}"


def _refused(change: str) -> JobError:
    return JobError((Mistake(field="--what-if", found=change, allowed=_ALLOWED),))


def write_what_if(found: WhatIf, folder: str | Path, *, force: bool = False) -> tuple[Path, ...]:
    """Write ``what-if.html`` (curves and flips), ``what-if.csv`` and ``what-if.json``.

    Raises:
        FileConflictError: If a file stands in the way that no earlier run wrote.
        OSError: If the folder cannot be written.
    """
    contents = {
        "what-if.html": _page(found).encode(),
        "what-if.csv": _csv(found).encode(),
        "what-if.json": json_text(plain(found)).encode(),
    }
    return write_files(Path(folder), contents, force=force, whole=False)


def _criteria(found: WhatIf) -> tuple[Criterion, ...]:
    from stowright.explore.measures import criteria_known

    return criteria_known(p.measures for p in found.points if p.measures is not None)


def _csv(found: WhatIf) -> str:
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\n")
    criteria = _criteria(found)
    rows.writerow([found.field, *(each.name for each in criteria), "fails"])
    for point in found.points:
        values = [
            "" if point.measures is None else f"{getattr(point.measures, each.name):.6g}"
            for each in criteria
        ]
        rows.writerow([value_text(point.value), *values, "; ".join(point.failing)])
    return text.getvalue()


def _page(found: WhatIf) -> str:
    from stowright.explore.wording import FIRST_LAYOUT

    charts = "".join(_chart(found, each) for each in _criteria(found))
    flips = "".join(
        f"<li>{escape(f.told)} holds at {escape(value_text(f.holds))}, "
        f"fails at {escape(value_text(f.fails))}</li>"
        for f in found.flips
    )
    told = f"<ul>{flips}</ul>" if flips else "<p>No proof flips between these values.</p>"
    title = escape(f"What if {found.field} changes")
    note = escape(f"Filled marks: nothing fails. Open marks: something does. {FIRST_LAYOUT}")
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width,initial-scale=1">'
        f"<title>{title}</title><style>body{{font:16px/1.4 system-ui,sans-serif;margin:2rem}}"
        "figure{display:inline-block;margin:.5rem}figcaption{font-size:.9rem}</style></head>"
        f"<body><h1>{title}</h1>{charts}<h2>Where proofs flip</h2>{told}"
        f"<p>{note}</p></body></html>\n"
    )


def _chart(found: WhatIf, criterion: Criterion) -> str:
    """Return one curve as a small figure: the values from left to right, one mark each."""
    made = [(k, p) for k, p in enumerate(found.points) if p.measures is not None]
    whole = 100.0 if criterion.unit == "%" else 1.0
    ys = [whole * float(getattr(p.measures, criterion.name)) for _, p in made]
    low, high = min(ys), max(ys)
    across = _across(found)
    places = [_place(across[k], y, low, high) for (k, _), y in zip(made, ys, strict=True)]
    line = " ".join(f"{x:.1f},{y:.1f}" for x, y in places)
    marks = "".join(
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3.5" stroke="#1f5c57" '
        f'fill="{"#fff" if p.failing else "#1f5c57"}"/>'
        for (x, y), (_, p) in zip(places, made, strict=True)
    )
    ends = sorted(zip(across, found.points, strict=True), key=lambda pair: pair[0])
    labels = _labels([value_text(p.value) for _, p in (ends[0], ends[-1])], low, high)
    unit = f" ({criterion.unit})" if criterion.unit else ""
    return (
        f'<figure><svg width="{_WIDE:g}" height="{_HIGH:g}" role="img" '
        f'aria-label="{escape(criterion.title)}"><polyline points="{line}" fill="none" '
        f'stroke="#1f5c57"/>{marks}{labels}</svg>'
        f"<figcaption>{escape(criterion.title + unit)}</figcaption></figure>"
    )


def _across(found: WhatIf) -> list[float]:
    """Return where each value stands, 0 to 1: numbers by their size, names one beside another."""
    values = [point.value for point in found.points]
    numbers = [value for value in values if not isinstance(value, str)]
    if len(numbers) < len(values):
        numbers = [float(k) for k in range(len(values))]
    low, high = min(numbers), max(numbers)
    return [(value - low) / (high - low) if high > low else 0.5 for value in numbers]


def _place(across: float, y: float, low: float, high: float) -> tuple[float, float]:
    up = (y - low) / (high - low) if high > low else 0.5
    left = 2.0 * _EDGE
    return left + across * (_WIDE - left - _EDGE), _HIGH - _EDGE - up * (_HIGH - 2.0 * _EDGE)


def _labels(ends: Sequence[str], low: float, high: float) -> str:
    def text(x: float, y: float, said: str, anchor: str) -> str:
        return (
            f'<text x="{x:g}" y="{y:g}" font-size="11" text-anchor="{anchor}">{escape(said)}</text>'
        )

    left, right = 2.0 * _EDGE, _WIDE - _EDGE
    rows = text(left, _HIGH - 6.0, ends[0], "middle") + text(right, _HIGH - 6.0, ends[1], "middle")
    for value in dict.fromkeys((low, high)):
        rows += text(left - 8.0, _place(0.0, value, low, high)[1] + 4.0, f"{value:.4g}", "end")
    return rows
