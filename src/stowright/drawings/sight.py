"""Looking at pieces in space: the camera, and all faces and edges of a scene as arrays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import asin, cos, radians, sin, sqrt

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from stowright.drawings.facets import Shape
from stowright.drawings.solids import Matrix

__all__ = ["ISOMETRIC_RISE", "Camera", "Sight", "look_at"]

#: Height of the eye at which the three axes are drawn equally short: asin(1/√3). [rad]
ISOMETRIC_RISE = asin(1.0 / sqrt(3.0))
#: Faces that are turned from the eye by less than this count as seen edge-on.
_EDGE_ON = 1e-6
#: Edges between faces that turn by less than this are drawn at outlines only (round walls).
_SMOOTH = cos(radians(30.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Camera:
    """A parallel view.

    Attributes:
        turn: Where the eye stands around z, from the x axis towards y. [degrees]
        rise: Its height above the level. [rad]
    """

    turn: float
    rise: float = ISOMETRIC_RISE

    @property
    def rows(self) -> NDArray[np.float64]:
        """Unit vectors of screen right, screen up and towards the eye."""
        return _rows(radians(self.turn), self.rise)


@lru_cache(maxsize=64)
def _rows(a: float, e: float) -> NDArray[np.float64]:
    eye = np.array([cos(e) * cos(a), cos(e) * sin(a), sin(e)])
    right = np.array([-sin(a), cos(a), 0.0])
    rows = np.vstack([right, np.cross(eye, right), eye])
    rows.flags.writeable = False
    return rows


@dataclass(frozen=True)
class Sight:
    """Everything that stands before the eye, in screen coordinates (right, up, nearer). [mm].

    Attributes:
        rings: Rings of each face, contour first, n × 3.
        normals: Of each face, f × 3.
        owner: Which piece each face belongs to.
        edges: e × 2 × 3.
        beside: Faces beside each edge, e × 2, -1 for none.
        edge_owner: Which piece each edge belongs to.
    """

    rings: tuple[tuple[NDArray[np.float64], ...], ...]
    normals: NDArray[np.float64]
    owner: NDArray[np.int64]
    edges: NDArray[np.float64]
    beside: NDArray[np.int64]
    edge_owner: NDArray[np.int64]

    @cached_property
    def front(self) -> NDArray[np.bool_]:
        """Which faces look towards the eye."""
        return self.normals[:, 2] > _EDGE_ON

    @cached_property
    def levels(self) -> NDArray[np.float64]:
        """Distance of each face's plane from the origin, along its normal."""
        points = np.array([r[0][0] for r in self.rings]).reshape(-1, 3)
        return np.asarray(np.einsum("ij,ij->i", self.normals, points))

    @cached_property
    def drawn(self) -> NDArray[np.int64]:
        """Numbers of the edges that are drawn where nothing hides them."""
        if not len(self.edges):
            return np.empty(0, dtype=np.int64)
        one, other = self.beside[:, 0], self.beside[:, 1]
        front_one = self.front[one] & (one >= 0)
        front_other = self.front[other] & (other >= 0)
        lone = (one < 0) | (other < 0)
        sharp = np.einsum("ij,ij->i", self.normals[one], self.normals[other]) < _SMOOTH
        free = (one < 0) & (other < 0)
        seen = (front_one | front_other) & (lone | sharp | (front_one != front_other))
        return np.flatnonzero(seen | free)

    @cached_property
    def outlines(self) -> NDArray[np.bool_]:
        """Which edges bound their piece as it is seen: one face towards the eye, one away."""
        one, other = self.beside[:, 0], self.beside[:, 1]
        return np.asarray(
            (self.front[one] & (one >= 0)) != (self.front[other] & (other >= 0)), dtype=np.bool_
        )

    def polygon(self, face: int) -> Polygon:
        """Return a face as it is seen."""
        outer, *holes = self.rings[face]
        return Polygon(outer[:, :2], [hole[:, :2] for hole in holes])

    def polygons(self, faces: NDArray[np.int64]) -> NDArray[np.object_]:
        """Return several faces as they are seen."""
        found = np.empty(len(faces), dtype=object)
        plain = [k for k, f in enumerate(faces) if len(self.rings[f]) == 1]
        if plain:
            rings = [self.rings[faces[k]][0][:, :2] for k in plain]
            which = np.repeat(np.arange(len(rings)), [len(r) for r in rings])
            found[plain] = shapely.polygons(
                shapely.linearrings(np.concatenate(rings), indices=which)
            )
        for k, f in enumerate(faces):
            if len(self.rings[f]) > 1:
                found[k] = self.polygon(int(f))
        return found


def look_at(
    pieces: Sequence[tuple[Shape, Matrix]],
    camera: Camera,
    *,
    extra_edges: NDArray[np.float64] | None = None,
) -> Sight:
    """Gather pieces as the camera sees them.

    Args:
        pieces: Each piece's shape and the 3 × 4 matrix that stands it in the bay.
        camera: The view.
        extra_edges: Lines without faces, e × 2 × 3 in the bay (a ghost of the bay); their owner
            is -1 and they hide nothing.
    """
    rows = camera.rows
    rings: list[tuple[NDArray[np.float64], ...]] = []
    normals, owner, edges, beside, edge_owner = [], [], [], [], []
    for number, (shape, matrix) in enumerate(pieces):
        turn, shift = rows @ matrix[:, :3], rows @ matrix[:, 3]
        first = len(rings)
        rings += [tuple(ring @ turn.T + shift for ring in f.rings) for f in shape.facets]
        normals.append(np.array([f.normal for f in shape.facets]).reshape(-1, 3) @ turn.T)
        owner.append(np.full(len(shape.facets), number))
        edges.append(shape.edges @ turn.T + shift)
        beside.append(np.where(shape.beside < 0, -1, shape.beside + first))
        edge_owner.append(np.full(len(shape.edges), number))
    if extra_edges is not None and len(extra_edges):
        edges.append(extra_edges @ rows.T)
        beside.append(np.full((len(extra_edges), 2), -1))
        edge_owner.append(np.full(len(extra_edges), -1))
    return Sight(
        rings=tuple(rings),
        normals=_stack(normals, (3,)),
        owner=_stack(owner, ()).astype(np.int64),
        edges=_stack(edges, (2, 3)),
        beside=_stack(beside, (2,)).astype(np.int64),
        edge_owner=_stack(edge_owner, ()).astype(np.int64),
    )


def _stack(arrays: Sequence[NDArray[np.generic]], shape: tuple[int, ...]) -> NDArray[np.float64]:
    if not arrays:
        return np.empty((0, *shape))
    return np.concatenate(arrays).astype(np.float64)
