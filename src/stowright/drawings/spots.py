"""Where a leader may point: well inside a face that is seen, clear of lines."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon, STRtree

from stowright.drawings.balloons import Spot
from stowright.drawings.picture import Picture
from stowright.model.geometry import Point2

__all__ = ["label_spots", "middle_spot"]

#: A spot this far from every line is as good as any. [mm on paper]
_EASY = 1.2
#: How much longer a leader may be for each millimetre that a spot is nearer to a line.
_CRAMPED = 12.0
_MOST = 14
#: How many points of a mark are asked for their distance from lines.
_ASKED = 80
#: How many of a mark's faces are looked at, the largest first, and how densely: a second, closer
#: look is taken where the first finds nothing.
_EFFORTS = ((10, 5), (60, 11))

type Floats = NDArray[np.float64]
type Ints = NDArray[np.int64]


def label_spots(
    pic: Picture, marks: Mapping[str, Sequence[str]], *, avoid: Sequence[Polygon] = ()
) -> dict[str, list[Spot]]:
    """Return where each text may point to, best places first.

    A text none of whose pieces is seen is left out.

    Args:
        pic: The picture.
        marks: For each text the ids of the pieces that it may name; at least one is in the picture.
        avoid: Shapes on paper that lie on top of the picture.
    """
    number = {actor.id: k for k, actor in enumerate(pic.actors)}
    looker = _Looker(pic, avoid)
    found = {}
    for text, ids in marks.items():
        owners = {number[piece] for piece in ids if piece in number}
        spots = looker.spots(owners)
        if spots:
            found[text] = spots
    return found


def middle_spot(pic: Picture, ids: Sequence[str]) -> Spot:
    """Return the middle of the first of some pieces, seen or not."""
    owner = min(k for k, actor in enumerate(pic.actors) if actor.id in ids)
    return Spot(_middle(pic, owner))


def _middle(pic: Picture, owner: int) -> Point2:
    actor = pic.actors[owner]
    part = actor.part
    local = (part.length / 2.0, part.width / 2.0, part.thickness / 2.0, 1.0)
    x, y, z = (actor.matrix @ np.array(local)).tolist()
    return pic.paper((x, y, z))


class _Looker:
    """Finds points of faces that nothing hides."""

    def __init__(self, pic: Picture, avoid: Sequence[Polygon]) -> None:
        self._pic = pic
        self._faces = pic.seen.faces
        self._polygons = pic.sight.polygons(self._faces)
        self._area = shapely.area(self._polygons).tolist()
        self._owner = pic.sight.owner[self._faces]
        self._tree = STRtree(self._polygons)
        lines = np.atleast_1d(np.asarray(shapely.linestrings(pic.seen.lines), dtype=object))
        self._lines = STRtree(lines)
        self._avoid = shapely.union_all([shape.buffer(_EASY) for shape in avoid])

    def spots(self, owners: set[int]) -> list[Spot]:
        """Return the best spots on the faces of some pieces."""
        mine = [k for k, owner in enumerate(self._owner.tolist()) if owner in owners]
        mine.sort(key=lambda k: (-self._area[k], k))
        for faces, steps in _EFFORTS:
            points, of = self._strewn(mine[:faces], steps)
            points = points[self._unhidden(points, of)]
            if len(points):
                return self._best(points[:: len(points) // _ASKED + 1])
        return []

    def _best(self, points: Floats) -> list[Spot]:
        """Return the spots that lie farthest from lines, or a choice of those far enough."""
        clear = self._clearance(points) * self._pic.scale
        at = self._pic.on_paper(points)
        clear[shapely.contains_xy(self._avoid, at[:, 0], at[:, 1])] = 0.0
        order = np.lexsort((at[:, 1], at[:, 0], -np.minimum(np.round(clear, 2), _EASY)))
        chosen = order[:: max(len(order) // _MOST, 1)] if clear[order[-1]] >= _EASY else order
        return [
            Spot(
                (float(at[k, 0]), float(at[k, 1])),
                penalty=_CRAMPED * max(_EASY - float(clear[k]), 0.0),
            )
            for k in chosen[:_MOST].tolist()
        ]

    def _strewn(self, mine: list[int], steps: int) -> tuple[Floats, Ints]:
        """Return points strewn over faces, and the face of each."""
        points, of = [np.empty((0, 2))], [np.empty(0, dtype=np.int64)]
        shares = np.linspace(0.5 / steps, 1.0 - 0.5 / steps, steps)
        for k in mine:
            polygon = self._polygons[k]
            x0, y0, x1, y1 = polygon.bounds
            grid = np.stack(np.meshgrid(x0 + shares * (x1 - x0), y0 + shares * (y1 - y0)), -1)
            grid = grid.reshape(-1, 2)
            inside = grid[shapely.contains_xy(polygon, grid[:, 0], grid[:, 1])]
            middle = shapely.get_coordinates(shapely.point_on_surface(polygon))
            points += [middle, inside]
            of.append(np.full(len(middle) + len(inside), k))
        return np.concatenate(points), np.concatenate(of)

    def _unhidden(self, points: Floats, of: Ints) -> NDArray[np.bool_]:
        which, over = self._tree.query(shapely.points(points), predicate="intersects")
        own = self._height(of, points)
        hidden = np.zeros(len(points), dtype=bool)
        hidden[which[self._height(over, points[which]) > own[which] + 0.1]] = True
        return ~hidden

    def _height(self, faces: Ints, xy: Floats) -> Floats:
        sight = self._pic.sight
        n = sight.normals[self._faces[faces]]
        level = sight.levels[self._faces[faces]]
        return np.asarray((level - (n[:, :2] * xy).sum(axis=1)) / n[:, 2])

    def _clearance(self, points: Floats) -> Floats:
        """Return how far each point is from the nearest line drawn. [mm on the screen]."""
        (which, _), far = self._lines.query_nearest(
            shapely.points(points),
            max_distance=3.0 * _EASY / self._pic.scale,
            return_distance=True,
            all_matches=False,
        )
        clear = np.full(len(points), np.inf)
        clear[which] = far
        return clear
