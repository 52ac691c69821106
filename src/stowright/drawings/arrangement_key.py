"""The key of a general arrangement: what its symbols mean, and where each hold-down goes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

from stowright.drawings.bay_lines import many_unused
from stowright.drawings.extent import moved
from stowright.drawings.lettering import text_width
from stowright.drawings.scene import Circle, Hatch, Item, Line, Polyline, Symbol, SymbolKind, Text
from stowright.model.design import AnchorPoint, Design
from stowright.units import Unit, format_length

__all__ = ["arrangement_key"]

_STEP = 5.2
_NOTE = 2.5
_WORDS = 12.0  # from the left to the words
_COLUMN_GAP = 4.0
_MOST_ROWS = 24  # of hold-downs, one below the other


def arrangement_key(design: Design, units: Unit, *, brief: bool = False) -> tuple[Item, ...]:
    """Return the key, its upper left corner about (0, 0); a brief one has no table of hold-downs.

    The plan of places gives every hold-down from the same datums.
    """
    items: list[Item] = [_text("Key", 0.0, 0.0, bold=True)]
    y = 0.0
    for words, sample in _rows(design):
        y -= _STEP
        items += moved(sample, y=y)
        items.append(_text(words, _WORDS, y))
    floor = [point for point in design.anchors if point.surface == "floor"]
    if floor and brief:
        items.append(_text("Hold-downs: see the plan of places", 0.0, y - 1.8 * _STEP, bold=True))
    elif floor:
        items += moved(_anchor_table(floor, units), y=y - 1.8 * _STEP)
    return tuple(items)


def _rows(design: Design) -> Iterator[tuple[str, tuple[Item, ...]]]:
    bay = design.job.bay
    yield "the vehicle, as measured", (Line(start=(0.0, 0.0), end=(10.0, 0.0), pen="light"),)
    phantom = Line(start=(0.0, 0.0), end=(10.0, 0.0), pen="phantom")
    if dotted := "; ".join(_double_dotted(design)):
        yield dotted, (phantom,)
    if any(row.straps for row in design.deck_cargo):
        yield "strap, roughly where it goes", (replace(phantom, pen="light"),)
    if any(joint.kind == "rail" for joint in design.joints):
        yield "rail with tie points, on the deck", (*_rail_sample(),)
    if any(anchor.surface == "floor" for anchor in bay.anchors):
        unused = "".join(f"; {words} not used" for words in many_unused(design))
        yield f"anchor that the vehicle has{unused}", _symbol("anchor")
    if any(not point.existing for point in design.anchors):
        yield "hole to be made: look behind first", _symbol("anchor-new")
    if bay.belts:
        yield "belt anchorage: keep off", _symbol("belt")
    if bay.no_drill:
        ring = ((0.0, -1.6), (10.0, -1.6), (10.0, 1.6), (0.0, 1.6))
        area = Polyline(points=ring, closed=True, pen="warning")
        hatch = Hatch(outer=ring, angle=135.0, spacing=2.5, pen="warning")
        yield "no drilling", (hatch, area)


def _double_dotted(design: Design) -> Iterator[str]:
    """Yield what of this design is drawn in double-dotted lines."""
    gate = design.job.bay.tailgate
    if any(m.kind == "slide" for m in design.motions) or (gate and gate.hinge == "down"):
        yield "open position"
    covers = [
        word
        for word, roles in (("deck", {"deck"}), ("wings", {"wing", "wing-lid"}))
        if any(p.role in roles for p in design.placed)
    ]
    if covers:
        yield " and ".join(covers)
    if design.job.bay.rail is not None:
        yield "side rail of the vehicle"
    if design.deck_cargo:
        yield "cargo"


def _rail_sample() -> Iterator[Item]:
    ring = ((0.0, -0.8), (10.0, -0.8), (10.0, 0.8), (0.0, 0.8))
    yield Polyline(points=ring, closed=True, pen="outline")
    for x in (2.0, 5.0, 8.0):
        yield Circle(centre=(x, 0.0), radius=0.45, pen="outline", fill="ink")


def _symbol(kind: SymbolKind) -> tuple[Item, ...]:
    return (Symbol(kind=kind, at=(5.0, 0.0), size=4.0),)


def _text(words: str, x: float, y: float, *, bold: bool = False) -> Text:
    weight: Literal["bold", "regular"] = "bold" if bold else "regular"
    return Text(text=words, at=(x, y), height=_NOTE, rise="middle", weight=weight)


_HEAD = ("", "in from the tail", "off the centre line", "thread", "anchor")


def _anchor_table(points: list[AnchorPoint], units: Unit) -> tuple[Item, ...]:
    """Return where each hold-down goes, a row each; many stand in columns side by side.

    What is the same for all of many is said once, over them.
    """
    rows = [_anchor_row(point, units) for point in points]
    shown, title = list(range(5)), "Hold-downs"
    if len(rows) > _MOST_ROWS:
        alike = [k for k in (3, 4) if len({row[k] for row in rows}) == 1]
        shown = [k for k in shown if k not in alike]
        title = ", ".join(("Hold-downs", *(rows[0][k] for k in alike if rows[0][k])))
    items: list[Item] = [_text(title, 0.0, 0.0, bold=True)]
    left = 0.0
    for k in range(0, len(rows), _MOST_ROWS):
        some = rows[k : k + _MOST_ROWS]
        left = _put_rows(items, [[row[c] for c in shown] for row in (_HEAD, *some)], left)
    return tuple(items)


def _put_rows(items: list[Item], rows: list[list[str]], left: float) -> float:
    """Add rows of cells, the first one bold; return where the next column starts. [mm]."""
    for column in zip(*rows, strict=True):
        for n, cell in enumerate(column):
            if cell:
                items.append(_text(cell, left, -_STEP * (n + 1), bold=n == 0))
        widest = max(text_width(cell, height=_NOTE, weight="bold") for cell in column)
        left += widest + _COLUMN_GAP
    return left + _COLUMN_GAP


def _anchor_row(point: AnchorPoint, units: Unit) -> tuple[str, str, str, str, str]:
    side = "left" if point.y > 0.0 else "right"
    return (
        point.id,
        format_length(point.x, units),
        f"{format_length(abs(point.y), units)} {side}",
        point.thread,
        point.existing or "new hole",
    )
