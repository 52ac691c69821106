"""Pieces that are cut already keep the size they have, whatever the sums say now."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from stowright.design.block import BlockPieces
from stowright.design.pieces import Piece
from stowright.design.tab_shapes import reaches
from stowright.model.geometry import Box, Point2, Point3, Span
from stowright.model.refit import FrozenPart, Refit

__all__ = ["as_cut", "cut_pieces"]

_SAME = 1.0e-6
_SIDES = frozenset({"carcass-side", "drawer-side", "tray-cheek"})


def as_cut(
    made: BlockPieces, refit: Refit | None, thickness: Callable[[str], float]
) -> BlockPieces:
    """Return a block whose cut pieces have the sizes that they were cut to.

    What lies between uprights and is cut short lies in the middle; everything else stays where the
    corner is that it is measured from. A piece that is not cut yet has the thickness of its sheet,
    also where its place allows for thicker ones that are cut.

    Args:
        made: The block.
        refit: What is cut.
        thickness: Thickness in use of each material. [mm]
    """
    if refit is None:
        return made
    pieces = cut_pieces(made.pieces, refit, across=made.design.axes[0])
    if any(row.differs for row in refit.frozen):
        pieces = _as_the_sheet(pieces, refit, thickness)
    return replace(made, pieces=pieces)


def _as_the_sheet(
    pieces: tuple[Piece, ...], refit: Refit, thickness: Callable[[str], float]
) -> tuple[Piece, ...]:
    """Return pieces, those still to be cut as thick as their sheet: sides from the inside out."""
    cut = {name for row in refit.frozen for name in row.pieces}
    groups: dict[tuple[str, str], list[Piece]] = {}
    for piece in pieces:
        groups.setdefault((piece.module, piece.opening), []).append(piece)
    found = []
    for piece in pieces:
        t = thickness(piece.material)
        if piece.id in cut or abs(piece.thickness - t) <= _SAME:
            found.append(piece)
        else:
            found.append(_as_thick(piece, t, groups[piece.module, piece.opening]))
    return tuple(found)


def _as_thick(piece: Piece, t: float, group: list[Piece]) -> Piece:
    """Return a piece of another thickness; a side keeps its inner face, another its outer one."""
    axis = next(k for k in range(3) if abs(piece.axes[2][k]) > 0.5)
    own = _spans(piece.box)[axis]
    ends = [_spans(other.box)[axis] for other in group]
    middle = (min(end.low for end in ends) + max(end.high for end in ends)) / 2.0
    upper_inside = own.middle < middle
    keeps_upper = upper_inside == (piece.role in _SIDES)
    start = own.high - t if keeps_upper else own.low
    origin = list(piece.origin)
    origin[axis] = round(start if piece.axes[2][axis] > 0.0 else start + t, 6)
    return replace(piece, thickness=t, origin=(origin[0], origin[1], origin[2]))


def _spans(box: Box) -> tuple[Span, Span, Span]:
    return (box.x, box.y, box.z)


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
