"""The plan book as a PDF: content as data, drawings as SVG, typeset by typst."""

from __future__ import annotations

from typing import Any, Literal

from stowright.book.complete import require_complete
from stowright.book.content import book_content
from stowright.book.figures import PAGE_HEIGHTS, SHEET_WORDS, book_scenes
from stowright.book.options import BookOptions
from stowright.book.part_pages import in_pages, kept_together, turned
from stowright.book.stamp import stamp_of
from stowright.book.typeset import typeset, typeset_sheets
from stowright.drawings.sheet_frame import bar_figure, projection_symbol
from stowright.drawings.svg import to_svg
from stowright.model.plan import Plan

__all__ = ["make_book", "make_book_sheets"]

#: What a detail's caption and the gaps about it take, as the template sets them. [mm]
_CAPTION = 13.0
#: What the heading and the words of the chapter on the unit take. [mm]
_WORDS = 30.0


def make_book(
    plan: Plan,
    *,
    paper: Literal["a4", "letter"] = "a4",
    ink: Literal["colour", "black"] = "colour",
    projection: Literal["first", "third"] = "first",
    drawings: Literal["page", "large"] = "page",
    revision: str = "",
    date: str = "",
) -> bytes:
    """Return the plan book. The same plan and options give the same bytes.

    Args:
        plan: The plan.
        paper: A4 (ISO 216) or US Letter.
        ink: Colour or plain black.
        projection: First or third angle for drawings of several views.
        drawings: ``large`` sets the general arrangement on A3 (11 × 17 in with Letter).
        revision: Printed on every page when given.
        date: The same.

    Raises:
        BookError: If the book is not complete or does not typeset.
    """
    options = BookOptions(
        paper=paper,
        ink=ink,
        projection=projection,
        drawings=drawings,
        revision=revision,
        date=date,
    )
    content, figures = _set(plan, options)
    return typeset("book", content, figures, inputs={"paper": paper, "drawings": drawings})


def make_book_sheets(plan: Plan) -> tuple[bytes, tuple[str, ...]]:
    """Return the plan book as PDF, and its pages one by one as SVG, all of them upright.

    Raises:
        BookError: If the book is not complete or does not typeset.
    """
    options = BookOptions()
    content, figures = _set(plan, options)
    inputs = {"paper": options.paper, "drawings": options.drawings}
    book = typeset("book", content, figures, inputs=inputs)
    upright = {**inputs, "turned": "drawing"}
    return book, typeset_sheets("book", content, figures, inputs=upright)


def _set(plan: Plan, options: BookOptions) -> tuple[dict[str, Any], dict[str, str]]:
    """Return what the book prints and its figures."""
    ink, projection = options.ink, options.projection
    stamp = stamp_of(plan.job, revision=options.revision, date=options.date)
    titled = book_scenes(plan, options, stamp)
    titles = {name: title for name, (title, _) in titled.items()}
    scenes = {name: scene for name, (_, scene) in titled.items()}
    content = book_content(plan, titles, ink=ink, stamp=stamp, projection=projection)
    heights = {name: scene.height for name, scene in scenes.items()}
    page = PAGE_HEIGHTS[options.paper]
    content["parts_drawn"] = [
        {"names": row, "turned": turned(scenes[row[0]])}
        for row in kept_together(plan.design.parts, scenes, height_mm=page)
    ]
    for sheet in content["runners"]:  # one whose drawing needs a page goes on over the next
        sheet["whole"] = heights[sheet["figure"]] <= page - SHEET_WORDS
    kinds = ("views", "placing", "details", "fitted")
    content["unit_drawn"] = in_pages(
        {name: heights[name] for kind in kinds for name in content[kind]},
        height_mm=page,
        caption_mm=_CAPTION,
        taken_mm=_WORDS,
    )
    for kind in kinds:  # told in the order in which they stand
        content[kind] = sorted(content[kind], key=content["unit_drawn"].index)
    require_complete(plan, scenes, content)
    figures = {name: to_svg(scene, ink=ink) for name, scene in scenes.items()}
    figures["angle"] = to_svg(projection_symbol(projection), ink=ink)
    figures["bar"] = to_svg(bar_figure(), ink=ink)
    return content, figures
