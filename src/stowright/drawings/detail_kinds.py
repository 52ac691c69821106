"""Which details a design gives: where each is cut, how far it reaches, what is added to it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from stowright.drawings.extent import Bounds
from stowright.drawings.ortho import Sight
from stowright.drawings.scene import Item, Polyline, Region
from stowright.model.design import BlockDesign, Design, OpeningDesign
from stowright.model.geometry import Point2
from stowright.model.part import PlacedFixing
from stowright.units import Unit, format_length

__all__ = ["Detail", "details_of", "scaled"]

#: How far a detail of an anchor reaches to both sides: past the edge of a spreader plate. [mm]
_REACH = 42.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Detail:
    """What a detail shows.

    Attributes:
        name, title: Of the scene.
        head: What stands over it, where the title is too long.
        sight: Directions of the picture.
        depth: Where the plane lies along the line of sight. [mm]
        window: What is shown. [mm on the picture plane]
        also: Makes what is no part: runners, the vehicle's floor. [paper at a scale]
        sizes: Linear dimensions: axis, start and end on the picture plane.
        notes: Words for what is no part, and where it lies on the picture plane.
    """

    name: str
    title: str
    sight: Sight
    depth: float
    window: Bounds
    also: Callable[[float], Iterable[Item]] = lambda _: ()
    sizes: tuple[tuple[str, Point2, Point2], ...] = ()
    notes: tuple[tuple[Point2, str], ...] = ()
    head: str = ""


def details_of(design: Design, units: Unit) -> tuple[Detail, ...]:
    """Return the details of a design: one of each kind that it has."""
    makers = (_joint, _runner, _front, _lever, _latch, _cleat, _anchor)
    found = (make(design, units) for make in makers)
    return tuple(detail for detail in found if detail is not None)


def scaled(points: Iterable[Point2], scale: float) -> tuple[Point2, ...]:
    """Return points of the picture plane on paper. [mm]."""
    return tuple((x * scale, y * scale) for x, y in points)


# What is shown -----------------------------------------------------------------------------------


def _sight(block: BlockDesign, *, along: bool = False) -> Sight:
    """Return the sight across a block (from its face), or along it (from its right)."""
    across, inward, up = block.axes
    if along:
        return Sight(right=inward, up=up, look=(-across[0], -across[1], -across[2]))
    return Sight(right=across, up=up, look=inward)


def _around(middle: Point2, wide: float, high: float) -> Bounds:
    x, y = middle
    return Bounds(
        left=x - wide / 2.0, right=x + wide / 2.0, bottom=y - high / 2.0, top=y + high / 2.0
    )


def _block_of(design: Design, name: str) -> BlockDesign | None:
    return next((b for b in design.blocks if b.name == name), None)


def _fixing_between(design: Design, step: str, roles: tuple[str, str]) -> PlacedFixing | None:
    """Return the first fixing of a step that joins pieces of two roles."""
    role_of = {p.id: p.role for p in design.placed}
    for fixing in design.fixings:
        joined = {role_of.get(j, "") for j in fixing.joins}
        if fixing.step == step and fixing.kind in {"screw", "bolt"} and set(roles) <= joined:
            return fixing
    return None


def _joint(design: Design, _: Unit) -> Detail | None:
    fixing = _fixing_between(design, "carcass", ("carcass-side", "carcass-floor"))
    title = "Joint of side and floor"
    if fixing is None:
        fixing = _fixing_between(design, "carcass", ("carcass-side", "carcass-rail"))
        title = "Joint of side and rail"
    block = _block_of(design, design.placed_by_id(fixing.joins[0]).block) if fixing else None
    if fixing is None or block is None:
        return None
    sight = _sight(block)
    (x, y), (dx, dy) = sight.flat(fixing.at), sight.flat(fixing.direction)
    middle = (x + dx * fixing.length * 0.6, y + dy * fixing.length * 0.6 + 10.0)
    return Detail(
        name="detail-joint",
        title=title,
        sight=sight,
        depth=sight.depth(fixing.at),
        window=_around(middle, 84.0, 64.0),
    )


def _opening_with_runner(design: Design) -> OpeningDesign | None:
    openings = (o for b in design.blocks for o in b.openings)
    return next((o for o in openings if o.runner is not None and o.box is not None), None)


def _runner(design: Design, _: Unit) -> Detail | None:
    opening = _opening_with_runner(design)
    if opening is None or opening.runner is None or opening.box is None:
        return None
    fit, block = opening.runner, _block_of(design, opening.block)
    screws = [f for f in design.fixings if f"{opening.name}/runner-left" in f.joins]
    if block is None or not screws:
        return None
    sight = _sight(block)
    left, floor = sight.flat(opening.at)
    line, half = floor + fit.line, fit.runner.section / 2.0
    inner = left + fit.side_space

    def drawn(scale: float) -> Iterator[Item]:
        corners = (
            (left, line - half),
            (inner, line - half),
            (inner, line + half),
            (left, line + half),
        )
        yield Region(outer=scaled(corners, scale), fill="metal", pen="outline")

    return Detail(
        name="detail-runner",
        title=f"Runner of {opening.name}",
        sight=sight,
        depth=sight.depth(screws[0].at),
        window=Bounds(
            left=left - 24.0, right=inner + 46.0, bottom=floor - 24.0, top=line + half + 14.0
        ),
        also=drawn,
        sizes=(
            ("x", (left, line + half), (inner, line + half)),
            ("y", (inner + 46.0, floor), (inner + 46.0, line)),
            ("y", (inner + 46.0, floor), (inner + 46.0, floor + fit.line - fit.line_in_drawer)),
        ),
        notes=(((left + fit.side_space / 2.0, line + half * 0.6), fit.runner.name),),
    )


def _front(design: Design, _: Unit) -> Detail | None:
    """Return the section through a front where it is screwed to its box."""
    fixing = next((f for f in design.fixings if f.step == "front" and f.kind == "screw"), None)
    if fixing is None:
        return None
    piece = next((p for p in design.placed if p.id in fixing.joins and p.body != "fixed"), None)
    block = _block_of(design, piece.block) if piece is not None else None
    if piece is None or block is None:
        return None
    sight = _sight(block, along=True)
    x, y = sight.flat(fixing.at)
    low = min(
        sight.flat(piece.point(u, v, 0.0))[1]
        for u in (0.0, piece.length)
        for v in (0.0, piece.width)
    )
    bottom = min(low, y) - 32.0
    return Detail(
        name="detail-front",
        title=f"Front of {piece.opening}, its gap and the floor behind it",
        sight=sight,
        depth=sight.depth(fixing.at),
        window=Bounds(
            left=x - 44.0, right=x + 66.0, bottom=bottom, top=max(bottom + 80.0, y + 22.0)
        ),
    )


def _lever(design: Design, _: Unit) -> Detail | None:
    """Return the runner's lock lever at the left of a front, seen from above."""
    opening = _opening_with_runner(design)
    fit = opening.runner if opening is not None else None
    block = _block_of(design, opening.block) if opening is not None else None
    if opening is None or fit is None or block is None or fit.runner.lever is None:
        return None
    across, inward, up = block.axes
    sight = Sight(right=across, up=inward, look=(-up[0], -up[1], -up[2]))
    left, face = sight.flat(opening.at)
    wide, reach = fit.runner.lever[0], fit.runner.lever[2]
    start = face + fit.set_back
    line = opening.at[2] + fit.line

    def drawn(scale: float) -> Iterator[Item]:
        inner, deep = left + fit.side_space, start + 60.0
        body = ((left, start), (inner, start), (inner, deep), (left, deep))
        yield Region(outer=scaled(body, scale), fill="metal", pen="outline")
        low, high = left + (fit.side_space - wide) / 2.0, left + (fit.side_space + wide) / 2.0
        swing = ((low, start - reach), (high, start - reach), (high, start), (low, start))
        yield Polyline(points=scaled(swing, scale), closed=True, pen="phantom")

    return Detail(
        name="detail-lever",
        title=f"Lock lever of {opening.name}, seen from above at the runner's line",
        head=f"Lock lever of {opening.name}, from above",
        sight=sight,
        depth=-line,
        window=Bounds(left=left - 24.0, right=left + 76.0, bottom=face - 8.0, top=start + 60.0),
        also=drawn,
        notes=(
            ((left + fit.side_space / 2.0, start + 44.0), fit.runner.name),
            ((left + fit.side_space / 2.0, start - reach + 4.0), "lever, its whole swing"),
        ),
    )


def _latch(design: Design, _: Unit) -> Detail | None:
    """Return a section through a latch that is screwed on."""
    latch = next((f for f in design.fixings if f.kind == "latch"), None)
    piece = next((p for p in design.placed if latch and p.id in latch.joins), None)
    block = _block_of(design, piece.block) if piece is not None else None
    if latch is None or block is None:
        return None
    sight = _sight(block, along=True)
    x, y = sight.flat(latch.at)
    return Detail(
        name="detail-latch",
        title=f"Where the {latch.type} sits",
        sight=sight,
        depth=sight.depth(latch.at),
        window=_around((x, y), 110.0, 90.0),
        notes=(((x, y), latch.type),),
    )


def _cleat(design: Design, _: Unit) -> Detail | None:
    fixing = _fixing_between(design, "wings", ("wing-cleat", "carcass-side"))
    if fixing is None:
        return None
    side = next(p for p in design.placed if p.id in fixing.joins and p.role == "carcass-side")
    block = _block_of(design, side.block)
    if block is None:
        return None
    sight = _sight(block)
    x, y = sight.flat(fixing.at)
    return Detail(
        name="detail-wing-cleat",
        title="Wing on its cleat",
        sight=sight,
        depth=sight.depth(fixing.at),
        window=_around((x, y + 8.0), 104.0, 84.0),
    )


def _anchor(design: Design, units: Unit) -> Detail | None:
    anchors = [a for a in design.anchors if a.surface == "floor" and a.fixing]
    anchor = next((a for a in anchors if a.plate), next(iter(anchors), None))
    if anchor is None:
        return None
    block = _block_of(design, anchor.block)
    bolt = next((f for f in design.fixings if f.id == anchor.fixing), None)
    if block is None or bolt is None:
        return None
    sight = _sight(block)
    x, y = sight.flat(bolt.at)
    plate = next((f for f in design.fixings if f.set == bolt.id and f.kind == "plate"), None)
    floor = design.job.bay.floor
    thick = floor.thickness if floor is not None else 0.0
    valley = plate.at[2] + thick if plate is not None else 0.0
    pitch = floor.rib_pitch if floor is not None and valley < -0.5 else 0.0

    def drawn(scale: float) -> Iterator[Item]:
        run = _floor_line(x, valley - thick / 2.0, -thick / 2.0, pitch)
        yield Polyline(points=scaled(run, scale), pen="emphasis")

    where = f"vehicle's floor, {format_length(thick, units)} thick" if thick else "vehicle's floor"
    what = anchor.existing or "spreader plate below: look beneath first"
    return Detail(
        name="detail-anchor",
        title=f"Anchor {anchor.id}: {anchor.bolt}, {what}",
        head=f"Anchor {anchor.id}",
        sight=sight,
        depth=sight.depth(bolt.at),
        window=Bounds(left=x - _REACH, right=x + _REACH, bottom=-44.0, top=y + 26.0),
        also=drawn,
        notes=(((x - 36.0, 0.0 if pitch else valley), where),),
    )


def _floor_line(x: float, low: float, high: float, pitch: float) -> tuple[Point2, ...]:
    """Return the vehicle's floor as a line: flat, or a valley between two ribs under the bolt."""
    if pitch <= 0.0:
        return ((x - _REACH, low), (x + _REACH, low))
    half = pitch * 0.5
    slope = min(6.0, half / 3.0)
    return (
        (x - _REACH, high),
        (x - half, high),
        (x - half + slope, low),
        (x + half - slope, low),
        (x + half, high),
        (x + _REACH, high),
    )
