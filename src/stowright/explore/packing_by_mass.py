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
def _gap_counts(gap: int, whole: int, least: int, taste: Taste) -> float:
    """Return what the gap beside a thing counts for its place; none where something else fits."""
    if gap >= least:
        return 0.0
    return float(np.log(gap_worth(gap, whole, least, taste)))


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
    room, joins, exact = -1, False, np.log(1.0 + taste.snug)
    for s in range(stow.counts[SPACES]):
        if stow.spaces[s, ROOM] != room:
            room = stow.spaces[s, ROOM]
            joins = may_join(cargo, stow, thing, room)
        if not joins:
            continue
        wide = stow.spaces[s, X2] - stow.spaces[s, X1]
        deep = stow.spaces[s, X2 + 1] - stow.spaces[s, X1 + 1]
        high = stow.spaces[s, X2 + 2] - stow.spaces[s, X1 + 2]
        low = leans[BEGINS] * stow.spaces[s, X1 + 2] / cargo.rooms[room, 2]
        for turn in range(cargo.things[thing, TURNS]):
            dx, dy, dz = turned(cargo.things, thing, turn)
            if dx > wide or dy > deep or dz > high:
                continue
            full = int(dx == wide) + int(dy == deep) + int(dz == high)
            if full * exact - low <= most:  # what a gap counts beside that is nothing or less
                continue
            snug = _gap_counts(wide - dx, wide, least, taste)
            snug += _gap_counts(deep - dy, deep, least, taste)
            snug += _gap_counts(high - dz, high, least, taste)
            if snug - low <= most:
                continue
            row[THING], row[ODX], row[ODX + 1], row[ODZ] = thing, dx, dy, dz
            row[OHELD] = stand_in(cargo, taste, stow, s, thing, row[OX : ODZ + 1])
            if row[OHELD] < taste.stand:
                continue
            value = snug - _against(cargo.rooms[room], row, leans)
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
