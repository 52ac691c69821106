"""What one panel takes out of another where it is let in: rebates, housings and grooves.

Makers place a let-in panel so that it reaches into its neighbour; the recess is then read off the
two boxes, so a recess is never a hair wider or narrower than what sits in it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Literal

from stowright.design.pieces import Piece
from stowright.model.geometry import Box, Point3
from stowright.model.part import Feature, FeatureFace

__all__ = ["let_in", "local_overlap"]

_EPS = 1.0e-6


def local_overlap(piece: Piece, other: Box) -> tuple[Point3, Point3] | None:
    """Return the corners, in the piece's frame, of what a box shares with it; None if nothing."""
    shared = piece.box.shared(other, least=_EPS)
    if shared is None:
        return None
    one, two = shared
    (u0, v0, w0), (u1, v1, w1) = piece.to_local(one), piece.to_local(two)
    return (
        (round(min(u0, u1), 6), round(min(v0, v1), 6), round(min(w0, w1), 6)),
        (round(max(u0, u1), 6), round(max(v0, v1), 6), round(max(w0, w1), 6)),
    )


def let_in(
    piece: Piece,
    others: Iterable[Piece],
    *,
    purpose: str,
    full_length: Literal["", "u", "v"] = "",
    kind: Literal["", "groove"] = "",
) -> Piece:
    """Return the piece with a recess for every other piece that reaches into it.

    Args:
        piece: The piece that is cut.
        others: The pieces that may reach into it.
        purpose: In words, for the drawing.
        full_length: Run the recess right along this axis (a groove is cut from end to end).
        kind: ``groove`` to name it so; else a rebate at an edge, a housing away from it.
    """
    added = []
    for other in others:
        shared = local_overlap(piece, other.box)
        if shared is not None:
            added.append(_recess(piece, shared, f"{purpose} {other.name}", full_length, kind))
    return replace(piece, features=(*piece.features, *added)) if added else piece


def _recess(
    piece: Piece,
    shared: tuple[Point3, Point3],
    purpose: str,
    full_length: str,
    kind: str,
) -> Feature:
    (u0, v0, w0), (u1, v1, w1) = shared
    if full_length == "u":
        u0, u1 = 0.0, piece.length
    elif full_length == "v":
        v0, v1 = 0.0, piece.width
    from_good = w1 > piece.thickness - _EPS
    face: FeatureFace = "good" if from_good else "back"
    # What runs along an edge is a rebate; what only ends at one is a housing.
    if u1 - u0 >= v1 - v0:
        at_edge = v0 < _EPS or v1 > piece.width - _EPS
    else:
        at_edge = u0 < _EPS or u1 > piece.length - _EPS
    return Feature(
        kind="groove" if kind == "groove" else "rebate" if at_edge else "slot",
        face=face,
        at=(u0, v0),
        size=(round(u1 - u0, 6), round(v1 - v0, 6)),
        depth=round(w1 - w0, 6),
        through=False,
        purpose=purpose,
    )
