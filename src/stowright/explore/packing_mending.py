"""Fillings mended: some things are taken out, and what is free is filled again.

Things near one another are taken out, or all beyond a line, or some by chance; what stood on them
comes out too. A change is kept when it leaves out little more than the best does. Taking out and
filling again: G. Schrimpf and others, Record breaking optimization results using the ruin and
recreate principle, J. Comput. Phys. 159, 2000 (from memory).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from stowright.cutting.compiling import compiled
from stowright.explore.packing_by_mass import ACROSS, BEGINS, DEEP, ENDS, LEANS, fill_by_mass
from stowright.explore.packing_kernel import TURNS, Cargo, turned
from stowright.explore.packing_spaces import (
    ALL_HELD,
    HELD,
    OWNER,
    PLACED,
    ROOM,
    SPACES,
    X1,
    X2,
    Stow,
    Taste,
    copied,
    fill_on,
    held_share,
    opened,
    placed_at,
)

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]
    type Numbers = np.ndarray[Any, np.dtype[np.float64]]

__all__ = ["DICE", "HEAVY_DICE", "MOST_HEAVY", "Task", "lack_of", "mended"]

COUNTED = 1000.0
#: What the numbers of a change decide: kind, where, how much, side, wildness; spare ones. After
#: them there are two for each thing.
KIND, WHERE, MUCH, SIDE, WILD, BULK, SNUG, SPOILT, DARE, HEAVY, DICE = range(11)
#: What the numbers of a filling by mass decide: whether it is one, how much a place counts for
#: lying low, for ending low, near a side and near an end, and how strictly masses are followed.
BY_MASS, LOW, TOP, SIDES, ENDING, STRICT, HEAVY_DICE = range(7)
NEAR, BEYOND = 0.5, 0.8  # below: things near one another; below: all beyond a line; else by chance
MOST_NEAR = 0.4  # of all things
MOST_HEAVY = 2.0  # greatest power of a thing's mass in what it is liked for
NEARLY = 0.5  # what a thing that nearly goes in counts less than one that does not at all
HEAVY_FIRST = 0.85  # of the fillings where masses differ: the heaviest first
MOST_LOW, MOST_TOP, MOST_ASIDE, EVEN = 4.0, 2.0, 0.5, 0.7  # what places count at most; not always
FREELY = 2.0  # greatest spread of a thing's mass and of its bulk in its turn, as powers of e
DARING = 30.0  # a change may leave out so many thousandths more than the best does


class Task(NamedTuple):
    """What is packed and what for.

    Attributes:
        cargo: Rooms and things.
        taste: What a filling looks for.
        shares: Each thing's share of all volume.
        masses: Each thing's mass over the mean; 1 where all weigh the same.
        ways: Ways tried in a space.
    """

    cargo: Cargo
    taste: Taste
    shares: Numbers
    masses: Numbers
    ways: int


@compiled
def lack_of(cargo: Cargo, shares: Numbers, stow: Stow) -> float:
    """Return what counts against a filling: what is left out, bases over gaps, pulls."""
    lack = 0.0
    for thing in range(shares.shape[0]):
        row = stow.where[thing]
        if row < 0:
            lack += COUNTED * shares[thing]
            continue
        box = stow.placed[row]
        lack += 1.0 - box[HELD] / ALL_HELD
        for axis in range(3):
            middle = 0.5 * (box[1 + axis] + box[4 + axis]) / cargo.rooms[box[0], axis]
            lack += cargo.pulls[thing, box[0], axis] * middle / shares.shape[0]
        lack -= cargo.wanted[thing, box[0]] / shares.shape[0]
    return lack


@compiled
def nearly_in(cargo: Cargo, shares: Numbers, stow: Stow) -> float:
    """Return what the free spaces that come nearest to holding what is left out are worth.

    So that of two fillings that leave the same out, the one is gone on from whose free space lies
    together.
    """
    worth = 0.0
    for thing in range(shares.shape[0]):
        if stow.where[thing] >= 0:
            continue
        best = 0.0
        for turn in range(cargo.things[thing, TURNS]):
            dx, dy, dz = turned(cargo.things, thing, turn)
            for s in range(stow.counts[SPACES]):
                space = stow.spaces[s]
                fit = min(1.0, (space[X2] - space[X1]) / dx)
                fit *= min(1.0, (space[X2 + 1] - space[X1 + 1]) / dy)
                fit *= min(1.0, (space[X2 + 2] - space[X1 + 2]) / dz)
                best = max(best, fit)
        worth += COUNTED * shares[thing] * NEARLY * best
    return worth


@compiled
def _gap(one: Table, other: Table) -> int:
    """Return how far two things are apart, added over the axes."""
    far = 0
    for axis in range(3):
        low = max(one[X1 + axis], other[X1 + axis])
        far += max(0, low - min(one[X2 + axis], other[X2 + axis]))
    return far


@compiled
def _mark_near(stow: Stow, out: Table, first: int, many: int) -> None:
    """Mark things nearest to one of them."""
    out[first] = 1
    for _ in range(many):
        nearest, least = -1, 1 << 60
        for k in range(stow.counts[PLACED]):
            if out[k] == 0 and stow.placed[k, ROOM] == stow.placed[first, ROOM]:
                far = _gap(stow.placed[k], stow.placed[first])
                if far < least:
                    nearest, least = k, far
        if nearest < 0:
            return
        out[nearest] = 1


@compiled
def _mark_beyond(cargo: Cargo, stow: Stow, out: Table, first: int, dice: Numbers) -> None:
    """Mark all things of a room that reach beyond a line across it."""
    room, axis = stow.placed[first, ROOM], int(3.0 * dice[SIDE])
    line = int(dice[MUCH] * cargo.rooms[room, axis])
    low = dice[WILD] < 0.5 and axis < 2
    for k in range(stow.counts[PLACED]):
        place = stow.placed[k]
        if place[ROOM] == room:
            beyond = place[X1 + axis] < line if low else place[X2 + axis] > line
            out[k] = int(beyond)


@compiled
def _marked(cargo: Cargo, stow: Stow, dice: Numbers) -> Table:
    """Return which placed things are to come out."""
    placed = stow.counts[PLACED]
    out = np.zeros(placed, np.int64)
    first = int(dice[WHERE] * placed)
    if dice[KIND] < NEAR:
        _mark_near(stow, out, first, 1 + int(dice[MUCH] * MOST_NEAR * placed))
    elif dice[KIND] < BEYOND:
        _mark_beyond(cargo, stow, out, first, dice)
    else:
        for k in range(placed):
            out[k] = int(dice[DICE + k] < 0.5 * dice[MUCH])
    return out


@compiled
def _without(cargo: Cargo, stow: Stow, out: Table, target: Stow, stand: int) -> None:
    """Fill a stow with what stays of another: what is not marked and still held."""
    opened(cargo, target)
    box = np.zeros(6, np.int64)
    for k in range(stow.counts[PLACED]):
        if out[k] != 0:
            continue
        place = stow.placed[k]
        box[:3] = place[X1 : X1 + 3]
        box[3:] = place[X2 : X2 + 3] - place[X1 : X1 + 3]
        held = held_share(cargo, target, place[OWNER], place[ROOM], box)
        if held >= stand:
            placed_at(cargo, target, place[OWNER], place[ROOM], box, held)


@compiled
def _changed_taste(task: Task, dice: Numbers) -> Taste:
    """Return a taste that likes things in another order."""
    things = task.shares.shape[0]
    wild = 1.5 * dice[WILD] * dice[WILD]
    likes = task.shares ** (0.2 + 0.8 * dice[BULK])
    likes *= task.masses ** (MOST_HEAVY * dice[HEAVY])
    likes *= np.exp(wild * (dice[DICE + things :] - 0.5))
    old = task.taste
    return Taste(likes, dice[SNUG], dice[SPOILT], old.ways, old.rank, old.stand)


@compiled
def _by_mass(task: Task, dice: Numbers, heavy: Numbers) -> Taste:
    """Return a taste that likes what is heavier more, more or less strictly."""
    things, old = task.shares.shape[0], task.taste
    free = FREELY * heavy[STRICT] * heavy[STRICT]
    likes = np.log(task.masses) + free * (dice[DICE + things :] - 0.5)
    likes += 0.1 * FREELY * dice[BULK] * np.log(task.shares)
    return Taste(likes, dice[SNUG], dice[SPOILT], old.ways, old.rank, old.stand)


@compiled
def _leans(heavy: Numbers) -> Numbers:
    """Return what counts against a place, by chance."""
    found = np.zeros(LEANS)
    found[BEGINS] = MOST_LOW * heavy[LOW]
    found[ENDS] = MOST_TOP * heavy[TOP] * heavy[TOP]
    found[ACROSS] = MOST_ASIDE * heavy[SIDES] if heavy[SIDES] < EVEN else 0.0
    found[DEEP] = MOST_ASIDE * heavy[ENDING] if heavy[ENDING] < EVEN else 0.0
    return found


@compiled
def mended(
    task: Task,
    now: Stow,
    trial: Stow,
    best: Stow,
    dice: Numbers,
    heavy: Numbers,
    least: Numbers,
) -> None:
    """Change a filling once for each row of ``dice``; ``best`` and ``least`` keep the best.

    ``heavy`` has as many rows, none where all weigh the same. ``least`` has what counts against
    the best, and the same less what it nearly holds.
    """
    cargo = task.cargo
    for turn in range(dice.shape[0]):
        out = _marked(cargo, now, dice[turn])
        _without(cargo, now, out, trial, task.taste.stand)
        if heavy.shape[0] > 0 and heavy[turn, BY_MASS] < HEAVY_FIRST:
            taste = _by_mass(task, dice[turn], heavy[turn])
            fill_by_mass(cargo, taste, trial, _leans(heavy[turn]))
        else:
            taste = _changed_taste(task, dice[turn])
            fill_on(cargo, taste, trial, np.zeros((1, 8), np.int64), np.zeros(1))
        lack = lack_of(cargo, task.shares, trial)
        guided = lack - nearly_in(cargo, task.shares, trial)
        if guided <= least[1] + DARING * dice[turn, DARE] ** 2:
            copied(trial, now)
        least[1] = min(least[1], guided)
        if lack < least[0]:
            least[0] = lack
            copied(trial, best)
            if trial.where.min() >= 0:
                return
