"""The book's own pages, for a browser's printer: the chapters of a stage as PDF and sheet by sheet.

A browser prints a page of the app by printing sheets that stand in it. Each is the drawing of a
page of the book as the typesetter made it, with the page's words beneath it, so that what comes
out of the printer, or a PDF made by it, is the page and can be searched.
"""

from __future__ import annotations

import io
import zlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from stowright.app.planning import Progress
    from stowright.model.plan import Plan

__all__ = ["CHAPTERS", "PrintPages", "book_pages", "pages_of", "section_pdf", "words_of"]

#: Words by which each stage knows its chapters; a stage that is not here has the whole book.
CHAPTERS: dict[str, tuple[str, ...]] = {
    "measure": ("measure first", "survey form"),
    "carry": ("unit in its bay",),
    "arrange": ("unit in its bay", "set-out"),
    "prove": ("cautions", "assumptions", "proofs"),
    "cut": ("cutting list", "reads less or more", "sheet layouts"),
    "buy": ("what to buy",),
    "build": ("part drawings", "runner sheets", "steps", "runner adjustment", "finish"),
    "install": ("cautions", "install", "test and weigh", "handover"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintPages:
    """The book of a job.

    Attributes:
        text: The job file it was made from.
        book: The book, PDF.
        packed: Its pages, each SVG packed by zlib: they are large and much alike.
        chapters: Title of each chapter and its first page, counted from 0.
    """

    text: str
    book: bytes
    packed: tuple[bytes, ...]
    chapters: tuple[tuple[str, int], ...]

    def sheet(self, page: int) -> str:
        """Return a page as SVG, counted from 0."""
        return zlib.decompress(self.packed[page]).decode()


def book_pages(plan: Plan, text: str, progress: Progress) -> PrintPages:
    """Return the book of a plan page by page.

    Raises:
        BookError: If the book is not complete or does not typeset.
    """
    from pypdf import PdfReader

    from stowright.book.make import make_book_sheets

    progress("setting the book's pages")
    book, sheets = make_book_sheets(plan)
    reader = PdfReader(io.BytesIO(book))
    chapters = []
    for row in reader.outline:
        if not isinstance(row, list):
            first = reader.get_destination_page_number(row)
            if first is not None:
                chapters.append((str(row.title), first))
    packed = tuple(zlib.compress(sheet.encode(), 6) for sheet in sheets)
    return PrintPages(text=text, book=book, packed=packed, chapters=tuple(chapters))


def pages_of(made: PrintPages, stage: str) -> tuple[int, ...]:
    """Return the pages of a stage, counted from 0, in the book's order; chapters may share one."""
    wanted = CHAPTERS.get(stage)
    every = tuple(range(len(made.packed)))
    if wanted is None:
        return every
    found: set[int] = set()
    starts = [first for _, first in made.chapters]
    for place, (title, first) in enumerate(made.chapters):
        if any(word in title.casefold() for word in wanted):
            after = starts[place + 1] if place + 1 < len(starts) else len(every)
            found |= set(range(first, max(after, first + 1)))
    return tuple(sorted(found)) or every


def section_pdf(made: PrintPages, stage: str) -> bytes:
    """Return the pages of a stage as PDF, cut out of the book as they stand there."""
    from pypdf import PdfReader, PdfWriter

    reader, writer = PdfReader(io.BytesIO(made.book)), PdfWriter()
    for page in pages_of(made, stage):
        writer.add_page(reader.pages[page])
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def words_of(made: PrintPages, pages: tuple[int, ...]) -> tuple[str, ...]:
    """Return the words that stand on pages, as the book's file has them."""
    from pypdf import PdfReader

    reader = PdfReader(io.BytesIO(made.book))
    return tuple(reader.pages[page].extract_text() for page in pages)
