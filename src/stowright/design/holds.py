"""What holds loose lids and lift-out decks down: catches on wings, dogs under deck pieces."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from math import hypot

from stowright.design.fixing_ledger import Ledger
from stowright.design.fixing_space import Body, Solid, feature_solid, meets, solid_along
from stowright.design.plates import Plate, joint_of, put_fitting, put_plate, takes_plate
from stowright.model.catalogue import Hardware, Screw
from stowright.model.geometry import Point3
from stowright.model.part import Feature

__all__ = ["place_holds"]

#: Where a hold sits, its screws' plate, their kind, and the piece that it grips.
type _Hold = tuple[Point3, Plate, Screw, str]

#: Catches stand this far inside a lid's edge (judgement). [mm]
_INSIDE = 28.0
_STEP = 20.0
#: A dog must slide under something this near to it. [mm]
_REACH = 6.0
#: Hole for a quarter-turn's stud, and the wood round it. [mm]
_STUD, _ROUND_STUD = 8.0, 3.0
_WANTED = 2


def place_holds(ledger: Ledger) -> None:
    """Give every hinged wing two catches and every lift-out deck piece two holds."""
    catch = _named(ledger, "turn-catch", "latch")
    dog = _named(ledger, "deck-dog", "hold-down")
    for body in tuple(ledger.space.bodies.values()):
        if body.piece.role == "wing-lid" and catch is not None:
            _catches(ledger, body, catch)
        elif body.piece.role == "deck" and body.piece.body != "fixed" and dog is not None:
            _hold_deck(ledger, body, dog)


def _named(ledger: Ledger, name: str, kind: str) -> Hardware | None:
    rows = [row for row in ledger.catalogue.hardware if row.kind == kind]
    return next((row for row in rows if row.name == name), rows[0] if rows else None)


def _catches(ledger: Ledger, lid: Body, row: Hardware) -> None:
    """Screw catches on a lid over its legs, where they turn under; else at its quarters."""
    legs = [
        body
        for body in ledger.space.bodies.values()
        if body.piece.role in {"infill", "wing-leg"}
        and body.piece.block == lid.piece.block
        and (body.low[1] > 0.0) == (lid.low[1] + lid.high[1] > 0.0)
    ]
    spots = [(body.low[0] + body.high[0]) / 2.0 for body in legs]
    if len(spots) < _WANTED:
        quarters = [lid.low[0] + (lid.high[0] - lid.low[0]) * share for share in (0.25, 0.75)]
        spots = (
            [*spots, *quarters][:_WANTED]
            if not spots
            else [spots[0], max(quarters, key=lambda x: abs(x - spots[0]))]
        )
        ledger.warn(
            f"{lid.piece.name} of {lid.piece.block}: {_WANTED - len(legs)} of its catches have no "
            "leg to turn under; fix a strip to the wall for them"
        )
    left = lid.low[1] + lid.high[1] > 0.0
    for n, x in enumerate(spots, start=1):
        if not _one_catch(ledger, lid, row, x, left=left):
            ledger.warn(f"{lid.piece.name} of {lid.piece.block}: no room for catch {n}")


def _one_catch(ledger: Ledger, lid: Body, row: Hardware, x: float, *, left: bool) -> bool:
    outer = lid.high[1] if left else lid.low[1]
    inward = -1.0 if left else 1.0
    width = lid.high[1] - lid.low[1]
    y = _INSIDE
    while y < width - _INSIDE:
        for shift in (0.0, -_STEP, _STEP, -2.0 * _STEP, 2.0 * _STEP):
            spot = (x + shift, outer + inward * y, lid.high[2])
            plate = _lying(lid, row, spot, axis_along=0, sign=-1.0)
            screw = takes_plate(ledger, plate)
            if screw is not None:
                _put(ledger, lid, row, plate, screw, spot, step="wings", other=lid.id)
                return True
        y += _STEP
    return False


def _lying(body: Body, row: Hardware, spot: Point3, *, axis_along: int, sign: float) -> Plate:
    points = []
    for a, c in row.holes or ((-row.size[0] / 4.0, 0.0), (row.size[0] / 4.0, 0.0)):
        found = list(spot)
        found[axis_along] = round(found[axis_along] + a, 4)
        found[1 - axis_along] = round(found[1 - axis_along] + c, 4)
        points.append((found[0], found[1], found[2]))
    return Plate(body=body, axis=2, sign=sign, points=tuple(points), purpose=f"{row.name}")


def _put(
    ledger: Ledger,
    body: Body,
    row: Hardware,
    plate: Plate,
    screw: Screw,
    spot: Point3,
    *,
    step: str,
    other: str,
) -> str:
    joint = ledger.next_joint()
    joins = tuple(dict.fromkeys((body.id, other)))
    owner = put_fitting(ledger, row, joins=joins, at=spot, axis=2, step=step, joint=joint)
    count = put_plate(ledger, plate, screw, step=step, joint=joint, owner=owner)
    ledger.join(
        step,
        joint_of(joint, parts=(body.id, other), screws=(screw,), count=count, kind="hold", note=""),
    )
    return owner


def _hold_deck(ledger: Ledger, deck: Body, dog: Hardware) -> None:
    """Hold a lift-out piece with dogs beneath it, or where that is closed with turns from above."""
    dogs = _spread(deck, tuple(_dog_places(ledger, deck, dog)), dog)
    turn = _named(ledger, "quarter-turn", "hold-down")
    if len(dogs) >= _WANTED or turn is None or turn is dog:
        held, row = dogs, dog
    else:
        held, row = _spread(deck, tuple(_turn_places(ledger, deck, turn)), turn), turn
        if len(held) < len(dogs):
            held, row = dogs, dog
    for spot, plate, screw, under in held:
        owner = _put(ledger, deck, row, plate, screw, spot, step="deck", other=under)
        if row is turn:
            _bore_stud(ledger, (deck, ledger.space.bodies[under]), spot, row, owner)
    if len(held) < _WANTED:
        ledger.warn(
            f"{deck.piece.name} of {deck.piece.block}: room for {len(held)} of {_WANTED} holds; "
            "hold it with straps"
        )


def _spread(deck: Body, places: Sequence[_Hold], row: Hardware) -> list[_Hold]:
    """Return two places, as far apart as they go."""
    found: list[_Hold] = []
    while len(found) < _WANTED:
        free = [p for p in places if not _near(p[0], found, row)]
        if not free:
            break
        found.append(max(free, key=lambda p: (_away(p[0], deck, found), p[0])))
    return found


def _turn_places(ledger: Ledger, deck: Body, row: Hardware) -> Iterator[_Hold]:
    """Yield places near a piece's ends where a stud goes through it into what it lies on."""
    z, top = deck.low[2], deck.high[2]
    deep = min(row.size[2], top - z + 100.0)
    for under in ledger.space.bodies.values():
        flat = under.local[2] == 2 and abs(under.high[2] - z) < 1.0
        if under.piece.body != "fixed" or under.id == deck.id or not flat:
            continue
        for x in _ends(deck, under, 0):
            for y in _ends(deck, under, 1):
                spot = (x, y, top)
                stud = solid_along(2, top, top - deep, spot, _STUD / 2.0)
                wood = ledger.space.free((deck.id, under.id), stud, clear=_ROUND_STUD)
                if not wood or any(meets(stud, s, 2.0) for s in ledger.space.moving):
                    continue
                plate = _lying(deck, row, spot, axis_along=0, sign=-1.0)
                screw = takes_plate(ledger, plate)
                if screw is not None:
                    yield spot, plate, screw, under.id


def _ends(deck: Body, under: Body, axis: int) -> tuple[float, ...]:
    """Return a few places along an axis where both pieces are, near its ends first."""
    low = max(deck.low[axis], under.low[axis]) + _INSIDE
    high = min(deck.high[axis], under.high[axis]) - _INSIDE
    if high < low:
        return ()
    step = (high - low) / 6.0
    return tuple(round(low + step * n, 4) for n in (0, 6, 1, 5, 2, 4, 3))


def _bore_stud(
    ledger: Ledger, bodies: tuple[Body, Body], spot: Point3, row: Hardware, owner: str
) -> None:
    """Bore the hole that a quarter-turn's stud goes through, in both pieces."""
    for body in bodies:
        face = body.face_towards(2, 1.0)
        make = partial(
            Feature,
            kind="hole",
            face=face,
            at=body.at_on(face, spot),
            size=(_STUD,),
            depth=body.piece.thickness,
            through=True,
            purpose=f"stud of the {row.name}",
        )
        ledger.cut(body, make, owner)
        ledger.space.take(body.id, feature_solid(body, make()))


def _near(spot: Point3, found: Sequence[_Hold], row: Hardware) -> bool:
    return any(hypot(spot[0] - p[0], spot[1] - p[1]) < row.size[0] + 10.0 for p, *_ in found)


def _away(spot: Point3, deck: Body, found: Sequence[_Hold]) -> float:
    """How far from the holds there are; for the first, from the deck's middle."""
    middle = ((deck.low[0] + deck.high[0]) / 2.0, (deck.low[1] + deck.high[1]) / 2.0)
    others = [(p[0], p[1]) for p, *_ in found] or [middle]
    return round(min(hypot(spot[0] - p[0], spot[1] - p[1]) for p in others), 3)


def _dog_places(ledger: Ledger, deck: Body, row: Hardware) -> Iterator[_Hold]:
    """Yield free places for a dog beside a rail or an upright that it can slide under."""
    space, z = ledger.space, deck.low[2]
    long, wide, tall = row.size
    below: Solid = (deck.low[0], deck.high[0], deck.low[1], deck.high[1], z - tall, z - 0.1)
    near = [
        body
        for body in space.bodies.values()
        if body.id != deck.id and meets(below, body.solid(), 1.0)
    ]
    sweeps = [solid for solid in space.moving if meets(below, solid, 1.0)]
    for body in near:
        if body.piece.body != "fixed" or abs(body.high[2] - z) > 1.0:
            continue
        for along in (0, 1):
            for spot in _beside(deck, body, along, (long, wide)):
                box = _box(spot, along, (long, wide, tall))
                if any(meets(box, b.solid()) for b in near) or any(meets(box, s) for s in sweeps):
                    continue
                plate = _lying(deck, row, spot, axis_along=along, sign=1.0)
                screw = takes_plate(ledger, plate)
                if screw is not None:
                    yield spot, plate, screw, body.id


def _beside(deck: Body, body: Body, along: int, size: tuple[float, float]) -> Iterator[Point3]:
    """Yield places along either side of a piece, under the deck."""
    long, wide = size
    across = 1 - along
    low = max(deck.low[along], body.low[along]) + long / 2.0 + 5.0
    high = min(deck.high[along], body.high[along]) - long / 2.0 - 5.0
    for side in (
        body.low[across] - _REACH / 2.0 - wide / 2.0,
        body.high[across] + _REACH / 2.0 + wide / 2.0,
    ):
        if not deck.low[across] + wide / 2.0 <= side <= deck.high[across] - wide / 2.0:
            continue
        at = low
        while at <= high:
            found = [0.0, 0.0, deck.low[2]]
            found[along], found[across] = round(at, 4), round(side, 4)
            yield (found[0], found[1], found[2])
            at += _STEP


def _box(spot: Point3, along: int, size: Point3) -> Solid:
    half = [size[1] / 2.0, size[1] / 2.0]
    half[along] = size[0] / 2.0
    x, y, z = spot
    return (x - half[0], x + half[0], y - half[1], y + half[1], z - size[2], z - 0.1)
