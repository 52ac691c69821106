"""What one panel takes out of another where it is let in: rebates, housings and grooves.

Makers place a let-in panel so that it reaches into its neighbour; the recess is then read off the
two boxes, so a recess is never a hair wider or narrower than what sits in it.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from itertools import accumulate, pairwise
from typing import Literal, NamedTuple

from stowright.design.pieces import Piece, ends_of
from stowright.model.geometry import Axes3, Point3
from stowright.model.part import Feature, FeatureFace
from stowright.units import tidy

__all__ = ["Cut", "let_in", "let_in_all", "let_in_carcass"]

#: A piece as far as it is cut and cuts: name, origin, axes, size.
type _Body = tuple[str, Point3, Axes3, Point3]

_EPS = 1.0e-6


def let_in(piece: Piece, others: Iterable[Piece], *, purpose: str) -> Piece:
    """Return the piece with a recess for every other piece that reaches into it.

    Args:
        piece: The piece that is cut.
        others: The pieces that may reach into it.
        purpose: In words, for the drawing.
    """
    one, *rest = (_body(each, (0.0, 0.0, 0.0)) for each in (piece, *others))
    added = _recesses(_solid(*one), [_solid(*other) for other in rest], Cut(0, (), purpose))
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
    start = pieces[0].origin
    bodies = tuple(_body(piece, start) for piece in pieces)
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
    solids = [_solid(*body) for body in bodies]
    found: dict[int, tuple[Feature, ...]] = {}
    for cut in cuts:
        added = _recesses(solids[cut.piece], [solids[k] for k in cut.others], cut)
        found[cut.piece] = (*found.get(cut.piece, ()), *added)
    return tuple((at, features) for at, features in found.items() if features)


class _Solid(NamedTuple):
    """A body with its ends along the bay's axes, and which of them u, v and w run along."""

    name: str
    origin: Point3
    size: Point3
    low: Point3
    high: Point3
    turns: tuple[tuple[int, bool], ...]


def _body(piece: Piece, start: Point3) -> _Body:
    (x, y, z), (a, b, c) = piece.origin, start
    return (
        piece.name,
        (tidy(x - a), tidy(y - b), tidy(z - c)),
        piece.axes,
        (piece.length, piece.width, piece.thickness),
    )


def _solid(name: str, origin: Point3, axes: Axes3, size: Point3) -> _Solid:
    low, high = ends_of(origin, axes, size)
    return _Solid(
        name=name,
        origin=origin,
        size=size,
        low=low,
        high=high,
        turns=_turns(axes),
    )


@lru_cache(maxsize=64)
def _turns(axes: Axes3) -> tuple[tuple[int, bool], ...]:
    """Return along which axis of the bay each of a part's runs, and whether it runs that way."""
    return tuple((k, axis[k] > 0.0) for axis in axes for k in range(3) if abs(axis[k]) > 0.5)


def _shared(one: _Solid, other: _Solid) -> tuple[Point3, Point3] | None:
    """Return the corners, in the first one's frame, of what two share; None if nothing."""
    (ax, ay, az), (bx, by, bz) = one.low, one.high
    (cx, cy, cz), (dx, dy, dz) = other.low, other.high
    low = (max(ax, cx), max(ay, cy), max(az, cz))
    high = (min(bx, dx), min(by, dy), min(bz, dz))
    if high[0] - low[0] < _EPS or high[1] - low[1] < _EPS or high[2] - low[2] < _EPS:
        return None
    (u0, u1), (v0, v1), (w0, w1) = (
        (tidy(low[k] - one.origin[k]) + 0.0, tidy(high[k] - one.origin[k]) + 0.0)
        if along
        else (tidy(one.origin[k] - high[k]) + 0.0, tidy(one.origin[k] - low[k]) + 0.0)
        for k, along in one.turns
    )  # + 0.0: no minus zero in print
    return (u0, v0, w0), (u1, v1, w1)


def _recesses(solid: _Solid, others: Iterable[_Solid], cut: Cut) -> tuple[Feature, ...]:
    found = []
    for other in others:
        shared = _shared(solid, other)
        if shared is not None:
            words = f"{cut.purpose} {other.name}"
            found.append(_recess(solid.size, shared, words, cut.full_length, cut.kind))
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
