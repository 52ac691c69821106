"""Very many parts: one sheet after the other filled by strips, the larger parts preferred.

Parts are worth a little more than their area, the larger the more, so that large ones go first
and small ones are left for what is hard to fill at the end. How much more is best is not known
beforehand: two ways are gone side by side, and the one with fewer sheets is taken.
"""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.cutting.problem import Pattern, Solution
from stowright.cutting.slots import ALONG, UPWARD, Slot, join, leaf

if TYPE_CHECKING:
    from stowright.cutting.effort import Watch
    from stowright.cutting.problem import Problem

    type Table = np.ndarray[Any, np.dtype[np.int64]]

__all__ = ["by_strips"]

_ROOTS = (6, 5)  # a part of area a is worth a to the power 1 + 1/64, or 1 + 1/32
_WORTH = 10**9  # of a part as large as the sheet, in whole numbers
_LONGEST = 4000  # steps that a sheet's side is counted in, at most
_STACKS = 40  # widths of stacks tried in one strip, about
_HEIGHTS = 100  # heights of strips tried on one sheet, about; fewer where sheets are very many
_SHEETS = 250  # sheets from which on they are fewer
_FEWEST_HEIGHTS = 12


@dataclass(frozen=True, slots=True)
class _Frame:
    """The problem as strips along one axis see it; lengths in steps.

    Attributes:
        axis: Axis that the strips lie along.
        long: Length of a strip.
        high: What strips stand on each other in.
        ways: As the kernel has it.
    """

    axis: int
    long: int
    high: int
    ways: Table


def by_strips(problem: Problem, watch: Watch) -> Solution | None:
    """Return an answer by strips; None when it was ended early or does not apply.

    Args:
        problem: Parts, and sheets of one size without limit that each part fits on.
        watch: Ends it early.
    """
    frames = _frames(problem)
    heights = max(_FEWEST_HEIGHTS, min(_HEIGHTS, _HEIGHTS * _SHEETS // _about_sheets(problem)))

    def run(roots: int) -> Solution | None:
        return _filled(problem, frames, (_values(problem, roots), heights), watch)

    with ThreadPoolExecutor(len(_ROOTS)) as pool:
        answers = [answer for answer in pool.map(run, _ROOTS) if answer is not None]
    return min(answers, key=lambda answer: _rank(problem, answer), default=None)


def _about_sheets(problem: Problem) -> int:
    return max(1, problem.part_area // (problem.bins[0].w * problem.bins[0].h))


def _rank(problem: Problem, answer: Solution) -> tuple[int, int]:
    """Return a key that puts few sheets first, then those with the emptiest last one."""
    kinds = problem.kinds
    fills = [
        sum(kinds[p.kind].length * kinds[p.kind].width for p in pattern.root.leaves())
        for pattern in answer.patterns
    ]
    return len(fills), min(fills)


def _values(problem: Problem, roots: int) -> Table:
    """Return what one part of each kind is worth; square roots, which machines round alike."""
    kerf, bin_ = problem.rules.kerf, problem.bins[0]
    whole = (bin_.w + kerf) * (bin_.h + kerf)
    found = []
    for kind in problem.kinds:
        area = (kind.length + kerf) * (kind.width + kerf) / whole
        more = area
        for _ in range(roots):
            more = math.sqrt(more)
        found.append(max(1, math.floor(_WORTH * area * more)))
    return np.array(found, np.int64)


def _frames(problem: Problem) -> list[_Frame]:
    """Return the ways that strips may lie on the sheet."""
    kerf, bin_ = problem.rules.kerf, problem.bins[0]
    sides = bin_.w + kerf, bin_.h + kerf
    step = math.gcd(*sides, *(s + kerf for k in problem.kinds for s in (k.length, k.width)))
    step = max(step, -(-max(sides) // _LONGEST))
    first = problem.rules.first_axis  # strips stand on each other along the first axis
    axes = (ALONG, UPWARD) if first is None else (1 - first,)
    return [_frame(problem, axis, step) for axis in axes]


def _frame(problem: Problem, axis: int, step: int) -> _Frame:
    kerf, bin_ = problem.rules.kerf, problem.bins[0]
    sides = ((bin_.w + kerf) // step, (bin_.h + kerf) // step)
    long, high = sides[axis], sides[1 - axis]
    found: list[tuple[int, int, int, int]] = []
    for index, kind in enumerate(problem.kinds):
        straight = -(-(kind.length + kerf) // step), -(-(kind.width + kerf) // step)
        own = straight[axis], straight[1 - axis]
        if own[0] <= long and own[1] <= high:
            found.append((*own, index, 0))
        if kind.turnable and own[0] != own[1] and own[1] <= long and own[0] <= high:
            found.append((*own[::-1], index, 1))
    return _Frame(axis, long, high, np.array(sorted(found), np.int64).reshape(-1, 4).T.copy())


def _filled(
    problem: Problem, frames: list[_Frame], goal: tuple[Table, int], watch: Watch
) -> Solution | None:
    """Return an answer, one sheet after the other filled with most value."""
    left = np.array([kind.copies for kind in problem.kinds], np.int64)
    patterns: list[Pattern] = []
    while left.any():
        if watch.is_over():
            return None
        tried = [_Sheet.best(problem, frame, goal, left) for frame in frames]
        best = max(tried, key=lambda sheet: sheet.value)
        root = best.root()
        if root is None:
            return None
        used = np.bincount([part.kind for part in root.leaves()], minlength=len(left))
        repeats = int((left[used > 0] // used[used > 0]).min())
        patterns += [Pattern(0, root)] * repeats
        left -= repeats * used
    return Solution(patterns=tuple(patterns), found_by="strips")


@dataclass(frozen=True, slots=True)
class _Sheet:
    """The best sheet with strips along one axis.

    Attributes:
        problem: The problem.
        frame: How the strips lie.
        value: What it holds.
        strips: For each strip its height and its row of choices.
        stacks: Choices of the stacks, ways and widths.
    """

    problem: Problem
    frame: _Frame
    value: int
    strips: list[tuple[int, Table]]
    stacks: tuple[Table, Table, Table]

    @classmethod
    def best(cls, problem: Problem, frame: _Frame, goal: tuple[Table, int], left: Table) -> _Sheet:
        """Return the sheet with most value of the copies that are left."""
        kernel = import_module("stowright.cutting.strips_kernel")
        values, few = goal
        ways = frame.ways[:, left[frame.ways[kernel.KIND]] > 0].copy()
        distinct = np.unique(ways[kernel.WIDE])
        most, last = kernel.all_stacks(ways, values, left, distinct, frame.high)
        heights = _heights(np.unique(ways[kernel.HIGH]), most, distinct, few)
        sides = np.array([frame.long, _STACKS], np.int64)
        stacks = last, ways, distinct
        worth, uses, rows = kernel.all_strips(most, stacks, left, heights, sides)
        value, chosen = kernel.best_strips(heights, worth, uses, left, frame.high)
        strips = [(int(heights[at]), rows[at]) for at in chosen]
        return cls(problem, frame, int(value), strips, stacks)

    def root(self) -> Slot | None:
        """Return the sheet as a layout; None when it holds nothing."""
        axis, (_, _, distinct) = self.frame.axis, self.stacks
        kids = []
        for high, row in self.strips:
            chosen = _chain(row, self.frame.long, distinct)
            kids.append(join(axis, [self._stack(width, high) for width in chosen]))
        return join(1 - axis, kids) if kids else None

    def _stack(self, width: int, high: int) -> Slot:
        """Return a stack of the widest that it may be as a layout."""
        kernel = import_module("stowright.cutting.strips_kernel")
        last, ways, _ = self.stacks
        chosen = _chain(last[width], high, ways[kernel.HIGH])
        return join(1 - self.frame.axis, [self._part(ways[:, at]) for at in chosen])

    def _part(self, way: Table) -> Slot:
        kind, turned = int(way[2]), bool(way[3])
        own, kerf = self.problem.kinds[kind], self.problem.rules.kerf
        sides = own.length + kerf, own.width + kerf
        w, h = sides[::-1] if turned else sides
        return leaf(kind, w, h, turned=turned)


def _heights(distinct: Table, most: Table, widths: Table, few: int) -> Table:
    """Return about a few heights: half spread over all, half those with the fullest stacks."""
    if len(distinct) <= few:
        return distinct
    spread = (2 * np.arange(few // 2) + 1) * len(distinct) // (2 * (few // 2))
    fullest = (most[:, distinct] / widths[:, None]).max(axis=0) / distinct
    order = np.argsort(-fullest, kind="stable")
    chosen = dict.fromkeys([*spread.tolist(), *order.tolist()])
    return distinct[sorted(list(chosen)[:few])]


def _chain(row: Table, extent: int, sizes: Table) -> list[int]:
    """Return what was added to reach an extent, the last first."""
    found: list[int] = []
    at = extent
    while at > 0 and row[at] != -1:
        if row[at] == -2:  # noted at the extent before
            at -= 1
        else:
            found.append(int(row[at]))
            at -= int(sizes[row[at]])
    return found
