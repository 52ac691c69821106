"""The plan book, labels and tables."""

from __future__ import annotations

from stowright.book.complete import book_findings
from stowright.book.make import make_book

__all__ = ["book_findings", "make_book"]
