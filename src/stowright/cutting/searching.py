"""Goal-driven search: less stock than the best answer so far, then handier cuts.

Several streams search from the same answer with random numbers and habits of their own, in
rounds of equal work. After each round the first stream that reached the goal, in the streams'
order, sets the next one: the outcome does not depend on how fast each of them ran.
"""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from importlib import import_module
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable

    from stowright.cutting.effort import Watch
    from stowright.cutting.problem import Problem, Solution
    from stowright.cutting.states import Desk

__all__ = ["Handy", "fewer_sheets", "handier", "measured", "on_one_less"]

_SHARE_OF_CUTS = 0.6  # of the finishing work; the rest goes to the offcut
_KEENER = 8.0  # how much more an offcut counts then
_ROUND = 4_000_000  # slots looked at between two looks at the clock


@dataclass(frozen=True, slots=True)
class _Habit:
    """How a stream searches."""

    ruin: int
    climb: int
    blink: int
    late: int
    line: float = 0.0


_PLACING = (_Habit(6, 30, 20, 50), _Habit(12, 40, 20, 500))
_FINISHING = (_Habit(6, 30, 10, 50, 0.3), _Habit(10, 15, 10, 50, 0.2))


@dataclass(frozen=True, slots=True, kw_only=True)
class Handy:
    """What makes a layout handy, in saw lines.

    Attributes:
        setting: What one more fence setting counts for.
        metres: What a cut as long as the side of a square sheet counts for.
        offcut: What an offcut as large as a sheet is worth.
        keep_long: Least longer side of an offcut that counts. [1/160 mm]
        keep_short: Least shorter side. [1/160 mm]
    """

    setting: float = 0.3
    metres: float = 0.02
    offcut: float = 8.0
    keep_long: int = 0
    keep_short: int = 0


def combined_costs(problem: Problem) -> list[float]:
    """Return costs in which the area decides where the cost does not."""
    highest = max(bin_.cost for bin_ in problem.bins) or 1.0
    largest = max(bin_.w * bin_.h for bin_ in problem.bins)
    return [b.cost / highest + _LITTLE * b.w * b.h / largest for b in problem.bins]


_LITTLE = 1e-5
_NOISE = 1e-9


def total(solution: Solution, costs: list[float]) -> float:
    """Return what an answer's bins count for."""
    return sum(costs[pattern.bin] for pattern in solution.patterns)


def fewer_sheets(
    problem: Problem,
    start: Solution,
    *,
    is_least: Callable[[Solution], bool],
    work: int,
    watch: Watch,
    seed: int = 0,
) -> Solution:
    """Return an answer that costs no more than the one given, less where it was found.

    Args:
        problem: The problem.
        start: A complete answer, or one with parts missing.
        is_least: Tells whether an answer is proved least; the search then ends.
        work: Slots looked at, per stream, for each goal.
        watch: Ends it early.
        seed: Start of the random numbers.
    """
    costs = combined_costs(problem)
    best = start
    while not (watch.is_over() or (not best.missing and is_least(best))):
        budget = np.inf if best.missing else total(best, costs) * (1.0 - _NOISE) - _step(costs)
        desks = [_desk(problem, best, costs, seed * 97 + n + 1, h) for n, h in enumerate(_PLACING)]
        for number, desk in enumerate(desks):
            _drop_to(desk, budget, number)
        found = _first_within(desks, work, watch)
        if found is None:
            break
        best = _states().read_back(found, problem, "search")
    return best


def on_one_less(
    problem: Problem,
    start: Solution,
    *,
    work: int,
    watch: Watch,
    seed: int = 0,
    trade: bool = False,
) -> Solution:
    """Return an answer on one sheet less; what finds no place is missing, as little as can be.

    One stream alone, so that several such searches can run side by side. Of what is missing a
    large part counts a little more than small ones of the same area.

    Args:
        problem: The problem.
        start: A complete answer; its emptiest sheet is the one taken off.
        work: Slots looked at.
        watch: Ends it early.
        seed: Start of the random numbers; it also picks the stream's habit.
        trade: True to let cheaper sheets be opened in its stead.
    """
    costs = combined_costs(problem)
    desk = _desk(problem, start, costs, seed * 97 + 1, _PLACING[seed % len(_PLACING)])
    saved = total(start, costs) * _NOISE + _step(costs) if trade else 0.5 * min(costs)
    _drop_to(desk, total(start, costs) - saved, 0)
    desk.task.knobs[import_module("stowright.cutting.kernel").CROWDED] = 1.0
    rounds = import_module("stowright.cutting.rounds")
    if not watch.is_over():
        desk.meta[4] = desk.meta[2] + work
        rounds.search(desk.best, desk.now, desk.task, desk.meta, desk.late)
    answer: Solution = _states().read_back(desk, problem, "search")
    return answer


def _step(costs: list[float]) -> float:
    """Return by how much less the next answer has to cost."""
    return min(costs) * 0.5 if len(set(costs)) == 1 else min(costs) * _LITTLE


def _states() -> Any:
    """Load the compiled part where it is first needed: the first answer never waits for it."""
    return import_module("stowright.cutting.states")


def _desk(problem: Problem, start: Solution, costs: list[float], seed: int, habit: _Habit) -> Desk:
    kernel = import_module("stowright.cutting.kernel")
    desk: Desk = _states().set_up(problem, start, costs, 12345 + 7919 * seed)
    knobs = desk.task.knobs
    knobs[kernel.RUIN], knobs[kernel.CLIMB] = habit.ruin, habit.climb
    knobs[kernel.BLINK], knobs[kernel.LINE] = habit.blink, habit.line
    desk.start_over(habit.late)
    return desk


def _drop_to(desk: Desk, budget: float, skip: int) -> None:
    """Take the emptiest sheets off until the rest is within a budget; their parts into the pool.

    Args:
        desk: The search.
        budget: The budget.
        skip: How many of the emptiest sheets to pass over, so that streams start apart.
    """
    kernel = import_module("stowright.cutting.kernel")
    rounds = import_module("stowright.cutting.rounds")
    state, costs = desk.best, desk.task.costs
    desk.task.knobs[kernel.BUDGET] = budget
    rounds.count_used(state, desk.task.parts)
    while kernel.open_cost(state.bins, costs) > budget:
        in_use = [int(b) for b in np.flatnonzero(state.bins[kernel.TYPE] >= 0)]
        value = {b: state.bins[kernel.USED, b] / costs[state.bins[kernel.TYPE, b]] for b in in_use}
        order = sorted(in_use, key=lambda b: (value[b], b))
        root = state.bins[kernel.ROOT, order[min(skip, len(order) - 1)]]
        kernel.take_out(state.tree, state.bins, root)
        desk.meta[0] = kernel.into_pool(state.tree, root, state.pool, desk.meta[0])
    desk.start_over(len(desk.late))


def _first_within(desks: list[Desk], work: int, watch: Watch) -> Desk | None:
    """Run the streams until one has placed everything; None when the work is used up first."""
    rounds = import_module("stowright.cutting.rounds")

    def run(desk: Desk) -> None:
        desk.meta[4] = desk.meta[2] + min(_ROUND, work)
        rounds.search(desk.best, desk.now, desk.task, desk.meta, desk.late)

    with ThreadPoolExecutor(len(desks)) as pool:
        while desks[0].meta[2] < work and not watch.is_over():
            list(pool.map(run, desks))
            for desk in desks:
                if desk.missing == 0:
                    return desk
    return None


def handier(
    problem: Problem,
    start: Solution,
    *,
    handy: Handy,
    work: int,
    watch: Watch,
    seed: int = 0,
) -> Solution:
    """Return an answer of the same cost with fewer cuts and settings and a larger offcut.

    The cuts come first; then, with no more of them than that, the offcut.

    Args:
        problem: The problem.
        start: A complete answer.
        handy: What counts.
        work: Slots looked at, per stream.
        watch: Ends it early.
        seed: Start of the random numbers.
    """
    first = math.ceil(work * _SHARE_OF_CUTS)
    few = _handier(problem, start, (handy, math.inf), first, (watch, seed))
    if work <= first:
        return few
    larger = replace(handy, offcut=handy.offcut * _KEENER)
    goal = larger, float(few.lines(problem))
    return _handier(problem, few, goal, work - first, (watch, seed + 1))


def _handier(
    problem: Problem,
    start: Solution,
    goal: tuple[Handy, float],
    work: int,
    run_of: tuple[Watch, int],
) -> Solution:
    """Return the handiest answer that two streams find.

    Args:
        problem: The problem.
        start: Where the streams start.
        goal: What counts, and how many saw lines there may be.
        work: Slots looked at, per stream.
        run_of: What ends it early, and the start of the random numbers.
    """
    kernel = import_module("stowright.cutting.kernel")
    rounds = import_module("stowright.cutting.rounds")
    watch, seed = run_of
    costs = combined_costs(problem)
    desks = [
        _desk(problem, start, costs, seed * 97 + n + 31, habit)
        for n, habit in enumerate(_FINISHING)
    ]
    for desk in desks:
        desk.task.knobs[kernel.BUDGET] = total(start, costs) * (1.0 + _NOISE)
        _aim(desk, goal)

    def run(desk: Desk) -> float:
        desk.meta[4] = desk.meta[2] + min(_ROUND, work)
        return float(rounds.search(desk.best, desk.now, desk.task, desk.meta, desk.late))

    counts = [np.inf] * len(desks)
    with ThreadPoolExecutor(len(desks)) as pool:
        while desks[0].meta[2] < work and not watch.is_over():
            counts = list(pool.map(run, desks))
    best = desks[int(np.argmin(counts))]
    found: Solution = _states().read_back(best, problem, start.found_by)
    return replace(found, bound=start.bound, cost_bound=start.cost_bound)


def _aim(desk: Desk, goal: tuple[Handy, float]) -> None:
    """Make a search look for handy layouts; the goal has what counts and the most lines."""
    kernel = import_module("stowright.cutting.kernel")
    (handy, most_lines), knobs = goal, desk.task.knobs
    knobs[kernel.FINISH] = 1.0
    knobs[kernel.SETTINGS], knobs[kernel.METRES] = handy.setting, handy.metres
    knobs[kernel.OFFCUT], knobs[kernel.MOST_LINES] = handy.offcut, most_lines
    knobs[kernel.KEEP_LONG], knobs[kernel.KEEP_SHORT] = handy.keep_long, handy.keep_short


def measured(problem: Problem, answer: Solution, handy: Handy) -> tuple[float, int]:
    """Return how handy an answer is, less being handier, and the area of its largest offcut."""
    handiness = import_module("stowright.cutting.handiness")
    desk = _desk(problem, answer, combined_costs(problem), 1, _FINISHING[0])
    _aim(desk, (handy, math.inf))
    sums = np.zeros(4)
    count = float(handiness.handiness(desk.best, desk.task, sums))
    return count, int(sums[handiness.LARGEST])
