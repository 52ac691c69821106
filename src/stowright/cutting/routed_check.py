"""The checker of routed layouts: a line swept over the sheet, in whole units.

It stands in for the replay of saw cuts, of which a router has none, and shares nothing with the
checker of rectangles: a line goes along the sheet from edge to edge and holds, at each place,
the stretches across that are taken, each with its own half of the cutter's path on both sides.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from typing import TYPE_CHECKING

from stowright.cutting import grid
from stowright.cutting.layout_units import refused, whole_units

if TYPE_CHECKING:
    from stowright.cutting.plates import Rect
    from stowright.model.layout import CutPart, Layout, Offcut, Piece, StockSheet

__all__ = ["check_by_sweep"]


def check_by_sweep(layout: Layout, parts: tuple[CutPart, ...], sheet: StockSheet) -> None:
    """Refuse a routed layout whose parts or kept offcuts the cutter could not go around.

    Args:
        layout: The layout; without saw lines.
        parts: The parts that its pieces are taken from.
        sheet: The stock sheet it is made for.

    Raises:
        CuttingError: Naming the layout, the piece and what is wrong.
    """
    if layout.cuts or layout.tree is not None:
        raise refused(layout, "is routed and has saw lines")
    sizes = {(part.job, part.mark): part for part in parts}
    for piece in layout.pieces:
        _check_piece(layout, piece, sizes.get((piece.job, piece.mark)))
    named = [(_rect(layout, piece), piece.mark) for piece in layout.pieces]
    named += [(_rect(layout, o), o.name or "an offcut") for o in layout.offcuts if o.keep]
    _check_margin(layout, named, sheet)
    _check_apart(layout, named)


def _rect(layout: Layout, it: Piece | Offcut) -> Rect:
    x, y, along, across = (whole_units(layout, v) for v in (it.x, it.y, it.along, it.across))
    if along <= 0 or across <= 0:
        raise refused(layout, f"a rectangle at {it.x:g}, {it.y:g} has no size")
    return x, y, along, across


def _check_piece(layout: Layout, piece: Piece, part: CutPart | None) -> None:
    if part is None or part.material != layout.material:
        raise refused(layout, f"{piece.mark} is not a part of this material and job")
    if piece.turned and part.grain:
        raise refused(layout, f"{piece.mark} lies across the grain")
    asked = (part.width, part.length) if piece.turned else (part.length, part.width)
    if _rect(layout, piece)[2:] != tuple(grid.up(size) for size in asked):
        raise refused(layout, f"{piece.mark} is not {asked[0]:g} × {asked[1]:g} as asked for")


def _check_margin(layout: Layout, named: list[tuple[Rect, str]], sheet: StockSheet) -> None:
    """Refuse what reaches into the clamp margin or a defect."""
    trim = whole_units(layout, layout.trim)
    ends = grid.whole_down(sheet.length) - trim, grid.whole_down(sheet.width) - trim
    for rect, name in named:
        if any(rect[a] < trim or rect[a] + rect[2 + a] > ends[a] for a in (0, 1)):
            raise refused(layout, f"{name} reaches into the clamp margin")
        for x, y, along, across in sheet.defects:
            low, high = (grid.whole_down(x), grid.whole_down(y)), (x + along, y + across)
            if all(rect[a] < grid.up(high[a]) and low[a] < rect[a] + rect[2 + a] for a in (0, 1)):
                raise refused(layout, f"{name} lies on a defect at {x:g}, {y:g}")


def _check_apart(layout: Layout, named: list[tuple[Rect, str]]) -> None:
    """Sweep along the sheet; refuse stretches that meet with the cutter's width added."""
    cutter = whole_units(layout, layout.kerf)
    events: list[tuple[int, int, int]] = []  # place, 0 for an end and 1 for a start, index
    for index, (rect, _) in enumerate(named):
        events += [(rect[0], 1, index), (rect[0] + rect[2] + cutter, 0, index)]
    across: list[tuple[int, int, int]] = []  # start, end with the cutter, index
    for _, starts, index in sorted(events):
        rect = named[index][0]
        entry = (rect[1], rect[1] + rect[3] + cutter, index)
        if not starts:
            across.remove(entry)
            continue
        at = bisect_left(across, entry)
        for other in across[max(0, at - 1) : at + 1]:
            if other[0] < entry[1] and entry[0] < other[1]:
                names = f"{named[other[2]][1]} and {named[index][1]}"
                raise refused(layout, f"the cutter does not pass between {names}")
        insort(across, entry)
