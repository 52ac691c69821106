"""The plan book, labels and tables."""

from __future__ import annotations

from stowright.book.make import make_book

__all__ = ["make_book"]
