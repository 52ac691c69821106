"""Angles that hold the legs under a hinged wing to the block beside them."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.design.fixing_ledger import Ledger
from stowright.design.fixing_space import Body
from stowright.design.plates import Plate, joint_of, put_fitting, put_plate, takes_plate
from stowright.model.catalogue import Hardware, Screw

__all__ = ["LEG_HELD", "place_brackets"]

#: How a wing's maker asks for the angles that are placed here.
LEG_HELD = ": to the side of "

#: Two angles hold a leg, this far from its ends (judgement). [mm]
_WANTED, _FROM_END, _STEP = 2, 60.0, 15.0
_NAME = "angle-60"
_SIDES = frozenset({"carcass-side", "carcass-back", "partition"})


def place_brackets(ledger: Ledger) -> None:
    """Hold every leg under a hinged wing with two angles; a fixed wing is screwed down to its."""
    bodies = tuple(ledger.space.bodies.values())
    row = next((r for r in ledger.catalogue.hardware if r.name == _NAME), None)
    lids = [b for b in bodies if b.piece.role == "wing-lid"]
    for leg in bodies:
        lid = next((b for b in lids if _carries(leg, b)), None)
        if row is None or lid is None:
            continue
        side = _side_beside(leg, bodies, row)
        count = _hold_leg(ledger, leg, side, lid, row) if side is not None else 0
        if count < _WANTED:
            ledger.warn(
                f"{leg.piece.name} of {leg.piece.block}: room for {count} of {_WANTED} angles to "
                "the block; glue blocks into the corner"
            )


def _carries(leg: Body, lid: Body) -> bool:
    return (
        leg.piece.role in {"infill", "wing-leg"}
        and leg.piece.block == lid.piece.block
        and abs(leg.high[2] - lid.low[2]) < 1.0
        and min(leg.high[1], lid.high[1]) - max(leg.low[1], lid.low[1]) > 1.0
        and min(leg.high[0], lid.high[0]) - max(leg.low[0], lid.low[0]) > 1.0
    )


def _side_beside(leg: Body, bodies: tuple[Body, ...], row: Hardware) -> Body | None:
    """Return the panel of the block that an angle reaches from the leg."""
    reach = row.size[0]
    near = [
        body
        for body in bodies
        if body.piece.role in _SIDES
        and body.piece.block == leg.piece.block
        and body.local[1] == 2
        and 0.0 <= _apart(leg, body) < reach
        and body.low[0] < leg.low[0]
        and body.high[0] > leg.high[0]
    ]
    return min(near, key=lambda b: (_apart(leg, b), b.id), default=None)


def _apart(leg: Body, body: Body) -> float:
    return max(body.low[1] - leg.high[1], leg.low[1] - body.high[1])


def _hold_leg(ledger: Ledger, leg: Body, side: Body, lid: Body, row: Hardware) -> int:
    count = 0
    top = min(leg.high[2], side.high[2]) - _FROM_END
    heights = {False: leg.low[2] + _FROM_END, True: top}
    for from_top, start in heights.items():
        sign = -1.0 if from_top else 1.0
        for n in range(int((top - heights[False]) / 2.0 // _STEP) + 1):
            if _one(ledger, (leg, side, lid), row, start + sign * n * _STEP):
                count += 1
                break
    return count


def _one(ledger: Ledger, bodies: tuple[Body, Body, Body], row: Hardware, up: float) -> bool:
    """Screw one angle at a height; False where a hole of it finds no wood."""
    leg, side, _ = bodies
    found: list[tuple[Plate, Screw]] = []
    for plate in _plates(bodies, row, up):
        screw = takes_plate(ledger, plate)
        if screw is None:
            return False
        found.append((plate, screw))
    if len(found) < _WANTED:
        return False
    joint = ledger.next_joint()
    parts = (leg.id, side.id)
    owner = put_fitting(
        ledger, row, joins=parts, at=found[0][0].points[0], axis=2, step="wings", joint=joint
    )
    count = sum(
        put_plate(ledger, plate, screw, step="wings", joint=joint, owner=owner)
        for plate, screw in found
    )
    screws = [screw for _, screw in found]
    ledger.join(
        "wings",
        joint_of(joint, parts=parts, screws=screws, count=count, kind="bracket", note=""),
    )
    return True


def _plates(bodies: tuple[Body, Body, Body], row: Hardware, up: float) -> Iterator[Plate]:
    """Yield the wing on the leg's face, with the holes that reach it, and the one on the block."""
    leg, side, lid = bodies
    inward = (lid.low[0] + lid.high[0]) > (leg.low[0] + leg.high[0])
    face = leg.high[0] if inward else leg.low[0]
    out = 1.0 if inward else -1.0
    beyond = 1.0 if leg.low[1] > side.low[1] else -1.0
    corner = side.high[1] if beyond > 0.0 else side.low[1]
    z = round(up, 4)
    on_leg = [
        (face, round(corner + beyond * c, 4), z)
        for _, c in row.holes
        if leg.low[1] < corner + beyond * c < leg.high[1]
    ]
    words = f"{row.name} of the leg"
    if on_leg:
        yield Plate(body=leg, axis=0, sign=-out, points=tuple(on_leg), purpose=words)
    on_side = tuple((round(face + out * c, 4), corner, z) for _, c in row.holes)
    yield Plate(body=side, axis=1, sign=-beyond, points=on_side, purpose=words)
