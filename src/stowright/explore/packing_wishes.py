"""What counts against a packing: what is left out first of all, then how well things lie."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from stowright.explore.packing_kernel import (
    DX,
    DY,
    DZ,
    FLOOR_SHARE,
    HIGH,
    LONG,
    MASS,
    ROOM,
    STANDS,
    Cargo,
    X,
    Z,
)
from stowright.explore.packing_values import GRAMS, TENTHS, Bin, Item, cargo_of

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]
    type Numbers = np.ndarray[Any, np.dtype[np.float64]]

__all__ = ["Wishes", "lack_of_places", "wishes_of"]

#: What is counted against a packing: things without a place, over a gap, parted from what they
#: belong with, copies in several rooms, what is wanted daily under something, on their sides; the
#: load off the centre line, by the metre; a pair of runners loaded on one side, by the share that
#: the heavier side carries too much.
NO_PLACE, OVER_A_GAP, PARTED, SCATTERED, BURIED, ON_ITS_SIDE = 1.0e3, 1.0, 0.5, 0.6, 0.3, 0.3
BALANCE, LOPSIDED = 0.5, 1.0
#: What a pair of runners may carry where a room has none. [kg]
NO_LIMIT = 1.0e9


class Wishes(NamedTuple):
    """Rooms and things, and what is wished for.

    Attributes:
        cargo: Rooms and things as whole numbers.
        share: Each thing's share of all volume.
        pairs: Things that should share a room, two a row.
        kin: A number for each thing; copies of one have the same.
        at_hand: Which things are wanted daily.
        sideways: How far off the centre line each room's places lie, as in ``Bin``.
        runners: What each room's runners may carry, and what moves besides the load. [g]
    """

    cargo: Cargo
    share: Numbers
    pairs: Table
    kin: Table
    at_hand: Table
    sideways: Numbers
    runners: Numbers


def wishes_of(bins: tuple[Bin, ...], items: tuple[Item, ...]) -> Wishes:
    """Return what is wished for of things in rooms."""
    cargo = cargo_of(bins, items)
    volumes = cargo.things[:, LONG : HIGH + 1].astype(float).prod(axis=1)
    pairs = sorted({(min(i, j), max(i, j)) for i, t in enumerate(items) for j in t.together_with})
    lone = [item.kin if item.kin >= 0 else len(items) + i for i, item in enumerate(items)]
    return Wishes(
        cargo=cargo,
        share=volumes / volumes.sum(),
        pairs=np.array(pairs, dtype=np.int64).reshape(-1, 2),
        kin=np.unique(np.array(lone), return_inverse=True)[1].astype(np.int64),
        at_hand=np.array([i for i, item in enumerate(items) if item.at_hand], dtype=np.int64),
        sideways=np.array([b.sideways for b in bins]),
        runners=np.array([(p if (p := b.runners) else (NO_LIMIT, 0.0)) for b in bins]) * GRAMS,
    )


def lack_of_places(wishes: Wishes, places: Table) -> float:
    """Return what counts against places."""
    out = places[:, ROOM] < 0
    here = np.nonzero(~out)[0]
    many = float(places.shape[0])
    tipped = float((places[here, DZ] != wishes.cargo.things[here, HIGH]).sum())
    return (
        NO_PLACE * float(wishes.share[out].sum())
        + OVER_A_GAP * float((1.0 - places[here, STANDS] / FLOOR_SHARE).sum())
        + _pulled(wishes.cargo, places, here)
        + PARTED * _parted(wishes, places)
        + SCATTERED * _scattered(wishes, places, here)
        + BURIED * _buried(wishes, places) / many
        + ON_ITS_SIDE * tipped / many
        + _one_sided(wishes, places, here)
    )


def _pulled(cargo: Cargo, places: Table, here: Table) -> float:
    """Return how far things lie from where they are pulled, a mean over all."""
    at = places[here]
    middle = (at[:, X : X + 3] + at[:, DX : DZ + 1] / 2.0) / cargo.rooms[at[:, ROOM], :3]
    pulls = cargo.pulls[here, at[:, ROOM]]
    wanted = cargo.wanted[here, at[:, ROOM]]
    return float(((pulls * middle).sum() - wanted.sum()) / places.shape[0])


def _parted(wishes: Wishes, places: Table) -> float:
    """Return the share of pairs that should stand together and do not."""
    if not len(wishes.pairs):
        return 0.0
    rooms = places[:, ROOM][wishes.pairs]
    return float((rooms[:, 0] != rooms[:, 1]).mean())


def _scattered(wishes: Wishes, places: Table, here: Table) -> float:
    """Return the share of things that lie in another room than most of their copies."""
    rooms = wishes.cargo.rooms.shape[0]
    if rooms == 1 or not len(here):
        return 0.0
    kinds = int(wishes.kin.max()) + 1
    cells = np.bincount(wishes.kin[here] * rooms + places[here, ROOM], minlength=kinds * rooms)
    most = float(cells.reshape(kinds, rooms).max(axis=1).sum())
    return (float(len(here)) - most) / float(places.shape[0])


def _buried(wishes: Wishes, places: Table) -> int:
    """Return how many of the things wanted daily have something standing on them."""
    if not len(wishes.at_hand):
        return 0
    low, top = places[wishes.at_hand], places
    meets = (low[:, None, ROOM] == top[None, :, ROOM]) & (low[:, None, ROOM] >= 0)
    meets &= low[:, None, Z] + low[:, None, DZ] == top[None, :, Z]
    for axis, extent in ((X, DX), (X + 1, DY)):
        ends = np.minimum(
            low[:, None, axis] + low[:, None, extent], top[None, :, axis] + top[None, :, extent]
        )
        meets &= ends > np.maximum(low[:, None, axis], top[None, :, axis])
    return int(meets.any(axis=1).sum())


def _one_sided(wishes: Wishes, places: Table, here: Table) -> float:
    """Return what counts for a load off the centre line, and for runners loaded on one side."""
    mass = wishes.cargo.things[here, MASS].astype(float)
    if not mass.sum():
        return 0.0
    at, room = places[here], places[here, ROOM]
    middle = at[:, X : X + 2] + at[:, DX : DX + 2] / 2.0
    way = wishes.sideways[room]
    off = way[:, 0] + (way[:, 1:] * middle / TENTHS).sum(axis=1)
    rooms = wishes.cargo.rooms
    across = rooms[:, 0].astype(float)
    beside = mass * (2.0 * middle[:, 0] / across[room] - 1.0)
    turning = abs(np.bincount(room, weights=beside, minlength=len(rooms)))
    load = np.bincount(room, weights=mass, minlength=len(rooms)) + wishes.runners[:, 1] + turning
    over = np.maximum(0.0, load / wishes.runners[:, 0] - 1.0)
    return float(BALANCE * abs((mass * off).sum() / mass.sum()) / 1000.0 + LOPSIDED * over.sum())
