"""A part laid on paper: good face up, its datum corner at (0, 0), seen at a scale."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, degrees, radians, sin

from stowright.drawings.linetypes import Pen
from stowright.drawings.scene import Arc, Circle, Item, Line, Polyline
from stowright.model.geometry import Point2, lies_in
from stowright.model.part import EDGES, Edge, Feature, Part, Relief

__all__ = [
    "EDGES",
    "FACES",
    "Board",
    "Rectangle",
    "edge_name",
    "feature_items",
    "holds_point",
    "is_round",
    "is_through",
    "on_face",
    "outline_items",
    "rectangle_of",
    "shapes_outline",
]

FACES = frozenset({"good", "back"})
_NAMES: dict[Edge, str] = {
    "u0": "datum end",
    "u1": "far end",
    "v0": "lower edge",
    "v1": "upper edge",
}
_NEAR = 1e-6
#: Half the length of a centre cross beyond the hole's rim. [mm on paper]
_CROSS = 0.9


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """How a part lies on paper.

    Attributes:
        part: The part.
        scale: Paper millimetres per millimetre of the part.
    """

    part: Part
    scale: float

    def at(self, u: float, v: float) -> Point2:
        """Return the paper point of a point on the good face; u runs left on mirrored parts."""
        across = -u if self.part.mirrored else u
        return (across * self.scale, v * self.scale)

    @property
    def left(self) -> float:
        """Paper x of the view's left side. [mm]."""
        return -self.part.length * self.scale if self.part.mirrored else 0.0

    @property
    def right(self) -> float:
        """Paper x of the view's right side. [mm]."""
        return 0.0 if self.part.mirrored else self.part.length * self.scale

    @property
    def top(self) -> float:
        """Paper y of the view's upper side. [mm]."""
        return self.part.width * self.scale

    @property
    def away(self) -> int:
        """+1 when u runs to the right on paper, -1 when it runs to the left."""
        return -1 if self.part.mirrored else 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Rectangle:
    """A rectangular feature on a face, in the part's frame. [mm]."""

    u0: float
    v0: float
    u1: float
    v1: float
    radius: float


def edge_name(part: Part, edge: Edge) -> str:
    """Return an edge's name in words, as the part lies on its drawing."""
    return "front edge" if edge == part.front_edge else _NAMES[edge]


def is_round(feature: Feature) -> bool:
    """Return whether a feature is a round hole."""
    return len(feature.size) == 1


def is_through(feature: Feature, part: Part) -> bool:
    """Return whether a feature goes right through."""
    return feature.through or (feature.face in FACES and feature.depth >= part.thickness - _NEAR)


def on_face(feature: Feature) -> bool:
    """Return whether a feature is made from the good face or the back."""
    return feature.face in FACES


def rectangle_of(feature: Feature) -> Rectangle:
    """Return the rectangle of a feature on a face."""
    (u, v), (along, across) = feature.at, feature.size[:2]
    radius = min(feature.radius, along / 2.0, across / 2.0)
    return Rectangle(u0=u, v0=v, u1=u + along, v1=v + across, radius=radius)


def shapes_outline(feature: Feature, part: Part) -> bool:
    """Return whether a rectangular feature is already cut out of the part's outline."""
    if is_round(feature) or not on_face(feature):
        return False
    r = rectangle_of(feature)
    middle = ((r.u0 + r.u1) / 2.0, (r.v0 + r.v1) / 2.0)
    return not lies_in(part.outline, middle)


def holds_point(part: Part, point: Point2) -> bool:
    """Return whether a point of the face plane lies within a part's outline."""
    return lies_in(part.outline, point)


# Marks -------------------------------------------------------------------------------------------


def outline_items(board: Board) -> tuple[Item, ...]:
    """Return the contour of a part, with the round cuts that clear its inside corners."""
    points = tuple(board.at(u, v) for u, v in board.part.outline)
    return (
        Polyline(points=points, closed=True, pen="visible", about=board.part.mark),
        *(_relief(board, row) for row in board.part.reliefs),
    )


def _relief(board: Board, row: Relief) -> Arc:
    """Return the half of a relief's rim that lies in the wood: on the far side of its centre.

    A cut across a corner bulges past it; one beside a corner lies in the leg that it stands on.
    """
    (u, v), (cu, cv) = row.corner, row.centre
    x, y = board.at(cu, cv)
    ax, ay = board.at(u, v)
    towards = degrees(atan2(ay - y, ax - x))
    beside = abs(u - cu) < _NEAR or abs(v - cv) < _NEAR
    if beside:
        towards += 90.0 if _is_wood(board, row, towards + 90.0) else -90.0
    return Arc(
        centre=(x, y),
        radius=row.diameter / 2.0 * board.scale,
        start=(towards - 90.0) % 360.0,
        end=(towards - 90.0) % 360.0 + 180.0,
        pen="outline" if row.face == "good" or row.through else "hidden",
    )


def _is_wood(board: Board, row: Relief, towards: float) -> bool:
    """Whether a part is whole a little to one side of a relief's centre."""
    part, step = board.part, row.diameter / 4.0
    sign = -1.0 if part.mirrored else 1.0
    u = row.centre[0] + sign * step * cos(radians(towards))
    v = row.centre[1] + step * sin(radians(towards))
    return lies_in(part.outline, (u, v)) and not any(
        f.kind == "slot" and on_face(f) and not is_round(f) and _holds(rectangle_of(f), u, v)
        for f in part.features
    )


def _holds(r: Rectangle, u: float, v: float) -> bool:
    return r.u0 < u < r.u1 and r.v0 < v < r.v1


def feature_items(board: Board, feature: Feature) -> tuple[Item, ...]:
    """Return a feature as it is seen on the good face: behind it, dashed."""
    if not on_face(feature):
        return _edge_feature(board, feature)
    seen = feature.face == "good" or is_through(feature, board.part)
    pen: Pen = "outline" if seen else "hidden"
    if is_round(feature):
        centre = board.at(*feature.at)
        radius = feature.size[0] / 2.0 * board.scale
        return (Circle(centre=centre, radius=radius, pen=pen), *_cross(centre, radius))
    if shapes_outline(feature, board.part):
        return ()
    return _rounded(board, rectangle_of(feature), pen)


def _cross(centre: Point2, radius: float) -> tuple[Item, ...]:
    x, y = centre
    arm = radius + _CROSS
    return (
        Line(start=(x - arm, y), end=(x + arm, y), pen="centre"),
        Line(start=(x, y - arm), end=(x, y + arm), pen="centre"),
    )


def _rounded(board: Board, r: Rectangle, pen: Pen) -> tuple[Item, ...]:
    """Return a rectangle with round corners as lines and true arcs."""
    k = r.radius
    if k <= _NEAR:
        corners = ((r.u0, r.v0), (r.u1, r.v0), (r.u1, r.v1), (r.u0, r.v1))
        return (Polyline(points=tuple(board.at(*c) for c in corners), closed=True, pen=pen),)
    pairs = (
        ((r.u0 + k, r.v0), (r.u1 - k, r.v0)),
        ((r.u1, r.v0 + k), (r.u1, r.v1 - k)),
        ((r.u0 + k, r.v1), (r.u1 - k, r.v1)),
        ((r.u0, r.v0 + k), (r.u0, r.v1 - k)),
    )
    sides = [
        Line(start=board.at(*a), end=board.at(*b), pen=pen)
        for a, b in pairs
        if abs(a[0] - b[0]) + abs(a[1] - b[1]) > _NEAR
    ]
    return (*sides, *_corner_arcs(board, r, pen))


def _corner_arcs(board: Board, r: Rectangle, pen: Pen) -> tuple[Arc, ...]:
    k = r.radius
    corners = (
        (r.u1 - k, r.v1 - k),
        (r.u0 + k, r.v1 - k),
        (r.u0 + k, r.v0 + k),
        (r.u1 - k, r.v0 + k),
    )
    starts = (0.0, 90.0, 180.0, 270.0)
    if board.part.mirrored:  # u to the left: the corner at u1 is on the left on paper
        starts = (90.0, 0.0, 270.0, 180.0)
    return tuple(
        Arc(centre=board.at(*c), radius=k * board.scale, start=a, end=a + 90.0, pen=pen)
        for c, a in zip(corners, starts, strict=True)
    )


def _edge_feature(board: Board, feature: Feature) -> tuple[Item, ...]:
    """Return a hole or slot in an edge, dashed, as it lies inside the part."""
    half = feature.size[0] / 2.0 if is_round(feature) else 0.0
    low = feature.at[0] - half
    high = feature.at[0] + (half if is_round(feature) else feature.size[0])
    corners = _edge_corners(board.part, feature, low, high)
    points = tuple(board.at(*corner) for corner in corners)
    if (high - low) * board.scale < 0.7:  # two lines so near would run together: one is drawn
        middle = _edge_corners(board.part, feature, (low + high) / 2.0, (low + high) / 2.0)
        return (Line(start=board.at(*middle[0]), end=board.at(*middle[1]), pen="hidden"),)
    return (Polyline(points=points, pen="hidden"),)


def _edge_corners(
    part: Part, feature: Feature, low: float, high: float
) -> tuple[Point2, Point2, Point2, Point2]:
    """Return the corners of an edge feature in the face plane: edge, inside, inside, edge."""
    s, d = feature.starts, feature.starts + feature.depth
    match feature.face:
        case "u0":
            return ((s, low), (d, low), (d, high), (s, high))
        case "u1":
            end = part.length
            return ((end - s, low), (end - d, low), (end - d, high), (end - s, high))
        case "v0":
            return ((low, s), (low, d), (high, d), (high, s))
        case _:
            end = part.width
            return ((low, end - s), (low, end - d), (high, end - d), (high, end - s))
