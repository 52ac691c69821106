"""Methods tried one after another on one material; the best answer stands."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stowright.cutting.solver import by_packingsolver

if TYPE_CHECKING:
    from stowright.cutting.problem import Problem, Solution

__all__ = ["best_answer"]


#: Width of the tree search and rounds of value correction. Named together they keep the solver to
#: these two; left to itself it spends ten times as long on stock of two sizes for no fewer sheets
#: (measured on the examples).
QUEUE, CORRECTIONS = 32, 32


def best_answer(problem: Problem) -> Solution | None:
    """Return the best complete answer found, or None when none was."""
    answers = [by_packingsolver(problem, queue=QUEUE, corrections=CORRECTIONS)]
    complete = [answer for answer in answers if answer is not None]
    if not complete:
        return None
    return min(complete, key=lambda a: (a.cost(problem), a.area(problem), a.lines(problem)))
