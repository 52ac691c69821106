"""What is already taken in each piece: everything that a new fixing must miss.

Pieces lie along the bay's axes and so does every fixing, so that what a hole, a groove, a runner
or a bolt head takes up is held as a box along the axes (a *solid*). A round hole is held as the
square around it, which errs on the safe side. Row planning asks one question only: which stretches
of a line are blocked for a fixing of a given size.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from stowright.design.pieces import Piece
from stowright.model.geometry import Point2, Point3
from stowright.model.part import Feature, FeatureFace, is_tab_slot

__all__ = [
    "Body",
    "Interval",
    "Occupied",
    "Solid",
    "bodies_of",
    "body_of",
    "feature_solid",
    "kept_free",
    "meets",
    "solid_along",
]

#: (x low, x high, y low, y high, z low, z high) in the bay. [mm]
type Solid = tuple[float, float, float, float, float, float]
type Interval = tuple[float, float]

#: Overlaps up to this are rounding. [mm]
EPS = 1.0e-6
#: Wood kept whole round an opening, and the hole that counts as one (common practice). [mm]
_ROUND_OPENINGS, _LARGE_HOLE = 12.0, 20.0
#: Wood kept whole beside a slot for a tab, so that the screws stand between tabs (judgement). [mm]
_BESIDE_TABS = 5.0


@dataclass(frozen=True, slots=True)
class Body:
    """A piece with its box in the bay and which of its own axes lies along which of the bay's.

    Attributes:
        low, high: Corners of its box. [mm]
        local: For each bay axis, 0, 1 or 2: whether u, v or w lies along it.
        sign: For each bay axis, +1.0 where the piece's axis points up it, else -1.0.
    """

    piece: Piece
    low: Point3
    high: Point3
    local: tuple[int, int, int]
    sign: Point3

    @property
    def id(self) -> str:
        """The piece's id."""
        return self.piece.id

    @property
    def thickness_axis(self) -> int:
        """The bay axis that its thickness lies along."""
        return self.local.index(2)

    def face_towards(self, axis: int, sign: float) -> FeatureFace:
        """Return which of its faces or edges looks along a bay axis."""
        up = sign * self.sign[axis] > 0.0
        match self.local[axis]:
            case 0:
                return "u1" if up else "u0"
            case 1:
                return "v1" if up else "v0"
            case _:
                return "good" if up else "back"

    def uvw(self, point: Sequence[float]) -> Point3:
        """Return a bay point in the piece's own frame, rounded to 0.0001 mm."""
        (x, y, z), (ox, oy, oz), (sx, sy, sz) = point, self.piece.origin, self.sign
        found = [0.0, 0.0, 0.0]
        found[self.local[0]] = round(sx * (x - ox), 4) + 0.0
        found[self.local[1]] = round(sy * (y - oy), 4) + 0.0
        found[self.local[2]] = round(sz * (z - oz), 4) + 0.0
        return (found[0], found[1], found[2])

    def at_on(self, face: FeatureFace, point: Sequence[float]) -> Point2:
        """Return where a bay point lies on one of its faces or edges, as features give it."""
        u, v, w = self.uvw(point)
        if face in {"u0", "u1"}:
            return (v, w)
        if face in {"v0", "v1"}:
            return (u, w)
        return (u, v)

    def solid(self) -> Solid:
        """Return the whole piece as a solid."""
        (x0, y0, z0), (x1, y1, z1) = self.low, self.high
        return (x0, x1, y0, y1, z0, z1)


def body_of(piece: Piece) -> Body:
    """Return a piece's body; its axes must lie along the bay's."""
    local, sign = [0, 0, 0], [0.0, 0.0, 0.0]
    low, high = list(piece.origin), list(piece.origin)
    sizes = (piece.length, piece.width, piece.thickness)
    for j, axis in enumerate(piece.axes):
        k = max(range(3), key=lambda i: abs(axis[i]))
        local[k], sign[k] = j, axis[k]
        if axis[k] > 0.0:
            high[k] += sizes[j]
        else:
            low[k] -= sizes[j]
    return Body(
        piece=piece,
        low=(low[0], low[1], low[2]),
        high=(high[0], high[1], high[2]),
        local=(local[0], local[1], local[2]),
        sign=(sign[0], sign[1], sign[2]),
    )


def bodies_of(pieces: Iterable[Piece]) -> dict[str, Body]:
    """Return the bodies of pieces by id."""
    return {piece.id: body_of(piece) for piece in pieces}


def feature_solid(body: Body, feature: Feature) -> Solid:
    """Return the box around what a feature takes out of a piece, in the bay."""
    size = (body.piece.length, body.piece.width, body.piece.thickness)
    a, b = feature.at
    depth = size[2] if feature.through else feature.depth
    if len(feature.size) == 1:
        half = feature.size[0] / 2.0
        first, second = (a - half, a + half), (b - half, b + half)
    else:
        first, second = (a, a + feature.size[0]), (b, b + feature.size[1])
    match feature.face:
        case "good":
            ranges = (first, second, (size[2] - depth, size[2]))
        case "back":
            ranges = (first, second, (0.0, depth))
        case "u0":
            ranges = ((0.0, feature.depth), first, second)
        case "u1":
            ranges = ((size[0] - feature.depth, size[0]), first, second)
        case "v0":
            ranges = (first, (0.0, feature.depth), second)
        case "v1":
            ranges = (first, (size[1] - feature.depth, size[1]), second)
    found: list[float] = []
    for k in range(3):
        low, high = ranges[body.local[k]]
        ends = sorted(
            (body.piece.origin[k] + body.sign[k] * low, body.piece.origin[k] + body.sign[k] * high)
        )
        found.extend(ends)
    return (found[0], found[1], found[2], found[3], found[4], found[5])


def kept_free(body: Body, feature: Feature) -> Solid:
    """Return what a feature takes up with the wood round it that no fixing may weaken."""
    solid = feature_solid(body, feature)
    if is_tab_slot(feature):
        return _grown(solid, _BESIDE_TABS)
    opening = feature.kind in {"hand-hole", "cut-out", "vent", "notch"}
    if not opening and not (feature.kind == "hole" and feature.size[0] > _LARGE_HOLE):
        return solid
    return _grown(solid, _ROUND_OPENINGS)


def _grown(solid: Solid, r: float) -> Solid:
    x0, x1, y0, y1, z0, z1 = solid
    return (x0 - r, x1 + r, y0 - r, y1 + r, z0 - r, z1 + r)


def solid_along(axis: int, start: float, end: float, centre: Sequence[float], r: float) -> Solid:
    """Return the square prism around a round thing that runs along an axis.

    Args:
        axis: The bay axis it runs along.
        start: Where it begins on that axis. [mm]
        end: Where it ends, on either side of the start. [mm]
        centre: A point on its centre line.
        r: Its radius. [mm]
    """
    low, high = (start, end) if start < end else (end, start)
    x, y, z = centre
    if axis == 0:
        return (low, high, y - r, y + r, z - r, z + r)
    if axis == 1:
        return (x - r, x + r, low, high, z - r, z + r)
    return (x - r, x + r, y - r, y + r, low, high)


def meets(a: Solid, b: Solid, clear: float = 0.0) -> bool:
    """Whether two solids overlap, or come nearer than ``clear`` on every axis."""
    return (
        a[0] - clear < b[1] - EPS
        and b[0] - clear < a[1] - EPS
        and a[2] - clear < b[3] - EPS
        and b[2] - clear < a[3] - EPS
        and a[4] - clear < b[5] - EPS
        and b[4] - clear < a[5] - EPS
    )


@dataclass(slots=True)
class Occupied:
    """What is taken, by piece id; ``air`` is what stands proud of every piece.

    Attributes:
        hard: Holes, recesses, fixings: never to be hit.
        soft: Where a runner will lie on a face: a flush head may lie under it when there is no
            other place, fitted before the runner.
        covers: Faces that a piece already fixed lies on: no head can be driven there any more.
        moving: What drawers and trays sweep, shut to fully open.
    """

    bodies: dict[str, Body]
    hard: dict[str, list[Solid]] = field(default_factory=dict)
    soft: dict[str, list[Solid]] = field(default_factory=dict)
    covers: dict[str, list[Solid]] = field(default_factory=dict)
    moving: list[Solid] = field(default_factory=list)

    @classmethod
    def of(cls, pieces: Iterable[Piece]) -> Occupied:
        """Return the registry with every feature that the pieces have already."""
        made = cls(bodies=bodies_of(pieces))
        for body in made.bodies.values():
            made.hard[body.id] = [kept_free(body, f) for f in body.piece.features]
        return made

    def take(self, where: str, solid: Solid) -> None:
        """Note that a solid is taken in a piece (or in ``air``)."""
        self.hard.setdefault(where, []).append(solid)

    def shade(self, where: str, solid: Solid) -> None:
        """Note a soft solid on a piece."""
        self.soft.setdefault(where, []).append(solid)

    def cover(self, where: str, solid: Solid) -> None:
        """Note that a piece now lies on another one's face."""
        self.covers.setdefault(where, []).append(solid)

    def sweep(self, body: Body, axis: int, travel: float) -> None:
        """Note what a sliding piece passes through: its box drawn out along an axis."""
        low, high = list(body.low), list(body.high)
        if travel < 0.0:
            low[axis] += travel
        else:
            high[axis] += travel
        self.moving.append((low[0], high[0], low[1], high[1], low[2], high[2]))

    def standing(self, *, but: Iterable[str]) -> list[Solid]:
        """Return every fixed piece as a solid, but for those named."""
        left_out = frozenset(but)
        return [
            body.solid()
            for body in self.bodies.values()
            if body.piece.body == "fixed" and body.id not in left_out
        ]

    def free(self, where: Iterable[str], solid: Solid, *, clear: float, soft: bool = True) -> bool:
        """Whether a solid misses everything that is taken in the pieces named."""
        for name in where:
            if any(meets(solid, other, clear) for other in self.hard.get(name, ())):
                return False
            if soft and any(meets(solid, other) for other in self.soft.get(name, ())):
                return False
        return True
