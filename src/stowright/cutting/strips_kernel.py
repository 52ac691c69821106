"""One sheet filled from a great lot of parts, by strips: a dynamic program; compiled.

A stack is parts one above the other in a column, a strip is stacks side by side, a sheet is
strips one above the other. Each level keeps, for every extent, the most value and what was added
last. An addition that would use a part more often than there are copies left is passed over; so
what comes out can always be cut, and is nearly, not always, the best of its form.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.cutting.compiling import compiled

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]

__all__ = ["all_stacks", "all_strips", "best_strips"]

NOTHING, SHORTER = -1, -2  # choices beside a number: an empty extent, and the one before it
WIDE, HIGH, KIND = range(3)  # rows of ways: extents along and across the strip, kind of part


@compiled
def widen(most: Table, last: Table, extent: int) -> None:
    """Let an extent hold at least what the one before it does."""
    if most[extent - 1] > most[extent]:
        most[extent] = most[extent - 1]
        last[extent] = SHORTER


@compiled
def add_stack(last: Table, high: int, ways: Table, use: Table, sign: int) -> None:
    """Count the parts of a stack up, or down again."""
    at = high
    while at > 0 and last[at] != NOTHING:
        if last[at] == SHORTER:
            at -= 1
        else:
            use[ways[KIND, last[at]]] += sign
            at -= ways[HIGH, last[at]]


@compiled
def all_stacks(
    ways: Table, values: Table, left: Table, distinct: Table, high: int
) -> tuple[Table, Table]:
    """Return the most value of stacks, for each of some widths and all heights.

    Args:
        ways: A column for each way that a part can lie, narrower ones first.
        values: What one part of each kind is worth.
        left: Copies left of each kind.
        distinct: The different widths, smaller ones first.
        high: Largest height.
    """
    most = np.zeros((len(distinct), high + 1), np.int64)
    last = np.full((len(distinct), high + 1), NOTHING, np.int64)
    use = np.zeros(len(left), np.int64)
    way = 0
    for width in range(len(distinct)):
        if width > 0:
            most[width, :] = most[width - 1]
            last[width, :] = last[width - 1]
        while way < ways.shape[1] and ways[WIDE, way] == distinct[width]:
            add_way(way, ways, (values, left, use), most[width], last[width])
            way += 1
    return most, last


@compiled
def add_way(
    way: int, ways: Table, counts: tuple[Table, Table, Table], most: Table, last: Table
) -> None:
    """Let stacks hold parts lying in one more way."""
    values, left, use = counts
    kind, own = ways[KIND, way], ways[HIGH, way]
    for extent in range(own, len(most)):
        widen(most, last, extent)
        total = most[extent - own] + values[kind]
        if total > most[extent]:
            add_stack(last, extent - own, ways, use, 1)
            if use[kind] < left[kind]:
                most[extent] = total
                last[extent] = way
            add_stack(last, extent - own, ways, use, -1)


@compiled
def worthwhile(most: Table, distinct: Table, high: int, few: int) -> Table:
    """Return the widths whose stacks of some height are worth most for their width."""
    found = np.empty(len(distinct), np.int64)
    count, best = 0, 0.0
    for width in range(len(distinct)):
        if most[width, high] > (most[width - 1, high] if width > 0 else 0):
            found[count] = width
            count += 1
            best = max(best, most[width, high] / distinct[width])
    share = 0.9
    while True:
        kept = 0
        for at in range(count):
            width = found[at]
            if most[width, high] / distinct[width] >= share * best:
                found[kept] = width
                kept += 1
        count = kept
        if count <= few or share > 0.9999:  # many may be worth the same
            return found[:count]
        share += (1.0 - share) * 0.25


@compiled
def add_strip(
    row: Table, stacks: tuple[Table, Table, Table], high: int, long: int, use: Table, sign: int
) -> None:
    """Count the parts of a strip up, or down again."""
    last, ways, distinct = stacks
    at = long
    while at > 0 and row[at] != NOTHING:
        if row[at] == SHORTER:
            at -= 1
        else:
            add_stack(last[row[at]], high, ways, use, sign)
            at -= distinct[row[at]]


@compiled
def has_enough(last: Table, high: int, ways: Table, use: Table, left: Table) -> bool:
    """Tell whether the parts of a stack are not used more often than there are copies."""
    at = high
    while at > 0 and last[at] != NOTHING:
        if last[at] == SHORTER:
            at -= 1
            continue
        kind = ways[KIND, last[at]]
        if use[kind] > left[kind]:
            return False
        at -= ways[HIGH, last[at]]
    return True


@compiled
def one_strip(
    most: Table, stacks: tuple[Table, Table, Table], left: Table, sides: tuple[int, int, int]
) -> tuple[int, Table]:
    """Return the most value of a strip of some height, and what was added last at each length."""
    last, ways, distinct = stacks
    high, long, few = sides
    widths = worthwhile(most, distinct, high, few)
    use = np.zeros(len(left), np.int64)
    total, row = np.zeros(long + 1, np.int64), np.full(long + 1, NOTHING, np.int64)
    for extent in range(1, long + 1):
        widen(total, row, extent)
        for width in widths:
            own = distinct[width]
            if own > extent:
                break
            value = total[extent - own] + most[width, high]
            if value > total[extent]:
                add_strip(row, stacks, high, extent - own, use, 1)
                add_stack(last[width], high, ways, use, 1)
                if has_enough(last[width], high, ways, use, left):
                    total[extent] = value
                    row[extent] = width
                add_stack(last[width], high, ways, use, -1)
                add_strip(row, stacks, high, extent - own, use, -1)
    return total[long], row


@compiled
def all_strips(
    most: Table, stacks: tuple[Table, Table, Table], left: Table, heights: Table, sides: Table
) -> tuple[Table, Table, Table]:
    """Return value, parts used and choices of the best strip of each height.

    Args:
        most: Most value of stacks, as ``all_stacks`` finds it.
        stacks: What was added last to them, the ways and the different widths.
        left: Copies left of each kind.
        heights: Heights of strips.
        sides: Length of the strips, and about how many widths of stacks are tried in each.
    """
    values = np.zeros(len(heights), np.int64)
    rows = np.full((len(heights), sides[0] + 1), NOTHING, np.int64)
    uses = np.zeros((len(heights), len(left)), np.int64)
    for at in range(len(heights)):
        high = heights[at]
        values[at], rows[at, :] = one_strip(most, stacks, left, (high, sides[0], sides[1]))
        add_strip(rows[at], stacks, high, sides[0], uses[at], 1)
    return values, uses, rows


@compiled
def best_strips(
    heights: Table, values: Table, uses: Table, left: Table, high: int
) -> tuple[int, Table]:
    """Return the most value of strips one above the other, and which they are.

    Args:
        heights: Height of each strip.
        values: Its value.
        uses: How many parts of each kind it takes.
        left: Copies left of each kind.
        high: Height of the sheet.
    """
    most, last = np.zeros(high + 1, np.int64), np.full(high + 1, NOTHING, np.int64)
    for extent in range(1, high + 1):
        widen(most, last, extent)
        for strip in range(len(heights)):
            own = heights[strip]
            if own <= extent and most[extent - own] + values[strip] > most[extent]:
                use = uses[strip].copy()
                for below in strips_below(last, heights, extent - own):
                    use += uses[below]
                if np.all(use <= left):
                    most[extent] = most[extent - own] + values[strip]
                    last[extent] = strip
    return most[high], strips_below(last, heights, high)


@compiled
def strips_below(last: Table, heights: Table, extent: int) -> Table:
    """Return the strips that make up an extent."""
    found = np.empty(extent + 1, np.int64)
    count, at = 0, extent
    while at > 0 and last[at] != NOTHING:
        if last[at] == SHORTER:
            at -= 1
        else:
            found[count] = last[at]
            count += 1
            at -= heights[last[at]]
    return found[:count]
