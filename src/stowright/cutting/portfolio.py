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
from stowright.cutting.searching import Handy, fewer_sheets, grown_offcut, handier, measured
from stowright.cutting.solver import by_packingsolver, with_few_cuts
from stowright.cutting.starting import MOST_AT_ONCE, solver_answer
from stowright.cutting.strips import by_strips
from stowright.cutting.tradeoff import Wanted, aside, with_offcut

if TYPE_CHECKING:
    from stowright.cutting.problem import Problem, Solution

__all__ = ["Search", "is_proved", "least_stock", "made_handy", "with_less"]

_NOISE = 1e-6
_FEW_CUTS = (32, 128)  # widths of packingsolver's search for few cuts, one for each try
_SHARE_OF_TRY = 0.5  # of the finishing work, for each of the two tries for few lines
_SHARE_OF_STEP = 0.25  # of it, for each step towards a larger offcut
_SHARE_OF_GROWING = 0.3  # of it, to make the offcut larger at no more lines
_WELL_BELOW = 0.9  # of the lines that there were: no more may come back for the offcut
_NEXT_SEED = 1009  # what the second try's random numbers start further on
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
    """Return the handiest answer found: few lines first, then an offcut that costs few more.

    Two tries for few lines have random numbers and a layout of few cuts of their own to start
    from. A router's answer has one, for the offcut alone.
    """
    if not search.sawn:
        return _one_try(problem, answer, None, search, 1.0)
    tries: list[Solution] = []
    few = [answer]
    for number, queue in enumerate(_FEW_CUTS):
        other = _few_cuts(problem, answer, queue)
        own = replace(search, seed=search.seed + number * _NEXT_SEED)
        tried = _one_try(problem, answer, other, own, _SHARE_OF_TRY)
        tries.append(_grown(problem, tried, own))
        few += [] if other is None else [other]
    lines, first = min(each.lines(problem) for each in tries), answer.lines(problem)
    most = _lines_for_offcut(lines, min(each.lines(problem) for each in few), first)
    wanted = Wanted(
        handy=search.handy,
        most_lines=most,
        most_with_one_more=math.floor(first * _WELL_BELOW),
        least_offcut=measured(problem, answer, search.handy)[1],
        work=math.ceil(search.effort.finish * _SHARE_OF_STEP),
        watch=search.watch,
        seed=search.seed,
    )
    if all(measured(problem, a, search.handy)[1] < wanted.least_offcut for a in tries):
        tries.append(_grown(problem, answer, search, most_lines=most))
    best = with_offcut(problem, tries, wanted)
    return best if best in tries else _grown(problem, best, search)


def _grown(
    problem: Problem, answer: Solution, search: Search, *, most_lines: int | None = None
) -> Solution:
    """Return an answer with a larger offcut at no more lines than it has, or than are given."""
    return grown_offcut(
        problem,
        answer,
        handy=search.handy,
        most_lines=answer.lines(problem) if most_lines is None else most_lines,
        work=math.ceil(search.effort.finish * _SHARE_OF_GROWING),
        watch=search.watch,
        seed=search.seed + 1,
    )


def _lines_for_offcut(lines: int, few: int, first: int) -> int:
    """Return how many lines an answer may have for the sake of its offcut.

    Half way to what the solver's layout of few cuts has, and well below the first answer.

    Args:
        lines: The fewest lines found.
        few: Lines of the solver's layout.
        first: Lines of the answer that was to be made handier.
    """
    return max(lines, min((lines + few + 1) // 2, math.floor(first * _WELL_BELOW)))


def _one_try(
    problem: Problem, answer: Solution, other: Solution | None, search: Search, share: float
) -> Solution:
    """Return what one try at fewer lines finds; a router's answer is tried for its offcut."""
    handy = aside(search.handy) if search.sawn else search.handy
    return handier(
        problem,
        answer,
        other=other,
        handy=handy,
        work=math.ceil(search.effort.finish * share),
        watch=search.watch,
        seed=search.seed,
        offcut_too=not search.sawn,
    )[0]


def _better(problem: Problem, one: Solution, other: Solution) -> Solution:
    """Return the better of two answers, with the higher of their bounds."""
    best = min(one, other, key=lambda answer: rank(problem, answer))
    bound, cost_bound = max(one.bound, other.bound), max(one.cost_bound, other.cost_bound)
    return replace(best, bound=bound, cost_bound=cost_bound)


def _few_cuts(problem: Problem, answer: Solution, queue: int) -> Solution | None:
    """Return packingsolver's layout with few cuts when it takes no more sheets."""
    if len(problem.bins) > 1 or problem.bins[0].copies is not None:
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

    search_for = fewer_sheets
    if problem.parts > LARGE and not start.missing:
        search_for = drained
        start = _by_strips_if_better(problem, start, search) if not is_least(start) else start
    answer = search_for(
        problem,
        start,
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
    limited = len(problem.bins) > 1 or problem.bins[0].copies is not None
    if start.missing or limited or problem.parts > MOST_AT_ONCE:
        return start
    other = by_packingsolver(problem, with_bound=True)
    return start if other is None else _better(problem, start, other)


def _by_strips_if_better(problem: Problem, start: Solution, search: Search) -> Solution:
    """Return the better of an answer and one by strips, where that way is open."""
    if len(problem.bins) > 1 or problem.bins[0].copies is not None:
        return start
    other = by_strips(problem, search.watch)
    return start if other is None else _better(problem, other, start)


def _tell(search: Search, stage: str, answer: Solution, bound: Bound) -> None:
    search.watch.tell(
        Progress(
            material=search.material,
            stage=stage,
            sheets=len(answer.patterns),
            bound=max(bound.sheets, answer.bound),
        )
    )
