"""Whether lettering is legible: no text on another text, none crossed by a line, all on the paper.

This is an outside look at a finished scene; it knows nothing of how the scene was laid out. Every
kind of line counts: leaders, extension and dimension lines (those of a text's own dimension too),
outlines, hidden lines, hatching. Lettering that paints the paper clear behind it interrupts what
ISO 128 and ISO 129-1 let it interrupt, extension lines, centre lines and hatching, and nothing
else.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, hypot, radians, sin

import shapely

from stowright.drawings.figures import marks_of
from stowright.drawings.lettering import text_box
from stowright.drawings.scene import (
    Arc,
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
    Scene,
    Text,
)
from stowright.model.geometry import Point2

__all__ = ["Overlap", "overlaps"]

#: Boxes are shrunk by this before they are compared: touching is no overlap. [mm]
_TOUCH = 0.15
#: What clear lettering may interrupt.
_MAY_BE_BROKEN = frozenset({"extension line", "centre line", "hatch"})
#: What lines are called by their pen, where their item does not tell.
_BY_PEN = {"centre": "centre line", "hidden": "hidden line", "phantom": "double-dotted line"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Overlap:
    """A text that cannot be read undisturbed.

    Attributes:
        kind: ``text on text``, ``line through text``, ``text covered`` or ``text off the paper``.
        text: The text.
        other: What disturbs it, in words.
        at: Where. [mm on paper]
        item: Which of the scene's items the text belongs to, counted from 0.
    """

    kind: str
    text: str
    other: str
    at: Point2
    item: int


@dataclass(frozen=True, slots=True)
class _Lettering:
    order: int
    text: Text
    box: shapely.Polygon
    clear: bool  # paints the paper clear behind it
    backed: bool  # stands on a filled shape of its own item


@dataclass(frozen=True, slots=True)
class _Stroke:
    order: int
    what: str
    line: shapely.Geometry
    own: bool = False  # crosses its own item's lettering as badly as another's


def overlaps(scene: Scene) -> list[Overlap]:
    """Return every text that touches another text, a line, or the paper's edge.

    A line drawn before a text that stands on a filled shape of its own item (a ring's) does not
    count, nor one that clear lettering may interrupt.
    """
    texts: list[_Lettering] = []
    strokes: list[_Stroke] = []
    covers: list[_Stroke] = []
    for order, item in enumerate(scene.items):
        marks = marks_of(item)
        texts += _texts(order, marks)
        strokes += _strokes(order, item, marks)
        covers += _covers(order, marks)
    paper = shapely.box(0.0, 0.0, scene.width, scene.height)
    found = [
        _overlap("text off the paper", t, scene.name) for t in texts if not paper.covers(t.box)
    ]
    if not texts:
        return found
    found += _text_on_text(texts)
    found += _crossed(texts, strokes)
    found += _covered(texts, covers)
    return found


def _overlap(kind: str, text: _Lettering, other: str) -> Overlap:
    return Overlap(kind=kind, text=text.text.text, other=other, at=text.text.at, item=text.order)


def _texts(order: int, marks: tuple[Mark, ...]) -> Iterator[_Lettering]:
    for mark in marks:
        if isinstance(mark, Text) and mark.text:
            box = shapely.Polygon(_shrunk(text_box(mark)))
            yield _Lettering(order, mark, box, mark.clear, _backed(box, marks))


def _shrunk(corners: tuple[Point2, Point2, Point2, Point2]) -> tuple[Point2, ...]:
    """Return a rectangle's corners moved inwards, so that touching is no overlap."""
    (ax, ay), (bx, by), _, (ex, ey) = corners
    wide, high = hypot(bx - ax, by - ay), hypot(ex - ax, ey - ay)
    inset_w, inset_h = min(_TOUCH, wide / 4.0), min(_TOUCH, high / 4.0)
    ux, uy = (bx - ax) / wide * inset_w, (by - ay) / wide * inset_w
    vx, vy = (ex - ax) / high * inset_h, (ey - ay) / high * inset_h
    signs = ((1, 1), (-1, 1), (-1, -1), (1, -1))
    return tuple(
        (x + s * ux + t * vx, y + s * uy + t * vy)
        for (x, y), (s, t) in zip(corners, signs, strict=True)
    )


def _backed(box: shapely.Polygon, marks: tuple[Mark, ...]) -> bool:
    """Return whether a filled shape of a text's own item lies behind it, as in a balloon."""
    for mark in marks:
        shape = None
        if isinstance(mark, Circle) and mark.fill != "none":
            shape = shapely.Point(mark.centre).buffer(mark.radius)
        elif isinstance(mark, Region) and mark.fill != "none":
            shape = shapely.Polygon(mark.outer, mark.holes)
        if shape is not None and shape.covers(box):
            return True
    return False


def _strokes(order: int, item: Item, marks: tuple[Mark, ...]) -> Iterator[_Stroke]:
    own = isinstance(item, Dimension | Running | Leader)
    for mark in marks:
        line = _line(mark)
        if line is not None:
            yield _Stroke(order, _called(item, mark), line, own)


def _called(item: Item, mark: Mark) -> str:
    """Return what a line is called on a drawing."""
    if isinstance(item, Hatch):
        return "hatch"
    if isinstance(item, Leader):
        return "leader"
    if isinstance(item, Running) and not isinstance(mark, Line):
        return "extension line" if isinstance(mark, Polyline) else "arrowhead"
    if isinstance(item, Dimension) and not isinstance(mark, Line):
        return "arrowhead"
    if isinstance(item, Dimension | Running):
        return "extension line" if _runs_across(item, mark) else "dimension line"
    return _BY_PEN.get(str(getattr(mark, "pen", "")), type(item).__name__.lower())


def _runs_across(item: Dimension | Running, mark: Mark) -> bool:
    """Return whether a line of a dimension runs across the direction that is measured."""
    if not isinstance(mark, Line):
        return False
    (x0, y0), (x1, y1) = mark.start, mark.end
    return (abs(x1 - x0) < abs(y1 - y0)) == (item.axis == "x")


def _line(mark: Mark) -> shapely.Geometry | None:
    """Return a mark's ink as a shape; solid ones count with their whole area."""
    shape: shapely.Geometry | None = None
    match mark:
        case Line():
            shape = shapely.LineString((mark.start, mark.end))
        case Polyline():
            points = (*mark.points, mark.points[0]) if mark.closed else mark.points
            shape = shapely.LineString(points)
        case Region() if mark.fill == "ink":
            shape = shapely.Polygon(mark.outer)
        case Region() if mark.pen is not None:
            rings = (mark.outer, *mark.holes)
            shape = shapely.MultiLineString([(*ring, ring[0]) for ring in rings])
        case Circle():
            disc = shapely.Point(mark.centre).buffer(mark.radius)
            shape = disc if mark.fill == "ink" else disc.exterior
        case Arc():
            shape = shapely.LineString(_arc(mark))
    return shape


def _arc(mark: Arc) -> list[Point2]:
    sweep = (mark.end - mark.start) % 360.0 or 360.0
    turns = [radians(mark.start + sweep * k / 16) for k in range(17)]
    (x, y), r = mark.centre, mark.radius
    return [(x + r * cos(a), y + r * sin(a)) for a in turns]


def _covers(order: int, marks: tuple[Mark, ...]) -> Iterator[_Stroke]:
    for mark in marks:
        if isinstance(mark, Region) and mark.fill != "none":
            yield _Stroke(order, "filled shape", shapely.Polygon(mark.outer, mark.holes))


def _text_on_text(texts: list[_Lettering]) -> Iterator[Overlap]:
    tree = shapely.STRtree([t.box for t in texts])
    pairs = tree.query([t.box for t in texts], predicate="intersects")
    for a, b in zip(*pairs, strict=True):
        if a < b:
            yield _overlap("text on text", texts[a], texts[b].text.text)


def _crossed(texts: list[_Lettering], strokes: list[_Stroke]) -> Iterator[Overlap]:
    if not strokes:
        return
    tree = shapely.STRtree([s.line for s in strokes])
    for a, b in zip(*tree.query([t.box for t in texts], predicate="intersects"), strict=True):
        text, stroke = texts[a], strokes[b]
        if text.order == stroke.order:
            crossed = stroke.own
        elif stroke.order < text.order:
            crossed = not (text.backed or (text.clear and stroke.what in _MAY_BE_BROKEN))
        else:
            crossed = True
        if crossed:
            yield _overlap("line through text", text, stroke.what)


def _covered(texts: list[_Lettering], covers: list[_Stroke]) -> Iterator[Overlap]:
    if not covers:
        return
    tree = shapely.STRtree([c.line for c in covers])
    for a, b in zip(*tree.query([t.box for t in texts], predicate="intersects"), strict=True):
        if covers[b].order > texts[a].order:
            yield _overlap("text covered", texts[a], covers[b].what)
