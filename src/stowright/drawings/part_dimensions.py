"""Dimensions of a part: overall sizes, and every feature located from two datum edges.

The datums are the part's own: the edges u = 0 and v = 0, which meet at its origin. Sizes that a
section shows (width and depth of grooves and rebates) are not said again here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import floor
from typing import Literal

from stowright.drawings.board import (
    Board,
    is_round,
    is_through,
    on_face,
    rectangle_of,
    shapes_outline,
)
from stowright.drawings.dimensioning import linear, running, running_depth, spread
from stowright.drawings.lettering import text_width
from stowright.drawings.part_tabs import tab_corner, tab_places
from stowright.drawings.scene import Item, Running, Text
from stowright.model.geometry import Point2
from stowright.model.part import Feature, Part, is_tab_slot
from stowright.units import Unit, format_length

__all__ = ["PartDimensions", "is_shaped", "part_dimensions", "shows_in_section"]

type _Located = tuple[Point2, float]

#: First dimension line from the outline, and between lines. [mm on paper]
_FIRST = 6.5
_NEXT = 6.5
_STUB = 2.5  # of an extension line that is interrupted
_PITCH = 3.75  # of running texts, at 2.5 mm lettering
_NEAR = 0.05
_LOW = 25.0  # a view lower than this is dimensioned on one side [mm on paper]
_OFFSET = 3.4  # from a shaped edge to its offsets: the line of an edge to seal runs between
#: Figures side by side that a portrait A4 sheet has room for.
_ACROSS = 40
#: An outline with more stations than this is a shaped one: its offsets stand at its edge.
_FEW = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class PartDimensions:
    """The dimensions round a view and how far they reach from it on each side. [mm on paper]."""

    items: tuple[Item, ...]
    below: float
    above: float
    datum_side: float
    far_side: float


def shows_in_section(feature: Feature, board: Board) -> bool:
    """Return whether a section states a feature's width and depth."""
    return (
        on_face(feature)
        and not is_round(feature)
        and not is_through(feature, board.part)
        and not is_tab_slot(feature)  # its note says all its sizes
        and not shapes_outline(feature, board.part)
    )


def part_dimensions(board: Board, units: Unit, *, both_sides: bool = False) -> PartDimensions:
    """Return running and overall dimensions of a part's main view.

    Args:
        board: The part as it lies.
        units: Unit of print.
        both_sides: Heights of what lies in the far half are given on the far side, so that no
            extension line runs across the whole part.
    """
    us, vs = _located(board)
    low, high = _split(us, board, room=board.part.length * board.scale)
    near, far = _sides(vs, board) if both_sides else (vs, [])
    side, other = _sides_of_line(board)
    end = board.at(board.part.length, 0.0)[0]
    first_above = board.top + _FIRST + _offset_reach(board, units)
    # Texts that have no room between the overall size's extension lines spread beyond them: those
    # lines are then interrupted.
    ends = (board.left, board.right) if _room_for(high, board.right - board.left) else ()
    rims = (0.0, board.top) if _room_for(far, board.top) else ()
    beside = end + _FIRST * board.away
    runs = {
        "below": _run(board, low, "x", line_at=-_FIRST, side=-1, units=units),
        "above": _run(board, high, "x", line_at=first_above, side=1, units=units, bars=ends),
        "near": _run(board, near, "y", line_at=-_FIRST * board.away, side=side, units=units),
        "far": _run(board, far, "y", line_at=beside, side=other, units=units, bars=rims),
    }
    reach = {name: _FIRST + running_depth(run) if run else 0.0 for name, run in runs.items()}
    length_at = first_above + (reach["above"] - _FIRST + 3.5 if runs["above"] else 0.0)
    # read from the right: on the far side the width's figure stands before its line
    apart = 5.5 if board.away > 0 else 3.5
    width_out = reach["far"] + apart if runs["far"] else _FIRST
    overall = _overall(
        board, units, length_at=length_at, width_out=width_out, whole=(bool(ends), bool(rims))
    )
    items = [run for run in runs.values() if run is not None]
    return PartDimensions(
        items=(*items, *_offsets(board, units), *overall),
        below=max(reach["below"], 2.0),
        above=length_at - board.top + 5.0,
        datum_side=max(reach["near"], 2.0),
        far_side=width_out + 2.0,
    )


def _sides_of_line(board: Board) -> tuple[Literal[-1, 1], Literal[-1, 1]]:
    """Return on which side of their lines the heights stand, near the datum and far from it."""
    return (-1, 1) if board.away > 0 else (1, -1)


def _sides(vs: list[_Located], board: Board) -> tuple[list[_Located], list[_Located]]:
    """Return what is located on the datum's side and on the far side of the view."""
    middle = board.at(board.part.length / 2.0, 0.0)[0]
    near = [row for row in vs if (row[0][0] - middle) * board.away <= 0.0]
    given = {round(value, 1) for _, value in near}
    return near, [row for row in vs if round(row[1], 1) not in given]


def _room_for(points: list[_Located], room: float) -> bool:
    """Return whether running texts, the datum's included, have room side by side."""
    return (len({round(value, 1) for _, value in points}) + 2) * _PITCH <= room


def _overall(
    board: Board, units: Unit, *, length_at: float, width_out: float, whole: tuple[bool, bool]
) -> tuple[Item, ...]:
    """Return length and width, their extension lines from the outline or near their line only."""
    part = board.part
    beside = board.at(part.length, 0.0)[0] + width_out * board.away
    tops = [board.at(u, _edge_v(board, u)) for u in (0.0, part.length)]
    sides = [board.at(_edge_u(board, v), v) for v in (0.0, part.width)]
    if not whole[0]:
        tops = [(x, length_at - _STUB) for x, _ in tops]
    if not whole[1]:
        sides = [(beside - _STUB * board.away, y) for _, y in sides]
    return (
        linear(tops[0], tops[1], axis="x", line_at=length_at, value=part.length, units=units),
        linear(sides[0], sides[1], axis="y", line_at=beside, value=part.width, units=units),
    )


def _edge_v(board: Board, u: float) -> float:
    """Return the highest v of the outline at an end, where an extension line starts."""
    return max((p[1] for p in board.part.outline if abs(p[0] - u) < _NEAR), default=0.0)


def _edge_u(board: Board, v: float) -> float:
    return max((p[0] for p in board.part.outline if abs(p[1] - v) < _NEAR), default=0.0)


def _run(
    board: Board,
    points: list[_Located],
    axis: Literal["x", "y"],
    *,
    line_at: float,
    side: Literal[-1, 1],
    units: Unit,
    bars: tuple[float, ...] = (),
) -> Running | None:
    """Return running dimensions from the part's origin, or from the corner nearest their line."""
    u = board.part.length if axis == "y" and side * board.away > 0 else 0.0
    v = board.part.width if axis == "x" and side > 0 else 0.0
    return running(
        board.at(u, v), points, axis=axis, line_at=line_at, units=units, side=side, bars=bars
    )


# What is located ---------------------------------------------------------------------------------


def _located(board: Board) -> tuple[list[_Located], list[_Located]]:
    """Return every u and every v that has to be given, each with the point it belongs to."""
    part = board.part
    places = [*_outline_places(board)]
    for feature in part.features:
        if on_face(feature):
            places += _feature_places(board, feature)
    us = [(board.at(u, v), u) for u, v, wants in places if "u" in wants and _inner(u, part.length)]
    vs = [(board.at(u, v), v) for u, v, wants in places if "v" in wants and _inner(v, part.width)]
    return us, vs


def _inner(value: float, size: float) -> bool:
    return _NEAR < value < size - _NEAR


def _outline_places(board: Board) -> Iterator[tuple[float, float, str]]:
    shaped = is_shaped(board.part)
    for u, v in board.part.outline:
        if not tab_corner(board.part, (u, v)):
            yield u, v, "u" if shaped else "uv"
    yield from tab_places(board.part)


def is_shaped(part: Part) -> bool:
    """Return whether a part has a shaped edge, along which its offsets are written.

    One whose every side runs along or across it (tabs, slots, notches) has none: its steps are
    located like anything else.
    """
    stations = {round(u, 1) for u, _ in part.outline}
    sides = zip(part.outline, (*part.outline[1:], part.outline[0]), strict=True)
    stepped = all(abs(a[0] - b[0]) < _NEAR or abs(a[1] - b[1]) < _NEAR for a, b in sides)
    return len(stations) > _FEW and not stepped


def _feature_places(board: Board, feature: Feature) -> Iterator[tuple[float, float, str]]:
    if is_round(feature):
        yield (*feature.at, "uv")
        return
    r = rectangle_of(feature)
    if is_tab_slot(feature):
        yield r.u0, r.v0, "uv"
        return
    # A section says the width of a groove: its ends are given, its far side is not.
    narrow = shows_in_section(feature, board)
    along_u = feature.size[0] >= feature.size[1]
    us = (r.u0,) if narrow and not along_u else (r.u0, r.u1)
    vs = (r.v0,) if narrow and along_u else (r.v0, r.v1)
    for u in us:
        for v in vs:
            yield u, v, "uv"


def _split(
    us: list[_Located], board: Board, *, room: float
) -> tuple[list[_Located], list[_Located]]:
    """Return what is located below and above the view.

    Above stands what lies only in the upper half of a view that is high enough for its extension
    lines to be a nuisance, and whatever has no room below.
    """
    distinct = {round(u, 1) for _, u in us}
    if board.top < _LOW and len(distinct) + 1 <= max(floor(room / _PITCH), 6):
        return us, []
    low = [row for row in us if row[0][1] <= board.top / 2.0]
    given = {round(u, 1) for _, u in low} - _too_many(low)
    low = [row for row in low if round(row[1], 1) in given]
    return low, [row for row in us if round(row[1], 1) not in given]


def _too_many(rows: list[_Located]) -> set[float]:
    """Return the places below the view that no sheet is wide enough for: those that lie highest."""
    lowest: dict[float, float] = {}
    for (_, y), u in rows:
        lowest[round(u, 1)] = min(y, lowest.get(round(u, 1), y))
    order = sorted(lowest, key=lambda u: (lowest[u], u))
    return set(order[_ACROSS:])


# Offsets of a shaped edge ------------------------------------------------------------------------


def _offsets(board: Board, units: Unit) -> list[Text]:
    """Return the v of each vertex of a shaped upper edge, written up from it."""
    if not is_shaped(board.part):
        return []
    part = board.part
    highest: dict[float, float] = {}
    for u, v in part.outline:
        highest[round(u, 3)] = max(v, highest.get(round(u, 3), 0.0))
    rows = _thinned(sorted(highest.items()), _PITCH / board.scale)
    ends = (board.left + 2.2, board.right - 2.2)
    xs = [min(max(board.at(u, v)[0], ends[0]), ends[1]) for u, v in rows]
    order = sorted(range(len(rows)), key=lambda k: xs[k])
    places = spread([xs[k] for k in order], gap=_PITCH)
    return [
        Text(
            text=format_length(rows[k][1], units),
            at=(place, board.at(*rows[k])[1] + _OFFSET),
            rise="middle",
            turn=90.0,
            pen="dimension",
            clear=True,  # the station's own extension line runs up from here
        )
        for k, place in zip(order, places, strict=True)
    ]


def _thinned(rows: list[Point2], least: float) -> list[Point2]:
    """Return stations without those that repeat the offset of a near neighbour."""
    kept: list[Point2] = []
    for u, v in rows:
        if kept and u - kept[-1][0] < least and abs(v - kept[-1][1]) < _NEAR:
            continue
        kept.append((u, v))
    return kept


def _offset_reach(board: Board, units: Unit) -> float:
    """Return how much room the offsets need above the view. [mm]."""
    widths = [text_width(text.text, height=text.height) for text in _offsets(board, units)]
    return _OFFSET + 1.0 + max(widths) if widths else 0.0
