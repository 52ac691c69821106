"""Few saw lines against one large offcut: what each costs of the other, by annealing.

Several searches that share nothing run from layouts of the same cost. Each remembers the handiest
layout for each number of lines; together they are a front from which one can be chosen.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from importlib import import_module
from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.cutting.searching import combined_costs, total

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stowright.cutting.effort import Watch
    from stowright.cutting.problem import Problem, Solution
    from stowright.cutting.searching import Handy
    from stowright.cutting.states import Desk

__all__ = ["Run", "Seen", "annealed", "unbeaten"]

_ROUND = 4_000_000  # slots looked at between two looks at the clock
_NOISE = 1e-9
_RUIN, _CLIMB, _BLINK, _LINE = 6, 30, 50, 0.3  # habits, as the kernel's knobs have them
_COLD = 0.1  # how much worse a layout may be at the end, about, in saw lines
_SETTING = 0.05  # what one more setting counts for while searching; less than in the front


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One search.

    Attributes:
        start: A complete answer.
        offcut: What an offcut as large as a sheet counts for while searching, in saw lines.
        seed: Start of the random numbers.
        hot: How much worse a layout may be at the start, about, in saw lines.
        most_lines: Up to how many lines layouts are kept; at least as many as the start has.
    """

    start: Solution
    offcut: float
    seed: int
    hot: float = 0.7
    most_lines: int = 0


@dataclass(frozen=True, slots=True)
class Seen:
    """A layout in a front.

    Attributes:
        lines: Its saw lines.
        count: What it counts for, lines included; less is handier.
        offcut: Area of its largest offcut.
        answer: The layout.
    """

    lines: int
    count: float
    offcut: int
    answer: Solution


def annealed(
    problem: Problem, runs: Sequence[Run], *, handy: Handy, work: int, watch: Watch
) -> list[Seen]:
    """Return what all searches together saw, fewest lines first, each handier in some way.

    With more lines than another, each has the larger offcut or counts less.

    Args:
        problem: The problem.
        runs: The searches; they run two at a time.
        handy: What makes a layout handy, in the front.
        work: Slots looked at in each search.
        watch: Ends it early.
    """

    def go(run: Run) -> list[Seen]:
        return _searched(problem, run, handy, (work, watch))

    with ThreadPoolExecutor(2) as pool:
        found = [seen for front in pool.map(go, runs) for seen in front]
    return unbeaten(found)


def unbeaten(found: Sequence[Seen]) -> list[Seen]:
    """Return what is not beaten by anything with as few lines."""
    order = sorted(found, key=lambda s: (s.lines, s.count))
    return [order[at] for at in _not_beaten([(seen.count, seen.offcut) for seen in order])]


def _not_beaten(rows: Sequence[tuple[float, float]]) -> list[int]:
    """Return which layouts, each its count and its offcut, are not beaten by one before them."""
    kept: list[int] = []
    for at, (count, offcut) in enumerate(rows):
        if all(offcut > rows[k][1] or count < rows[k][0] for k in kept):
            kept.append(at)
    return kept


def _searched(problem: Problem, run: Run, handy: Handy, budget: tuple[int, Watch]) -> list[Seen]:
    """Return the front of one search."""
    kernel = import_module("stowright.cutting.anneal_kernel")
    work, watch = budget
    desk = _desk(problem, run, handy)
    front = _empty_front(desk, max(run.start.lines(problem), run.most_lines))
    plan = np.array([run.hot, min(run.hot, _COLD), work, handy.setting, handy.offcut])
    kernel.anneal(desk.now, desk.task, desk.meta, plan, front)  # no work yet: it keeps the start
    while desk.meta[2] < work and not watch.is_over():
        desk.meta[4] = min(work, desk.meta[2] + _ROUND)
        kernel.anneal(desk.now, desk.task, desk.meta, plan, front)
    return [
        Seen(
            lines,
            lines + float(front.counts[lines]),
            int(front.offcuts[lines]),
            _read(problem, desk, run.start, (front.trees[lines], front.bins[lines])),
        )
        for lines in _worth_reading(front)
    ]


def _worth_reading(front: Any) -> list[int]:
    """Return numbers of lines at which a front has something that fewer lines have not."""
    there: list[int] = np.flatnonzero(np.isfinite(front.counts)).tolist()
    rows = [(lines + float(front.counts[lines]), float(front.offcuts[lines])) for lines in there]
    return [there[at] for at in _not_beaten(rows)]


def _desk(problem: Problem, run: Run, handy: Handy) -> Desk:
    """Return a desk with the start on it and the habits set."""
    states = import_module("stowright.cutting.states")
    kernel = import_module("stowright.cutting.kernel")
    costs = combined_costs(problem)
    desk: Desk = states.set_up(problem, run.start, costs, 12345 + 7919 * (97 * run.seed + 61))
    knobs = desk.task.knobs
    knobs[kernel.RUIN], knobs[kernel.CLIMB] = _RUIN, _CLIMB
    knobs[kernel.BLINK], knobs[kernel.LINE] = _BLINK, _LINE
    knobs[kernel.BUDGET] = total(run.start, costs) * (1.0 + _NOISE)
    knobs[kernel.FINISH] = 1.0
    knobs[kernel.SETTINGS], knobs[kernel.METRES] = min(_SETTING, handy.setting), handy.metres
    knobs[kernel.OFFCUT] = run.offcut
    knobs[kernel.KEEP_LONG], knobs[kernel.KEEP_SHORT] = handy.keep_long, handy.keep_short
    return desk


def _empty_front(desk: Desk, most_lines: int) -> Any:
    """Return a front with room for answers of so many lines."""
    kernel = import_module("stowright.cutting.anneal_kernel")
    room = most_lines + 1
    return kernel.Front(
        np.full(room, np.inf),
        np.zeros(room),
        np.empty((room, *desk.now.tree.shape), np.int64),
        np.empty((room, *desk.now.bins.shape), np.int64),
    )


def _read(problem: Problem, desk: Desk, start: Solution, tables: tuple[Any, Any]) -> Solution:
    """Return a layout of a front as an answer."""
    states = import_module("stowright.cutting.states")
    kernel = import_module("stowright.cutting.kernel")
    best = kernel.State(*tables, desk.now.pool)
    found: Solution = states.read_back(replace(desk, best=best), problem, start.found_by)
    return replace(found, bound=start.bound, cost_bound=start.cost_bound)
