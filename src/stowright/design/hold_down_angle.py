"""A metal angle under a hold-down bolt's head: one leg on the floor, the other up the upright."""

from __future__ import annotations

from stowright.design.fixing_ledger import Ledger
from stowright.design.fixing_space import Body, Solid, meets
from stowright.design.hold_down_places import Carcass
from stowright.design.plates import Plate, put_fitting, put_plate, takes_plate
from stowright.model.catalogue import Hardware
from stowright.model.geometry import Point2

__all__ = ["angle_has_room", "angle_named", "leg_of", "put_angle"]


def angle_named(ledger: Ledger, name: str) -> Hardware | None:
    """Return an angle by name, None when none is asked for or on the shelf."""
    return next((row for row in ledger.catalogue.hardware if row.name == name), None)


def angle_has_room(
    ledger: Ledger, carcass: Carcass, floor: Body, spot: Point2, angle: Hardware
) -> bool:
    """Whether an angle's upright leg misses the runners and what slides past, and reaches."""
    leg, upright = leg_of(carcass, floor, spot, angle)
    if carcass.from_upright(spot) + 2.0 > angle.size[0]:
        return False
    space = ledger.space
    taken = (*space.moving, *space.soft.get(upright.id, ()), *space.hard.get(upright.id, ()))
    return not any(meets(leg, solid) for solid in taken)


def leg_of(carcass: Carcass, floor: Body, spot: Point2, angle: Hardware) -> tuple[Solid, Body]:
    """Return what the upright leg takes up, and the upright that it is screwed to."""
    long, wide, thick = angle.size
    across, depth = carcass.along(spot)
    a = carcass.across
    upright = min(
        carcass.uprights, key=lambda u: min(abs(across - u.low[a]), abs(across - u.high[a]))
    )
    face = upright.high[a] if upright.high[a] <= across else upright.low[a]
    reach = sorted((face, face + thick if face <= across else face - thick))
    run = (depth - wide / 2.0, depth + wide / 2.0)
    z = (floor.high[2], floor.high[2] + long)
    if a == 1:
        return (run[0], run[1], reach[0], reach[1], z[0], z[1]), upright
    return (reach[0], reach[1], run[0], run[1], z[0], z[1]), upright


def put_angle(ledger: Ledger, carcass: Carcass, floor: Body, spot: Point2, angle: Hardware) -> None:
    """Place an angle that lies under a bolt's head, and the screws of its leg up the upright."""
    _, upright = leg_of(carcass, floor, spot, angle)
    across, depth = carcass.along(spot)
    a, up = carcass.across, floor.high[2]
    beyond = upright.high[a] <= across
    face = upright.high[a] if beyond else upright.low[a]
    points = []
    for along, off in angle.holes:
        found = [0.0, 0.0, round(up + off, 4)]
        found[a], found[carcass.depth] = face, round(depth + along, 4)
        points.append((found[0], found[1], found[2]))
    owner = put_fitting(
        ledger,
        angle,
        joins=(floor.id, upright.id),
        at=(spot[0], spot[1], up),
        axis=2,
        step="install",
        joint="",
    )
    plate = Plate(
        body=upright,
        axis=a,
        sign=-1.0 if beyond else 1.0,
        points=tuple(points),
        purpose=f"{angle.name} under a hold-down bolt",
    )
    screw = takes_plate(ledger, plate) if points else None
    if screw is None:
        ledger.warn(
            f"{carcass.name}: the {angle.name} at a hold-down bolt finds no wood to screw to"
        )
        return
    put_plate(ledger, plate, screw, step="install", joint="", owner=owner)
