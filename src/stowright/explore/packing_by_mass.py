"""Free rooms filled thing by thing, the heaviest first, each where it lies best.

Where nothing may stand on something lighter, every packing that is allowed can be put up in the
order of masses: whatever a thing stands on weighs as much or more and stands there already. So
nothing is lost by keeping to that order, and no light thing spoils the place of a heavy one.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.cutting.compiling import compiled
from stowright.explore.packing_kernel import TURNS, Cargo, turned
from stowright.explore.packing_spaces import (
    ALL_HELD,
    ODX,
    ODZ,
    OHELD,
    OX,
    OZ,
    PLACED,
    ROOM,
    SHUT_OUT,
    SPACES,
    THING,
    WAITING,
    X1,
    X2,
    Stow,
    Taste,
    gap_worth,
    may_join,
    put,
    smallest,
    stand_in,
)

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]
    type Numbers = np.ndarray[Any, np.dtype[np.float64]]

__all__ = ["ACROSS", "BEGINS", "DEEP", "ENDS", "LEANS", "fill_by_mass"]

#: What counts against a place: how high it begins and how high it ends, how far it lies from the
#: nearer side and from the nearer end of its room; all as shares of the room.
BEGINS, ENDS, ACROSS, DEEP, LEANS = range(5)
WORST = -1e300


@compiled
def _snug(space: Table, row: Table, least: int, taste: Taste) -> float:
    """Return what the gaps beside a thing in a space count for its place; WORST: too small."""
    value = 0.0
    for axis in range(3):
        whole = space[X2 + axis] - space[X1 + axis]
        gap = whole - row[ODX + axis]
        if gap < 0:
            return WORST
        value += np.log(gap_worth(gap, whole, least, taste))
    return float(value)


@compiled
def _far(room: Table, row: Table, axis: int) -> float:
    """Return how far a place lies from the nearer end of its room."""
    return float(min(row[OX + axis], room[axis] - row[OX + axis] - row[ODX + axis]) / room[axis])


@compiled
def _against(room: Table, row: Table, leans: Numbers) -> float:
    """Return what counts against a place in a room."""
    found = leans[BEGINS] * row[OZ] / room[2] + leans[ENDS] * (row[OZ] + row[ODZ]) / room[2]
    found += leans[ACROSS] * _far(room, row, 0) + leans[DEEP] * _far(room, row, 1)
    return float(found - np.log(max(row[OHELD], 1) / ALL_HELD))


@compiled
def _best_spot(
    cargo: Cargo, taste: Taste, stow: Stow, thing: int, leans: Numbers, rows: Table
) -> int:
    """Write the best place of a thing into the first row; return its space, -1 without one."""
    found, most, least = -1, WORST, smallest(cargo, stow)
    best, row = rows[0], rows[1]
    for s in range(stow.counts[SPACES]):
        space = stow.spaces[s]
        if not may_join(cargo, stow, thing, space[ROOM]):
            continue
        row[THING] = thing
        for turn in range(cargo.things[thing, TURNS]):
            row[ODX], row[ODX + 1], row[ODZ] = turned(cargo.things, thing, turn)
            snug = _snug(space, row, least, taste)
            if snug - leans[BEGINS] * space[X1 + 2] / cargo.rooms[space[ROOM], 2] <= most:
                continue
            row[OHELD] = stand_in(cargo, taste, stow, s, thing, row[OX : ODZ + 1])
            if row[OHELD] < taste.stand:
                continue
            value = snug - _against(cargo.rooms[space[ROOM]], row, leans)
            if value > most:
                most, found = value, s
                best[:] = row
    return found


@compiled
def fill_by_mass(cargo: Cargo, taste: Taste, stow: Stow, leans: Numbers) -> int:
    """Fill what is free with one thing after the other, what is liked most first.

    Each goes where it lies best; return how many are placed.
    """
    rows = np.zeros((2, 8), np.int64)
    for thing in np.argsort(-taste.likes):
        if stow.where[thing] != WAITING:
            continue
        s = _best_spot(cargo, taste, stow, thing, leans, rows)
        if s >= 0:
            put(cargo, stow, s, rows[0])
        else:
            stow.where[thing] = SHUT_OUT
    for thing in range(cargo.things.shape[0]):
        if stow.where[thing] == SHUT_OUT:
            stow.where[thing] = WAITING
    return int(stow.counts[PLACED])
