"""packingsolver as one member of the portfolio.

Pinned to 0.1.1233. Measured there and respected here: edge trims are taken off beforehand
(unlimited stages with a left or bottom trim fail), three stages are the good default, a layout
is used only when ``full()`` says that nothing is missing, and only the sequential mode gives the
same layout every time.
"""

from __future__ import annotations

import math
from collections import Counter
from importlib import import_module
from typing import TYPE_CHECKING, Any

from stowright.cutting.problem import Pattern, Solution
from stowright.cutting.slots import ALONG, UPWARD, Slot, join, leaf

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stowright.cutting.problem import Bin, Problem

__all__ = [
    "CORRECTIONS",
    "QUEUE",
    "by_packingsolver",
    "common_unit",
    "cost_for_solver",
    "fill_one",
    "has_choice",
    "with_few_cuts",
]

_STAGES = 3
_LITTLE = 1e-4
_QUEUES = (
    "not_anytime_tree_search_queue_size",
    "not_anytime_sequential_single_knapsack_subproblem_tree_search_queue_size",
    "not_anytime_dichotomic_search_subproblem_tree_search_queue_size",
    "sequential_value_correction_subproblem_tree_search_queue_size",
)


#: Width of the tree search and rounds of value correction. Naming either keeps the solver to it;
#: left to itself it spends ten times as long on stock of two sizes for no fewer sheets (measured
#: on the examples). On stock of one size the search that follows gains more in less time than
#: the corrections do.
QUEUE, CORRECTIONS = 32, 32


def by_packingsolver(
    problem: Problem,
    *,
    queue: int = QUEUE,
    corrections: int = 0,
    with_bound: bool = False,
    time_limit_s: float | None = None,
) -> Solution | None:
    """Return the layout that packingsolver finds, or None when it finds no complete one.

    Args:
        problem: Parts and bins.
        queue: Width of its tree search.
        corrections: Rounds of its sequential value correction; 0 leaves that out.
        with_bound: True for its bound on the number of sheets too, on stock of one size. For a
            hundred parts that takes ten times as long as the layout itself (measured: 1.8 s and
            0.1 s), so it is left out by asking for the least cost instead.
        time_limit_s: Ends it early; the answer then depends on the machine. [s]
    """
    solver = import_module("packingsolver.rectangleguillotine")
    unit, several = common_unit(problem), has_choice(problem)
    by_number = with_bound and not several
    objective = solver.Objective
    objective = objective.BinPacking if by_number else objective.VariableSizedBinPacking
    instance = _described(solver, problem, unit, objective).build()
    settings = _settings(solver, queue)
    if corrections:
        settings.use_sequential_value_correction = True
        settings.not_anytime_sequential_value_correction_number_of_iterations = corrections
    if time_limit_s is not None:
        settings.time_limit = time_limit_s
    output = solver.optimize(instance, settings)
    patterns = _patterns(output.solution, problem, unit)
    if not _is_whole(problem, patterns):
        return None
    true = all(bin_.cost > 0.0 for bin_ in problem.bins)
    return Solution(
        patterns=tuple(patterns),
        found_by="packingsolver",
        bound=max(0, int(output.bin_packing_bound)) if by_number else 0,
        cost_bound=_finite(output.variable_sized_bin_packing_bound) if several and true else 0.0,
    )


def with_few_cuts(problem: Problem, *, queue: int = QUEUE) -> Solution | None:
    """Return packingsolver's layout for the lowest number of cuts; it may take more sheets.

    Args:
        problem: Parts and a single unlimited bin.
        queue: Width of its tree search.
    """
    solver = import_module("packingsolver.rectangleguillotine")
    unit = common_unit(problem)
    builder = _described(solver, problem, unit, solver.Objective.BinPackingCuttingCost)
    for stage in range(1, _STAGES + 2):  # the last one is the trim
        builder.set_fixed_cutting_cost(stage, 1)
    instance = builder.build()
    output = solver.optimize(instance, _settings(solver, queue))
    patterns = _patterns(output.solution, problem, unit)
    if not _is_whole(problem, patterns):
        return None
    return Solution(patterns=tuple(patterns), found_by="packingsolver")


def fill_one(problem: Problem, *, queue: int = QUEUE) -> Slot | None:
    """Return the layout of one bin, the only one of the problem, that uses most of its area."""
    solver = import_module("packingsolver.rectangleguillotine")
    unit = common_unit(problem)
    instance = _described(solver, problem, unit, solver.Objective.Knapsack).build()
    output = solver.optimize(instance, _settings(solver, queue))
    found = _patterns(output.solution, problem, unit)
    return found[0].root if found else None


def _is_whole(problem: Problem, patterns: Sequence[Pattern]) -> bool:
    """Tell whether every part is laid; counted here, the solver's own word is not always right.

    An answer without any sheet has been seen that called itself full.
    """
    laid = Counter(part.kind for pattern in patterns for part in pattern.root.leaves())
    return all(laid[index] == kind.copies for index, kind in enumerate(problem.kinds))


def _settings(solver: Any, queue: int) -> Any:
    """Return parameters that give the same layout every time."""
    settings = solver.OptimizeParameters()
    settings.verbosity_level = 0
    settings.optimization_mode = solver.OptimizationMode.NotAnytimeSequential
    settings.use_tree_search = True
    for name in _QUEUES:
        setattr(settings, name, queue)
    return settings


def _finite(value: float) -> float:
    """Return a bound, or 0 when none was given."""
    return max(0.0, value) if math.isfinite(value) else 0.0


def has_choice(problem: Problem) -> bool:
    """Tell whether there is more to decide than how many sheets of one size."""
    return len(problem.bins) > 1 or problem.bins[0].copies is not None


def cost_for_solver(problem: Problem, bin_: Bin) -> float:
    """Return what a bin counts for; packingsolver takes no 0, so the area decides a little."""
    if all(each.cost > 0.0 for each in problem.bins):
        return bin_.cost
    return bin_.cost + _LITTLE * bin_.w * bin_.h / max(each.w * each.h for each in problem.bins)


def common_unit(problem: Problem) -> int:
    """Return the largest whole number that divides every length."""
    unit = problem.rules.kerf
    for kind in problem.kinds:
        unit = math.gcd(unit, kind.length, kind.width)
    return math.gcd(unit, *(side for b in problem.bins for side in (b.w, b.h))) or 1


def _described(solver: Any, problem: Problem, unit: int, objective: Any) -> Any:
    """Return packingsolver's own description of the problem."""
    builder = solver.InstanceBuilder()
    builder.set_objective(objective)
    builder.set_number_of_stages(_STAGES)
    builder.set_cut_type(solver.CutType.NonExact)
    orientation = solver.CutOrientation
    first = {None: orientation.Any, ALONG: orientation.Vertical, UPWARD: orientation.Horizontal}
    builder.set_first_stage_orientation(first[problem.rules.first_axis])
    builder.set_cut_thickness(problem.rules.kerf // unit)
    for bin_ in problem.bins:
        copies = problem.parts if bin_.copies is None else min(bin_.copies, problem.parts)
        builder.add_bin_type(
            bin_.w // unit, bin_.h // unit, cost=cost_for_solver(problem, bin_), copies=copies
        )
    for kind in problem.kinds:
        builder.add_item_type(
            kind.length // unit,
            kind.width // unit,
            copies=kind.copies,
            oriented=not kind.turnable,
        )
    return builder


def _patterns(solution: Any, problem: Problem, unit: int) -> list[Pattern]:
    """Return the bins of a solution as trees of slots."""
    found: list[Pattern] = []
    for index in range(solution.number_of_different_bins()):
        used = solution.bin(index)
        root = _slot(used.nodes, 0, problem, unit)
        if root is not None:
            found.extend([Pattern(used.bin_type_id, root)] * used.copies)
    return found


def _slot(nodes: Sequence[Any], at: int, problem: Problem, unit: int) -> Slot | None:
    """Return the part or row that a node stands for; None for waste."""
    node = nodes[at]
    if not node.children:
        return _part(node, problem, unit) if node.item_type_id >= 0 else None
    children = [nodes[child] for child in node.children]
    axis = ALONG if len({child.l for child in children}) > 1 else UPWARD
    kids = [_slot(nodes, child, problem, unit) for child in node.children]
    kept = [kid for kid in kids if kid is not None]
    return join(axis, kept) if kept else None


def _part(node: Any, problem: Problem, unit: int) -> Slot:
    kind = problem.kinds[node.item_type_id]
    w, h = (node.r - node.l) * unit, (node.t - node.b) * unit
    turned = (w, h) != (kind.length, kind.width)
    kerf = problem.rules.kerf
    return leaf(node.item_type_id, w + kerf, h + kerf, turned=turned)
