"""Isometric figures of the whole unit: assembled, exploded, and one for each step of the work.

True isometric views (ISO 5456-3: all three axes equally short). Not to scale on paper.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from shapely import Polygon

from stowright.drawings.balloons import Spot, balloon_radius, place_balloons
from stowright.drawings.deck_things import lashings
from stowright.drawings.explode import exploded_offsets
from stowright.drawings.extent import bounds, moved
from stowright.drawings.figures import marks_of
from stowright.drawings.ghost import ghost_edges
from stowright.drawings.motions import Open, body_poses, placed_matrix
from stowright.drawings.picture import Actor, Paper, Picture, picture
from stowright.drawings.scene import Item, Region, Scene, View
from stowright.drawings.sight import Camera
from stowright.drawings.solids import Matrix
from stowright.drawings.spots import label_spots, middle_spot
from stowright.drawings.stand_ins import on_deck_actors
from stowright.errors import UnknownNameError
from stowright.model.design import Design
from stowright.model.geometry import Point3
from stowright.model.part import PlacedPart

__all__ = [
    "ViewFrom",
    "assembled",
    "camera_for",
    "exploded",
    "exploded_set",
    "labelled",
    "marks_of_pieces",
    "shifted",
]

#: Where the eye stands: behind the tail or before the cab end, to the right or the left of it.
type ViewFrom = Literal["auto", "tail-right", "tail-left", "cab-right", "cab-left"]

_TURNS: dict[str, float] = {
    "tail-right": 225.0,
    "tail-left": 135.0,
    "cab-right": 315.0,
    "cab-left": 45.0,
}
_MARGIN = 2.0
#: How far pieces are moved apart; the second is tried when a mark would not be seen at all.
_FACTORS = (1.0, 1.3)
#: What rings of balloons take off the paper besides their own size, each side. [mm]
_RIM = 6.0
#: More different marks than this make a figure too crowded: it is split by blocks.
_MOST_MARKS = 34
#: More different marks than this in one block split it too: nobody could follow its leaders.
_MOST_OF_A_BLOCK = 44


def camera_for(design: Design, view: ViewFrom = "auto", *, blocks: Collection[str] = ()) -> Camera:
    """Return the camera of a view; ``auto`` looks at the faces of most blocks.

    Args:
        design: The design.
        view: Where the eye stands.
        blocks: The blocks that count for ``auto``; all when none of them is known.

    Raises:
        UnknownNameError: For a view that is not known.
    """
    if view == "auto":
        faces = [b.face for b in design.blocks if b.name in blocks]
        faces = faces or [b.face for b in design.blocks]
        view = "tail-left" if faces.count("left") > faces.count("right") else "tail-right"
    if view not in _TURNS:
        raise UnknownNameError("view", view, tuple(_TURNS))
    return Camera(turn=_TURNS[view])


def assembled(
    design: Design,
    *,
    view: ViewFrom = "auto",
    open_by: Open = 0.0,
    bay: bool = False,
    width_mm: float = 170.0,
    height_mm: float = 130.0,
    name: str = "assembled",
) -> Scene:
    """Return a picture of the unit put together, with what stands on its decks and the straps.

    Args:
        design: The design.
        view: Where the eye stands.
        open_by: Fraction of the travel that bodies are open by: one for all or one for each.
        bay: Whether floor, arches and far walls of the bay are drawn around it, thin.
        width_mm: The most that it may take across. [mm]
        height_mm: The most that it may take upwards. [mm]
        name: File name without its ending.

    Raises:
        OutOfRangeError: When a fraction is not within 0 and 1.
        UnknownNameError: For a view that is not known.
    """
    camera = camera_for(design, view)
    poses = body_poses(design, open_by)
    actors = [_actor(design, p, placed_matrix(p, poses)) for p in design.placed]
    actors += on_deck_actors(design)
    straps = np.array(lashings(design), dtype=np.float64).reshape(-1, 2, 3)
    ghost = np.concatenate([ghost_edges(design.job.bay, camera), straps]) if bay else straps
    pic = picture(
        actors, camera, Paper(width=width_mm, height=height_mm, margin=_MARGIN), ghost=ghost
    )
    return _scene(name, "The unit, put together", pic.items, (pic.width, pic.height))


def exploded(
    design: Design,
    *,
    view: ViewFrom = "auto",
    blocks: Sequence[str] = (),
    ids: Collection[str] = (),
    balloons: bool = True,
    width_mm: float = 170.0,
    height_mm: float = 225.0,
    name: str = "exploded",
    title: str = "",
) -> Scene:
    """Return the unit with its pieces moved apart, a balloon for each different part.

    Args:
        design: The design.
        view: Where the eye stands.
        blocks: Only pieces of these blocks (or decks); all when empty.
        ids: Only these of their pieces; all when empty.
        balloons: Whether marks are shown.
        width_mm: The most that it may take across. [mm]
        height_mm: The most that it may take upwards. [mm]
        name: File name without its ending.
        title: In words; empty names the blocks.

    Raises:
        UnknownNameError: For a view that is not known.
    """
    camera = camera_for(design, view, blocks=blocks)
    shown = [p for p in design.placed if not blocks or p.block in blocks]
    shown = [p for p in shown if not ids or p.id in ids]
    marks = marks_of_pieces(design, (p.id for p in shown)) if balloons else {}
    said = title or (f"Parts of {', '.join(blocks)}" if blocks else "All parts")

    def drawing(factor: float) -> Callable[[Paper], Picture]:
        def draw(paper: Paper) -> Picture:
            moves = exploded_offsets(design, factor=factor)
            actors = [_actor(design, p, shifted(placed_matrix(p, {}), moves[p.id])) for p in shown]
            return picture(actors, camera, paper)

        return draw

    draws = [drawing(factor) for factor in _FACTORS]
    return labelled(draws, marks, size=(width_mm, height_mm), name=name, title=said)


def exploded_set(
    design: Design, *, width_mm: float = 170.0, height_mm: float = 225.0
) -> tuple[Scene, ...]:
    """Return exploded views of everything: one figure, or one for each block when it is crowded.

    What lies on top of the blocks then has a figure of its own. A block that is crowded by itself
    has one for each module, and a module that is, one for its carcass and one for what moves.
    """
    names = list(dict.fromkeys(p.block for p in design.placed))
    few = len(design.parts) <= _MOST_MARKS
    if few and (len(names) < 2 or len(design.blocks) < 2):
        return (exploded(design, width_mm=width_mm, height_mm=height_mm),)
    return tuple(
        exploded(
            design,
            blocks=(block,),
            ids=[p.id for p in pieces],
            width_mm=width_mm,
            height_mm=height_mm,
            name=f"exploded-{number}",
            title=f"Parts of {block}{more}",
        )
        for number, (block, more, pieces) in enumerate(_groups(design, names), start=1)
    )


type _Pieces = list[PlacedPart]


def _groups(design: Design, names: Sequence[str]) -> Iterator[tuple[str, str, _Pieces]]:
    """Yield what is shown together: its block, what else tells it in words, and its pieces."""
    for block in names:
        pieces = [p for p in design.placed if p.block == block]
        modules = sorted({p.module for p in pieces if p.module}, key=lambda m: (len(m), m))
        if not _crowded(pieces):
            yield block, "", pieces
        elif len(modules) > 1:
            for module in modules:
                own = [p for p in pieces if p.module == module]
                yield from _halves(block, f", module {module}", own)
            rest = [p for p in pieces if not p.module]
            if rest:
                yield block, ", between and under its modules", rest
        else:
            yield from _halves(block, "", pieces)


def _halves(block: str, more: str, pieces: _Pieces) -> Iterator[tuple[str, str, _Pieces]]:
    """Yield a module whole, or its carcass and what moves in it where it is crowded."""
    moving = [p for p in pieces if p.body != "fixed"]
    fixed = [p for p in pieces if p.body == "fixed"]
    if not _crowded(pieces) or not moving or not fixed:
        yield block, more, pieces
        return
    yield block, f"{more}: carcass", fixed
    yield block, f"{more}: what moves", moving


def _crowded(pieces: _Pieces) -> bool:
    return len({p.mark for p in pieces}) > _MOST_OF_A_BLOCK


def labelled(
    draws: Sequence[Callable[[Paper], Picture]],
    marks: Mapping[str, Sequence[str]],
    *,
    size: tuple[float, float],
    name: str,
    title: str,
    more: Callable[[Picture], Sequence[Item]] | None = None,
) -> Scene:
    """Return a picture with balloons around it, as large as its paper allows.

    Args:
        draws: Each makes the picture for a paper; the first that shows every mark is taken, or
            the one that shows the most: what is hidden in it is drawn dashed.
        marks: For each balloon's text the ids of the pieces it may point to.
        size: The most that it may take. [mm]
        name: File name without its ending.
        title: In words.
        more: Makes further items on top of the picture (arrows).
    """
    rim = 2.0 * balloon_radius(tuple(marks)) + _RIM if marks else _MARGIN
    paper = Paper(width=size[0] - 2.0, height=size[1] - 2.0, margin=rim)
    best: _Labels | None = None
    for draw in draws:
        found = _labels(draw(paper), marks, more)
        if best is None or len(found.unseen) < len(best.unseen):
            best = found
        if not best.unseen:
            break
    if best is None:
        return _scene(name, title, (), size)
    unseen = {text: [middle_spot(best.pic, marks[text])] for text in best.unseen}
    rings = place_balloons({**best.spots, **unseen}, best.pic.hull, _room(best.pic, size))
    dashed = best.pic.dashed({piece for text in best.unseen for piece in marks[text]})
    items = (*best.pic.items, *dashed, *best.extra, *rings)
    box = bounds(items)
    items = moved(items, x=1.0 - box.left, y=1.0 - box.bottom)
    return _scene(name, title, items, (box.width + 2.0, box.height + 2.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Labels:
    """A picture with what may be named in it."""

    pic: Picture
    extra: tuple[Item, ...]
    spots: dict[str, list[Spot]]
    unseen: tuple[str, ...]


def _labels(
    pic: Picture,
    marks: Mapping[str, Sequence[str]],
    more: Callable[[Picture], Sequence[Item]] | None,
) -> _Labels:
    extra = tuple(more(pic)) if more is not None else ()
    avoid = [shape for item in extra for shape in _shapes(item)]
    spots = label_spots(pic, marks, avoid=avoid)
    unseen = tuple(text for text in marks if text not in spots)
    return _Labels(pic=pic, extra=extra, spots=spots, unseen=unseen)


def _room(pic: Picture, size: tuple[float, float]) -> Polygon:
    """Return all the paper there is, the picture in its middle."""
    x, y = pic.width / 2.0, pic.height / 2.0
    half_width, half_height = size[0] / 2.0 - 1.0, size[1] / 2.0 - 1.0
    return shapely.box(x - half_width, y - half_height, x + half_width, y + half_height)


def _shapes(item: Item) -> list[Polygon]:
    return [Polygon(mark.outer) for mark in marks_of(item) if isinstance(mark, Region)]


def marks_of_pieces(design: Design, ids: Iterable[str]) -> dict[str, list[str]]:
    """Return the ids of pieces by mark."""
    wanted = set(ids)
    found: dict[str, list[str]] = {}
    for placed in design.placed:
        if placed.id in wanted:
            found.setdefault(placed.mark, []).append(placed.id)
    return found


def shifted(matrix: Matrix, by: Point3) -> Matrix:
    """Return a 3 × 4 matrix moved in the bay."""
    moved_matrix = matrix.copy()
    moved_matrix[:, 3] += np.array(by)
    return moved_matrix


def _actor(design: Design, placed: PlacedPart, matrix: Matrix) -> Actor:
    return Actor(id=placed.id, part=design.part(placed.mark), matrix=matrix)


def _scene(name: str, title: str, items: Sequence[Item], size: tuple[float, float]) -> Scene:
    view = View(name="isometric", items=tuple(items))
    return Scene(name=name, title=title, width=size[0], height=size[1], views=(view,))
