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

from stowright.explore.packing_beam import in_a_tree
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
    TURNS,
    Cargo,
    Plan,
    X,
    could_all_go_in,
    put_all,
)
from stowright.explore.packing_polish import polished

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]

__all__ = ["Bin", "Item", "Packing", "Position", "compile_ahead", "pack", "patience", "pleasing"]

TENTHS, GRAMS = 10.0, 1000.0
MODES, WINDOWS, ALL_TURNS = 5, (1, 2, 4), 6
HISTORY, PER_LOOK = 40, 50
#: Fillings worth trying: the cost of one grows with the square of the things in it.
WORK, LEAST_TRIED, MOST_TRIED = 3.0e7, 8000, 40_000
#: Least share of a base that has to be held where its four corners are not: with more than half
#: of it the middle is held too, so that the thing does not tip (assumed margin).
LEAST_STAND = 0.6
#: Fillings of a tree for each packing that is tried by changing one, unless told.
FILLINGS = 8
#: How often a change lets things stand over gaps, or no longer: what is taken out from a tight
#: packing held others up.
OTHER_STAND = 0.04
#: What is counted against a packing: things without a place, over a gap, parted from their kind.
NO_PLACE, OVER_A_GAP, PARTED, BALANCE, ON_ITS_SIDE = 1.0e3, 1.0, 0.5, 0.5, 0.3
#: Packings that please, for so many things: from a quick look to a good one.
PLEASE, LEAST_PLEASED, MOST_PLEASED = 7.0e5, 200, 2000
#: Where not all can go in, what does is looked for with this part of the fillings.
HOPELESS = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Bin:
    """A room to put things into. Lengths in mm, mass in kg.

    ``sideways`` says where a point of it lies off the vehicle's centre line: at its corner, and
    by how much that changes with each millimetre across and deep.
    """

    across: float
    depth: float
    height: float
    most_kg: float
    sideways: tuple[float, float, float] = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One thing.

    Attributes:
        size: Length, width, height. [mm]
        mass_kg: Mass. [kg]
        upright: Whether its height has to stay upright.
        bears: Whether something may stand on it.
        only_in: Rooms it may go into, by index; None for any.
        apart_from: Indices of things that it must not share a room with.
        together_with: Indices of things that it should share a room with.
        wanted: What each room is worth to it; an empty tuple for nothing.
        pulls: What each axis (across, depth, up) counts against a place, from 0 at its start
            to all of it at its end.
    """

    size: tuple[float, float, float]
    mass_kg: float = 0.0
    upright: bool = False
    bears: bool = True
    only_in: tuple[int, ...] | None = None
    apart_from: tuple[int, ...] = ()
    together_with: tuple[int, ...] = ()
    wanted: tuple[float, ...] = ()
    pulls: tuple[float, float, float] = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Position:
    """Where a thing lies: in which room, its near corner and its extent. [mm]."""

    item: int
    room: int
    at: tuple[float, float, float]
    size: tuple[float, float, float]
    stands: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """What was found: places, things without one, and how many packings were tried."""

    placed: tuple[Position, ...]
    left_out: tuple[int, ...]
    tried: int
    stopped: bool


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
    progress: Callable[[float], None] | None = None,
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
        progress: Told the share of the budget that is used, 0 to 1.
        should_stop: Asked now and then; True ends the search with the best so far.
    """
    if not items or not bins:
        return Packing(placed=(), left_out=tuple(range(len(items))), tried=0, stopped=False)
    able = tuple(i for i, item in enumerate(items) if _goes_in(bins, item))
    if len(able) < len(items):
        few = tuple(_renumbered(items[i], able) for i in able)
        found = pack(
            bins,
            few,
            seed=seed,
            budget=budget,
            longer=longer,
            progress=progress,
            should_stop=should_stop,
        )
        return _as_before(found, able, len(items))
    search = _Search(cargo_of(bins, items), _pairs(items), seed)
    search.sideways = np.array([b.sideways for b in bins])
    watch = _Watch(progress, should_stop, budget, budget * FILLINGS if longer is None else longer)
    best = _improve(search, search.first_orders(), budget, watch)
    if best.missing or best.hanging:
        best = _looked_longer(search, best, seed, watch)
    if best.places is None:
        search.cost(best)
        best.places = search.places.copy()
    best.places = polished(search.cargo, best.places, search.lack)
    return _packing(search, best, stopped=watch.stopped)


def pleasing(things: int) -> int:
    """Return how many packings of so many things are tried so that each lies where it should."""
    return int(min(MOST_PLEASED, max(LEAST_PLEASED, PLEASE / max(1, things) ** 2)))


def compile_ahead() -> None:
    """Compile the search's inner loops now, so that no later run waits for it."""
    cubes = tuple(Item(size=(70.0, 60.0, 50.0)) for _ in range(4))
    pack((Bin(across=100.0, depth=100.0, height=100.0, most_kg=1.0),), cubes, budget=1, longer=500)


def _goes_in(bins: tuple[Bin, ...], item: Item) -> bool:
    """Tell whether a thing would go into one of the rooms if nothing else were there."""
    a, b, high = item.size
    lying = [(a, b, high)] if item.upright else [(a, b, high), (a, high, b), (b, high, a)]
    return any(
        item.mass_kg <= room.most_kg
        and (item.only_in is None or k in item.only_in)
        and any(
            high <= room.height
            and min(one, two) <= min(room.across, room.depth)
            and max(one, two) <= max(room.across, room.depth)
            for one, two, high in lying
        )
        for k, room in enumerate(bins)
    )


def _renumbered(item: Item, able: tuple[int, ...]) -> Item:
    """Return a thing that knows the others by their places among those that may go in."""
    number = {old: new for new, old in enumerate(able)}
    return replace(
        item,
        apart_from=tuple(number[i] for i in item.apart_from if i in number),
        together_with=tuple(number[i] for i in item.together_with if i in number),
    )


def _as_before(found: Packing, able: tuple[int, ...], many: int) -> Packing:
    """Return a packing of some things as one of all."""
    out = {*range(many)} - {*able} | {able[i] for i in found.left_out}
    placed = tuple(replace(p, item=able[p.item]) for p in found.placed)
    return replace(found, placed=placed, left_out=tuple(sorted(out)))


def patience(things: int) -> int:
    """Return how many fillings are worth trying for so many things: some seconds of work."""
    return int(min(MOST_TRIED, max(LEAST_TRIED, WORK / max(1, things) ** 2)))


def cargo_of(bins: tuple[Bin, ...], items: tuple[Item, ...]) -> Cargo:
    """Return rooms and things as whole numbers: rooms rounded down, things up."""
    rooms = np.array(
        [
            [
                *(int(s * TENTHS + 1e-6) for s in (b.across, b.depth, b.height)),
                int(b.most_kg * GRAMS),
            ]
            for b in bins
        ],
        dtype=np.int64,
    )
    things = np.zeros((len(items), 6), dtype=np.int64)
    many, places = len(items), len(bins)
    banned, apart = np.zeros((many, places), np.int64), np.zeros((many, many), np.int64)
    wanted, pulls = np.zeros((many, places)), np.zeros((many, places, 3))
    for i, item in enumerate(items):
        things[i, LONG : HIGH + 1] = [int(np.ceil(s * TENTHS - 1e-6)) for s in item.size]
        things[i, MASS] = int(np.ceil(item.mass_kg * GRAMS - 1e-6))
        things[i, TURNS], things[i, BEARS] = 2 if item.upright else ALL_TURNS, int(item.bears)
        if item.only_in is not None:
            banned[i, [b for b in range(places) if b not in item.only_in]] = 1
        apart[i, list(item.apart_from)] = 1
        apart[list(item.apart_from), i] = 1
        if item.wanted:
            wanted[i, :] = item.wanted
        pulls[i, :, :] = item.pulls
    return Cargo(rooms, things, banned, apart, wanted, pulls)


def _pairs(items: tuple[Item, ...]) -> Table:
    pairs = sorted({(min(i, j), max(i, j)) for i, t in enumerate(items) for j in t.together_with})
    return np.array(pairs, dtype=np.int64).reshape(-1, 2)


def _least_stand() -> int:
    return int(LEAST_STAND * FLOOR_SHARE)


class _Search:
    """Rooms and things, and the packings tried."""

    def __init__(self, cargo: Cargo, pairs: Table, seed: int) -> None:
        self.cargo, self.pairs = cargo, pairs
        self.many = cargo.things.shape[0]
        self.places: Table = np.zeros((self.many, 8), np.int64)
        self.tried = 0
        self.sizes = np.sort(cargo.things[:, LONG : HIGH + 1].astype(float), axis=1)
        volumes = self.sizes.prod(axis=1)
        self.share = volumes / volumes.sum()
        self.sideways = np.zeros((cargo.rooms.shape[0], 3))
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
        out = places[:, ROOM] < 0
        here = np.nonzero(~out)[0]
        return (
            NO_PLACE * float(self.share[out].sum())
            + OVER_A_GAP * float((1.0 - places[here, STANDS] / FLOOR_SHARE).sum())
            + self._pulled(places, here)
            + PARTED * self._parted(places)
            + ON_ITS_SIDE * self._tipped(places, here)
            + BALANCE * self._off_balance(places, here)
        )

    def _off_balance(self, places: Table, here: Table) -> float:
        """Return how far the load's centre lies off the centre line, in metres."""
        mass = self.cargo.things[here, MASS]
        if not mass.sum():
            return 0.0
        at, way = places[here], self.sideways[places[here, ROOM]]
        middle = (at[:, X : X + 2] + at[:, DX : DX + 2] / 2.0) / TENTHS
        off = way[:, 0] + (way[:, 1:] * middle).sum(axis=1)
        return float(abs((mass * off).sum() / mass.sum()) / 1000.0)

    def _parted(self, places: Table) -> float:
        """Return the share of pairs that should stand together and do not."""
        if not len(self.pairs):
            return 0.0
        rooms = places[:, ROOM][self.pairs]
        return float((rooms[:, 0] != rooms[:, 1]).mean())

    def _tipped(self, places: Table, here: Table) -> float:
        """Return the share of all things that lie on their sides."""
        return float((places[here, DZ] != self.cargo.things[here, HIGH]).sum() / self.many)

    def _pulled(self, places: Table, here: Table) -> float:
        """Return how far things lie from where they are pulled, a mean over all."""
        at = places[here]
        middle = (at[:, X : X + 3] + at[:, DX : DZ + 1] / 2.0) / self.cargo.rooms[at[:, ROOM], :3]
        pulls = self.cargo.pulls[here, at[:, ROOM]]
        wanted = self.cargo.wanted[here, at[:, ROOM]]
        return float(((pulls * middle).sum() - wanted.sum()) / self.many)

    def first_orders(self) -> list[_State]:
        """Return packings by a few good orders, best first; all on full bases before any gap."""
        bears = self.cargo.things[:, BEARS]
        keys = (
            np.argsort(-self.share, kind="stable"),
            np.argsort(-self.sizes[:, 2], kind="stable"),
            np.argsort(-self.sizes[:, 1] * self.sizes[:, 2], kind="stable"),
            np.lexsort((-self.share, -self.cargo.things[:, MASS], -bears)),
        )
        found: list[_State] = []
        for stand in (FLOOR_SHARE, _least_stand()):
            for key in keys:
                for mode in range(MODES):
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
            new.homes[int(pick(many))] = int(pick(-1, self.cargo.rooms.shape[0]))
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

    progress: Callable[[float], None] | None
    should_stop: Callable[[], bool] | None
    budget: int
    longer: int
    stopped: bool = False

    def look(self, done: float) -> bool:
        """Tell how much is done; return whether to stop."""
        if self.should_stop is not None and self.should_stop():
            self.stopped = True
        elif self.progress is not None:
            self.progress(min(1.0, done / max(1.0, self.budget + self.longer / FILLINGS)))
        return self.stopped


def _looked_longer(search: _Search, best: _State, seed: int, watch: _Watch) -> _State:
    """Return the better of a packing and what trees find: on full bases, then over small gaps."""
    fillings = watch.longer if could_all_go_in(search.cargo) else watch.longer // HOPELESS
    if watch.stopped or fillings <= 0:
        return best
    found = in_a_tree(
        search.cargo,
        seed=seed,
        fillings=fillings,
        stands=(FLOOR_SHARE, _least_stand()),
        look=lambda done: watch.look(watch.budget + done / FILLINGS),
        whole=not best.missing,
    )
    state = best.copy()
    state.places = found.places
    search.tried += found.tried
    return state if search.told(state, found.places) < best.cost else best


def _improve(search: _Search, starts: list[_State], budget: int, watch: _Watch) -> _State:
    """Return the best packing found by changing one."""
    best = now = starts[0]
    history = [now.cost] * HISTORY
    for round_ in range(budget):
        if round_ % PER_LOOK == 0 and (watch.look(round_) or _settled(best, round_, budget)):
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


def _packing(search: _Search, best: _State, *, stopped: bool) -> Packing:
    places = search.places if best.places is None else best.places
    placed = tuple(
        Position(
            item=i,
            room=int(row[ROOM]),
            at=(row[X] / TENTHS, row[X + 1] / TENTHS, row[X + 2] / TENTHS),
            size=(row[DX] / TENTHS, row[DY] / TENTHS, row[DZ] / TENTHS),
            stands=row[STANDS] / FLOOR_SHARE,
        )
        for i, row in enumerate(places.tolist())
        if row[ROOM] >= 0
    )
    return Packing(placed=placed, left_out=tuple(best.missing), tried=search.tried, stopped=stopped)
