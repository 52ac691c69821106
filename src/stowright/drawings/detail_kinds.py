"""Which details a design gives: where each is cut, how far it reaches, what is added to it."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.drawings.detail_latch import latch_detail
from stowright.drawings.detail_plan import (
    Detail,
    around,
    block_of,
    fixing_between,
    scaled,
    sight_of,
)
from stowright.drawings.extent import Bounds
from stowright.drawings.ortho import Sight
from stowright.drawings.scene import Item, Polyline, Region
from stowright.model.catalogue import Catalogue
from stowright.model.design import Design, OpeningDesign
from stowright.model.geometry import Point2
from stowright.units import Unit, format_length

__all__ = ["details_of"]

#: How far a detail of an anchor reaches to both sides: past the edge of a spreader plate. [mm]
_REACH = 42.0
#: What stands beside an upright at its corner, and its word.
_CORNERS = {"carcass-floor": "floor", "floor-rail": "floor rail", "carcass-rail": "rail"}


def details_of(design: Design, catalogue: Catalogue, units: Unit) -> tuple[Detail, ...]:
    """Return the details of a design: one of each kind that it has.

    Args:
        design: The design.
        catalogue: Sizes of hardware.
        units: Unit of print.
    """
    found = (
        _joint(design),
        _runner(design),
        _front(design),
        _lever(design),
        latch_detail(design, catalogue),
        _between_modules(design),
        _deck(design),
        _cleat(design),
        _anchor(design, units),
    )
    return tuple(detail for detail in found if detail is not None)


# What is shown -----------------------------------------------------------------------------------


def _joint(design: Design) -> Detail | None:
    """Return the corner of an upright and what it stands beside: floor, floor rail or top rail."""
    found = (
        (fixing_between(design, "carcass", ("carcass-side", role)), word)
        for role, word in _CORNERS.items()
    )
    fixing, word = next(((f, w) for f, w in found if f is not None), (None, ""))
    title = f"Joint of side and {word}"
    block = block_of(design, design.placed_by_id(fixing.joins[0]).block) if fixing else None
    if fixing is None or block is None:
        return None
    sight = sight_of(block)
    (x, y), (dx, dy) = sight.flat(fixing.at), sight.flat(fixing.direction)
    middle = (x + dx * fixing.length * 0.6, y + dy * fixing.length * 0.6 + 10.0)
    return Detail(
        name="detail-joint",
        title=title,
        sight=sight,
        depth=sight.depth(fixing.at),
        window=around(middle, 84.0, 64.0),
    )


def _between_modules(design: Design) -> Detail | None:
    """Return the bolt between two modules, seen from the face."""
    bolt = next((f for f in design.fixings if f.step == "modules" and f.kind == "bolt"), None)
    piece = next((p for p in design.placed if bolt and p.id in bolt.joins), None)
    block = block_of(design, piece.block) if piece is not None else None
    if bolt is None or block is None:
        return None
    sight = sight_of(block)
    (x, y), (dx, dy) = sight.flat(bolt.at), sight.flat(bolt.direction)
    middle = (x + dx * bolt.length * 0.4, y + dy * bolt.length * 0.4)
    return Detail(
        name="detail-modules",
        title="Bolt between modules",
        sight=sight,
        depth=sight.depth(bolt.at),
        window=around(middle, 96.0, 60.0),
    )


def _deck(design: Design) -> Detail | None:
    """Return the deck where it is screwed or held to what carries it, seen from the face."""
    decks = {p.id for p in design.placed if p.role == "deck"}
    fixing = next(
        (f for f in design.fixings if f.kind == "screw" and decks.intersection(f.joins)), None
    )
    pieces = [p for p in design.placed if fixing and p.id in fixing.joins]
    block = next((b for b in (block_of(design, p.block) for p in pieces) if b is not None), None)
    if fixing is None or block is None:
        return None
    sight = sight_of(block)
    x, y = sight.flat(fixing.at)
    return Detail(
        name="detail-deck",
        title="Deck on what carries it",
        sight=sight,
        depth=sight.depth(fixing.at),
        window=around((x, y - 18.0), 96.0, 64.0),
    )


def _opening_with_runner(design: Design) -> OpeningDesign | None:
    openings = (o for b in design.blocks for o in b.openings)
    return next((o for o in openings if o.runner is not None and o.box is not None), None)


def _runner(design: Design) -> Detail | None:
    opening = _opening_with_runner(design)
    if opening is None or opening.runner is None or opening.box is None:
        return None
    fit, block = opening.runner, block_of(design, opening.block)
    screws = [f for f in design.fixings if f"{opening.name}/runner-left" in f.joins]
    if block is None or not screws:
        return None
    sight = sight_of(block)
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


def _front(design: Design) -> Detail | None:
    """Return the section through a front where it is screwed to its box."""
    fixing = next((f for f in design.fixings if f.step == "front" and f.kind == "screw"), None)
    if fixing is None:
        return None
    piece = next((p for p in design.placed if p.id in fixing.joins and p.body != "fixed"), None)
    block = block_of(design, piece.block) if piece is not None else None
    if piece is None or block is None:
        return None
    sight = sight_of(block, along=True)
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


def _lever(design: Design) -> Detail | None:
    """Return the runner's lock lever at the left of a front, seen from above."""
    opening = _opening_with_runner(design)
    fit = opening.runner if opening is not None else None
    block = block_of(design, opening.block) if opening is not None else None
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


def _cleat(design: Design) -> Detail | None:
    fixing = fixing_between(design, "wings", ("wing-cleat", "carcass-side"))
    if fixing is None:
        return None
    side = next(p for p in design.placed if p.id in fixing.joins and p.role == "carcass-side")
    block = block_of(design, side.block)
    if block is None:
        return None
    sight = sight_of(block)
    x, y = sight.flat(fixing.at)
    return Detail(
        name="detail-wing-cleat",
        title="Wing on its cleat",
        sight=sight,
        depth=sight.depth(fixing.at),
        window=around((x, y + 8.0), 104.0, 84.0),
    )


def _anchor(design: Design, units: Unit) -> Detail | None:
    anchors = [a for a in design.anchors if a.surface == "floor" and a.fixing]
    anchor = next((a for a in anchors if a.plate), next(iter(anchors), None))
    if anchor is None:
        return None
    block = block_of(design, anchor.block)
    bolt = next((f for f in design.fixings if f.id == anchor.fixing), None)
    if block is None or bolt is None:
        return None
    sight = sight_of(block)
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
        title=f"Anchor, {anchor.id}: {anchor.bolt}, {what}",
        head=f"Anchor, {anchor.id}",
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
