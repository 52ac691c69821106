"""A packing put in better order room by room, where that suits what pulls the things better.

Wherever a line across a room cuts nothing, what lies between two such lines is a row: it may
change its place with others, go into another room, or be mirrored, and all in it stand as they
did. Rows lie from the face back without a gap, those with most reason to be at the face first (the
order of W. E. Smith, Various optimizers for single-stage production, 1956; from memory). Two like
rooms may change their loads.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.explore.packing_kernel import DX, DY, DZ, MASS, ROOM, Cargo, X, Y, Z

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]

__all__ = ["polished"]

ROUNDS = 4
#: Places judged at most.
MOST_LOOKS = 1500
BETTER = 1e-9


def polished(cargo: Cargo, places: Table, lack: Callable[[Table], float]) -> Table:
    """Return places put in another order as long as ``lack`` of them falls."""
    best, least, looks = places, lack(places), 0
    for _ in range(ROUNDS):
        before = least
        for change in _changes(cargo, best):
            other = change(best)
            if other is None:
                continue
            cost, looks = lack(other), looks + 1
            if cost < least - BETTER:
                best, least = other, cost
            if looks >= MOST_LOOKS:
                return best
        if least == before:
            break
    return best


def _changes(cargo: Cargo, places: Table) -> Iterator[Callable[[Table], Table | None]]:
    """Yield ways to change places, each to be tried on the best so far."""
    rooms = range(cargo.rooms.shape[0])
    for room in rooms:
        yield partial(_in_order, cargo, rooms=(room,))
    for room, axis in itertools.product(rooms, range(2)):
        yield partial(_mirrored, cargo, room=room, axis=axis)
    for one, two in itertools.combinations(rooms, 2):
        yield partial(_changed_over, cargo, one=one, two=two)
    rows = [(room, i) for room in rooms for i in range(len(_rows(places, room)))]
    for (room, i), other in itertools.product(rows, rooms):
        if other != room:
            yield partial(_exchanged, cargo, one=(room, i), two=(other, -1))
    for a, b in itertools.combinations(rows, 2):
        if a[0] != b[0]:
            yield partial(_exchanged, cargo, one=a, two=b)


def _rows(places: Table, room: int) -> list[Table]:
    """Return the things of a room parted by every line across that cuts none, the face first."""
    mine = np.nonzero(places[:, ROOM] == room)[0]
    found: list[list[int]] = []
    end = -1
    for thing in mine[np.argsort(places[mine, Y], kind="stable")]:
        if found and places[thing, Y] < end:
            found[-1].append(int(thing))
        else:
            found.append([int(thing)])
        end = max(end, int(places[thing, Y] + places[thing, DY]))
    return [np.array(row, dtype=np.int64) for row in found]


def _deep(places: Table, row: Table) -> int:
    return int((places[row, Y] + places[row, DY]).max() - places[row, Y].min())


def _in_order(
    cargo: Cargo, places: Table, rooms: tuple[int, ...], rows: dict[int, list[Table]] | None = None
) -> Table | None:
    """Return places with the rows of some rooms in the best order; None where they do not go in."""
    made = places.copy()
    for room in rooms:
        mine = _rows(places, room) if rows is None else rows[room]
        things = np.concatenate(mine) if mine else np.zeros(0, np.int64)
        made[things, ROOM] = room
        ranked = sorted(mine, key=lambda row: -cargo.pulls[row, room, 1].sum() / _deep(places, row))
        start = 0
        for row in ranked:
            made[row, Y] += start - places[row, Y].min()
            start += _deep(places, row)
        if start > cargo.rooms[room, 1] or not _may(cargo, made, room):
            return None
    return made


def _mirrored(cargo: Cargo, places: Table, room: int, axis: int) -> Table | None:
    """Return places with a room mirrored left to right or front to back."""
    mine = places[:, ROOM] == room
    if not mine.any():
        return None
    other = places.copy()
    ends = places[mine, X + axis] + places[mine, DX + axis]
    whole = cargo.rooms[room, axis] if axis == 0 else ends.max()
    other[mine, X + axis] = whole - ends
    return other


def _changed_over(cargo: Cargo, places: Table, one: int, two: int) -> Table | None:
    """Return places with the loads of two like rooms changed over."""
    if not (cargo.rooms[one, :3] == cargo.rooms[two, :3]).all():
        return None
    other = places.copy()
    other[places[:, ROOM] == one, ROOM] = two
    other[places[:, ROOM] == two, ROOM] = one
    return other if _may(cargo, other, one) and _may(cargo, other, two) else None


def _exchanged(
    cargo: Cargo, places: Table, one: tuple[int, int], two: tuple[int, int]
) -> Table | None:
    """Return places with two rows of two rooms changed over, or one moved where ``two`` has -1."""
    rooms = (one[0], two[0])
    rows = {room: _rows(places, room) for room in rooms}
    if one[1] >= len(rows[rooms[0]]) or two[1] >= len(rows[rooms[1]]):
        return None
    goes = rows[rooms[0]].pop(one[1])
    if two[1] >= 0:
        rows[rooms[0]].append(rows[rooms[1]].pop(two[1]))
    rows[rooms[1]].append(goes)
    return _in_order(cargo, places, rooms, rows)


def _may(cargo: Cargo, places: Table, room: int) -> bool:
    """Tell whether what lies in a room may be there: size, mass, its place, its neighbours."""
    mine = np.nonzero(places[:, ROOM] == room)[0]
    at, inside = places[mine], cargo.rooms[room]
    return bool(
        (at[:, X] + at[:, DX] <= inside[0]).all()
        and (at[:, Z] + at[:, DZ] <= inside[2]).all()
        and cargo.things[mine, MASS].sum() <= inside[3]
        and not cargo.banned[mine, room].any()
        and not cargo.apart[np.ix_(mine, mine)].any()
    )
