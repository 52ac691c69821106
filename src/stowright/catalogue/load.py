"""Loading the shelf: the shipped tables, with a shop's own file laid over them."""

from __future__ import annotations

from functools import cache, lru_cache
from importlib.resources import files
from typing import Final

from stowright.catalogue.build import build_catalogue, is_complete
from stowright.catalogue.checks import check_shelf
from stowright.catalogue.lines import LineFinder
from stowright.catalogue.overlay import Shelf, lay_over, shelf_of
from stowright.catalogue.rows import Notes, Row, read_rows
from stowright.errors import CatalogueError, JobError
from stowright.model.catalogue import Catalogue, StockSize

__all__ = ["all_stock_sizes", "load_catalogue", "shipped_text"]

_FILES: Final = (
    "materials",
    "stock_sizes",
    "runners",
    "screws",
    "bolts",
    "saws",
    "coatings",
    "hardware",
    "things",
)


def load_catalogue(shop_text: str | None = None) -> Catalogue:
    """Return the catalogue, with a shop's own file laid over the shipped rows.

    Stock sizes that are not offered are left out; ``all_stock_sizes`` has them. Loading again with
    the same text gives the same value at no cost.

    Args:
        shop_text: The shop's file (TOML), or None for the shipped rows alone.

    Raises:
        JobError: If the shop's file has mistakes; all of them are carried.
    """
    return _offered_only(shop_text or "")


def all_stock_sizes(shop_text: str | None = None) -> tuple[StockSize, ...]:
    """Return every stock size on the shelf, offered or not.

    Raises:
        JobError: If the shop's file has mistakes.
    """
    return _whole_catalogue(shop_text or "").stock_sizes


def shipped_text(table_file: str) -> str:
    """Return the text of one of the shipped files: ``runners``."""
    return (files(__package__) / "data" / f"{table_file}.toml").read_text(encoding="utf-8")


@lru_cache(maxsize=16)
def _offered_only(shop_text: str) -> Catalogue:
    whole = _whole_catalogue(shop_text)
    tables = {name: getattr(whole, name) for name in Catalogue.__slots__}
    tables["stock_sizes"] = tuple(size for size in whole.stock_sizes if size.offered)
    return Catalogue(**tables)


@lru_cache(maxsize=16)
def _whole_catalogue(shop_text: str) -> Catalogue:
    if not shop_text:
        return build_catalogue(_shipped_shelf())
    rows, notes = read_rows(shop_text)
    usable = [row for row in rows if _has_name(row, notes)]
    shelf = lay_over(_shipped_shelf(), usable)
    touched = [
        shelf[key][name] for key, name in dict.fromkeys((r.table.key, r.name) for r in usable)
    ]
    if not notes.mistakes:
        complete = [row for row in touched if is_complete(row, notes)]
        check_shelf(shelf, complete, notes)
    if notes.mistakes:
        raise JobError(tuple(dict.fromkeys(notes.mistakes)))
    return build_catalogue(shelf)


def _has_name(row: Row, notes: Notes) -> bool:
    if row.name:
        return True
    if not any(mistake.field == f"{row.path}.name" for mistake in notes.mistakes):
        notes.add(f"{row.path}.name", "nothing", row.table.needed["name"].allowed)
    return False


@cache
def _shipped_shelf() -> Shelf:
    notes = Notes(LineFinder(""))
    rows: list[Row] = []
    for name in _FILES:
        read, file_notes = read_rows(shipped_text(name))
        rows.extend(read)
        notes.mistakes.extend(file_notes.mistakes)
    _refuse_mistakes(notes)
    shelf = shelf_of(rows)
    check_shelf(shelf, [row for row in rows if is_complete(row, notes)], notes)
    _refuse_mistakes(notes)
    return shelf


def _refuse_mistakes(notes: Notes) -> None:
    for mistake in notes.mistakes:
        table, _, rest = mistake.field.partition("[")
        raise CatalogueError(table, rest.rstrip("]") or "file", str(mistake))
