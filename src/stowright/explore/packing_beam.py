"""A tree of fillings, the best few of each level kept: for loads that hardly go in.

At each level one space of each kept filling is filled in several ways, or left empty; each way is
judged by what is left out when the rest is filled by the plain rule. Trees get wider and look for
other things until all has a place or the budget is used. A budget is a number of fillings.
Beam search with a plain filling as its judge: I. Araya and M. C. Riff, A beam search approach to
the container loading problem, Comput. Oper. Res. 43, 2014 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from stowright.cutting.compiling import compiled
from stowright.explore.packing_kernel import HIGH, LONG, MASS, Cargo
from stowright.explore.packing_mending import DICE, HEAVY_DICE, MOST_HEAVY, Task, lack_of, mended
from stowright.explore.packing_spaces import (
    HELD,
    MOST_SPACES,
    Stow,
    Taste,
    copied,
    fill_on,
    opened,
    options,
    put,
    space_of,
)

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]
    type Numbers = np.ndarray[Any, np.dtype[np.float64]]
    type Rows = tuple[int, int]
    type Look = Callable[[str, int], bool]

__all__ = ["MENDING", "TREES_GROW", "Found", "in_a_tree"]

#: What is being done, in words.
TREES_GROW, MENDING = "looking for room", "taking out and putting in again"

TRIED, WHOLE = range(2)
#: Columns of a shoot: which filling it grows from, the space, then the option.
PARENT, SPACE, OPTION = 0, 1, 2
EMPTY = -1
SAME = 1e-9
#: Fillings kept of a level, in the first tree and at most; a thing left out counts for more.
NARROWEST, WIDEST, COUNTS_MORE = 2, 24, 1.2
#: Tastes tried for a tree; the best by itself grows.
TASTES = 12
#: Shares of the fillings, each begun afresh: on full bases, then over small gaps; of each, grown
#: in trees. Several beginnings find more than one that goes on as long.
FULL, GAPS, TREES = (0.08, 0.08), (0.14,) * 6, 0.2
#: Where masses differ, what is left out after so many beginnings is put back the heaviest first,
#: mostly on full bases; trees, which know little of masses, are bad beginnings for that.
AS_USUAL, BY_MASS = 3, ((0, 0.14),) * 4 + ((1, 0.14),)
#: The least mass that counts in what is liked, over the mean.
LIGHTEST = 0.01
#: Fillings mended between two looks.
PER_LOOK = 50


class Tree(NamedTuple):
    """Fillings of one level and of the next, a scratch one, and the best so far.

    ``counts`` has how many fillings were tried and whether the best places all.
    """

    now: Stow
    then: Stow
    scratch: Stow
    best: Stow
    least: Numbers
    counts: Table


class Crop(NamedTuple):
    """The best shoots of a level, what counts against each, and how many there are."""

    shoots: Table
    lacks: Numbers
    many: Table


@compiled
def _one(many: Stow, index: int) -> Stow:
    """Return one filling of a level."""
    return Stow(
        many.spaces[index],
        many.shut[index],
        many.placed[index],
        many.where[index],
        many.left[index],
        many.counts[index],
    )


@compiled
def _judged(task: Task, stow: Stow, tree: Tree) -> float:
    """Fill the rest of a filling by the plain rule; return what counts against it."""
    copied(stow, tree.scratch)
    fill_on(task.cargo, task.taste, tree.scratch, np.zeros((1, 8), np.int64), np.zeros(1))
    lack = lack_of(task.cargo, task.shares, tree.scratch)
    tree.counts[TRIED] += 1
    if lack < tree.least[0]:
        tree.least[0] = lack
        copied(tree.scratch, tree.best)
        tree.counts[WHOLE] = int(tree.scratch.where.min() >= 0)
    return lack


@compiled
def _keep(crop: Crop, shoot: Table, lack: float) -> None:
    """Put a shoot among the best few of a level unless its like is there."""
    kept, most = crop.many[0], crop.lacks.shape[0]
    for k in range(kept):
        if abs(crop.lacks[k] - lack) < SAME:
            return
    if kept == most and lack >= crop.lacks[most - 1]:
        return
    at = min(kept, most - 1)
    while at > 0 and crop.lacks[at - 1] > lack:
        crop.lacks[at] = crop.lacks[at - 1]
        crop.shoots[at] = crop.shoots[at - 1]
        at -= 1
    crop.lacks[at] = lack
    crop.shoots[at] = shoot
    crop.many[0] = min(kept + 1, most)


@compiled
def _next_space(task: Task, stow: Stow, rows: Table, worth: Numbers) -> Rows:
    """Return the next space that something fits, and how many options; -1 when there is none."""
    while True:
        s = space_of(task.cargo, task.taste, stow)
        if s < 0:
            return -1, 0
        found = options(task.cargo, task.taste, stow, s, rows, worth)
        if found > 0:
            return s, found
        stow.shut[s] = 1


@compiled
def _follow(cargo: Cargo, stow: Stow, shoot: Table) -> None:
    """Do to a filling what a shoot says."""
    if shoot[OPTION] == EMPTY:
        stow.shut[shoot[SPACE]] = 1
    else:
        put(cargo, stow, shoot[SPACE], shoot[OPTION:])


@compiled
def _grow_one(task: Task, tree: Tree, index: int, crop: Crop) -> None:
    """Try the ways to fill the next space of one filling; the best shoots are kept."""
    stow = _one(tree.now, index)
    rows, worth = np.zeros((task.ways, 8), np.int64), np.zeros(task.ways)
    shoot = np.zeros(10, np.int64)
    trial = _one(tree.then, tree.then.counts.shape[0] - 1)
    s, found = _next_space(task, stow, rows, worth)
    if s < 0:
        return
    for way in range(found + 1):
        shoot[PARENT], shoot[SPACE], shoot[OPTION] = index, s, EMPTY
        if way < found:
            shoot[OPTION:] = rows[way]
        copied(stow, trial)
        _follow(task.cargo, trial, shoot)
        lack = _judged(task, trial, tree)
        if tree.counts[WHOLE] != 0:
            return
        _keep(crop, shoot, lack)


@compiled
def _level(task: Task, tree: Tree, many: int, width: int) -> int:
    """Grow a tree by one level; return how many fillings it has then."""
    crop = Crop(np.zeros((width, 10), np.int64), np.zeros(width), np.zeros(1, np.int64))
    for index in range(many):
        _grow_one(task, tree, index, crop)
        if tree.counts[WHOLE] != 0:
            return 0
    kept = crop.many[0]
    for k in range(kept):
        target = _one(tree.then, k)
        copied(_one(tree.now, crop.shoots[k, PARENT]), target)
        _follow(task.cargo, target, crop.shoots[k])
    for k in range(kept):
        copied(_one(tree.then, k), _one(tree.now, k))
    return int(kept)


def _stows(cargo: Cargo, *many: int) -> Stow:
    things, rooms = cargo.things.shape[0], cargo.rooms.shape[0]
    return Stow(
        np.zeros((*many, MOST_SPACES, 7), np.int64),
        np.zeros((*many, MOST_SPACES), np.int64),
        np.zeros((*many, things, 9), np.int64),
        np.zeros((*many, things), np.int64),
        np.zeros((*many, rooms), np.int64),
        np.zeros((*many, 2), np.int64),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """Places as in ``packing_kernel``, a row for each thing, and how many fillings were tried."""

    places: Table
    tried: int


def in_a_tree(
    cargo: Cargo,
    *,
    seed: int,
    fillings: int,
    stands: tuple[int, int],
    look: Look,
    whole: bool = False,
) -> Found:
    """Return the best places that trees find.

    Args:
        cargo: Rooms and things.
        seed: Start of the random numbers.
        fillings: How many fillings may be tried.
        stands: Least share of a base that is held, in thousandths, at first and later on.
        look: Told what is being done and how many fillings were tried; True ends the search.
        whole: Whether all has a place elsewhere already, so that only full bases are of use.
    """
    tree = _new_tree(cargo)
    search = _Growth(cargo, seed, tree)
    best, least, until = None, np.inf, 0.0
    rounds = [(0, share) for share in FULL] + [(1, share) for share in GAPS]
    if search.unlike:
        rounds = [*rounds[:AS_USUAL], *BY_MASS]
    for number, (gap, share) in enumerate(rounds):
        if gap and whole:
            continue
        stand, search.heavy = stands[gap], search.unlike and number >= AS_USUAL
        trees = 0.0 if search.heavy else TREES
        opened(cargo, tree.best)
        tree.least[:] = np.inf
        until += fillings * share
        grown = int(until - fillings * share * (1.0 - trees))
        stopped = search.grow(grown, stand, look) or search.mend(int(until), stand, look)
        if tree.least[0] < least:
            best, least = _places(tree.best), float(tree.least[0])
        if stopped or tree.counts[WHOLE]:
            break
    return Found(places=_places(tree.best) if best is None else best, tried=int(tree.counts[TRIED]))


def _places(stow: Stow) -> Table:
    places = np.zeros((stow.where.shape[0], 8), np.int64)
    places[:, 0] = EMPTY
    for thing, row in enumerate(stow.where.tolist()):
        if row >= 0:
            box = stow.placed[row]
            places[thing] = [*box[:4], *(box[4:7] - box[1:4]), box[HELD]]
    return places


def _new_tree(cargo: Cargo) -> Tree:
    """Return room for trees up to the greatest width."""
    return Tree(
        _stows(cargo, WIDEST),
        _stows(cargo, WIDEST + 1),
        _stows(cargo),
        _stows(cargo),
        np.full(2, np.inf),
        np.zeros(2, np.int64),
    )


def _over_mean(masses: Table) -> Numbers:
    """Return masses over their mean; what weighs next to nothing counts as a hundredth of it."""
    mean = float(masses.mean())
    if not mean > 0.0:
        return np.ones(masses.shape[0])
    return np.asarray(np.maximum(masses / mean, LIGHTEST))


class _Growth:
    """Trees grown one after the other; things that are left out count more in the next."""

    def __init__(self, cargo: Cargo, seed: int, tree: Tree) -> None:
        self.cargo, self.tree = cargo, tree
        self.chance = np.random.default_rng(seed)
        volumes = cargo.things[:, LONG : HIGH + 1].astype(float).prod(axis=1)
        self.shares = volumes / volumes.sum()
        self.masses = _over_mean(cargo.things[:, MASS])
        self.unlike = bool(np.ptp(cargo.things[:, MASS]) > 0)
        self.heavy = False
        self.by_mass = np.random.default_rng((seed, 1))

    def mend(self, until: int, stand: int, look: Look) -> bool:
        """Take things out of the best and fill again until so many were tried; True if stopped."""
        tree, things = self.tree, self.shares.shape[0]
        now, trial = _one(tree.now, 0), _one(tree.then, 0)
        copied(tree.best, now)
        while tree.counts[TRIED] < until and not tree.counts[WHOLE]:
            dice = self.chance.random((PER_LOOK, DICE + 2 * things))
            task = Task(
                self.cargo, self._taste(np.ones(things), stand), self.shares, self.masses, 1
            )
            heavy = self.by_mass.random((PER_LOOK if self.heavy else 0, HEAVY_DICE))
            mended(task, now, trial, tree.best, dice, heavy, tree.least)
            tree.counts[TRIED] += PER_LOOK
            tree.counts[WHOLE] = int(tree.best.where.min() >= 0)
            if look(MENDING, int(tree.counts[TRIED])):
                return True
        return False

    def grow(self, until: int, stand: int, look: Look) -> bool:
        """Grow trees until all has a place or so many fillings were tried; True when stopped."""
        tree, width = self.tree, NARROWEST
        keys = np.ones(self.shares.shape[0])
        while tree.counts[TRIED] < until and not tree.counts[WHOLE]:
            ways = max(NARROWEST, width // 2)
            task = Task(self.cargo, self._best_taste(keys, stand), self.shares, self.masses, ways)
            opened(self.cargo, _one(tree.now, 0))
            many = 1
            while many and tree.counts[TRIED] < until:
                many = _level(task, tree, many, width)
                if look(TREES_GROW, int(tree.counts[TRIED])):
                    return True
            keys[tree.best.where < 0] *= COUNTS_MORE
            width = min(WIDEST, width + 1)
        return False

    def _best_taste(self, keys: Numbers, stand: int) -> Taste:
        """Return the one of several tastes that leaves least out by itself."""
        root, lacks, tastes = _one(self.tree.now, 0), [], []
        opened(self.cargo, root)
        for _ in range(TASTES):
            tastes.append(self._taste(keys, stand))
            task = Task(self.cargo, tastes[-1], self.shares, self.masses, NARROWEST)
            lacks.append(_judged(task, root, self.tree))
        return tastes[int(np.argmin(lacks))]

    def _taste(self, keys: Numbers, stand: int) -> Taste:
        """Return what the next tree looks for, by chance."""
        rooms, things = self.cargo.rooms.shape[0], self.shares.shape[0]
        dice = self.chance.random(7)
        across, deep = 1.0 if dice[3] < 0.5 else 0.01, 1.0 if dice[5] < 0.5 else 0.02
        bulk = self.shares ** (0.2 + 0.8 * dice[0])
        bulk *= self.masses ** (MOST_HEAVY * dice[6])
        return Taste(
            keys * bulk * np.exp(0.3 * (self.chance.random(things) - 0.5)),
            float(dice[1]),
            float(dice[2]),
            np.array([1000.0 if dice[4] < 0.7 else 0.5, across, deep]),
            1e9 * self.chance.permutation(rooms).astype(float),
            stand,
        )
