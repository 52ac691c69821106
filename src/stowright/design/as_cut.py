"""Pieces that are cut already keep the size they have, whatever the sums say now."""

from __future__ import annotations

from dataclasses import replace

from stowright.design.block import BlockPieces
from stowright.design.pieces import Piece
from stowright.model.geometry import Point2
from stowright.model.refit import FrozenPart, Refit

__all__ = ["as_cut", "cut_pieces"]


def as_cut(made: BlockPieces, refit: Refit | None) -> BlockPieces:
    """Return a block whose cut pieces have the sizes that they were cut to."""
    return replace(made, pieces=cut_pieces(made.pieces, refit)) if refit else made


def cut_pieces(pieces: tuple[Piece, ...], refit: Refit | None) -> tuple[Piece, ...]:
    """Return pieces, those that are cut with the sizes that they were cut to.

    The corner that a piece is measured from stays where it is.
    """
    kept = {name: row for row in refit.frozen for name in row.pieces} if refit else {}
    return tuple(_kept(piece, kept.get(piece.id)) for piece in pieces) if kept else pieces


def _kept(piece: Piece, cut: FrozenPart | None) -> Piece:
    if cut is None or (
        abs(piece.length - cut.length) <= 1.0e-6
        and abs(piece.width - cut.width) <= 1.0e-6
        and abs(piece.thickness - cut.thickness) <= 1.0e-6
    ):
        return piece
    return replace(
        piece,
        length=cut.length,
        width=cut.width,
        thickness=cut.thickness,
        outline=tuple(_moved(point, piece, cut) for point in piece.outline),
    )


def _moved(point: Point2, piece: Piece, cut: FrozenPart) -> Point2:
    """Return a corner of a shape; those in its far half move with its far edges."""
    u, v = point
    du = cut.length - piece.length if u > piece.length / 2.0 else 0.0
    dv = cut.width - piece.width if v > piece.width / 2.0 else 0.0
    return (round(u + du, 6), round(v + dv, 6))
