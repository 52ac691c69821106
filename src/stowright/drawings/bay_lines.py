"""The vehicle round the unit, as thin lines in a view: walls, arches, tailgate, places to keep off.

Everything comes from the bay as it was measured; nothing is drawn that no reading gave.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import isfinite
from typing import Literal

from stowright.design.bay_solid import (
    ArchSolid,
    BaySolid,
    bay_solid,
    headboard_x,
    outline_at,
    tail_x,
    wall_y,
)
from stowright.drawings.linetypes import Pen
from stowright.drawings.scene import Hatch, Item, Line, Polyline, Region, Symbol
from stowright.model.bay import Bay
from stowright.model.design import Design
from stowright.model.geometry import Point2, Point3

__all__ = [
    "Note",
    "anchor_marks",
    "elevation_bay",
    "many_unused",
    "plan_bay",
    "plan_marks",
    "section_bay",
    "unused_anchors",
]

type Flat = Callable[[Point3], Point2]

_SYMBOL = 4.0
#: Unused anchors of one name that are named one by one.
_FEW = 2
_SIDES: tuple[Literal["left", "right"], Literal["left", "right"]] = ("left", "right")


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """Words for something in a view, where it lies, and where else of it. [mm on paper]."""

    at: Point2
    lines: tuple[str, ...]
    others: tuple[Point2, ...] = ()


# Plan --------------------------------------------------------------------------------------------


def plan_bay(bay: Bay, flat: Flat) -> list[Item]:
    """Return the floor's outline, arches and tailgate as seen from above."""
    solid = bay_solid(bay)
    items: list[Item] = [
        _ring([(x, y, 0.0) for x, y in outline_at(solid, z=0.0)], flat, "light"),
    ]
    for arch in _read(solid):
        sign = 1.0 if arch.side == "left" else -1.0
        wall = [sign * wall_y(solid, side=arch.side, x=x, z=0.0) for x in (arch.start, arch.end)]
        ends = [(arch.start, wall[0], 0.0), (arch.end, wall[1], 0.0)]
        items.append(_run(ends, flat, "light"))
    if bay.tailgate is not None and bay.tailgate.hinge == "down":
        half = _tail_half(bay)
        out = -bay.tailgate.length
        corners = [(0.0, half, 0.0), (out, half, 0.0), (out, -half, 0.0), (0.0, -half, 0.0)]
        items.append(_run(corners, flat, "phantom"))
    return items


def _tail_half(bay: Bay) -> float:
    """Return half the tailgate's width: the doorway's, or the bay's at the tail."""
    opening = bay.opening("tail")
    return (opening.width if opening is not None else bay.width) / 2.0


def plan_marks(design: Design, flat: Flat) -> tuple[list[Item], list[Note]]:
    """Return keep-outs, no-drill areas, anchors and what must stay reachable, with their words."""
    bay = design.job.bay
    items: list[Item] = []
    notes: list[Note] = []
    for area in bay.no_drill:
        if area.surface == "floor":
            ring = _corners(area.a, area.b, flat)
            items += [Hatch(outer=ring, angle=135.0, spacing=2.5, pen="warning")]
            items.append(Polyline(points=ring, closed=True, pen="warning"))
            notes.append(_area_note(ring, f"no drilling: {area.what}"))
    for keep in bay.keep_out:
        x, y = keep.box.x, keep.box.y
        ring = _corners((x.low, x.high), (y.low, y.high), flat)
        items.append(Region(outer=ring, fill="warning", pen="warning"))
        notes.append(_area_note(ring, f"keep out: {keep.what}"))
    for access in bay.access:
        ring = _corners(access.x, access.y, flat)
        items.append(Polyline(points=ring, closed=True, pen="phantom"))
        notes.append(_area_note(ring, f"reachable: {access.what}"))
    return items, notes


def _area_note(ring: tuple[Point2, ...], words: str) -> Note:
    """Return an area's words, led to its middle or to a point half way to a corner."""
    x, y = _middle(ring)
    others = tuple(((x + p[0]) / 2.0, (y + p[1]) / 2.0) for p in ring)
    return Note(at=(x, y), lines=(words,), others=others)


def _corners(a: tuple[float, float], b: tuple[float, float], flat: Flat) -> tuple[Point2, ...]:
    corners = ((a[0], b[0]), (a[1], b[0]), (a[1], b[1]), (a[0], b[1]))
    return tuple(flat((x, y, 0.0)) for x, y in corners)


def _middle(ring: tuple[Point2, ...]) -> Point2:
    return (sum(p[0] for p in ring) / len(ring), sum(p[1] for p in ring) / len(ring))


# Elevation and section ---------------------------------------------------------------------------


def elevation_bay(
    design: Design, flat: Flat, *, at: float, axis: str, cut: bool = False
) -> list[Item]:
    """Return floor, walls, rail and doorway as seen at a block's face.

    Args:
        design: The design.
        flat: The view.
        at: Where the face lies on its axis. [mm]
        axis: ``x`` for a block that opens to the tail, ``y`` for one that opens sideways.
        cut: True for a section at ``at``: the arches that it cuts are seen, not hidden.
    """
    bay = design.job.bay
    solid = bay_solid(bay)
    top = _top(bay)
    if axis == "x":
        levels = _levels(solid, top)
        left = [(at, wall_y(solid, side="left", x=at, z=z), z) for z in levels]
        right = [(at, -wall_y(solid, side="right", x=at, z=z), z) for z in levels]
        items: list[Item] = [_run([*reversed(left), *right], flat, "light")]
        items += _arch_faces(solid, flat, at=at if cut else None)
        if bay.rail is not None:
            items += _level_line(flat, (at, left[-1][1], bay.rail), (at, right[-1][1], bay.rail))
        return items
    ends = [(tail_x(solid, z=0.0), at, 0.0), (headboard_x(solid, y=at, z=0.0), at, 0.0)]
    upper = [(tail_x(solid, z=top), at, top), (headboard_x(solid, y=at, z=top), at, top)]
    return [_run([upper[0], *ends, upper[1]], flat, "light")]


def _read(solid: BaySolid) -> list[ArchSolid]:
    """Return the arches that were read: a width between them alone has no ends and no height."""
    return [
        arch for arch in solid.arches if all(map(isfinite, (arch.start, arch.end, arch.height)))
    ]


def _arch_faces(solid: BaySolid, flat: Flat, *, at: float | None) -> Iterator[Item]:
    for arch in _read(solid):
        seen = at is not None and arch.start <= at <= arch.end
        sign = 1.0 if arch.side == "left" else -1.0
        x = (arch.start + arch.end) / 2.0
        inner = sign * min(v for level in arch.inner.levels for v in level.values)
        wall = sign * wall_y(solid, side=arch.side, x=x, z=arch.height)
        corners = [(x, inner, 0.0), (x, inner, arch.height), (x, wall, arch.height)]
        yield _run(corners, flat, "light" if seen else "hidden")


def section_bay(design: Design, flat: Flat, *, at: float, axis: str) -> list[Item]:
    """Return floor, tail, headboard, rail and tailgate as a section shows them.

    Args:
        design: The design.
        flat: The view.
        at: Where the cutting plane lies on the axis across it. [mm]
        axis: Axis that the section runs along: ``x`` or ``y``.
    """
    bay = design.job.bay
    solid = bay_solid(bay)
    top = _top(bay)
    levels = _levels(solid, top)
    if axis == "y":
        left = [(at, wall_y(solid, side="left", x=at, z=z), z) for z in levels]
        right = [(at, -wall_y(solid, side="right", x=at, z=z), z) for z in levels]
        return [_run([*reversed(left), *right], flat, "light")]
    tail = [(tail_x(solid, z=z), at, z) for z in levels]
    head = [(headboard_x(solid, y=at, z=z), at, z) for z in levels]
    items: list[Item] = [_run([*reversed(tail), *head], flat, "light")]
    for arch in _read(solid)[:1]:
        corners = [(arch.start, at, 0.0), (arch.start, at, arch.height)]
        corners += [(arch.end, at, arch.height), (arch.end, at, 0.0)]
        items.append(_run(corners, flat, "hidden"))
    if bay.rail is not None:
        items += _level_line(flat, (tail[-1][0], at, bay.rail), (head[-1][0], at, bay.rail))
    if bay.tailgate is not None and bay.tailgate.hinge == "down":
        z, out = bay.tailgate.open_top, -bay.tailgate.length
        items.append(_run([(0.0, at, z), (out, at, z)], flat, "phantom"))
    return items


def _top(bay: Bay) -> float:
    """Return how high the walls are drawn: the rail, or a reading, or the clear height."""
    known = [bay.rail, *(s.height for s in bay.widths), *(s.height for s in bay.lengths)]
    heights = [z for z in known if z]
    if bay.rail is None and bay.clear_height is not None:
        heights.append(bay.clear_height)
    return max(heights, default=400.0)


def _levels(solid: BaySolid, top: float) -> list[float]:
    """Return the heights at which a wall, the tail or the headboard may kink."""
    heights = {0.0, top}
    heights.update(level.z for level in (*solid.left.levels, *solid.headboard.levels))
    heights.update(z for z, _, _ in solid.tail)
    return sorted(z for z in heights if 0.0 <= z <= top)


def _level_line(flat: Flat, a: Point3, b: Point3) -> Iterator[Item]:
    yield Line(start=flat(a), end=flat(b), pen="phantom")


def _run(points: list[Point3], flat: Flat, pen: Pen) -> Polyline:
    return Polyline(points=tuple(flat(p) for p in points), pen=pen)


def _ring(points: list[Point3], flat: Flat, pen: Pen) -> Polyline:
    return Polyline(points=tuple(flat(p) for p in points), closed=True, pen=pen)


def anchor_marks(
    design: Design, flat: Flat, *, size: float = _SYMBOL
) -> tuple[list[Item], list[Note]]:
    """Return symbols of anchors, new holes and belt anchorages on the floor, with their words.

    Args:
        design: The design.
        flat: The view.
        size: Height of a symbol. [mm on paper]
    """
    items: list[Item] = [
        Symbol(kind="belt", at=flat((belt.x, belt.y, 0.0)), size=size)
        for belt in design.job.bay.belts
        if belt.surface == "floor"
    ]
    notes: list[Note] = []
    unused = unused_anchors(design)
    for anchor in design.job.bay.anchors:
        if anchor.surface == "floor":
            at = flat((anchor.x, anchor.y, 0.0))
            items.append(Symbol(kind="anchor", at=at, size=size))
            if 0 < unused[anchor.what] <= _FEW:
                notes.append(Note(at=at, lines=(f"{anchor.what}: not used",)))
    items += [
        Symbol(kind="anchor-new", at=flat((point.x, point.y, 0.0)), size=size)
        for point in design.anchors
        if not point.existing and point.surface == "floor"
    ]
    return items, notes


def unused_anchors(design: Design) -> Counter[str]:
    """Return how many of the floor's anchors the unit is not bolted to, by their name."""
    used = {anchor.existing for anchor in design.anchors}
    floor = (a for a in design.job.bay.anchors if a.surface == "floor")
    return Counter(anchor.what for anchor in floor if anchor.what not in used)


def many_unused(design: Design) -> list[str]:
    """Return what unused anchors are called that are too many to be named one by one."""
    return [f"{what}: {n}" for what, n in unused_anchors(design).items() if n > _FEW]
