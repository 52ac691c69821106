"""The tables of checked numbers in ``docs/theory``: found, written as Markdown, put in place."""

from __future__ import annotations

import importlib
from pathlib import Path
from typing import Any, Protocol

__all__ = ["PAGES", "filled", "known_tables", "table_text"]

ROOT = Path(__file__).resolve().parents[2]
PAGES = ROOT / "docs" / "theory"
START, END = "<!-- checked numbers -->", "<!-- end of checked numbers -->"


class Compared(Protocol):
    """What a row of a table has to offer."""

    what: str
    source: str
    said: float
    found: float
    unit: str
    within: float


def known_tables() -> dict[str, list[Any]]:
    """Return the rows of every page, from each ``cases_of_*.py`` beside this module."""
    found: dict[str, list[Any]] = {}
    for path in sorted(Path(__file__).parent.glob("cases_of_*.py")):
        for page, rows in importlib.import_module(path.stem).TABLES.items():
            found.setdefault(page, []).extend(rows)
    return found


def table_text(rows: list[Any]) -> str:
    """Return rows as a Markdown table: what, source, said, found, difference, allowed."""
    lines = [
        "| what | source | said | found | difference | allowed |",
        "|---|---|---:|---:|---:|---:|",
    ]
    for row in rows:
        apart = row.found - row.said
        lines.append(
            f"| {row.what} | {row.source} | {row.said:.6g} {row.unit} | {row.found:.6g} | "
            f"{0.0 if abs(apart) < 1e-9 else apart:.2g} | {row.within:.2g} |"
        )
    return "\n".join(lines)


def filled(page: str, rows: list[Any]) -> str:
    """Return a page's text with its table put in anew."""
    text = (PAGES / f"{page}.md").read_text(encoding="utf-8")
    head, rest = text.split(START, maxsplit=1)
    _, tail = rest.split(END, maxsplit=1)
    return f"{head}{START}\n{table_text(rows)}\n{END}{tail}"
