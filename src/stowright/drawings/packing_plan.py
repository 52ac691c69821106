"""What lies where in an opening: plan views of its layers, the face below, each thing numbered.

A layer begins wherever things begin: on the floor, and on the tops of what lies below.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from stowright.drawings.lettering import text_width
from stowright.drawings.scene import Item, Polyline, Region, Scene, Text, View
from stowright.errors import UnknownNameError
from stowright.model.design import Design, OpeningDesign
from stowright.model.geometry import Point2
from stowright.model.packed import PackedThing
from stowright.units import format_length

__all__ = ["Board", "Numbered", "boards_in", "numbered", "packing_plan", "packing_plans"]

#: Between layers, and above a plan for its title. [mm on paper]
_GAP, _TITLE, _MARGIN = 6.0, 8.0, 1.0
#: Right of a plan for the marks of its dividers, and their letters. [mm on paper]
_MARKS, _MARK = 5.0, 1.8
#: Starts that differ by less are one layer. [mm]
_LEVEL = 15.0
_MOST_LAYERS = 4
_LARGEST, _SMALLEST, _WORDS = 3.5, 1.8, 2.0
#: So wide that a view's title stands over it. [mm on paper]
_LEAST_COLUMN = 36.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbered:
    """A thing with the number that it has on the plan; copies have a number each."""

    number: int
    thing: PackedThing


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """A divider where it stands: the mark of its part, its near face, how thick and high. [mm]."""

    mark: str
    depth: float
    length: float
    thickness: float
    height: float


def packing_plans(design: Design, *, room: Point2 = (174.0, 110.0)) -> tuple[Scene, ...]:
    """Return a plan for each opening in which something lies.

    Args:
        design: A design whose load was packed.
        room: Width and height that each may take. [mm]
    """
    if design.packed is None:
        return ()
    used = {thing.opening for thing in design.packed.things}
    return tuple(
        packing_plan(design, opening.name, room=room)
        for block in design.blocks
        for opening in block.openings
        if opening.name in used
    )


def numbered(design: Design, name: str) -> tuple[Numbered, ...]:
    """Return what lies in an opening with its numbers: from the face back, left to right, up."""
    things = design.packed.things if design.packed is not None else ()
    mine = sorted(
        (thing for thing in things if thing.opening == name),
        key=lambda t: (_level(t), t.at[1], t.at[0], t.what, t.copy),
    )
    return tuple(Numbered(number=k, thing=thing) for k, thing in enumerate(mine, start=1))


def boards_in(design: Design, name: str) -> tuple[Board, ...]:
    """Return the dividers of an opening, the nearest to its face first."""
    load = design.packed.dividers if design.packed is not None else ()
    pieces = [p for p in design.placed if p.role == "divider" and p.opening == name]
    placed = {piece.id.rpartition("-")[2]: piece for piece in pieces}
    boards = (
        (divider, placed[str(k)])
        for k, divider in enumerate((d for d in load if d.opening == name), start=1)
    )
    found = (
        Board(
            mark=piece.mark,
            depth=divider.depth,
            length=piece.length,
            thickness=piece.thickness,
            height=piece.width,
        )
        for divider, piece in boards
    )
    return tuple(sorted(found, key=lambda board: board.depth))


def packing_plan(design: Design, name: str, *, room: Point2 = (174.0, 110.0)) -> Scene:
    """Return plan views of what lies in an opening, a view a layer.

    Args:
        design: A design whose load was packed.
        name: The opening.
        room: Width and height that it may take. [mm]

    Raises:
        UnknownNameError: If there is no such opening.
    """
    opening = _opening(design, name)
    across, depth = _inside(design, opening)
    rows = numbered(design, name)
    levels = sorted({_level(row.thing) for row in rows})[:_MOST_LAYERS] or [0.0]
    boards = boards_in(design, name)
    count, aside = len(levels), _MARKS if boards else 0.0
    scale = min(
        (room[0] - 2.0 * _MARGIN - aside - _GAP * (count - 1)) / (count * across),
        (room[1] - 2.0 * _MARGIN - 2.0 * _TITLE) / depth,
    )
    column = max(across * scale, _LEAST_COLUMN)
    views = []
    for k, level in enumerate(levels):
        left = _MARGIN + k * (column + _GAP) + (column - across * scale) / 2.0
        at = (left, _MARGIN + _TITLE)
        title = _title(design, rows, level, levels)
        items = _layer(_Sheet(across, depth, scale, at), rows, level, boards, title)
        views.append(View(name=f"layer {k + 1}", items=items, scale=scale, at=at))
    return Scene(
        name=f"packing-{name}",
        title=f"What lies in {name}",
        width=2.0 * _MARGIN + count * column + _GAP * (count - 1) + aside,
        height=2.0 * _MARGIN + 2.0 * _TITLE + depth * scale,
        views=tuple(views),
        scale=scale,
    )


@dataclass(frozen=True, slots=True)
class _Sheet:
    """The inside of an opening on paper: x across from the left, y from the face back."""

    across: float
    depth: float
    scale: float
    at: Point2

    def corners(self, low: Point2, size: Point2) -> tuple[Point2, ...]:
        """Return the corners of a rectangle on paper."""
        x, y = (at + value * self.scale for at, value in zip(self.at, low, strict=True))
        w, h = (value * self.scale for value in size)
        return ((x, y), (x + w, y), (x + w, y + h), (x, y + h))


def _layer(
    sheet: _Sheet,
    rows: Sequence[Numbered],
    level: float,
    boards: Sequence[Board],
    title: str,
) -> tuple[Item, ...]:
    inside = (sheet.across, sheet.depth)
    items: list[Item] = [Polyline(points=sheet.corners((0.0, 0.0), inside), closed=True)]
    for row in rows:
        if _level(row.thing) < level:
            low = sheet.corners(row.thing.at[:2], row.thing.size[:2])
            items.append(Polyline(points=low, closed=True, pen="hidden"))
    for board in boards:
        items += _board(sheet, board, below=board.height <= _start(rows, level))
    for row in rows:
        if _level(row.thing) == level:
            items += _thing(sheet, row)
    middle = sheet.at[0] + sheet.across * sheet.scale / 2.0
    top = sheet.at[1] + sheet.depth * sheet.scale
    items.append(Text(text=title, at=(middle, top + 2.0), height=2.5, anchor="middle"))
    items.append(
        Text(text="face", at=(middle, sheet.at[1] - 2.0), height=2.5, anchor="middle", rise="top")
    )
    return tuple(items)


def _board(sheet: _Sheet, board: Board, *, below: bool) -> tuple[Item, ...]:
    """Return a divider with the mark of its part beside the plan; in dashes what lies below."""
    low = ((sheet.across - board.length) / 2.0, board.depth)
    bar = sheet.corners(low, (board.length, board.thickness))
    right = sheet.at[0] + sheet.across * sheet.scale
    mark = Text(
        text=board.mark,
        at=(right + 0.8, (bar[0][1] + bar[2][1]) / 2.0),
        height=_MARK,
        rise="middle",
    )
    return (Polyline(points=bar, closed=True, pen="hidden" if below else "visible"), mark)


def _thing(sheet: _Sheet, row: Numbered) -> tuple[Item, ...]:
    corners = sheet.corners(row.thing.at[:2], row.thing.size[:2])
    width, height = (side * sheet.scale for side in row.thing.size[:2])
    text = str(row.number)
    letters = max(_SMALLEST, min(_LARGEST, 0.5 * height, 0.7 * width / len(text)))
    x, y = ((low + high) / 2.0 for low, high in zip(corners[0], corners[2], strict=True))
    named = text_width(row.thing.what, height=_WORDS) < width - 1.5 and height > 4.0 * _WORDS
    items: list[Item] = [
        Region(outer=corners, fill="tint", pen="visible", about=row.thing.what),
        Text(
            text=text,
            at=(x, y + (_WORDS if named else 0.0)),
            height=letters,
            anchor="middle",
            rise="middle",
            weight="bold",
        ),
    ]
    if named:
        words = Text(
            text=row.thing.what,
            at=(x, y - 0.6 * _WORDS),
            height=_WORDS,
            anchor="middle",
            rise="top",
        )
        items.append(words)
    return tuple(items)


def _title(design: Design, rows: Sequence[Numbered], level: float, levels: Sequence[float]) -> str:
    if len(levels) == 1:
        return "seen from above"
    if level == levels[0]:
        return "at the bottom"
    start = format_length(_start(rows, level), design.job.units, with_unit=True)
    return f"from {start} up"


def _start(rows: Sequence[Numbered], level: float) -> float:
    """Return where the lowest thing of a layer begins. [mm]."""
    return min((row.thing.at[2] for row in rows if _level(row.thing) == level), default=level)


def _level(thing: PackedThing) -> float:
    return round(thing.at[2] / _LEVEL) * _LEVEL


def _inside(design: Design, opening: OpeningDesign) -> Point2:
    """Return what can be filled, across and deep. [mm]."""
    x, y, _ = opening.usable.size
    face = next(block.face for block in design.blocks if block.name == opening.block)
    return (y, x) if face == "tail" else (x, y)


def _opening(design: Design, name: str) -> OpeningDesign:
    rows = [o for block in design.blocks for o in block.openings]
    for opening in rows:
        if opening.name == name:
            return opening
    raise UnknownNameError("opening", name, tuple(o.name for o in rows))
