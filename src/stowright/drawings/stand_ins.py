"""What is no part, in a picture: runner members, bolts and deck cargo as plain bodies in place.

Sizes along and across are the true ones where the design has them; a bolt's head and a nut are
drawn by its hole, as the trade's pictures do, since a picture in space is not measured.
"""

from __future__ import annotations

from math import cos, pi, sin

import numpy as np
from numpy.typing import NDArray

from stowright.drawings.deck_things import deck_things
from stowright.drawings.picture import Actor
from stowright.model.design import Design, OpeningDesign
from stowright.model.geometry import Point2, Point3
from stowright.model.part import Part, PlacedFixing

__all__ = ["actor_corners", "bolt_actors", "member_actors", "on_deck_actors"]

type Vector = NDArray[np.float64]

#: Thickness of the flange that a runner's screw heads stand on. [mm, common practice]
_FLANGE = 1.5
#: Head and nut by the diameter of the hole: across, and high.
_HEAD_WIDE, _HEAD_HIGH = 1.7, 0.6
_CORNERS = 8


def member_actors(design: Design, opening: OpeningDesign, member: str) -> tuple[Actor, ...]:
    """Return a drawer's runner members as bodies, the left one first; none without runners.

    Args:
        design: The design.
        opening: The opening that the runners belong to.
        member: ``cabinet`` or ``drawer``.
    """
    found = []
    for side in ("left", "right"):
        actor = _member(design, opening, side, member)
        found += [actor] if actor is not None else []
    return tuple(found)


def _member(design: Design, opening: OpeningDesign, side: str, member: str) -> Actor | None:
    fit, runner = opening.runner, f"{opening.name}/runner-{side}"
    bodies = {p.id: p.body for p in design.placed}
    mine = [
        f
        for f in design.fixings
        if runner in f.joins
        and f.kind in {"screw", "bolt"}
        and (opening.name in {bodies.get(j) for j in f.joins}) == (member == "drawer")
    ]
    if fit is None or not mine:
        return None
    block = next(b for b in design.blocks if b.name == opening.block)
    inward, out = np.array(block.axes[1]), -np.array(mine[0].direction)
    third = np.cross(out, inward)
    places = np.array([f.at for f in mine]) @ third
    middle = float(places.min() + places.max()) / 2.0
    origin = (
        inward * (float(np.dot(opening.at, inward)) + fit.set_back)
        + third * (middle - fit.runner.section / 2.0)
        + out * (float(np.dot(mine[0].at, out)) - _FLANGE)
    )
    size = (fit.size.length, fit.runner.section, fit.runner.thickness / 2.0)
    return Actor(
        id=f"{runner}/{member}",
        part=_body(_rectangle(size[0], size[1]), size),
        matrix=np.column_stack([inward, third, out, origin]),
        look="fitted",
    )


def bolt_actors(fixing: PlacedFixing, move: Point3) -> tuple[Actor, ...]:
    """Return a bolt as two bodies, moved: shank and head.

    Args:
        fixing: The bolt.
        move: How far off its place. [mm]
    """
    down = np.array(fixing.direction)
    side = np.array((1.0, 0.0, 0.0) if abs(down[0]) < 0.5 else (0.0, 1.0, 0.0))
    other = np.cross(down, side)
    at = np.array(fixing.at) + np.array(move)
    hole = fixing.pilot or 8.0
    across, high = _HEAD_WIDE * hole, _HEAD_HIGH * hole
    bodies = (
        (f"{fixing.id}/shank", 0.45 * hole, fixing.length, at),
        (f"{fixing.id}/head", across / 2.0, high, at - down * high),
    )
    return tuple(
        Actor(
            id=name,
            part=_body(_ring(radius), (2.0 * radius, 2.0 * radius, length)),
            matrix=np.column_stack([side, other, down, start - radius * (side + other)]),
            look="fitted",
        )
        for name, radius, length, start in bodies
    )


def on_deck_actors(design: Design) -> tuple[Actor, ...]:
    """Return what stands on decks as plain bodies: cargo light, rails of metal."""
    return tuple(
        Actor(
            id=thing.id,
            part=_body(_rectangle(*thing.box.size[:2]), thing.box.size),
            matrix=np.column_stack(
                [np.eye(3), (thing.box.x.low, thing.box.y.low, thing.box.z.low)]
            ),
            look="old" if thing.kind == "cargo" else "metal",
        )
        for thing in deck_things(design)
    )


def actor_corners(actor: Actor) -> Vector:
    """Return the eight corners of a body's box in the bay, 8 × 3. [mm]."""
    size = (actor.part.length, actor.part.width, actor.part.thickness)
    local = np.array([[(k >> i & 1) * size[i] for i in range(3)] for k in range(8)])
    return np.asarray(local @ actor.matrix[:, :3].T + actor.matrix[:, 3])


def _rectangle(length: float, width: float) -> tuple[Point2, ...]:
    return ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))


def _ring(radius: float) -> tuple[Point2, ...]:
    turns = [2.0 * pi * k / _CORNERS for k in range(_CORNERS)]
    return tuple((radius + radius * cos(a), radius + radius * sin(a)) for a in turns)


def _body(outline: tuple[Point2, ...], size: Point3) -> Part:
    """Return a plain body as a part: only its shape counts in a picture."""
    length, width, thickness = size
    return Part(
        mark="",
        name="",
        role="hardware",
        block="",
        module="",
        material="",
        length=length,
        width=width,
        thickness=thickness,
        outline=outline,
        quantity=1,
        grain="free",
        hand="",
        mirrored=False,
        release="A",
        waits_for="",
        edges=(),
        front_edge="",
        features=(),
        mass_kg=0.0,
        origin_note="",
    )
