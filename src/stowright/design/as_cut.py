"""Pieces that are cut already keep the size they have, whatever the sums say now."""

from __future__ import annotations

from dataclasses import replace

from stowright.design.block import BlockPieces
from stowright.design.pieces import Piece
from stowright.design.tab_shapes import reaches
from stowright.model.geometry import Point2, Point3
from stowright.model.refit import FrozenPart, Refit

__all__ = ["as_cut", "cut_pieces"]


def as_cut(made: BlockPieces, refit: Refit | None) -> BlockPieces:
    """Return a block whose cut pieces have the sizes that they were cut to.

    What lies between uprights and is cut short lies in the middle; everything else stays where the
    corner is that it is measured from.
    """
    if refit is None:
        return made
    pieces = cut_pieces(made.pieces, refit, across=made.design.axes[0])
    return replace(made, pieces=pieces)


def cut_pieces(
    pieces: tuple[Piece, ...], refit: Refit | None, *, across: Point3 = (0.0, 0.0, 0.0)
) -> tuple[Piece, ...]:
    """Return pieces, those that are cut with the sizes that they were cut to.

    Along ``across`` they stay in the middle of their place.
    """
    kept = {name: row for row in refit.frozen for name in row.pieces} if refit else {}
    if not kept:
        return pieces
    return tuple(_kept(piece, kept.get(piece.id), across) for piece in pieces)


def _kept(piece: Piece, cut: FrozenPart | None, across: Point3) -> Piece:
    if cut is not None and piece.tabs:
        cut = _shoulders(piece, cut)
    if cut is None or (
        abs(piece.length - cut.length) <= 1.0e-6
        and abs(piece.width - cut.width) <= 1.0e-6
        and abs(piece.thickness - cut.thickness) <= 1.0e-6
    ):
        return piece
    less = (piece.length - cut.length, piece.width - cut.width, 0.0)
    moved = [0.0, 0.0, 0.0]
    for axis, by in zip(piece.axes, less, strict=True):
        share = abs(sum(a * b for a, b in zip(axis, across, strict=True)))
        for k in range(3):
            moved[k] += axis[k] * share * by / 2.0
    x, y, z = piece.origin
    return replace(
        piece,
        origin=(round(x + moved[0], 6), round(y + moved[1], 6), round(z + moved[2], 6)),
        length=cut.length,
        width=cut.width,
        thickness=cut.thickness,
        outline=tuple(_moved(point, piece, cut) for point in piece.outline),
    )


def _shoulders(piece: Piece, cut: FrozenPart) -> FrozenPart:
    """Return a cut part from shoulder to shoulder: it was cut with its tabs."""
    u0, u1, v0, v1 = reaches(piece.tabs)
    return replace(cut, length=round(cut.length - u0 - u1, 6), width=round(cut.width - v0 - v1, 6))


def _moved(point: Point2, piece: Piece, cut: FrozenPart) -> Point2:
    """Return a corner of a shape; those in its far half move with its far edges."""
    u, v = point
    du = cut.length - piece.length if u > piece.length / 2.0 else 0.0
    dv = cut.width - piece.width if v > piece.width / 2.0 else 0.0
    return (round(u + du, 6), round(v + dv, 6))
