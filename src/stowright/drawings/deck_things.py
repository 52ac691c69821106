"""What stands on a deck, as plain bodies and lines: cargo, tie-down rails, and what lashes it.

A thing is drawn as the box that its sizes give. A strap runs from an upper corner to its point: a
factory anchor, a place on a rail beyond the thing, or a ring of the unit at the distance that the
proofs reckon with. Where exactly it goes is for whoever lashes it; a picture shows which way.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from math import sqrt
from typing import Literal

from stowright.model.bay import Anchor
from stowright.model.design import DeckCargo, Design
from stowright.model.geometry import Box, Point2, Point3, Span
from stowright.model.job import DeckRail
from stowright.model.part import Joint

__all__ = ["StandIn", "box_corners", "deck_things", "lashings", "tie_points"]

#: Width and height of a rail as the trade sells it (common practice). [mm]
_RAIL = (35.0, 12.0)
#: A rail begins this far from the end of the piece that it lies on, as it is cut. [mm]
_OFF_END = 20.0
#: A strap to a rail runs out along it as far as across to it, so much at least. [mm]
_RUNS_OUT = 100.0
#: A ring stays this far from the deck's edge. [mm]
_RING_EDGE = 40.0
#: Which corner of a thing each strap starts at, in turn: towards the cab is 1, to the left is 1.
_CORNERS = ((1.0, 1.0), (-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class StandIn:
    """A plain body that is no part of the unit.

    Attributes:
        id: Unique: ``cargo/ice box/1``.
        kind: What it stands for.
        deck: The deck that it is on.
        what: Its name.
        mass_kg: Of cargo; 0 for a rail.
        box: Where it is. [mm]
    """

    id: str
    kind: Literal["cargo", "rail"]
    deck: str
    what: str
    mass_kg: float
    box: Box


def deck_things(design: Design) -> tuple[StandIn, ...]:
    """Return cargo and rails on decks as boxes: cargo in the job's order, then rails."""
    cargo = [
        StandIn(
            id=f"cargo/{row.what}/{row.copy}",
            kind="cargo",
            deck=row.deck,
            what=row.what,
            mass_kg=row.mass_kg,
            box=row.box,
        )
        for row in design.deck_cargo
    ]
    return (*cargo, *_rails(design))


def tie_points(design: Design, deck: str) -> tuple[Point3, ...]:
    """Return where the bolts of a deck's rails stand. [mm]."""
    return tuple(
        at
        for rail in _rails_of(design, deck)
        for joint in _joints(design, deck, rail)
        for at in _bolts(design, joint)
    )


def lashings(design: Design, deck: str = "") -> tuple[tuple[Point3, Point3], ...]:
    """Return each strap as a line from the cargo to its point; all decks' when none is named."""
    return tuple(
        line
        for row in design.deck_cargo
        if row.straps and deck in {"", row.deck}
        for line in _straps(design, row)
    )


def box_corners(box: Box) -> tuple[Point3, ...]:
    """Return the eight corners of a box. [mm]."""
    x, y, z = ((side.low, side.high) for side in (box.x, box.y, box.z))
    return tuple(product(x, y, z))


# Rails -------------------------------------------------------------------------------------------


def _rails(design: Design) -> Iterator[StandIn]:
    for deck in design.job.decks:
        for rail in deck.rails:
            for n, joint in enumerate(_joints(design, deck.name, rail), start=1):
                box = _rail_box(design, rail, joint)
                if box is not None:
                    yield StandIn(
                        id=f"{deck.name}/{rail.name}/{n}",
                        kind="rail",
                        deck=deck.name,
                        what=rail.name,
                        mass_kg=0.0,
                        box=box,
                    )


def _rails_of(design: Design, deck: str) -> tuple[DeckRail, ...]:
    return next((d.rails for d in design.job.decks if d.name == deck), ())


def _joints(design: Design, deck: str, rail: DeckRail) -> Iterator[Joint]:
    """Yield the joints of a rail: one on each piece of the deck that it lies on."""
    said = f"{rail.name} of {deck}"
    yield from (j for j in design.joints if j.kind == "rail" and j.note == said)


def _bolts(design: Design, joint: Joint) -> list[Point3]:
    return [f.at for f in design.fixings if f.kind == "bolt" and f.joint == joint.id]


def _rail_box(design: Design, rail: DeckRail, joint: Joint) -> Box | None:
    """Return a rail on one piece of a deck, between that piece's ends."""
    bolts = _bolts(design, joint)
    if not bolts:
        return None
    piece = design.placed_by_id(joint.parts[0])
    ends = (piece.origin, piece.point(piece.length, piece.width, piece.thickness))
    along = 0 if rail.side in {"left", "right"} else 1
    low, high = sorted(end[along] for end in ends)
    run = Span(low=low + _OFF_END, high=high - _OFF_END)
    middle, top = bolts[0][1 - along], max(end[2] for end in ends)
    side = Span(low=middle - _RAIL[0] / 2.0, high=middle + _RAIL[0] / 2.0)
    x, y = (run, side) if along == 0 else (side, run)
    return Box(x=x, y=y, z=Span(low=top, high=top + _RAIL[1]))


# Straps ------------------------------------------------------------------------------------------


def _straps(design: Design, row: DeckCargo) -> Iterator[tuple[Point3, Point3]]:
    points = _rail_points(design, row) or _anchor_points(design, row)
    for n in range(row.straps):
        if points:
            to = points[n % len(points)]
            x, y = (_start(side, at) for side, at in zip((row.box.x, row.box.y), to, strict=False))
            yield (x, y, row.box.z.high), to
        else:
            yield _to_ring(design, row, _CORNERS[n % len(_CORNERS)])


def _start(side: Span, at: float) -> float:
    """Return where a strap starts along one side: the near end, or the far one beside it."""
    if not side.low < at < side.high:
        return min(side.high, max(side.low, at))
    return side.low if at >= side.middle else side.high


def _anchor_points(design: Design, row: DeckCargo) -> list[Point3]:
    named: list[Anchor] = [a for a in design.job.bay.anchors if a.what in row.tied_to]
    return [(anchor.x, anchor.y, anchor.z) for anchor in named]


def _rail_points(design: Design, row: DeckCargo) -> list[Point3]:
    """Return the points of rails that a thing is tied to: beyond its ends, two on each rail."""
    first: list[Point3] = []
    second: list[Point3] = []
    for rail in _rails_of(design, row.deck):
        bolts = [at for j in _joints(design, row.deck, rail) for at in _bolts(design, j)]
        if rail.name in row.tied_to and bolts:
            low, high = _beyond(row.box, rail, bolts)
            first.append(low)
            second.append(high)
    return [*first, *second]


def _beyond(box: Box, rail: DeckRail, bolts: list[Point3]) -> tuple[Point3, Point3]:
    """Return the places on a rail beyond either end of a thing, as far as the rail stands off."""
    along = 0 if rail.side in {"left", "right"} else 1
    own, beside = (box.x, box.y) if along == 0 else (box.y, box.x)
    across = bolts[0][1 - along]
    off = max(_RUNS_OUT, beside.low - across, across - beside.high)
    least, most = min(b[along] for b in bolts), max(b[along] for b in bolts)
    ends = [min(max(at, least), most) for at in (own.low - off, own.high + off)]
    top = box.z.low + _RAIL[1]
    a, b = ((at, across, top) if along == 0 else (across, at, top) for at in ends)
    return a, b


def _to_ring(design: Design, row: DeckCargo, corner: Point2) -> tuple[Point3, Point3]:
    """Return a strap from a corner to a ring: half way between the sides, half way down."""
    box = row.box
    out = box.z.size / sqrt(2.0)
    (low_x, high_x), (low_y, high_y) = _outline(design, row.deck)
    x = box.x.high if corner[0] > 0.0 else box.x.low
    y = box.y.high if corner[1] > 0.0 else box.y.low
    ring_x = min(max(x + corner[0] * out, low_x + _RING_EDGE), high_x - _RING_EDGE)
    ring_y = min(max(y + corner[1] * out, low_y + _RING_EDGE), high_y - _RING_EDGE)
    return (x, y, box.z.high), (ring_x, ring_y, box.z.low)


def _outline(design: Design, deck: str) -> tuple[Point2, Point2]:
    """Return a deck's extent along and across, its pieces together. [mm]."""
    pieces = [p for p in design.placed if p.role == "deck" and p.block == deck]
    ends = [p.point(u, v, 0.0) for p in pieces for u in (0.0, p.length) for v in (0.0, p.width)]
    xs, ys = [end[0] for end in ends], [end[1] for end in ends]
    return (min(xs), max(xs)), (min(ys), max(ys))
