"""Views on the edges of a part that have holes in them, set beside the edge they show.

Each lies where the third-angle arrangement puts it (good face next to the main view) and carries
its name, so it reads the same on a first-angle sheet. Holes are located by running dimensions from
the part's own datum; their height in the thickness stands in the words beside it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from stowright.drawings.board import EDGES, Board, edge_name, is_round
from stowright.drawings.dimensioning import running, running_depth
from stowright.drawings.scene import Circle, Item, Line, Polyline, Text
from stowright.model.geometry import Point2
from stowright.model.part import Edge, Feature
from stowright.units import Unit

__all__ = ["EdgeView", "edge_view", "edges_with_features"]

_CAPTION = 2.5
_ROOM = 5.0  # between what is already there and a view: its caption stands in it
_LINE = 5.0  # from the view to its running dimension
_ON: Literal[1] = 1
_BACK: Literal[-1] = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeView:
    """A view on an edge.

    Attributes:
        edge: Which.
        items: Its marks and dimensions.
        caption: Its name, in the room kept for it.
        reach: How far it goes from the main view's outline. [mm on paper]
        tips: Where a note can be led to, one for each feature.
    """

    edge: Edge
    items: tuple[Item, ...]
    caption: Text
    reach: float
    tips: tuple[tuple[Feature, Point2], ...]


def edges_with_features(board: Board) -> tuple[Edge, ...]:
    """Return the edges that something is made in."""
    made = {feature.face for feature in board.part.features}
    return tuple(edge for edge in EDGES if edge in made)


def edge_view(board: Board, edge: Edge, *, start: float, units: Unit) -> EdgeView:
    """Return the view on an edge.

    Args:
        board: The part as it lies.
        edge: The edge.
        start: How far other things already reach from the outline on that side. [mm on paper]
        units: Unit of print.
    """
    strip = _Strip(board, edge, start + _ROOM)
    features = [f for f in board.part.features if f.face == edge]
    items: list[Item] = [Polyline(points=strip.corners, closed=True, pen="visible")]
    for feature in features:
        items += strip.feature(feature)
    run = running(
        strip.at(0.0, 0.0),
        [(strip.at(p, 0.0), p) for f in features for p in _places(f)],
        axis="x" if strip.level else "y",
        line_at=strip.line_at,
        units=units,
        side=strip.side,
    )
    depth = running_depth(run) if run else 0.0
    items += [run] if run else []
    reach = start + _ROOM + board.part.thickness * board.scale + _LINE + depth
    tips = tuple((f, strip.at(f.at[0], f.at[1])) for f in features)
    return EdgeView(edge=edge, items=tuple(items), caption=strip.caption(), reach=reach, tips=tips)


def _places(feature: Feature) -> tuple[float, ...]:
    if is_round(feature):
        return (feature.at[0],)
    return (feature.at[0], feature.at[0] + feature.size[0])


class _Strip:
    """Where points of an edge lie on paper: ``along`` it from its datum end, ``up`` the back."""

    def __init__(self, board: Board, edge: Edge, gap: float) -> None:
        self._board = board
        self._edge = edge
        self.level = edge in {"v0", "v1"}
        thick = board.part.thickness * board.scale
        self._out: Literal[-1, 1]
        if edge == "v0":
            self._near, self._out = -gap, _BACK
        elif edge == "v1":
            self._near, self._out = board.top + gap, _ON
        else:
            outward = _ON if (edge == "u1") == (board.away > 0) else _BACK
            rim = board.at(0.0 if edge == "u0" else board.part.length, 0.0)[0]
            self._near, self._out = rim + outward * gap, outward
        self.line_at = self._near + self._out * (thick + _LINE)
        self.side = self._out

    def at(self, along: float, up: float) -> Point2:
        """Return a paper point; the good face lies next to the main view."""
        board = self._board
        across = self._near + self._out * (board.part.thickness - up) * board.scale
        if self.level:
            return (board.at(along, 0.0)[0], across)
        return (across, board.at(0.0, along)[1])

    @property
    def corners(self) -> tuple[Point2, ...]:
        """The strip's outline."""
        part = self._board.part
        run = part.length if self.level else part.width
        return (
            self.at(0.0, 0.0),
            self.at(run, 0.0),
            self.at(run, part.thickness),
            self.at(0.0, part.thickness),
        )

    def feature(self, feature: Feature) -> list[Item]:
        """Return a hole with its centre line, or a slot."""
        along, up = feature.at
        if not is_round(feature):
            wide, high = feature.size[0], feature.size[1]
            ring = ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))
            points = tuple(self.at(along + a, up + b) for a, b in ring)
            return [Polyline(points=points, closed=True, pen="outline")]
        centre = self.at(along, up)
        radius = feature.size[0] / 2.0 * self._board.scale
        thick = self._board.part.thickness
        low, high_end = self.at(along, 0.0), self.at(along, thick)
        return [
            Circle(centre=centre, radius=radius, pen="outline"),
            Line(start=low, end=high_end, pen="dimension"),
        ]

    def caption(self) -> Text:
        """Return the view's name, in the room between it and what lies nearer."""
        board = self._board
        words = f"View on the {edge_name(board.part, self._edge)}"
        inner = self._near - self._out * 1.5
        if self.level:
            at, turn = (board.left, inner), 0.0
        else:
            at, turn = (inner, 0.0), 90.0
        # Turned lettering rises to the left.
        away_from_main = (self._out > 0) == self.level
        return Text(
            text=words,
            at=at,
            height=_CAPTION,
            turn=turn,
            rise="top" if away_from_main else "base",
        )
