"""A plane cut through placed pieces inside a window: true sections, grooves and holes included."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from stowright.drawings.extent import Bounds
from stowright.drawings.ortho import Sight
from stowright.drawings.scene import Hatch, Item, Region
from stowright.drawings.solids import frame_matrix, part_solid
from stowright.model.design import Design
from stowright.model.geometry import Point2
from stowright.model.part import PlacedPart

__all__ = ["CutPiece", "cut_items", "cut_pieces", "joined_rings"]

_GRID = 1e-3
_LEAST = 0.5  # smaller areas are the leavings of rounding [mm2]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPiece:
    """A piece and what of it lies in the plane inside the window. [mm on the picture plane]."""

    placed: PlacedPart
    shapes: tuple[shapely.Polygon, ...]


def cut_pieces(
    design: Design, sight: Sight, *, depth: float, window: Bounds
) -> tuple[CutPiece, ...]:
    """Return the pieces that a plane square to the line of sight cuts within a window.

    Args:
        design: The design.
        sight: Directions of the picture.
        depth: Where the plane lies along the line of sight. [mm]
        window: What is shown. [mm on the picture plane]
    """
    frame = shapely.box(window.left, window.bottom, window.right, window.top)
    turn = np.column_stack([np.array((sight.right, sight.up, sight.look)), np.zeros(3)])
    found = []
    for placed in design.placed:
        if not _near(placed, sight, depth, window):
            continue
        solid = part_solid(design.part(placed.mark)).transform(frame_matrix(placed))
        rings = solid.transform(turn).slice(depth).to_polygons()
        shapes = tuple(_inside(joined_rings(rings), frame))
        if shapes:
            found.append(CutPiece(placed=placed, shapes=shapes))
    return tuple(found)


def _near(placed: PlacedPart, sight: Sight, depth: float, window: Bounds) -> bool:
    corners = [
        placed.point(u, v, w)
        for u in (0.0, placed.length)
        for v in (0.0, placed.width)
        for w in (0.0, placed.thickness)
    ]
    depths = [sight.depth(c) for c in corners]
    if not min(depths) < depth < max(depths):
        return False
    flat = [sight.flat(c) for c in corners]
    xs, ys = [p[0] for p in flat], [p[1] for p in flat]
    return (
        min(xs) < window.right
        and max(xs) > window.left
        and min(ys) < window.top
        and max(ys) > window.bottom
    )


def joined_rings(rings: Iterable[np.ndarray]) -> shapely.Geometry:
    """Return the area between rings: holes are rings inside rings.

    Where two rings touch along a line (a rail's end on a rebate's wall) rounding leaves lines
    beside the areas; only areas are kept, or the next operation would refuse the mixture.
    """
    area: shapely.Geometry = shapely.Polygon()
    for ring in rings:
        if len(ring) > 2:
            other = _areas(shapely.make_valid(shapely.Polygon(ring)))
            area = _areas(shapely.symmetric_difference(area, other, grid_size=_GRID))
    return area


def _areas(shape: shapely.Geometry) -> shapely.Geometry:
    """Return the polygons of a shape as one geometry."""
    flat = shapely.get_parts(shapely.get_parts(shape))
    return shapely.MultiPolygon([p for p in flat if p.geom_type == "Polygon" and p.area > 0.0])


def _inside(area: shapely.Geometry, frame: shapely.Polygon) -> Iterator[shapely.Polygon]:
    inside = _areas(shapely.intersection(area, frame, grid_size=_GRID))
    for polygon in shapely.get_parts(inside):
        if polygon.area > _LEAST:
            yield polygon


def cut_items(pieces: Iterable[CutPiece], scale: float) -> Iterator[Item]:
    """Yield cut pieces hatched, neighbours leaning to different sides. [mm on paper]."""
    for number, piece in enumerate(pieces):
        angle = 45.0 if number % 2 else 135.0
        spacing = (2.0, 1.6, 2.4)[number % 3]
        for shape in piece.shapes:
            outer = _ring(shape.exterior, scale)
            holes = tuple(_ring(ring, scale) for ring in shape.interiors)
            yield Region(outer=outer, holes=holes, fill="wood", pen="visible")
            yield Hatch(outer=outer, holes=holes, angle=angle, spacing=spacing)


def _ring(ring: shapely.LinearRing, scale: float) -> tuple[Point2, ...]:
    return tuple((float(x) * scale, float(y) * scale) for x, y in ring.coords[:-1])
