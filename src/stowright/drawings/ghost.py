"""The bay as thin lines around the unit: floor, walls on the far side, arches."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from stowright.drawings.sight import Camera
from stowright.model.bay import Arch, Bay
from stowright.model.geometry import Point3

__all__ = ["ghost_edges"]

type Line3 = tuple[Point3, Point3]


def ghost_edges(bay: Bay, camera: Camera) -> NDArray[np.float64]:
    """Return the bay's lines, e × 2 × 3: its floor, its arches, and the walls on the far side.

    Walls are drawn up to the rail, or half a metre of the clear height. [mm]
    """
    left, right = _walls(bay)
    high = bay.rail if bay.rail is not None else min(bay.clear_height or 500.0, 500.0)
    floor = [*left, *reversed(right)]
    lines: list[Line3] = list(pairwise([*floor, floor[0]]))
    eye_x, eye_y = (float(c) for c in camera.rows[2][:2])
    far_walls = [left] if eye_y < 0.0 else [right]
    if eye_x < 0.0:
        far_walls.append([left[-1], right[-1]])
    for wall in far_walls:
        top = [(x, y, high) for x, y, _ in wall]
        lines += pairwise(top)
        lines += [(wall[0], top[0]), (wall[-1], top[-1])]
    for arch in bay.arches:
        lines += _arch_lines(bay, arch)
    return np.array(lines, dtype=np.float64).reshape(-1, 2, 3)


def _walls(bay: Bay) -> tuple[list[Point3], list[Point3]]:
    """Return the floor's left and right edge from the tail to the headboard."""
    level = min(s.height for s in bay.widths)
    stations = sorted((s for s in bay.widths if s.height == level), key=lambda s: s.at)
    ends = [(0.0, stations[0]), *((s.at, s) for s in stations), (bay.length, stations[-1])]
    left: list[Point3] = []
    right: list[Point3] = []
    for x, station in ends:
        if not left or x > left[-1][0] + 1e-6:
            left.append((x, station.left, 0.0))
            right.append((x, -station.right, 0.0))
    return left, right


def _arch_lines(bay: Bay, arch: Arch) -> list[Line3]:
    near = min(bay.widths, key=lambda s: (abs(s.at - (arch.start + arch.end) / 2.0), s.height))
    sign, wall = (1.0, near.left) if arch.side == "left" else (-1.0, near.right)
    outer, inner = sign * wall, sign * (wall - arch.reach)
    lines: list[Line3] = []
    for x in (arch.start, arch.end):
        corners = [
            (x, outer, 0.0),
            (x, outer, arch.height),
            (x, inner, arch.height),
            (x, inner, 0.0),
        ]
        lines += pairwise(corners)
    for y, z in ((outer, arch.height), (inner, arch.height), (inner, 0.0)):
        lines.append(((arch.start, y, z), (arch.end, y, z)))
    return lines
