"""The book's pages as they stand, unseen, in a page of the app: a browser's printer prints them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stowright.app.print_pages import pages_of, words_of
from stowright.app.study import model_key
from stowright.errors import UnknownNameError
from stowright.web.markup import Markup, h, joined
from stowright.web.work_parts import job_url

if TYPE_CHECKING:
    from stowright.app.bench import Bench
    from stowright.app.print_pages import PrintPages
    from stowright.web.visitor import Visitor

__all__ = ["sheets_address", "sheets_key", "sheets_of", "want_sheets"]


def want_sheets(visitor: Visitor) -> None:
    """Begin to set the book's pages once the plan is there and nothing else goes on."""
    house, bench = visitor.house, visitor.bench
    if house.plan_of(bench) is None or house.made_of(bench, "pages") is not None:
        return
    if visitor.can_edit:
        house.want(bench, "pages", "The pages for printing")


def sheets_address(visitor: Visitor) -> str | None:
    """Return where the pages of a stage are; None while they are not set."""
    bench = visitor.bench
    if visitor.house.made_of(bench, "pages") is None:
        return None
    return f"{job_url(visitor.job, 'sheets', visitor.stage)}?v={sheets_key(bench.text)}"


def sheets_of(bench: Bench, made: PrintPages | None, stage: str) -> Markup:
    """Return the pages of a stage: each its drawing, with its words under it.

    Raises:
        UnknownNameError: If the pages are not set.
    """
    if made is None:
        raise UnknownNameError("pages of", bench.name)
    pages = pages_of(made, stage)
    key = sheets_key(made.text)
    return joined(
        [
            h(
                "section",
                h("p", words),
                h("img", src=f"{job_url(bench.name, 'sheet', str(page))}?v={key}",
                  alt=f"Page {page + 1} of the book"),
            )
            for page, words in zip(pages, words_of(made, pages), strict=True)
        ]
    )  # fmt: skip


def sheets_key(text: str) -> str:
    """Return the key that the pages of a job file have in addresses."""
    return model_key(text.encode())[:12]
