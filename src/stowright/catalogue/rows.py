"""Catalogue text (TOML) into rows: tables checked, columns spread, every mistake noted.

A ``[[table]]`` entry is one row. With a ``columns`` sub-table it is many: each column holds a list,
all of one length, and the other keys are shared. A ``{column}`` in a name stands for that column's
value, so ``name = "screw-8g-{length}"`` names every length.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from stowright.catalogue.cells import Cell, RefusedError, nearest, shown
from stowright.catalogue.lines import LineFinder
from stowright.catalogue.tables import (
    HOLE_PATTERN,
    ORIGIN,
    SIDE_SPACE,
    SIZE,
    TABLES,
    Table,
)
from stowright.errors import Mistake

__all__ = ["Notes", "Row", "read_rows"]

_LONGEST: Final = 2_000_000
_MOST_ROWS: Final = 20_000
_PLACE: Final = re.compile(r"at line (\d+), column (\d+)")
_BRACED: Final = re.compile(r"\{(\w+)\}")
_RUNNER_PARTS: Final = ("side_space", "sizes", "holes")
_KEYS: Final = tuple(table.key for table in TABLES)


@dataclass(slots=True)
class Notes:
    """Collects mistakes, with the place of each."""

    lines: LineFinder
    mistakes: list[Mistake] = field(default_factory=list)

    def add(self, path: str, found: str, allowed: str, *, near: str = "") -> None:
        """Note one mistake; its line and column are looked up from the path."""
        line, column = self.lines.place_of(path)
        self.mistakes.append(
            Mistake(
                field=path, found=found, allowed=allowed, line=line, column=column, nearest=near
            )
        )


@dataclass(slots=True)
class Row:
    """A row as read: its cells in the model's types, not yet complete.

    Attributes:
        table: The table it belongs to.
        path: Where it stands: ``screws[2]``, counted from 1.
        cells: Read values by column; a runner's parts are dictionaries.
        origins: Fields with a source and standing of their own.
        above: Sources and standings of what a shop's file has laid over it.
    """

    table: Table
    path: str
    cells: dict[str, Any]
    origins: dict[str, tuple[str, str]] = field(default_factory=dict)
    above: tuple[tuple[str, str], ...] = ()

    @property
    def name(self) -> str:
        """The row's name, empty when it could not be read."""
        return str(self.cells.get("name", ""))


def read_rows(text: str) -> tuple[list[Row], Notes]:
    """Read the rows of a catalogue text, in its order, with every mistake noted.

    Args:
        text: TOML, see the module's docstring and the guide's page on the catalogue.

    Returns:
        The rows that could be read, and the notes.
    """
    notes = Notes(LineFinder(text))
    document = _parse(text, notes)
    rows: list[Row] = []
    for key, entries in document.items():
        if key == "format":
            if entries != 1:
                notes.add("format", shown(entries), "1")
            continue
        table = next((table for table in TABLES if table.key == key), None)
        if table is None:
            notes.add(key, "a table of that name", " | ".join(_KEYS), near=nearest(key, _KEYS))
            continue
        rows.extend(_read_table(table, entries, notes))
    return rows, notes


def _parse(text: str, notes: Notes) -> dict[str, Any]:
    if len(text) > _LONGEST:
        notes.add("file", f"{len(text)} characters", f"at most {_LONGEST}")
        return {}
    try:
        return tomllib.loads(text.removeprefix("\ufeff"))
    except tomllib.TOMLDecodeError as error:
        place = _PLACE.search(str(error))
        line, column = (int(place[1]), int(place[2])) if place else (0, 0)
        reason = _PLACE.sub("", str(error)).replace("()", "").strip()
        notes.mistakes.append(
            Mistake(
                field="file",
                found=reason or "a text that is not TOML",
                allowed="TOML 1.0",
                line=line,
                column=column,
            )
        )
    except RecursionError:
        notes.add("file", "tables nested too deeply", "TOML 1.0, as the guide shows")
    return {}


def _read_table(table: Table, entries: object, notes: Notes) -> Iterator[Row]:
    if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
        notes.add(table.key, shown(entries), f"rows, each under [[{table.key}]]")
        return
    for number, entry in enumerate(entries, start=1):
        path = f"{table.key}[{number}]"
        if "columns" in entry:
            yield from _read_columns(table, entry, path, notes)
        else:
            yield _read_row(table, entry, path, notes)


def _read_columns(table: Table, entry: dict[str, Any], path: str, notes: Notes) -> Iterator[Row]:
    """Give one row per place of an entry's columns; what they share is read once."""
    columns = entry["columns"]
    lengths = _column_lengths(columns)
    if len(lengths) != 1 or lengths == {0} or max(lengths) > _MOST_ROWS:
        notes.add(f"{path}.columns", shown(columns), "lists, all of one length")
        return
    unknown = columns.keys() - set(table.columns)
    for column in sorted(unknown):
        _note_unknown(table, column, f"{path}.columns.{column}", notes)
    if unknown:
        return
    template = str(entry.get("name", table.name_from))
    templated = "{" in template and "name" not in columns
    apart = {"columns", "name"} if templated else {"columns"}
    shared = _read_row(table, {k: v for k, v in entry.items() if k not in apart}, path, notes)
    for place in range(lengths.pop()):
        plain = {column: values[place] for column, values in columns.items()}
        if templated:
            plain["name"] = _filled(template, entry | plain)
        row = Row(table, path, dict(shared.cells), dict(shared.origins))
        for column, value in plain.items():
            cell = table.cell(column)
            if cell is not None:
                _read_cell(cell, value, f"{path}.{column}", notes, row.cells, column)
        yield row


def _column_lengths(columns: object) -> set[int]:
    if not isinstance(columns, dict) or not all(isinstance(v, list) for v in columns.values()):
        return set()
    return {len(values) for values in columns.values()}


def _filled(name: str, entry: Mapping[str, Any]) -> str:
    """Return a name with each ``{column}`` replaced by that column's value."""

    def value(match: re.Match[str]) -> str:
        cell = entry.get(match[1], match[0])
        return f"{cell:g}" if isinstance(cell, float) else str(cell)

    return _BRACED.sub(value, name)


def _read_row(table: Table, entry: dict[str, Any], path: str, notes: Notes) -> Row:
    row = Row(table, path, {})
    named = _BRACED.findall(table.name_from)
    if "name" not in entry and named and entry.keys() >= set(named):
        entry = {"name": _filled(table.name_from, entry)} | entry
    for column, value in entry.items():
        where = f"{path}.{column}"
        if column == "origins":
            row.origins.update(_read_origins(table, value, where, notes))
        elif table.key == "runners" and column in _RUNNER_PARTS:
            row.cells[column] = _read_runner_part(column, value, where, notes)
        elif (cell := table.cell(column)) is None:
            _note_unknown(table, column, where, notes)
        else:
            _read_cell(cell, value, where, notes, row.cells, column)
    return row


def _note_unknown(table: Table, column: str, where: str, notes: Notes) -> None:
    known = (*table.columns, "columns", "origins")
    if table.key == "runners":
        known += _RUNNER_PARTS
    notes.add(where, "a column of that name", " | ".join(known), near=nearest(column, known))


def _read_cell(
    cell: Cell, value: object, where: str, notes: Notes, into: dict[str, Any], column: str
) -> None:
    try:
        into[column] = cell.read(value)
    except RefusedError as refused:
        near = nearest(value, cell.choices) if isinstance(value, str) else ""
        notes.add(where, str(refused), cell.allowed, near=near)


def _read_cells(
    cells: Mapping[str, Cell], value: object, where: str, notes: Notes
) -> dict[str, Any]:
    read: dict[str, Any] = {}
    if not isinstance(value, dict):
        notes.add(where, shown(value), f"a table of {', '.join(cells)}")
        return read
    for key, item in value.items():
        if key in cells:
            _read_cell(cells[key], item, f"{where}.{key}", notes, read, key)
        else:
            known = tuple(cells)
            notes.add(
                f"{where}.{key}",
                "a key of that name",
                " | ".join(known),
                near=nearest(key, known),
            )
    return read


def _read_origins(
    table: Table, value: object, where: str, notes: Notes
) -> dict[str, tuple[str, str]]:
    """Read ``origins = [{fields = […], source = "…", standing = "…"}]``."""
    found: dict[str, tuple[str, str]] = {}
    if not isinstance(value, list):
        notes.add(where, shown(value), "a list of {fields, source, standing}")
        return found
    for item in value:
        if not isinstance(item, dict) or not isinstance(item.get("fields"), list):
            notes.add(where, shown(item), "{fields = [...], source = ..., standing = ...}")
            continue
        cells = _read_cells(ORIGIN, {k: v for k, v in item.items() if k != "fields"}, where, notes)
        for name in item["fields"]:
            if name not in table.columns and name not in _RUNNER_PARTS:
                notes.add(f"{where}.fields", shown(name), " | ".join(table.columns))
            elif cells.keys() == ORIGIN.keys():
                found[name] = (cells["source"], cells["standing"])
    return found


def _read_runner_part(column: str, value: object, where: str, notes: Notes) -> dict[Any, Any]:
    if column == "side_space":
        return _read_cells(SIDE_SPACE, value, where, notes)
    if column == "holes":
        members = value if isinstance(value, dict) else {}
        if not members or not members.keys() <= {"cabinet", "drawer"}:
            notes.add(where, shown(value), "tables named cabinet and drawer")
            return {}
        return {
            member: _read_cells(HOLE_PATTERN, pattern, f"{where}.{member}", notes)
            for member, pattern in members.items()
        }
    return _read_sizes(value, where, notes)


def _read_sizes(value: object, where: str, notes: Notes) -> dict[float, dict[str, Any]]:
    """Read ``[runners.sizes]``: columns of one length each, by closed length."""
    lengths = _column_lengths(value)
    if not isinstance(value, dict) or len(lengths) != 1 or max(lengths) > _MOST_ROWS:
        notes.add(where, shown(value), f"lists, all of one length: {', '.join(SIZE.columns)}")
        return {}
    cells = {key: cell for key in SIZE.columns if (cell := SIZE.cell(key)) and key not in ORIGIN}
    sizes: dict[float, dict[str, Any]] = {}
    for place in range(lengths.pop()):
        plain = {key: values[place] for key, values in value.items()}
        size = _read_cells(cells, plain, where, notes)
        if "length" in size:
            sizes[size["length"]] = size
        elif "length" not in plain:
            notes.add(where, "sizes without a length", "a list under length")
            break
    return sizes
