"""Methods tried one after another on one material; the best answer stands."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stowright.cutting.solver import by_packingsolver

if TYPE_CHECKING:
    from stowright.cutting.problem import Problem, Solution

__all__ = ["best_answer"]


def best_answer(problem: Problem) -> Solution | None:
    """Return the best complete answer found, or None when none was."""
    answers = [by_packingsolver(problem, queue=queue) for queue in (32,)]
    complete = [answer for answer in answers if answer is not None]
    if not complete:
        return None
    return min(complete, key=lambda a: (a.cost(problem), a.area(problem), a.lines(problem)))
