"""Weight of a mass at rest."""

from __future__ import annotations

from typing import Final

from stowright.errors import require_not_negative
from stowright.formulas.sources import Source

__all__ = ["GRAVITY_M_S2", "SOURCES", "weight_n"]

GRAVITY_M_S2: Final = 9.81

SOURCES: Final = {
    "weight_n": Source(
        text="W = m g with g = 9.81 m/s2 (rounded from ISO 80000-3)", standing="derived"
    ),
}


def weight_n(*, mass_kg: float) -> float:
    """Return the weight of a mass. [N].

    W = m g, g = 9.81 m/s2.

    Source: W = m g with g rounded to 9.81 m/s2. Standing: derived.

    Raises:
        OutOfRangeError: If the mass is negative or not finite.
    """
    require_not_negative(mass_kg=mass_kg)
    return mass_kg * GRAVITY_M_S2
