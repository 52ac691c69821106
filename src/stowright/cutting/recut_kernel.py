"""All ways to cut one sheet's parts from a block, by sets of parts; compiled.

For each set of parts the blocks that hold it and nothing else are kept: width, height and saw
lines. A smaller one makes a larger one needless only if it has a line less for each side that is
smaller: it may have to be trimmed where the larger one fills its place. Two blocks stand side by
side or one above the other; that takes a line, and one more for each that is narrower than the
new block. A row of several is built one by one, and neighbours that are equally narrow first
among themselves, which counts them as they are sawn: parted off together, trimmed once.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.cutting.compiling import compiled

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]
    type Block = tuple[int, int, int]
    type Origin = tuple[int, int, int, int]

__all__ = ["MOST_BLOCKS", "all_blocks"]

MOST_BLOCKS = 20  # kept for one set of parts; where more would be needed some are lost
W, H, LINES, FIRST_SET, FIRST, SECOND, AXIS = range(7)


@compiled
def keep(blocks: Table, count: int, block: Block, origin: Origin) -> int:
    """Add a block to the few that are kept; return their new number."""
    at = 0
    while at < count:
        w, h, lines = blocks[W, at], blocks[H, at], blocks[LINES, at]
        trims = int(w != block[0]) + int(h != block[1])
        if w <= block[0] and h <= block[1] and lines + trims <= block[2]:
            return count
        if w >= block[0] and h >= block[1] and lines >= block[2] + trims:
            count -= 1
            blocks[:, at] = blocks[:, count]
        else:
            at += 1
    if count == MOST_BLOCKS:  # the one with most lines makes room, the larger of equal ones
        worst = 0
        for at in range(1, count):
            more = blocks[LINES, at] - blocks[LINES, worst]
            larger = blocks[W, at] * blocks[H, at] > blocks[W, worst] * blocks[H, worst]
            if more > 0 or (more == 0 and larger):
                worst = at
        count -= 1
        blocks[:, worst] = blocks[:, count]
    blocks[W, count], blocks[H, count], blocks[LINES, count] = block
    blocks[FIRST_SET, count], blocks[FIRST, count] = origin[0], origin[1]
    blocks[SECOND, count], blocks[AXIS, count] = origin[2], origin[3]
    return count + 1


@compiled
def join_sets(blocks: Table, counts: Table, sets: tuple[int, int, int], sheet: Table) -> None:
    """Add all blocks of a set that two others together make."""
    whole, one, other = sets
    count = counts[whole]
    for a in range(counts[one]):
        for b in range(counts[other]):
            wide = max(blocks[one, W, a], blocks[other, W, b])
            high = max(blocks[one, H, a], blocks[other, H, b])
            along = blocks[one, W, a] + blocks[other, W, b]
            up = blocks[one, H, a] + blocks[other, H, b]
            lines = blocks[one, LINES, a] + blocks[other, LINES, b] + 1
            if along <= sheet[0] and high <= sheet[1]:
                trims = int(blocks[one, H, a] < high) + int(blocks[other, H, b] < high)
                block = (along, high, lines + trims)
                count = keep(blocks[whole], count, block, (one, a, b, 0))
            if wide <= sheet[0] and up <= sheet[1]:
                trims = int(blocks[one, W, a] < wide) + int(blocks[other, W, b] < wide)
                block = (wide, up, lines + trims)
                count = keep(blocks[whole], count, block, (one, a, b, 1))
    counts[whole] = count


@compiled
def all_blocks(kinds: Table, copies: Table, sheet: Table) -> tuple[Table, Table]:
    """Return the blocks of every set of parts, and how many there are of each.

    Args:
        kinds: A column for each kind: grown width and height, and 1 where it may turn.
        copies: How many there are of each.
        sheet: Grown sides of the sheet.

    Returns:
        For each set the rows width, height, lines, the set of the first half, the blocks of both
        halves, and the axis that they stand along (2: a part lying straight, 3: turned).
    """
    radix = np.ones(len(copies) + 1, np.int64)
    for kind in range(len(copies)):
        radix[kind + 1] = radix[kind] * (copies[kind] + 1)
    total = radix[len(copies)]
    blocks = np.zeros((total, 7, MOST_BLOCKS), np.int64)
    counts = np.zeros(total, np.int64)
    for kind in range(len(copies)):
        w, h, at = kinds[0, kind], kinds[1, kind], radix[kind]
        if w <= sheet[0] and h <= sheet[1]:
            counts[at] = keep(blocks[at], counts[at], (w, h, 0), (0, 0, 0, 2))
        if kinds[2, kind] == 1 and h <= sheet[0] and w <= sheet[1]:
            counts[at] = keep(blocks[at], counts[at], (h, w, 0), (0, 0, 0, 3))
    for whole in range(1, total):
        for one in range(1, whole // 2 + 1):
            is_part = True
            for kind in range(len(copies)):
                digit = one // radix[kind] % (copies[kind] + 1)
                if digit > whole // radix[kind] % (copies[kind] + 1):
                    is_part = False
                    break
            if is_part:
                join_sets(blocks, counts, (whole, one, whole - one), sheet)
    return blocks, counts
