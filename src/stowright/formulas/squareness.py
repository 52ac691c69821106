"""Diagonals: how far a frame leans, how far a bay is skewed."""

from __future__ import annotations

import math
from typing import Final, NamedTuple

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.ranges import require_finite
from stowright.formulas.sources import Source

__all__ = [
    "DIAGONALS_PER_METRE_MM",
    "SOURCES",
    "SkewRange",
    "bay_skew_mm",
    "bay_skew_range_mm",
    "diagonal_difference_mm",
    "lean_from_diagonals",
    "runout_from_diagonals_mm",
]

# What carcass makers accept between diagonals for each metre; common practice.
DIAGONALS_PER_METRE_MM: Final = 1.0

_GEOMETRY: Final = Source(text="plane geometry of a parallelogram", standing="derived")
SOURCES: Final = {name: _GEOMETRY for name in __all__ if name.islower()}


class SkewRange(NamedTuple):
    """Skew with the range that the reading error leaves. [mm]."""

    least_mm: float
    aim_mm: float
    greatest_mm: float


def diagonal_difference_mm(*, width_mm: float, height_mm: float, lean: float) -> float:
    """Return the difference between the diagonals of a frame that leans a little. [mm].

    D = 2 W H s / sqrt(W^2 + H^2), s the lean [mm/mm].

    Range: first order in s; exact to 1e-5 of itself for leans up to 3 mm/m.
    Source: plane geometry. Standing: derived.

    Raises:
        OutOfRangeError: If a side is not above zero or the lean is not finite.
    """
    require_positive(width_mm=width_mm, height_mm=height_mm)
    require_finite(lean=lean)
    return 2.0 * width_mm * height_mm * lean / math.hypot(width_mm, height_mm)


def lean_from_diagonals(*, width_mm: float, height_mm: float, difference_mm: float) -> float:
    """Return the lean of a frame from the difference between its diagonals. [mm/mm].

    s = D sqrt(W^2 + H^2) / (2 W H). Equal diagonals prove a rectangle only where opposite sides are
    equal.

    Source: plane geometry. Standing: derived.

    Raises:
        OutOfRangeError: If a side is not above zero or the difference is not finite.
    """
    require_positive(width_mm=width_mm, height_mm=height_mm)
    require_finite(difference_mm=difference_mm)
    return difference_mm * math.hypot(width_mm, height_mm) / (2.0 * width_mm * height_mm)


def runout_from_diagonals_mm(*, width_mm: float, depth_mm: float, difference_mm: float) -> float:
    """Return how far the back of an opening stands sideways of its face. [mm].

    D sqrt(W^2 + L^2) / (2 W); in a 500 x 1200 bay 1.3 mm for each millimetre of difference.

    Source: plane geometry. Standing: derived.

    Raises:
        OutOfRangeError: If a side is not above zero or the difference is not finite.
    """
    lean = lean_from_diagonals(width_mm=width_mm, height_mm=depth_mm, difference_mm=difference_mm)
    return lean * depth_mm


def bay_skew_mm(*, mean_width_mm: float, diagonal_1_mm: float, diagonal_2_mm: float) -> float:
    """Return how far the side walls of a bay lean sideways over its length. [mm].

    s = (d1^2 - d2^2) / (4 W), exact for a parallelogram whose ends are square to its length. A
    headboard out of square gives the same difference; lengths at both sides tell them apart.

    Source: plane geometry. Standing: derived.

    Raises:
        OutOfRangeError: If a length is not above zero.
    """
    require_positive(
        mean_width_mm=mean_width_mm, diagonal_1_mm=diagonal_1_mm, diagonal_2_mm=diagonal_2_mm
    )
    longer = (diagonal_1_mm - diagonal_2_mm) * (diagonal_1_mm + diagonal_2_mm)
    return longer / (4.0 * mean_width_mm)


def bay_skew_range_mm(
    *,
    mean_width_mm: float,
    diagonal_1_mm: float,
    diagonal_2_mm: float,
    reading_error_mm: float,
) -> SkewRange:
    """Return the skew and its range when each diagonal may be out by the reading error. [mm].

    s +- 2 e (d1 + d2) / (4 W): one diagonal read long and the other short.

    Source: plane geometry. Standing: derived.

    Raises:
        OutOfRangeError: If a length is not above zero or the error is negative.
    """
    require_not_negative(reading_error_mm=reading_error_mm)
    aim_mm = bay_skew_mm(
        mean_width_mm=mean_width_mm, diagonal_1_mm=diagonal_1_mm, diagonal_2_mm=diagonal_2_mm
    )
    either_mm = reading_error_mm * (diagonal_1_mm + diagonal_2_mm) / (2.0 * mean_width_mm)
    return SkewRange(least_mm=aim_mm - either_mm, aim_mm=aim_mm, greatest_mm=aim_mm + either_mm)
