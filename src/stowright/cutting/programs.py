"""Small integer programs, solved by HiGHS with one thread and a fixed seed."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["Prices", "cheapest_cover"]


def cheapest_cover(
    *,
    costs: Sequence[float],
    most: Sequence[float],
    columns: Sequence[Sequence[tuple[int, float]]],
    least: Sequence[float],
    node_limit: int | None = None,
    exact: bool = False,
) -> tuple[float, tuple[int, ...]] | None:
    """Return the cheapest whole numbers of columns that reach every row's least value.

    Args:
        costs: Cost of one of each column.
        most: How many of each there may be.
        columns: Entries ``(row, value)`` of each column.
        least: What each row must reach; with ``exact`` what it must be.
        node_limit: Most nodes of the branching; the answer is then the best one seen.
        exact: True for equality.

    Returns:
        A proved lower bound on the cost and how many of each column; None without an answer.
    """
    highs = import_module("highspy")
    model = _quiet_model(highs)
    if node_limit is not None:
        model.setOptionValue("mip_max_nodes", node_limit)
    model.passModel(_program(highs, costs, most, columns, least, exact=exact))
    model.run()
    info, values = model.getInfo(), model.getSolution().col_value
    if info.primal_solution_status != int(highs.SolutionStatus.kSolutionStatusFeasible):
        return None
    return info.mip_dual_bound, tuple(round(value) for value in values)


def _quiet_model(highs: Any) -> Any:
    """Return HiGHS's model with one thread and a fixed seed.

    It is the base of the public class: the solver itself, without callbacks and without the
    banner that the public one prints to standard output as it starts.
    """
    model = highs.Highs.__base__()
    for option, value in (("output_flag", False), ("threads", 1), ("random_seed", 0)):
        model.setOptionValue(option, value)
    return model


class Prices:
    """What one more of each row is worth while columns cover all rows at the least count.

    A linear program that keeps its basis while columns are added.
    """

    def __init__(
        self, least: Sequence[float], columns: Sequence[Sequence[tuple[int, float]]]
    ) -> None:
        """Start with columns that together cover every row.

        Args:
            least: What each row must reach.
            columns: Entries ``(row, value)`` of each column; one of each counts 1.
        """
        self._highs = import_module("highspy")
        self._model = _quiet_model(self._highs)
        endless = [self._highs.kHighsInf] * len(columns)
        program = _program(self._highs, [1.0] * len(columns), endless, columns, least, exact=False)
        program.integrality_ = []
        self._model.passModel(program)

    def add(self, column: Sequence[tuple[int, float]]) -> None:
        """Add a column."""
        rows = np.array([row for row, _ in column], dtype=np.int32)
        values = np.array([value for _, value in column], dtype=float)
        self._model.addCol(1.0, 0.0, self._highs.kHighsInf, len(column), rows, values)

    def solve(self) -> list[float]:
        """Return the price of each row."""
        self._model.run()
        return [float(price) for price in self._model.getSolution().row_dual]


def _program(
    highs: Any,
    costs: Sequence[float],
    most: Sequence[float],
    columns: Sequence[Sequence[tuple[int, float]]],
    least: Sequence[float],
    *,
    exact: bool,
) -> Any:
    """Return the program in HiGHS's own form."""
    program = highs.HighsLp()
    program.num_col_, program.num_row_ = len(costs), len(least)
    program.col_cost_ = np.array(costs, dtype=float)
    program.col_lower_ = np.zeros(len(costs))
    program.col_upper_ = np.array(most, dtype=float)
    program.row_lower_ = np.array(least, dtype=float)
    program.row_upper_ = np.array(least if exact else [highs.kHighsInf] * len(least), dtype=float)
    program.integrality_ = [highs.HighsVarType.kInteger] * len(costs)
    program.a_matrix_.format_ = highs.MatrixFormat.kColwise
    starts = [0]
    for column in columns:
        starts.append(starts[-1] + len(column))
    program.a_matrix_.start_ = np.array(starts, dtype=np.int32)
    entries = [entry for column in columns for entry in column]
    program.a_matrix_.index_ = np.array([row for row, _ in entries], dtype=np.int32)
    program.a_matrix_.value_ = np.array([value for _, value in entries], dtype=float)
    return program
