"""Dimensions, leaders, hatching, balloons and arrows as marks, after ISO 129-1 and ISO 128-2."""

from __future__ import annotations

from collections.abc import Callable
from math import atan2, ceil, cos, floor, hypot, pi, radians, sin
from typing import Any

from stowright.drawings.lettering import text_width
from stowright.drawings.linetypes import Pen
from stowright.drawings.scene import (
    Arc,
    Arrow,
    Balloon,
    Circle,
    Dimension,
    Hatch,
    Item,
    Leader,
    Line,
    Mark,
    Polyline,
    Region,
    Running,
    Symbol,
    Text,
)
from stowright.drawings.symbols import symbol_marks
from stowright.model.geometry import Point2

__all__ = [
    "ARROW",
    "FOOT_GAP",
    "LANDING",
    "LINE_STEP",
    "OVERSHOOT",
    "TEXT_GAP",
    "arrowhead",
    "hatch_lines",
    "leader_texts",
    "marks_of",
]

#: Length of an arrowhead. [mm]
ARROW = 2.2
#: How far an extension line runs past its dimension line. [mm]
OVERSHOOT = 1.5
#: Gap between a dimension line and its text. [mm]
TEXT_GAP = 0.9
#: Gap between an outline and the extension line that starts there. [mm]
FOOT_GAP = 0.8
#: Length of the level end of a leader. [mm]
LANDING = 2.5
#: Line spacing of notes, as a multiple of the capital height.
LINE_STEP = 1.7


type _Point = Callable[[float, float], Point2]


def marks_of(item: Item) -> tuple[Mark, ...]:
    """Return what a back end draws for an item; a mark is returned as it is."""
    if isinstance(item, Line | Polyline | Region | Arc | Circle | Text):
        return (item,)
    return _DRAW[type(item)](item)


def arrowhead(tip: Point2, *, angle: float, size: float = ARROW, pen: Pen = "dimension") -> Region:
    """Return a filled arrowhead whose tip points along ``angle`` (radians)."""
    half = 0.17 * size
    back = (tip[0] - size * cos(angle), tip[1] - size * sin(angle))
    side = (-half * sin(angle), half * cos(angle))
    left = (back[0] + side[0], back[1] + side[1])
    right = (back[0] - side[0], back[1] - side[1])
    return Region(outer=(tip, left, right), fill="ink", pen=pen)


def _thin(start: Point2, end: Point2) -> Line:
    return Line(start=start, end=end, pen="dimension")


# Linear dimensions -------------------------------------------------------------------------------


def _dimension(d: Dimension) -> tuple[Mark, ...]:
    along = 0 if d.axis == "x" else 1
    a, b = sorted((d.start[along], d.end[along]))

    def point(t: float, across: float) -> Point2:
        return (t, across) if along == 0 else (across, t)

    middle = (a + b) / 2.0 if d.text_at is None else d.text_at
    line_from, line_to = _line_reach(d, a, b, middle)
    text = Text(
        text=d.text,
        at=point(middle, d.line_at + (TEXT_GAP if along == 0 else -TEXT_GAP)),
        height=d.height,
        anchor="middle",
        turn=0.0 if along == 0 else 90.0,
        pen="dimension",
    )
    feet = [_extension(foot, d, along) for foot in (d.start, d.end)]
    heads = _heads(point(a, d.line_at), point(b, d.line_at), along, out=d.arrows_out)
    return (*feet, _thin(point(line_from, d.line_at), point(line_to, d.line_at)), *heads, text)


def _line_reach(d: Dimension, a: float, b: float, middle: float) -> tuple[float, float]:
    """Return from where to where the dimension line runs, its tails and its text included."""
    tail = 2.2 * ARROW if d.arrows_out else 0.0
    low, high = a - tail, b + tail
    half = text_width(d.text, height=d.height) / 2.0
    if middle > b:
        high = max(high, middle + half)
    elif middle < a:
        low = min(low, middle - half)
    return low, high


def _extension(foot: Point2, d: Dimension, along: int) -> Line:
    """Return an extension line from near the outline to just past the dimension line."""
    across = 1 - along
    toward = 1.0 if d.line_at >= foot[across] else -1.0
    start, end = list(foot), list(foot)
    start[across] += toward * FOOT_GAP
    end[across] = d.line_at + toward * OVERSHOOT
    return _thin((start[0], start[1]), (end[0], end[1]))


def _heads(a: Point2, b: Point2, along: int, *, out: bool) -> tuple[Region, Region]:
    forward = 0.0 if along == 0 else pi / 2.0
    toward_b, toward_a = (forward + pi, forward) if out else (forward, forward + pi)
    return arrowhead(b, angle=toward_b), arrowhead(a, angle=toward_a)


# Running dimensions ------------------------------------------------------------------------------


def _running(r: Running) -> tuple[Mark, ...]:
    along = 0 if r.axis == "x" else 1

    def point(t: float, across: float) -> Point2:
        return (t, across) if along == 0 else (across, t)

    places = [r.datum[along], *(p[along] for p in r.points)]
    marks: list[Mark] = []
    for foot, place, text_at, text in zip(
        (r.datum, *r.points), places, r.texts_at, r.texts, strict=True
    ):
        marks += _running_line(r, foot, point, place=place, text_at=text_at)
        marks.append(_running_text(r, point, text_at=text_at, text=text))
    origin = point(places[0], r.line_at)
    ends = (point(min(places), r.line_at), point(max(places), r.line_at))
    marks.append(_thin(*ends))
    marks.append(Circle(centre=origin, radius=0.4 * ARROW, pen="dimension", fill="paper"))
    marks += _running_heads(r, point, places)
    return tuple(marks)


def _running_line(
    r: Running, foot: Point2, point: _Point, *, place: float, text_at: float
) -> list[Mark]:
    """Return one extension line, with its bend when its text was moved aside."""
    across = foot[1 if r.axis == "x" else 0]
    toward = 1.0 if r.line_at >= across else -1.0
    knee = r.line_at + r.side * OVERSHOOT
    points = [point(place, across + toward * FOOT_GAP), point(place, knee)]
    if abs(text_at - place) > 1e-6:
        points.append(point(text_at, r.line_at + r.side * r.out))
    else:
        points[-1] = point(place, r.line_at + r.side * r.out)
    return [Polyline(points=tuple(points), pen="dimension")]


def _running_text(r: Running, point: _Point, *, text_at: float, text: str) -> Text:
    away = r.line_at + r.side * (r.out + 0.6)
    return Text(
        text=text,
        at=point(text_at, away),
        height=r.height,
        anchor="start" if r.side > 0 else "end",
        rise="middle",
        turn=90.0 if r.axis == "x" else 0.0,
        pen="dimension",
    )


def _running_heads(r: Running, point: _Point, places: list[float]) -> list[Mark]:
    """Return an arrowhead at each place, or a dot where the place before it is too near."""
    datum = places[0]
    heads: list[Mark] = []
    for place in places[1:]:
        tip = point(place, r.line_at)
        between = [p for p in places if min(datum, place) <= p <= max(datum, place) and p != place]
        if min(abs(place - p) for p in between) < 1.4 * ARROW:
            heads.append(Circle(centre=tip, radius=0.4, pen="dimension", fill="ink"))
            continue
        along = 0.0 if r.axis == "x" else pi / 2.0
        heads.append(arrowhead(tip, angle=along if place > datum else along + pi))
    return heads


# Leaders, balloons, arrows -----------------------------------------------------------------------


def _leader(item: Leader) -> tuple[Mark, ...]:
    marks: list[Mark] = [Polyline(points=(*item.points, _landing_end(item)), pen="dimension")]
    tip, second = item.points[0], (*item.points, _landing_end(item))[1]
    if item.head == "arrow":
        angle = atan2(tip[1] - second[1], tip[0] - second[0])
        marks.append(arrowhead(tip, angle=angle))
    elif item.head == "dot":
        marks.append(Circle(centre=tip, radius=0.5, pen="dimension", fill="ink"))
    return (*marks, *leader_texts(item))


def _landing_end(item: Leader) -> Point2:
    x, y = item.points[-1]
    return (x + (LANDING if item.side == "right" else -LANDING), y)


def leader_texts(item: Leader) -> tuple[Text, ...]:
    """Return the note of a leader as texts, level with its landing."""
    right = item.side == "right"
    x, y = _landing_end(item)
    x += TEXT_GAP if right else -TEXT_GAP
    step = LINE_STEP * item.height
    top = y + (len(item.lines) - 1) * step / 2.0
    return tuple(
        Text(
            text=line,
            at=(x, top - k * step),
            height=item.height,
            anchor="start" if right else "end",
            rise="middle",
            weight=item.weight,
            pen="dimension",
            clear=item.clear,
        )
        for k, line in enumerate(item.lines)
    )


def _balloon(item: Balloon) -> tuple[Mark, ...]:
    ring = Circle(centre=item.centre, radius=item.radius, pen="outline", fill="paper")
    text = Text(text=item.text, at=item.centre, height=item.height, anchor="middle", rise="middle")
    if item.target is None:
        return (ring, text)
    dx, dy = item.target[0] - item.centre[0], item.target[1] - item.centre[1]
    reach = hypot(dx, dy)
    if reach <= item.radius:
        return (ring, text)
    rim = (item.centre[0] + dx / reach * item.radius, item.centre[1] + dy / reach * item.radius)
    line = _thin(rim, item.target)
    if item.head == "dot":
        head: Mark = Circle(centre=item.target, radius=0.6, pen="dimension", fill="ink")
    else:
        head = arrowhead(item.target, angle=atan2(dy, dx))
    return (line, head, ring, text)


def _arrow(item: Arrow) -> tuple[Mark, ...]:
    (x0, y0), (x1, y1) = item.tail, item.tip
    angle = atan2(y1 - y0, x1 - x0)
    if item.style == "block":
        return (_block_arrow(item, angle),)
    shaft = Line(start=item.tail, end=item.tip, pen=item.pen)
    heads: tuple[Mark, ...] = (arrowhead(item.tip, angle=angle, size=item.size, pen=item.pen),)
    if item.style == "double":
        heads += (arrowhead(item.tail, angle=angle + pi, size=item.size, pen=item.pen),)
    return (shaft, *heads)


def _block_arrow(item: Arrow, angle: float) -> Region:
    """Return a broad arrow; its shaft is half as wide as its head."""
    reach = hypot(item.tip[0] - item.tail[0], item.tip[1] - item.tail[1])
    head = min(item.size, reach)
    wide, narrow = 0.6 * head, 0.28 * head
    c, s = cos(angle), sin(angle)
    corners = (
        (0.0, -narrow),
        (reach - head, -narrow),
        (reach - head, -wide),
        (reach, 0.0),
        (reach - head, wide),
        (reach - head, narrow),
        (0.0, narrow),
    )
    x, y = item.tail
    outer = tuple((x + c * u - s * v, y + s * u + c * v) for u, v in corners)
    return Region(outer=outer, fill=item.fill, pen=item.pen)


# Hatching ----------------------------------------------------------------------------------------


def hatch_lines(item: Hatch) -> tuple[Line, ...]:
    """Return the hatch lines inside a shape, by the even-odd rule.

    The lines lie on a grid through the paper's origin, so neighbouring shapes with one angle and
    spacing match.
    """
    c, s = cos(radians(item.angle)), sin(radians(item.angle))
    rings = [[(c * x + s * y, c * y - s * x) for x, y in r] for r in (item.outer, *item.holes)]
    heights = [v for _, v in rings[0]]
    first, last = ceil(min(heights) / item.spacing), floor(max(heights) / item.spacing)
    lines: list[Line] = []
    for k in range(first, last + 1):
        v = k * item.spacing
        cuts = sorted(u for ring in rings for u in _crossings(ring, v))
        for u0, u1 in zip(cuts[::2], cuts[1::2], strict=False):
            if u1 - u0 > 1e-6:
                start, end = (c * u0 - s * v, s * u0 + c * v), (c * u1 - s * v, s * u1 + c * v)
                lines.append(Line(start=start, end=end, pen=item.pen))
    return tuple(lines)


def _crossings(ring: list[Point2], v: float) -> list[float]:
    """Return where a level line crosses a ring; each vertex counts for its lower edge only."""
    found = []
    for (x0, y0), (x1, y1) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (y0 <= v) != (y1 <= v):
            found.append(x0 + (v - y0) / (y1 - y0) * (x1 - x0))
    return found


_DRAW: dict[type[Any], Callable[[Any], tuple[Mark, ...]]] = {
    Dimension: _dimension,
    Running: _running,
    Leader: _leader,
    Hatch: hatch_lines,
    Balloon: _balloon,
    Arrow: _arrow,
    Symbol: symbol_marks,
}
