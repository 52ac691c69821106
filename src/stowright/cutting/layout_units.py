"""A layout's lengths as whole units, for the checkers; what they say when they refuse one."""

from __future__ import annotations

from stowright.cutting import grid
from stowright.errors import CuttingError
from stowright.model.layout import Layout

__all__ = ["refused", "whole_units"]


def refused(layout: Layout, reason: str) -> CuttingError:
    """Return the error that refuses a layout."""
    return CuttingError(f"layout {layout.number} on {layout.sheet}: {reason}")


def whole_units(layout: Layout, value: float) -> int:
    """Return a length as a whole number of 1/160 mm.

    Raises:
        CuttingError: If it is not one.
    """
    units = grid.exactly(value)
    if units is None:
        raise refused(layout, f"{value!r} mm is not a whole number of 1/160 mm")
    return units
