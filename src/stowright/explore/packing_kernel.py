"""The inner loop of packing: things put one by one into the corners that are free.

Whole numbers (tenths of a millimetre, grams), so that touching faces touch exactly. ``rooms``
has a row for each opening: across, depth from the face, height, mass limit. ``things`` has a row
for each thing, columns named below. A place is judged by the share of the thing's surface that
touches walls or other things, by what it stands on, and by what pulls it (see ``Cargo``).
Compiled where numba is; the same code and the same result without it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from stowright.cutting.compiling import compiled

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]
    type Numbers = np.ndarray[Any, np.dtype[np.float64]]
    type Rows = tuple[int, int, int]

__all__ = ["Cargo", "Plan", "could_all_go_in", "put_all", "share_held", "turned"]

LONG, WIDE, HIGH, MASS, TURNS, BEARS = range(6)  # columns of things
ROOM, X, Y, Z, DX, DY, DZ, STANDS = range(8)  # columns of places; STANDS in thousandths
ORDER, MODE, TURN, HOME = range(4)  # rows of a plan
FREE, TAKEN = range(2)  # counts of a yard
CORNERS = 15  # all four corners of a base stand on something
FLOOR_SHARE = 1000  # thousandths of a base
NOWHERE = -1
MOST_CORNERS = 4096
WORST = -1e300
#: What a thing likes a place less for lying on its side there, as a share of its surface (assumed).
TIPPED = 0.25


class Cargo(NamedTuple):
    """What is packed and where it may go.

    Attributes:
        rooms: A row for each opening.
        things: A row for each thing.
        banned: (thing, room) that may not be.
        apart: (thing, thing) that may not share a room.
        wanted: What a room is worth to a thing, by (thing, room).
        pulls: What each axis counts against a place, by (thing, room, axis).
    """

    rooms: Table
    things: Table
    banned: Table
    apart: Table
    wanted: Numbers
    pulls: Numbers


def could_all_go_in(cargo: Cargo) -> bool:
    """Tell whether neither the volume nor the mass of all things is too much for all rooms."""
    room, load = cargo.rooms[:, :3].astype(float).prod(axis=1), cargo.things[:, LONG : HIGH + 1]
    volume = float(load.astype(float).prod(axis=1).sum())
    mass = float(cargo.things[:, MASS].sum())
    return volume <= float(room.sum()) and mass <= float(cargo.rooms[:, 3].sum())


class Plan(NamedTuple):
    """What guides one packing: order, what each thing looks for, and how it is turned.

    Attributes:
        rows: Order of things; what each looks for (0 to 4); its turn and its room (-1 is free).
        window: How many of the next things compete for the best place.
        stand: Least share of a base that must stand on something, in thousandths.
    """

    rows: Table
    window: int
    stand: int


class Yard(NamedTuple):
    """What stands where while things are put in.

    Attributes:
        placed: Places taken, a row each.
        owners: Which thing has each place.
        corners: Free corners: room, x, y, z.
        left: What each room may still carry.
        counts: How many corners are free, how many places are taken.
    """

    placed: Table
    owners: Table
    corners: Table
    left: Table
    counts: Table


@compiled
def turned(things: Table, thing: int, turn: int) -> Rows:
    """Return across, depth and height of a thing turned one of six ways."""
    a, b, c = things[thing, LONG], things[thing, WIDE], things[thing, HIGH]
    if turn == 0:
        return a, b, c
    if turn == 1:
        return b, a, c
    if turn == 2:
        return a, c, b
    if turn == 3:
        return c, a, b
    if turn == 4:
        return b, c, a
    return c, b, a


@compiled
def standing(base: Table, other: Table) -> int:
    """Return which corners of a base stand on another thing's top, as bits."""
    left = other[X] <= base[X]
    right = other[X] + other[DX] >= base[X] + base[DX]
    near = other[Y] <= base[Y]
    far = other[Y] + other[DY] >= base[Y] + base[DY]
    bits = 0
    if left and near:
        bits |= 1
    if right and near:
        bits |= 2
    if left and far:
        bits |= 4
    if right and far:
        bits |= 8
    return bits


@compiled
def walls(place: Table, room: Table) -> int:
    """Return the area of a thing's faces that touch the walls of its room."""
    touching = 0
    if place[X] == 0:
        touching += place[DY] * place[DZ]
    if place[X] + place[DX] == room[0]:
        touching += place[DY] * place[DZ]
    if place[Y] == 0:
        touching += place[DX] * place[DZ]
    if place[Y] + place[DY] == room[1]:
        touching += place[DX] * place[DZ]
    if place[Z] == 0:
        touching += place[DX] * place[DY]
    if place[Z] + place[DZ] == room[2]:
        touching += place[DX] * place[DY]
    return touching


@compiled
def beside(place: Table, other: Table) -> int:
    """Return the area over which two things touch, or -1 when they overlap."""
    x = min(place[X] + place[DX], other[X] + other[DX]) - max(place[X], other[X])
    y = min(place[Y] + place[DY], other[Y] + other[DY]) - max(place[Y], other[Y])
    z = min(place[Z] + place[DZ], other[Z] + other[DZ]) - max(place[Z], other[Z])
    if x < 0 or y < 0 or z < 0:
        return 0
    if x > 0 and y > 0 and z > 0:
        return -1
    if z == 0:
        return int(x * y)
    if x == 0:
        return int(y * z)
    return int(x * z)


@compiled
def yields(things: Table, thing: int, yard: Yard, k: int) -> bool:
    """Tell whether a thing must not have what is in a place on top of it."""
    return bool(things[thing, BEARS] == 0 or things[thing, MASS] < things[yard.owners[k], MASS])


@compiled
def share_held(level: int, corners: int, held: int, base: int) -> int:
    """Return how much of a base counts as held, in thousandths.

    All of it does on the floor, and where its four corners and at least half of it are held.
    """
    if level == 0 or (corners == CORNERS and 2 * held >= base):
        return FLOOR_SHARE
    return min(FLOOR_SHARE - 1, held * FLOOR_SHARE // base)


@compiled
def judge(place: Table, yard: Yard, cargo: Cargo, thing: int) -> int:
    """Return the area that touches something, or -1 where the thing cannot stand.

    Nothing stands on a thing that bears nothing or is lighter. ``place`` gets what share of its
    base stands on something.
    """
    touching = walls(place, cargo.rooms[place[ROOM]])
    things = cargo.things
    held, corners = 0, 0
    for k in range(yard.counts[TAKEN]):
        other = yard.placed[k]
        if other[ROOM] != place[ROOM]:
            continue
        area = beside(place, other)
        if area < 0:
            return -1
        touching += area
        if area > 0 and other[Z] + other[DZ] == place[Z]:
            below = yard.owners[k]
            if things[below, BEARS] == 0 or things[below, MASS] < things[thing, MASS]:
                return -1
            held += area
            corners |= standing(place, other)
        elif area > 0 and place[Z] + place[DZ] == other[Z] and yields(things, thing, yard, k):
            return -1
    place[STANDS] = share_held(place[Z], corners, held, place[DX] * place[DY])
    return touching


@compiled
def liking(place: Table, touching: int, mode: int, cargo: Cargo, thing: int) -> float:
    """Return how good a place is: touching surface, standing, and what pulls the thing."""
    dx, dy, dz = place[DX], place[DY], place[DZ]
    room = cargo.rooms[place[ROOM]]
    value = touching / (2.0 * (dx * dy + dx * dz + dy * dz))
    if mode == 1:
        value = 0.5 * value - place[Z] / room[2] - 0.1 * place[Y] / room[1]
    elif mode == 2:
        value -= (place[Z] + dz) / room[2]
    elif mode == 3:
        value -= (place[X] + dx) / room[0]
    elif mode == 4:
        value -= (place[Y] + dy) / room[1]
    value -= 0.6 * (FLOOR_SHARE - place[STANDS]) / FLOOR_SHARE
    if dz != cargo.things[thing, HIGH]:
        value -= TIPPED
    pull = cargo.pulls[thing, place[ROOM]]
    value -= pull[0] * (place[X] + 0.5 * dx) / room[0]
    value -= pull[1] * (place[Y] + 0.5 * dy) / room[1]
    value -= pull[2] * (place[Z] + 0.5 * dz) / room[2]
    return float(value + cargo.wanted[thing, place[ROOM]])


@compiled
def allowed(cargo: Cargo, thing: int, yard: Yard) -> Table:
    """Return for each room whether a thing may still go into it."""
    rooms = cargo.rooms.shape[0]
    open_to = np.zeros(rooms, np.int64)
    for room in range(rooms):
        if cargo.banned[thing, room] == 0 and cargo.things[thing, MASS] <= yard.left[room]:
            open_to[room] = 1
    for k in range(yard.counts[TAKEN]):
        if cargo.apart[thing, yard.owners[k]] != 0:
            open_to[yard.placed[k, ROOM]] = 0
    return open_to


@compiled
def lies_in(place: Table, room: Table) -> bool:
    """Tell whether a place lies inside a room."""
    return bool(
        place[X] + place[DX] <= room[0]
        and place[Y] + place[DY] <= room[1]
        and place[Z] + place[DZ] <= room[2]
    )


@compiled
def best_place(cargo: Cargo, plan: Plan, thing: int, yard: Yard, best: Table) -> float:
    """Return the liking of a thing's best place, written into ``best``."""
    found = WORST
    place = np.zeros(8, np.int64)
    open_to = allowed(cargo, thing, yard)
    turns, wish = cargo.things[thing, TURNS], plan.rows[TURN, thing]
    home = plan.rows[HOME, thing]
    for c in range(yard.counts[FREE]):
        room = yard.corners[c, 0]
        if open_to[room] == 0 or (home >= 0 and room != home):
            continue
        for turn in range(turns):
            if wish >= 0 and wish % turns != turn:
                continue
            place[:4] = yard.corners[c]
            place[DX], place[DY], place[DZ] = turned(cargo.things, thing, turn)
            if not lies_in(place, cargo.rooms[room]):
                continue
            touching = judge(place, yard, cargo, thing)
            if touching < 0 or place[STANDS] < plan.stand:
                continue
            value = liking(place, touching, plan.rows[MODE, thing], cargo, thing)
            if value > found:
                found = value
                best[:] = place
    return found


@compiled
def slide(point: Table, axis: int, yard: Yard) -> None:
    """Move a corner along an axis towards zero until it meets a thing or the wall."""
    stop = 0
    for k in range(yard.counts[TAKEN]):
        other = yard.placed[k]
        if other[ROOM] != point[0]:
            continue
        hit = other[X + axis] + other[DX + axis] <= point[1 + axis]
        for side in range(3):
            low = other[X + side]
            if side != axis and not low <= point[1 + side] < low + other[DX + side]:
                hit = False
        if hit:
            stop = max(stop, other[X + axis] + other[DX + axis])
    point[1 + axis] = stop


@compiled
def covered(point: Table, other: Table) -> bool:
    """Tell whether a corner lies in a thing."""
    return bool(
        other[ROOM] == point[0]
        and other[X] <= point[1] < other[X] + other[DX]
        and other[Y] <= point[2] < other[Y] + other[DY]
        and other[Z] <= point[3] < other[Z] + other[DZ]
    )


@compiled
def add_corner(point: Table, yard: Yard, room: Table) -> None:
    """Add a corner unless it lies outside, in a thing, or is there already."""
    free = yard.counts[FREE]
    if point[1] >= room[0] or point[2] >= room[1] or point[3] >= room[2] or free >= MOST_CORNERS:
        return
    for k in range(yard.counts[TAKEN]):
        if covered(point, yard.placed[k]):
            return
    for c in range(free):
        other = yard.corners[c]
        if (
            other[0] == point[0]
            and other[1] == point[1]
            and other[2] == point[2]
            and other[3] == point[3]
        ):
            return
    yard.corners[free, :] = point
    yard.counts[FREE] = free + 1


@compiled
def new_corners(yard: Yard, rooms: Table) -> None:
    """Update the free corners after the last thing was placed."""
    last = yard.placed[yard.counts[TAKEN] - 1]
    kept = 0
    for c in range(yard.counts[FREE]):
        if not covered(yard.corners[c], last):
            yard.corners[kept, :] = yard.corners[c]
            kept += 1
    yard.counts[FREE] = kept
    point = np.zeros(4, np.int64)
    for side in range(3):
        for axis in range(3):
            point[:] = last[:4]
            point[1 + side] += last[DX + side]
            if axis != side:
                slide(point, axis, yard)
            add_corner(point, yard, rooms[last[ROOM]])


@compiled
def open_yard(cargo: Cargo) -> Yard:
    """Return empty rooms: one free corner in each."""
    many, rooms = cargo.things.shape[0], cargo.rooms.shape[0]
    corners = np.zeros((MOST_CORNERS, 4), np.int64)
    for room in range(rooms):
        corners[room, 0] = room
    counts = np.zeros(2, np.int64)
    counts[FREE] = rooms
    return Yard(
        np.zeros((many, 8), np.int64),
        np.zeros(many, np.int64),
        corners,
        cargo.rooms[:, 3].copy(),
        counts,
    )


@compiled
def take(cargo: Cargo, yard: Yard, thing: int, place: Table) -> None:
    """Give a thing its place."""
    count = yard.counts[TAKEN]
    yard.placed[count, :] = place
    yard.owners[count] = thing
    yard.left[place[ROOM]] -= cargo.things[thing, MASS]
    yard.counts[TAKEN] = count + 1
    new_corners(yard, cargo.rooms)


@compiled
def next_thing(cargo: Cargo, plan: Plan, yard: Yard, done: Table, best: Table) -> int:
    """Return the thing of the next few that likes its best place most; -1 when none has one."""
    chosen, seen, value = NOWHERE, 0, WORST
    trial = np.zeros(8, np.int64)
    for index in range(done.shape[0]):
        thing = plan.rows[ORDER, index]
        if done[thing] != 0:
            continue
        found = best_place(cargo, plan, thing, yard, trial)
        if found > WORST and found - 0.05 * seen > value:
            value, chosen = found - 0.05 * seen, thing
            best[:] = trial
        if found == WORST:
            done[thing] = 1
        seen += 1
        if seen >= plan.window:
            break
    return chosen


@compiled
def put_all(cargo: Cargo, plan: Plan, places: Table) -> int:
    """Place things one by one; return how many found a place.

    ``places`` has a row for each thing; its room is -1 where the thing found none.
    """
    yard = open_yard(cargo)
    best = np.zeros(8, np.int64)
    places[:, :] = 0
    places[:, ROOM] = NOWHERE
    for _ in range(2):  # what found nothing may find a top to stand on later
        done = (places[:, ROOM] >= 0).astype(np.int64)
        while done.min() == 0:
            chosen = next_thing(cargo, plan, yard, done, best)
            if chosen >= 0:
                done[chosen] = 1
                places[chosen, :] = best
                take(cargo, yard, chosen, best)
    return int(yard.counts[TAKEN])
