"""Pieces in space as a picture on paper: painted faces from far to near, then the visible edges."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from stowright.drawings.facets import Shape, part_shape
from stowright.drawings.hidden_lines import Seen, see
from stowright.drawings.linetypes import Fill, Pen
from stowright.drawings.paint import Patch, paint_order
from stowright.drawings.scene import Item, Polyline, Region
from stowright.drawings.sight import Camera, Sight, look_at
from stowright.drawings.solids import Matrix
from stowright.drawings.strokes import joined_strokes
from stowright.model.geometry import Point2, Point3
from stowright.model.part import Part

__all__ = ["Actor", "Look", "Paper", "Picture", "forget_shapes", "picture"]

#: How a piece looks: plain, just added, there before, of metal, or of metal and just added.
type Look = Literal["wood", "new", "old", "metal", "fitted"]

_FILLS: dict[Look, tuple[Fill, Fill, Fill]] = {
    # seen from above, turned to the left, turned to the right
    "wood": ("wood", "wood-side", "wood-dark"),
    "new": ("new", "new-side", "new-dark"),
    "old": ("paper", "tint", "tint"),
    "metal": ("metal", "metal", "metal"),
    "fitted": ("metal", "metal", "metal"),
}
_PENS: dict[Look, Pen] = {
    "wood": "edge",
    "new": "outline",
    "old": "light",
    "metal": "light",
    "fitted": "outline",
}
#: Openings smaller than this are left out; shorter pieces of lines are dropped. [mm on paper]
_LEAST_OPENING = 1.1
_LEAST_LINE = 0.3
#: Openings are sorted out by one of these sizes, so that shapes are shared between figures. [mm]
_SIZES = (4.0, 8.0, 12.0, 18.0, 25.0, 35.0, 50.0, 80.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Actor:
    """A piece in a picture: its part stands where the 3 × 4 matrix puts it."""

    id: str
    part: Part
    matrix: Matrix
    look: Look = "wood"


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """What a picture has to fit: width, height, and what is kept free all round. [mm]."""

    width: float
    height: float
    margin: float = 3.0


@dataclass(frozen=True, kw_only=True)
class Picture:
    """A picture: what is seen is worked out, paint and lines are made when they are asked for.

    Attributes:
        actors: The pieces, in the order of the sight's owners.
        scale: Paper millimetres per millimetre on the screen.
        shift: Paper point of the screen's origin.
        width, height: Of the paper that the picture fills, margin included. [mm]
    """

    actors: tuple[Actor, ...]
    camera: Camera
    sight: Sight
    seen: Seen
    scale: float
    shift: Point2
    width: float
    height: float

    @cached_property
    def patches(self) -> tuple[Patch, ...]:
        """Faces as they are painted, from far to near."""
        return tuple(paint_order(self.sight, self.seen.faces))

    @cached_property
    def items(self) -> tuple[Item, ...]:
        """Painted faces from far to near, then the edges."""
        return (*(_region(self, patch) for patch in self.patches), *_strokes(self))

    def paper(self, point: Point3) -> Point2:
        """Return where a point of the bay lies on paper. [mm]."""
        x, y, _ = self.camera.rows @ np.array(point)
        return (float(x) * self.scale + self.shift[0], float(y) * self.scale + self.shift[1])

    def on_paper(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        """Return screen points on paper, n × 2. [mm]."""
        return np.asarray(points * self.scale + np.array(self.shift))

    def dashed(self, ids: Collection[str]) -> tuple[Polyline, ...]:
        """Return the hidden edges of some pieces as dashed lines."""
        if not ids:
            return ()
        owners = [k for k, actor in enumerate(self.actors) if actor.id in ids]
        mine = np.isin(self.sight.edge_owner, owners)
        sight = replace(
            self.sight,
            edges=self.sight.edges[mine],
            beside=self.sight.beside[mine],
            edge_owner=self.sight.edge_owner[mine],
        )
        hidden = see(sight, least_mm=_LEAST_LINE / self.scale, with_hidden=True).hidden
        lines = self.on_paper(hidden.reshape(-1, 2)).reshape(-1, 2, 2)
        segments = [((x0, y0), (x1, y1)) for (x0, y0), (x1, y1) in lines.tolist()]
        return tuple(Polyline(points=run, pen="hidden") for run in joined_strokes(segments))

    @cached_property
    def hull(self) -> Polygon:
        """The convex hull of everything drawn, on paper."""
        points = self.on_paper(self.seen.lines.reshape(-1, 2))
        return shapely.MultiPoint(points).convex_hull.buffer(0.01)


def picture(
    actors: Sequence[Actor],
    camera: Camera,
    paper: Paper,
    *,
    ghost: NDArray[np.float64] | None = None,
) -> Picture:
    """Return pieces as a picture that fits its paper; what paper is left over is cut off.

    Args:
        actors: The pieces.
        camera: The view.
        paper: What it has to fit.
        ghost: Lines of the bay, e × 2 × 3, drawn light where no piece hides them. [mm]
    """
    scale, shift, (width, height) = _fit(actors, camera, paper, ghost)
    least = _opening_size(_LEAST_OPENING / scale)
    pieces = [(_shape(actor.part, least), actor.matrix) for actor in actors]
    sight = look_at(pieces, camera, extra_edges=ghost)
    seen = see(sight, least_mm=_LEAST_LINE / scale)
    return Picture(
        actors=tuple(actors),
        camera=camera,
        sight=sight,
        seen=seen,
        scale=scale,
        shift=shift,
        width=width,
        height=height,
    )


def _opening_size(wanted: float) -> float:
    return next((size for size in _SIZES if size >= wanted), _SIZES[-1])


@lru_cache(maxsize=1024)
def _shape(part: Part, least_mm: float) -> Shape:
    return part_shape(part, least_mm=least_mm)


def forget_shapes() -> None:
    """Drop the faces of parts that are remembered from figure to figure."""
    _shape.cache_clear()


def _fit(
    actors: Sequence[Actor], camera: Camera, paper: Paper, ghost: NDArray[np.float64] | None
) -> tuple[float, Point2, Point2]:
    """Return the scale, the shift onto paper, and the paper's size without what is left over."""
    clouds = [_outline_cloud(actor) for actor in actors]
    if ghost is not None and len(ghost):
        clouds.append(ghost.reshape(-1, 3))
    points = np.concatenate(clouds or [np.zeros((1, 3))]) @ camera.rows[:2].T
    low, high = points.min(axis=0), points.max(axis=0)
    size = np.maximum(high - low, 1e-6)
    room = np.array([paper.width, paper.height]) - 2.0 * paper.margin
    scale = float((room / size).min())
    x, y = (paper.margin - low * scale).tolist()
    width, height = (size * scale + 2.0 * paper.margin).tolist()
    return scale, (x, y), (width, height)


def _outline_cloud(actor: Actor) -> NDArray[np.float64]:
    part = actor.part
    local = np.array([(u, v, w) for u, v in part.outline for w in (0.0, part.thickness)])
    return np.asarray(local @ actor.matrix[:, :3].T + actor.matrix[:, 3])


def _region(drawn: Picture, patch: Patch) -> Region:
    owner = drawn.actors[int(drawn.sight.owner[patch.face])]
    outer, *holes = (
        _points(drawn.on_paper(shapely.get_coordinates(ring)[:-1]))
        for ring in (patch.shape.exterior, *patch.shape.interiors)
    )
    return Region(
        outer=outer,
        holes=tuple(holes),
        fill=_FILLS[owner.look][_tone(drawn, patch.face)],
        about=owner.id,
    )


def _points(array: NDArray[np.float64]) -> tuple[Point2, ...]:
    return tuple((round(x, 3) + 0.0, round(y, 3) + 0.0) for x, y in array.tolist())


def _tone(drawn: Picture, face: int) -> int:
    """Return 0 for a face that looks up, 1 for one turned to the left, 2 to the right."""
    right, up, near = drawn.sight.normals[face].tolist()
    _, z_up, z_near = drawn.camera.rows[:, 2].tolist()
    if up * z_up + near * z_near > 0.7:
        return 0
    return 1 if right < 0.0 else 2


def _strokes(drawn: Picture) -> list[Polyline]:
    lines = drawn.on_paper(drawn.seen.lines.reshape(-1, 2)).reshape(-1, 2, 2)
    by_pen: dict[tuple[int, str], tuple[Pen, list[tuple[Point2, Point2]]]] = {}
    for owner, ends in zip(
        drawn.sight.edge_owner[drawn.seen.edge].tolist(), lines.tolist(), strict=True
    ):
        pen: Pen = "light" if owner < 0 else _PENS[drawn.actors[owner].look]
        about = "" if owner < 0 else drawn.actors[owner].id
        (x0, y0), (x1, y1) = ends
        by_pen.setdefault((_RANK[pen], about), (pen, []))[1].append(((x0, y0), (x1, y1)))
    return [
        Polyline(points=run, pen=pen, about=about)
        for (_, about), (pen, segments) in sorted(by_pen.items(), key=lambda item: item[0])
        for run in joined_strokes(segments)
    ]


#: Light lines are drawn first, so that strong ones end on top of them.
_RANK: dict[Pen, int] = {"light": 0, "edge": 1, "outline": 2}
