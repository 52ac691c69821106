"""Sheets of labels: common grids by name, or as many of a given size as a page holds.

The common grids are the sizes that stationers stock for A4 and Letter (common practice); each is
checked to fit its page. A size of one's own is laid out with 3 mm between labels.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from stowright.errors import OutOfRangeError, UnknownNameError

__all__ = ["GRIDS", "PAGES", "LabelGrid", "PageName", "grid_for", "grid_named", "grid_of_size"]

type PageName = Literal["a4", "letter"]

#: Page sizes: ISO 216 A4, US Letter. [mm]
PAGES: dict[PageName, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
_BETWEEN = 3.0
_RIM = 6.0
#: Smaller labels hold no code that a telephone reads, and no size in legible letters. [mm]
_LEAST = (40.0, 20.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelGrid:
    """Labels on a page. [mm].

    Attributes:
        name: What it is called: ``a4-21``.
        page: The page.
        columns, rows: How many.
        width, height: Of one label.
        left, top: Margins of the page up to the first label.
        pitch_x, pitch_y: From label to label.
    """

    name: str
    page: PageName
    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float
    pitch_x: float
    pitch_y: float

    @property
    def count(self) -> int:
        """Labels on a page."""
        return self.columns * self.rows


def _even(
    page: PageName,
    columns: int,
    rows: int,
    size: tuple[float, float],
    between: tuple[float, float],
    *,
    name: str = "",
) -> LabelGrid:
    """Return a grid in the middle of its page."""
    wide, high = PAGES[page]
    pitch_x, pitch_y = size[0] + between[0], size[1] + between[1]
    return LabelGrid(
        name=name or f"{page}-{columns * rows}",
        page=page,
        columns=columns,
        rows=rows,
        width=size[0],
        height=size[1],
        left=(wide - columns * pitch_x + between[0]) / 2.0,
        top=(high - rows * pitch_y + between[1]) / 2.0,
        pitch_x=pitch_x,
        pitch_y=pitch_y,
    )


GRIDS: dict[str, LabelGrid] = {
    grid.name: grid
    for grid in (
        _even("a4", 3, 7, (63.5, 38.1), (2.5, 0.0)),
        _even("a4", 2, 7, (99.1, 38.1), (2.5, 0.0)),
        _even("a4", 3, 8, (70.0, 37.0), (0.0, 0.0)),
        _even("a4", 2, 4, (99.1, 67.7), (2.5, 0.0)),
        _even("letter", 2, 7, (101.6, 33.9), (4.8, 0.0)),
        _even("letter", 2, 5, (101.6, 50.8), (4.8, 0.0)),
        _even("letter", 3, 10, (66.7, 25.4), (3.2, 0.0)),
        _even("letter", 2, 3, (101.6, 84.7), (4.8, 0.0)),
    )
}
_USUAL: dict[PageName, str] = {"a4": "a4-21", "letter": "letter-14"}


def grid_for(page: PageName, name: str = "") -> LabelGrid:
    """Return a grid by name, or the usual one of a page.

    Raises:
        UnknownNameError: If there is no grid of that name for the page.
    """
    known = tuple(grid.name for grid in GRIDS.values() if grid.page == page)
    chosen = name or _USUAL[page]
    if chosen not in known:
        raise UnknownNameError("label grid", chosen, known)
    return GRIDS[chosen]


def grid_named(page: PageName, text: str) -> LabelGrid:
    """Return a grid by its name or its size in millimetres: ``a4-21``, ``60x30``; the usual one.

    Raises:
        UnknownNameError: If the text is neither.
        OutOfRangeError: If labels of that size are too small or too large for the page.
    """
    size = re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*[x×]\s*(\d+(?:\.\d+)?)\s*", text)
    if size is None:
        return grid_for(page, text)
    return grid_of_size(page, float(size[1]), float(size[2]))


def grid_of_size(page: PageName, width: float, height: float) -> LabelGrid:
    """Return as many labels of a size as a page holds. [mm].

    Raises:
        OutOfRangeError: If a label is smaller than 40 × 20 or does not fit the page.
    """
    wide, high = PAGES[page]
    for name, value, least, most in (
        ("label width", width, _LEAST[0], wide - 2.0 * _RIM),
        ("label height", height, _LEAST[1], high - 2.0 * _RIM),
    ):
        if not least <= value <= most:
            raise OutOfRangeError(name, value, f"between {least:g} and {most:g}")
    columns = int((wide - 2.0 * _RIM + _BETWEEN) // (width + _BETWEEN))
    rows = int((high - 2.0 * _RIM + _BETWEEN) // (height + _BETWEEN))
    name = f"{page}-{width:g}x{height:g}"
    return _even(page, columns, rows, (width, height), (_BETWEEN, _BETWEEN), name=name)
