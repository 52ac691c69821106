"""packingsolver's free rectangles: parts for a router, laid without the edge-to-edge rule."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from importlib import import_module
from typing import TYPE_CHECKING, Any

from stowright.cutting.solver import (
    QUEUE,
    common_unit,
    cost_for_solver,
    has_choice,
)

if TYPE_CHECKING:
    from stowright.cutting.plates import Rect
    from stowright.cutting.problem import Problem

__all__ = ["FreePattern", "by_free_rectangles", "cost_of_free"]

_QUEUE_NAMES = (
    "not_anytime_tree_search_queue_size",
    "not_anytime_sequential_single_knapsack_subproblem_tree_search_queue_size",
    "not_anytime_dichotomic_search_subproblem_tree_search_queue_size",
    "sequential_value_correction_subproblem_tree_search_queue_size",
)


@dataclass(frozen=True, slots=True)
class FreePattern:
    """One bin with parts laid freely.

    Attributes:
        bin: Index of the bin.
        laid: For each part its kind and its real rectangle from the bin's corner. [1/160 mm]
    """

    bin: int
    laid: tuple[tuple[int, Rect], ...]


def by_free_rectangles(problem: Problem) -> list[FreePattern] | None:
    """Return parts laid freely, one cutter's width apart; None when not all are placed.

    On stock of several sizes each size without limit that holds every part is tried alone, and
    the cheapest stands: all of them at once can take minutes. Only where there is no such size
    are they given together.

    Args:
        problem: Parts and bins; the kerf is the cutter's diameter.
    """
    answers = [_on_one_size(problem, index) for index in _sizes_that_serve(problem)]
    if not answers:
        return _laid(problem)
    whole = [answer for answer in answers if answer is not None]
    return min(whole, key=lambda found: cost_of_free(problem, found), default=None)


def cost_of_free(problem: Problem, patterns: list[FreePattern]) -> float:
    """Return what the bins of freely laid parts count for."""
    return sum(problem.bins[pattern.bin].cost for pattern in patterns)


def _sizes_that_serve(problem: Problem) -> list[int]:
    """Return the bins without limit, each a whole sheet, that every part fits on."""
    return [
        index
        for index in problem.whole_sheets()
        if problem.bins[index].copies is None
        and all(problem.fits(kind, problem.bins[index]) for kind in problem.kinds)
    ]


def _on_one_size(problem: Problem, index: int) -> list[FreePattern] | None:
    """Return parts laid freely on one size alone."""
    found = _laid(replace(problem, bins=(problem.bins[index],)))
    return found and [replace(pattern, bin=index) for pattern in found]


def _laid(problem: Problem) -> list[FreePattern] | None:
    """Return what the solver finds when it is given all bins at once."""
    solver = import_module("packingsolver.rectangle")
    unit = common_unit(problem)
    instance = _described(solver, problem, unit).build()
    in_regions = len(problem.whole_sheets()) < len(problem.bins)
    settings = _settings(solver, several=has_choice(problem), in_regions=in_regions)
    output = solver.optimize(instance, settings)  # it owns the solution: both must stay alive
    solution = output.solution
    found: list[FreePattern] = []
    for index in range(solution.number_of_different_bins()):
        used = solution.bin(index)
        laid = tuple(_part(problem, item, unit) for item in used.items)
        found.extend([FreePattern(used.bin_type_id, laid)] * used.copies)
    count = Counter(kind for pattern in found for kind, _ in pattern.laid)
    is_whole = all(count[index] == kind.copies for index, kind in enumerate(problem.kinds))
    return found if is_whole else None


def _settings(solver: Any, *, several: bool, in_regions: bool) -> Any:
    """Return parameters that give the same layout every time.

    On stock of several sizes its tree search goes over to column generation, which takes ten
    times as long as the dichotomic search (measured on the pickup example: 7.4 s against 0.9 s
    for the same sheets), however narrow its queues are made; value correction takes 2.5 to 12 s
    for 40 parts on three sizes where the dichotomic search takes 0.1 s for the same stock. Where
    sheets fall into regions around defects the dichotomic search in turn takes 17 s for 40 parts
    and minutes for 100; sheets filled one by one take 0.5 and 2 s and cost less.
    """
    settings = solver.OptimizeParameters()
    settings.verbosity_level = 0
    settings.optimization_mode = solver.OptimizationMode.NotAnytimeSequential
    settings.use_sequential_single_knapsack = in_regions
    settings.use_dichotomic_search = several and not in_regions
    settings.use_tree_search = not several
    # Its reduction "enlarge wide and tall items" writes beyond its memory on some small instances
    # (seen with version 0.1.1233: three items on one bin type), which ends the whole program.
    settings.reduction_parameters = solver.ReductionParameters()
    settings.reduction_parameters.reduce = False
    for name in _QUEUE_NAMES:
        setattr(settings, name, QUEUE)
    return settings


def _described(solver: Any, problem: Problem, unit: int) -> Any:
    """Return packingsolver's own description; every side is grown by one cutter's width."""
    kerf = problem.rules.kerf
    objective = solver.Objective
    builder = solver.InstanceBuilder()
    several = has_choice(problem)
    builder.set_objective(objective.VariableSizedBinPacking if several else objective.BinPacking)
    for bin_ in problem.bins:
        copies = problem.parts if bin_.copies is None else min(bin_.copies, problem.parts)
        w, h = (bin_.w + kerf) // unit, (bin_.h + kerf) // unit
        builder.add_bin_type(w, h, cost=cost_for_solver(problem, bin_), copies=copies)
    for kind in problem.kinds:
        builder.add_item_type(
            (kind.length + kerf) // unit,
            (kind.width + kerf) // unit,
            copies=kind.copies,
            oriented=not kind.turnable,
        )
    return builder


def _part(problem: Problem, item: Any, unit: int) -> tuple[int, Rect]:
    """Return a part's kind and where it lies; the grown part starts where the real one does."""
    kind = problem.kinds[item.item_type_id]
    sides = (kind.width, kind.length) if item.rotate else (kind.length, kind.width)
    return item.item_type_id, (item.x * unit, item.y * unit, *sides)
