"""Sheets with frame and title block, or a figure without either.

Sheet sizes are those of ISO 216 (A4, A3) and ANSI Y14.1 (A is Letter, B is 11 by 17 in). Frame,
centring marks and grid references follow ISO 5457, from memory: 20 mm at the filing edge, 10 mm
elsewhere, a 0.7 mm frame, fields of 50 mm counted from the centring marks, on A4 only above and at
the right. ANSI sheets carry the same frame. The title block holds the fields that ISO 7200 asks
for, 180 mm wide.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from stowright.drawings.extent import Bounds, bounds, moved, moved_view
from stowright.drawings.figures import marks_of
from stowright.drawings.lettering import text_width, wrapped
from stowright.drawings.scales import scale_text
from stowright.drawings.scene import Item, Line, Polyline, Scene, Symbol, Text, View
from stowright.errors import OutOfRangeError
from stowright.model.geometry import Point2
from stowright.units import Unit

__all__ = [
    "PAPERS",
    "Paper",
    "PaperName",
    "TitleBlock",
    "bar_figure",
    "check_bar",
    "drawing_room",
    "framed",
    "projection_symbol",
]

type PaperName = Literal["A4", "A3", "ANSI A", "ANSI B"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A trimmed sheet. A4 and ANSI A stand upright, A3 and ANSI B lie. [mm]."""

    name: PaperName
    width: float
    height: float

    @property
    def upright(self) -> bool:
        """True when the sheet is higher than wide."""
        return self.height > self.width


PAPERS: dict[PaperName, Paper] = {
    "A4": Paper(name="A4", width=210.0, height=297.0),
    "A3": Paper(name="A3", width=420.0, height=297.0),
    "ANSI A": Paper(name="ANSI A", width=215.9, height=279.4),
    "ANSI B": Paper(name="ANSI B", width=431.8, height=279.4),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class TitleBlock:
    """What the title block says (the data fields of ISO 7200).

    Attributes:
        owner: Legal owner.
        number: Identification number.
        title: Title; its second line is ``more``.
        issued: Date of issue, as the caller gives it: nothing here knows the date.
        sheet, sheets: Sheet number and number of sheets.
        creator, approval: Who made it, who approved it.
        document_type: ``part drawing``, ``general arrangement`` …
        revision: Index of revision.
    """

    owner: str
    number: str
    title: str
    issued: str
    creator: str
    approval: str
    document_type: str
    sheet: int = 1
    sheets: int = 1
    more: str = ""
    revision: str = ""


_FILING = 20.0
_MARGIN = 10.0
_ZONE = 5.0
_FIELD = 50.0
_BLOCK_WIDTH = 180.0
_BLOCK_HEIGHT = 36.0
_ROW = 12.0
_INSIDE = 5.0  # of a centring mark, from the frame
_OFF_MARK = 0.5  # of lettering from a centring mark
_SHIFT = 2.0  # steps in which a drawing is set aside from them
_CLEAR = 2.0  # between frame or title block and the drawing
_LABEL = 1.8


def drawing_room(paper: Paper) -> tuple[float, float]:
    """Return width and height free for a drawing above the title block. [mm]."""
    return (
        paper.width - _FILING - _MARGIN - 2.0 * _CLEAR,
        paper.height - 2.0 * _MARGIN - _BLOCK_HEIGHT - 2.0 * _CLEAR,
    )


def framed(
    scene: Scene, *, paper: Paper, block: TitleBlock, units: Unit = "mm", bar: bool = False
) -> Scene:
    """Return a drawing set in the middle of a framed sheet with its title block.

    Where its lettering would meet a centring mark there, it stands a little aside.

    Args:
        scene: A drawing without a frame.
        paper: The sheet.
        block: What the title block says; scale, unit and projection are taken from the drawing.
        units: The unit that its dimensions are printed in.
        bar: Whether a bar of 100 mm is added, to check a print by.

    Raises:
        OutOfRangeError: If the drawing is larger than the room on the sheet.
    """
    room_width, room_height = drawing_room(paper)
    if not scene.width <= room_width + 1e-6:
        raise OutOfRangeError("scene.width", scene.width, f"at most {room_width:g} on this sheet")
    if not scene.height <= room_height + 1e-6:
        raise OutOfRangeError("scene.height", scene.height, f"at most {room_height:g}")
    spare = ((room_width - scene.width) / 2.0, (room_height - scene.height) / 2.0)
    x = _FILING + _CLEAR + spare[0]
    y = _MARGIN + _BLOCK_HEIGHT + _CLEAR + spare[1]
    dx, dy = _off_the_marks(scene, paper, (x, y), spare)
    x, y = x + dx, y + dy
    body = tuple(moved_view(view, x=x, y=y) for view in scene.views)
    sheet = [
        View(name="frame", items=_frame(paper)),
        View(name="title block", items=_title_block(scene, paper, block, units)),
    ]
    if bar:
        at = (_FILING + _CLEAR, _MARGIN + _BLOCK_HEIGHT + _CLEAR + 2.0)
        sheet.append(View(name="check bar", items=check_bar(at)))
    return replace(scene, width=paper.width, height=paper.height, views=(*body, *sheet))


def _off_the_marks(
    scene: Scene, paper: Paper, at: Point2, spare: tuple[float, float]
) -> tuple[float, float]:
    """Return the least shift that keeps a drawing's lettering off the centring marks. [mm].

    None where no shift within what the sheet has to spare does.
    """
    if min(spare) > _INSIDE - _CLEAR:
        return (0.0, 0.0)
    marks = [bounds((line,)) for line in _centring(paper, *_inner(paper))]
    texts = [
        bounds((mark,))
        for item in moved(scene.items, x=at[0], y=at[1])
        for mark in marks_of(item)
        if isinstance(mark, Text) and mark.text
    ]
    steps = [(k * _SHIFT * sign) for k in range(5) for sign in ((1.0, -1.0) if k else (1.0,))]
    shifts = [
        (dx, dy) for dx in steps for dy in steps if abs(dx) <= spare[0] and abs(dy) <= spare[1]
    ]
    for dx, dy in sorted(shifts, key=lambda s: abs(s[0]) + abs(s[1])):
        if not any(_near(mark, text, dx, dy) for text in texts for mark in marks):
            return (dx, dy)
    return (0.0, 0.0)


def _near(mark: Bounds, text: Bounds, dx: float, dy: float) -> bool:
    """Return whether a text that is shifted so comes nearer to a mark than it may."""
    off = _OFF_MARK
    beside = text.left + dx > mark.right + off or text.right + dx < mark.left - off
    over = text.bottom + dy > mark.top + off or text.top + dy < mark.bottom - off
    return not (beside or over)


def check_bar(at: Point2, *, upright: bool = False) -> tuple[Item, ...]:
    """Return a bar of 100 mm from a point to the right, or upwards, with its note beside it."""
    x, y = at

    def point(along: float, off: float) -> Point2:
        return (x - off, y + along) if upright else (x + along, y + off)

    ticks = [
        Line(start=point(k * 10.0, 0.0), end=point(k * 10.0, tall), pen="outline")
        for k, tall in ((k, 3.0 if k % 5 == 0 else 2.0) for k in range(11))
    ]
    note = "This bar measures 100 mm on a true print."
    return (
        Line(start=point(0.0, 0.0), end=point(100.0, 0.0), pen="outline"),
        *ticks,
        Text(
            text=note,
            at=point(50.0, 4.4),
            height=_LABEL,
            anchor="middle",
            turn=90.0 if upright else 0.0,
        ),
    )


def bar_figure() -> Scene:
    """Return the bar of 100 mm as a figure of its own."""
    bar = View(name="check bar", items=check_bar((1.0, 1.0)))
    return Scene(name="bar", title="100 mm", width=102.0, height=8.0, views=(bar,))


def projection_symbol(projection: Literal["first", "third"]) -> Scene:
    """Return the symbol of first or third angle projection (ISO 5456-2) as a figure of its own."""
    kind: Literal["first-angle", "third-angle"] = (
        "first-angle" if projection == "first" else "third-angle"
    )
    symbol = Symbol(kind=kind, at=(7.0, 3.5), size=5.0)
    return Scene(
        name=kind,
        title=f"{projection} angle projection",
        width=14.0,
        height=7.0,
        views=(View(name="symbol", items=(symbol,)),),
        projection=projection,
    )


# Frame -------------------------------------------------------------------------------------------


def _inner(paper: Paper) -> tuple[float, float, float, float]:
    """Return the frame: left, bottom, right and top. [mm]."""
    return (_FILING, _MARGIN, paper.width - _MARGIN, paper.height - _MARGIN)


def _frame(paper: Paper) -> tuple[Item, ...]:
    left, bottom, right, top = _inner(paper)
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    grown = (
        (left - _ZONE, bottom - _ZONE),
        (right + _ZONE, bottom - _ZONE),
        (right + _ZONE, top + _ZONE),
        (left - _ZONE, top + _ZONE),
    )
    return (
        Polyline(points=corners, closed=True, pen="emphasis"),
        Polyline(points=grown, closed=True, pen="dimension"),
        *_centring(paper, left, bottom, right, top),
        *_columns(paper, left, right, bottom, top),
        *_rows(paper, left, right, bottom, top),
    )


def _centring(
    paper: Paper, left: float, bottom: float, right: float, top: float
) -> tuple[Item, ...]:
    """Return centring marks: from the grid border to 5 mm inside the frame.

    The lower one stops at the frame where the title block would stand in its way.
    """
    x, y, reach = paper.width / 2.0, paper.height / 2.0, _INSIDE
    under = 0.0 if x > right - _BLOCK_WIDTH else reach
    ends = (
        ((left - _ZONE, y), (left + reach, y)),
        ((right + _ZONE, y), (right - reach, y)),
        ((x, bottom - _ZONE), (x, bottom + under)),
        ((x, top + _ZONE), (x, top - reach)),
    )
    return tuple(Line(start=a, end=b, pen="emphasis") for a, b in ends)


def _stations(middle: float, low: float, high: float) -> list[float]:
    """Return the field limits strictly between two ends, 50 mm apart from the middle."""
    count = int((high - low) / 2.0 // _FIELD) + 1
    places = [middle + k * _FIELD for k in range(-count, count + 1)]
    return [place for place in places if low + 12.0 < place < high - 12.0]


def _columns(
    paper: Paper, left: float, right: float, bottom: float, top: float
) -> tuple[Item, ...]:
    stations = _stations(paper.width / 2.0, left, right)
    limits = [left, *stations, right]
    sides = (
        [(top, top + _ZONE)] if paper.upright else [(top, top + _ZONE), (bottom - _ZONE, bottom)]
    )
    items: list[Item] = []
    for low, high in sides:
        items += [Line(start=(x, low), end=(x, high), pen="dimension") for x in stations]
        for k, (a, b) in enumerate(pairwise(limits)):
            items.append(_zone_text(str(k + 1), ((a + b) / 2.0, (low + high) / 2.0)))
    return tuple(items)


def _rows(paper: Paper, left: float, right: float, bottom: float, top: float) -> tuple[Item, ...]:
    stations = _stations(paper.height / 2.0, bottom, top)
    limits = [top, *reversed(stations), bottom]
    sides = [(right, right + _ZONE)]
    if not paper.upright:
        sides.append((left - _ZONE, left))
    items: list[Item] = []
    for low, high in sides:
        items += [Line(start=(low, y), end=(high, y), pen="dimension") for y in stations]
        for k, (a, b) in enumerate(pairwise(limits)):
            items.append(_zone_text(chr(ord("A") + k), ((low + high) / 2.0, (a + b) / 2.0)))
    return tuple(items)


def _zone_text(text: str, middle: Point2) -> Text:
    # Beside the middle of the field, where a centring mark may run.
    return Text(text=text, at=middle, height=2.5, anchor="middle", rise="middle")


# Title block -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cell:
    """A field of the title block, from its lower left corner. [mm]."""

    x: float
    row: int
    width: float
    label: str
    value: str
    height: float = 2.5
    bold: bool = False


def _title_block(scene: Scene, paper: Paper, block: TitleBlock, units: Unit) -> tuple[Item, ...]:
    left, bottom = paper.width - _MARGIN - _BLOCK_WIDTH, _MARGIN
    cells = _cells(scene, block, units)
    items: list[Item] = []
    for cell in cells:
        items += _drawn_cell(cell, left, bottom)
    if scene.projection:
        kind: Literal["first-angle", "third-angle"] = (
            "first-angle" if scene.projection == "first" else "third-angle"
        )
        items.append(Symbol(kind=kind, at=(left + 169.0, bottom + 2.5 * _ROW - 1.4), size=5.0))
    border = (
        (left, bottom),
        (left + _BLOCK_WIDTH, bottom),
        (left + _BLOCK_WIDTH, bottom + _BLOCK_HEIGHT),
        (left, bottom + _BLOCK_HEIGHT),
    )
    items.append(Polyline(points=border, closed=True, pen="visible"))
    return tuple(items)


def _cells(scene: Scene, block: TitleBlock, units: Unit) -> tuple[_Cell, ...]:
    scale = scale_text(scene.scale)
    return (
        _Cell(x=0.0, row=2, width=44.0, label="Created by", value=block.creator),
        _Cell(x=44.0, row=2, width=36.0, label="Approved by", value=block.approval),
        _Cell(x=80.0, row=2, width=40.0, label="Document type", value=block.document_type),
        _Cell(x=120.0, row=2, width=18.0, label="Scale", value=scale),
        _Cell(x=138.0, row=2, width=20.0, label="Sizes in", value=units),
        _Cell(x=158.0, row=2, width=22.0, label="Projection", value=""),
        _Cell(x=0.0, row=1, width=60.0, label="Legal owner", value=block.owner),
        _Cell(x=60.0, row=1, width=120.0, label="Title", value=block.title, height=3.5, bold=True),
        _Cell(x=0.0, row=0, width=60.0, label="Number", value=block.number, height=3.5, bold=True),
        _Cell(x=60.0, row=0, width=58.0, label="Supplementary title", value=block.more),
        _Cell(x=118.0, row=0, width=12.0, label="Rev.", value=block.revision),
        _Cell(x=130.0, row=0, width=28.0, label="Date of issue", value=block.issued),
        _Cell(x=158.0, row=0, width=22.0, label="Sheet", value=f"{block.sheet} of {block.sheets}"),
    )


def _drawn_cell(cell: _Cell, left: float, bottom: float) -> list[Item]:
    x, y = left + cell.x, bottom + cell.row * _ROW
    box = ((x, y), (x + cell.width, y), (x + cell.width, y + _ROW), (x, y + _ROW))
    items: list[Item] = [
        Polyline(points=box, closed=True, pen="dimension"),
        Text(text=cell.label, at=(x + 1.2, y + _ROW - 1.2), height=_LABEL * 0.8, rise="top"),
    ]
    lines, height = _fitted(cell)
    weight: Literal["bold", "regular"] = "bold" if cell.bold else "regular"
    step = 1.5 * height
    top = y + 1.9 + (len(lines) - 1) * step
    items += [
        Text(text=line, at=(x + 1.2, top - k * step), height=height, weight=weight)
        for k, line in enumerate(lines)
    ]
    return items


def _fitted(cell: _Cell) -> tuple[tuple[str, ...], float]:
    """Return the value's lines and height: smaller, then in two lines, then cut short."""
    weight: Literal["bold", "regular"] = "bold" if cell.bold else "regular"
    room = cell.width - 2.4
    for height in (cell.height, 2.5, 2.0):
        if height <= cell.height and text_width(cell.value, height=height, weight=weight) <= room:
            return (cell.value,), height
    lines = wrapped(cell.value, width=room, height=1.8, weight=weight)
    return tuple(_cut(line, room, weight) for line in lines[:2]), 1.8


def _cut(line: str, room: float, weight: Literal["bold", "regular"]) -> str:
    if text_width(line, height=1.8, weight=weight) <= room:
        return line
    while line and text_width(line + "…", height=1.8, weight=weight) > room:
        line = line[:-1]
    return line + "…"
