"""Figures of steps that put no part on: runners, readings, joining, anchoring, hanging, sealing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from stowright.drawings.ghost import ghost_edges
from stowright.drawings.isometric import camera_for, marks_of_pieces, shifted
from stowright.drawings.picture import Actor
from stowright.drawings.sight import Camera
from stowright.drawings.solids import Matrix
from stowright.drawings.stand_ins import bolt_actors, member_actors
from stowright.drawings.step_arrows import Going
from stowright.drawings.step_shots import Shot, going_of, pieces_as
from stowright.model.design import BlockDesign, Design, ModuleDesign, OpeningDesign
from stowright.model.geometry import Point3
from stowright.model.making import Step
from stowright.model.part import Part, PlacedFixing

__all__ = ["action_shot"]

type Vector = NDArray[np.float64]
type Maker = Callable[[Design, Step, Sequence[str]], Shot | None]

#: A runner's member stands out by this share of its length before it is pushed in.
_DRAWN_OUT = 0.3
#: How far members stand off a box, and bolts off the floor. [mm]
_OFF_BOX, _OFF_FLOOR = 130.0, 170.0
#: How far modules stand apart, by their width, and how far they hang over their packers, by the
#: length and width that have to be seen past.
_APART, _OVER = 0.55, 0.32
_READ_FROM_FACE = 30.0
#: More balloons than this find no room round a figure.
_MOST_MARKS = 30
_TEXT_FREE = 60.0
#: How far the line of an edge to seal lies outside of it, by the part's larger size.
_SEAL_OFF = 0.05


def action_shot(design: Design, step: Step, there: Sequence[str]) -> Shot | None:
    """Return what the figure of a step shows that puts no part on; None for any other step.

    Args:
        design: The design.
        step: The step.
        there: Ids of the pieces that earlier steps put on.
    """
    maker = _MAKERS.get(step.kind)
    return None if maker is None else maker(design, step, there)


# Carcass and drawers -----------------------------------------------------------------------------


def _square(design: Design, step: Step, there: Sequence[str]) -> Shot | None:
    """Return the finished carcass, its diagonals at the face, an opening read at three places."""
    block, module = _home(design, step.about)
    if block is None or module is None:
        return None
    carcass = _carcass(design, module, there)
    across, inward, up = (np.array(axis) for axis in block.axes)
    middle = np.array(module.box.centre) - inward * module.depth / 2.0
    corners = [
        middle + across * sx * module.width / 2.0 + up * sz * module.height / 2.0
        for sx, sz in ((-1, -1), (1, 1), (-1, 1), (1, -1))
    ]
    points = [_point(corner) for corner in corners]
    first = next((o for o in block.openings if o.name in module.openings), None)
    return Shot(
        camera=camera_for(design, blocks={block.name}),
        actors=pieces_as(design, carcass, "old"),
        marks=marks_of_pieces(design, _uprights(design, carcass)),
        readings=(
            (points[0], points[1]),
            (points[2], points[3]),
            *(_across(block, first, 0.0, first.height / 2.0) if first is not None else ()),
        ),
        words="diagonals at the face, width at face, middle and back",
    )


def _runners(design: Design, step: Step, there: Sequence[str]) -> Shot | None:
    """Return the carcass with both cabinet members drawn out of it."""
    opening, block, module = _opening(design, step.about)
    members = member_actors(design, opening, "cabinet") if opening is not None else ()
    if opening is None or block is None or module is None or not members:
        return None
    length = members[0].part.length
    move = _point(-np.array(block.axes[1]) * _DRAWN_OUT * length)
    drawn = tuple(replace(a, matrix=shifted(a.matrix, move)) for a in members)
    carcass = _carcass(design, module, there)
    return Shot(
        camera=camera_for(design, blocks={block.name}),
        actors=(*pieces_as(design, carcass, "old"), *drawn),
        marks=_returning(design, step),
        pushed=tuple(going_of((actor,), move) for actor in drawn),
        dashed=tuple(actor.id for actor in drawn),
        words="pushed in from the face",
    )


def _between(design: Design, step: Step, there: Sequence[str]) -> Shot | None:
    """Return the carcass with its cabinet members and what is read between them."""
    opening, block, module = _opening(design, step.about)
    members = member_actors(design, opening, "cabinet") if opening is not None else ()
    if opening is None or block is None or module is None or opening.runner is None:
        return None
    carcass = _carcass(design, module, there)
    return Shot(
        camera=camera_for(design, blocks={block.name}),
        actors=(*pieces_as(design, carcass, "old"), *members),
        marks=marks_of_pieces(design, [b for b in opening.bounds[:2] if b in carcass]),
        readings=_across(
            block, opening, opening.runner.side_space, opening.runner.line, opening.runner.set_back
        ),
        dashed=tuple(actor.id for actor in members),
        words="at face, middle and back",
    )


def _members(design: Design, step: Step, there: Sequence[str]) -> Shot | None:
    """Return the box with its drawer members standing off."""
    opening, block, _ = _opening(design, step.about)
    members = member_actors(design, opening, "drawer") if opening is not None else ()
    if opening is None or block is None or not members:
        return None
    box = [p.id for p in design.placed if p.opening == opening.name and p.id in there]
    drawn, going = [], []
    for actor in members:
        move = _point(actor.matrix[:, 2] * _OFF_BOX)
        off = replace(actor, matrix=shifted(actor.matrix, move))
        drawn.append(off)
        going.append(going_of((off,), move))
    return Shot(
        camera=camera_for(design, blocks={block.name}),
        actors=(*pieces_as(design, box, "old"), *drawn),
        marks=_returning(design, step),
        going=tuple(going),
        dashed=tuple(actor.id for actor in drawn),
    )


def _across(
    block: BlockDesign, opening: OpeningDesign, in_by: float, up_by: float, start: float = 0.0
) -> tuple[tuple[Point3, Point3], ...]:
    """Return where an opening's width is read: at face, middle and back."""
    across, inward, up = (np.array(axis) for axis in block.axes)
    low, high = in_by, opening.width - in_by
    reach = opening.depth - _READ_FROM_FACE
    places = (start + _READ_FROM_FACE, (start + reach) / 2.0, reach)
    corner = np.array(opening.at) + up * up_by
    return tuple(
        (
            _point(corner + across * low + inward * deep),
            _point(corner + across * high + inward * deep),
        )
        for deep in places
    )


# Finish ------------------------------------------------------------------------------------------


def _pair(design: Design, _: Step, __: Sequence[str]) -> Shot | None:
    """Return a left and a right part side by side on the bench, good faces up, as a pair."""
    left = next((p for p in design.parts if p.hand == "left" and p.features), None)
    if left is None:
        left = max(design.parts, key=lambda p: len(p.features), default=None)
        return None if left is None else _bench(((left, 1.0),))
    right = next(
        (
            p
            for p in design.parts
            if p.hand == "right" and (p.role, p.block) == (left.role, left.block)
        ),
        None,
    )
    return _bench(((left, 1.0), (right, -1.0)) if right is not None else ((left, 1.0),))


def _bench(rows: Sequence[tuple[Part, float]]) -> Shot:
    """Return parts flat on the bench; the second lies mirrored beside the first."""
    actors, marks = [], {}
    crosses: list[Point3] = []
    for part, side in rows:
        along = np.array((1.0, 0.0, 0.0))
        over = np.array((0.0, side, 0.0))
        origin = np.array((0.0, side * _TEXT_FREE, 0.0))
        if not part.mirrored and side < 0.0:
            over, origin = -over, origin - np.array((0.0, part.width, 0.0))
        matrix: Matrix = np.column_stack([along, over, np.array((0.0, 0.0, 1.0)), origin])
        actors.append(Actor(id=part.mark, part=part, matrix=matrix, look="new"))
        marks[part.mark] = [part.mark]
        crosses += [
            _point(matrix @ np.array((*f.at, part.thickness, 1.0)))
            for f in part.features
            if f.face == "good" and len(f.size) == 1
        ]
    return Shot(
        camera=Camera(turn=225.0),
        actors=tuple(actors),
        marks=marks,
        crosses=tuple(crosses),
        words="good faces up, crosses are holes",
    )


def _seal(design: Design, _: Step, there: Sequence[str]) -> Shot | None:
    """Return a part that is there with its edges to seal in their line, just outside of them."""
    made = {p.mark for p in design.placed if p.id in there}
    parts = [part for part in design.parts if part.mark in made] or design.parts
    part = max(parts, key=lambda p: (len(p.edges), p.length * p.width), default=None)
    if part is None:
        return None
    shot = _bench(((part, 1.0),))
    matrix = shot.actors[0].matrix
    off = _SEAL_OFF * max(part.length, part.width)
    left, right = -off, part.length + off
    low, high = -off, part.width + off
    corners = {
        "u0": ((left, 0.0), (left, part.width)),
        "u1": ((right, 0.0), (right, part.width)),
        "v0": ((0.0, low), (part.length, low)),
        "v1": ((0.0, high), (part.length, high)),
    }
    runs = tuple(
        tuple(_point(matrix @ np.array((u, v, 0.0, 1.0))) for u, v in corners[edge])
        for edge in part.edges
    )
    return replace(
        shot, sealed=runs, crosses=(), words="the chain line shows edges to seal, here of one part"
    )


# In the vehicle ----------------------------------------------------------------------------------


def _stand(design: Design, step: Step, there: Sequence[str]) -> Shot | None:
    """Return the packers on the bay's floor and the modules above them, on their way down."""
    new = [piece for part in step.parts if part.first for piece in part.placed]
    modules = [m for block in design.blocks for m in block.modules]
    if not modules:
        return None
    wide = max(p.x.high for p in (m.box for m in modules)) - min(m.box.x.low for m in modules)
    deep = max(m.box.y.high for m in modules) - min(m.box.y.low for m in modules)
    move = (0.0, 0.0, _OVER * (wide + deep) + max(m.height for m in modules))
    actors = [*pieces_as(design, new, "new")]
    going: list[Going] = []
    for module in modules:
        shown = pieces_as(design, _carcass(design, module, there), "old", move)
        if shown:
            actors += shown
            going.append(going_of(shown, move))
    camera = camera_for(design)
    return Shot(
        camera=camera,
        actors=tuple(actors),
        marks=marks_of_pieces(design, new),
        going=tuple(going),
        ghost=ghost_edges(design.job.bay, camera),
    )


def _join(design: Design, step: Step, there: Sequence[str]) -> Shot | None:
    """Return the modules of a block apart, the bolts between them, arrows closing them up."""
    block = next((b for b in design.blocks if b.name == step.about), None)
    if block is None or len(block.modules) < 2:
        return None
    across = np.array(block.axes[0])
    gap = max(_APART * m.width for m in block.modules)
    actors: list[Actor] = []
    marks: dict[str, list[str]] = {}
    going: list[Going] = []
    for number, module in enumerate(block.modules):
        move = _point(across * gap * number)
        shown = pieces_as(design, _carcass(design, module, there), "new" if number else "old", move)
        actors += shown
        marks[module.name] = [actor.id for actor in shown]
        if number and shown:
            going.append(going_of(shown, move))
    bolts, links = _joining_bolts(design, block, step, gap)
    return Shot(
        camera=camera_for(design, blocks={block.name}),
        actors=(*actors, *bolts),
        marks=marks,
        going=tuple(going),
        links=links,
        words="by number, a line for each bolt",
    )


def _joining_bolts(
    design: Design, block: BlockDesign, step: Step, gap: float
) -> tuple[list[Actor], tuple[tuple[Point3, Point3], ...]]:
    """Return the bolts in the middle of the gaps that they close, and the line of each."""
    across = np.array(block.axes[0])
    middles = [float(np.array(m.box.centre) @ across) for m in block.modules]
    actors: list[Actor] = []
    links: list[tuple[Point3, Point3]] = []
    for bolt in _bolts(design, step):
        at = np.array(bolt.at)
        before = sum(middle < float(at @ across) for middle in middles) - 1
        low = across * gap * max(before, 0)
        actors += bolt_actors(bolt, _point(low + across * gap / 2.0))
        links.append((_point(at + low), _point(at + low + across * gap)))
    return actors, tuple(links)


def _anchored(design: Design, step: Step, there: Sequence[str]) -> Shot | None:
    """Return floors and packers only, and each anchor's bolt above its hole."""
    low = {"carcass-floor", "floor-rail", "packer", "floor-bearer"}
    pieces = [p.id for p in design.placed if p.role in low and p.id in there]
    bolts = {bolt.id: bolt for bolt in _bolts(design, step)}
    move = (0.0, 0.0, _OFF_FLOOR)
    actors: list[Actor] = []
    marks: dict[str, list[str]] = {}
    links: list[tuple[Point3, Point3]] = []
    for anchor in design.anchors:
        bolt = bolts.get(anchor.fixing)
        if bolt is None or anchor.surface != "floor":
            continue
        shown = bolt_actors(bolt, move)
        actors += shown
        marks[anchor.id] = [actor.id for actor in shown]
        x, y, z = bolt.at
        links.append(((x, y, z + _OFF_FLOOR), bolt.at))
    camera = camera_for(design)
    if not actors:
        return None
    unnamed = ""
    if len(marks) > _MOST_MARKS:
        marks, unnamed = {}, "; their names are in the plan of places"
    return Shot(
        camera=camera,
        actors=(*pieces_as(design, pieces, "old"), *actors),
        marks=marks,
        links=tuple(links),
        ghost=ghost_edges(design.job.bay, camera),
        words="floors and packers only, each anchor's bolt over its hole" + unnamed,
    )


def _bolts(design: Design, step: Step) -> list[PlacedFixing]:
    mine = {fixing for row in step.fixings for fixing in row.ids}
    return [f for f in design.fixings if f.id in mine and f.kind == "bolt"]


# Where things are --------------------------------------------------------------------------------


def _home(design: Design, about: str) -> tuple[BlockDesign | None, ModuleDesign | None]:
    """Return the block and the module of ``block/module``."""
    name, _, number = about.rpartition("/")
    block = next((b for b in design.blocks if b.name == name), None)
    modules = block.modules if block is not None else ()
    return block, next((m for m in modules if m.name == number), None)


def _opening(
    design: Design, name: str
) -> tuple[OpeningDesign | None, BlockDesign | None, ModuleDesign | None]:
    for block in design.blocks:
        for opening in block.openings:
            if opening.name == name:
                module = next((m for m in block.modules if m.name == opening.module), None)
                return opening, block, module
    return None, None, None


def _carcass(design: Design, module: ModuleDesign, there: Sequence[str]) -> list[str]:
    """Return a module's own pieces that are there: no drawers, no packers."""
    return [
        p.id
        for p in design.placed
        if (p.block, p.module) == (module.block, module.name) and not p.opening and p.id in there
    ]


def _uprights(design: Design, pieces: Sequence[str]) -> list[str]:
    upright = {"carcass-side", "partition"}
    return [p.id for p in design.placed if p.id in pieces and p.role in upright]


def _returning(design: Design, step: Step) -> dict[str, list[str]]:
    """Return the marks of the pieces that a step takes up again."""
    again = [piece for part in step.parts if not part.first for piece in part.placed]
    return marks_of_pieces(design, again)


def _point(vector: Vector) -> Point3:
    x, y, z = vector.tolist()
    return (x, y, z)


_MAKERS: dict[str, Maker] = {
    "machine": _pair,
    "check": _square,
    "runners": _runners,
    "drawer": _between,
    "members": _members,
    "finish": _seal,
    "packers": _stand,
    "modules": _join,
    "install": _anchored,
}
