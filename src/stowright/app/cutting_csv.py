"""Parts as comma-separated text: the cutting list out, a list of parts in."""

from __future__ import annotations

import csv
import io
import math
from typing import TYPE_CHECKING

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
    reader = csv.DictReader(io.StringIO(text), skipinitialspace=True)
    names = [name.strip().lower() for name in reader.fieldnames or ()]
    reader.fieldnames = names
    mistakes = [
        Mistake(field=name, found="no such column", allowed=f"columns {', '.join(COLUMNS)}", line=1)
        for name in ("mark", "length", "width")
        if name not in names
    ]
    if mistakes:
        return [], mistakes
    marks: dict[str, int] = {}
    rows: list[tuple[int, CutPart]] = []
    try:
        for row in filter(_filled, reader):
            before = len(mistakes)
            part = _part(row, reader.line_num, material, mistakes)
            rows += [(reader.line_num, part)] if len(mistakes) == before else []
            marks[part.mark] = marks.get(part.mark, 0) + 1
    except csv.Error as error:
        mistakes.append(_mistake("row", str(error), "comma-separated text", reader.line_num))
    mistakes += [
        _mistake("mark", mark + " twice", "each mark once", 0)
        for mark, count in marks.items()
        if mark and count > 1
    ]
    if not rows and not mistakes:
        mistakes.append(_mistake("parts", "no row", "at least one part", 1))
    return rows, mistakes


def _filled(row: Mapping[str, str | None]) -> bool:
    return any(isinstance(cell, str) and cell.strip() for cell in row.values())


def _part(
    row: Mapping[str, str | None], line: int, material: str, mistakes: list[Mistake]
) -> CutPart:
    mark = (row.get("mark") or "").strip()
    if not mark:
        mistakes.append(_mistake("mark", "nothing", "a short name", line))
    return CutPart(
        mark=mark,
        length=_size(row, "length", line, mistakes),
        width=_size(row, "width", line, mistakes),
        quantity=_quantity(row, line, mistakes),
        material=material,
        grain=_grain(row, line, mistakes),
    )


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
    return Mistake(field=field, found=found, allowed=allowed, line=line, column=1 if line else 0)
