"""What goes in: a list from text, generic sizes to start from, masses summed."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, Any

from stowright.app.edits import typed
from stowright.errors import JobError, Mistake
from stowright.units import Unit, parse_length, parse_mass

if TYPE_CHECKING:
    from stowright.model.design import Design, OpeningDesign
    from stowright.model.job import Job

__all__ = [
    "CARRY_COLUMNS",
    "GENERIC",
    "GenericThing",
    "carry_from_csv",
    "carry_sums",
    "caution_of",
]

#: Columns of a list of what goes in; those after the mass may be left out.
CARRY_COLUMNS = ("what", "length", "width", "height", "mass", "quantity", "goes_in")
_NEEDED = 5
_MOST_ROWS = 500
_ALIASES = {"name": "what", "item": "what", "kg": "mass", "count": "quantity", "qty": "quantity"}


@dataclass(frozen=True, slots=True, kw_only=True)
class GenericThing:
    """Something usual, to start from. Sizes and masses are common practice: measure your own.

    Attributes:
        what: Its name.
        size: Length, width, height. [mm]
        mass: Loaded. [kg]
        upright: Whether it has to stay upright.
    """

    what: str
    size: tuple[float, float, float]
    mass: float
    upright: bool = False


GENERIC = (
    GenericThing(what="stacking crate, 600 × 400", size=(600, 400, 220), mass=15),
    GenericThing(what="stacking crate, 400 × 300", size=(400, 300, 220), mass=9),
    GenericThing(what="tool bag", size=(500, 260, 300), mass=14),
    GenericThing(what="hand tool roll", size=(600, 260, 120), mass=9),
    GenericThing(what="drill case", size=(450, 360, 130), mass=5),
    GenericThing(what="water can, 20 l", size=(350, 170, 470), mass=22, upright=True),
    GenericThing(what="cool box, 40 l", size=(600, 360, 420), mass=30, upright=True),
    GenericThing(what="two-burner stove", size=(560, 330, 110), mass=6),
    GenericThing(what="first-aid case", size=(320, 240, 140), mass=3),
    GenericThing(what="rope bag", size=(420, 260, 260), mass=7),
    GenericThing(what="recovery bag", size=(480, 320, 220), mass=16),
    GenericThing(what="bedding roll", size=(700, 300, 300), mass=6),
)


def carry_from_csv(text: str, *, units: Unit) -> list[dict[str, Any]]:
    """Read a list of what goes in, as rows for the job file.

    The first line names the columns; comma, semicolon or tab part them. Lengths are in the job's
    unit or carry their own.

    Raises:
        JobError: With every mistake, each with its line.
    """
    lines = text.removeprefix("\ufeff").strip()
    head = lines.split("\n", 1)[0]
    comma = max(",;\t", key=head.count)
    rows = list(csv.reader(io.StringIO(lines), delimiter=comma))[: _MOST_ROWS + 1]
    if not rows:
        raise _refused("nothing", f"a first line with {', '.join(CARRY_COLUMNS)}", "list", line=1)
    names = [_ALIASES.get(name, name) for name in (cell.strip().lower() for cell in rows[0])]
    missing = [name for name in CARRY_COLUMNS[:_NEEDED] if name not in names]
    if missing:
        lacking = f"the columns {', '.join(missing)} too"
        raise _refused(", ".join(names)[:120], lacking, "list", line=1)
    found: list[dict[str, Any]] = []
    mistakes: list[Mistake] = []
    for line, cells in enumerate(rows[1:], start=2):
        if not any(cell.strip() for cell in cells):
            continue
        try:
            found.append(_row(dict(zip(names, cells, strict=False)), units))
        except JobError as error:
            mistakes += [_at(line, mistake) for mistake in error.mistakes]
    if mistakes:
        raise JobError(tuple(mistakes))
    return found


def carry_sums(job: Job, design: Design | None) -> tuple[tuple[str, str], ...]:
    """Return the masses: of everything, and of what each opening holds."""
    whole = sum(item.mass * item.quantity for item in job.carry)
    rows = [("All of it", f"{whole:.1f} kg")]
    if design is not None:
        for block in design.blocks:
            rows += [(opening.name, _load(opening)) for opening in block.openings]
        rows.append(("The unit, empty", f"{design.empty_kg:.1f} kg"))
        rows.append(("The unit, loaded", f"{design.empty_kg + design.contents_kg:.1f} kg"))
    return tuple(rows)


def caution_of(hazard: str) -> str:
    """Return the caution that goes with a hazard; empty for none."""
    from stowright.making.make import hazard_caution

    return hazard_caution(hazard)


def _load(opening: OpeningDesign) -> str:
    moving = f"{opening.gross_kg:.1f} kg with what moves"
    return f"{opening.contents_kg:.1f} kg of contents, {moving}"


def _row(cells: dict[str, str], units: Unit) -> dict[str, Any]:
    what = cells["what"].strip()
    if not what:
        raise _refused("nothing", "a name", "what")
    length: Callable[[str], float] = partial(parse_length, units=units)
    row: dict[str, Any] = {
        "what": what,
        "size": [_read(cells, key, length) for key in ("length", "width", "height")],
        "mass": _read(cells, "mass", parse_mass),
    }
    quantity = cells.get("quantity", "").strip()
    if quantity:
        if not quantity.isdigit() or not int(quantity):
            raise _refused(quantity, "a whole number above zero", "quantity")
        row["quantity"] = int(quantity)
    if cells.get("goes_in", "").strip():
        row["goes_in"] = cells["goes_in"].strip()
    return row


def _read(cells: dict[str, str], name: str, parse: Callable[[str], float]) -> object:
    """Return a cell as the job file holds it; a comma in a number is read as a point.

    Raises:
        JobError: If it cannot stand there, with the column's name.
    """
    value = typed(cells.get(name) or "")
    try:
        parse("" if value is None else str(value))
    except JobError as error:
        found = [replace(mistake, field=name) for mistake in error.mistakes]
        raise JobError(tuple(found)) from error
    return value


def _at(line: int, mistake: Mistake) -> Mistake:
    return replace(mistake, line=line, column=0)


def _refused(found: str, allowed: str, field: str, *, line: int = 0) -> JobError:
    return JobError((Mistake(field=field, found=found, allowed=allowed, line=line),))
