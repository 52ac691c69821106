"""A bolt put in its place: bolt, washers, nut, the holes it needs and the room it takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from stowright.design.bolt_choice import BoltSet
from stowright.design.fixing_ledger import Ledger, unit_vector
from stowright.design.fixing_space import Body, Solid, solid_along
from stowright.model.catalogue import Bolt
from stowright.model.geometry import Point3
from stowright.model.part import Feature, PlacedFixing

__all__ = ["Bolted", "bolt_hole", "head_solid", "nut_solid", "put_bolt"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bolted:
    """A bolt's place.

    Attributes:
        through: The pieces it goes through, head first.
        beyond: ``vehicle`` or nothing: what it is fixed to behind them.
        axis, sign: Which way it runs.
        seat: Where the work's face under its head is; on the bolt's centre line.
        far: The work's face under the nut, on the bolt's axis. [mm]
    """

    set: BoltSet
    through: tuple[Body, ...]
    beyond: tuple[str, ...]
    axis: int
    sign: float
    seat: Point3
    far: float
    joint: str
    step: str
    purpose: str


def bolt_hole(bolt: Bolt) -> float:
    """Return the hole for a bolt: ISO 273 medium, its own size where a square neck must bite."""
    return bolt.diameter if bolt.head == "coach" else bolt.clearance_hole


def head_solid(place: Bolted, *, above: float = 0.0) -> Solid:
    """Return what head and washer take up in front of the work, and ``above`` more. [mm]."""
    end = place.seat[place.axis] - place.sign * (place.set.head_stands + above)
    return solid_along(place.axis, place.seat[place.axis], end, place.seat, place.set.head_reach)


def nut_solid(place: Bolted, *, beyond: float = 0.0) -> Solid:
    """Return what nut, washers and thread take up behind the work, and ``beyond`` more. [mm]."""
    end = place.far + place.sign * (place.set.nut_stands + beyond)
    return solid_along(place.axis, place.far, end, place.seat, place.set.nut_reach)


def put_bolt(ledger: Ledger, place: Bolted) -> str:
    """Place a bolt with its washers and nut; return the bolt's id."""
    bolt = place.set.bolt
    head = _moved(place, place.seat[place.axis], -_washer_under_head(place))
    fixing = _add(ledger, place, bolt.name, "bolt", bolt.length, head, "")
    if place.set.head_washer is not None:
        _add(ledger, place, place.set.head_washer.name, "washer", 0.0, place.seat, fixing)
    reach = 0.0
    for washer in place.set.nut_washers:
        kind = "plate" if washer.shape == "square" else "washer"
        _add(ledger, place, washer.name, kind, 0.0, _moved(place, place.far, reach), fixing)
        reach += washer.thickness
    if place.set.nut is not None:
        at = _moved(place, place.far, reach)
        _add(ledger, place, place.set.nut.name, "nut", 0.0, at, fixing)
    for n, body in enumerate(place.through):
        _hole(ledger, place, body, fixing, first=n == 0)
    ledger.space.take("air", head_solid(place))
    if place.set.nut is not None:
        ledger.space.take("air", nut_solid(place))
    return fixing


def _washer_under_head(place: Bolted) -> float:
    return place.set.head_washer.thickness if place.set.head_washer else 0.0


def _moved(place: Bolted, base: float, along: float) -> Point3:
    found = list(place.seat)
    found[place.axis] = round(base + place.sign * along, 4)
    return (found[0], found[1], found[2])


def _add(
    ledger: Ledger,
    place: Bolted,
    name: str,
    kind: str,
    length: float,
    at: Sequence[float],
    owner: str,
) -> str:
    joins = (*(body.id for body in place.through), *place.beyond)
    make = partial(
        PlacedFixing,
        type=name,
        kind=kind,
        length=length,
        joins=joins,
        at=(at[0], at[1], at[2]),
        direction=unit_vector(place.axis, place.sign),
        pilot=bolt_hole(place.set.bolt) if kind == "bolt" else 0.0,
        step=place.step,
    )
    return ledger.place(make, step=place.step, joint=place.joint, owner=owner)


def _hole(ledger: Ledger, place: Bolted, body: Body, fixing: str, *, first: bool) -> None:
    bolt = place.set.bolt
    hole = bolt_hole(bolt)
    sunk = bolt.head == "countersunk" and first
    face = body.face_towards(place.axis, -place.sign)
    purpose = f"{place.purpose}, {bolt.thread}"
    if sunk:
        purpose += f", countersunk {bolt.across_flats:g}"
    make = partial(
        Feature,
        kind="hole",
        face=face,
        at=body.at_on(face, place.seat),
        size=(hole,),
        depth=body.piece.thickness,
        through=True,
        purpose=purpose,
    )
    ledger.cut(body, make, fixing)
    reach = max(hole / 2.0, bolt.across_flats / 2.0) if sunk else hole / 2.0
    k = place.axis
    ledger.space.take(body.id, solid_along(k, body.low[k], body.high[k], place.seat, reach))
