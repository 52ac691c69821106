"""The shelf as lists to look through."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from stowright.model.catalogue import Catalogue

__all__ = ["row_summary", "tables_of"]

_NOT_SHOWN = frozenset({"name", "origin", "origins", "sizes", "layup", "basis", "offered"})
_FIGURES = 6


def tables_of(catalogue: Catalogue) -> dict[str, tuple[Any, ...]]:
    """Return the rows of the shelf by table."""
    return {field.name: getattr(catalogue, field.name) for field in fields(catalogue)}


def row_summary(row: Any) -> tuple[str, str, str, str]:
    """Return a row's name, its first figures in words, its standing and its source."""
    figures = [
        f"{field.name.replace('_', ' ')} {_shown(getattr(row, field.name))}"
        for field in fields(row)
        if field.name not in _NOT_SHOWN and _shown(getattr(row, field.name))
    ]
    sizes = getattr(row, "sizes", ())
    if sizes:
        figures.insert(0, f"lengths {sizes[0].length:g} to {sizes[-1].length:g}")
    return (row.name, ", ".join(figures[:_FIGURES]), row.origin.standing, row.origin.source)


def _shown(value: Any) -> str:
    if isinstance(value, bool) or value is None:
        return "yes" if value else ""
    if isinstance(value, int | float):
        return f"{value:g}"
    if isinstance(value, str):
        return value
    if isinstance(value, tuple):
        return " × ".join(_shown(entry) for entry in value)
    return ""
