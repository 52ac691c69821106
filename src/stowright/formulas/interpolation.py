"""Straight-line reading of a printed table."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from stowright.formulas.ranges import require_between

__all__ = ["table_value"]


def table_value(*, at: float, places: Sequence[float], values: Sequence[float]) -> float:
    """Return a table's value at a place, on the straight line between its neighbours.

    ``places`` rise; a place outside them is refused.

    Raises:
        OutOfRangeError: If the place is outside the table.
    """
    require_between(low=places[0], high=places[-1], at=at)
    right = min(bisect_right(places, at), len(places) - 1)
    left = right - 1
    share = (at - places[left]) / (places[right] - places[left])
    return values[left] + share * (values[right] - values[left])
