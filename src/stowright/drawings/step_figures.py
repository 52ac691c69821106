"""A figure for each step: what is new stands out, what was there is light, arrows show the way."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

import numpy as np

from stowright.drawings.explode import piece_corners
from stowright.drawings.fitting import fitting_moves
from stowright.drawings.ghost import ghost_edges
from stowright.drawings.isometric import (
    ViewFrom,
    assembled,
    camera_for,
    labelled,
    marks_of_pieces,
    shifted,
)
from stowright.drawings.motions import placed_matrix
from stowright.drawings.picture import Actor, Paper, Picture, picture
from stowright.drawings.scene import Item, Scene
from stowright.drawings.step_actions import action_shot
from stowright.drawings.step_arrows import Going, going_arrows
from stowright.drawings.step_shots import drawn_shot
from stowright.drawings.step_sketches import caliper_sketch, weighing_sketch
from stowright.errors import UnknownNameError
from stowright.model.design import Design
from stowright.model.geometry import Point3
from stowright.model.making import Step
from stowright.model.part import PlacedPart

__all__ = ["step_figure", "step_scenes"]

#: These are laid out where they belong, on the bay's floor.
_LAID = frozenset({"packer", "floor-bearer", "side-packing"})
#: The most that a figure takes, and one that shows the whole unit apart. [mm]
_SIZE = (120.0, 90.0)
_SIZES = {
    "packers": (150.0, 130.0),
    "modules": (165.0, 95.0),
    "install": (165.0, 105.0),
    "finish": (120.0, 55.0),
    "machine": (120.0, 70.0),
}


def step_figure(
    design: Design,
    *,
    new_ids: Collection[str],
    present_ids: Collection[str],
    view: ViewFrom = "auto",
    bay: bool = False,
    named: Collection[str] | None = None,
    width_mm: float = 120.0,
    height_mm: float = 90.0,
    name: str = "step",
    title: str = "",
) -> Scene:
    """Return the figure of a step.

    Args:
        design: The design.
        new_ids: Pieces that the step puts on; they stand off their place, each with an arrow.
        present_ids: Pieces that are there already.
        view: Where the eye stands.
        bay: Whether the bay is drawn around it, thin.
        named: The new pieces that get balloons; all of them when not given.
        width_mm: The most that it may take across. [mm]
        height_mm: The most that it may take upwards. [mm]
        name: File name without its ending.
        title: In words; empty takes the names of the new pieces.

    Raises:
        UnknownNameError: For a view or a piece that is not known.
    """
    _require_known(design, (*new_ids, *present_ids))
    camera = camera_for(design, view, blocks={p.block for p in design.placed if p.id in new_ids})
    moves = fitting_moves(design, new_ids, present_ids)
    new = [p for p in design.placed if p.id in moves]
    old = [p for p in design.placed if p.id in present_ids and p.id not in moves]
    actors = [_actor(design, p, (0.0, 0.0, 0.0), is_new=False) for p in old]
    actors += [_actor(design, p, moves[p.id], is_new=True) for p in new]
    ghost = ghost_edges(design.job.bay, camera) if bay else None

    def draw(paper: Paper) -> Picture:
        return picture(actors, camera, paper, ghost=ghost)

    def arrows(pic: Picture) -> Sequence[Item]:
        return tuple(going_arrows(pic, _going(new, moves)))

    return labelled(
        [draw],
        marks_of_pieces(design, new_ids if named is None else named),
        size=(width_mm, height_mm),
        name=name,
        title=title or ", ".join(dict.fromkeys(design.part(p.mark).name for p in new)),
        more=arrows,
    )


def step_scenes(
    design: Design, steps: Sequence[Step], *, most: tuple[float, float] = (200.0, 200.0)
) -> tuple[Scene, ...]:
    """Return the figures that the steps name, in their order.

    A carcass is shown by itself while it is built, and so is a drawer's box; from the install
    on, everything that is there is shown. A step that puts nothing on shows what it acts on.

    Args:
        design: The design.
        steps: Its steps.
        most: The most that a figure may take where the sheet is small. [mm]
    """
    there: list[str] = []
    scenes = []
    for step in steps:
        new = [piece for part in step.parts if part.first for piece in part.placed]
        if step.figure:
            scenes.append(_scene_of(design, step, new, there, most))
        there += new
    return tuple(scenes)


def _scene_of(
    design: Design,
    step: Step,
    new: Sequence[str],
    there: Sequence[str],
    most: tuple[float, float],
) -> Scene:
    """Return the figure of a step: what it does, what it puts on, or the unit as it stands."""
    if (step.kind, step.about) == ("cut", "caliper"):
        inches = design.job.units == "in"
        return caliper_sketch(name=step.figure, title=step.title, inches=inches)
    if step.kind == "weigh":
        roofed = design.job.bay.kind in {"van", "wagon"}
        return weighing_sketch(name=step.figure, title=step.title, roofed=roofed)
    if step.kind == "drawers-in":
        return _hung(design, step, there, most)
    size = _within(_SIZES.get(step.kind, _SIZE), most)
    shot = action_shot(design, step, there)
    if shot is not None:
        return drawn_shot(shot, size=size, name=step.figure, title=step.title)
    if new:
        return _put_on(design, step, new, there, most)
    width, height = _within(_SIZE, most)
    scene = assembled(design, bay=True, width_mm=width, height_mm=height, name=step.figure)
    return replace(scene, title=step.title)


def _within(size: tuple[float, float], most: tuple[float, float]) -> tuple[float, float]:
    return min(size[0], most[0]), min(size[1], most[1])


def _put_on(
    design: Design,
    step: Step,
    new: Sequence[str],
    there: Sequence[str],
    most: tuple[float, float],
) -> Scene:
    width, height = _within(_SIZE, most)
    by_id = {placed.id: placed for placed in design.placed}
    laid = all(by_id[piece].role in _LAID for piece in new)
    return step_figure(
        design,
        new_ids=new,
        present_ids=() if laid else _around(new, there, by_id),
        view=_view_of([by_id[piece] for piece in new]),
        bay=laid,
        width_mm=width,
        height_mm=height,
        name=step.figure,
        title=step.title,
    )


def _hung(design: Design, step: Step, there: Sequence[str], most: tuple[float, float]) -> Scene:
    """Return the unit with its drawers before their openings, each named by its front."""
    slides = {m.body for m in design.motions if m.kind == "slide"}
    boxes = [p for p in design.placed if p.body in slides and p.id in there]
    fronts = [p.id for p in boxes if p.role == "drawer-front"]
    moving = {p.id for p in boxes}
    width, height = _within(_SIZE, most)
    return step_figure(
        design,
        new_ids=sorted(moving),
        present_ids=[piece for piece in there if piece not in moving],
        named=fronts or sorted(moving),
        width_mm=width,
        height_mm=height,
        name=step.figure,
        title=step.title,
    )


def _view_of(new: Sequence[PlacedPart]) -> ViewFrom:
    """Wings are looked at from their own side, all else as the block faces."""
    if all(placed.role.startswith("wing") for placed in new):
        middle = float(np.mean([piece_corners(placed)[:, 1].mean() for placed in new]))
        return "tail-left" if middle > 0.0 else "tail-right"
    return "auto"


def _around(
    new: Sequence[str], there: Sequence[str], by_id: dict[str, PlacedPart]
) -> tuple[str, ...]:
    """Return what is shown with the new pieces: their own box or carcass, or everything."""
    openings = {by_id[piece].opening for piece in new}
    modules = {(by_id[piece].block, by_id[piece].module) for piece in new}
    if len(openings) == 1 and "" not in openings:
        return tuple(piece for piece in there if by_id[piece].opening in openings) or (
            _carcass(new, there, by_id) if _needs_carcass(new, by_id) else ()
        )
    if len(modules) == 1 and all(module for _, module in modules):
        return _carcass(new, there, by_id)
    return tuple(there)


def _needs_carcass(new: Sequence[str], by_id: dict[str, PlacedPart]) -> bool:
    """A door or a blank alone says nothing: it is shown on its carcass."""
    return all(by_id[piece].role in {"door", "blank"} for piece in new)


def _carcass(
    new: Sequence[str], there: Sequence[str], by_id: dict[str, PlacedPart]
) -> tuple[str, ...]:
    modules = {(by_id[piece].block, by_id[piece].module) for piece in new}
    return tuple(
        piece
        for piece in there
        if (by_id[piece].block, by_id[piece].module) in modules and not by_id[piece].opening
    )


def _require_known(design: Design, ids: Collection[str]) -> None:
    known = {placed.id for placed in design.placed}
    for piece in ids:
        if piece not in known:
            raise UnknownNameError("piece", piece)


def _actor(design: Design, placed: PlacedPart, move: Point3, *, is_new: bool) -> Actor:
    return Actor(
        id=placed.id,
        part=design.part(placed.mark),
        matrix=shifted(placed_matrix(placed, {}), move),
        look="new" if is_new else "old",
    )


def _going(new: Sequence[PlacedPart], moves: dict[str, Point3]) -> tuple[Going, ...]:
    """Return what moves: each fixed piece by itself, the pieces of a box together."""
    groups: dict[tuple[str, Point3], list[PlacedPart]] = {}
    for placed in new:
        about = placed.id if placed.body == "fixed" else placed.body
        groups.setdefault((about, moves[placed.id]), []).append(placed)
    return tuple(
        (np.concatenate([piece_corners(piece) for piece in members]) + np.array(move), move)
        for (_, move), members in groups.items()
    )
