"""Few saw lines and one large offcut at once, on the stock of a given answer.

Pairs of searches run one after another: the first from the layouts there are, the others from the
best of what all before them saw, one of a pair for few lines and one for the offcut. What they
see makes a front of lines against offcuts, and one layout of it is taken.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stowright.cutting.annealing import Run, annealed, unbeaten

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stowright.cutting.annealing import Seen
    from stowright.cutting.effort import Watch
    from stowright.cutting.problem import Problem, Solution
    from stowright.cutting.searching import Handy

__all__ = ["Wanted", "chosen", "handiest"]

_AMONG = 2.0  # what the offcut counts for among layouts with few enough lines, of its weight
_FIRST = (1.0, 2.0)  # what it counts for in the first two searches
_LATER = (1.0, 3.0)  # and in each later pair
_PAIRS = 3  # of later searches
_NEARLY = 0.9  # of the largest offcut that so few lines leave: what is taken leaves as much
_HOT, _WARM = 0.7, 0.3  # warmth at the start of the first and of the later ones, in lines


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What is looked for.

    Attributes:
        handy: What makes a layout handy.
        most_lines: Saw lines that there may be for the sake of the offcut.
        least_offcut: Area below which the offcut should not come where the lines allow it.
        work: Slots looked at in each search.
        watch: Ends it early.
        seed: Start of the random numbers.
    """

    handy: Handy
    most_lines: int
    least_offcut: int
    work: int
    watch: Watch
    seed: int


def handiest(problem: Problem, starts: Sequence[Solution], wanted: Wanted) -> Solution:
    """Return the handiest answer found, with no more stock than those to start from.

    Args:
        problem: The problem.
        starts: Complete answers of the same cost, at least one.
        wanted: What is looked for.
    """
    first = [starts[at % len(starts)] for at in range(len(_FIRST))]
    seen = _seen(problem, _pair(first, _FIRST, wanted, _HOT, 0), wanted)
    for pair in range(_PAIRS):
        if wanted.watch.is_over():
            break
        low = _fit(seen, wanted.most_lines)
        ends = min(low, key=lambda s: s.count), max(low, key=lambda s: s.offcut)
        runs = _pair([s.answer for s in ends], _LATER, wanted, _WARM, pair + 1)
        seen = unbeaten([*seen, *_seen(problem, runs, wanted)])
    return chosen(seen, most_lines=wanted.most_lines, least_offcut=wanted.least_offcut)


def _pair(
    starts: Sequence[Solution], shares: tuple[float, float], wanted: Wanted, hot: float, number: int
) -> list[Run]:
    """Return a pair of searches; in each the offcut counts for a share of its weight."""
    return [
        Run(
            start=start,
            offcut=wanted.handy.offcut * share,
            seed=wanted.seed + 10 * number + at,
            hot=hot,
            most_lines=wanted.most_lines,
        )
        for at, (start, share) in enumerate(zip(starts, shares, strict=True))
    ]


def _seen(problem: Problem, runs: Sequence[Run], wanted: Wanted) -> list[Seen]:
    """Return what some searches see."""
    return annealed(
        problem,
        runs,
        handy=replace(wanted.handy, offcut=wanted.handy.offcut * _AMONG),
        work=wanted.work,
        watch=wanted.watch,
    )


def _fit(seen: Sequence[Seen], most_lines: int) -> list[Seen]:
    """Return the layouts with few enough lines; those with the fewest where there are none."""
    most = max(most_lines, min(each.lines for each in seen))
    return [each for each in seen if each.lines <= most]


def chosen(seen: Sequence[Seen], *, most_lines: int, least_offcut: int) -> Solution:
    """Return the layout that counts least among those with few lines and a large offcut.

    An offcut is large when it is nearly the largest that so few lines leave. Where no layout has
    so few lines, those with the fewest are looked at.

    Args:
        seen: Layouts, at least one.
        most_lines: Saw lines that there may be.
        least_offcut: Area below which the offcut should not come where the lines allow it.
    """
    few = _fit(seen, most_lines)
    nearly = _NEARLY * max(each.offcut for each in few)
    large = [each for each in few if each.offcut >= nearly]
    return min(large, key=lambda each: (each.offcut < least_offcut, each.count)).answer
