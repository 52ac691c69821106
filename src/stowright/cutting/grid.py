"""The whole numbers that cutting counts in: 1/160 mm.

One unit is 1/160 mm, so that 0.1 mm (16 units), 0.5 mm (80) and 1/32 in (127) are whole.
What lies between two units is rounded to the loose side: parts and kerf up, sheets down.
"""

from __future__ import annotations

import math

from stowright.errors import OutOfRangeError

__all__ = ["UNITS_PER_MM", "exactly", "millimetres", "square_metres", "up", "whole_down"]

UNITS_PER_MM = 160
_NOISE = 1e-6  # units; what a float sum of millimetres may be off by
_LARGEST_MM = 1e5


def _scaled(name: str, value: float) -> float:
    if not -_LARGEST_MM <= value <= _LARGEST_MM:
        raise OutOfRangeError(name, value, f"within {_LARGEST_MM:g} mm")
    return value * UNITS_PER_MM


def up(value: float, *, name: str = "length") -> int:
    """Return a length in units, rounded up: for parts, kerf and trim. [1/160 mm].

    Raises:
        OutOfRangeError: If it is not a number within 100 m.
    """
    return math.ceil(_scaled(name, value) - _NOISE)


def whole_down(value: float, *, name: str = "length") -> int:
    """Return a length in units, rounded down: for sheets. [1/160 mm].

    Raises:
        OutOfRangeError: If it is not a number within 100 m.
    """
    return math.floor(_scaled(name, value) + _NOISE)


def exactly(value: float, *, name: str = "length") -> int | None:
    """Return a length in units when it is a whole number of them, else None."""
    scaled = _scaled(name, value)
    nearest = round(scaled)
    return nearest if abs(scaled - nearest) <= 1e-3 else None


def millimetres(units: int) -> float:
    """Return units as millimetres, to the nearest float. [mm]."""
    return units / UNITS_PER_MM


def square_metres(area_units: int) -> float:
    """Return an area counted in units squared as square metres. [m2]."""
    return area_units / (UNITS_PER_MM**2 * 1_000_000)
