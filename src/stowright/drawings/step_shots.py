"""A figure of a step as plain data: what is shown, what goes where, what is read; then drawn."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from stowright.drawings.isometric import labelled, shifted
from stowright.drawings.motions import placed_matrix
from stowright.drawings.picture import Actor, Look, Paper, Picture, picture
from stowright.drawings.scene import Item, Line, Polyline, Scene
from stowright.drawings.sight import Camera
from stowright.drawings.stand_ins import actor_corners
from stowright.drawings.step_arrows import Going, going_arrows, pushing_arrow, reading_arrow
from stowright.model.design import Design
from stowright.model.geometry import Point3

__all__ = ["Shot", "drawn_shot", "going_of", "pieces_as"]

type Run = tuple[Point3, ...]

_CROSS = 0.8


@dataclass(frozen=True, kw_only=True)
class Shot:
    """What a step's figure shows.

    Attributes:
        camera: The view.
        actors: The bodies, where they are drawn.
        marks: For each balloon's text the ids it may point to.
        going: What moves, each with an arrow from its leading side.
        pushed: What is pushed in lengthwise: its arrow stands behind it.
        readings: Pairs of points that something is read between.
        links: Thin centre lines.
        sealed: Edges in the line of edges to seal.
        crosses: Points that get a small cross: middles of holes.
        dashed: Ids whose hidden edges are shown dashed.
        ghost: Lines of the bay, e × 2 × 3.
        words: What the figure shows, where its title alone does not tell.
    """

    camera: Camera
    actors: tuple[Actor, ...]
    marks: Mapping[str, Sequence[str]] = field(default_factory=dict)
    going: tuple[Going, ...] = ()
    pushed: tuple[Going, ...] = ()
    readings: tuple[tuple[Point3, Point3], ...] = ()
    links: tuple[Run, ...] = ()
    sealed: tuple[Run, ...] = ()
    crosses: Run = ()
    dashed: tuple[str, ...] = ()
    ghost: NDArray[np.float64] | None = None
    words: str = ""


def drawn_shot(shot: Shot, *, size: tuple[float, float], name: str, title: str) -> Scene:
    """Return a shot's figure, as large as its paper allows.

    Args:
        shot: What is shown.
        size: The most that it may take. [mm]
        name: File name without its ending.
        title: In words.
    """

    def draw(paper: Paper) -> Picture:
        return picture(shot.actors, shot.camera, paper, ghost=shot.ghost)

    def more(pic: Picture) -> Sequence[Item]:
        return tuple(_on_top(shot, pic))

    said = f"{title}: {shot.words}" if shot.words else title
    return labelled([draw], shot.marks, size=size, name=name, title=said, more=more)


def _on_top(shot: Shot, pic: Picture) -> Iterator[Item]:
    yield from pic.dashed(shot.dashed)
    for run in shot.links:
        yield Polyline(points=tuple(pic.paper(p) for p in run), pen="centre")
    for run in shot.sealed:
        yield Polyline(points=tuple(pic.paper(p) for p in run), pen="treated")
    for x, y in (pic.paper(p) for p in shot.crosses):
        yield Line(start=(x - _CROSS, y), end=(x + _CROSS, y), pen="edge")
        yield Line(start=(x, y - _CROSS), end=(x, y + _CROSS), pen="edge")
    for start, end in shot.readings:
        yield reading_arrow(pic, start, end)
    yield from going_arrows(pic, shot.going)
    for corners, move in shot.pushed:
        arrow = pushing_arrow(pic, corners, move)
        if arrow is not None:
            yield arrow


def pieces_as(
    design: Design, ids: Collection[str], look: Look, move: Point3 = (0.0, 0.0, 0.0)
) -> tuple[Actor, ...]:
    """Return placed pieces as bodies of one look, moved off their places. [mm]."""
    return tuple(
        Actor(
            id=p.id,
            part=design.part(p.mark),
            matrix=shifted(placed_matrix(p, {}), move),
            look=look,
        )
        for p in design.placed
        if p.id in ids
    )


def going_of(actors: Sequence[Actor], move: Point3) -> Going:
    """Return bodies that move together, drawn this far off their places. [mm]."""
    return np.concatenate([actor_corners(actor) for actor in actors]), move
