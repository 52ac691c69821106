"""Layouts of few lines by annealing: rounds of ruin and recreate that get calmer; compiled.

Parts with a side in common are put back as one block now and then, since what one of them costs
where it lies says little about what all of them together cost. A worse layout is accepted by
chance, the more seldom the colder it is. Of all complete layouts seen on the way the handiest
for each number of lines is kept: few lines and a large offcut pull apart, and what one costs of
the other is known only afterwards.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from stowright.cutting.compiling import compiled
from stowright.cutting.effort import ROUND_COST
from stowright.cutting.handiness import DISTINCT, LARGEST, LENGTH_CUT, LINES
from stowright.cutting.kernel import (
    DEPTH,
    LENGTH,
    METRES,
    PARENT,
    TURNS,
    UNIT,
    WIDTH,
    State,
    Task,
    best_place,
    free_slot,
    open_sheet,
    pick,
    put_in,
)
from stowright.cutting.rounds import copy_into, cost_of, count_used, put_in_order, ruin

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]
    type Numbers = np.ndarray[Any, np.dtype[np.float64]]
    type Part = tuple[int, int, int]
    type Block = tuple[int, int, int]

__all__ = ["CHANCES", "Front", "anneal"]

HOT, COLD, WORK, SETTING, OFFCUT = range(5)  # entries of a plan
IN_BLOCKS = 75  # chance that a part is put back with others of one side, in a hundred
MOST_IN_BLOCK = 8

#: How much worse a layout may be, in units of warmth: one of these is drawn. They are an
#: exponential distribution in 1024 equal shares, rounded so that every machine has the same.
CHANCES = np.array([round(-math.log((at + 0.5) / 1024) * 4096) / 4096 for at in range(1024)])


class Front(NamedTuple):
    """The handiest layout for each number of saw lines.

    Attributes:
        counts: What it counts for beside its lines; infinite where there is none.
        offcuts: Area of its largest offcut.
        trees: Its slots, as in a state.
        bins: Its sheets.
    """

    counts: Numbers
    offcuts: Numbers
    trees: Table
    bins: Table


@compiled
def gather(pool: Table, parts: Table, span: tuple[int, int], axis: int, flips: Table) -> int:
    """Bring parts that are as wide across an axis as the first one next to it; return how many.

    Args:
        pool: The parts that are to be placed.
        parts: A column for each part.
        span: Where in the pool the block starts, and where the pool ends.
        axis: The axis along which the block will be a row.
        flips: Set to 1 for each part that lies turned in the block.
    """
    first, end = span
    side, other = (WIDTH, LENGTH) if axis == 0 else (LENGTH, WIDTH)
    across, next_ = parts[side, pool[first]], first + 1
    flips[first] = 0
    for at in range(first + 1, end):
        if next_ - first >= MOST_IN_BLOCK:
            break
        part = pool[at]
        straight = parts[side, part] == across
        if straight or (parts[TURNS, part] == 1 and parts[other, part] == across):
            pool[at], pool[next_] = pool[next_], part
            flips[next_] = 0 if straight else 1
            next_ += 1
    return int(next_ - first)


@compiled
def block_sizes(pool: Table, parts: Table, block: Block, flips: Table) -> Part:
    """Return a block's length and width and whether all of it may turn.

    The block is where it starts in the pool, how many parts it has, and its axis.
    """
    first, many, axis = block
    along, turns = 0, 1
    for at in range(first, first + many):
        part = pool[at]
        along += parts[LENGTH, part] if (axis == 0) == (flips[at] == 0) else parts[WIDTH, part]
        turns = min(turns, parts[TURNS, part])
    if axis == 0:
        return along, parts[WIDTH, pool[first]], turns
    return parts[LENGTH, pool[first]], along, turns


@compiled
def put_block(state: State, task: Task, block: Block, flips: Table, place: Table) -> None:
    """Put a block into a place: its first part, then the others beside it."""
    first, many, axis = block
    turned = place[3]
    own = axis ^ turned
    outer = place[1] if place[0] >= 0 else -1
    leaf = free_slot(state.tree)
    for at in range(first, first + many):
        place[3] = flips[at] ^ turned
        if at > first:
            wraps = at == first + 1 and outer != own
            place[0] = leaf if wraps else state.tree[PARENT, leaf]
            place[1], place[2] = own, int(wraps)
        put_in(state, task, state.pool[at], place)


@compiled
def recreate(state: State, task: Task, count: int) -> int:
    """Put the pool's parts back, many in blocks; return how many are left as one finds no place."""
    place = np.empty(5, np.int64)
    flips = np.zeros(count + 1, np.int64)
    pool, parts, seed = state.pool, task.parts, task.seed
    at = 0
    while at < count:
        many, axis = 1, pick(seed, 2)
        flips[at] = 0
        if task.knobs[DEPTH] == 0.0 and pick(seed, 100) < IN_BLOCKS:
            end = min(count, at + 1 + pick(seed, count))
            many = gather(pool, parts, (at, end), axis, flips)
        while not best_place(state, task, block_sizes(pool, parts, (at, many, axis), flips), place):
            if many == 1:
                if not open_sheet(state, task, pool[at], place):
                    return count - at
                break
            many = (many + 1) // 2 if many > 2 else 1
        put_block(state, task, (at, many, axis), flips, place)
        at += many
    return 0


@compiled
def remember(front: Front, new: State, knobs: Numbers, plan: Numbers, sums: Numbers) -> None:
    """Keep a complete layout if it is the handiest with so many lines."""
    lines = int(sums[LINES])
    if lines >= len(front.counts):
        return
    count = plan[SETTING] * sums[DISTINCT] + knobs[METRES] * sums[LENGTH_CUT] * knobs[UNIT]
    count -= plan[OFFCUT] * sums[LARGEST] * knobs[UNIT] * knobs[UNIT]
    if count < front.counts[lines]:
        front.counts[lines], front.offcuts[lines] = count, sums[LARGEST]
        front.trees[lines] = new.tree
        front.bins[lines] = new.bins


@compiled
def anneal(now: State, task: Task, meta: Table, plan: Numbers, front: Front) -> None:
    """Go on with a search that gets colder as its work is done; fill the front.

    Args:
        now: The state that the search stands at, complete; changed in place.
        task: What is searched for.
        meta: As ``rounds.search`` has it; changed in place.
        plan: Warmth at the start and at the end, in what a layout counts for; the whole work;
            what one more setting and an offcut as large as a sheet count for in the front.
        front: What was found; changed in place.
    """
    new = State(now.tree.copy(), now.bins.copy(), now.pool.copy())
    kept = State(now.tree.copy(), now.bins.copy(), now.pool.copy())
    sums = np.zeros(4)
    current = cost_of(now, task, meta[1], sums)
    remember(front, now, task.knobs, plan, sums)
    while meta[2] < meta[4]:
        warmth = plan[HOT] + (plan[COLD] - plan[HOT]) * (meta[2] / plan[WORK])
        copy_into(new, kept)
        count = ruin(new, task, meta[1])
        count_used(new, task.parts)
        put_in_order(new.pool, count, task.parts, task.seed)
        left = recreate(new, task, count)
        meta[2] += (count + 4) * new.tree.shape[1] + ROUND_COST
        meta[3] += 1
        if left > 0:
            continue
        cost = cost_of(new, task, left, sums)
        remember(front, new, task.knobs, plan, sums)
        if cost <= current + warmth * CHANCES[pick(task.seed, 1024)]:
            current = cost
            kept, new = new, kept
    copy_into(now, kept)
