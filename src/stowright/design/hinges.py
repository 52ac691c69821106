"""Hinges of locker doors and hinged wings, each with its screws, and where the hinge line lies.

An inset door turns about a pin in the middle of its gap, at the face: one leaf on the door's edge,
one on the panel that it hangs on. An overlay door gets concealed hinges, let into its back. A
hinged wing lies beside a fixed deck: a long hinge joins the two from above.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from math import ceil

from stowright.design.fixing_ledger import Ledger
from stowright.design.fixing_rows import wanted_places
from stowright.design.fixing_space import Body, feature_solid
from stowright.design.plates import Plate, joint_of, put_fitting, put_plate, takes_plate
from stowright.model.catalogue import Catalogue, Hardware, Screw
from stowright.model.design import BlockDesign, OpeningDesign
from stowright.model.geometry import Point3
from stowright.model.job import Fill
from stowright.model.part import Feature

__all__ = ["panel_at", "place_door_hinges", "place_lid_hinges"]

#: A door this wide gets a third hinge (common practice). [mm]
_THIRD_FROM = 600.0
#: A hinge longer than this is no door hinge here. [mm]
_LONGEST = 100.0
#: A long hinge takes at least this share of a lid's edge (common practice).
_SHARE = 2.0 / 3.0
#: Widest gap that a hinge's knuckle spans, and the widest between a lid and the deck. [mm]
_GAP_MOST = 12.0
#: How far a hinge moves along its edge to find free wood, and in what steps. [mm]
_REACH, _STEP = 90.0, 5.0
#: A concealed hinge's cup: diameter, depth, from its edge to the door's; its plate's holes behind
#: the panel's front edge and apart (from memory). [mm]
_CUP, _CUP_DEPTH, _CUP_EDGE = 35.0, 11.5, 5.0
_PLATE_BACK, _PLATE_HALF = 37.0, 16.0
#: Wood left behind a cup on the thinnest sheet (judgement). [mm]
_BEHIND_CUP = 1.5
#: How far a leaf may reach past a door's edge on the inside (judgement), and the wood between a cup
#: and any other hole. [mm]
_PAST_EDGE, _ROUND_CUP = 4.0, 8.0
#: Share of a long hinge's holes that must find wood.
_MOST_HOLES = 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class _Door:
    """A door and what it hangs on.

    Attributes:
        along, into: The bay axes along the hinge and into the block.
        inward: Which way into the block is on its axis.
        up: +1.0 where it hinges at its lower edge and the screws run up into it, else -1.0.
        face: Where its outer face lies. [mm]
        edge, seat: Heights of the hinged edge and of the panel it hangs on. [mm]
    """

    opening: OpeningDesign
    body: Body
    hang: Body
    along: int
    into: int
    inward: float
    up: float
    face: float
    edge: float
    seat: float

    def point(self, along: float, depth: float, z: float) -> Point3:
        """Return a bay point: along the hinge, behind the outer face, at a height."""
        found = [0.0, 0.0, z]
        found[self.along] = along
        found[self.into] = self.face + self.inward * depth
        return (found[0], found[1], found[2])

    @property
    def step(self) -> str:
        """The stage it is hung in: with its front, or once the deck that it hangs on is there."""
        return "deck" if self.hang.piece.role == "deck" else "front"

    @property
    def overlay(self) -> bool:
        """Whether it lies before the panel's edge."""
        return self.opening.build.front == "overlay"

    @property
    def pin(self) -> Point3:
        """A point on the hinge line, in the middle of the door."""
        z = self.edge if self.overlay else (self.edge + self.seat) / 2.0
        middle = (self.body.low[self.along] + self.body.high[self.along]) / 2.0
        return self.point(round(middle, 6), 0.0, round(z, 6))


def place_door_hinges(
    ledger: Ledger, blocks: Iterable[BlockDesign], fills: Mapping[str, Fill]
) -> None:
    """Hang every locker door."""
    for block in blocks:
        for opening in block.openings:
            door = _door_body(ledger, opening)
            if door is not None:
                lifts = opening.name in fills and fills[opening.name].door == "lift"
                _hang_door(ledger, block, opening, door, lifts=lifts)


def _door_body(ledger: Ledger, opening: OpeningDesign) -> Body | None:
    return next(
        (
            b
            for b in ledger.space.bodies.values()
            if b.piece.role == "door" and b.piece.opening == opening.name
        ),
        None,
    )


def _hang_door(
    ledger: Ledger, block: BlockDesign, opening: OpeningDesign, body: Body, *, lifts: bool
) -> None:
    door = _door(ledger, block, opening, body, lifts=lifts)
    if door is None:
        ledger.warn(
            f"{opening.name}: nothing {'above' if lifts else 'below'} the door at its face to "
            "hinge it to; give it a rail or a shelf there, or let it open the other way"
        )
        return
    ledger.pivots[opening.name] = door.pin
    row = _hinge_row(ledger.catalogue, door)
    if row is None:
        ledger.warn(f"{opening.name}: no hinge in the catalogue for its door")
        return
    if door.overlay and ledger.limits(body)[0] - _CUP_DEPTH < _BEHIND_CUP:
        ledger.warn(
            f"{opening.name}: a concealed hinge's cup is {_CUP_DEPTH:g} mm deep and leaves too "
            f"little of a {body.piece.thickness:g} mm overlay door; make it inset, or thicker"
        )
        return
    _hinge_along(ledger, door, row)


def _door(
    ledger: Ledger, block: BlockDesign, opening: OpeningDesign, body: Body, *, lifts: bool
) -> _Door | None:
    along = max(range(2), key=lambda k: abs(block.axes[0][k]))
    into = 1 - along
    inward = block.axes[1][into]
    edge = body.high[2] if lifts else body.low[2]
    clear = opening.clear.z
    seat = clear.high if lifts else clear.low
    hang = panel_at(ledger, opening, seat, (along, into), lifts=lifts)
    if hang is None:
        return None
    return _Door(
        opening=opening,
        body=body,
        hang=hang,
        along=along,
        into=into,
        inward=inward,
        up=-1.0 if lifts else 1.0,
        face=body.low[into] if inward > 0.0 else body.high[into],
        edge=edge,
        seat=hang.low[2] if lifts else hang.high[2],
    )


def panel_at(
    ledger: Ledger, opening: OpeningDesign, seat: float, axes: tuple[int, int], *, lifts: bool
) -> Body | None:
    """Return the panel at an opening's floor or ceiling that reaches its face."""
    along, into = axes
    ranges = (
        (opening.clear.x.low, opening.clear.x.high),
        (opening.clear.y.low, opening.clear.y.high),
    )
    face = opening.at[into]
    found = [
        body
        for body in ledger.space.bodies.values()
        if body.piece.body == "fixed"
        and abs((body.low[2] if lifts else body.high[2]) - seat) < _GAP_MOST
        and body.low[into] - 1.0 <= face <= body.high[into] + 1.0
        and min(body.high[along], ranges[along][1]) - max(body.low[along], ranges[along][0])
        > 0.8 * (ranges[along][1] - ranges[along][0])
    ]
    named = opening.bounds[3 if lifts else 2]
    return min(found, key=lambda b: (b.id != named, abs(b.low[2] - seat), b.id), default=None)


def _hinge_row(catalogue: Catalogue, door: _Door) -> Hardware | None:
    """Return the hinge: one let into the back of an overlay door, else the widest for its edge."""
    rows = [row for row in catalogue.hardware if row.kind == "hinge"]
    if door.overlay:
        return next((row for row in rows if row.name == "concealed-hinge"), None)
    room = door.body.piece.thickness + _PAST_EDGE
    fitting = [
        row for row in rows if row.size[1] / 2.0 <= room and row.size[0] <= _LONGEST and row.holes
    ]
    return max(fitting, key=lambda row: (row.size[1], -row.size[0], row.name), default=None)


def _hinge_along(ledger: Ledger, door: _Door, row: Hardware) -> None:
    low, high = door.body.low[door.along], door.body.high[door.along]
    long = row.size[0] / 2.0
    wide = high - low
    count = 3 if wide >= _THIRD_FROM else 2
    end = long + 20.0
    pitch = (wide - 2.0 * end) / (count - 1) + 1.0 if wide > 2.0 * end + 60.0 else 1.0e6
    joint = ledger.next_joint()
    placed: list[float] = []
    used: list[Screw] = []
    screws = 0
    for want in wanted_places(wide, end=end, pitch=pitch):
        for at in _about(low + want, low + long + 2.0, high - long - 2.0):
            if any(abs(at - other) < 2.0 * long + 5.0 for other in placed):
                continue
            plates = _plates(door, row, at)
            found = [takes_plate(ledger, plate) for plate in plates]
            chosen = [screw for screw in found if screw is not None]
            if len(chosen) < len(plates) or not _cup_free(ledger, door, at):
                continue
            screws += _put_hinge(
                ledger, door, row, at, list(zip(plates, chosen, strict=True)), joint
            )
            placed.append(at)
            used += chosen
            break
    _tell(ledger, door, row, placed)
    note = "leaves let in where they are thicker than half the gap" if not door.overlay else ""
    parts = (door.body.id, door.hang.id)
    ledger.join(
        door.step,
        joint_of(joint, parts=parts, screws=used, count=screws, kind="hinge", note=note),
    )


def _tell(ledger: Ledger, door: _Door, row: Hardware, placed: Sequence[float]) -> None:
    if len(placed) < 2 and door.body.high[door.along] - door.body.low[door.along] > 200.0:
        ledger.warn(
            f"{door.opening.name}: room for {len(placed)} {row.name} only on {door.hang.id}; "
            "the door wants two"
        )
    elif not placed:
        ledger.warn(f"{door.opening.name}: no room for a {row.name} on {door.hang.id}")


def _about(centre: float, low: float, high: float) -> Iterator[float]:
    """Yield places from a centre outward, within a range."""
    for i in range(int(_REACH // _STEP) + 1):
        for at in (centre - i * _STEP, centre + i * _STEP) if i else (centre,):
            if low <= at <= high:
                yield round(at, 4)


def _plates(door: _Door, row: Hardware, at: float) -> tuple[Plate, ...]:
    if door.overlay:
        return _concealed(door, row, at)
    own = tuple(door.point(at + a, c, door.edge) for a, c in row.holes)
    other = tuple(door.point(at + a, c, door.seat) for a, c in row.holes)
    words = f"{row.name} of the door"
    return (
        Plate(body=door.body, axis=2, sign=door.up, points=own, purpose=words),
        Plate(body=door.hang, axis=2, sign=-door.up, points=other, purpose=words),
    )


def _concealed(door: _Door, row: Hardware, at: float) -> tuple[Plate, ...]:
    """Return flange and plate: into the door's back, and into the panel behind its front edge."""
    t = door.body.piece.thickness
    cup = door.edge + door.up * (_CUP_EDGE + _CUP / 2.0)
    flange = tuple(door.point(at + a, t, cup + door.up * c) for a, c in row.holes)
    plate = tuple(
        door.point(at + side * _PLATE_HALF, t + _PLATE_BACK, door.seat) for side in (-1.0, 1.0)
    )
    words = f"{row.name} of the door"
    return (
        Plate(body=door.body, axis=door.into, sign=-door.inward, points=flange, purpose=words),
        Plate(body=door.hang, axis=2, sign=-door.up, points=plate, purpose=words),
    )


def _put_hinge(
    ledger: Ledger,
    door: _Door,
    row: Hardware,
    at: float,
    leaves: Sequence[tuple[Plate, Screw]],
    joint: str,
) -> int:
    pin = list(door.pin)
    pin[door.along] = at
    owner = put_fitting(
        ledger,
        row,
        joins=(door.body.id, door.hang.id),
        at=(pin[0], pin[1], pin[2]),
        axis=door.along,
        step=door.step,
        joint=joint,
    )
    count = sum(
        put_plate(ledger, plate, screw, step=door.step, joint=joint, owner=owner)
        for plate, screw in leaves
    )
    if door.overlay:
        _bore_cup(ledger, door, at, owner)
    return count


def _cup(door: _Door, at: float) -> Callable[..., Feature]:
    body = door.body
    cup = door.edge + door.up * (_CUP_EDGE + _CUP / 2.0)
    face = body.face_towards(door.into, door.inward)
    return partial(
        Feature,
        kind="hole",
        face=face,
        at=body.at_on(face, door.point(at, body.piece.thickness, cup)),
        size=(_CUP,),
        depth=_CUP_DEPTH,
        through=False,
        purpose="cup of a concealed hinge",
    )


def _cup_free(ledger: Ledger, door: _Door, at: float) -> bool:
    """Whether a concealed hinge's cup finds whole wood; a leaf needs none."""
    if not door.overlay:
        return True
    solid = feature_solid(door.body, _cup(door, at)())
    return ledger.space.free((door.body.id,), solid, clear=_ROUND_CUP, soft=False)


def _bore_cup(ledger: Ledger, door: _Door, at: float, owner: str) -> None:
    make = _cup(door, at)
    ledger.cut(door.body, make, owner)
    ledger.space.take(door.body.id, feature_solid(door.body, make()))


def place_lid_hinges(ledger: Ledger) -> None:
    """Hinge every wing that opens to the fixed deck beside it."""
    rows = [row for row in ledger.catalogue.hardware if row.kind == "hinge" and row.holes]
    row = max(rows, key=lambda r: (r.size[0], r.name), default=None)
    for lid in [b for b in ledger.space.bodies.values() if b.piece.role == "wing-lid"]:
        decks = [b for b in ledger.space.bodies.values() if _beside(lid, b)]
        if not decks or row is None:
            ledger.warn(
                f"{lid.piece.name} of {lid.piece.block}: no fixed deck beside it to hinge it to; "
                "it lies loose on its cleat, held by its catches alone"
            )
            continue
        _hinge_lid(ledger, lid, decks, row)


def _beside(lid: Body, other: Body) -> bool:
    left = lid.low[1] + lid.high[1] > 0.0
    apart = lid.low[1] - other.high[1] if left else other.low[1] - lid.high[1]
    return (
        other.piece.role == "deck"
        and other.piece.body == "fixed"
        and -0.01 <= apart <= _GAP_MOST
        and abs(other.high[2] - lid.high[2]) < 0.5
        and min(other.high[0], lid.high[0]) - max(other.low[0], lid.low[0]) > 60.0
    )


def _hinge_lid(ledger: Ledger, lid: Body, decks: Sequence[Body], row: Hardware) -> None:
    """Lay long hinges along the inner edge; each hole goes where deck and lid are free."""
    sign = 1.0 if lid.low[1] + lid.high[1] > 0.0 else -1.0
    edge = lid.low[1] if sign > 0.0 else lid.high[1]
    near = min(decks, key=lambda d: abs((d.high[1] if sign > 0.0 else d.low[1]) - edge))
    other = near.high[1] if sign > 0.0 else near.low[1]
    pin_y = round((edge + other) / 2.0, 6)
    low, high = lid.low[0], lid.high[0]
    long = row.size[0]
    count = max(1, ceil(_SHARE * (high - low) / long - 1.0e-9))
    if long > (high - low) / count:
        ledger.note(f"{lid.piece.name}: cut the {row.name} to {(high - low) / count - 4.0:.0f} mm")
    pivot = (round((low + high) / 2.0, 6), pin_y, round(lid.high[2], 6))
    ledger.pivots[lid.piece.body] = pivot
    for n in range(count):
        centre = low + (high - low) * (n + 0.5) / count
        _long_hinge(ledger, lid, decks, row, (centre, pin_y, sign))


def _long_hinge(
    ledger: Ledger,
    lid: Body,
    decks: Sequence[Body],
    row: Hardware,
    where: tuple[float, float, float],
) -> None:
    centre, pin_y, sign = where
    joint, z = ledger.next_joint(), lid.high[2]
    found: list[tuple[Plate, Screw]] = []
    inside = 0
    words = f"{row.name} of the wing"
    for a, c in row.holes:
        x = centre + a
        if not lid.low[0] <= x <= lid.high[0]:
            continue
        inside += 2
        under = [d for d in decks if d.low[0] <= x <= d.high[0]]
        for body, y in ((lid, pin_y + sign * c), *((d, pin_y - sign * c) for d in under[:1])):
            plate = Plate(body=body, axis=2, sign=-1.0, points=((x, y, z),), purpose=words)
            screw = takes_plate(ledger, plate)
            if screw is not None:
                found.append((plate, screw))
    if not found or len(found) < _MOST_HOLES * inside:
        ledger.warn(
            f"{lid.piece.name}: only {len(found)} of {inside} holes of the {row.name} find wood"
        )
    if not found:
        return
    names = [body.id for body in decks if any(p.body is body for p, _ in found)]
    owner = put_fitting(
        ledger,
        row,
        joins=(lid.id, *names),
        at=(round(centre, 4), pin_y, z),
        axis=0,
        step="wings",
        joint=joint,
    )
    count = sum(
        put_plate(ledger, plate, screw, step="wings", joint=joint, owner=owner)
        for plate, screw in found
    )
    parts = (lid.id, names[0] if names else lid.id)
    screws = [screw for _, screw in found]
    ledger.join(
        "wings", joint_of(joint, parts=parts, screws=screws, count=count, kind="hinge", note="")
    )
