"""Plan, elevation and section of the unit in its bay, in paper millimetres about the bay's origin.

The frame is the block's own: across to the right as one looks at its face, in from the face, up.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import product

import shapely
import shapely.affinity

from stowright.drawings.arrangement import Arrangement, ViewName, dot
from stowright.drawings.arrangement_cargo import cargo_items, cargo_notes
from stowright.drawings.arrangement_dimensions import (
    clearance_notes,
    cross_dimensions,
    elevation_dimensions,
    plan_dimensions,
    section_dimensions,
)
from stowright.drawings.arrangement_planes import cutting_planes, runner_sections
from stowright.drawings.bay_lines import (
    Note,
    anchor_marks,
    elevation_bay,
    plan_bay,
    plan_marks,
    section_bay,
)
from stowright.drawings.extent import Bounds, bounds
from stowright.drawings.hold_down_plan import MANY, is_crowded
from stowright.drawings.linetypes import Fill, Pen
from stowright.drawings.ortho import Silhouette, Visible, silhouette, uncovered, visible
from stowright.drawings.part_notes import Tip, led_note
from stowright.drawings.scene import Item, Leader, Polyline, Region, Text
from stowright.drawings.settling import settled
from stowright.drawings.space import Space
from stowright.model.design import Motion, OpeningDesign
from stowright.model.geometry import Point2, Point3
from stowright.model.part import PlacedPart
from stowright.units import format_length

__all__ = ["arrangement_view"]

#: Taken off in the plan, so that what lies beneath is seen.
_COVERS = frozenset({"deck", "wing", "wing-lid"})
_NOTE = 2.5
_AROUND = 30.0  # room for notes round a view
#: Smaller views take the next narrower group of lines (ISO 128-2): boards are thin there.
_FINE = 1.0 / 20.0


def arrangement_view(arrangement: Arrangement, view: ViewName) -> tuple[Item, ...]:
    """Return one view with dimensions and notes, in paper millimetres about the bay's origin."""
    if view == "plan":
        items, notes = _plan(arrangement)
    elif view == "elevation":
        items, notes = _elevation(arrangement)
    elif view == "section":
        items, notes = _section(arrangement)
    else:
        items, notes = _cross(arrangement)
    if arrangement.bare:
        return tuple(items)
    items = settled(items)
    box = bounds(items)
    room = Bounds(
        left=box.left - _AROUND,
        bottom=box.bottom - _AROUND,
        right=box.right + _AROUND,
        top=box.top + _AROUND,
    )
    space = Space(room)
    space.take(items)
    placed: list[Item] = []
    if view == "plan":
        placed += cutting_planes(arrangement, space)
        placed += _anchor_names(arrangement, space)
    if view == "elevation":
        placed += _opening_names(arrangement, space)
    for note in notes:
        tips = [Tip(at, 0.0) for at in (note.at, *note.others)]
        leader = replace(led_note(note.lines, tips, space), head="dot")
        space.take((leader,))
        placed.append(leader)
    return (*items, *placed)


# Plan --------------------------------------------------------------------------------------------


def _plan(arrangement: Arrangement) -> tuple[list[Item], list[Note]]:
    design = arrangement.design

    def flat(point: Point3) -> Point2:
        return arrangement.flat("plan", point)

    shown = [p for p in design.placed if p.role not in _COVERS]
    areas, notes = plan_marks(design, flat)
    symbols, anchor_notes = anchor_marks(design, flat, size=arrangement.symbol)
    shapes = _silhouettes(arrangement, "plan", shown)
    items = _in_the_bay(arrangement, plan_bay(design.job.bay, flat), shapes)
    items += _covers(arrangement)
    for motion in design.motions:
        if motion.kind == "slide":
            items += _moved_out(arrangement, "plan", motion)
    items += areas
    items += symbols
    items += cargo_items(arrangement, "plan")
    box = bounds(items)
    items += plan_dimensions(arrangement, top=box.top, outer=box.left)
    aboard = cargo_notes(arrangement, "plan")
    return items, [*clearance_notes(arrangement), *notes, *anchor_notes, *aboard]


def _covers(arrangement: Arrangement) -> Iterator[Item]:
    """Yield the outlines of deck and wings, which the plan leaves off."""
    for placed in arrangement.design.placed:
        if placed.role in _COVERS:
            shape = _silhouette(arrangement, "plan", placed).shape
            yield _outline(shape, arrangement.scale, "phantom")


# Elevation ---------------------------------------------------------------------------------------


def _elevation(arrangement: Arrangement) -> tuple[list[Item], list[Note]]:
    design, block = arrangement.design, arrangement.block

    def flat(point: Point3) -> Point2:
        return arrangement.flat("elevation", point)

    axis = "x" if block.face == "tail" else "y"
    bay = elevation_bay(design, flat, at=block.face_at, axis=axis)
    own = {block.name, *(deck.name for deck in arrangement.decks)}
    shown = [p for p in design.placed if p.block in own]
    items = _in_the_bay(arrangement, bay, _silhouettes(arrangement, "elevation", shown))
    items += cargo_items(arrangement, "elevation")
    items += elevation_dimensions(arrangement, outer=bounds(items).left)
    return items, list(cargo_notes(arrangement, "elevation"))


def _opening_names(arrangement: Arrangement, space: Space) -> list[Item]:
    """Return each opening's name and front size on its face, or the name led to it from outside."""
    items: list[Item] = []
    faces = [(opening, _face(arrangement, opening)) for opening in arrangement.block.openings]
    led = []
    for opening, face in faces:
        size = opening.front or (opening.width, opening.height)
        words = " × ".join(format_length(value, arrangement.units) for value in size)
        trials = ((opening.name, words), (opening.name,))
        placed = next((found for t in trials if (found := _in_the_face(t, face, space))), [])
        led += [] if placed else [(opening.name, face)]
        space.take(placed)
        items += placed
    if led:
        space.take(Region(outer=face.corners, fill="ink") for _, face in faces)
    for name, face in led:
        note = _beside(name, face, space)
        space.take((note,))
        items.append(note)
    return items


def _face(arrangement: Arrangement, opening: OpeningDesign) -> Bounds:
    """Return an opening's clear width and height on paper. [mm]."""
    across, _, up = arrangement.block.axes
    s = arrangement.scale
    left, low = dot(opening.at, across) * s, dot(opening.at, up) * s
    right, top = left + opening.width * s, low + opening.height * s
    return Bounds(left=left, bottom=low, right=right, top=top)


def _in_the_face(lines: tuple[str, ...], face: Bounds, space: Space) -> list[Item]:
    """Return lines one below the other where they are free on a face: in its middle, then aside."""
    for across, share in product((0.5, 0.28, 0.72), (0.5, 0.4, 0.6, 0.3, 0.7)):
        middle = face.bottom + share * face.height
        texts: list[Item] = [
            Text(
                text=line,
                at=(face.left + across * face.width, middle + (len(lines) - 1 - 2 * k) * 2.2),
                height=_NOTE,
                anchor="middle",
                rise="middle",
                weight="bold" if k == 0 else "regular",
            )
            for k, line in enumerate(lines)
        ]
        if space.free(bounds(texts), margin=0.3):
            return texts
    return []


def _beside(name: str, face: Bounds, space: Space) -> Leader:
    """Return an opening's name led to its face."""
    shares = ((0.5, 0.5), (0.2, 0.3), (0.8, 0.3), (0.2, 0.7), (0.8, 0.7))
    tips = [
        Tip((face.left + a * face.width, face.bottom + b * face.height), 0.0) for a, b in shares
    ]
    return replace(led_note((name,), tips, space), head="dot", weight="bold")


def _anchor_names(arrangement: Arrangement, space: Space) -> list[Item]:
    """Return the id of each anchor point beside its symbol.

    Where hold-downs are many, those of the block alone, and of a block with many none: they have a
    plan of their own.
    """
    design, items = arrangement.design, list[Item]()
    floor = [point for point in design.anchors if point.surface == "floor"]
    if is_crowded(design):
        floor = [point for point in floor if point.block == arrangement.block.name]
    for point in floor if len(floor) <= MANY else ():
        at = arrangement.flat("plan", (point.x, point.y, point.z))
        name = led_note((point.id,), [Tip(at, arrangement.symbol / 2.0)], space)
        space.take((name,))
        items.append(replace(name, head="none"))
    return items


# Section -----------------------------------------------------------------------------------------


def _section(arrangement: Arrangement) -> tuple[list[Item], list[Note]]:
    design, block = arrangement.design, arrangement.block

    def flat(point: Point3) -> Point2:
        return arrangement.flat("section", point)

    across = block.axes[0]
    at = arrangement.cut_at * (across[0] + across[1])  # an axis is plus or minus one unit
    axis = "x" if block.face == "tail" else "y"
    cut, beyond = _split(arrangement, "section", -arrangement.cut_at)
    bay = section_bay(design, flat, at=at, axis=axis)
    names = {c.placed.id for c in cut}
    items = _in_the_bay(arrangement, bay, [*cut, *beyond], cut=names)
    if arrangement.opening is not None:
        for motion in design.motions:
            if motion.body == arrangement.opening.name and motion.kind == "slide":
                items += _moved_out(arrangement, "section", motion)
    items += cargo_items(arrangement, "section")
    items += section_dimensions(arrangement)
    return items, list(cargo_notes(arrangement, "section"))


def _cross(arrangement: Arrangement) -> tuple[list[Item], list[Note]]:
    """Return the section across the block, its runners shown as the sections that they are."""
    design, block = arrangement.design, arrangement.block

    def flat(point: Point3) -> Point2:
        return arrangement.flat("cross", point)

    inward = block.axes[1]
    axis = "x" if block.face == "tail" else "y"
    at = arrangement.cross_at * (inward[0] + inward[1])
    cut, beyond = _split(arrangement, "cross", arrangement.cross_at)
    bay = elevation_bay(design, flat, at=at, axis=axis, cut=True)
    names = {c.placed.id for c in cut}
    items = _in_the_bay(arrangement, bay, [*cut, *beyond], cut=names)
    items += runner_sections(arrangement)
    items += cargo_items(arrangement, "cross")
    items += cross_dimensions(arrangement, outer=bounds(items).left)
    return items, []


def _split(
    arrangement: Arrangement, view: ViewName, plane: float
) -> tuple[list[Silhouette], list[Silhouette]]:
    """Return the parts that the plane cuts, brought to the front, and those that lie beyond."""
    cut, beyond = [], []
    for one in _silhouettes(arrangement, view, arrangement.design.placed):
        if one.near < plane < one.far:
            cut.append(replace(one, near=-1e9, far=-1e9))
        elif one.near >= plane:
            beyond.append(one)
    return cut, beyond


# Marks -------------------------------------------------------------------------------------------


def _silhouette(arrangement: Arrangement, view: ViewName, placed: PlacedPart) -> Silhouette:
    return silhouette(placed, arrangement.design.part(placed.mark), arrangement.sight(view))


def _silhouettes(
    arrangement: Arrangement, view: ViewName, shown: Iterable[PlacedPart]
) -> list[Silhouette]:
    return [_silhouette(arrangement, view, placed) for placed in shown]


def _in_the_bay(
    arrangement: Arrangement,
    bay: list[Item],
    shapes: list[Silhouette],
    *,
    cut: frozenset[str] | set[str] = frozenset(),
) -> list[Item]:
    """Return parts in front of the bay's lines: what they cover is not drawn.

    Dashed lines of the bay stay: they are drawn because they are hidden.
    """
    if arrangement.bare:
        return [*bay, *(_rim(shape, arrangement.scale) for shape in shapes)]
    scale = arrangement.scale
    items: list[Item] = []
    dashed: list[Item] = []
    for item in bay:
        if not isinstance(item, Polyline) or item.pen == "hidden":
            dashed.append(item)
            continue
        ring = (*item.points, item.points[0]) if item.closed else item.points
        full = tuple((x / scale, y / scale) for x, y in ring)
        for bit in uncovered(full, tuple(shapes)):
            points = tuple((x * scale, y * scale) for x, y in bit)
            items.append(replace(item, points=points, closed=False))
    return [*items, *_solid(arrangement, shapes, cut=cut), *dashed]


def _rim(shape: Silhouette, scale: float) -> Polyline:
    """Return the opposite corners of what a piece covers, joined by a line."""
    left, low, right, top = shape.shape.bounds
    return Polyline(points=((left * scale, low * scale), (right * scale, top * scale)))


def _solid(
    arrangement: Arrangement, shapes: list[Silhouette], *, cut: frozenset[str] | set[str]
) -> Iterator[Item]:
    """Yield the visible regions and lines of parts; cut ones darker, with a wide outline."""
    scale = arrangement.scale
    pens: tuple[Pen, Pen] = ("outline", "visible") if scale >= _FINE else ("edge", "outline")
    rows = visible(tuple(shapes))
    for seen in rows:
        yield from _fills(seen, scale, "wood-dark" if seen.placed.id in cut else "wood")
    for seen in rows:
        pen = pens[seen.placed.id in cut]
        for line in seen.lines:
            yield Polyline(points=tuple((x * scale, y * scale) for x, y in line), pen=pen)


def _fills(seen: Visible, scale: float, fill: Fill) -> Iterator[Item]:
    for region in seen.regions:
        outer, *holes = (
            tuple((float(x) * scale, float(y) * scale) for x, y in ring.coords[:-1])
            for ring in (region.exterior, *region.interiors)
        )
        yield Region(outer=outer, holes=tuple(holes), fill=fill, about=seen.placed.mark)


def _moved_out(arrangement: Arrangement, view: ViewName, motion: Motion) -> Iterator[Item]:
    """Yield the outline of a drawer in its open position."""
    sight = arrangement.sight(view)
    shift = (motion.axis[0] * motion.travel, motion.axis[1] * motion.travel, 0.0)
    dx, dy = sight.flat(shift)
    parts = [p for p in arrangement.design.placed if p.body == motion.body]
    shapes = [_silhouette(arrangement, view, placed).shape for placed in parts]
    joined = shapely.union_all(shapes)
    moved = shapely.affinity.translate(joined, dx, dy)
    for polygon in shapely.get_parts(moved):
        yield _outline(polygon, arrangement.scale, "phantom")


def _outline(shape: shapely.Polygon, scale: float, pen: Pen) -> Polyline:
    points = tuple((float(x) * scale, float(y) * scale) for x, y in shape.exterior.coords[:-1])
    return Polyline(points=points, closed=True, pen=pen)
