"""Methods tried one after another on one material; the best answer stands."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stowright.cutting.batch import LARGE, drained, handier_by_groups
from stowright.cutting.bounds import Bound
from stowright.cutting.corners import by_corners, rank
from stowright.cutting.effort import Effort, Progress, Watch
from stowright.cutting.patterns import fewest_of, pooled
from stowright.cutting.recut import recut
from stowright.cutting.searching import Handy, fewer_sheets, handier, measured
from stowright.cutting.solver import by_packingsolver, has_choice, with_few_cuts
from stowright.cutting.starting import MOST_AT_ONCE, solver_answer
from stowright.cutting.strips import all_by_strips
from stowright.cutting.tradeoff import Wanted, handiest

if TYPE_CHECKING:
    from collections.abc import Callable

    from stowright.cutting.problem import Problem, Solution

__all__ = ["Search", "is_proved", "least_stock", "made_handy", "with_less"]

_NOISE = 1e-6
_FEW_CUTS = (32, 128)  # widths of packingsolver's search for few cuts, one for each layout
_SHARE_OF_RUN = 0.5  # of the finishing work, for each of the searches for few lines
_AHEAD = 1  # lines fewer than in those: what the solver finds with more time, mostly
_WELL_BELOW = 0.9  # of the lines of the solver's own layout: no more for the sake of the offcut
_MANY = 100  # parts; beyond them strips and draining gain on stock of several sizes
_STARTS, _FEWER_STARTS = 3, 2  # answers that are drained on stock of several sizes
_BATCH = 1000  # parts; beyond them the fewer are drained, for the time that each takes
_MOST_FOR_SOLVER = 2 * LARGE  # parts; beyond them the solver takes long and gains nothing


@dataclass(frozen=True, slots=True, kw_only=True)
class Search:
    """How to search.

    Attributes:
        material: The material, for the report.
        effort: The budget.
        handy: What makes a layout handy.
        watch: Ends it early and reports.
        seed: Start of the random numbers.
        sawn: False for a router: then only the offcut counts when a layout is made handier.
    """

    material: str
    effort: Effort
    handy: Handy
    watch: Watch
    seed: int = 0
    sawn: bool = True


def is_proved(problem: Problem, solution: Solution, bound: Bound) -> bool:
    """Tell whether no answer can cost less."""
    if len(problem.bins) == 1:
        return len(solution.patterns) <= max(bound.sheets, solution.bound)
    return solution.cost(problem) <= max(bound.cost, solution.cost_bound) + _NOISE


def least_stock(problem: Problem, bound: Bound, search: Search) -> tuple[Solution, Bound]:
    """Return the cheapest answer found and the best bound; parts are missing if stock is short.

    Args:
        problem: The problem.
        bound: What no answer can go below.
        search: How to search.
    """
    answer = by_corners(problem)
    _tell(search, "first answer", answer, bound)
    if answer.missing or problem.parts <= _MOST_FOR_SOLVER:
        answer = _better(problem, answer, solver_answer(problem))
        _tell(search, "solver", answer, bound)
    if search.effort.place > 0:
        answer = with_less(problem, answer, bound, search)
    if search.effort.prove > 0 and len(problem.bins) == 1 and not answer.missing:
        answer, bound = _from_whole_sheets(problem, answer, bound, search)
        _tell(search, "whole sheets", answer, bound)
    return answer, bound


def _from_whole_sheets(
    problem: Problem, answer: Solution, bound: Bound, search: Search
) -> tuple[Solution, Bound]:
    """Return the answer and the bound after a look at whole sheets, if anything is open."""
    if is_proved(problem, answer, bound):
        return answer, bound
    pool = pooled(problem, answer, work=search.effort.prove, watch=search.watch)
    if pool.sheets > max(bound.sheets, answer.bound):
        cost = pool.sheets * problem.bins[0].cost
        bound = Bound(sheets=pool.sheets, cost=cost, because=pool.because)
    if search.effort.pool and problem.rules.stages is None:
        answer = fewest_of(problem, pool.roots, answer)
    return answer, bound


def made_handy(problem: Problem, answer: Solution, search: Search) -> Solution:
    """Return an answer on the same stock with fewer lines and settings and a larger offcut."""
    if not search.effort.finish or answer.missing:
        return answer
    if problem.parts > LARGE:
        answer = handier_by_groups(
            problem,
            answer,
            handy=search.handy,
            work=search.effort.finish,
            watch=search.watch,
            seed=search.seed,
        )
    else:
        answer = _handiest(problem, answer, search)
    return recut(problem, answer) if search.sawn else answer


def _handiest(problem: Problem, answer: Solution, search: Search) -> Solution:
    """Return the handiest answer found, few lines weighed against a large offcut.

    A router has no lines to save: its answer is searched for the offcut alone.
    """
    if not search.sawn:
        return _larger_offcut(problem, answer, search)
    few = [other for queue in _FEW_CUTS if (other := _few_cuts(problem, answer, queue))]
    plain = _plain(problem, answer)
    fewer = math.floor(plain.lines(problem) * _WELL_BELOW)
    wanted = Wanted(
        handy=search.handy,
        most_lines=min([fewer, *(other.lines(problem) - _AHEAD for other in few)]),
        least_offcut=measured(problem, plain, search.handy)[1],
        work=math.ceil(search.effort.finish * _SHARE_OF_RUN),
        watch=search.watch,
        seed=search.seed,
    )
    return handiest(problem, [*few, answer], wanted)


def _plain(problem: Problem, answer: Solution) -> Solution:
    """Return the solver's own layout on as few sheets, or the answer where it has none."""
    if has_choice(problem):
        return answer
    other = by_packingsolver(problem)
    return other if other and len(other.patterns) <= len(answer.patterns) else answer


def _larger_offcut(problem: Problem, answer: Solution, search: Search) -> Solution:
    """Return an answer for a router with a larger offcut."""
    return handier(
        problem,
        answer,
        handy=search.handy,
        work=search.effort.finish,
        watch=search.watch,
        seed=search.seed,
    )


def _better(problem: Problem, one: Solution, other: Solution) -> Solution:
    """Return the better of two answers, with the higher of their bounds."""
    best = min(one, other, key=lambda answer: rank(problem, answer))
    bound, cost_bound = max(one.bound, other.bound), max(one.cost_bound, other.cost_bound)
    return replace(best, bound=bound, cost_bound=cost_bound)


def _few_cuts(problem: Problem, answer: Solution, queue: int) -> Solution | None:
    """Return packingsolver's layout with few cuts when it takes no more sheets."""
    if has_choice(problem):
        return None
    other = with_few_cuts(problem, queue=queue)
    return other if other and len(other.patterns) <= len(answer.patterns) else None


def with_less(problem: Problem, start: Solution, bound: Bound, search: Search) -> Solution:
    """Return an answer on less stock than one to start from, if any is found."""
    if not is_proved(problem, start, bound):
        start = _with_solvers_bound(problem, start)
    known = start.bound, start.cost_bound

    def is_least(solution: Solution) -> bool:
        return is_proved(problem, replace(solution, bound=known[0], cost_bound=known[1]), bound)

    answer, drains = start, False
    if problem.parts > (LARGE if len(problem.bins) == 1 else _MANY) and not start.missing:
        answer, drains = _drained_best(problem, start, is_least, search), problem.parts > LARGE
    if not drains:
        answer = fewer_sheets(
            problem,
            answer,
            is_least=is_least,
            work=search.effort.place,
            watch=search.watch,
            seed=search.seed,
        )
    answer = replace(answer, bound=known[0], cost_bound=known[1])
    if search.effort.queue and len(problem.bins) == 1 and not is_least(answer):
        wider = by_packingsolver(problem, queue=search.effort.queue, with_bound=True)
        answer = answer if wider is None else _better(problem, answer, wider)
    _tell(search, "fewer sheets", answer, bound)
    return answer


def _with_solvers_bound(problem: Problem, start: Solution) -> Solution:
    """Return the better of an answer and the solver's, with its bound where it gives one."""
    if start.missing or has_choice(problem) or problem.parts > MOST_AT_ONCE:
        return start
    other = by_packingsolver(problem, with_bound=True)
    return start if other is None else _better(problem, start, other)


def _drained_best(
    problem: Problem, start: Solution, is_least: Callable[[Solution], bool], search: Search
) -> Solution:
    """Return the best of some answers once each is drained.

    They are the one given and those by strips; on stock of one size the best of them alone. On
    several sizes three are drained, of a batch two: one that begins worse may end better.
    """
    found = [] if is_least(start) else all_by_strips(problem, search.watch)
    several = _STARTS if problem.parts <= _BATCH else _FEWER_STARTS
    most = 1 if len(problem.bins) == 1 else several
    order = sorted([*found[:most], start], key=lambda answer: rank(problem, answer))
    starts = {answer.patterns: answer for answer in order}  # alike ones once
    ended: list[Solution] = []
    for each in list(starts.values())[:most]:
        ended.append(
            drained(
                problem,
                each,
                is_least=is_least,
                work=search.effort.place,
                watch=search.watch,
                seed=search.seed,
            )
        )
        if is_least(ended[-1]):
            break
    return min(ended, key=lambda answer: rank(problem, answer))


def _tell(search: Search, stage: str, answer: Solution, bound: Bound) -> None:
    search.watch.tell(
        Progress(
            material=search.material,
            stage=stage,
            sheets=len(answer.patterns),
            bound=max(bound.sheets, answer.bound),
        )
    )
