"""Where items lie on paper: their bounds, and the same items moved."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import cos, radians, sin
from typing import Any, cast

from stowright.drawings.figures import marks_of
from stowright.drawings.lettering import text_box
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
    Scene,
    Symbol,
    Text,
    View,
)
from stowright.model.geometry import Point2

__all__ = ["Bounds", "bounds", "framed", "mark_points", "moved", "moved_view", "shrunk"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """A rectangle on paper. [mm]."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Extent to the right. [mm]."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Extent upwards. [mm]."""
        return self.top - self.bottom

    @property
    def corners(self) -> tuple[Point2, Point2, Point2, Point2]:
        """The four corners, counter-clockwise from the lower left one. [mm]."""
        left, bottom, right, top = self.left, self.bottom, self.right, self.top
        return (left, bottom), (right, bottom), (right, top), (left, top)


def mark_points(mark: Mark) -> tuple[Point2, ...]:
    """Return points whose bounds are those of a mark."""
    match mark:
        case Line():
            return (mark.start, mark.end)
        case Polyline():
            return mark.points
        case Region():
            return mark.outer
        case Text():
            return text_box(mark)
        case Circle():
            (x, y), r = mark.centre, mark.radius
            return ((x - r, y - r), (x + r, y + r))
        case Arc():
            return _arc_points(mark)


def _arc_points(mark: Arc) -> tuple[Point2, ...]:
    """Return the ends and whichever quarter points the arc passes."""
    sweep = (mark.end - mark.start) % 360.0 or 360.0
    quarters = [q for q in range(0, 720, 90) if 0.0 < (q - mark.start) % 360.0 < sweep]
    turns = [mark.start, mark.start + sweep, *(float(q) for q in quarters)]
    (x, y), r = mark.centre, mark.radius
    return tuple((x + r * cos(radians(a)), y + r * sin(radians(a))) for a in turns)


def bounds(items: Iterable[Item]) -> Bounds:
    """Return the bounds of some items, lettering included; all zero when there are none."""
    points = [p for item in items for mark in marks_of(item) for p in mark_points(mark)]
    if not points:
        return Bounds(left=0.0, bottom=0.0, right=0.0, top=0.0)
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return Bounds(left=min(xs), bottom=min(ys), right=max(xs), top=max(ys))


def moved[T: Item](items: Iterable[T], *, x: float = 0.0, y: float = 0.0) -> tuple[T, ...]:
    """Return items shifted on paper. [mm]."""
    return tuple(cast("T", _moved(item, x, y)) for item in items)


def framed(
    items: Iterable[Item],
    *,
    name: str,
    title: str,
    view: str,
    scale: float,
    margin: float,
    room: tuple[float, float],
) -> Scene | None:
    """Return items as a drawing of one view with a margin round them; None without room for it.

    Args:
        items: What is drawn, on paper. [mm]
        name: File name without its ending.
        title: In words.
        view: Name of the view.
        scale: The scale that the items are drawn at.
        margin: Left free round them. [mm]
        room: Width and height that there are. [mm]
    """
    kept = tuple(items)
    box = bounds(kept)
    width, height = box.width + 2.0 * margin, box.height + 2.0 * margin
    if width > room[0] or height > room[1]:
        return None
    x, y = margin - box.left, margin - box.bottom
    drawn = View(name=view, items=moved(kept, x=x, y=y), scale=scale, at=(x, y))
    return Scene(name=name, title=title, width=width, height=height, views=(drawn,), scale=scale)


def moved_view(view: View, *, x: float = 0.0, y: float = 0.0) -> View:
    """Return a view shifted on paper, its model origin with it. [mm]."""
    at = (view.at[0] + x, view.at[1] + y)
    return replace(view, items=moved(view.items, x=x, y=y), at=at)


def shrunk[T: Item](items: Iterable[T], share: float) -> tuple[T, ...]:
    """Return items with their places scaled about the origin; lettering and rings keep their size.

    For figures of lines, shapes, symbols and balloons: dimensions hold places of their own.
    """
    return tuple(
        replace(item, **{n: _scaled(getattr(item, n), share) for n in _POINT_FIELDS[type(item)]})
        for item in items
    )


def _scaled(value: Any, share: float) -> Any:
    if not value:
        return value
    if isinstance(value[0], tuple):
        return tuple(_scaled(inner, share) for inner in value)
    return (value[0] * share, value[1] * share)


#: Which fields of an item are points, or tuples of points, or tuples of those.
_POINT_FIELDS: dict[type[Any], tuple[str, ...]] = {
    Line: ("start", "end"),
    Polyline: ("points",),
    Region: ("outer", "holes"),
    Hatch: ("outer", "holes"),
    Arc: ("centre",),
    Circle: ("centre",),
    Text: ("at",),
    Symbol: ("at",),
    Arrow: ("tail", "tip"),
    Leader: ("points",),
    Balloon: ("centre", "target"),
    Dimension: ("start", "end"),
    Running: ("datum", "points"),
}


def _moved(item: Item, x: float, y: float) -> Item:
    changes: dict[str, Any] = {
        name: _shifted(getattr(item, name), x, y) for name in _POINT_FIELDS[type(item)]
    }
    if isinstance(item, Dimension | Running):
        along, across = (x, y) if item.axis == "x" else (y, x)
        changes["line_at"] = item.line_at + across
        if isinstance(item, Running):
            changes["texts_at"] = tuple(place + along for place in item.texts_at)
        elif item.text_at is not None:
            changes["text_at"] = item.text_at + along
    return replace(item, **changes)


def _shifted(value: Any, x: float, y: float) -> Any:
    if not value:
        return value
    if isinstance(value[0], tuple):
        return tuple(_shifted(inner, x, y) for inner in value)
    return (value[0] + x, value[1] + y)
