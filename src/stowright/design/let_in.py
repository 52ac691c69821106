"""What one panel takes out of another where it is let in: rebates, housings and grooves.

Makers place a let-in panel so that it reaches into its neighbour; the recess is then read off the
two boxes, so a recess is never a hair wider or narrower than what sits in it.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from itertools import accumulate, pairwise
from typing import Literal, NamedTuple

from stowright.design.pieces import Piece
from stowright.model.geometry import Axes3, Box, Point3
from stowright.model.part import Feature, FeatureFace
from stowright.units import tidy

__all__ = ["Cut", "let_in", "let_in_all", "let_in_carcass", "local_overlap"]

#: A piece as far as it is cut and cuts: name, origin, axes, size.
type _Body = tuple[str, Point3, Axes3, Point3]

_EPS = 1.0e-6


def local_overlap(piece: Piece, other: Box) -> tuple[Point3, Point3] | None:
    """Return the corners, in the piece's frame, of what a box shares with it; None if nothing."""
    shared = piece.box.shared(other, least=_EPS)
    if shared is None:
        return None
    (u0, v0, w0), (u1, v1, w1) = piece.to_local(shared[0]), piece.to_local(shared[1])
    low = (min(u1, u0), min(v1, v0), min(w1, w0))
    high = (max(u0, u1), max(v0, v1), max(w0, w1))
    return _tidied(low), _tidied(high)


def _tidied(point: Point3) -> Point3:
    u, v, w = point
    return (tidy(u) + 0.0, tidy(v) + 0.0, tidy(w) + 0.0)  # + 0.0: no minus zero in print


def let_in(piece: Piece, others: Iterable[Piece], *, purpose: str) -> Piece:
    """Return the piece with a recess for every other piece that reaches into it.

    Args:
        piece: The piece that is cut.
        others: The pieces that may reach into it.
        purpose: In words, for the drawing.
    """
    added = _recesses(piece, others, Cut(0, (), purpose))
    return piece.with_added(added) if added else piece


class Cut(NamedTuple):
    """What is cut into one of some pieces for others of them.

    Attributes:
        piece: Which is cut, by its place among them.
        others: Which may reach into it.
        purpose: In words, for the drawing.
        full_length: Run the recess right along this axis (a groove is cut from end to end).
        kind: ``groove`` to name it so; else a rebate at an edge, a housing away from it.
    """

    piece: int
    others: tuple[int, ...]
    purpose: str
    full_length: Literal["", "u", "v"] = ""
    kind: Literal["", "groove"] = ""


def let_in_all(pieces: tuple[Piece, ...], cuts: tuple[Cut, ...]) -> tuple[Piece, ...]:
    """Return pieces that stand in one another's way, those that are cut with their recesses.

    Boxes and carcasses of one size have the same recesses wherever they stand, so that each size
    is worked out once.
    """
    if not pieces:
        return pieces
    x, y, z = pieces[0].origin
    bodies = tuple(
        (
            piece.name,
            (tidy(piece.origin[0] - x), tidy(piece.origin[1] - y), tidy(piece.origin[2] - z)),
            piece.axes,
            (piece.length, piece.width, piece.thickness),
        )
        for piece in pieces
    )
    found = list(pieces)
    for at, features in _all_recesses(bodies, cuts):
        found[at] = pieces[at].with_added(features)
    return tuple(found)


def let_in_carcass(
    groups: tuple[tuple[Piece, ...], ...], inner: tuple[Piece, ...]
) -> list[tuple[Piece, ...]]:
    """Return sides, floors, tops and partitions with what is cut into them.

    Into sides for all that lies between them, into floors and tops for partitions, into partitions
    for shelves and backs.
    """
    pieces = tuple(piece for group in (*groups, inner) for piece in group)
    ends = (0, *accumulate(map(len, groups)))
    sides, floors, tops, partitions = (range(a, b) for a, b in pairwise(ends))
    within = tuple(range(ends[-1], len(pieces)))
    for_side = (*floors, *tops, *within)
    cuts = (
        *(Cut(at, for_side, "for the") for at in sides),
        *(Cut(at, tuple(partitions), "for the") for at in (*floors, *tops)),
        *(Cut(at, within, "for the") for at in partitions),
    )
    cut = let_in_all(pieces, cuts)
    return [cut[a:b] for a, b in pairwise(ends)]


@lru_cache(maxsize=1024)
def _all_recesses(
    bodies: tuple[_Body, ...], cuts: tuple[Cut, ...]
) -> tuple[tuple[int, tuple[Feature, ...]], ...]:
    """Return what is cut into which of some bodies: name, origin, axes and size of each."""
    pieces = [_piece(*body) for body in bodies]
    found: dict[int, tuple[Feature, ...]] = {}
    for cut in cuts:
        added = _recesses(pieces[cut.piece], (pieces[k] for k in cut.others), cut)
        found[cut.piece] = (*found.get(cut.piece, ()), *added)
    return tuple((at, features) for at, features in found.items() if features)


def _piece(name: str, origin: Point3, axes: Axes3, size: Point3) -> Piece:
    return Piece(
        id="",
        name=name,
        role="",
        block="",
        module="",
        opening="",
        body="",
        material="",
        origin=origin,
        axes=axes,
        length=size[0],
        width=size[1],
        thickness=size[2],
    )


def _recesses(piece: Piece, others: Iterable[Piece], cut: Cut) -> tuple[Feature, ...]:
    size = (piece.length, piece.width, piece.thickness)
    found = []
    for other in others:
        shared = local_overlap(piece, other.box)
        if shared is not None:
            words = f"{cut.purpose} {other.name}"
            found.append(_recess(size, shared, words, cut.full_length, cut.kind))
    return tuple(found)


@lru_cache(maxsize=4096)
def _recess(
    size: Point3,
    shared: tuple[Point3, Point3],
    purpose: str,
    full_length: str,
    kind: str,
) -> Feature:
    """Return a recess in a piece of some length, width and thickness; equal ones are made once."""
    length, width, thickness = size
    (u0, v0, w0), (u1, v1, w1) = shared
    if full_length == "u":
        u0, u1 = 0.0, length
    elif full_length == "v":
        v0, v1 = 0.0, width
    from_good = w1 > thickness - _EPS
    face: FeatureFace = "good" if from_good else "back"
    # What runs along an edge is a rebate; what only ends at one is a housing.
    if u1 - u0 >= v1 - v0:
        at_edge = v0 < _EPS or v1 > width - _EPS
    else:
        at_edge = u0 < _EPS or u1 > length - _EPS
    return Feature(
        kind="groove" if kind == "groove" else "rebate" if at_edge else "slot",
        face=face,
        at=(u0, v0),
        size=(tidy(u1 - u0), tidy(v1 - v0)),
        depth=tidy(w1 - w0),
        through=False,
        purpose=purpose,
    )
