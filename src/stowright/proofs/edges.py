"""Which edges of a placed piece its joints hold."""

from __future__ import annotations

from stowright.model.part import PlacedPart
from stowright.proofs.index import Index
from stowright.proofs.supported import EdgeName

__all__ = ["joined_edges", "sides_along"]


def sides_along(piece: PlacedPart, axis: tuple[float, float, float]) -> int:
    """Return 1 when a piece's length runs along an axis, 2 when its width does, else 0."""
    for way, own in ((1, piece.axes[0]), (2, piece.axes[1])):
        if abs(sum(a * b for a, b in zip(own, axis, strict=True))) > 0.5:
            return way
    return 0


def joined_edges(
    index: Index, piece: PlacedPart, *, depth_axis: tuple[float, float, float]
) -> frozenset[EdgeName]:
    """Return the edges of a piece that joints hold: direction 1 is its length, 2 its width.

    A pair of runners holds the two edges that lie along the drawer's way.
    """
    found: set[EdgeName] = set()
    for joint in index.joints.get(piece.id, []):
        other = joint.parts[1] if joint.parts[0] == piece.id else joint.parts[0]
        if joint.kind == "runner":
            along = sides_along(piece, depth_axis)
            found |= {"low 2", "high 2"} if along == 1 else {"low 1", "high 1"}
        elif other in index.boxes:
            edge = _edge_towards(index, piece, other)
            if edge is not None:
                found.add(edge)
    return frozenset(found)


def _edge_towards(index: Index, piece: PlacedPart, other: str) -> EdgeName | None:
    """Return the edge that another piece stands at, or None when it lies flat on this one."""
    centre = index.boxes[other].centre
    local = [
        sum((c - o) * a for c, o, a in zip(centre, piece.origin, axis, strict=True))
        for axis in piece.axes[:2]
    ]
    off_1 = local[0] / piece.length - 0.5
    off_2 = local[1] / piece.width - 0.5
    if max(abs(off_1), abs(off_2)) < 0.25:
        return None
    if abs(off_1) >= abs(off_2):
        return "low 1" if off_1 < 0.0 else "high 1"
    return "low 2" if off_2 < 0.0 else "high 2"
