"""Wall sums: a fitted size, one named line per term, ending with the snap to the cut grid."""

from __future__ import annotations

from stowright.model.design import Sum, SumLine
from stowright.model.refit import Change
from stowright.units import snap_down, tidy

__all__ = ["as_settled", "changed", "fitted", "line", "stated"]


def line(what: str, value: float) -> SumLine:
    """Return one term of a sum."""
    return SumLine(what=what, value=tidy(value) + 0.0)


def changed(change: Change | None) -> tuple[SumLine, ...]:
    """Return the term that a reading or a cut part adds; none when it changes nothing."""
    return (line(change.why, change.by),) if change is not None and change.by else ()


def fitted(size_of: str, *lines: SumLine, grid: float) -> Sum:
    """Return a sum whose result is snapped down to the grid: smaller is the loose direction.

    Args:
        size_of: What it gives.
        lines: The terms, signed.
        grid: The cut grid. [mm]
    """
    exact = tidy(sum(term.value for term in lines))
    result = snap_down(exact, grid)
    if abs(result - exact) > 1.0e-9:
        lines = (*lines, line("down to the cut grid", result - exact))
    return Sum(size_of=size_of, lines=lines, exact=exact, result=result)


def stated(size_of: str, *lines: SumLine) -> Sum:
    """Return a sum that is not a cut size and so is not snapped (float dust removed)."""
    exact = tidy(sum(term.value for term in lines))
    return Sum(size_of=size_of, lines=lines, exact=exact, result=exact)


def as_settled(planned: Sum, size: float, why: str) -> Sum:
    """Return a sum that ends at a size which is cut already, the difference its last line."""
    if abs(size - planned.result) <= 1.0e-9:
        return planned
    return stated(planned.size_of, *planned.lines, line(why, size - planned.result))
