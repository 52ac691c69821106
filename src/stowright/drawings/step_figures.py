"""A figure for each step: what is new stands out, what was there is light, arrows show the way."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from math import hypot

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon

from stowright.drawings.explode import piece_corners
from stowright.drawings.figures import marks_of
from stowright.drawings.fitting import fitting_moves
from stowright.drawings.ghost import ghost_edges
from stowright.drawings.isometric import (
    ViewFrom,
    camera_for,
    labelled,
    marks_of_pieces,
    shifted,
)
from stowright.drawings.motions import placed_matrix
from stowright.drawings.picture import Actor, Paper, Picture, picture
from stowright.drawings.scene import Arrow, Item, Region, Scene
from stowright.errors import UnknownNameError
from stowright.model.design import Design
from stowright.model.geometry import Point3
from stowright.model.making import Step
from stowright.model.part import PlacedPart

__all__ = ["step_figure", "step_scenes"]

type Vector = NDArray[np.float64]

#: Arrows longer than this are drawn from the piece this far towards its place. [mm on paper]
_LONGEST_ARROW = 13.0
_LEAST_ARROW = 3.0
_HEAD = 3.2
#: Where along a piece its arrow may start, as shares of its length from the middle.
_ALONG = (0.0, 0.2, -0.2, 0.35, -0.35, 0.45, -0.45)
#: These are laid out where they belong, on the bay's floor.
_LAID = frozenset({"packer", "floor-bearer", "side-packing"})


def step_figure(
    design: Design,
    *,
    new_ids: Collection[str],
    present_ids: Collection[str],
    view: ViewFrom = "auto",
    bay: bool = False,
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
        return tuple(_arrows(pic, new, moves))

    return labelled(
        [draw],
        marks_of_pieces(design, new_ids),
        size=(width_mm, height_mm),
        name=name,
        title=title or ", ".join(dict.fromkeys(design.part(p.mark).name for p in new)),
        more=arrows,
    )


def step_scenes(design: Design, steps: Sequence[Step]) -> tuple[Scene, ...]:
    """Return the figures that the steps name, in their order.

    A carcass is shown by itself while it is built, and so is a drawer's box; from the install
    on, everything that is there is shown.
    """
    by_id = {placed.id: placed for placed in design.placed}
    there: list[str] = []
    scenes = []
    for step in steps:
        new = [piece for part in step.parts if part.first for piece in part.placed]
        if step.figure and new:
            laid = all(by_id[piece].role in _LAID for piece in new)
            scenes.append(
                step_figure(
                    design,
                    new_ids=new,
                    present_ids=() if laid else _around(new, there, by_id),
                    view=_view_of([by_id[piece] for piece in new]),
                    bay=laid,
                    name=step.figure,
                    title=step.title,
                )
            )
        there += new
    return tuple(scenes)


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


def _arrows(pic: Picture, new: Sequence[PlacedPart], moves: dict[str, Point3]) -> Iterator[Arrow]:
    """Yield an arrow from each moved piece towards its place; a box that moves whole has one.

    Arrows that would lie on each other are moved along their pieces.
    """
    groups: dict[tuple[str, Point3], list[PlacedPart]] = {}
    for placed in new:
        about = placed.id if placed.body == "fixed" else placed.body
        groups.setdefault((about, moves[placed.id]), []).append(placed)
    taken: list[Polygon] = []
    for (_, move), members in groups.items():
        vector = np.array(move)
        if not vector.any():
            continue
        arrows = [_arrow(pic, start, vector) for start in _starts(members, vector)]
        shown = [(a, _outline(a)) for a in arrows if a is not None]
        free = [s for s in shown if not any(s[1].intersects(other) for other in taken)]
        for arrow, outline in (free or shown)[:1]:
            taken.append(outline.buffer(0.6))
            yield arrow


def _arrow(pic: Picture, start: Vector, move: Vector) -> Arrow | None:
    """Return the arrow that starts at a point of a moved piece; None when it is seen end-on."""
    tail, tip = pic.paper(_point(start)), pic.paper(_point(start - move))
    shown = hypot(tip[0] - tail[0], tip[1] - tail[1])
    if shown < _LEAST_ARROW:
        return None
    share = min(1.0, _LONGEST_ARROW / shown)
    tip = (tail[0] + share * (tip[0] - tail[0]), tail[1] + share * (tip[1] - tail[1]))
    return Arrow(tail=tail, tip=tip, style="block", size=_HEAD, pen="edge", fill="paper")


def _outline(arrow: Arrow) -> Polygon:
    return next(Polygon(m.outer) for m in marks_of(arrow) if isinstance(m, Region))


def _starts(members: Sequence[PlacedPart], move: Vector) -> Iterator[Vector]:
    """Yield points of the side that goes first on the way home: its middle, then others."""
    corners = np.concatenate([piece_corners(piece) for piece in members]) + move
    low, high = corners.min(axis=0), corners.max(axis=0)
    middle = (low + high) / 2.0
    home = -move / np.linalg.norm(move)
    front = middle + home * float(((corners - middle) @ home).max())
    along = np.where(np.abs(home) > 0.5, 0.0, high - low)
    longest = np.zeros(3)
    longest[int(np.argmax(along))] = float(along.max())
    for share in _ALONG:
        yield front + share * longest


def _point(vector: Vector) -> Point3:
    x, y, z = vector.tolist()
    return (x, y, z)
