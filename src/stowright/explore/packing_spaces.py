"""The free spaces of rooms that are being filled, and where a thing may stand in one.

Whole numbers (tenths of a millimetre, grams) as in ``packing_kernel``. A free space is a largest
box that nothing reaches into; spaces overlap. A thing goes into a space that was chosen first, at
the corner of what holds it there. Largest free boxes: K. K. Lai and J. W. M. Chan, Developing a
simulated annealing algorithm for the cutting stock problem, Comput. Ind. Eng. 32, 1997; F. Parreno
and others, A maximal-space algorithm for the container loading problem, INFORMS J. Comput. 20,
2008 (both from memory).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from stowright.cutting.compiling import compiled
from stowright.explore.packing_kernel import (
    BEARS,
    HIGH,
    LONG,
    MASS,
    TURNS,
    Cargo,
    share_held,
    turned,
)

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]
    type Numbers = np.ndarray[Any, np.dtype[np.float64]]

__all__ = [
    "ALL_HELD",
    "HELD",
    "MOST_SPACES",
    "ODX",
    "ODZ",
    "OHELD",
    "OWNER",
    "OX",
    "OZ",
    "PLACED",
    "ROOM",
    "SHUT_OUT",
    "SPACES",
    "THING",
    "WAITING",
    "X1",
    "X2",
    "Stow",
    "Taste",
    "copied",
    "fill_on",
    "gap_worth",
    "held_share",
    "may_join",
    "opened",
    "options",
    "placed_at",
    "put",
    "smallest",
    "space_of",
    "stand_in",
]

ROOM, X1, Y1, Z1, X2, Y2, Z2 = range(7)  # columns of spaces and of what is placed
HELD, OWNER = 7, 8  # further columns of what is placed: thousandths of its base that are held
SPACES, PLACED = range(2)  # counts of a stow
WAITING, SHUT_OUT = -1, -2  # a thing that has no place yet, or that was given up
MOST_SPACES = 700
ALL_HELD = 1000
#: Columns of an option: thing, corner, extent, share of the base that is held.
THING, OX, OY, OZ, ODX, ODY, ODZ, OHELD = range(8)


class Stow(NamedTuple):
    """Rooms partly filled.

    Attributes:
        spaces: Free spaces: room, low corner, high corner.
        shut: Whether nothing was found to stand in a space.
        placed: What is placed: room, low corner, high corner, share held, which thing.
        where: The row of each thing in ``placed``; negative without one.
        left: What each room may still carry.
        counts: How many spaces there are, and how many things are placed.
    """

    spaces: Table
    shut: Table
    placed: Table
    where: Table
    left: Table
    counts: Table


class Taste(NamedTuple):
    """What a filling looks for.

    Attributes:
        likes: What each thing counts before its gaps are seen.
        snug: What a gap of nothing adds.
        spoilt: What a gap that nothing fits takes away.
        ways: Weight of height, across and depth in choosing the next space.
        rank: When each room is filled.
        stand: Least share of a base that is held, in thousandths; 1000: all four corners.
    """

    likes: Numbers
    snug: float
    spoilt: float
    ways: Numbers
    rank: Numbers
    stand: int


@compiled
def opened(cargo: Cargo, stow: Stow) -> None:
    """Empty the rooms of a stow."""
    rooms = cargo.rooms.shape[0]
    for room in range(rooms):
        stow.spaces[room, :] = 0
        stow.spaces[room, ROOM] = room
        stow.spaces[room, X2 : Z2 + 1] = cargo.rooms[room, :3]
        stow.shut[room] = 0
        stow.left[room] = cargo.rooms[room, 3]
    stow.where[:] = WAITING
    stow.counts[SPACES], stow.counts[PLACED] = rooms, 0


@compiled
def copied(source: Stow, target: Stow) -> None:
    """Make a stow like another."""
    spaces, placed = source.counts[SPACES], source.counts[PLACED]
    target.spaces[:spaces] = source.spaces[:spaces]
    target.shut[:spaces] = source.shut[:spaces]
    target.placed[:placed] = source.placed[:placed]
    target.where[:] = source.where
    target.left[:] = source.left
    target.counts[:] = source.counts


@compiled
def space_of(cargo: Cargo, taste: Taste, stow: Stow) -> int:
    """Return the space to fill next: low and near a corner of its room; -1 when none is left."""
    chosen, least = -1, 1e300
    for s in range(stow.counts[SPACES]):
        if stow.shut[s] != 0:
            continue
        space = stow.spaces[s]
        room = cargo.rooms[space[ROOM]]
        across = min(space[X1], room[0] - space[X2])
        deep = min(space[Y1], room[1] - space[Y2])
        value = taste.rank[space[ROOM]] + taste.ways[0] * space[Z1]
        value += taste.ways[1] * across + taste.ways[2] * deep
        if value < least:
            chosen, least = s, value
    return chosen


@compiled
def may_join(cargo: Cargo, stow: Stow, thing: int, room: int) -> bool:
    """Tell whether a thing may go into a room with what is there."""
    if cargo.banned[thing, room] != 0 or cargo.things[thing, MASS] > stow.left[room]:
        return False
    for k in range(stow.counts[PLACED]):
        if stow.placed[k, ROOM] == room and cargo.apart[thing, stow.placed[k, OWNER]] != 0:
            return False
    return True


@compiled
def smallest(cargo: Cargo, stow: Stow) -> int:
    """Return the shortest side of all things that wait."""
    least = 1 << 60
    for thing in range(cargo.things.shape[0]):
        if stow.where[thing] == WAITING:
            for side in range(LONG, HIGH + 1):
                least = min(least, cargo.things[thing, side])
    return least


@compiled
def gap_worth(gap: int, whole: int, least: int, taste: Taste) -> float:
    """Return what the gap beside a thing makes of its liking."""
    if gap == 0:
        return 1.0 + taste.snug
    if gap < least:
        return 1.0 - taste.spoilt * gap / whole
    return 1.0


@compiled
def held_share(cargo: Cargo, stow: Stow, thing: int, room: int, box: Table) -> int:
    """Return how much of a base is held, in thousandths; -1 where the thing must not stand.

    ``box`` is corner and extent.
    """
    held, corners = 0, 0
    x1, y1, z, x2, y2 = box[0], box[1], box[2], box[0] + box[3], box[1] + box[4]
    top, mass = z + box[5], cargo.things[thing, MASS]
    for k in range(stow.counts[PLACED]):
        other = stow.placed[k]
        if other[ROOM] != room or (other[Z2] != z and other[Z1] != top):
            continue
        x = min(x2, other[X2]) - max(x1, other[X1])
        y = min(y2, other[Y2]) - max(y1, other[Y1])
        if x <= 0 or y <= 0:
            continue
        its = cargo.things[other[OWNER]]
        if other[Z1] == top:
            if cargo.things[thing, BEARS] == 0 or mass < its[MASS]:
                return -1
            continue
        if its[BEARS] == 0 or its[MASS] < mass:
            return -1
        held += x * y
        left, right = other[X1] <= x1, other[X2] >= x2
        near, far = other[Y1] <= y1, other[Y2] >= y2
        corners |= (left and near) | (right and near) << 1
        corners |= (left and far) << 2 | (right and far) << 3
    return int(share_held(z, corners, held, box[3] * box[4]))


@compiled
def _on_floor(room: Table, space: Table, box: Table) -> None:
    """Put a box into the corner of a space that lies nearest to a corner of the room."""
    near_left = space[X1] <= room[0] - space[X2]
    near_face = space[Y1] <= room[1] - space[Y2]
    box[0] = space[X1] if near_left else space[X2] - box[3]
    box[1] = space[Y1] if near_face else space[Y2] - box[4]


@compiled
def stand_in(cargo: Cargo, taste: Taste, stow: Stow, s: int, thing: int, box: Table) -> int:
    """Find where a box of given extent stands in a space; return the share held, or -1."""
    space = stow.spaces[s]
    room = cargo.rooms[space[ROOM]]
    box[2] = space[Z1]
    if space[Z1] == 0:
        _on_floor(room, space, box)
        return held_share(cargo, stow, thing, space[ROOM], box)
    found, nearest = -1, 1 << 60
    trial = box.copy()
    for k in range(stow.counts[PLACED]):
        top = stow.placed[k]
        if top[ROOM] != space[ROOM] or top[Z2] != space[Z1]:
            continue
        x1, x2 = max(space[X1], top[X1]), min(space[X2], top[X2])
        y1, y2 = max(space[Y1], top[Y1]), min(space[Y2], top[Y2])
        if x1 >= x2 or y1 >= y2:
            continue
        for corner in range(4):
            trial[0] = x1 if corner % 2 == 0 else x2 - box[3]
            trial[1] = y1 if corner < 2 else y2 - box[4]
            x, y = trial[0] + box[3], trial[1] + box[4]
            if trial[0] < space[X1] or x > space[X2] or trial[1] < space[Y1] or y > space[Y2]:
                continue
            far = min(trial[0], room[0] - x) + min(trial[1], room[1] - y)
            if far >= nearest:
                continue
            held = held_share(cargo, stow, thing, space[ROOM], trial)
            if held >= taste.stand:
                found, nearest = held, far
                box[:2] = trial[:2]
    return found


@compiled
def _sorted_in(rows: Table, worth: Numbers, row: Table, value: float) -> None:
    """Put an option among the best few, best first."""
    at = worth.shape[0] - 1
    while at > 0 and worth[at - 1] < value:
        worth[at] = worth[at - 1]
        rows[at] = rows[at - 1]
        at -= 1
    worth[at] = value
    rows[at] = row


@compiled
def options(cargo: Cargo, taste: Taste, stow: Stow, s: int, rows: Table, worth: Numbers) -> int:
    """Write the best few things for a space, best first; return how many there are."""
    space = stow.spaces[s]
    wide, deep, high = space[X2] - space[X1], space[Y2] - space[Y1], space[Z2] - space[Z1]
    least = smallest(cargo, stow)
    worth[:] = -1.0
    last = worth.shape[0] - 1
    row = np.zeros(8, np.int64)
    best_gaps = (1.0 + taste.snug) ** 3
    for thing in range(cargo.things.shape[0]):
        if stow.where[thing] != WAITING or taste.likes[thing] * best_gaps <= worth[last]:
            continue
        for turn in range(cargo.things[thing, TURNS]):
            dx, dy, dz = turned(cargo.things, thing, turn)
            if dx > wide or dy > deep or dz > high:
                continue
            value = taste.likes[thing] * gap_worth(wide - dx, wide, least, taste)
            value *= gap_worth(deep - dy, deep, least, taste)
            value *= gap_worth(high - dz, high, least, taste)
            if value <= worth[last] or not may_join(cargo, stow, thing, space[ROOM]):
                continue
            row[THING], row[ODX], row[ODY], row[ODZ] = thing, dx, dy, dz
            row[OHELD] = stand_in(cargo, taste, stow, s, thing, row[OX : ODZ + 1])
            value *= row[OHELD] / ALL_HELD
            if row[OHELD] >= taste.stand and value > worth[last]:
                _sorted_in(rows, worth, row, value)
    found = 0
    while found <= last and worth[found] >= 0.0:
        found += 1
    return found


@compiled
def _within(inner: Table, outer: Table) -> bool:
    """Tell whether a space lies in another."""
    return bool(
        outer[ROOM] == inner[ROOM]
        and outer[X1] <= inner[X1]
        and outer[Y1] <= inner[Y1]
        and outer[Z1] <= inner[Z1]
        and outer[X2] >= inner[X2]
        and outer[Y2] >= inner[Y2]
        and outer[Z2] >= inner[Z2]
    )


@compiled
def _apart(space: Table, box: Table) -> bool:
    """Tell whether a box does not reach into a space."""
    return bool(
        space[ROOM] != box[ROOM]
        or space[X1] >= box[X2]
        or space[X2] <= box[X1]
        or space[Y1] >= box[Y2]
        or space[Y2] <= box[Y1]
        or space[Z1] >= box[Z2]
        or space[Z2] <= box[Z1]
    )


@compiled
def _split(stow: Stow, box: Table, least: int) -> int:
    """Cut a box out of all spaces; return how many rows there are then (some with room -1)."""
    old = stow.counts[SPACES]
    rows = old
    for s in range(old):
        if _apart(stow.spaces[s], box):
            continue
        for side in range(6):
            axis = side % 3
            if rows >= MOST_SPACES:
                break
            part = stow.spaces[rows]
            part[:] = stow.spaces[s]
            if side < 3:
                part[X2 + axis] = min(part[X2 + axis], box[X1 + axis])
            else:
                part[X1 + axis] = max(part[X1 + axis], box[X2 + axis])
            if part[X2 + axis] - part[X1 + axis] >= least:
                stow.shut[rows] = stow.shut[s] if side < 5 else 0
                rows += 1
        stow.spaces[s, ROOM] = -1
    return int(rows)


@compiled
def _tidied(stow: Stow, rows: int, box: Table) -> None:
    """Drop spaces that lie in others; look again at those level with a box's top."""
    old = stow.counts[SPACES]
    for s in range(old, rows):
        for other in range(rows):
            if other != s and _within(stow.spaces[s], stow.spaces[other]):
                stow.spaces[s, ROOM] = -1
                break
    kept = 0
    for s in range(rows):
        if stow.spaces[s, ROOM] < 0:
            continue
        if stow.spaces[s, ROOM] == box[ROOM] and stow.spaces[s, Z1] == box[Z2]:
            stow.shut[s] = 0
        if kept != s:
            stow.spaces[kept] = stow.spaces[s]
            stow.shut[kept] = stow.shut[s]
        kept += 1
    stow.counts[SPACES] = kept


@compiled
def placed_at(cargo: Cargo, stow: Stow, thing: int, room: int, box: Table, held: int) -> None:
    """Give a thing its place: corner and extent in a room, and how much of its base is held."""
    row = stow.counts[PLACED]
    place = stow.placed[row]
    place[ROOM] = room
    place[X1 : Z1 + 1] = box[:3]
    place[X2 : Z2 + 1] = box[:3] + box[3:6]
    place[HELD], place[OWNER] = held, thing
    stow.where[thing] = row
    stow.left[room] -= cargo.things[thing, MASS]
    stow.counts[PLACED] = row + 1
    _tidied(stow, _split(stow, place, smallest(cargo, stow)), place)


@compiled
def put(cargo: Cargo, stow: Stow, s: int, option: Table) -> None:
    """Give a thing its place in a space."""
    room = stow.spaces[s, ROOM]
    placed_at(cargo, stow, option[THING], room, option[OX : ODZ + 1], option[OHELD])


@compiled
def fill_on(cargo: Cargo, taste: Taste, stow: Stow, rows: Table, worth: Numbers) -> int:
    """Fill what is free, space by space with the best thing for it; return how many are placed.

    ``rows`` and ``worth`` are room for one option.
    """
    while stow.counts[PLACED] < cargo.things.shape[0]:
        s = space_of(cargo, taste, stow)
        if s < 0:
            break
        if options(cargo, taste, stow, s, rows, worth) > 0:
            put(cargo, stow, s, rows[0])
        else:
            stow.shut[s] = 1
    return int(stow.counts[PLACED])
