"""Answers turned into the tables that the search works on, and back."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.cutting import kernel
from stowright.cutting.kernel import State, Task
from stowright.cutting.problem import Pattern, Solution
from stowright.cutting.slots import LEAF, Slot, join, leaf

if TYPE_CHECKING:
    from stowright.cutting.problem import Problem

    type Table = np.ndarray[Any, np.dtype[np.int64]]

__all__ = ["Desk", "kind_of_each", "read_back", "set_up"]

_SPARE_SHEETS = 4


@dataclass(slots=True)
class Desk:
    """One search at work: everything that a round changes.

    Attributes:
        best: The best layout so far.
        now: The layout that the search stands at.
        task: What is searched for.
        meta: As ``rounds.search`` has it.
        late: What was accepted earlier.
    """

    best: State
    now: State
    task: Task
    meta: Table
    late: np.ndarray[Any, np.dtype[np.float64]]

    @property
    def missing(self) -> int:
        """How many parts the best layout has no place for."""
        return int(self.meta[0])

    def start_over(self, rounds: int) -> None:
        """Stand at the best layout, with nothing accepted before it."""
        self.now.tree[:] = self.best.tree
        self.now.bins[:] = self.best.bins
        self.now.pool[:] = self.best.pool
        self.meta[1] = self.meta[0]
        self.late = np.full(rounds, -math.inf)


def kind_of_each(problem: Problem) -> list[int]:
    """Return the kind of every single part."""
    return [index for index, kind in enumerate(problem.kinds) for _ in range(kind.copies)]


def set_up(problem: Problem, solution: Solution, costs: list[float], seed: int) -> Desk:
    """Return a desk with an answer on it.

    Args:
        problem: The problem.
        solution: The answer; what is missing in it lies in the pool.
        costs: What one of each bin counts for.
        seed: Start of the random numbers, from 1.
    """
    each = kind_of_each(problem)
    sheets = len(solution.patterns) + _spare(problem)
    columns = 2 * len(each) + sheets + 2
    state = State(
        np.full((kernel.TREE_ROWS, columns), -1, np.int64),
        np.full((3, sheets), -1, np.int64),
        np.full(len(each) + 1, -1, np.int64),
    )
    state.tree[kernel.AXIS] = kernel.FREE
    free: dict[int, list[int]] = {}
    for part, kind in enumerate(each):
        free.setdefault(kind, []).append(part)
    filler = _Filler(state, free)
    for index, pattern in enumerate(solution.patterns):
        state.bins[kernel.TYPE, index] = pattern.bin
        state.bins[kernel.ROOT, index] = filler.add(pattern.root, -1, index)
    left = sorted(part for parts in free.values() for part in parts)
    state.pool[: len(left)] = left
    task = _task(problem, each, costs, seed)
    meta = np.array([len(left), len(left), 0, 0, 0], np.int64)
    now = State(state.tree.copy(), state.bins.copy(), state.pool.copy())
    return Desk(state, now, task, meta, np.full(1, -math.inf))


def _spare(problem: Problem) -> int:
    """Return how many more sheets than now may be open at once."""
    if len(problem.bins) == 1:
        return _SPARE_SHEETS
    there = [problem.parts if bin_.copies is None else bin_.copies for bin_ in problem.bins]
    return min(problem.parts, sum(there))


@dataclass(slots=True)
class _Filler:
    """Puts trees of slots into the table."""

    state: State
    free: dict[int, list[int]]
    used: int = 0

    def add(self, slot: Slot, parent: int, bin_: int) -> int:
        """Add a slot with all it holds and return its column."""
        tree, at = self.state.tree, self.used
        self.used += 1
        is_part = slot.axis == LEAF
        tree[kernel.AXIS, at] = kernel.PART if is_part else slot.axis
        tree[kernel.WIDE, at], tree[kernel.HIGH, at] = slot.w, slot.h
        tree[kernel.BIN, at], tree[kernel.PARENT, at] = bin_, parent
        if is_part:
            tree[kernel.ITEM, at] = self.free[slot.kind].pop()
            tree[kernel.TURNED, at] = int(slot.turned)
        for kid in reversed(slot.kids):
            kernel.link(tree, at, self.add(kid, at, bin_))
        return at


def _task(problem: Problem, each: list[int], costs: list[float], seed: int) -> Task:
    kerf = problem.rules.kerf
    lengths = np.array([problem.kinds[kind].length + kerf for kind in each], np.int64)
    widths = np.array([problem.kinds[kind].width + kerf for kind in each], np.int64)
    turns = np.array([problem.kinds[kind].turnable for kind in each], np.int64)
    longer, shorter = np.maximum(lengths, widths), np.minimum(lengths, widths)
    parts = np.stack([lengths, widths, turns, lengths * widths, longer, shorter])
    most = [len(each) if b.copies is None else b.copies for b in problem.bins]
    sides = [bin_.grown(kerf) for bin_ in problem.bins]
    stock = np.array([*zip(*sides, strict=True), most], np.int64)
    knobs = np.zeros(kernel.KNOBS)
    knobs[kernel.MOST_LINES] = math.inf
    knobs[kernel.UNIT] = 1.0 / math.sqrt(max(w * h for w, h in sides))
    knobs[kernel.BUDGET] = math.inf
    knobs[kernel.DEPTH] = problem.rules.stages or 0
    first = problem.rules.first_axis
    knobs[kernel.FIRST_AXIS] = -1 if first is None else first
    return Task(parts, stock, np.array(costs), knobs, np.array([seed], np.int64))


def read_back(desk: Desk, problem: Problem, found_by: str) -> Solution:
    """Return the answer that lies on a desk; parts in the pool are missing in it."""
    each = kind_of_each(problem)
    bins = desk.best.bins
    patterns = tuple(
        Pattern(int(bins[kernel.TYPE, index]), _slot(desk.best.tree, int(root), each))
        for index, root in enumerate(bins[kernel.ROOT])
        if bins[kernel.TYPE, index] >= 0
    )
    missing: dict[int, int] = {}
    for part in desk.best.pool[: desk.meta[0]]:
        missing[each[part]] = missing.get(each[part], 0) + 1
    return Solution(patterns=patterns, found_by=found_by, missing=tuple(sorted(missing.items())))


def _slot(tree: Table, at: int, each: list[int]) -> Slot:
    """Return a column of the table, with all it holds, as a slot; wider kids first."""
    axis = int(tree[kernel.AXIS, at])
    if axis == kernel.PART:
        w, h = int(tree[kernel.WIDE, at]), int(tree[kernel.HIGH, at])
        return leaf(each[tree[kernel.ITEM, at]], w, h, turned=bool(tree[kernel.TURNED, at]))
    kids: list[Slot] = []
    kid = int(tree[kernel.FIRST, at])
    while kid >= 0:
        kids.append(_slot(tree, kid, each))
        kid = int(tree[kernel.NEXT, kid])
    kids.sort(key=lambda k: (-k.extent(axis), -k.extent(1 - axis), k.kind))
    return join(axis, kids)
