"""Which opening each thing of the carry list is counted in, before anything is packed.

A thing that names its opening goes there. The others are shared out by size into openings they
fit into, biggest first, so that masses and runner loads are known; where each one lies is decided
later, and the plan says that this is an assumption.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from stowright.model.job import CarryItem
from stowright.model.packed import PackedLoad

__all__ = ["Room", "Stowed", "Stowing", "as_packed", "stow"]

#: Share of an opening's volume that odd-shaped things fill by hand (common practice). [-]
FILLED = 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """An opening as a place to put things: clear inside (across, depth, up). [mm]."""

    name: str
    inside: tuple[float, float, float]

    @property
    def volume(self) -> float:
        """Volume. [mm3]."""
        return self.inside[0] * self.inside[1] * self.inside[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stowed:
    """What an opening holds: (what, quantity) and their mass. [kg]."""

    items: tuple[tuple[str, int], ...] = ()
    mass_kg: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stowing:
    """What each opening holds, and what found no place: (item, how many)."""

    by_opening: dict[str, Stowed]
    left_over: tuple[tuple[CarryItem, int], ...] = field(default=())


def stow(carry: tuple[CarryItem, ...], rooms: tuple[Room, ...]) -> Stowing:
    """Return what each opening is counted to hold. The same input gives the same answer.

    What rides on a deck stands in no opening.
    """
    free = {room.name: room.volume * FILLED for room in rooms}
    held: dict[str, dict[str, int]] = {room.name: {} for room in rooms}
    mass = dict.fromkeys(held, 0.0)
    left: list[tuple[CarryItem, int]] = []
    inside = [i for i in range(len(carry)) if not carry[i].on]
    order = sorted(inside, key=lambda i: (-_volume(carry[i]), i))
    named = [i for i in order if carry[i].goes_in in held]
    for index in (*named, *(i for i in order if i not in set(named))):
        item = carry[index]
        missing = 0
        fitting = [room.name for room in rooms if _fits(item, room)]
        for _ in range(item.quantity):
            name = item.goes_in if item.goes_in in held else _best(item, fitting, free)
            if not name:
                missing += 1
                continue
            free[name] -= _volume(item)
            held[name][item.what] = held[name].get(item.what, 0) + 1
            mass[name] += item.mass
        if missing:
            left.append((item, missing))
    stowed = {
        name: Stowed(items=tuple(things.items()), mass_kg=round(mass[name], 6))
        for name, things in held.items()
    }
    return Stowing(by_opening=stowed, left_over=tuple(left))


def as_packed(carry: tuple[CarryItem, ...], rooms: tuple[Room, ...], packed: PackedLoad) -> Stowing:
    """Return what each opening holds by a packing of the carry list."""
    held: dict[str, dict[str, int]] = {room.name: {} for room in rooms}
    mass = dict.fromkeys(held, 0.0)
    for thing in packed.things:
        counts = held.setdefault(thing.opening, {})
        counts[thing.what] = counts.get(thing.what, 0) + 1
        mass[thing.opening] = mass.get(thing.opening, 0.0) + thing.mass_kg
    items = {item.what: item for item in carry}
    return Stowing(
        by_opening={
            name: Stowed(items=tuple(things.items()), mass_kg=round(mass[name], 6))
            for name, things in held.items()
        },
        left_over=tuple((items[left.what], left.copies) for left in packed.left_out),
    )


def _volume(item: CarryItem) -> float:
    length, width, height = item.size
    return length * width * (height + item.clear_above)


def _best(item: CarryItem, fitting: list[str], free: dict[str, float]) -> str:
    """Return the opening with most room left of those that the thing goes into, or nothing."""
    roomy = [name for name in fitting if free[name] >= _volume(item)]
    return max(roomy, key=lambda name: free[name], default="")


def _fits(item: CarryItem, room: Room) -> bool:
    length, width, height = item.size
    across, depth, up = room.inside
    lying = [(length, width, height)]
    if not item.stays_upright:
        lying += [(length, height, width), (width, height, length)]
    return any(
        h + item.clear_above <= up
        and min(a, b) <= min(across, depth)
        and max(a, b) <= max(across, depth)
        for a, b, h in lying
    )
