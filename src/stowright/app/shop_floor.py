"""What is noted while building, as changes to the job file: parts cut or spoiled, readings."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from stowright.app.edits import Edits, tables_of

if TYPE_CHECKING:
    from stowright.model.layout import StockUse
    from stowright.model.part import Part

__all__ = [
    "READINGS",
    "add_caliper",
    "add_reading",
    "bad_corner",
    "done_marks",
    "mark_done",
    "mark_spoiled",
    "readings_in",
]

#: What can be read of an opening while building.
READINGS = (
    "width", "height", "depth", "between-runners", "diagonals", "runner-thickness", "box-width",
    "box-diagonals",
)  # fmt: skip
#: A reading in a row of several: its feet, its number with or without a fraction, its unit. It
#: begins where a word does, so that no long row of digits is looked through from each of them.
_READING = re.compile(
    r"""(?<![^\s;])(?:\d+\s*(?:'(?!')|ft\b)\s*)?                     # feet
    [+-]?(?:(?:\d+[ -])?\d+/\d+|\d+(?:[.,]\d+)?|[.,]\d+)          # 19 1/8 or 19.125
    \s*(?:mm|cm|m|inches|inch|in|"|'')?(?=[\s;]|$)""",
    re.VERBOSE,
)
_CORNERS = ("left-bottom", "right-bottom", "left-top", "right-top")


def readings_in(text: str) -> list[str]:
    """Return the readings that stand one after another in a text, each as it was typed.

    Spaces or semicolons part them; a fraction belongs to the whole inches before it, and a unit to
    its number: ``19 1/8 19 3/16 in`` are two. What is no reading is returned as one, to be refused.
    """
    rest = _READING.sub("", text)
    if rest.replace(";", " ").strip():
        return [text.strip()]
    return [found.group().strip() for found in _READING.finditer(text)]


def done_marks(text: str, stage: str) -> frozenset[str]:
    """Return the marks that the job file says are ``cut`` or ``fitted``."""
    rows = tables_of(text).get("done") or []
    return frozenset(
        str(part.get("mark"))
        for row in rows
        if row.get("stage") == stage
        for part in row.get("parts", ())
    )


def mark_done(text: str, part: Part, *, on: bool, stage: str = "cut") -> Edits:
    """Return the change that ticks a part off, with the size it was made to, or takes it back."""
    rows = [dict(row) for row in tables_of(text).get("done") or []]
    row = next((each for each in rows if each.get("stage") == stage), None)
    if row is None:
        row = {"stage": stage, "parts": []}
        rows.append(row)
    kept = [each for each in row.get("parts", ()) if each.get("mark") != part.mark]
    if on:
        size = [f"{value:g} mm" for value in (part.length, part.width, part.thickness)]
        kept.append({"mark": part.mark, "size": size})
    row["parts"] = kept
    left = [each for each in rows if each.get("parts")]
    return {"done": left or None}


def mark_spoiled(text: str, mark: str, *, on: bool) -> Edits:
    """Return the change that says a part was spoiled and has to be cut again.

    What says so already is not changed.
    """
    rows = [dict(each) for each in tables_of(text).get("spoiled") or []]
    kept = [each for each in rows if each.get("mark") != mark]
    if on and len(kept) < len(rows):
        return {}
    if on:
        return {f"spoiled[{len(rows) + 1}]": {"mark": mark}}
    return {"spoiled": kept or None}


def bad_corner(
    text: str, stock: StockUse, *, corner: str, along_mm: float, across_mm: float
) -> Edits:
    """Return the change that keeps a damaged corner of a sheet free of parts.

    A sheet that would be bought becomes a sheet in hand, so that its damage can be written down.

    Args:
        text: The job file.
        stock: The sheet.
        corner: ``left-bottom`` and so on, as the layout shows the sheet.
        along_mm: Size of the damage along the sheet's length. [mm]
        across_mm: Size across it. [mm]
    """
    right, top = corner.startswith("right"), corner.endswith("top")
    x = stock.length - along_mm if right else 0.0
    y = stock.width - across_mm if top else 0.0
    defect = [f"{value:g} mm" for value in (x, y, along_mm, across_mm)]
    rows = tables_of(text).get("sheet") or []
    for place, row in enumerate(rows, start=1):
        if row.get("id") == stock.sheet:
            return {f"sheet[{place}].defects": [*row.get("defects", ()), defect]}
    taken = {str(row.get("id")) for row in rows}
    name = next(f"S{k}" for k in range(1, 1000) if f"S{k}" not in taken)
    fresh: dict[str, Any] = {
        "id": name,
        "material": stock.material,
        "size": [f"{stock.length:g} mm", f"{stock.width:g} mm"],
        "defects": [defect],
    }
    return {f"sheet[{len(rows) + 1}]": fresh}


def add_caliper(text: str, material: str, readings: list[object]) -> Edits:
    """Return the change that adds caliper readings of a material."""
    build = tables_of(text).get("build") or {}
    there = dict(build.get("measured_thickness") or {})
    there[material] = [*there.get(material, ()), *readings]
    return {"build.measured_thickness": there}


def add_reading(text: str, of: dict[str, str], values: list[object]) -> Edits:
    """Return the change that notes a reading taken while building; a new one replaces an old."""
    rows = tables_of(text).get("reading") or []
    fresh = {"of": of, "values": values}
    for place, row in enumerate(rows, start=1):
        if row.get("of") == of:
            return {f"reading[{place}].values": values}
    return {f"reading[{len(rows) + 1}]": fresh}
