"""The list of cuts under a cut-up sheet: number, kind, what to set, what it leaves."""

from __future__ import annotations

from math import ceil

from stowright.drawings.extent import bounds
from stowright.drawings.lettering import text_width
from stowright.drawings.scene import Item, Line, Text
from stowright.errors import OutOfRangeError
from stowright.model.layout import Cut
from stowright.units import Unit, format_length

__all__ = ["cut_list", "cut_list_pages"]

_TITLES = ("cut", "kind", "set to", "leaves")
#: Between columns and between cells, as multiples of the lettering's height.
_COLUMN_GAP, _CELL_GAP = 2.4, 1.2
#: Lettering heights of ISO 3098; the smaller one serves when the list would grow too long. [mm]
_HEIGHTS = (2.5, 1.8)
_LONGEST = 75.0  # of the list, before the smaller lettering is taken [mm]
_STEP = 1.72  # line spacing, as a multiple of the height

type _Row = tuple[str, str, str, str]


def cut_list(
    cuts: tuple[Cut, ...], units: Unit, *, width: float, longest: float = _LONGEST
) -> tuple[Item, ...]:
    """Return the list of cuts in as many columns as the width holds; nothing without cuts.

    Args:
        cuts: The cuts in their order.
        units: Unit that lengths are printed in.
        width: What the columns may take together. [mm]
        longest: Height from which the smaller lettering is taken. [mm]
    """
    if not cuts:
        return ()
    rows = [_words(cut, units) for cut in cuts]
    for height in _HEIGHTS:
        chunks, columns = _shared_out(rows, height, width)
        lines = len(chunks[0])
        if lines * _STEP * height <= longest or height == _HEIGHTS[-1]:
            break
    items: list[Item] = []
    left = 0.0
    for chunk, (offsets, column) in zip(chunks, columns, strict=True):
        items += _column(chunk, offsets, (left, column), height)
        left += column + _COLUMN_GAP * height
    if any(cut.narrow for cut in cuts):
        y = -(lines + 1.6) * _STEP * height - 2.0
        words = "* narrower than can be held in hand: clamp it to a carrier"
        items.append(Text(text=words, at=(0.0, y), height=height, rise="top"))
    return tuple(items)


def cut_list_pages(
    cuts: tuple[Cut, ...], units: Unit, *, room: tuple[float, float]
) -> tuple[tuple[Item, ...], ...]:
    """Return the list of cuts on as few pages as hold it, the rows shared out evenly.

    Args:
        cuts: The cuts in their order.
        units: Unit that lengths are printed in.
        room: Width and height that a page's list may take. [mm]

    Raises:
        OutOfRangeError: If not even one row fits.
    """
    for count in range(1, len(cuts) + 1):
        share = ceil(len(cuts) / count)
        chunks = [cuts[k : k + share] for k in range(0, len(cuts), share)]
        pages = [cut_list(chunk, units, width=room[0], longest=room[1] - 12.0) for chunk in chunks]
        boxes = [bounds(page) for page in pages]
        if all(box.height <= room[1] and box.width <= room[0] for box in boxes):
            return tuple(pages)
    raise OutOfRangeError("room", room[1], "high enough for a row of the list of cuts")


type _Widths = tuple[list[float], float]


def _shared_out(
    rows: list[_Row], height: float, width: float
) -> tuple[list[list[_Row]], list[_Widths]]:
    """Return the rows in as many columns as the width holds, and each one's cells and width."""
    for count in (3, 2, 1):
        lines = ceil(len(rows) / count)
        chunks = [rows[k : k + lines] for k in range(0, len(rows), lines)]
        columns = [_cells(chunk, height) for chunk in chunks]
        total = sum(wide for _, wide in columns) + _COLUMN_GAP * height * (len(columns) - 1)
        if total <= width - 2.0:
            break
    return chunks, columns


def _cells(rows: list[_Row], height: float) -> _Widths:
    """Return where each cell of a row starts, and the width of the column. [mm]."""
    offsets = [0.0]
    for k in range(4):
        cells = [*(row[k] for row in rows), _TITLES[k]]
        widest = max(text_width(cell, height=height, weight="bold") for cell in cells)
        offsets.append(offsets[-1] + widest + _CELL_GAP * height)
    return offsets[:4], offsets[4] - _CELL_GAP * height


def _column(
    rows: list[_Row], offsets: list[float], place: tuple[float, float], height: float
) -> list[Item]:
    """Return a column of the list; ``place`` is its left side and its width."""
    x, width = place
    items: list[Item] = [
        Text(text=title, at=(x + offset, 0.0), height=height, weight="bold", rise="top")
        for title, offset in zip(_TITLES, offsets, strict=True)
    ]
    rule = -1.56 * height
    items.append(Line(start=(x, rule), end=(x + width, rule), pen="dimension"))
    for k, row in enumerate(rows):
        y = rule - 1.3 - k * _STEP * height
        items += [
            Text(text=cell, at=(x + offset, y), height=height, rise="top")
            for cell, offset in zip(row, offsets, strict=True)
        ]
    return items


def _words(cut: Cut, units: Unit) -> _Row:
    names = [
        leaf.name or f"{format_length(leaf.along, units)} × {format_length(leaf.across, units)}"
        for leaf in cut.leaves
        if leaf.what != "scrap"
    ]
    number = f"{cut.order}*" if cut.narrow else str(cut.order)
    return (number, cut.kind, format_length(cut.setting, units), " and ".join(names) or "waste")
