"""The plan book, labels and tables."""

from __future__ import annotations

from stowright.book.changes import changed_drawings, make_changes, shim_lines
from stowright.book.complete import book_findings
from stowright.book.full_size import full_size_scenes, make_full_size
from stowright.book.label_grids import GRIDS, grid_named
from stowright.book.labels import make_labels
from stowright.book.make import make_book
from stowright.book.step_cards import make_cards
from stowright.book.survey import make_survey

__all__ = [
    "GRIDS",
    "book_findings",
    "changed_drawings",
    "full_size_scenes",
    "grid_named",
    "make_book",
    "make_cards",
    "make_changes",
    "make_full_size",
    "make_labels",
    "make_survey",
    "shim_lines",
]
