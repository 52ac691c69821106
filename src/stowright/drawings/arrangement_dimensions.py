"""Overall and clearance dimensions of a general arrangement, from where things stand."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

import shapely

from stowright.design.bay_solid import bay_solid, outline_at
from stowright.drawings.arrangement import Arrangement, dot
from stowright.drawings.bay_lines import Note
from stowright.drawings.dimensioning import linear, running
from stowright.drawings.scene import Dimension, Item
from stowright.model.design import Motion
from stowright.model.geometry import Box, Point2, Point3
from stowright.units import format_length

__all__ = [
    "clearance_notes",
    "cross_dimensions",
    "drawn_extent",
    "elevation_dimensions",
    "plan_dimensions",
    "section_dimensions",
]

_LINE = 7.0
_STEP = 6.5
_FAR = 1.0e5
_NEAR = 0.05


def plan_dimensions(arrangement: Arrangement, *, top: float, outer: float) -> list[Item]:
    """Return depth and width of the block, room in front of it, travel and tailgate.

    Args:
        arrangement: The block and the scale.
        top: Paper y of what is drawn highest: other blocks' open drawers too. [mm]
        outer: Paper x of what is drawn farthest left, the same. [mm]
    """
    s = arrangement.scale
    across, inward, _ = arrangement.block.axes
    a0, a1 = arrangement.span(across)
    i0, i1 = arrangement.span(inward)
    front, back = _clear_line(arrangement, inward, (a0 + a1) / 2.0)
    left, right = _bay_extent(arrangement, across)
    beside = max(right, a1) * s + _LINE
    items: list[Item] = [
        *_run((a1 * s, i0 * s), [(a1, i1), (a1, back)], i0, "y", beside, 1, arrangement),
        _length((a1, front), (a1, i0), "y", beside, arrangement),
    ]
    over = max(_bay_extent(arrangement, inward)[1] * s, i1 * s, top) + _LINE + 3.0
    edges = sorted({e for m in arrangement.block.modules for e in _module_edges(m.box, across)})
    items += _run((a0 * s, i1 * s), [(e, i1) for e in edges], a0, "x", over, 1, arrangement)
    out = min(left * s, a0 * s, outer) - _LINE
    gate = arrangement.design.job.bay.tailgate
    if gate is not None and gate.hinge == "down" and arrangement.block.face == "tail":
        ends = ((left, -gate.length), (left, 0.0))
        items.append(_length(*ends, "y", out, arrangement, note="tailgate"))
        out -= _STEP
    travel = max((m.travel for m in _slides(arrangement)), default=0.0)
    if travel > 0.0:
        ends = ((a0, i0 - travel), (a0, i0))
        items.append(_length(*ends, "y", out, arrangement, note="travel"))
    return items


def elevation_dimensions(arrangement: Arrangement, *, outer: float) -> list[Item]:
    """Return heights from the floor, and widths from the left wall at the face.

    Args:
        arrangement: The block and the scale.
        outer: Paper x of what is drawn farthest left. [mm]
    """
    s = arrangement.scale
    across, inward, _ = arrangement.block.axes
    a0, a1 = arrangement.span(across)
    left, right = _clear_line(arrangement, across, arrangement.span(inward)[0])
    heights = [(a0, z) for z in _heights(arrangement)]
    beside = min(left * s, a0 * s, outer) - _LINE
    widths = [(a0, 0.0), (a1, 0.0), (right, 0.0)]
    return [
        *_run((a0 * s, 0.0), heights, 0.0, "y", beside, -1, arrangement),
        *_run((left * s, 0.0), widths, left, "x", -_LINE, -1, arrangement),
    ]


def section_dimensions(arrangement: Arrangement) -> list[Item]:
    """Return depths from the face, heights from the floor, and the travel."""
    s = arrangement.scale
    inward = arrangement.block.axes[1]
    i0, i1 = arrangement.span(inward)
    _, back = _clear_line(arrangement, inward, arrangement.cut_at)
    deep = [(i1, 0.0), (back, 0.0)]
    moving = _moving_spans(arrangement)
    deep += [(i, 0.0) for i in moving["in"]]
    heights = [(back, z) for z in (*_heights(arrangement), *moving["up"])]
    gate = arrangement.design.job.bay.tailgate
    under = min(gate.open_top, 0.0) if gate is not None else 0.0
    items = [
        *_run((i0 * s, 0.0), deep, i0, "x", under * s - _LINE, -1, arrangement),
        *_run((back * s, 0.0), heights, 0.0, "y", max(back, i1) * s + _LINE, 1, arrangement),
    ]
    opening = arrangement.opening
    slides = [m for m in _slides(arrangement) if opening is not None and m.body == opening.name]
    if slides:
        top = max(z for _, z in heights) * s + _LINE
        up = max(moving["up"], default=arrangement.block.box.z.low)
        ends = ((i0 - slides[0].travel, up), (i0, up))
        items.append(_length(*ends, "x", top, arrangement, note="travel"))
    return items


def cross_dimensions(arrangement: Arrangement, *, outer: float) -> list[Item]:
    """Return widths from the left wall and heights from the floor, the sectioned drawer's too.

    Args:
        arrangement: The block and the scale.
        outer: Paper x of what is drawn farthest left. [mm]
    """
    s = arrangement.scale
    across, _, up = arrangement.block.axes
    a0, a1 = arrangement.span(across)
    left, right = _clear_line(arrangement, across, arrangement.cross_at)
    widths, heights = [a0, a1, right], _heights(arrangement)
    opening = arrangement.opening
    if opening is not None:
        start = dot(opening.at, across)
        widths += [start, start + opening.width]
        floor = dot(opening.at, up)
        heights += [floor, floor + opening.height]
        if opening.runner is not None and opening.box is not None:
            side = opening.runner.side_space
            widths += [start + side, start + side + opening.box.width]
            heights += [floor + opening.runner.line, *_moving_spans(arrangement)["up"]]
    under = -_LINE
    beside = outer - _LINE
    return [
        *_run((left * s, 0.0), [(w, 0.0) for w in widths], left, "x", under, -1, arrangement),
        *_run(
            (min(left, a0) * s, 0.0),
            [(min(left, a0), z) for z in sorted({round(h, 3) for h in heights})],
            0.0,
            "y",
            beside,
            -1,
            arrangement,
        ),
    ]


def clearance_notes(arrangement: Arrangement) -> list[Note]:
    """Return the least room between the block and the bay on its left and right, where it is."""
    s = arrangement.scale
    across, inward, _ = arrangement.block.axes
    a0, a1 = arrangement.span(across)
    i0, i1 = arrangement.span(inward)
    ring = _outline(arrangement)
    stations = sorted({i0, i1, *(i for _, i in ring if i0 < i < i1)})
    rows = [(i, *_clear_line(arrangement, across, i)) for i in stations]
    gap, i = min((a0 - left, i) for i, left, _ in rows)
    other, k = min((right - a1, i) for i, _, right in rows)
    return [
        Note(at=(a * s, where * s), lines=(f"{_words(arrangement, room)} clear",))
        for a, where, room in ((a0 - gap / 2.0, i, gap), (a1 + other / 2.0, k, other))
        if room < _FAR
    ]


def _words(arrangement: Arrangement, value: float) -> str:
    return format_length(value, arrangement.units)


# Where things are --------------------------------------------------------------------------------


def _slides(arrangement: Arrangement) -> list[Motion]:
    names = {opening.name for opening in arrangement.block.openings}
    return [m for m in arrangement.design.motions if m.kind == "slide" and m.body in names]


def drawn_extent(
    arrangement: Arrangement,
) -> tuple[tuple[float, float], tuple[float, float], float]:
    """Return what the bare views take: across, inward (open drawers included), and height. [mm]."""
    across, inward, _ = arrangement.block.axes
    (left, right), (front, back) = (
        _bay_extent(arrangement, across),
        _bay_extent(arrangement, inward),
    )
    face = arrangement.span(inward)[0]
    travel = max((m.travel for m in _slides(arrangement)), default=0.0)
    return (left, right), (min(front, face - travel), back), max(_heights(arrangement), default=0.0)


def _outline(arrangement: Arrangement) -> tuple[Point2, ...]:
    """Return the bay's outline at the block's underside as (across, inward). [mm]."""
    across, inward, _ = arrangement.block.axes
    z = max(arrangement.block.box.z.low, 0.0)
    ring = outline_at(bay_solid(arrangement.design.job.bay), z=z)
    return tuple((dot((x, y, 0.0), across), dot((x, y, 0.0), inward)) for x, y in ring)


def _bay_extent(arrangement: Arrangement, direction: Point3) -> tuple[float, float]:
    ring = _outline(arrangement)
    k = 0 if direction == arrangement.block.axes[0] else 1
    return min(p[k] for p in ring), max(p[k] for p in ring)


def _clear_line(arrangement: Arrangement, direction: Point3, at: float) -> tuple[float, float]:
    """Return how far the bay is clear along a direction, on a line at ``at`` across it. [mm]."""
    bay = shapely.Polygon(_outline(arrangement))
    along_across = direction == arrangement.block.axes[0]
    ends = ((-_FAR, at), (_FAR, at)) if along_across else ((at, -_FAR), (at, _FAR))
    low, high = arrangement.span(direction)
    middle = (low + high) / 2.0
    k = 0 if along_across else 1
    for piece in shapely.get_parts(bay.intersection(shapely.LineString(ends))):
        values = [c[k] for c in piece.coords]
        if min(values) <= middle <= max(values):
            return float(min(values)), float(max(values))
    return low, high


def _module_edges(box: Box, across: Point3) -> tuple[float, float]:
    return (
        dot((box.x.low, box.y.low, 0.0), across),
        dot((box.x.high, box.y.high, 0.0), across),
    )


def _heights(arrangement: Arrangement) -> list[float]:
    """Return the heights that matter: packers, carcass, deck, rail. [mm]."""
    box, bay = arrangement.block.box, arrangement.design.job.bay
    own = {deck.name for deck in arrangement.decks}
    decks = [
        p.origin[2] + p.thickness
        for p in arrangement.design.placed
        if p.role == "deck" and p.block in own
    ]
    found = [box.z.low, box.z.high, *decks, *([bay.rail] if bay.rail else [])]
    return sorted({round(z, 3) for z in found if z > _NEAR})


def _moving_spans(arrangement: Arrangement) -> dict[str, list[float]]:
    """Return the ends of the sectioned drawer's sides, along and up. [mm]."""
    opening = arrangement.opening
    inward, up = arrangement.block.axes[1], arrangement.block.axes[2]
    spans: dict[str, list[float]] = {"in": [], "up": []}
    moving = [
        p for p in arrangement.design.placed if opening is not None and p.body == opening.name
    ]
    sides = [p for p in moving if p.role.endswith("-side")] or moving
    for placed in sides:
        corners = [
            placed.point(u, v, w)
            for u in (0.0, placed.length)
            for v in (0.0, placed.width)
            for w in (0.0, placed.thickness)
        ]
        spans["in"] += [round(dot(c, inward), 3) for c in corners]
        spans["up"] += [round(dot(c, up), 3) for c in corners]
    return {name: sorted({min(ends), max(ends)}) for name, ends in spans.items() if ends} or spans


# Drawn -------------------------------------------------------------------------------------------


def _run(
    datum: Point2,
    points: Iterable[Point2],
    zero: float,
    axis: Literal["x", "y"],
    line_at: float,
    side: Literal[-1, 1],
    arrangement: Arrangement,
) -> list[Item]:
    """Return running dimensions of points in model millimetres from a datum on paper."""
    s = arrangement.scale
    k = 0 if axis == "x" else 1
    rows = [((p[0] * s, p[1] * s), p[k] - zero) for p in points]
    run = running(datum, rows, axis=axis, line_at=line_at, units=arrangement.units, side=side)
    return [run] if run is not None else []


def _length(
    start: Point2,
    end: Point2,
    axis: Literal["x", "y"],
    line_at: float,
    arrangement: Arrangement,
    *,
    note: str = "",
) -> Dimension:
    s = arrangement.scale
    k = 0 if axis == "x" else 1
    return linear(
        (start[0] * s, start[1] * s),
        (end[0] * s, end[1] * s),
        axis=axis,
        line_at=line_at,
        value=abs(end[k] - start[k]),
        units=arrangement.units,
        note=note,
    )
