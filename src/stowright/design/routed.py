"""Inside corners of everything a router cuts, relieved where a square part may have to seat.

Tabs and slots bring their own reliefs. Here the rest gets them: notches in outlines, housings,
stopped grooves and square openings. They are part of the part: its mass, its models and its file
for the router all have them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from math import acos, cos, hypot, radians

from stowright.design.pieces import Piece
from stowright.design.reliefs import slot_reliefs, slot_takes
from stowright.model.geometry import Point2, lies_in
from stowright.model.part import Feature, Relief

__all__ = ["routed"]

#: A wider corner is filled by so little that a part seats in it (judgement).
_SHARP = radians(135.0)
_EPS = 1.0e-6
#: How far round a corner a part must be whole for the corner to be an inside one. [mm]
_ROUND = 0.2


def routed(pieces: Iterable[Piece], cutter: float) -> tuple[Piece, ...]:
    """Return the pieces with the reliefs that a cutter of this diameter needs; 0 for none."""
    return tuple(_routed(piece, cutter) for piece in pieces) if cutter > 0.0 else tuple(pieces)


def _routed(piece: Piece, cutter: float) -> Piece:
    done = {_key(row.corner) for row in piece.reliefs}
    added = [
        row
        for row in (*_of_outline(piece, cutter), *_of_features(piece, cutter))
        if _key(row.corner) not in done
    ]
    return replace(piece, reliefs=(*piece.reliefs, *added)) if added else piece


def _key(point: Point2) -> Point2:
    return (round(point[0], 3), round(point[1], 3))


def _of_outline(piece: Piece, cutter: float) -> Iterator[Relief]:
    """Yield a relief for each sharp corner that points into the piece."""
    points = piece.outline
    for k, corner in enumerate(points):
        before, after = points[k - 1], points[(k + 1) % len(points)]
        p, one = _leg(corner, before)
        q, two = _leg(corner, after)
        if p[0] * q[1] - p[1] * q[0] < _EPS:  # it points out, or is none
            continue
        opening = acos(max(-1.0, min(1.0, p[0] * q[0] + p[1] * q[1])))
        if opening < _SHARP and min(one, two) >= cutter * cos(opening / 2.0):
            by, far = (p[0] + q[0], p[1] + q[1]), hypot(p[0] + q[0], p[1] + q[1])
            half = cutter / 2.0 / far
            yield Relief(
                corner=corner,
                centre=(round(corner[0] + by[0] * half, 6), round(corner[1] + by[1] * half, 6)),
                diameter=cutter,
            )


def _leg(corner: Point2, end: Point2) -> tuple[Point2, float]:
    du, dv = end[0] - corner[0], end[1] - corner[1]
    far = hypot(du, dv)
    return (du / far, dv / far), far


def _of_features(piece: Piece, cutter: float) -> Iterator[Relief]:
    """Yield reliefs for the square corners of what is cut into the faces, away from its edges."""
    for feature in piece.features:
        if feature.face not in {"good", "back"} or len(feature.size) == 1 or feature.radius > 0.0:
            continue
        long, wide = max(feature.size), min(feature.size)
        if not slot_takes(cutter, width=wide, length=long):
            continue
        for row in _corners(piece, feature, cutter):
            if _whole_round(piece, row.corner):
                yield row


def _corners(piece: Piece, feature: Feature, cutter: float) -> tuple[Relief, ...]:
    (u, v), (along, across) = feature.at, (feature.size[0], feature.size[1])
    return slot_reliefs(
        (u, v),
        (u + along, v + across),
        size=(piece.length, piece.width),
        cutter=cutter,
        face="back" if feature.face == "back" else "good",
        depth=feature.depth,
        through=feature.through or feature.depth >= piece.thickness - _EPS,
    )


def _whole_round(piece: Piece, corner: Point2) -> bool:
    """Whether the piece is whole on all sides of a point."""
    u, v = corner
    spots = ((u + a, v + b) for a in (-_ROUND, _ROUND) for b in (-_ROUND, _ROUND))
    return all(lies_in(piece.contour, spot) for spot in spots)
