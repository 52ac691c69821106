"""A strut that bends out of the way: Euler's load."""

from __future__ import annotations

import math
from typing import Final

from stowright.errors import require_positive
from stowright.formulas.sources import Source

__all__ = ["SOURCES", "euler_load_n"]

SOURCES: Final = {
    "euler_load_n": Source(text="Euler's strut on two pins, textbooks", standing="derived")
}


def euler_load_n(*, modulus_n_mm2: float, second_moment_mm4: float, length_mm: float) -> float:
    """Return the load at which a strut on two pins buckles. [N].

    N = pi^2 E I / L^2.

    Source: Euler. Standing: derived.

    Raises:
        OutOfRangeError: If a number is not above zero.
    """
    require_positive(
        modulus_n_mm2=modulus_n_mm2, second_moment_mm4=second_moment_mm4, length_mm=length_mm
    )
    return math.pi**2 * modulus_n_mm2 * second_moment_mm4 / length_mm**2
