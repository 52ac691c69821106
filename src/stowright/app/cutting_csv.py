"""Parts as comma-separated text: the cutting list out, a list of parts in."""

from __future__ import annotations

import csv
import io
import math
from typing import TYPE_CHECKING, Any

from stowright.errors import Mistake
from stowright.model.layout import CutPart

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from stowright.model.part import Part

__all__ = ["COLUMNS", "cutting_csv", "rows_from_csv"]

#: The columns that a list of parts has; ``grain`` and ``quantity`` may be left out.
COLUMNS = ("mark", "length", "width", "quantity", "grain")

_GRAIN = {"yes": True, "long": True, "true": True, "1": True}
_NO_GRAIN = {"": False, "no": False, "free": False, "false": False, "0": False}
_MOST_QUANTITY = 10_000
_MOST_MM = 20_000.0


def cutting_csv(parts: Iterable[Part]) -> str:
    """Return the cutting list of a design: a row for each different part, sizes in mm."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    head = ("mark", "length", "width", "quantity", "grain")
    writer.writerow((*head, "thickness", "material", "name", "block", "module", "release", "edges"))
    for part in parts:
        size = (f"{part.length:.10g}", f"{part.width:.10g}")
        grain = "yes" if part.grain == "long" else "no"
        where = (part.name, part.block, part.module, part.release, " ".join(part.edges))
        row = (part.mark, *size, part.quantity, grain, f"{part.thickness:.10g}", part.material)
        writer.writerow((*row, *where))
    return text.getvalue()


def rows_from_csv(
    text: str, *, material: str = "sheet"
) -> tuple[list[tuple[int, CutPart]], list[Mistake]]:
    """Return the sound rows of a list, each with its line, and every mistake in the others.

    Args:
        text: The file's text; further columns are left alone. Sizes in millimetres; ``grain`` is
            yes where the length must run along the sheet's length.
        material: Name given to the material of all parts.
    """
    lines = text.removeprefix("\ufeff").splitlines()
    above = next((n for n, line in enumerate(lines) if line.strip()), 0)  # empty lines on top
    reader = csv.DictReader(lines[above:], skipinitialspace=True)
    mistakes = _wrong_head(reader, lines[above] if lines else "", above + 1)
    if mistakes:
        return [], mistakes
    rows: list[tuple[int, CutPart]] = []
    marks: dict[str, list[int]] = {}
    try:
        for row in filter(_filled, reader):
            line, before = above + reader.line_num, len(mistakes)
            part = _part(row, line, material, mistakes)
            rows += [(line, part)] if len(mistakes) == before else []
            marks.setdefault(part.mark, []).append(line)
    except csv.Error as error:
        mistakes.append(
            _mistake("row", str(error), "comma-separated text", above + reader.line_num)
        )
    for mark, used in marks.items():
        first = f"each mark once; it stands in line {used[0]} already"
        mistakes += [_mistake("mark", f"{mark} again", first, line) for line in used[1:] if mark]
    if not rows and not mistakes:
        mistakes.append(_mistake("parts", "no row", "at least one part", above + 1))
    return rows, mistakes


def _wrong_head(reader: csv.DictReader[str], head: str, line: int) -> list[Mistake]:
    """Put the columns' names into the reader; return what is wrong with them."""
    try:
        names = [name.strip().lower() for name in reader.fieldnames or ()]
    except csv.Error as error:
        return [_mistake("row", str(error), "comma-separated text", line)]
    reader.fieldnames = names
    lacking = [name for name in ("mark", "length", "width") if name not in names]
    if lacking and "," not in head and (";" in head or "\t" in head):
        found = "semicolons" if ";" in head else "tabs"
        allowed = "commas, and a point in numbers"
        return [_mistake("row", f"columns divided by {found}", allowed, line)]
    columns = f"columns {', '.join(COLUMNS)}"
    return [_mistake(name, "no such column", columns, line) for name in lacking] + [
        _mistake(name, "two such columns", "each column once", line)
        for name in COLUMNS
        if names.count(name) > 1
    ]


def _filled(row: Mapping[str, str | None]) -> bool:
    """Tell whether anything stands in a row; what stands beyond the columns counts too."""
    cells = (cell if isinstance(cell, str) else "".join(cell or ()) for cell in row.values())
    return any(cell.strip() for cell in cells)


def _part(
    row: Mapping[str, str | None], line: int, material: str, mistakes: list[Mistake]
) -> CutPart:
    mark = (row.get("mark") or "").strip()
    if not mark:
        mistakes.append(_mistake("mark", "nothing", "a short name", line))
    if any(cell.strip() for cell in _beyond(row)):
        allowed = "a value for each column, with a point in numbers"
        mistakes.append(_mistake("row", "more values than columns", allowed, line))
    return CutPart(
        mark=mark,
        length=_size(row, "length", line, mistakes),
        width=_size(row, "width", line, mistakes),
        quantity=_quantity(row, line, mistakes),
        material=material,
        grain=_grain(row, line, mistakes),
    )


def _beyond(row: Mapping[Any, Any]) -> list[str]:
    """Return the cells beyond the columns; the reader keeps them under None."""
    return list(row.get(None) or ())


def _size(row: Mapping[str, str | None], name: str, line: int, mistakes: list[Mistake]) -> float:
    cell = (row.get(name) or "").strip()
    try:
        value = float(cell)
    except ValueError:
        value = math.nan
    if not 0.0 < value <= _MOST_MM:
        allowed = f"millimetres above 0 and at most {_MOST_MM:g}"
        mistakes.append(_mistake(name, cell or "nothing", allowed, line))
        return 1.0
    return value


def _quantity(row: Mapping[str, str | None], line: int, mistakes: list[Mistake]) -> int:
    cell = (row.get("quantity") or "").strip() or "1"
    value = int(cell) if cell.isascii() and cell.isdigit() and len(cell) < 9 else 0
    if not 0 < value <= _MOST_QUANTITY:
        allowed = f"a whole number from 1 to {_MOST_QUANTITY}; for none leave the row out"
        mistakes.append(_mistake("quantity", cell, allowed, line))
        return 1
    return value


def _grain(row: Mapping[str, str | None], line: int, mistakes: list[Mistake]) -> bool:
    cell = (row.get("grain") or "").strip().lower()
    known = _GRAIN | _NO_GRAIN
    if cell not in known:
        mistakes.append(_mistake("grain", cell, "yes or no", line))
    return known.get(cell, False)


def _mistake(field: str, found: str, allowed: str, line: int) -> Mistake:
    return Mistake(field=field, found=found, allowed=allowed, line=line, column=1)
