"""A packing turned round room by room, where that suits what pulls the things better.

What lies in a room may be mirrored left to right or front to back, and two like rooms may change
their loads: all stand as they did. No gap is left at the face.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.explore.packing_kernel import DX, MASS, ROOM, Cargo, X

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]

__all__ = ["polished"]

ROUNDS = 8
BETTER = 1e-9


def polished(cargo: Cargo, places: Table, lack: Callable[[Table], float]) -> Table:
    """Return places mirrored and changed over as long as ``lack`` of them falls."""
    best, least = places, lack(places)
    for _ in range(ROUNDS):
        before = least
        for other in _others(cargo, best):
            cost = lack(other)
            if cost < least - BETTER:
                best, least = other, cost
        if least == before:
            break
    return best


def _others(cargo: Cargo, places: Table) -> Iterator[Table]:
    rooms = range(cargo.rooms.shape[0])
    for room, axis in itertools.product(rooms, range(2)):
        other = places.copy()
        mine = places[:, ROOM] == room
        if mine.any():
            ends = places[mine, X + axis] + places[mine, DX + axis]
            whole = cargo.rooms[room, axis] if axis == 0 else ends.max()
            other[mine, X + axis] = whole - ends
            yield other
    for one, two in itertools.combinations(rooms, 2):
        if (cargo.rooms[one, :3] == cargo.rooms[two, :3]).all():
            other = places.copy()
            other[places[:, ROOM] == one, ROOM] = two
            other[places[:, ROOM] == two, ROOM] = one
            if all(_may(cargo, other, room) for room in (one, two)):
                yield other


def _may(cargo: Cargo, places: Table, room: int) -> bool:
    """Tell whether what lies in a room may be there."""
    mine = places[:, ROOM] == room
    heavy = cargo.things[mine, MASS].sum() > cargo.rooms[room, 3]
    return not heavy and not cargo.banned[mine, room].any()
