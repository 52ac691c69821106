"""What a three-dimensional view shows beside the parts: the bay's lines and sizes on demand.

Everything is told in the axes of the model file (``drawings.glb``): metres, y up, the tail towards
+z, so that a viewer draws it as it is.
"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from stowright.units import Unit, format_length

if TYPE_CHECKING:
    from stowright.model.bay import Arch, Bay
    from stowright.model.design import BlockDesign, Design
    from stowright.model.geometry import Point3

__all__ = ["bay_edges", "deck_loads", "pieces_about", "size_lines", "strap_lines"]

type Spot = list[float]
type Edge = list[Spot]
_MM = 0.001
_OFF = 60.0
_WALL = 500.0


def bay_edges(bay: Bay) -> list[Edge]:
    """Return the bay as lines: floor, walls up to the rail or half a metre, arches."""
    left, right = _walls(bay)
    high = bay.rail if bay.rail is not None else min(bay.clear_height or _WALL, _WALL)
    floor = [*left, *reversed(right)]
    lines = list(pairwise([*floor, floor[0]]))
    top = [(x, y, high) for x, y, _ in [*left, *reversed(right)]]
    lines += list(pairwise(top))
    lines += [(low, (*low[:2], high)) for low in (left[0], left[-1], right[0], right[-1])]
    for arch in bay.arches:
        lines += _arch(bay, arch)
    return [[_spot(a), _spot(b)] for a, b in lines]


def size_lines(design: Design, picked: str = "") -> list[dict[str, object]]:
    """Return lines with their size as text: of the picked piece, else of every block."""
    placed = next((each for each in design.placed if each.id == picked), None)
    units = design.job.units
    if placed is None:
        return [row for block in design.blocks for row in _block_sizes(block, units)]
    found = []
    sizes = (placed.length, placed.width, placed.thickness)
    for axis, size in zip(placed.axes, sizes, strict=True):
        far = (
            placed.origin[0] + axis[0] * size,
            placed.origin[1] + axis[1] * size,
            placed.origin[2] + axis[2] * size,
        )
        found.append(_row(placed.origin, far, format_length(size, units, with_unit=True)))
    return found


def deck_loads(design: Design) -> list[dict[str, object]]:
    """Return cargo and tie-down rails on the decks as boxes: two corners, name, mass and colour."""
    from stowright.drawings.deck_things import deck_things
    from stowright.drawings.glb import stand_in_looks

    return [
        {
            "id": thing.id,
            "kind": thing.kind,
            "what": thing.what,
            "words": f"{thing.what}, {thing.mass_kg:g} kg" if thing.mass_kg else thing.what,
            "from": _spot((thing.box.x.low, thing.box.y.low, thing.box.z.low)),
            "to": _spot((thing.box.x.high, thing.box.y.high, thing.box.z.high)),
            "colour": stand_in_looks(thing.kind)["pbrMetallicRoughness"]["baseColorFactor"],
        }
        for thing in deck_things(design)
    ]


def strap_lines(design: Design) -> list[Edge]:
    """Return what lashes the cargo, each strap as a line."""
    from stowright.drawings.deck_things import lashings

    return [[_spot(a), _spot(b)] for a, b in lashings(design)]


def pieces_about(design: Design, about: str) -> list[str]:
    """Return the placed pieces that a finding speaks of: by mark, opening, block or piece."""
    return [
        each.id
        for each in design.placed
        if about in {each.id, each.mark, each.opening, each.block, each.body}
        or about == f"{each.block} {each.module}"
    ]


def _block_sizes(block: BlockDesign, units: Unit) -> list[dict[str, object]]:
    box = block.box
    x, y, z = box.x, box.y, box.z
    corners: tuple[tuple[Point3, Point3, float], ...] = (
        ((x.low, y.high + _OFF, 0.0), (x.high, y.high + _OFF, 0.0), x.size),
        ((x.low - _OFF, y.low, 0.0), (x.low - _OFF, y.high, 0.0), y.size),
        ((x.low - _OFF, y.low, z.low), (x.low - _OFF, y.low, z.high), z.size),
    )
    return [_row(a, b, format_length(size, units, with_unit=True)) for a, b, size in corners]


def _row(start: Point3, end: Point3, text: str) -> dict[str, object]:
    return {"from": _spot(start), "to": _spot(end), "text": text}


def _spot(point: Point3) -> Spot:
    """Bay axes (cab, left, up) into the model file's (right, up, towards the tail)."""
    x, y, z = point
    return [round(-y * _MM, 6), round(z * _MM, 6), round(-x * _MM, 6)]


def _walls(bay: Bay) -> tuple[list[Point3], list[Point3]]:
    level = min(station.height for station in bay.widths)
    on_floor = (station for station in bay.widths if station.height == level)
    stations = sorted(on_floor, key=lambda s: s.at)
    ends = [(0.0, stations[0]), *((s.at, s) for s in stations), (bay.length, stations[-1])]
    left: list[Point3] = []
    right: list[Point3] = []
    for x, station in ends:
        if not left or x > left[-1][0]:
            left.append((x, station.left, 0.0))
            right.append((x, -station.right, 0.0))
    return left, right


def _arch(bay: Bay, arch: Arch) -> list[tuple[Point3, Point3]]:
    middle = (arch.start + arch.end) / 2.0
    near = min(bay.widths, key=lambda s: (abs(s.at - middle), s.height))
    sign, wall = (1.0, near.left) if arch.side == "left" else (-1.0, near.right)
    outer, inner = sign * wall, sign * (wall - arch.reach)
    lines: list[tuple[Point3, Point3]] = []
    for x in (arch.start, arch.end):
        ring = [(x, outer, 0.0), (x, outer, arch.height), (x, inner, arch.height), (x, inner, 0.0)]
        lines += list(pairwise(ring))
    for y, z in ((outer, arch.height), (inner, arch.height), (inner, 0.0)):
        lines.append(((arch.start, y, z), (arch.end, y, z)))
    return lines
