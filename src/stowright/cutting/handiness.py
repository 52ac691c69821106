"""How handy a complete layout is: saw lines, settings, metres of cut, largest offcut."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.cutting.compiling import compiled
from stowright.cutting.kernel import (
    AXIS,
    BIN,
    DEPTH,
    FIRST,
    FREE,
    HIGH,
    KEEP_LONG,
    KEEP_SHORT,
    METRES,
    MOST_LINES,
    NEXT,
    OFFCUT,
    PARENT,
    PART,
    SETTINGS,
    TYPE,
    UNIT,
    WIDE,
    State,
    Task,
)

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]
    type Numbers = np.ndarray[Any, np.dtype[np.float64]]

__all__ = ["handiness"]

LINES, DISTINCT, LENGTH_CUT, LARGEST = range(4)
_FAR = 1000.0  # what a line too many counts for


@compiled
def note(sizes: Table, size: int) -> None:
    """Add a setting to the list; its first entry counts them."""
    sizes[0] += 1
    sizes[sizes[0]] = size


@compiled
def rest_of(wide: int, high: int, knobs: Numbers) -> float:
    """Return the area of a rest if it is worth keeping, else 0."""
    if max(wide, high) < knobs[KEEP_LONG] or min(wide, high) < knobs[KEEP_SHORT]:
        return 0.0
    return float(wide) * float(high)


@compiled
def count_ends(tree: Table, slot: int) -> int:
    """Return how many rows of a panel saw's layout reach as far as any: each has its own end."""
    if tree[AXIS, slot] != 1:
        return 1
    count = 0
    kid = tree[FIRST, slot]
    while kid >= 0:
        count += int(tree[WIDE, kid] == tree[WIDE, slot])
        kid = tree[NEXT, kid]
    return count


@compiled
def sum_root(state: State, task: Task, slot: int, sizes: Table, sums: Numbers) -> None:
    """Add what lies between a layout and the edges of its sheet."""
    tree, stock, knobs = state.tree, task.stock, task.knobs
    kind = state.bins[TYPE, tree[BIN, slot]]
    whole, full = stock[0, kind], stock[1, kind]
    beside = whole - tree[WIDE, slot]
    above = full - tree[HIGH, slot]
    right = beside * full > above * whole
    if beside > 0:
        sums[LINES] += count_ends(tree, slot) if knobs[DEPTH] > 0.0 else 1
        sums[LENGTH_CUT] += full if right else tree[HIGH, slot]
        note(sizes, tree[WIDE, slot])
    if above > 0:
        sums[LINES] += 1
        sums[LENGTH_CUT] += tree[WIDE, slot] if right else whole
        note(sizes, tree[HIGH, slot])
    largest = rest_of(whole, above, knobs)
    if knobs[DEPTH] == 0.0:  # a panel saw rips first, so that each row has an end of its own
        largest = max(largest, rest_of(beside, full, knobs))
    sums[LARGEST] = max(sums[LARGEST], largest)


@compiled
def sum_row(state: State, task: Task, slot: int, sizes: Table, sums: Numbers) -> None:
    """Add the cuts of a row and what is left at its end."""
    tree = state.tree
    axis, parent = tree[AXIS, slot], tree[PARENT, slot]
    groups = task.knobs[DEPTH] == 0.0
    slack = 0  # where kids are trimmed together, the row around it has seen to that
    if parent >= 0 and not groups:
        slack = tree[WIDE + axis, parent] - tree[WIDE + axis, slot]
    across = tree[HIGH - axis, slot]
    sums[LARGEST] = max(sums[LARGEST], rest_of(slack, across, task.knobs))
    kid = tree[FIRST, slot]
    while kid >= 0:
        if slack > 0 or tree[NEXT, kid] >= 0:
            sums[LINES] += 1
            sums[LENGTH_CUT] += across
            note(sizes, tree[WIDE + axis, kid])
        if tree[HIGH - axis, kid] < across:
            if groups:
                sum_group(tree, slot, kid, task.knobs, sizes, sums)
            elif tree[AXIS, kid] == PART:
                sums[LINES] += 1
                sums[LENGTH_CUT] += tree[WIDE + axis, kid]
                note(sizes, tree[HIGH - axis, kid])
        kid = tree[NEXT, kid]


@compiled
def sum_group(
    tree: Table, slot: int, kid: int, knobs: Numbers, sizes: Table, sums: Numbers
) -> None:
    """Add the one line that trims all kids of a row as narrow as one of them, at the first."""
    axis = tree[AXIS, slot]
    own, along = tree[HIGH - axis, kid], 0
    other = tree[FIRST, slot]
    while other >= 0:
        if tree[HIGH - axis, other] == own:
            if along == 0 and other != kid:
                return
            along += tree[WIDE + axis, other]
        other = tree[NEXT, other]
    sums[LINES] += 1
    sums[LENGTH_CUT] += along
    note(sizes, own)
    rest = rest_of(along, tree[HIGH - axis, slot] - own, knobs)
    sums[LARGEST] = max(sums[LARGEST], rest)


@compiled
def handiness(state: State, task: Task, sums: Numbers) -> float:
    """Return what a complete layout counts for; less is handier.

    ``sums`` is filled with lines, settings, length of cut and area of the largest offcut.
    """
    tree, knobs = state.tree, task.knobs
    sizes = np.zeros(3 * tree.shape[1] + 1, np.int64)
    sums[:] = 0.0
    for slot in range(tree.shape[1]):
        if tree[AXIS, slot] == FREE:
            continue
        if tree[PARENT, slot] < 0:
            sum_root(state, task, slot, sizes, sums)
        if tree[AXIS, slot] != PART:
            sum_row(state, task, slot, sizes, sums)
    noted = np.sort(sizes[1 : sizes[0] + 1])
    for at in range(len(noted)):
        if at == 0 or noted[at] != noted[at - 1]:
            sums[DISTINCT] += 1
    total = sums[LINES] + knobs[SETTINGS] * sums[DISTINCT]
    total += _FAR * max(0.0, sums[LINES] - knobs[MOST_LINES])
    total += knobs[METRES] * sums[LENGTH_CUT] * knobs[UNIT]
    return float(total - knobs[OFFCUT] * sums[LARGEST] * knobs[UNIT] * knobs[UNIT])
