"""Parts as solids: the outline extruded, everything made in it cut away at its true depth.

Round holes become polygons of the same area as the circle, so that a mesh weighs what the plane
areas say (``model.part_area``); their corners lie at most a tenth of a millimetre off the circle.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, ceil, cos, hypot, pi, sin, sqrt

import manifold3d as m3
import numpy as np
from numpy.typing import NDArray

from stowright.model.geometry import Point2
from stowright.model.part import Feature, Part, PlacedPart
from stowright.model.part_area import Pocket, pockets_of, polygon_area_mm2

__all__ = [
    "Matrix",
    "Mesh",
    "Ring",
    "circle_corners",
    "drawn_out",
    "frame_matrix",
    "mesh_of",
    "part_solid",
    "pocket_ring",
]

type Matrix = NDArray[np.float64]
type Ring = list[Point2]

#: How far a tool is drawn out beyond the part so that no two faces coincide. [mm]
_BEYOND = 1.0
_TOUCH = 1e-6
#: Greatest distance between a circle and its polygon. [mm]
_SAG = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Mesh:
    """A closed triangle mesh.

    Attributes:
        vertices: n × 3. [mm]
        triangles: m × 3 indices, counter-clockwise from outside.
    """

    vertices: NDArray[np.float64]
    triangles: NDArray[np.int64]


def frame_matrix(placed: PlacedPart) -> Matrix:
    """Return the 3 × 4 matrix that takes (u, v, w, 1) of a part into the bay. [mm]."""
    return np.column_stack([np.array(placed.axes, dtype=float).T, np.array(placed.origin)])


def circle_corners(radius: float) -> int:
    """Return how many corners a circle of this radius gets: 12 to 64, a multiple of four."""
    if radius <= 2.0 * _SAG:
        return 12
    return min(max(4 * ceil(pi / (4.0 * acos(1.0 - _SAG / radius))), 12), 64)


def pocket_ring(pocket: Pocket, *, quarter_steps: int = 0) -> Ring:
    """Return a pocket's contour, counter-clockwise, with the area of its true round corners.

    Arcs start and end on the rectangle's sides; the corners between lie a little outside the arc.

    Args:
        pocket: The pocket.
        quarter_steps: Chords of a quarter circle, three or more; 0 takes what a solid needs.
    """
    if pocket.radius <= 0.0:
        return _rectangle(pocket)
    steps = quarter_steps or circle_corners(pocket.radius) // 4
    turn = pi / 2.0 / steps
    bulge = _bulge(pocket.radius, steps)
    ring: Ring = []
    for quarter, (cu, cv) in enumerate(_arc_centres(pocket)):
        for k in range(steps + 1):
            radius = bulge if 0 < k < steps else pocket.radius
            angle = quarter * pi / 2.0 + k * turn
            point = (cu + radius * cos(angle), cv + radius * sin(angle))
            if not ring or hypot(point[0] - ring[-1][0], point[1] - ring[-1][1]) > _TOUCH:
                ring.append(point)
    if hypot(ring[0][0] - ring[-1][0], ring[0][1] - ring[-1][1]) <= _TOUCH:
        ring.pop()
    return ring


def _rectangle(p: Pocket) -> Ring:
    return [(p.u0, p.v0), (p.u1, p.v0), (p.u1, p.v1), (p.u0, p.v1)]


def _arc_centres(p: Pocket) -> tuple[Point2, ...]:
    r = p.radius
    return (
        (p.u1 - r, p.v1 - r),
        (p.u0 + r, p.v1 - r),
        (p.u0 + r, p.v0 + r),
        (p.u1 - r, p.v0 + r),
    )


def _bulge(radius: float, steps: int) -> float:
    """Return the radius R of a quarter's inner corners that keeps the quarter disc's area.

    The fan of ``steps`` triangles has the area sin(turn) (2 r R + (steps - 2) R²) / 2.
    """
    wanted = pi * radius**2 / 2.0 / sin(pi / 2.0 / steps)
    a = steps - 2.0
    return (sqrt(radius**2 + a * wanted) - radius) / a


def part_solid(part: Part) -> m3.Manifold:
    """Return the solid of a part in its own frame: u, v, w along x, y, z. [mm]."""
    pockets = pockets_of(part)
    through = [p for p in pockets if p.w0 <= _TOUCH and p.w1 >= part.thickness - _TOUCH]
    blind = [p for p in pockets if p not in through]
    section = m3.CrossSection([_ring_array(_contour(part))], m3.FillRule.Positive)
    if through:
        section -= m3.CrossSection(
            [_ring_array(pocket_ring(drawn_out(p, part))) for p in through],
            m3.FillRule.NonZero,
        )
    tools = [_tool(p, part) for p in blind]
    tools += [
        _drill(part, feature)
        for feature in part.features
        if feature.face not in {"good", "back"} and len(feature.size) == 1
    ]
    body = m3.Manifold.extrude(section, part.thickness)
    return m3.Manifold.batch_boolean([body, *tools], m3.OpType.Subtract) if tools else body


def mesh_of(solid: m3.Manifold) -> Mesh:
    """Return a solid's closed triangle mesh. [mm]."""
    raw = solid.to_mesh64()
    return Mesh(
        vertices=np.asarray(raw.vert_properties[:, :3], dtype=np.float64),
        triangles=np.asarray(raw.tri_verts, dtype=np.int64),
    )


def _contour(part: Part) -> tuple[Point2, ...]:
    return part.outline if polygon_area_mm2(part.outline) > 0.0 else part.outline[::-1]


def _ring_array(ring: Ring | tuple[Point2, ...]) -> NDArray[np.float64]:
    return np.array(ring, dtype=np.float64)


def drawn_out(p: Pocket, part: Part) -> Pocket:
    """Return a square-cornered pocket that reaches an edge of the part, drawn out past it."""
    if p.radius > 0.0:
        return p
    us, vs = [q[0] for q in part.outline], [q[1] for q in part.outline]
    return Pocket(
        u0=p.u0 - _BEYOND if p.u0 <= min(us) + _TOUCH else p.u0,
        v0=p.v0 - _BEYOND if p.v0 <= min(vs) + _TOUCH else p.v0,
        u1=p.u1 + _BEYOND if p.u1 >= max(us) - _TOUCH else p.u1,
        v1=p.v1 + _BEYOND if p.v1 >= max(vs) - _TOUCH else p.v1,
        radius=p.radius,
        w0=p.w0,
        w1=p.w1,
    )


def _tool(pocket: Pocket, part: Part) -> m3.Manifold:
    low = pocket.w0 - _BEYOND if pocket.w0 <= _TOUCH else pocket.w0
    high = pocket.w1 + _BEYOND if pocket.w1 >= part.thickness - _TOUCH else pocket.w1
    section = m3.CrossSection(
        [_ring_array(pocket_ring(drawn_out(pocket, part)))], m3.FillRule.Positive
    )
    return m3.Manifold.extrude(section, high - low).translate([0.0, 0.0, low])


def _drill(part: Part, feature: Feature) -> m3.Manifold:
    """Return the cylinder of a round hole drilled into an edge, square to it."""
    radius = feature.size[0] / 2.0
    ring = pocket_ring(Pocket(-radius, -radius, radius, radius, radius, 0.0, 1.0))
    rod = m3.Manifold.extrude(
        m3.CrossSection([_ring_array(ring)], m3.FillRule.Positive),
        feature.starts + feature.depth + _BEYOND,
    )
    along, up = feature.at
    inward, start = {
        "u0": ((1.0, 0.0), (-_BEYOND, along)),
        "u1": ((-1.0, 0.0), (part.length + _BEYOND, along)),
        "v0": ((0.0, 1.0), (along, -_BEYOND)),
        "v1": ((0.0, -1.0), (along, part.width + _BEYOND)),
    }[feature.face]
    du, dv = inward
    # columns: where the rod's x, y and z point; x = y × z keeps it right-handed
    columns = np.array([[dv, 0.0, du], [-du, 0.0, dv], [0.0, 1.0, 0.0]])
    return rod.transform(np.column_stack([columns, [*start, up]]))
