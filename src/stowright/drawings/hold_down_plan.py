"""Many hold-downs on the load floor: a plan that names them, and a table of where each one goes.

Running dimensions of a crowd cannot be read. ISO 129-1 sets coordinates in a table for such
drawings: here from the same two datums as the plans of places, from the tail inwards and from left
to right.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil, inf

import shapely

from stowright.drawings.bay_lines import anchor_marks, plan_marks
from stowright.drawings.extent import Bounds, bounds, framed, moved
from stowright.drawings.lettering import text_width
from stowright.drawings.ortho import silhouette
from stowright.drawings.part_notes import Tip, short_note
from stowright.drawings.placing_ground import FROM_ABOVE, bay_outline, from_above, module_outlines
from stowright.drawings.scales import ALL_SCALES, scale_text
from stowright.drawings.scene import Item, Line, Polyline, Region, Scene, Text
from stowright.drawings.space import Space
from stowright.errors import OutOfRangeError
from stowright.model.design import AnchorPoint, Design
from stowright.model.geometry import Point3
from stowright.model.part import PlacedPart
from stowright.units import Unit, format_length

__all__ = ["MANY", "hold_down_figure", "is_crowded", "written"]

#: More than so many on the floor are not dimensioned in the plan.
MANY = 16
_LARGEST = 0.1
_MARGIN = 1.0
_AROUND = 24.0
_SYMBOL = 2.4
_NOTE = 2.5
_ROW = 4.6
_CELL_GAP, _COLUMN_GAP = 4.0, 9.0
#: The bay is drawn so far past the last hold-down, or whole where its end is near. [mm of the bay]
_PAST, _NEAR_THE_CAB = 120.0, 600.0
_FAR = 1.0e5
_DATUMS = (
    "0 along is the inner face of the shut tailgate or tail doors, 0 across the bay's centre line;",
    "left is plus. Listed from the tail inwards, from left to right, each bolt by its number.",
)


def is_crowded(design: Design) -> bool:
    """Return whether the floor has more hold-downs than running dimensions can tell apart."""
    return len(_points(design)) > MANY


def _points(design: Design) -> list[AnchorPoint]:
    """Return the hold-downs on the floor, from the tail inwards, from left to right."""
    floor = (point for point in design.anchors if point.surface == "floor")
    return sorted(floor, key=lambda a: (round(a.x, 1), -a.y, a.id))


def written(point: AnchorPoint, units: Unit) -> tuple[str, str]:
    """Return a hold-down's places along and across as they are printed."""
    return format_length(point.x, units), format_length(point.y, units)


def hold_down_figure(
    design: Design, *, pieces: Sequence[PlacedPart], units: Unit, room: tuple[float, float]
) -> Scene:
    """Return the plan of the floor's hold-downs with their table below.

    Args:
        design: The design.
        pieces: What lies on the floor, drawn for orientation.
        units: Unit of print.
        room: Width and height that it may take. [mm]

    Raises:
        OutOfRangeError: If it does not fit the room even at 1:100.
    """
    for scale in (s for s in ALL_SCALES if s <= _LARGEST):
        plan = _plan(design, pieces, scale)
        box = bounds(plan)
        table = _table(_points(design), units, room[0] - 2.0 * _MARGIN)
        left = box.left + (box.width - bounds(table).width) / 2.0
        table = moved(table, x=left, y=box.bottom - 6.0)
        title = _title(bounds((*plan, *table)), scale)
        scene = framed(
            (*plan, *table, *title), name="placing-floor-hold-downs",
            title="Hold-downs on the load floor", view="placing", scale=scale, margin=_MARGIN,
            room=room,
        )  # fmt: skip
        if scene is not None:
            return scene
    raise OutOfRangeError("room", room[0], "large enough for the plan at 1:100")


def _plan(design: Design, pieces: Sequence[PlacedPart], scale: float) -> tuple[Item, ...]:
    def flat(point: Point3) -> tuple[float, float]:
        return from_above(point, scale)

    areas, _ = plan_marks(design, flat)
    signs, _ = anchor_marks(design, flat, size=_SYMBOL)
    modules = list(module_outlines(design, scale))
    shapes = list(_shapes(design, pieces, scale))
    ends = _seen_to(design) * scale
    items: list[Item] = [
        *_cut_off(bay_outline(design, scale), ends),
        *(area for area in areas if bounds((area,)).bottom < ends),
        *modules,
        *shapes,
        *(sign for sign in signs if bounds((sign,)).top < ends),
    ]
    box = bounds(items)
    items.append(Line(start=(0.0, box.bottom - 2.0), end=(0.0, box.top + 2.0), pen="centre"))
    rim = bounds(items)
    space = Space(
        Bounds(
            left=rim.left - _AROUND,
            right=rim.right + _AROUND,
            bottom=rim.bottom - _AROUND,
            top=rim.top + _AROUND,
        )
    )
    space.take(items)
    for point in _points(design):
        name = short_note(point.number, [Tip(flat((point.x, point.y, 0.0)), _SYMBOL / 2.0)], space)
        space.take((name,))
        items.append(name)
    return tuple(items)


def _seen_to(design: Design) -> float:
    """Return how far in the plan goes: past the last module, or to the cab where that is near."""
    last = max(module.box.x.high for block in design.blocks for module in block.modules)
    last = max(last, *(point.x for point in _points(design)))
    length = design.job.bay.length
    return inf if length - last < _NEAR_THE_CAB else last + _PAST


def _cut_off(outline: Sequence[Item], ends: float) -> Iterator[Item]:
    """Yield the bay's lines as far as the plan goes."""
    if ends == inf:
        yield from outline
        return
    shown = shapely.box(-_FAR, -_FAR, _FAR, ends)
    for item in outline:
        if isinstance(item, Polyline):
            ring = (*item.points, item.points[0]) if item.closed else item.points
            kept = shapely.line_merge(shapely.LineString(ring).intersection(shown))
            for bit in shapely.get_parts(kept):
                points = tuple((float(x), float(y)) for x, y in bit.coords)
                yield replace(item, points=points, closed=False)


def _shapes(design: Design, pieces: Sequence[PlacedPart], scale: float) -> Iterator[Item]:
    for piece in pieces:
        shape = silhouette(piece, design.part(piece.mark), FROM_ABOVE).shape
        ring = tuple((float(x) * scale, float(y) * scale) for x, y in shape.exterior.coords[:-1])
        yield Region(outer=ring, fill="wood", pen="light", about=piece.mark)


def _table(points: Sequence[AnchorPoint], units: Unit, width: float) -> tuple[Item, ...]:
    """Return the table with its upper left corner at (0, 0), in as many columns as fit."""
    alike = len({(point.thread, point.existing) for point in points}) == 1
    head = ("bolt", "along", "across", *(() if alike else ("thread", "hole")))
    rows = [
        (p.number, *written(p, units), *(() if alike else (p.thread, p.existing or "new")))
        for p in points
    ]
    widths = [
        max(text_width(row[k], height=_NOTE, weight="bold") for row in (head, *rows)) + _CELL_GAP
        for k in range(len(head))
    ]
    step = sum(widths) - _CELL_GAP + _COLUMN_GAP
    columns = max(1, int((width + _COLUMN_GAP) // step))
    deep = ceil(len(rows) / columns)
    items: list[Item] = []
    for n in range(ceil(len(rows) / deep)):
        items += _row(head, "", (n * step, 0.0), widths)
    for k, (point, row) in enumerate(zip(points, rows, strict=True)):
        n, down = divmod(k, deep)
        items += _row(row, point.id, (n * step, -(down + 1) * _ROW), widths)
    if alike:
        words = f"All {points[0].thread}, {points[0].existing or 'new holes'}."
        items.append(Text(text=words, at=(0.0, -(deep + 1.2) * _ROW), height=_NOTE, rise="top"))
    return tuple(items)


def _row(
    cells: Sequence[str], whose: str, at: tuple[float, float], widths: Sequence[float]
) -> Iterator[Text]:
    """Yield one row, the head's without an owner; a figure says in ``about`` along what it is."""
    left, top = at
    for k, cell in enumerate(cells):
        yield Text(
            text=cell,
            at=(left + sum(widths[:k]), top),
            height=_NOTE,
            rise="top",
            weight="regular" if whose and k else "bold",
            about=f"{whose} {('', 'along', 'across')[k]}" if whose and k in {1, 2} else "",
        )


def _title(box: Bounds, scale: float) -> Iterator[Text]:
    words = (f"Hold-downs on the load floor · {scale_text(scale)}", *_DATUMS)
    for k, line in enumerate(words):
        yield Text(
            text=line,
            at=(box.left, box.top + 3.5 + 4.6 * (len(words) - 1 - k)),
            height=_NOTE if k else 3.5,
            weight="regular" if k else "bold",
        )
