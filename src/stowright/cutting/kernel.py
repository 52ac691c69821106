"""The inner loop of the search: parts taken out of a layout and put back elsewhere.

Compiled by numba. As plain Python the same code gives the same result: all of it is whole
numbers, products and square roots, which every machine rounds alike.

``tree`` has a column for each slot and the rows named below, ``bins`` a column for each sheet.
A slot is as small as its kids; what its place has beyond that is its slack. Putting a part into
a row may widen it at the expense of the slack of the rows around it. A place is worth what the
rests are worth that it leaves, each its area to the power 5/4, so that few large rests are
better than many small ones.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from stowright.cutting.compiling import compiled

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]
    type Numbers = np.ndarray[Any, np.dtype[np.float64]]
    type Rooms = tuple[int, int, int, int, int]
    type Pair = tuple[int, int]
    type Part = tuple[int, int, int]
    type Weights = tuple[float, float, float]
    type Gains = tuple[float, float]

__all__ = ["TREE_ROWS", "State", "Task"]

AXIS, PARENT, FIRST, NEXT, BEFORE, WIDE, HIGH, ITEM, TURNED, BIN = range(10)
TREE_ROWS = 10
FREE, PART = -2, -1  # values of AXIS beside the two axes
ROOT, TYPE, USED = range(3)  # rows of bins; TYPE is -1 for a sheet that is not open
LENGTH, WIDTH, TURNS, AREA, LONGER, SHORTER = range(6)  # rows of parts, grown sizes
COPIES = 2  # row of stock, after the two grown sides
(
    UNIT,  # one over the side of a square as large as the largest sheet
    BUDGET,  # most that the open sheets may cost
    RUIN,  # most slots taken out in one round
    CLIMB,  # chance to take out the row around a slot instead, in a hundred
    BLINK,  # chance not to look at a place, in a thousand
    LINE,  # what one more saw line counts against a place
    FINISH,  # 0: place everything within the budget; 1: make a complete layout handier
    SETTINGS,  # what one more setting counts for, in saw lines
    METRES,  # what one unit length of cut counts for
    OFFCUT,  # what an offcut as large as a sheet counts for
    KEEP_LONG,  # least longer side of an offcut that counts
    KEEP_SHORT,  # least shorter side
    DEPTH,  # most levels of rows; 0 without limit
    FIRST_AXIS,  # axis of the outermost rows; -1 when free
    MOST_LINES,  # saw lines that may not be exceeded when a complete layout is made handier
    CROWDED,  # 1: of what has no place a large part counts a little more than small ones
) = range(16)
KNOBS = 16
NO_ROOM = -1e300
MODULUS, FACTOR = 2147483647, 48271  # Park and Miller's generator, from memory


class State(NamedTuple):
    """A layout in work.

    Attributes:
        tree: A column for each slot.
        bins: A column for each sheet.
        pool: The parts that are not placed.
    """

    tree: Table
    bins: Table
    pool: Table


class Task(NamedTuple):
    """What is searched for.

    Attributes:
        parts: A column for each part.
        stock: A column for each stock size.
        costs: What one sheet of each size costs.
        knobs: What guides the search.
        seed: State of the random numbers, changed with every draw.
    """

    parts: Table
    stock: Table
    costs: Numbers
    knobs: Numbers
    seed: Table


@compiled
def pick(seed: Table, choices: int) -> int:
    """Return the next random number below ``choices``."""
    seed[0] = seed[0] * FACTOR % MODULUS
    return int(seed[0] % choices)


@compiled
def worth(area: float) -> float:
    """Return what a rest of some area is worth."""
    return area * math.sqrt(math.sqrt(area))


@compiled
def fit_sizes(tree: Table, slot: int) -> None:
    """Make a row, and those around it, as small as its kids allow."""
    while slot >= 0:
        axis = tree[AXIS, slot]
        along, across = 0, 0
        kid = tree[FIRST, slot]
        while kid >= 0:
            along += tree[WIDE + axis, kid]
            across = max(across, tree[HIGH - axis, kid])
            kid = tree[NEXT, kid]
        if tree[WIDE + axis, slot] == along and tree[HIGH - axis, slot] == across:
            return
        tree[WIDE + axis, slot] = along
        tree[HIGH - axis, slot] = across
        slot = tree[PARENT, slot]


@compiled
def link(tree: Table, row: int, slot: int) -> None:
    """Make a slot the first kid of a row."""
    kid = tree[FIRST, row]
    tree[NEXT, slot] = kid
    tree[BEFORE, slot] = -1
    tree[PARENT, slot] = row
    if kid >= 0:
        tree[BEFORE, kid] = slot
    tree[FIRST, row] = slot


@compiled
def unlink(tree: Table, slot: int) -> None:
    """Take a slot out of its row's list of kids."""
    after, before = tree[NEXT, slot], tree[BEFORE, slot]
    if before >= 0:
        tree[NEXT, before] = after
    else:
        tree[FIRST, tree[PARENT, slot]] = after
    if after >= 0:
        tree[BEFORE, after] = before


@compiled
def stand_in(tree: Table, bins: Table, old: int, new: int) -> None:
    """Put a slot where another one is."""
    parent, after, before = tree[PARENT, old], tree[NEXT, old], tree[BEFORE, old]
    tree[PARENT, new] = parent
    tree[NEXT, new] = after
    tree[BEFORE, new] = before
    if parent < 0:
        bins[ROOT, tree[BIN, old]] = new
        return
    if before >= 0:
        tree[NEXT, before] = new
    else:
        tree[FIRST, parent] = new
    if after >= 0:
        tree[BEFORE, after] = new


@compiled
def take_out(tree: Table, bins: Table, slot: int) -> None:
    """Take a slot with all it holds out of its layout and close the gap."""
    row = tree[PARENT, slot]
    if row < 0:
        bins[ROOT, tree[BIN, slot]] = -1
        bins[TYPE, tree[BIN, slot]] = -1
        return
    unlink(tree, slot)
    kid = tree[FIRST, row]
    if tree[NEXT, kid] >= 0:
        fit_sizes(tree, row)
        return
    outer = tree[PARENT, row]  # one kid is left: it takes the row's place
    if outer >= 0 and tree[AXIS, kid] == tree[AXIS, outer]:
        unlink(tree, row)
        own = tree[FIRST, kid]
        while own >= 0:
            after = tree[NEXT, own]
            link(tree, outer, own)
            own = after
        tree[AXIS, kid] = FREE
    else:
        stand_in(tree, bins, row, kid)
    tree[AXIS, row] = FREE
    fit_sizes(tree, outer)


@compiled
def into_pool(tree: Table, slot: int, pool: Table, count: int) -> int:
    """Free a slot and all it holds, its parts into the pool; return the pool's new count."""
    stack = np.empty(tree.shape[1], np.int64)
    stack[0] = slot
    top = 1
    while top > 0:
        top -= 1
        at = stack[top]
        if tree[AXIS, at] == PART:
            pool[count] = tree[ITEM, at]
            count += 1
        else:
            kid = tree[FIRST, at]
            while kid >= 0:
                stack[top] = kid
                top += 1
                kid = tree[NEXT, kid]
        tree[AXIS, at] = FREE
    return count


@compiled
def free_slot(tree: Table) -> int:
    """Return a column of the tree that is free."""
    slot = 0
    while tree[AXIS, slot] != FREE:
        slot += 1
    return slot


@compiled
def put_in(state: State, task: Task, part: int, place: Table) -> None:
    """Put a part into a place: slot (-1: an empty sheet), axis, wrap, turned, bin."""
    tree, bins, parts = state.tree, state.bins, task.parts
    leaf = free_slot(tree)
    slot, axis, turned = place[0], place[1], place[3]
    tree[AXIS, leaf] = PART
    tree[ITEM, leaf] = part
    tree[TURNED, leaf] = turned
    tree[WIDE, leaf] = parts[WIDTH, part] if turned else parts[LENGTH, part]
    tree[HIGH, leaf] = parts[LENGTH, part] if turned else parts[WIDTH, part]
    tree[FIRST, leaf] = -1
    tree[BIN, leaf] = place[4]
    bins[USED, place[4]] += parts[AREA, part]
    if slot < 0:
        tree[PARENT, leaf] = -1
        tree[NEXT, leaf] = -1
        tree[BEFORE, leaf] = -1
        bins[ROOT, place[4]] = leaf
        return
    row = slot
    if place[2]:
        row = free_slot(tree)
        tree[AXIS, row] = axis
        tree[BIN, row] = place[4]
        tree[FIRST, row] = -1
        tree[WIDE, row] = 0
        tree[HIGH, row] = 0
        stand_in(tree, bins, slot, row)
        link(tree, row, slot)
    link(tree, row, leaf)
    fit_sizes(tree, row)


@compiled
def rooms(tree: Table, slot: int, axis: int, side: int, other: int) -> Rooms:
    """Return what a slot, seen as a row along an axis, has around it.

    Args:
        tree: The slots.
        slot: The slot.
        axis: The axis.
        side: The sheet's side along the axis.
        other: Its other side.

    Returns:
        The row's slack, how far it may be widened across, the length of that rest, how far its
        surroundings may be lengthened, the width of that rest.
    """
    along, across = tree[WIDE + axis, slot], tree[HIGH - axis, slot]
    parent = tree[PARENT, slot]
    if parent < 0:
        return side - along, other - across, side, 0, 0
    place = tree[WIDE + axis, parent]
    outer = tree[PARENT, parent]
    if outer < 0:
        return place - along, other - tree[HIGH - axis, parent], place, side - place, other
    width = tree[HIGH - axis, outer]
    beyond = tree[PARENT, outer]
    whole = side if beyond < 0 else tree[WIDE + axis, beyond]
    wider = width - tree[HIGH - axis, parent]
    return place - along, wider, place, whole - tree[WIDE + axis, outer], width


@compiled
def gain(room: Rooms, across: int, along: int, wide: int, unit: float, line: float) -> float:
    """Return what putting a part into a row gains; it is mostly negative.

    Args:
        room: What the row has around it, as ``rooms`` finds it.
        across: The row's extent across.
        along: The part's extent along the row.
        wide: The part's extent across it.
        unit: What lengths are multiplied by.
        line: What one more saw line counts for.
    """
    longer, wider = max(0, along - room[0]), max(0, wide - across)
    if longer > room[3] or wider > room[1]:
        return NO_ROOM
    slack = room[0] + longer - along
    square = unit * unit
    total = worth(slack * (across + wider) * square) - worth(room[0] * across * square)
    total += worth(along * (across + wider - wide) * square)
    if wider > 0 or longer > 0:
        total += worth((room[1] - wider) * (room[2] + longer) * square)
        total -= worth(room[1] * room[2] * square)
    if longer > 0:
        total += worth((room[3] - longer) * room[4] * square) - worth(room[3] * room[4] * square)
    if line == 0.0:
        return float(total)
    lines = 1 + int(slack > 0) - int(room[0] > 0) + int(wide < across + wider)
    lines += int(wider > 0) - int(0 < wider == room[1])
    lines += int(longer > 0) - int(0 < longer == room[3])
    return float(total - line * lines)


@compiled
def is_allowed(tree: Table, slot: int, axis: int, wrap: int, knobs: Numbers) -> bool:
    """Tell whether the saw's stages allow a row along an axis at a slot.

    The outermost row must lie along the first axis. An outermost row along the other one stands
    for the only kid of such a row.
    """
    if wrap == 0:
        return True
    count, top, first = 0, slot, knobs[FIRST_AXIS]
    while tree[PARENT, top] >= 0:
        top = tree[PARENT, top]
        count += 1
    if count > 0:
        return bool(count + 1 + (tree[AXIS, top] != first) <= knobs[DEPTH])
    if tree[AXIS, slot] == PART:
        return bool(1 + (axis != first) <= knobs[DEPTH])
    return bool(axis == first)


@compiled
def is_trimmed_with(tree: Table, slot: int, axis: int, wide: int) -> bool:
    """Tell whether a row along an axis has a kid as narrow as a part: one line trims both."""
    if tree[AXIS, slot] != axis or wide >= tree[HIGH - axis, slot]:
        return False
    kid = tree[FIRST, slot]
    while kid >= 0:
        if tree[HIGH - axis, kid] == wide:
            return True
        kid = tree[NEXT, kid]
    return False


@compiled
def both_gains(
    tree: Table, slot: int, axis: int, sides: Pair, part: Part, weights: Weights
) -> Gains:
    """Return what a part gains in a row, lying straight and lying turned.

    Args:
        tree: The slots.
        slot: The slot that is seen as a row.
        axis: The axis of the row.
        sides: The sheet's sides along and across the axis.
        part: The part's length, width and whether it may turn.
        weights: What lengths are multiplied by, what one more saw line counts for, and what one
            that is spared by trimming with others does.
    """
    room = rooms(tree, slot, axis, sides[0], sides[1])
    across = tree[HIGH - axis, slot]
    along, wide = (part[0], part[1]) if axis == 0 else (part[1], part[0])
    straight = gain(room, across, along, wide, weights[0], weights[1])
    turned = NO_ROOM
    if part[2] != 0:
        turned = gain(room, across, wide, along, weights[0], weights[1])
    if weights[2] > 0.0:
        straight += weights[2] * is_trimmed_with(tree, slot, axis, wide)
        turned += weights[2] * is_trimmed_with(tree, slot, axis, along)
    return straight, turned


@compiled
def sizes_of(parts: Table, index: int) -> Part:
    """Return a part's grown length and width and whether it may turn."""
    return parts[LENGTH, index], parts[WIDTH, index], parts[TURNS, index]


@compiled
def best_place(state: State, task: Task, part: Part, place: Table) -> bool:
    """Find the best place for a part on the open sheets; False when there is none.

    The part is its grown length and width and whether it may turn.
    """
    tree, bins, knobs, seed, stock = state.tree, state.bins, task.knobs, task.seed, task.stock
    blink, staged, best = knobs[BLINK], knobs[DEPTH] > 0.0, NO_ROOM
    weights = knobs[UNIT], knobs[LINE], 0.0 if staged else knobs[LINE]
    for slot in range(tree.shape[1]):
        own = tree[AXIS, slot]
        if own == FREE:
            continue
        bin_ = tree[BIN, slot]
        w, h = stock[0, bins[TYPE, bin_]], stock[1, bins[TYPE, bin_]]
        if bins[USED, bin_] + part[0] * part[1] > w * h:
            continue
        for way in range(2 if tree[PARENT, slot] < 0 else 1):
            axis = axis_for(tree, slot, way)
            wrap = 1 if own == PART or way == 1 else 0
            if staged and not is_allowed(tree, slot, axis, wrap, knobs):
                continue
            sides = (w, h) if axis == 0 else (h, w)
            straight, turned = both_gains(tree, slot, axis, sides, part, weights)
            better = max(straight, turned)
            if better > best and pick(seed, 1000) >= blink:
                best = better
                place[0], place[1], place[2] = slot, axis, wrap
                place[3], place[4] = 1 if turned > straight else 0, bin_
    return bool(best > NO_ROOM)


@compiled
def axis_for(tree: Table, slot: int, way: int) -> int:
    """Return the axis along which a part would be added at a slot; a root has two ways."""
    own = tree[AXIS, slot]
    if own != PART:
        return int(own if way == 0 else 1 - own)
    if tree[PARENT, slot] < 0:
        return way
    return int(1 - tree[AXIS, tree[PARENT, slot]])


@compiled
def open_cost(bins: Table, costs: Numbers) -> float:
    """Return what the open sheets cost."""
    total = 0.0
    for bin_ in range(bins.shape[1]):
        if bins[TYPE, bin_] >= 0:
            total += costs[bins[TYPE, bin_]]
    return total


@compiled
def sheet_to_open(bins: Table, kind: int, stock: Table) -> int:
    """Return a place among the bins for one more sheet of a kind, or -1."""
    free, count = -1, 0
    for bin_ in range(bins.shape[1]):
        if bins[TYPE, bin_] == kind:
            count += 1
        elif bins[TYPE, bin_] < 0 and free < 0:
            free = bin_
    return free if count < stock[COPIES, kind] else -1


@compiled
def ways_to_lie(task: Task, part: int, kind: int) -> int:
    """Return how a part fits on an empty sheet: 1 straight, 2 turned, 3 both, 0 not at all."""
    length, width = task.parts[LENGTH, part], task.parts[WIDTH, part]
    ways = 1 if length <= task.stock[0, kind] and width <= task.stock[1, kind] else 0
    if task.parts[TURNS, part] and length <= task.stock[1, kind]:
        ways += 2 if width <= task.stock[0, kind] else 0
    return ways


@compiled
def open_sheet(state: State, task: Task, part: int, place: Table) -> bool:
    """Open a sheet that holds a part and that the budget allows; False when there is none."""
    spent = open_cost(state.bins, task.costs)
    kinds = task.stock.shape[1]
    start = pick(task.seed, kinds)
    for step in range(kinds):
        kind = (start + step) % kinds
        ways = ways_to_lie(task, part, kind)
        if ways == 0 or spent + task.costs[kind] > task.knobs[BUDGET]:
            continue
        free = sheet_to_open(state.bins, kind, task.stock)
        if free < 0:
            continue
        state.bins[TYPE, free] = kind
        state.bins[USED, free] = 0
        place[0], place[1], place[2] = -1, 0, 0
        place[3] = 1 if ways == 2 or (ways == 3 and pick(task.seed, 2) == 0) else 0
        place[4] = free
        return True
    return False
