"""The drawing of a cut-up sheet: parts with mark and both sizes, cuts in their order, offcuts.

The cuts carry numbers in rings at the saw lines; the list below says what to set and what each
leaves. Waste is hatched, offcuts worth keeping have their name.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from stowright.drawings.dimensioning import linear
from stowright.drawings.extent import Bounds, bounds, moved
from stowright.drawings.layout_cuts import cut_list, cut_list_pages
from stowright.drawings.layout_labels import cut_numbers, rectangle_label
from stowright.drawings.lettering import wrapped
from stowright.drawings.scales import scale_text
from stowright.drawings.scene import (
    Arrow,
    Balloon,
    Hatch,
    Item,
    Line,
    Polyline,
    Region,
    Scene,
    Text,
    View,
)
from stowright.errors import OutOfRangeError
from stowright.model.layout import Cut, Layout, Offcut, StockUse
from stowright.units import Unit, format_length

__all__ = ["layout_drawing", "layout_pages"]

#: A layout is a diagram to cut by: besides the scales of ISO 5455 the intermediate ones are used,
#: so that a sheet fills the width of a page.
_SCALES = (0.2, 0.1, 0.08, 1.0 / 15.0, 0.0625, 1.0 / 18.0, 0.05, 0.04, 0.02, 0.01)
_OVER = 12.0  # from the sheet to the dimension above it and the grain below: numbers stand between
_LEFT = 5.8  # room for cut numbers at the left
_RIGHT = 6.8  # room for the dimension at the right
_GAP = 6.0
_NOTE = 2.5
_STEP = 4.3
#: Labels of narrower pieces give way to the cuts' numbers, step by step, and the numbers get more
#: room above and below the sheet. [mm on paper]
_BRIEF = ((0.0, 11.0), (7.0, 11.0), (12.0, 11.0), (30.0, 11.0), (30.0, 50.0))
_MANY = 100  # cuts, from which labels are brief at once
#: A list is set larger up to this height, else smaller, before it goes elsewhere. [mm]
_LISTS = (75.0, 0.0)
#: A list of cuts that makes the sheet's scale this much smaller goes on a page of its own.
_SQUEEZED = 0.7
_READABLE = 0.0625  # but not while the sheet is at least at this scale


def layout_drawing(
    layout: Layout,
    *,
    stock: StockUse,
    units: Unit,
    room: tuple[float, float] = (176.0, 237.0),
    releases: Mapping[str, str] | None = None,
) -> Scene:
    """Return the drawing of a layout, without a frame.

    Args:
        layout: What lies where and how it is cut.
        stock: The sheet it is cut from.
        units: Unit that sizes are printed in.
        room: Width and height that it may take. [mm]
        releases: Release by part mark; parts of release B are marked so.

    Raises:
        OutOfRangeError: If the sheet does not fit the room at any scale.
    """
    pages = layout_pages(layout, stock=stock, units=units, room=room, releases=releases)
    if len(pages) == 1:
        return pages[0]
    cuts = cut_list(layout.cuts, units, width=room[0])
    scene = _drawn(layout, stock, units, room, releases or {}, cuts)
    if scene is None:
        raise OutOfRangeError("stock.length", stock.length, "small enough for the drawing's room")
    return scene


def layout_pages(
    layout: Layout,
    *,
    stock: StockUse,
    units: Unit,
    room: tuple[float, float] = (176.0, 237.0),
    releases: Mapping[str, str] | None = None,
) -> tuple[Scene, ...]:
    """Return the drawing of a layout, its list of cuts on pages of its own where it is long.

    The list stays below the sheet as long as the sheet keeps a scale to read it by; else the first
    page is the sheet and the list follows on as few more as hold it.

    Args:
        layout: What lies where and how it is cut.
        stock: The sheet it is cut from.
        units: Unit that sizes are printed in.
        room: Width and height that each page may take. [mm]
        releases: Release by part mark; parts of release B are marked so.

    Raises:
        OutOfRangeError: If the sheet does not fit the room at any scale.
    """
    marks = releases or {}
    widest = _widest(stock, room)
    lists = (cut_list(layout.cuts, units, width=room[0], longest=h) for h in _LISTS)
    for cuts in lists:
        whole = _drawn(layout, stock, units, room, marks, cuts, least=_least(widest))
        if whole is not None:
            return (whole,)
    alone = _drawn(layout, stock, units, room, marks, None)
    if alone is None:
        raise OutOfRangeError("stock.length", stock.length, "small enough for the drawing's room")
    if alone.scale < widest:
        cuts = cut_list(layout.cuts, units, width=room[0])
        whole = _drawn(layout, stock, units, room, marks, cuts, least=_least(alone.scale))
        if whole is not None:
            return (whole,)
    notes = _unsaid(layout, alone.view("sheet"), units, room[0])
    return (alone, *_list_pages(layout, units, room, notes))


def _least(scale: float) -> float:
    """Return the smallest scale that a list may bring a sheet of this scale to."""
    return min(_SQUEEZED * scale, _READABLE)


def _widest(stock: StockUse, room: tuple[float, float]) -> float:
    """Return the largest scale that the room's width holds the sheet at."""
    fitting = (s for s in _SCALES if stock.length * s <= room[0] - _LEFT - _RIGHT)
    return next(fitting, _SCALES[-1])


def _list_pages(
    layout: Layout, units: Unit, room: tuple[float, float], notes: tuple[Item, ...]
) -> Iterator[Scene]:
    """Yield the list of cuts as pages of its own, notes on the last or on one more."""
    words = f"Sheet {layout.number} · order of cuts"
    title = Text(text=words, at=(0.0, 0.0), height=5.0, weight="bold", rise="top")
    left = room[1] - 10.0 - _GAP
    lists = [(i,) for i in cut_list_pages(layout.cuts, units, room=(room[0], left))]
    below = bounds(notes).height + _GAP if notes else 0.0
    pages = [*lists[:-1], (*lists[-1], notes)]
    if bounds(lists[-1][0]).height + below > left:
        pages = [*lists, (notes,)]
    for k, page in enumerate(pages, start=1):
        of = f" ({k} of {len(pages)})" if len(pages) > 1 else ""
        blocks = (("heading", (replace(title, text=f"{words}{of}"),)),)
        named = tuple(("cuts" if n == 0 else "notes", items) for n, items in enumerate(page))
        scene = _stacked((*blocks, *named), 1.0, room[0])
        name = f"layout-{layout.number:02d}-cuts" + (f"-{k}" if len(pages) > 1 else "")
        yield replace(scene, name=name, title=f"Layout {layout.number}, order of cuts{of}")


def _drawn(
    layout: Layout,
    stock: StockUse,
    units: Unit,
    room: tuple[float, float],
    releases: Mapping[str, str],
    cuts: tuple[Item, ...] | None,
    least: float = 0.0,
) -> Scene | None:
    """Return the layout at the largest scale that leaves room for the list; None without one.

    Scales below the least are not tried. With no list to come (None), what the sheet has no room
    to say is left to another page too.
    """
    heading = _heading(layout, stock, units, room[0])
    listed = bounds(cuts).height if cuts else 0.0
    for scale in _SCALES:
        words = _words(layout, stock, units, scale)
        above = bounds((*heading, *words)).height + _GAP
        wide, high = stock.length * scale, stock.width * scale + 2.0 * _OVER
        if wide > room[0] - _LEFT - _RIGHT or high + above + listed > room[1]:
            continue
        if scale < least:
            return None
        sheet = _sheet_view(layout, stock, scale, units, releases)
        listing = () if cuts is None else (*_unsaid(layout, sheet, units, room[0]), *cuts)
        blocks = (("heading", (*heading, *words)), ("sheet", sheet.items), ("cuts", listing))
        scene = _stacked(blocks, scale, room[0])
        if scene.height <= room[1] + 1e-6:
            name = f"layout-{layout.number:02d}"
            return replace(scene, name=name, title=f"Layout {layout.number}, {layout.sheet}")
    return None


def _stacked(blocks: Sequence[tuple[str, tuple[Item, ...]]], scale: float, width: float) -> Scene:
    """Set named blocks one below the other, the sheet in the middle; empty ones are left out."""
    there = [(name, items) for name, items in blocks if items]
    boxes = {name: bounds(items) for name, items in there}
    height = sum(box.height for box in boxes.values()) + (len(there) - 1) * _GAP + 2.0
    top = height - 1.0
    views = []
    for name, items in there:
        box = boxes[name]
        left = (width - box.width) / 2.0 if name == "sheet" else 1.0
        x, y = left - box.left, top - box.top
        kept = moved(items, x=x, y=y)
        views.append(
            View(name=name, items=kept, scale=scale if name == "sheet" else 1.0, at=(x, y))
        )
        top -= box.height + _GAP
    return Scene(
        name="layout", title="", width=width, height=height, views=tuple(views), scale=scale
    )


# Words -------------------------------------------------------------------------------------------


def _heading(layout: Layout, stock: StockUse, units: Unit, width: float) -> tuple[Text, ...]:
    size = f"{format_length(stock.length, units)} × {format_length(stock.width, units)} {units}"
    words = f"Sheet {layout.number} · {layout.material} · {size}"
    lines = wrapped(words, width=width - 2.0, height=5.0, weight="bold")
    return tuple(
        Text(text=line, at=(0.0, -8.0 * k), height=5.0, weight="bold", rise="top")
        for k, line in enumerate(lines)
    )


def _words(layout: Layout, stock: StockUse, units: Unit, scale: float) -> tuple[Text, ...]:
    def size(value: float) -> str:
        return format_length(value, units, with_unit=True)

    copies = f"{layout.copies} sheets alike" if layout.copies > 1 else "one sheet"
    strip = (
        "the tightest strip fits exactly"
        if layout.fits_by < 0.05
        else f"the tightest strip fits by {size(layout.fits_by)}"
    )
    first = f"{stock.name or layout.sheet} ({stock.origin}) · {copies} · scale {scale_text(scale)}"
    if not layout.cuts:
        second = f"Cutter {size(layout.kerf)}, {size(layout.trim)} clear along every edge."
    else:
        second = f"Kerf {size(layout.kerf)}, trim {size(layout.trim)} off each edge; {strip}."
    return tuple(
        Text(text=line, at=(0.0, -9.5 - k * _STEP), height=_NOTE, rise="top")
        for k, line in enumerate((first, second))
    )


def _unsaid(layout: Layout, sheet: View, units: Unit, width: float) -> tuple[Item, ...]:
    """Return what the sheet has no room to say, above where the list of cuts starts."""
    said = " ".join(item.text for item in sheet.items if isinstance(item, Text))
    sizes = {p.mark: _size(p.along, p.across, units) for p in layout.pieces}
    unsaid = [f"{mark} {size}" for mark, size in sizes.items() if size not in said]
    words = [f"Sizes: {', '.join(unsaid)}."] if unsaid else []
    ringed = {item.text for item in sheet.items if isinstance(item, Balloon)}
    numbers = ", ".join(str(cut.order) for cut in layout.cuts if str(cut.order) not in ringed)
    if numbers:
        words.append(f"Cuts without room for their number here, as the list tells: {numbers}.")
    if not words:
        return ()
    lines = wrapped(" ".join(words), width=width - 2.0, height=_NOTE)
    return tuple(
        Text(text=line, at=(0.0, 3.5 + (len(lines) - 1 - k) * _STEP), height=_NOTE)
        for k, line in enumerate(lines)
    )


# The sheet ---------------------------------------------------------------------------------------


def _sheet_view(
    layout: Layout, stock: StockUse, scale: float, units: Unit, releases: Mapping[str, str]
) -> View:
    """Return the sheet with everything on it, its lower left corner at (0, 0)."""
    length, width = stock.length * scale, stock.width * scale
    items: list[Item] = [_rectangle(0.0, 0.0, length, width)]
    items += _trimmed(layout, stock, scale)
    for offcut in layout.offcuts:
        items += _offcut(offcut, scale)
    for defect in stock.defects:
        box = _box(*defect, scale)
        items += [Region(outer=box.corners, fill="warning", pen="warning")]
        items += [Hatch(outer=box.corners, angle=135.0, spacing=1.0)]
    for piece in layout.pieces:
        box = _box(piece.x, piece.y, piece.along, piece.across, scale)
        about = f"{piece.job}/{piece.mark}" if piece.job else piece.mark
        items.append(Region(outer=box.corners, fill="wood", pen="outline", about=about))
    items += [_saw_line(cut, layout.kerf, scale) for cut in layout.cuts]
    sizes = _sizes(stock, length, width, units)
    lettering: list[Item] = []
    for brief, margin in _BRIEF if len(layout.cuts) <= _MANY else _BRIEF[-2:]:
        labels = [*_labels(layout, scale, units, releases, brief_under=brief), *sizes]
        whole = (brief, margin) != _BRIEF[-1]
        around = (length, width)
        numbers = cut_numbers(layout, around, scale, labels, margin=margin, whole=whole)
        if numbers is not None:
            lettering = [*labels, *numbers]
            break
    return View(name="sheet", items=(*items, *lettering), scale=scale)


def _labels(
    layout: Layout, scale: float, units: Unit, releases: Mapping[str, str], *, brief_under: float
) -> Iterator[Item]:
    """Yield the labels of offcuts and pieces; narrow ones say their mark alone."""
    for offcut in layout.offcuts:
        if offcut.keep:
            box = _box(offcut.x, offcut.y, offcut.along, offcut.across, scale)
            size = _size(offcut.along, offcut.across, units)
            yield from rectangle_label(box, offcut.name, size, brief_under=brief_under)
    for piece in layout.pieces:
        box = _box(piece.x, piece.y, piece.along, piece.across, scale)
        mark = f"{piece.mark} (B)" if releases.get(piece.mark) == "B" else piece.mark
        size = _size(piece.along, piece.across, units)
        yield from rectangle_label(box, mark, size, brief_under=brief_under)


def _size(along: float, across: float, units: Unit) -> str:
    return f"{format_length(along, units)} × {format_length(across, units)}"


def _box(x: float, y: float, along: float, across: float, scale: float) -> Bounds:
    return Bounds(
        left=x * scale, bottom=y * scale, right=(x + along) * scale, top=(y + across) * scale
    )


def _rectangle(left: float, bottom: float, right: float, top: float) -> Item:
    box = Bounds(left=left, bottom=bottom, right=right, top=top)
    return Polyline(points=box.corners, closed=True, pen="visible")


def _trimmed(layout: Layout, stock: StockUse, scale: float) -> list[Item]:
    """Return the trimmed sheet's outline, thin."""
    if not layout.trim > 0.0:
        return []
    t = layout.trim
    box = _box(t, t, stock.length - 2.0 * t, stock.width - 2.0 * t, scale)
    return [Polyline(points=box.corners, closed=True, pen="dimension")]


def _offcut(offcut: Offcut, scale: float) -> list[Item]:
    box = _box(offcut.x, offcut.y, offcut.along, offcut.across, scale)
    corners = box.corners
    if offcut.keep:
        return [Region(outer=corners, fill="offcut", pen="phantom", about=offcut.name)]
    if min(box.width, box.height) < 0.6:
        return []
    return [Hatch(outer=corners, spacing=1.8)]


def _saw_line(cut: Cut, kerf: float, scale: float) -> Line:
    at = (cut.at + kerf / 2.0) * scale
    low, high = cut.start * scale, cut.end * scale
    start, end = ((at, low), (at, high)) if cut.axis == "x" else ((low, at), (high, at))
    return Line(start=start, end=end, pen="cut")


def _sizes(stock: StockUse, length: float, width: float, units: Unit) -> list[Item]:
    """Return the sheet's own sizes and its grain."""
    middle = length / 2.0
    return [
        linear(
            (0.0, width),
            (length, width),
            axis="x",
            line_at=width + _OVER,
            value=stock.length,
            units=units,
        ),
        linear(
            (length, 0.0),
            (length, width),
            axis="y",
            line_at=length + _RIGHT - 1.6,
            value=stock.width,
            units=units,
        ),
        Arrow(
            tail=(middle - 14.0, -_OVER),
            tip=(middle + 14.0, -_OVER),
            style="double",
            pen="grain",
        ),
        Text(
            text="face grain",
            at=(middle, -_OVER + 1.2),
            height=_NOTE,
            anchor="middle",
            pen="grain",
        ),
    ]
