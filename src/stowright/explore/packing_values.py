"""What is packed and what comes out, in millimetres and kilograms, and as whole numbers."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.explore.packing_kernel import BEARS, HIGH, LONG, MASS, TURNS, Cargo

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]

__all__ = [
    "ALL_TURNS",
    "GRAMS",
    "TENTHS",
    "Bin",
    "Item",
    "Packing",
    "Position",
    "as_before",
    "cargo_of",
    "goes_in",
    "renumbered",
]

TENTHS, GRAMS = 10.0, 1000.0
ALL_TURNS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Bin:
    """A room to put things into. Lengths in mm, mass in kg.

    ``sideways`` says where a point of it lies off the vehicle's centre line: at its corner, and
    by how much that changes with each millimetre across and deep; ``runners`` what its pair may
    carry and what moves besides the load, None without any.
    """

    across: float
    depth: float
    height: float
    most_kg: float
    sideways: tuple[float, float, float] = (0.0, 0.0, 0.0)
    runners: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One thing.

    Attributes:
        size: Length, width, height. [mm]
        mass_kg: Mass. [kg]
        upright: Whether its height has to stay upright.
        bears: Whether something may stand on it.
        only_in: Rooms it may go into, by index; None for any.
        apart_from: Indices of things that it must not share a room with.
        together_with: Indices of things that it should share a room with.
        wanted: What each room is worth to it; an empty tuple for nothing.
        kin: A number that copies of one thing share, so that they lie in one room; -1 alone.
        at_hand: Whether nothing should stand on it, because it is wanted daily.
        pulls: What each axis (across, depth, up) counts against a place, from 0 at its start
            to all of it at its end.
    """

    size: tuple[float, float, float]
    mass_kg: float = 0.0
    upright: bool = False
    bears: bool = True
    only_in: tuple[int, ...] | None = None
    apart_from: tuple[int, ...] = ()
    together_with: tuple[int, ...] = ()
    wanted: tuple[float, ...] = ()
    kin: int = -1
    at_hand: bool = False
    pulls: tuple[float, float, float] = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Position:
    """Where a thing lies: in which room, its near corner and its extent. [mm]."""

    item: int
    room: int
    at: tuple[float, float, float]
    size: tuple[float, float, float]
    stands: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """What was found: places, things without one, and how many packings were tried."""

    placed: tuple[Position, ...]
    left_out: tuple[int, ...]
    tried: int
    stopped: bool


def goes_in(bins: tuple[Bin, ...], item: Item) -> bool:
    """Tell whether a thing would go into one of the rooms if nothing else were there."""
    a, b, high = item.size
    lying = [(a, b, high)] if item.upright else [(a, b, high), (a, high, b), (b, high, a)]
    return any(
        item.mass_kg <= room.most_kg
        and (item.only_in is None or k in item.only_in)
        and any(
            high <= room.height
            and min(one, two) <= min(room.across, room.depth)
            and max(one, two) <= max(room.across, room.depth)
            for one, two, high in lying
        )
        for k, room in enumerate(bins)
    )


def renumbered(item: Item, able: tuple[int, ...]) -> Item:
    """Return a thing that knows the others by their places among those that may go in."""
    number = {old: new for new, old in enumerate(able)}
    return replace(
        item,
        apart_from=tuple(number[i] for i in item.apart_from if i in number),
        together_with=tuple(number[i] for i in item.together_with if i in number),
    )


def as_before(found: Packing, able: tuple[int, ...], many: int) -> Packing:
    """Return a packing of some things as one of all."""
    out = {*range(many)} - {*able} | {able[i] for i in found.left_out}
    placed = tuple(replace(p, item=able[p.item]) for p in found.placed)
    return replace(found, placed=placed, left_out=tuple(sorted(out)))


def cargo_of(bins: tuple[Bin, ...], items: tuple[Item, ...]) -> Cargo:
    """Return rooms and things as whole numbers: rooms rounded down, things up."""
    rooms = np.array(
        [
            [
                *(int(s * TENTHS + 1e-6) for s in (b.across, b.depth, b.height)),
                int(b.most_kg * GRAMS),
            ]
            for b in bins
        ],
        dtype=np.int64,
    )
    things = np.zeros((len(items), 6), dtype=np.int64)
    many, places = len(items), len(bins)
    banned, apart = np.zeros((many, places), np.int64), np.zeros((many, many), np.int64)
    wanted, pulls = np.zeros((many, places)), np.zeros((many, places, 3))
    for i, item in enumerate(items):
        things[i, LONG : HIGH + 1] = [int(np.ceil(s * TENTHS - 1e-6)) for s in item.size]
        things[i, MASS] = int(np.ceil(item.mass_kg * GRAMS - 1e-6))
        things[i, TURNS], things[i, BEARS] = 2 if item.upright else ALL_TURNS, int(item.bears)
        if item.only_in is not None:
            banned[i, [b for b in range(places) if b not in item.only_in]] = 1
        apart[i, list(item.apart_from)] = 1
        apart[list(item.apart_from), i] = 1
        if item.wanted:
            wanted[i, :] = item.wanted
        pulls[i, :, :] = item.pulls
    return Cargo(rooms, things, banned, apart, wanted, pulls)
