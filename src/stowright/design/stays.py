"""Stays of locker doors: one end on an upright, the other on the door, stretched when it is open.

A door that has turned through a right angle about its pin carries the point (depth t, height r)
to (-r, t); the stay is as long as the way from there to its bracket on the upright.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from math import hypot, sqrt

from stowright.design.fixing_ledger import Ledger
from stowright.design.fixing_space import Body
from stowright.design.plates import Plate, joint_of, put_fitting, put_plate, takes_plate
from stowright.model.catalogue import Hardware
from stowright.model.design import BlockDesign, OpeningDesign
from stowright.model.geometry import Point3
from stowright.model.job import Fill

__all__ = ["StayPlaces", "place_stays", "stay_places"]

#: From the door's side edge to its bracket; from a bracket to floor, top and free edge. [mm]
_FROM_SIDE, _FROM_END = 16.0, 22.0
_STEP = 10.0
_BRACKET = ((-9.0, 0.0), (9.0, 0.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class StayPlaces:
    """Where a stay's two brackets sit, seen from the pin.

    Attributes:
        on_door: From the pin along the door. [mm]
        depth, height: Of the bracket on the upright, behind the outer face and from the pin. [mm]
    """

    on_door: float
    depth: float
    height: float


def stay_places(
    *, length: float, door: float, thickness: float, depth: float, height: float
) -> Iterator[StayPlaces]:
    """Yield places where a stay is just stretched by an open door and folds behind a shut one.

    (d + r)^2 + (b - t)^2 = L^2 for the open door; the shut one wants (d - t)^2 + (b - r)^2 < L^2.
    (Own derivation: Pythagoras after a quarter turn.)

    Args:
        length: L, from bracket to bracket when stretched. [mm]
        door: Height of the door from its pin. [mm]
        thickness: Its thickness t. [mm]
        depth: Depth of the opening. [mm]
        height: Height of the opening from the pin. [mm]
    """
    most = min(door - _FROM_END, 0.6 * door + 20.0)
    r = most
    while r >= 2.0 * _FROM_END:
        d = thickness + 30.0
        while d <= min(depth - _FROM_END, length - r):
            left = length * length - (d + r) ** 2
            b = thickness + sqrt(left) if left > 0.0 else 0.0
            folds = hypot(d - thickness, b - r) < length - 1.0
            if _FROM_END <= b <= height - _FROM_END and folds:
                yield StayPlaces(on_door=round(r, 1), depth=round(d, 1), height=round(b, 1))
            d += _STEP
        r -= _STEP


def place_stays(ledger: Ledger, blocks: Iterable[BlockDesign], fills: Mapping[str, Fill]) -> None:
    """Give every hinged locker door its stay; a door that hangs on nothing gets none."""
    for block in blocks:
        for opening in block.openings:
            body = next(
                (
                    b
                    for b in ledger.space.bodies.values()
                    if b.piece.role == "door" and b.piece.opening == opening.name
                ),
                None,
            )
            if body is None or opening.name not in ledger.pivots:
                continue
            lifts = opening.name in fills and fills[opening.name].door == "lift"
            row = _row(ledger, lifts=lifts)
            if row is not None and not _stay(ledger, block, opening, body, row, lifts=lifts):
                ledger.warn(
                    f"{opening.name}: no room for a {row.name} of {row.size[0]:g} mm beside its "
                    "door; hold it open with a strap or a shorter stay"
                )


def _row(ledger: Ledger, *, lifts: bool) -> Hardware | None:
    rows = [row for row in ledger.catalogue.hardware if row.kind == "stay"]
    wanted = "lid-stay" if lifts else "drop-stay"
    return next((row for row in rows if row.name == wanted), rows[0] if rows else None)


def _stay(
    ledger: Ledger,
    block: BlockDesign,
    opening: OpeningDesign,
    body: Body,
    row: Hardware,
    *,
    lifts: bool,
) -> bool:
    """Place one stay, on the left if it goes there, else on the right."""
    pin = ledger.pivots[opening.name]
    tall = abs((body.low[2] if lifts else body.high[2]) - pin[2])
    room = abs((opening.clear.z.low if lifts else opening.clear.z.high) - pin[2])
    places = tuple(
        stay_places(
            length=row.size[0],
            door=tall,
            thickness=body.piece.thickness,
            depth=opening.depth,
            height=room,
        )
    )
    for place in places:
        for hand in (0, 1):
            upright = ledger.body(opening.bounds[hand])
            if upright is None:
                continue
            plates = _plates(block, (body, upright), row, place, pin, hand, lifts=lifts)
            screws = [takes_plate(ledger, plate) for plate in plates]
            chosen = [s for s in screws if s is not None]
            if len(chosen) < 2:
                continue
            joint = ledger.next_joint()
            owner = put_fitting(
                ledger,
                row,
                joins=(body.id, upright.id),
                at=_middle(plates[1].points),
                axis=2,
                step="front",
                joint=joint,
            )
            count = sum(
                put_plate(ledger, plate, screw, step="front", joint=joint, owner=owner)
                for plate, screw in zip(plates, chosen, strict=True)
            )
            parts = (upright.id, body.id)
            ledger.join(
                "front",
                joint_of(joint, parts=parts, screws=chosen, count=count, kind="stay", note=""),
            )
            return True
    return not places and tall < 3.0 * _FROM_END


def _middle(points: tuple[Point3, ...]) -> Point3:
    n = float(len(points))
    x, y, z = (sum(p[k] for p in points) / n for k in range(3))
    return (x, y, z)


def _plates(
    block: BlockDesign,
    bodies: tuple[Body, Body],
    row: Hardware,
    place: StayPlaces,
    pin: Point3,
    hand: int,
    *,
    lifts: bool,
) -> tuple[Plate, Plate]:
    """Return the brackets on the door's back and on the upright's inner face."""
    door, upright = bodies
    along = max(range(2), key=lambda k: abs(block.axes[0][k]))
    into, right = 1 - along, block.axes[0][along]
    inward, up = block.axes[1][into], -1.0 if lifts else 1.0
    t = door.piece.thickness
    outward = -right if hand == 0 else right
    inner = upright.low[along] if outward > 0.0 else upright.high[along]
    edge = door.high[along] if outward > 0.0 else door.low[along]
    edge = min(edge, inner) if outward > 0.0 else max(edge, inner)

    def point(at: float, depth: float, height: float) -> Point3:
        found = [0.0, 0.0, round(pin[2] + up * height, 4)]
        found[along] = round(at, 4)
        found[into] = round(pin[into] + inward * depth, 4)
        return (found[0], found[1], found[2])

    holes = row.holes or _BRACKET
    on_door = tuple(point(edge - outward * _FROM_SIDE, t, place.on_door + a) for a, _ in holes)
    on_side = tuple(point(inner, place.depth + a, place.height) for a, _ in holes)
    words = f"bracket of the {row.name}"
    return (
        Plate(body=door, axis=into, sign=-inward, points=on_door, purpose=words),
        Plate(body=upright, axis=along, sign=outward, points=on_side, purpose=words),
    )
