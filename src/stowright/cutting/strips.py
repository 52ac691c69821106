"""Very many parts: one sheet after the other filled by strips, the larger parts preferred.

Parts are worth a little more than their area, the larger the more, so that large ones go first
and small ones are left for what is hard to fill at the end. How much more is best is not known
beforehand: some ways are gone side by side, and the one that costs less is taken.

On stock of several sizes a part may be dear beyond its area: one that only a dear sheet holds, or
that leaves waste beside it wherever it lies. What the sheets that hold it cost for what they hold
is a price for it, and with these prices the sheets are filled anew.
"""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from importlib import import_module
from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.cutting.problem import Pattern, Solution
from stowright.cutting.searching import combined_costs
from stowright.cutting.slots import ALONG, UPWARD, Slot, join, leaf

if TYPE_CHECKING:
    from stowright.cutting.effort import Watch
    from stowright.cutting.problem import Problem

    type Table = np.ndarray[Any, np.dtype[np.int64]]
    type Numbers = np.ndarray[Any, np.dtype[np.float64]]

__all__ = ["all_by_strips", "by_strips"]

_ROOTS = (6, 5, 4)  # a part of area a is worth a to the power 1 + 1/64, 1 + 1/32, or 1 + 1/16
_FEWER_WAYS = 1000  # parts beyond which the last of these is left out: it gains on short lists
_PRICED = 5  # of them the one that is gone anew with prices
_PASSES, _FEWER_PASSES = 2, 1  # how often, the latter where ways are left out too: for the time
_DEAREST = 2.0  # times the least price of an area that a part is thought to be worth
_WORTH = 10**9  # of a part as large as the sheet, in whole numbers
_LONGEST = 4000  # steps that a sheet's side is counted in, at most
_STACKS = 40  # widths of stacks tried in one strip, about
_HEIGHTS = 100  # heights of strips tried on one sheet, about; fewer where sheets are very many
_SHEETS = 250  # sheets from which on they are fewer
_FEWEST_HEIGHTS = 12


@dataclass(frozen=True, slots=True)
class _Frame:
    """The problem as strips along one axis of one size of sheet see it; lengths in steps.

    Attributes:
        bin: Index of the size of sheet.
        axis: Axis that the strips lie along.
        long: Length of a strip.
        high: What strips stand on each other in.
        step: What lengths are counted in. [1/160 mm]
        ways: As the kernel has it.
    """

    bin: int
    axis: int
    long: int
    high: int
    step: int
    ways: Table


def by_strips(problem: Problem, watch: Watch) -> Solution | None:
    """Return the best answer by strips; None when it was ended early or the sheets do not reach.

    On stock of several sizes the next sheet is the one that holds most for what it costs. Sheets
    that fall into several regions are left out.

    Args:
        problem: Parts, and sheets that each part fits on one of.
        watch: Ends it early.
    """
    return next(iter(all_by_strips(problem, watch)), None)


def all_by_strips(problem: Problem, watch: Watch) -> list[Solution]:
    """Return answers by strips, the best first: one for each way to value parts, prices among them.

    Args:
        problem: Parts, and sheets that each part fits on one of.
        watch: Ends it early.
    """
    frames = [frame for index in problem.whole_sheets() for frame in _frames(problem, index)]
    heights = max(_FEWEST_HEIGHTS, min(_HEIGHTS, _HEIGHTS * _SHEETS // _about_sheets(problem)))

    is_short = problem.parts <= _FEWER_WAYS
    ways, most = (_ROOTS, _PASSES) if is_short else (_ROOTS[:-1], _FEWER_PASSES)

    def run(roots: int) -> list[Solution]:
        passes = most if roots == _PRICED and len(problem.bins) > 1 else 0
        return _in_passes(problem, frames, (_values(problem, roots), heights), passes, watch)

    with ThreadPoolExecutor(len(ways)) as pool:
        answers = [answer for found in pool.map(run, ways) for answer in found]
    return sorted(answers, key=lambda answer: _rank(problem, answer))


def _in_passes(
    problem: Problem, frames: list[_Frame], goal: tuple[Table, int], passes: int, watch: Watch
) -> list[Solution]:
    """Return an answer with parts valued as they are, and some more with prices put to them.

    Args:
        problem: The problem.
        frames: The ways that strips may lie.
        goal: What one part of each kind is worth, and how many heights of strips are tried.
        passes: How often prices are put to them.
        watch: Ends it early.
    """
    (values, heights), least = goal, _least_price(problem)
    found: list[Solution] = []
    prices = np.full(len(values), least)
    for _ in range(1 + passes):
        priced = values * (prices / (_DEAREST * least)) if found else values
        whole = np.maximum(1, np.floor(priced)).astype(np.int64)
        answer = _filled(problem, frames, (whole, heights), watch)
        if answer is None:
            break
        found.append(answer)
        paid = np.clip(_paid(problem, answer), least, _DEAREST * least)
        prices = (prices + paid) * 0.5
    return found


def _least_price(problem: Problem) -> float:
    """Return the least that an area as large as the largest sheet costs.

    Limited sheets are left out where there are others: what more is wanted comes from those.
    """
    costs, kerf, largest = combined_costs(problem), problem.rules.kerf, _largest(problem)
    bins = list(zip(problem.bins, costs, strict=True))
    endless = [pair for pair in bins if pair[0].copies is None]
    return min(
        cost * largest / ((bin_.w + kerf) * (bin_.h + kerf)) for bin_, cost in endless or bins
    )


def _paid(problem: Problem, answer: Solution) -> Numbers:
    """Return what each kind's share of its sheets costs, for an area as large as the largest."""
    costs, largest = combined_costs(problem), _largest(problem)
    paid = np.zeros(len(problem.kinds))
    for pattern in answer.patterns:
        leaves = list(pattern.root.leaves())
        used = sum(part.w * part.h for part in leaves)
        for part in leaves:
            paid[part.kind] += costs[pattern.bin] * largest / used
    shared: Numbers = paid / np.array([kind.copies for kind in problem.kinds])
    return shared


def _largest(problem: Problem) -> int:
    """Return the grown area of the largest bin."""
    kerf = problem.rules.kerf
    return max((bin_.w + kerf) * (bin_.h + kerf) for bin_ in problem.bins)


def _about_sheets(problem: Problem) -> int:
    return max(1, problem.part_area // max(bin_.w * bin_.h for bin_ in problem.bins))


def _rank(problem: Problem, answer: Solution) -> tuple[float, int, int]:
    """Return a key that puts what costs least first, then few sheets, then an empty last one."""
    kinds = problem.kinds
    fills = [
        sum(kinds[p.kind].length * kinds[p.kind].width for p in pattern.root.leaves())
        for pattern in answer.patterns
    ]
    return answer.cost(problem), len(fills), min(fills)


def _values(problem: Problem, roots: int) -> Table:
    """Return what one part of each kind is worth; square roots, which machines round alike."""
    kerf, whole = problem.rules.kerf, _largest(problem)
    found = []
    for kind in problem.kinds:
        area = (kind.length + kerf) * (kind.width + kerf) / whole
        more = area
        for _ in range(roots):
            more = math.sqrt(more)
        found.append(max(1, math.floor(_WORTH * area * more)))
    return np.array(found, np.int64)


def _frames(problem: Problem, index: int) -> list[_Frame]:
    """Return the ways that strips may lie on one size of sheet."""
    kerf, bin_ = problem.rules.kerf, problem.bins[index]
    sides = bin_.w + kerf, bin_.h + kerf
    step = math.gcd(*sides, *(s + kerf for k in problem.kinds for s in (k.length, k.width)))
    step = max(step, -(-max(sides) // _LONGEST))
    first = problem.rules.first_axis  # strips stand on each other along the first axis
    axes = (ALONG, UPWARD) if first is None else (1 - first,)
    return [_frame(problem, index, axis, step) for axis in axes]


def _frame(problem: Problem, index: int, axis: int, step: int) -> _Frame:
    kerf, bin_ = problem.rules.kerf, problem.bins[index]
    sides = ((bin_.w + kerf) // step, (bin_.h + kerf) // step)
    long, high = sides[axis], sides[1 - axis]
    found: list[tuple[int, int, int, int]] = []
    for number, kind in enumerate(problem.kinds):
        straight = -(-(kind.length + kerf) // step), -(-(kind.width + kerf) // step)
        own = straight[axis], straight[1 - axis]
        if own[0] <= long and own[1] <= high:
            found.append((*own, number, 0))
        if kind.turnable and own[0] != own[1] and own[1] <= long and own[0] <= high:
            found.append((*own[::-1], number, 1))
    ways = np.array(sorted(found), np.int64).reshape(-1, 4).T.copy()
    return _Frame(index, axis, long, high, step, ways)


def _filled(
    problem: Problem, frames: list[_Frame], goal: tuple[Table, int], watch: Watch
) -> Solution | None:
    """Return an answer, one sheet after the other filled with most value for its cost.

    What a frame's best sheet was worth before some parts were used is at least what it is worth
    after; so a frame is looked at anew only once it would be taken.
    """
    left = np.array([kind.copies for kind in problem.kinds], np.int64)
    there = [math.inf if bin_.copies is None else bin_.copies for bin_ in problem.bins]
    known: list[_Sheet | None] = [None] * len(frames)
    costs = combined_costs(problem)
    patterns: list[Pattern] = []

    def promise(at: int) -> float:
        sheet = known[at]
        return math.inf if sheet is None else sheet.value / costs[frames[at].bin]

    while left.any():
        on_offer = [at for at, frame in enumerate(frames) if there[frame.bin] > 0]
        if watch.is_over() or not on_offer:
            return None
        at = max(on_offer, key=promise)
        sheet = known[at]
        if sheet is None or (sheet.use > left).any():
            known[at] = _Sheet.best(problem, frames[at], goal, left)
            continue
        if sheet.root is None:
            return None
        used, bin_ = sheet.use > 0, frames[at].bin
        repeats = int(min((left[used] // sheet.use[used]).min(), there[bin_]))
        patterns += [Pattern(bin_, sheet.root)] * repeats
        left -= repeats * sheet.use
        there[bin_] -= repeats
    return Solution(patterns=tuple(patterns), found_by="strips")


@dataclass(frozen=True, slots=True)
class _Sheet:
    """The best sheet with strips along one axis.

    Attributes:
        value: What it holds.
        use: How many parts of each kind.
        root: Its layout; None when it holds nothing.
    """

    value: int
    use: Table
    root: Slot | None

    @classmethod
    def best(cls, problem: Problem, frame: _Frame, goal: tuple[Table, int], left: Table) -> _Sheet:
        """Return the sheet with most value of the copies that are left.

        Of each height there is one strip to choose from; where few parts are left that leaves
        room, which is filled in turn.
        """
        value, use, kids = 0, np.zeros(len(left), np.int64), list[Slot]()
        high = frame.high
        while high > 0:
            more, root = _strips_of_most_value(problem, replace(frame, high=high), goal, left - use)
            if root is None:
                break
            value += more
            use += np.bincount([part.kind for part in root.leaves()], minlength=len(left))
            kids.append(root)
            high -= root.extent(1 - frame.axis) // frame.step
        return cls(value, use, join(1 - frame.axis, kids) if kids else None)


def _strips_of_most_value(
    problem: Problem, frame: _Frame, goal: tuple[Table, int], left: Table
) -> tuple[int, Slot | None]:
    """Return what strips can hold of the copies that are left, and their layout."""
    kernel = import_module("stowright.cutting.strips_kernel")
    values, few = goal
    fitting = (left[frame.ways[kernel.KIND]] > 0) & (frame.ways[kernel.HIGH] <= frame.high)
    ways = frame.ways[:, fitting].copy()
    if not ways.size:
        return 0, None
    distinct = np.unique(ways[kernel.WIDE])
    most, last = kernel.all_stacks(ways, values, left, distinct, frame.high)
    heights = _heights(np.unique(ways[kernel.HIGH]), most, distinct, few)
    sides = np.array([frame.long, _STACKS], np.int64)
    stacks = last, ways, distinct
    worth, uses, rows = kernel.all_strips(most, stacks, left, heights, sides)
    value, chosen = kernel.best_strips(heights, worth, uses, left, frame.high)
    strips = [(int(heights[at]), rows[at]) for at in chosen]
    return int(value), _Build(problem, frame, stacks).sheet(strips)


@dataclass(frozen=True, slots=True)
class _Build:
    """Choices turned into a layout.

    Attributes:
        problem: The problem.
        frame: How the strips lie.
        stacks: Choices of the stacks, ways and widths.
    """

    problem: Problem
    frame: _Frame
    stacks: tuple[Table, Table, Table]

    def sheet(self, strips: list[tuple[int, Table]]) -> Slot | None:
        """Return a sheet of strips, each with its height and its row of choices."""
        axis, (_, _, distinct) = self.frame.axis, self.stacks
        kids = []
        for high, row in strips:
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
