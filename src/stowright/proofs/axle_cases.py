"""Axle masses in every case that is asked: what stands where, and what it puts on each axle."""

from __future__ import annotations

from dataclasses import dataclass

from stowright.formulas.axles import AxleMasses, axle_change_kg, axle_masses_kg
from stowright.model.bay import Vehicle
from stowright.model.design import Design

__all__ = [
    "AxleCase",
    "Item",
    "Scales",
    "axle_cases",
    "missing_of",
    "placed_number",
    "scales_of",
    "second_slip",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """Something with a mass, at x in the bay's axes. [kg, mm].

    ``kind`` is ``unit``, ``contents``, ``person``, ``also`` or ``ball``.
    """

    what: str
    kind: str
    mass: float
    x: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AxleCase:
    """Axle masses in one case. [kg]."""

    name: str
    front: float
    rear: float
    items: tuple[Item, ...] = ()

    @property
    def total(self) -> float:
        """Both axles. [kg]."""
        return self.front + self.rear

    @property
    def masses(self) -> AxleMasses:
        """The two axles as the formulas take them. [kg]."""
        return AxleMasses(front_kg=self.front, rear_kg=self.rear)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scales:
    """A vehicle whose axle masses can be worked out."""

    vehicle: Vehicle
    wheelbase: float
    front_x: float
    start: AxleMasses

    def case(self, name: str, items: tuple[Item, ...]) -> AxleCase:
        """Return the axle masses with some items on board, by moments about the front axle."""
        masses = axle_masses_kg(
            start=self.start,
            items=[(item.mass, self.front_x - item.x) for item in items],
            wheelbase_mm=self.wheelbase,
        )
        return AxleCase(name=name, front=masses.front_kg, rear=masses.rear_kg, items=items)

    def change(self, item: Item) -> AxleMasses:
        """Return what one item puts on each axle. [kg]."""
        return axle_change_kg(
            mass_kg=item.mass,
            behind_front_mm=self.front_x - item.x,
            wheelbase_mm=self.wheelbase,
        )


def missing_of(vehicle: Vehicle | None) -> tuple[str, ...]:
    """Return the names of what a vehicle lacks for its axle masses."""
    if vehicle is None:
        return ("vehicle: wheelbase, rear_axle_x, weighed, limits",)
    names = (
        ("vehicle.wheelbase", vehicle.wheelbase),
        ("vehicle.rear_axle_x", vehicle.rear_axle_x),
        ("vehicle.weighed", vehicle.weighed),
    )
    return tuple(name for name, value in names if value is None)


def scales_of(design: Design) -> Scales | None:
    """Return the vehicle as a pair of scales, or None when an input lacks."""
    vehicle = design.job.vehicle
    if vehicle is None or vehicle.wheelbase is None or vehicle.rear_axle_x is None:
        return None
    if vehicle.weighed is None:
        return None
    weighed = vehicle.weighed
    return Scales(
        vehicle=vehicle,
        wheelbase=vehicle.wheelbase,
        front_x=vehicle.rear_axle_x + vehicle.wheelbase,
        start=AxleMasses(front_kg=weighed.front_axle, rear_kg=weighed.rear_axle),
    )


def _unit(design: Design) -> Item:
    x = design.centre_empty[0]
    return Item(what="unit, empty", kind="unit", mass=design.empty_kg, x=x)


def _contents(design: Design) -> tuple[Item, ...]:
    """Return what has a place, where it lies: thing by thing, else opening by opening."""
    found = _packed(design) or [
        Item(what=f"in {o.name}", kind="contents", mass=o.contents_kg, x=o.usable.centre[0])
        for block in design.blocks
        for o in block.openings
        if o.contents_kg > 0.0
    ]
    found += [
        Item(
            what=f"{row.what} on {row.deck}", kind="contents", mass=row.mass_kg, x=row.box.x.middle
        )
        for row in design.deck_cargo
    ]
    return tuple(found)


def placed_number(design: Design) -> dict[str, int]:
    """Return how many of each thing of the carry list have a place."""
    count: dict[str, int] = {}
    for block in design.blocks:
        for opening in block.openings:
            for what, number in opening.carried:
                count[what] = count.get(what, 0) + number
    for row in design.deck_cargo:
        count[row.what] = count.get(row.what, 0) + row.fits
    return count


def _without_place(design: Design) -> tuple[Item, ...]:
    """Return what is on the carry list and found no place: it has to go in all the same.

    It counts amid the opening that it names, else at the middle of the empty unit. What rides on a
    deck has its place there for the axles, whether it fits or not.
    """
    count = placed_number(design)
    for cargo in design.deck_cargo:
        if not cargo.fits:
            count[cargo.what] += 1
    amid = {o.name: o.usable.centre[0] for block in design.blocks for o in block.openings}
    found = []
    for row in design.job.carry:
        here = min(row.quantity, count.get(row.what, 0))
        count[row.what] = count.get(row.what, 0) - here
        mass = row.mass * (row.quantity - here)
        if mass > 0.0:
            x = amid.get(row.goes_in, design.centre_empty[0])
            what = f"{row.what} (no place yet)"
            found.append(Item(what=what, kind="contents", mass=mass, x=x))
    return tuple(found)


def _packed(design: Design) -> list[Item]:
    """Return what has a packed place, all copies of a thing in one opening together."""
    if design.packed is None:
        return []
    groups: dict[tuple[str, str], list[tuple[float, float]]] = {}
    for thing in design.packed.things:
        key = (thing.what, thing.opening)
        groups.setdefault(key, []).append((thing.mass_kg, thing.box.centre[0]))
    found = []
    for (what, opening), rows in groups.items():
        mass = sum(kg for kg, _ in rows)
        if mass > 0.0:
            x = sum(kg * at for kg, at in rows) / mass
            found.append(Item(what=f"{what} in {opening}", kind="contents", mass=mass, x=x))
    return found


def _also(vehicle: Vehicle) -> tuple[Item, ...]:
    return tuple(Item(what=a.what, kind="also", mass=a.mass, x=a.x) for a in vehicle.also)


def _people(vehicle: Vehicle, *, driver_only: bool) -> tuple[Item, ...]:
    """Return the people to add to the weighed figures: taken off where those hold them."""
    seats = [
        Item(what="driver" if n == 0 else f"person {n + 1}", kind="person", mass=p.mass, x=p.x)
        for n, p in enumerate(vehicle.people)
    ]
    if not vehicle.people_in_weighed:
        return tuple(seats[:1] if driver_only else seats)
    if not driver_only:
        return ()
    return tuple(
        Item(what=f"{s.what} not there", kind="person", mass=-s.mass, x=s.x) for s in seats[1:]
    )


def _ball(vehicle: Vehicle) -> tuple[Item, ...]:
    ball = vehicle.tow_ball
    if ball is None or ball.mass == 0.0:
        return ()
    return (Item(what="tow ball", kind="ball", mass=ball.mass, x=ball.x),)


def axle_cases(design: Design) -> tuple[AxleCase, ...]:
    """Return axle masses as weighed, with the unit alone, driver only, full, and with the ball.

    The unit alone is the weighed vehicle with what was added and taken out, and the empty unit.
    Full is with all of the carry list, whether a place was found for it or not. Cases with the
    ball stand only where there is mass on it. None when an input lacks.
    """
    scales = scales_of(design)
    if scales is None:
        return ()
    vehicle = scales.vehicle
    also, unit = _also(vehicle), (_unit(design),)
    contents = (*_contents(design), *_without_place(design))
    ball = _ball(vehicle)
    driver = (*also, *_people(vehicle, driver_only=True), *unit, *contents)
    full = (*also, *_people(vehicle, driver_only=False), *unit, *contents)
    rows = [
        ("as weighed", ()),
        ("unit alone", (*also, *unit)),
        ("driver only, unit full", driver),
        ("full", full),
    ]
    if ball:
        rows += [
            ("driver only, unit full, with ball", (*driver, *ball)),
            ("full, with ball", (*full, *ball)),
        ]
    return tuple(scales.case(name, items) for name, items in rows)


def second_slip(design: Design) -> AxleCase | None:
    """Return what the second weighbridge slip should read by the computed masses, or None."""
    scales = scales_of(design)
    if scales is None or scales.vehicle.weighed_after is None:
        return None
    slip = scales.vehicle.weighed_after
    seats = () if scales.vehicle.people_in_weighed else _people(scales.vehicle, driver_only=False)
    contents = _contents(design) if slip.loaded else ()
    items = (*_also(scales.vehicle), _unit(design), *contents, *seats[: slip.people])
    return scales.case("second slip, computed", items)
