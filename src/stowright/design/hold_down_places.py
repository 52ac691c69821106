"""Carcasses that stand on the load floor, and where in them a hold-down bolt may be looked for."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil

from stowright.design.fixing_ledger import Ledger
from stowright.design.fixing_space import EPS, Body, Interval
from stowright.design.pieces import Piece
from stowright.model.design import BlockDesign
from stowright.model.geometry import Point2

__all__ = [
    "NEAR_UPRIGHT",
    "Berth",
    "Carcass",
    "Quarter",
    "berths",
    "carcasses_of",
    "packer_under",
    "say_what_is_not_held",
]

#: A bolt stands no further than this from an upright: the floor between does not carry. [mm]
NEAR_UPRIGHT = 60.0
#: From the end of a floor panel, of a floor rail, and from the edge of a packer, to a bolt. [mm]
_END, _RAIL_END, PACKER_EDGE = 30.0, 20.0, 15.0
#: Pitch at which places are tried, along the depth and away from an upright. [mm]
_STEP, _OFFSET = 30.0, 5.0

#: Half of a packer that is added under a bolt, and the least of it on any side. [mm]
_PACKER_HALF, _PACKER_LEAST = 45.0, 20.0

#: A quarter of a carcass: (towards the back, on the high side of the axis across).
type Quarter = tuple[bool, bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class Carcass:
    """A carcass that stands on the load floor.

    Attributes:
        across, depth: Bay axes that its width and depth lie along.
        inward: +1.0 where its depth runs up that axis, else -1.0.
        floors: Floor panel or floor rails.
        uprights: Sides and partitions, from the low end of the axis across.
        packers: What its floors rest on; empty where they lie on the load floor.
    """

    block: BlockDesign
    module: str
    across: int
    depth: int
    inward: float
    floors: tuple[Body, ...]
    uprights: tuple[Body, ...]
    packers: tuple[Body, ...]

    @property
    def name(self) -> str:
        """Block and module in words."""
        return f"{self.block.name}, module {self.module}"

    def point(self, across: float, depth: float) -> Point2:
        """Return (x, y) of a place given on the axes across and depth."""
        return (depth, across) if self.across == 1 else (across, depth)

    def along(self, spot: Point2) -> tuple[float, float]:
        """Return (across, depth) of a place (x, y)."""
        return (spot[1], spot[0]) if self.across == 1 else spot

    def quarter(self, spot: Point2) -> Quarter:
        """Return which quarter a place lies in."""
        across, depth = self.along(spot)
        a, d = self.across, self.depth
        middle = (self.uprights[0].low[a] + self.uprights[-1].high[a]) / 2.0
        half = (min(f.low[d] for f in self.floors) + max(f.high[d] for f in self.floors)) / 2.0
        return (self.inward * (depth - half) > 0.0, across > middle)

    def floor_at(self, spot: Point2) -> Body | None:
        """Return the floor over a place, at least 10 inside its edges."""
        return next(
            (
                f
                for f in self.floors
                if all(f.low[k] + 10.0 <= spot[k] <= f.high[k] - 10.0 for k in (0, 1))
            ),
            None,
        )

    def packer_at(self, spot: Point2, edge: float = PACKER_EDGE) -> Body | None:
        """Return the packer under a place that lies at least ``edge`` inside it."""
        return next(
            (
                p
                for p in self.packers
                if all(p.low[k] + edge <= spot[k] <= p.high[k] - edge for k in (0, 1))
            ),
            None,
        )

    def from_upright(self, spot: Point2) -> float:
        """Return how far a place is from the nearest upright's face. [mm]."""
        across, a = self.along(spot)[0], self.across
        return min(min(abs(across - u.low[a]), abs(across - u.high[a])) for u in self.uprights)


@dataclass(frozen=True, slots=True, kw_only=True)
class Berth:
    """A line from an upright's inner face, at one depth, on which a bolt may stand.

    Attributes:
        seat: The packer under it, or None.
        face: Where the upright's face is on the axis across. [mm]
        way: +1.0 where the carcass lies on the high side of that face, else -1.0.
        depth: Where the line is on the axis depth. [mm]
        low, high: Range on the axis across that floor and packer allow a hole in. [mm]
    """

    floor: Body
    seat: Body | None
    face: float
    way: float
    depth: float
    low: float
    high: float

    def places(self, reach: float, blocked: Iterable[Interval]) -> list[float]:
        """Return places on the axis across that are free, nearest to the upright first.

        Args:
            reach: Radius that has to be free round the bolt. [mm]
            blocked: Stretches of that axis that no bolt may stand in.
        """
        first = float(ceil(reach))
        ends = sorted((self.way * (self.low - self.face), self.way * (self.high - self.face)))
        low, high = max(first, ends[0]), min(NEAR_UPRIGHT, ends[1])
        walls = []
        for a, b in blocked:
            one, two = self.way * (a - self.face), self.way * (b - self.face)
            wall = (one, two) if one < two else (two, one)
            if wall[0] < high and wall[1] > low:
                walls.append(wall)
        offsets = {first + i * _OFFSET for i in range(int((high - first) // _OFFSET) + 1)}
        offsets |= {float(ceil(end - EPS)) for _, end in walls}
        return [
            round(self.face + self.way * offset, 4)
            for offset in sorted(offsets)
            if low <= offset <= high and not any(a + EPS < offset < b - EPS for a, b in walls)
        ]


def carcasses_of(ledger: Ledger, block: BlockDesign) -> Iterator[Carcass]:
    """Yield the carcasses of a block that stand on the load floor or on packers on it."""
    across = max(range(2), key=lambda k: abs(block.axes[0][k]))
    bodies = [b for b in ledger.space.bodies.values() if b.piece.block == block.name]
    packers = [b for b in bodies if b.piece.role == "packer"]
    for module in block.modules:
        mine = [b for b in bodies if b.piece.module == module.name]
        floors = [b for b in mine if b.piece.role in {"carcass-floor", "floor-rail"}]
        uprights = [b for b in mine if b.piece.role in {"carcass-side", "partition"}]
        under = [p for p in packers if any(_carries(p, floor) for floor in floors)]
        stands = bool(under) or any(floor.low[2] < 1.0 for floor in floors)
        if stands and len(uprights) > 1:
            yield Carcass(
                block=block,
                module=module.name,
                across=across,
                depth=1 - across,
                inward=block.axes[1][1 - across],
                floors=tuple(floors),
                uprights=tuple(sorted(uprights, key=lambda b: b.low[across])),
                packers=tuple(under),
            )


def say_what_is_not_held(ledger: Ledger, block: BlockDesign, standing: Container[str]) -> None:
    """Say of each carcass that stands on no part of the load floor how it wants to be held.

    Args:
        ledger: The account, for the warning.
        block: The block.
        standing: Names of the carcasses that do stand on it.
    """
    for module in block.modules:
        name = f"{block.name}, module {module.name}"
        if name in standing:
            continue
        bearers = any(
            body.piece.role == "floor-bearer" and body.piece.block == block.name
            for body in ledger.space.bodies.values()
        )
        what = "it stands on bearers" if bearers else "nothing of it stands on the load floor"
        ledger.warn(
            f"{name}: no hold-down bolt: {what}, {module.box.z.low:.0f} mm up; bolt angles to "
            + ("the bearers' feet and" if bearers else "it and")
            + " to the load floor or to anchors, four at least, before it is loaded"
        )


def _carries(packer: Body, floor: Body) -> bool:
    return abs(packer.high[2] - floor.low[2]) < 1.0 and all(
        min(packer.high[k], floor.high[k]) - max(packer.low[k], floor.low[k]) > 1.0 for k in (0, 1)
    )


def berths(carcass: Carcass, quarter: Quarter | None, *, on_packers: bool = True) -> list[Berth]:
    """Return berths, those nearest to the face first, or to the back for a quarter there.

    Args:
        carcass: The carcass.
        quarter: Only this quarter of it, beside its outer upright; None for all uprights.
        on_packers: Only over packers, where the carcass has any.
    """
    found: list[Berth] = []
    for floor in carcass.floors:
        for seat in _seats(carcass, floor, on_packers=on_packers):
            low, high = _range_across(carcass, floor, seat)
            for depth in _depths(carcass, floor, seat):
                found += [
                    Berth(
                        floor=floor,
                        seat=seat,
                        face=face,
                        way=way,
                        depth=depth,
                        low=low,
                        high=high,
                    )
                    for face, way in _faces(carcass, quarter)
                    if _may_reach(low, high, face, way)
                ]
    if quarter is not None:
        found = [
            b
            for b in found
            if carcass.quarter(carcass.point(b.face + b.way, b.depth))[0] == quarter[0]
        ]
    sign = carcass.inward * (-1.0 if quarter is not None and quarter[0] else 1.0)
    found.sort(key=lambda b: sign * b.depth)
    return found


def _may_reach(low: float, high: float, face: float, way: float) -> bool:
    near, far = sorted((face, face + way * NEAR_UPRIGHT))
    return min(high, far) >= max(low, near)


def _seats(carcass: Carcass, floor: Body, *, on_packers: bool) -> Sequence[Body | None]:
    if not carcass.packers or not on_packers:
        return (None,)
    return tuple(p for p in carcass.packers if _carries(p, floor))


def _depths(carcass: Carcass, floor: Body, seat: Body | None) -> list[float]:
    """Return depths on a packer, stepped from its end nearest the face to its other end."""
    d = carcass.depth
    end = _RAIL_END if floor.piece.role == "floor-rail" else _END
    low, high = floor.low[d] + end, floor.high[d] - end
    if seat is not None:
        low, high = max(low, seat.low[d] + PACKER_EDGE), min(high, seat.high[d] - PACKER_EDGE)
    if high < low:
        return []
    steps = int((high - low) // _STEP)
    if carcass.inward > 0.0:
        found = [round(low + i * _STEP, 4) for i in range(steps + 1)]
        return found if high - found[-1] < 1.0 else [*found, round(high, 4)]
    found = [round(high - i * _STEP, 4) for i in range(steps + 1)]
    return found if found[-1] - low < 1.0 else [*found, round(low, 4)]


def _range_across(carcass: Carcass, floor: Body, seat: Body | None) -> tuple[float, float]:
    a = carcass.across
    low, high = floor.low[a] + PACKER_EDGE, floor.high[a] - PACKER_EDGE
    if seat is None:
        return low, high
    return max(low, seat.low[a] + PACKER_EDGE), min(high, seat.high[a] - PACKER_EDGE)


def _faces(carcass: Carcass, quarter: Quarter | None) -> list[tuple[float, float]]:
    """Return upright faces that look into the carcass, the outer one of a quarter first."""
    a = carcass.across
    rising = [(u.high[a], 1.0) for u in carcass.uprights[:-1]]
    falling = [(u.low[a], -1.0) for u in reversed(carcass.uprights[1:])]
    if quarter is None:
        return [*rising, *falling]
    return falling[:1] if quarter[1] else rising[:1]


def packer_under(
    carcass: Carcass, floor: Body, spot: Point2, others: Iterable[Body], *, number: int
) -> Piece | None:
    """Return a packer of its own under a place, cut short where another one lies.

    Args:
        carcass: The carcass; the packer is made of what its other packers are.
        floor: The floor that it stands under.
        spot: The place (x, y).
        others: The packers that are there.
        number: For its id.

    Returns:
        The packer, or None where less than 20 mm of it would be left on any side of the place.
    """
    like = carcass.packers[0].piece
    low = [max(spot[k] - _PACKER_HALF, floor.low[k]) for k in (0, 1)]
    high = [min(spot[k] + _PACKER_HALF, floor.high[k]) for k in (0, 1)]
    for other in others:
        if any(other.low[k] >= high[k] or other.high[k] <= low[k] for k in (0, 1)):
            continue
        beside = [k for k in (0, 1) if not other.low[k] < spot[k] < other.high[k]]
        if not beside:
            return None
        k = max(beside, key=lambda n: max(other.low[n] - spot[n], spot[n] - other.high[n]))
        if other.low[k] >= spot[k]:
            high[k] = other.low[k]
        else:
            low[k] = other.high[k]
    if any(min(spot[k] - low[k], high[k] - spot[k]) < _PACKER_LEAST for k in (0, 1)):
        return None
    return replace(
        like,
        id=f"{like.block}/packer-a{number}",
        name="packer under a bolt",
        origin=(low[0], low[1], floor.low[2] - like.thickness),
        axes=((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
        length=round(high[0] - low[0], 4),
        width=round(high[1] - low[1], 4),
        features=(),
    )
