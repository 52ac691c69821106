"""Packing things into rooms: a few good orders first, then a seeded search over orders.

What counts, in this order: that everything has a place; that nothing stands over a gap; that
things lie where they are pulled (daily things near the face, heavy ones low). What is still left
out is looked for in a tree (``packing_beam``). The budget is a number of packings tried, so that
the same things give the same places on every machine.
Late acceptance: a change is kept when it is no worse than what was kept some changes ago
(E. K. Burke and Y. Bykov, The late acceptance hill-climbing heuristic, EJOR 258, 2017; from
memory). Placing at corners: T. G. Crainic, G. Perboli and R. Tadei, Extreme point-based
heuristics for three-dimensional bin packing, INFORMS J. Comput. 20, 2008 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.explore.packing_beam import MENDING, TREES_GROW, in_a_tree
from stowright.explore.packing_kernel import (
    BEARS,
    DX,
    DY,
    DZ,
    FLOOR_SHARE,
    HIGH,
    LONG,
    MASS,
    ROOM,
    STANDS,
    Plan,
    X,
    could_all_go_in,
    put_all,
)
from stowright.explore.packing_polish import polished
from stowright.explore.packing_values import (
    ALL_TURNS,
    TENTHS,
    Bin,
    Item,
    Packing,
    Position,
    as_before,
    goes_in,
    renumbered,
)
from stowright.explore.packing_wishes import lack_of_places, wishes_of

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]
    type Progress = Callable[[str, float], None]

__all__ = [
    "STAGES",
    "Bin",
    "Item",
    "Packing",
    "Position",
    "compile_ahead",
    "pack",
    "patience",
    "pleasing",
]

MODES, WINDOWS = 5, (1, 2, 4)
HISTORY, PER_LOOK = 40, 50
#: Fillings worth trying: the cost of one grows with the square of the things in it.
WORK, LEAST_TRIED, MOST_TRIED = 3.0e7, 8000, 40_000
#: Least share of a base that has to be held where its four corners are not: with more than half
#: of it the middle is held too, so that the thing does not tip (assumed margin).
LEAST_STAND = 0.6
#: More things than this are tried less often than the least, by the cube of how many more: what
#: all the trying takes then falls slowly with the number of things instead of growing.
MANY = 200
#: Fillings of a tree for each packing that is tried by changing one, unless told.
FILLINGS = 8
#: What a search does, one after the other, in words; the packings that the first counts for.
STAGES = ("usual orders", "other orders", TREES_GROW, MENDING, "turning round")
FIRST = 40
#: Things lie on their sides though not all go in then only for so many thousandths of the volume.
LIES_FOR = 20.0
#: Part of the orders after which things that all stand are given up where some are left out.
UPRIGHT = 0.25
#: How often a change lets things stand over gaps, or no longer: what is taken out from a tight
#: packing held others up.
OTHER_STAND = 0.04
#: Packings that please, for so many things: from a quick look to a good one.
PLEASE, LEAST_PLEASED, MOST_PLEASED = 2.4e6, 600, 1500
#: Where not all can go in, what does is looked for with this part of the fillings.
HOPELESS = 8


@dataclass(slots=True, kw_only=True)
class _State:
    """One packing: what guides it and what came out."""

    order: list[int]
    modes: list[int]
    turns: list[int]
    homes: list[int]
    window: int
    stand: int
    cost: float = float("inf")
    hanging: float = 0.0
    missing: list[int] = field(default_factory=list)
    places: Table | None = None

    def copy(self) -> _State:
        return _State(
            order=self.order[:],
            modes=self.modes[:],
            turns=self.turns[:],
            homes=self.homes[:],
            window=self.window,
            stand=self.stand,
        )


def pack(
    bins: tuple[Bin, ...],
    items: tuple[Item, ...],
    *,
    seed: int = 0,
    budget: int = 2000,
    longer: int | None = None,
    progress: Progress | None = None,
    should_stop: Callable[[], bool] | None = None,
) -> Packing:
    """Return places for things in rooms.

    Args:
        bins: The rooms.
        items: The things.
        seed: Start of the random numbers.
        budget: How many packings may be tried after the first orders.
        longer: How many fillings of a tree may be tried for what is left out then; an eighth of
            them where volume or mass is too much for all. Eight times the budget unless told.
        progress: Told the stage in words and the share of the whole budget that is used, 0 to 1.
        should_stop: Asked now and then; True ends the search with the best so far.
    """
    if not items or not bins:
        return Packing(placed=(), left_out=tuple(range(len(items))), tried=0, stopped=False)
    able = tuple(i for i, item in enumerate(items) if goes_in(bins, item))
    if len(able) < len(items):
        few = tuple(renumbered(items[i], able) for i in able)
        found = pack(
            bins,
            few,
            seed=seed,
            budget=budget,
            longer=longer,
            progress=progress,
            should_stop=should_stop,
        )
        return as_before(found, able, len(items))
    spent = budget * FILLINGS if longer is None else longer
    watch = _Watch(progress, should_stop, FIRST + budget + spent / FILLINGS)
    upright = tuple(_upright(bins, item) for item in items)
    best: _State | None = None
    if upright != items:
        watch.whole += FIRST + budget + spent // HOPELESS / FILLINGS
        less = spent // HOPELESS
        best = _sought(_Search(bins, upright, seed), budget, less, seed, watch, part=UPRIGHT)
    if best is None or best.missing or best.hanging:
        lying = _sought(_Search(bins, items, seed), budget, spent, seed, watch)
        worth = LIES_FOR if lying.missing else 0.0
        best = lying if best is None or lying.cost < best.cost - worth else best
    watch.end()
    return _packing(best, tried=watch.tried, stopped=watch.stopped)


def _upright(bins: tuple[Bin, ...], item: Item) -> Item:
    """Return a thing that does not lie on a side unless it goes in no other way."""
    stands = replace(item, upright=True)
    return stands if goes_in(bins, stands) else item


def _sought(
    search: _Search, budget: int, longer: int, seed: int, watch: _Watch, part: float = 1.0
) -> _State:
    """Return the best packing found by orders, then by trees where something is left out.

    Orders that leave something out after a part of the budget are gone on from no longer.
    """
    watch.look(STAGES[0], 0.0)
    best = _improve(search, search.first_orders(), budget, watch, part)
    watch.done += FIRST + budget
    if best.missing or best.hanging:
        best = _looked_longer(search, best, longer, seed, watch)
    watch.done += longer / FILLINGS
    if best.places is None:
        search.cost(best)
        best.places = search.places.copy()
    best.places = polished(search.cargo, best.places, search.lack)
    best.cost = search.lack(best.places)
    watch.tried += search.tried
    return best


def pleasing(things: int) -> int:
    """Return how many packings of so many things are tried so that each lies where it should."""
    tried = min(MOST_PLEASED, max(LEAST_PLEASED, PLEASE / max(1, things) ** 2))
    return _fewer(int(tried), things)


def compile_ahead() -> None:
    """Compile the search's inner loops now, so that no later run waits for it."""
    cubes = tuple(Item(size=(70.0, 60.0, 50.0)) for _ in range(4))
    pack((Bin(across=100.0, depth=100.0, height=100.0, most_kg=1.0),), cubes, budget=1, longer=500)


def patience(things: int) -> int:
    """Return how many fillings are worth trying for so many things: some seconds of work."""
    tried = min(MOST_TRIED, max(LEAST_TRIED, WORK / max(1, things) ** 2))
    return _fewer(int(tried), things)


def _fewer(tries: int, things: int) -> int:
    """Return how many tries are left of some where things are many; one at least."""
    return max(1, int(tries * min(1.0, MANY / max(1, things)) ** 3))


def _least_stand() -> int:
    return int(LEAST_STAND * FLOOR_SHARE)


class _Search:
    """Rooms and things, and the packings tried."""

    def __init__(self, bins: tuple[Bin, ...], items: tuple[Item, ...], seed: int) -> None:
        self.wishes = wishes_of(bins, items)
        self.cargo, self.share = self.wishes.cargo, self.wishes.share
        self.many = len(items)
        self.places: Table = np.zeros((self.many, 8), np.int64)
        self.tried = 0
        self.sizes = np.sort(self.cargo.things[:, LONG : HIGH + 1].astype(float), axis=1)
        self.chance = np.random.default_rng(seed)

    def cost(self, state: _State) -> float:
        """Return what counts against a packing; fills in what is missing."""
        rows = np.array([state.order, state.modes, state.turns, state.homes], dtype=np.int64)
        put_all(self.cargo, Plan(rows, state.window, state.stand), self.places)
        self.tried += 1
        return self.told(state, self.places)

    def told(self, state: _State, places: Table) -> float:
        """Tell a packing what became of it: cost, what is missing, what stands over gaps."""
        out = places[:, ROOM] < 0
        state.missing = [int(i) for i in np.nonzero(out)[0]]
        state.hanging = float((1.0 - places[:, STANDS] / FLOOR_SHARE)[~out].sum())
        state.cost = self.lack(places)
        return state.cost

    def lack(self, places: Table) -> float:
        """Return what counts against places."""
        return lack_of_places(self.wishes, places)

    def first_orders(self) -> list[_State]:
        """Return packings by a few good orders, best first; all on full bases before any gap."""
        bears = self.cargo.things[:, BEARS]
        keys = (
            np.argsort(-self.share, kind="stable"),
            np.argsort(-self.sizes[:, 2], kind="stable"),
            np.argsort(-self.sizes[:, 1] * self.sizes[:, 2], kind="stable"),
            np.lexsort((-self.share, -self.cargo.things[:, MASS], -bears)),
            np.lexsort((-self.share, self.wishes.kin, -self.cargo.pulls[:, 0, 1].round(1))),
        )
        usual = [(key, mode) for key in keys for mode in range(MODES)]
        found: list[_State] = []
        for stand in (FLOOR_SHARE, _least_stand()):
            for key, mode in usual[: _fewer(len(usual), self.many)]:
                state = _State(
                    order=[int(i) for i in key],
                    modes=[mode] * self.many,
                    turns=[-1] * self.many,
                    homes=[-1] * self.many,
                    window=WINDOWS[0],
                    stand=stand,
                )
                self.cost(state)
                found.append(state)
            if any(not state.missing for state in found):
                break
        return sorted(found, key=lambda state: state.cost)

    def _housed(self, state: _State, thing: int, home: int) -> None:
        """Give a thing and its copies a room, or any."""
        kin = self.wishes.kin
        for other in np.nonzero(kin == kin[thing])[0]:
            state.homes[int(other)] = home

    def changed(self, old: _State) -> _State:
        """Return a packing with one or two things changed."""
        new = old.copy()
        dice = self.chance.random(3)
        many, pick = self.many, self.chance.integers
        if dice[0] < 0.2 and old.missing:
            thing = old.missing[int(pick(len(old.missing)))]
            place = new.order.index(thing)
            new.order.remove(thing)
            new.order.insert(int(pick(max(1, place))), thing)
        elif dice[0] < 0.45:
            i, j = int(pick(many)), int(pick(many))
            new.order[i], new.order[j] = new.order[j], new.order[i]
        elif dice[0] < 0.73:
            new.order.insert(int(pick(many)), new.order.pop(int(pick(many))))
        elif dice[0] < 0.86:
            new.turns[int(pick(many))] = int(pick(-1, ALL_TURNS))
        elif dice[0] < 0.9 and self.cargo.rooms.shape[0] > 1:
            self._housed(new, int(pick(many)), int(pick(-1, self.cargo.rooms.shape[0])))
        else:
            new.modes[int(pick(many))] = int(pick(MODES))
        if dice[1] < 0.3:
            i = int(pick(many))
            new.order.insert(int(pick(max(1, i))), new.order.pop(i))
        if dice[2] < 0.04:
            new.window = WINDOWS[int(pick(len(WINDOWS)))]
        tight = bool(old.missing) or old.hanging > 0.0
        if tight and self.chance.random() < OTHER_STAND:
            new.stand = FLOOR_SHARE if new.stand < FLOOR_SHARE else _least_stand()
        return new


@dataclass(slots=True)
class _Watch:
    """Who is told of the work, and who may stop it."""

    progress: Progress | None
    should_stop: Callable[[], bool] | None
    whole: float
    done: float = 0.0
    shown: float = 0.0
    tried: int = 0
    stopped: bool = False

    def look(self, stage: str, more: float) -> bool:
        """Tell what is being done and how much is; return whether to stop."""
        if self.should_stop is not None and self.should_stop():
            self.stopped = True
        elif self.progress is not None:
            self.shown = max(self.shown, min(1.0, (self.done + more) / self.whole))
            self.progress(stage, self.shown)
        return self.stopped

    def end(self) -> None:
        """Tell that all is done, unless it was stopped."""
        if self.progress is not None and not self.stopped:
            self.progress(STAGES[-1], 1.0)


def _looked_longer(search: _Search, best: _State, longer: int, seed: int, watch: _Watch) -> _State:
    """Return the better of a packing and what trees find: on full bases, then over small gaps."""
    fillings = longer if could_all_go_in(search.cargo) else longer // HOPELESS
    if watch.stopped or fillings <= 0:
        return best
    found = in_a_tree(
        search.cargo,
        seed=seed,
        fillings=fillings,
        stands=(FLOOR_SHARE, _least_stand()),
        look=lambda stage, done: watch.look(stage, done / FILLINGS),
        whole=not best.missing,
    )
    state = best.copy()
    state.places = found.places
    search.tried += found.tried
    return state if search.told(state, found.places) < best.cost else best


def _improve(
    search: _Search, starts: list[_State], budget: int, watch: _Watch, part: float
) -> _State:
    """Return the best packing found by changing one."""
    best = now = starts[0]
    history = [now.cost] * HISTORY
    for round_ in range(budget):
        ended = round_ % PER_LOOK == 0 and watch.look(STAGES[1], FIRST + round_)
        if ended or (round_ % PER_LOOK == 0 and _settled(best, round_, budget)):
            break
        if best.missing and round_ >= part * budget:
            break
        new = search.changed(now)
        search.cost(new)
        if new.cost <= max(history[round_ % HISTORY], now.cost):
            now = new
        history[round_ % HISTORY] = now.cost
        if new.cost < best.cost:
            best = new
    return best


def _settled(best: _State, done: int, budget: int) -> bool:
    """Tell whether enough was tried: when all is placed, half of the budget improves it."""
    return not best.missing and not best.hanging and done >= budget // 2


def _packing(best: _State, *, tried: int, stopped: bool) -> Packing:
    rows = [] if best.places is None else best.places.tolist()
    placed = tuple(
        Position(
            item=i,
            room=int(row[ROOM]),
            at=(row[X] / TENTHS, row[X + 1] / TENTHS, row[X + 2] / TENTHS),
            size=(row[DX] / TENTHS, row[DY] / TENTHS, row[DZ] / TENTHS),
            stands=row[STANDS] / FLOOR_SHARE,
        )
        for i, row in enumerate(rows)
        if row[ROOM] >= 0
    )
    return Packing(placed=placed, left_out=tuple(best.missing), tried=tried, stopped=stopped)
