"""Which panels of a carcass meet, and how: what joints are drafted from."""

from __future__ import annotations

from stowright.design.pieces import LOOSE, Piece
from stowright.model.bay import Face

__all__ = ["behind", "housed", "meets_face", "stacked"]


def meets_face(upright: Piece, piece: Piece) -> bool:
    """Whether an edge of the piece lies against, or in, a face of the upright."""
    a, b = upright.box, piece.box
    overlaps = sorted((a.x.overlap(b.x), a.y.overlap(b.y), a.z.overlap(b.z)))
    return overlaps[0] > -LOOSE and overlaps[1] > 1.0


def stacked(flat: Piece, standing: Piece) -> bool:
    """Whether a standing piece touches a flat one from above or below, over some area."""
    a, b = flat.box, standing.box
    return abs(a.z.overlap(b.z)) < LOOSE and a.x.overlap(b.x) > 1.0 and a.y.overlap(b.y) > 1.0


def housed(flat: Piece, standing: Piece) -> bool:
    """Whether a partition reaches into a floor or top."""
    a, b = flat.box, standing.box
    return a.z.overlap(b.z) >= LOOSE and a.x.overlap(b.x) > 1.0 and a.y.overlap(b.y) > 1.0


def behind(face: Face, back: Piece, piece: Piece) -> bool:
    """Whether a piece's rear edge lies against the back's inner face."""
    a, b = back.box, piece.box
    along, across = (a.x, a.y), (b.x, b.y)
    deep = 0 if face == "tail" else 1
    touches = abs(along[deep].overlap(across[deep])) < LOOSE
    return touches and along[1 - deep].overlap(across[1 - deep]) > 1.0 and a.z.overlap(b.z) > 1.0
