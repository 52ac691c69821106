"""The plan book as a PDF: content as data, drawings as SVG, typeset by typst."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Mapping
from importlib import resources
from pathlib import Path
from typing import Literal

import typst

from stowright.book.content import book_content
from stowright.book.figures import book_figures
from stowright.drawings.lettering import font_folder
from stowright.errors import BookError
from stowright.model.plan import Plan

__all__ = ["make_book"]


def make_book(
    plan: Plan,
    *,
    paper: Literal["a4", "letter"] = "a4",
    ink: Literal["colour", "black"] = "colour",
    projection: Literal["first", "third"] = "first",
) -> bytes:
    """Return the plan book. The same plan gives the same bytes.

    Args:
        plan: The plan.
        paper: A4 (ISO 216) or US Letter.
        ink: Colour or plain black.
        projection: First or third angle for drawings of several views.

    Raises:
        BookError: If the book does not typeset.
    """
    figures = book_figures(plan, ink=ink, projection=projection)
    titles = {name: title for name, (title, _) in figures.items()}
    content = book_content(plan, titles, ink=ink)
    template = resources.files("stowright.book").joinpath("templates/book.typ").read_bytes()
    with tempfile.TemporaryDirectory(prefix="stowright-") as folder:
        _write(Path(folder), template, content, figures)
        return _typeset(Path(folder), paper)


def _write(
    folder: Path,
    template: bytes,
    content: Mapping[str, object],
    figures: Mapping[str, tuple[str, str]],
) -> None:
    (folder / "book.typ").write_bytes(template)
    text = json.dumps(content, ensure_ascii=False)
    (folder / "content.json").write_text(text, encoding="utf-8")
    for name, (_, svg) in figures.items():
        (folder / f"{name}.svg").write_text(svg, encoding="utf-8")


def _typeset(folder: Path, paper: str) -> bytes:
    try:
        made = typst.compile(
            str(folder / "book.typ"),
            root=str(folder),
            font_paths=[str(font_folder())],
            ignore_system_fonts=True,
            sys_inputs={"paper": paper},
            timestamp=0,
        )
    except typst.TypstError as error:
        raise BookError(f"the book does not typeset: {error}") from error
    if not isinstance(made, bytes):
        raise BookError("the book came out in more than one piece")
    return made
