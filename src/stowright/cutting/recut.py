"""Single sheets cut anew: of all ways to cut a sheet's parts, the one with the fewest lines."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from importlib import import_module
from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.cutting.problem import Pattern, Solution
from stowright.cutting.slots import Slot, count_kinds, count_lines, join, leaf

if TYPE_CHECKING:
    from stowright.cutting.problem import Problem

    type Table = np.ndarray[Any, np.dtype[np.int64]]

__all__ = ["fewest_lines", "recut"]

_MOST_PAIRS = 20_000  # pairs of sets looked at for one sheet


def recut(problem: Problem, answer: Solution) -> Solution:
    """Return an answer whose sheets have fewer lines where that is possible with the same parts.

    Sheets with too many different parts are left as they are, and so is a panel saw's answer.

    Args:
        problem: The problem.
        answer: A complete answer.
    """
    if problem.rules.stages is not None:
        return answer
    seen: dict[tuple[int, Slot], Slot] = {}
    for pattern in answer.patterns:
        key = pattern.bin, pattern.root
        if key not in seen:
            seen[key] = _better(problem, pattern)
    return replace(
        answer, patterns=tuple(Pattern(p.bin, seen[p.bin, p.root]) for p in answer.patterns)
    )


def _better(problem: Problem, pattern: Pattern) -> Slot:
    bin_, kerf = problem.bins[pattern.bin], problem.rules.kerf
    sides = bin_.w + kerf, bin_.h + kerf
    parts = count_kinds(pattern.root)
    if _pairs(parts) > _MOST_PAIRS:
        return pattern.root
    found = fewest_lines(problem, parts, sides)
    if found is None or count_lines(found, *sides) >= count_lines(pattern.root, *sides):
        return pattern.root
    return found


def _pairs(parts: Counter[int]) -> int:
    """Return how many pairs of sets make up all sets of some parts."""
    pairs = 1
    for count in parts.values():
        pairs *= (count + 1) * (count + 2) // 2
    return pairs // 2


def fewest_lines(problem: Problem, parts: Counter[int], sides: tuple[int, int]) -> Slot | None:
    """Return the layout of some parts on one sheet with the fewest saw lines; None if none fits.

    Of several the one that leaves the largest rest at the sheet's end or side.

    Args:
        problem: The problem.
        parts: How many of each kind.
        sides: Grown sides of the sheet.
    """
    kernel = import_module("stowright.cutting.recut_kernel")
    kinds, kerf = sorted(parts), problem.rules.kerf
    rows = [
        (kind.length + kerf, kind.width + kerf, int(kind.turnable))
        for kind in (problem.kinds[index] for index in kinds)
    ]
    copies = np.array([parts[index] for index in kinds], np.int64)
    table = np.array(rows, np.int64).T.copy()
    blocks, counts = kernel.all_blocks(table, copies, np.array(sides, np.int64))
    whole = len(counts) - 1
    if counts[whole] == 0:
        return None

    def rank(at: int) -> tuple[int, int]:
        w, h, lines = (int(value) for value in blocks[whole, :3, at])
        rest = max((sides[0] - w) * sides[1], (sides[1] - h) * sides[0])
        return lines + (w < sides[0]) + (h < sides[1]), -rest

    best = min(range(int(counts[whole])), key=rank)
    radix = np.cumprod([1, *(copies + 1)])[:-1]
    return _slot(blocks, whole, best, dict(zip(radix.tolist(), kinds, strict=True)))


def _slot(blocks: Table, at: int, block: int, kind_of: dict[int, int]) -> Slot:
    """Return a block of a set as a layout."""
    w, h, _, first_set, first, second, axis = (int(v) for v in blocks[at, :, block])
    if axis >= 2:
        return leaf(kind_of[at], w, h, turned=axis == 3)
    kids = [
        _slot(blocks, first_set, first, kind_of),
        _slot(blocks, at - first_set, second, kind_of),
    ]
    return join(axis, kids)
