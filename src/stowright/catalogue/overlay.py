"""A shop's rows laid over the shipped ones: by name, field by field."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from stowright.catalogue.rows import Row

__all__ = ["NOT_TECHNICAL", "SHOP_SOURCE", "Shelf", "lay_over", "shelf_of"]

#: Rows by table key, then by name.
type Shelf = dict[str, dict[str, Row]]

SHOP_SOURCE: Final = "the shop's own catalogue"
#: Columns that say nothing about strength or fit, so that changing one leaves the origin alone.
NOT_TECHNICAL: Final = frozenset({"name", "price", "pack", "offered", "source", "standing"})


def shelf_of(rows: Iterable[Row]) -> Shelf:
    """Put rows on a shelf; a later row of the same name is laid over the earlier one."""
    shelf: Shelf = {}
    for row in rows:
        shelf.setdefault(row.table.key, {})[row.name] = row
    return shelf


def lay_over(shipped: Shelf, rows: Iterable[Row]) -> Shelf:
    """Return the shelf with a shop's rows laid over it; the shipped one is left as it was."""
    shelf = {key: dict(table) for key, table in shipped.items()}
    for row in rows:
        table = shelf.setdefault(row.table.key, {})
        below = table.get(row.name)
        table[row.name] = _new(row) if below is None else _over(below, row)
    return shelf


def _new(row: Row) -> Row:
    cells = {"source": SHOP_SOURCE, "standing": "assumed"} | row.cells
    return Row(row.table, row.path, cells, dict(row.origins))


def _over(below: Row, row: Row) -> Row:
    """Return the row below with the cells of the row above; what changed gets its own origin."""
    origin = (str(row.cells.get("source", SHOP_SOURCE)), str(row.cells.get("standing", "assumed")))
    origins = dict(below.origins)
    cells = dict(below.cells)
    if row.cells.keys() & {"thickness", "plies"}:
        cells.pop("layup", None)  # the plies below no longer add up to it
    above = None
    for column, value in row.cells.items():
        if column in ("source", "standing"):
            continue
        cells[column] = _merged(cells[column], value) if column in cells else value
        if column not in NOT_TECHNICAL and not _prices_alone(column, value):
            origins[column] = origin
            above = origin
    laid = () if above is None else (above, *row.origins.values())
    return Row(row.table, row.path, cells, origins | row.origins, (*below.above, *laid))


def _merged(below: object, above: object) -> object:
    """Merge a runner's parts key by key; any other value replaces the one below."""
    if not isinstance(below, dict) or not isinstance(above, dict):
        return above
    return below | {
        key: _merged(below[key], value) if key in below else value for key, value in above.items()
    }


def _prices_alone(column: str, value: object) -> bool:
    if column != "sizes" or not isinstance(value, dict):
        return False
    return all(size.keys() <= {"length", "price"} for size in value.values())
