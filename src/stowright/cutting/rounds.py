"""Rounds of ruin and recreate, with late acceptance; compiled like the kernel."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.cutting.compiling import compiled
from stowright.cutting.effort import ROUND_COST
from stowright.cutting.handiness import handiness
from stowright.cutting.kernel import (
    AREA,
    AXIS,
    BIN,
    CLIMB,
    CROWDED,
    FINISH,
    FREE,
    ITEM,
    LENGTH,
    PARENT,
    PART,
    RUIN,
    SHORTER,
    TURNS,
    UNIT,
    USED,
    WIDTH,
    State,
    Task,
    best_place,
    into_pool,
    open_sheet,
    pick,
    put_in,
    sizes_of,
    take_out,
)

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]
    type Numbers = np.ndarray[Any, np.dtype[np.float64]]

__all__ = ["search"]


@compiled
def ruin(state: State, task: Task, count: int) -> int:
    """Take some slots out, their parts into the pool; return the pool's new count."""
    tree, seed, knobs = state.tree, task.seed, task.knobs
    for _ in range(1 + pick(seed, int(knobs[RUIN]))):
        slot = -1
        for _ in range(200):  # a free column is drawn now and then
            drawn = pick(seed, tree.shape[1])
            if tree[AXIS, drawn] != FREE:
                slot = drawn
                break
        if slot < 0:
            return count
        while tree[PARENT, slot] >= 0 and pick(seed, 100) < knobs[CLIMB]:
            slot = tree[PARENT, slot]
        take_out(tree, state.bins, slot)
        count = into_pool(tree, slot, state.pool, count)
    return count


@compiled
def count_used(state: State, parts: Table) -> None:
    """Set the area used on each sheet."""
    tree, bins = state.tree, state.bins
    bins[USED, :] = 0
    for slot in range(tree.shape[1]):
        if tree[AXIS, slot] == PART:
            bins[USED, tree[BIN, slot]] += parts[AREA, tree[ITEM, slot]]


@compiled
def put_in_order(pool: Table, count: int, parts: Table, seed: Table) -> None:
    """Order the pool: by chance, or by a size, largest first, equal ones by chance."""
    for last in range(count - 1, 0, -1):
        drawn = pick(seed, last + 1)
        pool[last], pool[drawn] = pool[drawn], pool[last]
    way = pick(seed, 8)
    if way == 7:
        return
    row = AREA + way if way <= SHORTER - AREA else AREA
    for at in range(1, count):
        part = pool[at]
        before = at - 1
        while before >= 0 and parts[row, pool[before]] < parts[row, part]:
            pool[before + 1] = pool[before]
            before -= 1
        pool[before + 1] = part


@compiled
def is_same(parts: Table, one: int, other: int) -> bool:
    """Tell whether two parts are alike."""
    return bool(
        parts[LENGTH, one] == parts[LENGTH, other]
        and parts[WIDTH, one] == parts[WIDTH, other]
        and parts[TURNS, one] == parts[TURNS, other]
    )


@compiled
def recreate(state: State, task: Task, count: int) -> int:
    """Put the pool's parts back where they cost least; return how many found no place."""
    place = np.empty(5, np.int64)
    pool = state.pool
    left = 0
    for at in range(count):
        part = pool[at]
        found = False
        if left == 0 or not is_same(task.parts, part, pool[left - 1]):
            sizes = sizes_of(task.parts, part)
            found = best_place(state, task, sizes, place) or open_sheet(state, task, part, place)
        if found:
            put_in(state, task, part, place)
            continue
        pool[left] = part
        left += 1
        if task.knobs[FINISH] > 0.0:
            return left
    return left


@compiled
def crowding(area: float) -> float:
    """Return what a part of some area that has no place counts for: its area to the power 17/16.

    Small parts find a place sooner than a large one of the same area does.
    """
    return area * math.sqrt(math.sqrt(math.sqrt(math.sqrt(area))))


@compiled
def cost_of(state: State, task: Task, left: int, sums: Numbers) -> float:
    """Return what a state counts for: the parts not placed, or how handy a complete one is."""
    if task.knobs[FINISH] > 0.0:
        return 1e300 if left > 0 else handiness(state, task, sums)
    total, unit = 0.0, task.knobs[UNIT]
    if task.knobs[CROWDED] > 0.0:
        for at in range(left):
            total += crowding(task.parts[AREA, state.pool[at]] * unit * unit)
        return float(total)
    for at in range(left):
        total += task.parts[AREA, state.pool[at]]
    return float(total * unit * unit)


@compiled
def copy_into(target: State, source: State) -> None:
    """Copy one state over another."""
    target.tree[:] = source.tree
    target.bins[:] = source.bins
    target.pool[:] = source.pool


@compiled
def search(best: State, now: State, task: Task, meta: Table, late: Numbers) -> float:
    """Go on with a search; return what the best state found so far counts for.

    A new state is kept when it is no worse than the one before or than the one that was
    accepted ``len(late) - 1`` rounds earlier (late acceptance).

    Args:
        best: The best state so far, changed in place.
        now: The state that the search stands at, changed in place.
        task: What is searched for.
        meta: Parts not placed in the best state and in the one now, the work and the rounds
            done, and the work at which it ends; changed in place.
        late: What was accepted earlier, changed in place; negative infinity in front when new.
    """
    new = State(now.tree.copy(), now.bins.copy(), now.pool.copy())
    kept = State(now.tree.copy(), now.bins.copy(), now.pool.copy())
    copy_into(kept, now)
    sums = np.zeros(4)
    least = cost_of(best, task, meta[0], sums)
    current = cost_of(now, task, meta[1], sums)
    if late[0] < 0.0 and late[0] == -np.inf:
        late[:] = current
    while meta[2] < meta[4]:
        copy_into(new, kept)
        count = ruin(new, task, meta[1])
        count_used(new, task.parts)
        put_in_order(new.pool, count, task.parts, task.seed)
        left = recreate(new, task, count)
        meta[2] += (count + 4) * new.tree.shape[1] + ROUND_COST
        cost = cost_of(new, task, left, sums)
        meta[3] += 1
        at = meta[3] % len(late)
        if cost <= current or cost <= late[at]:
            current, meta[1] = cost, left
            kept, new = new, kept
            if cost < least:
                least, meta[0] = cost, left
                copy_into(best, kept)
                if left == 0 and task.knobs[FINISH] == 0.0:
                    break
        late[at] = min(late[at], current)
    copy_into(now, kept)
    return float(least)
