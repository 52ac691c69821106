"""The drawing of a bay with numbered arrows for its survey form, for each kind of bay.

The bay is a pattern, drawn to no scale: three views that show where each reading is taken.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from stowright.drawings.extent import bounds, moved, shrunk
from stowright.drawings.scene import (
    Arrow,
    Balloon,
    Hatch,
    Item,
    Line,
    Polyline,
    Region,
    Scene,
    Symbol,
    Text,
    View,
)
from stowright.drawings.survey_fields import Kind, survey_fields
from stowright.model.geometry import Point2

__all__ = ["survey_figure"]

type _ViewName = Literal["plan", "side", "tail"]

_RING = 2.3
_LETTER = 1.7
_GAP = 9.0
#: The pattern's millimetres on paper: both views fit beside each other on a page.
_SHARE = 0.77
# The pattern bay: width and length on plan, heights. [mm on paper]
_W, _L = 76.0, 118.0
_RAIL, _ROOF, _TOP = 30.0, 46.0, 24.0
_ARCH = (34.0, 84.0, 16.0, 11.0)  # start, end, height, reach
_GATE = 26.0
_LONG = 82.0  # length of the side view
_K = _LONG / _L


@dataclass(frozen=True, slots=True)
class _Arrow:
    """A numbered arrow: label, view, ends, and where along it the ring sits."""

    label: str
    view: _ViewName
    start: Point2
    end: Point2
    ring: float = 0.5


def survey_figure(kind: Kind) -> Scene:
    """Return the drawing of a kind of bay with its numbered arrows."""
    known = {r.label for field in survey_fields(kind) for r in field.readings}
    blocks = {
        name: shrunk((*drawn(kind), *_arrows(view, known, kind)), _SHARE)
        for name, view, drawn in _VIEWS
    }
    boxes = {name: bounds(items) for name, items in blocks.items()}
    plan, side, tail = boxes.values()
    right = plan.width + _GAP
    height = max(plan.height, side.height + tail.height + _GAP + 7.0) + 9.0
    places = {
        "Plan": (1.0 - plan.left, height - 8.0 - plan.top),
        "Seen from the side": (1.0 + right - side.left, height - 8.0 - side.top),
        "Seen from the tail": (
            1.0 + right - tail.left,
            height - 15.0 - side.height - _GAP - tail.top,
        ),
    }
    views = []
    for name, items in blocks.items():
        x, y = places[name]
        head = Text(
            text=name,
            at=(x + boxes[name].left, y + boxes[name].top + 3.0),
            height=2.8,
            weight="bold",
        )
        views.append(View(name=name, items=(*moved(items, x=x, y=y), head)))
    return Scene(
        name=f"survey-{kind}",
        title=f"Survey of a {kind}",
        width=right + max(side.width, tail.width) + 3.0,
        height=height,
        views=tuple(views),
    )


# The bay -----------------------------------------------------------------------------------------


def _plan(kind: Kind) -> list[Item]:
    taper = 2.0 if kind != "tray" else 0.0
    ring = ((0.0, 0.0), (_W, 0.0), (_W - taper, _L), (taper, _L))
    items: list[Item] = [Region(outer=ring, fill="tint", pen="outline")]
    start, end, _, reach = _ARCH
    if kind != "tray":
        for x0, x1 in ((0.5, reach + 0.5), (_W - reach - 0.5, _W - 0.5)):
            arch = ((x0, start), (x1, start), (x1, end), (x0, end))
            items.append(Region(outer=arch, fill="metal", pen="outline"))
    if kind == "tub":
        gate = ((2.0, 0.0), (2.0, -_GATE), (_W - 2.0, -_GATE), (_W - 2.0, 0.0))
        items.append(Polyline(points=gate, pen="phantom"))
    if kind in {"van", "tray"}:
        x = 0.0 if kind == "tray" else 1.0
        items.append(Line(start=(x, 88.0), end=(x, 112.0), pen="emphasis"))
    items += _on_floor()
    items.append(Text(text="cab", at=(_W / 2.0, _L + 1.6), height=2.2, anchor="middle"))
    return items


def _on_floor() -> list[Item]:
    """Return an anchor and a place to keep off, which every bay may have."""
    ring = ((48.0, 14.0), (61.0, 14.0), (61.0, 28.0), (48.0, 28.0))
    return [
        Hatch(outer=ring, angle=135.0, spacing=2.0, pen="warning"),
        Polyline(points=ring, closed=True, pen="warning"),
        Symbol(kind="anchor", at=(15.0, 12.0), size=3.6),
    ]


def _side(kind: Kind) -> list[Item]:
    """Return the bay from its right side: tail at the left, cab at the right."""
    items: list[Item] = [
        Line(start=(0.0, 0.0), end=(_LONG, 0.0), pen="visible"),
        Line(start=(_LONG, 0.0), end=(_LONG - 2.0, _height(kind)), pen="visible"),
        Line(start=(0.0, 0.0), end=(_lean(kind), _height(kind)), pen="visible"),
    ]
    roof = _height(kind)
    pen: Literal["visible", "phantom"] = "visible" if kind in {"van", "wagon"} else "phantom"
    items.append(Line(start=(_lean(kind), roof), end=(_LONG - 2.0, roof), pen=pen))
    if kind in {"tub", "tray"}:
        items.append(Line(start=(_lean(kind) * 0.65, _RAIL), end=(_LONG, _RAIL), pen="outline"))
    start, end, high, _ = _ARCH
    if kind != "tray":
        x0, x1 = start * _K, end * _K
        arch = ((x0, 0.0), (x0 + 3.0, high), (x1 - 3.0, high), (x1, 0.0))
        items.append(Polyline(points=arch, pen="outline"))
    if kind == "tub":
        gate = ((0.0, -1.0), (-_GATE, -1.0), (-_GATE, -3.5), (0.0, -3.5))
        items.append(Polyline(points=gate, closed=True, pen="phantom"))
    if kind == "wagon":
        x, y = _lean(kind), roof
        gate = ((x, y), (x - _GATE, y + 5.0), (x - _GATE - 0.6, y + 7.4), (x, y + 2.4))
        items.append(Polyline(points=gate, closed=True, pen="phantom"))
    if kind in {"van", "tray"}:
        x0, x1 = 88.0 * _K, 112.0 * _K
        door = ((x0, 1.0), (x1, 1.0), (x1, 38.0), (x0, 38.0))
        items.append(Polyline(points=door, closed=True, pen="hidden"))
    items.append(Line(start=(-8.0, -22.0), end=(_LONG, -22.0), pen="light"))
    items.append(Text(text="ground", at=(_LONG, -21.0), height=2.0, anchor="end"))
    return items


def _tail(kind: Kind) -> list[Item]:
    high = _RAIL if kind in {"tub", "tray"} else _ROOF
    out = 1.5
    c = 3.0
    left = [(-out, high), (0.0, c), (0.9, 0.9), (c, 0.0)]
    right = [(_W - x, y) for x, y in reversed(left)]
    items: list[Item] = [Polyline(points=(*left, *right), pen="visible")]
    if kind in {"van", "wagon"}:
        items.append(Line(start=(-out, high), end=(_W + out, high), pen="visible"))
        door = ((5.0, 1.5), (_W - 5.0, 1.5), (_W - 7.0, high - 4.0), (7.0, high - 4.0))
        items.append(Polyline(points=door, closed=True, pen="hidden"))
    else:
        items.append(Line(start=(-out, _ROOF), end=(_W + out, _ROOF), pen="phantom"))
    _, _, tall, reach = _ARCH
    if kind != "tray":
        for side in (0.0, 1.0):
            xs = (0.3, reach, reach) if side == 0.0 else (_W - 0.3, _W - reach, _W - reach)
            arch = ((xs[0], tall), (xs[1], tall), (xs[2], 0.0))
            items.append(Polyline(points=arch, pen="outline"))
    return items


def _height(kind: Kind) -> float:
    return _ROOF if kind in {"van", "wagon", "tub", "tray"} else _RAIL


def _lean(kind: Kind) -> float:
    return 10.0 if kind == "wagon" else 3.0


_VIEWS: tuple[tuple[str, _ViewName, Callable[[Kind], list[Item]]], ...] = (
    ("Plan", "plan", _plan),
    ("Seen from the side", "side", _side),
    ("Seen from the tail", "tail", _tail),
)


# The arrows --------------------------------------------------------------------------------------


def _arrows(view: _ViewName, known: set[str], kind: Kind) -> list[Item]:
    items: list[Item] = []
    for arrow in _table(kind):
        if arrow.view != view or arrow.label not in known:
            continue
        (x0, y0), (x1, y1) = arrow.start, arrow.end
        if arrow.start != arrow.end:
            items.append(Arrow(tail=arrow.start, tip=arrow.end, style="double", size=1.8))
        at = (x0 + arrow.ring * (x1 - x0), y0 + arrow.ring * (y1 - y0))
        items.append(Balloon(centre=at, text=arrow.label, radius=_RING, height=_LETTER))
    return items


def _table(kind: Kind) -> tuple[_Arrow, ...]:
    return (*_plan_arrows(kind), *_side_arrows(kind), *_tail_arrows(kind))


def _plan_arrows(kind: Kind) -> tuple[_Arrow, ...]:
    start, end, _, reach = _ARCH
    edge = 1.0 if kind != "tray" else 0.0
    return (
        _Arrow("1", "plan", (_W / 2, 0.0), (_W / 2, _L), 0.83),
        _Arrow("3a", "plan", (0.2, 6.0), (_W - 0.2, 6.0), 0.62),
        _Arrow("3b", "plan", (2 * edge, 112.0), (_W - 2 * edge, 112.0), 0.62),
        _Arrow("2", "plan", (edge, 29.0), (_W - edge, 29.0), 0.38),
        _Arrow("4a", "plan", (reach + 0.5, 40.0), (_W - reach - 0.5, 40.0), 0.66),
        _Arrow("4b", "plan", (reach + 0.5, 78.0), (_W - reach - 0.5, 78.0), 0.66),
        _Arrow("5a", "plan", (19.0, 0.0), (19.0, _L), 0.80),
        _Arrow("5b", "plan", (_W - 19.0, 0.0), (_W - 19.0, _L), 0.80),
        _Arrow("6a", "plan", (0.3, 0.3), (_W - 2.2, _L - 0.3), 0.90),
        _Arrow("6b", "plan", (_W - 0.3, 0.3), (2.2, _L - 0.3), 0.90),
        _Arrow("7a", "plan", (-5.0, 0.0), (-5.0, start)),
        _Arrow("7b", "plan", (-12.0, 0.0), (-12.0, end), 0.6),
        _Arrow("7d", "plan", (0.5, 59.0), (reach + 0.5, 59.0)),
        _Arrow("8a", "plan", (_W + 5.0, 0.0), (_W + 5.0, start)),
        _Arrow("8b", "plan", (_W + 12.0, 0.0), (_W + 12.0, end), 0.6),
        _Arrow("8d", "plan", (_W - reach - 0.5, 59.0), (_W - 0.5, 59.0)),
        _Arrow("14a", "plan", (-19.0, 0.0), (-19.0, 88.0), 0.4),
        _Arrow("14b", "plan", (-5.0, 88.0), (-5.0, 112.0)),
        _Arrow("15a", "plan", (_W - 8.0, 0.0), (_W - 8.0, -_GATE))
        if kind == "tub"
        else _Arrow("-", "plan", (0.0, 0.0), (0.0, 0.0)),
        _Arrow("17", "plan", (10.0, 17.0), (10.0, 17.0)),
        _Arrow("18", "plan", (65.5, 21.0), (65.5, 21.0)),
    )


def _side_arrows(kind: Kind) -> tuple[_Arrow, ...]:
    start, end, high, _ = _ARCH
    middle = (start + end) / 2.0 * _K
    lean = _lean(kind)
    rows = [
        _Arrow("9", "side", (72.0, 0.0), (72.0, _RAIL), 0.55)
        if kind == "tub"
        else _Arrow("9", "side", (30.0, 0.0), (30.0, _RAIL), 0.55),
        _Arrow("10", "side", (14.0, 0.0), (14.0, _ROOF), 0.82),
        _Arrow("5c", "side", (lean * _TOP / _ROOF, _TOP), (_LONG - 1.0, _TOP), 0.58),
        _Arrow("7c", "side", (middle - 8.0, 0.0), (middle - 8.0, high)),
        _Arrow("8c", "side", (middle + 8.0, 0.0), (middle + 8.0, high)),
        _Arrow("11", "side", (0.0, _TOP + 5.0), (lean * (_TOP + 5.0) / _ROOF, _TOP + 5.0), -1.4),
        _Arrow("13d", "side", (6.0, -22.0), (6.0, 0.0)),
        _Arrow("14c", "side", (95.0 * _K, 1.0), (95.0 * _K, 38.0), 0.75),
        _Arrow("19a", "side", (30.0, -15.0), (_LONG, -15.0), 0.6),
        _Arrow("19b", "side", (0.0, -9.0), (46.0, -9.0), 0.6),
        _Arrow("16a", "side", (60.0, -4.5), (60.0, -4.5)),
        _Arrow("16b", "side", (67.0, -4.5), (67.0, -4.5)),
        _Arrow("16c", "side", (74.0, -4.5), (74.0, -4.5)),
    ]
    if kind == "tub":
        rows.append(_Arrow("15b", "side", (-20.0, -1.0), (-20.0, 8.0), 1.3))
    if kind == "wagon":
        x, y = lean, _ROOF
        rows.append(_Arrow("15a", "side", (x, y + 10.0), (x - _GATE, y + 15.0)))
        rows.append(_Arrow("15b", "side", (x - _GATE - 4.0, y + 7.0), (x - _GATE - 4.0, y + 7.0)))
    return tuple(rows)


def _tail_arrows(kind: Kind) -> tuple[_Arrow, ...]:
    doored = kind in {"van", "wagon"}
    high = _ROOF - 4.0 if doored else _RAIL
    rows = [
        _Arrow("3c", "tail", (-1.2, _TOP), (_W + 1.2, _TOP), 0.35),
        _Arrow("3d", "tail", (-1.2, _TOP - 6.0), (_W + 1.2, _TOP - 6.0), 0.65),
        _Arrow("12", "tail", (-4.5, -3.0), (-4.5, -3.0)),
        _Arrow("13a", "tail", (5.0, 6.0), (_W - 5.0, 6.0), 0.5)
        if doored
        else _Arrow("13a", "tail", (2.0, -6.0), (_W - 2.0, -6.0), 0.5),
        _Arrow("13c", "tail", (_W + 6.0, -4.5), (_W + 6.0, -4.5)),
    ]
    if doored:
        rows.append(_Arrow("13b", "tail", (22.0, 1.5), (22.0, high), 0.72))
    else:
        rows.append(_Arrow("13b", "tail", (_W + 8.0, 3.0), (_W + 8.0, _ROOF), 0.6))
    return tuple(rows)
