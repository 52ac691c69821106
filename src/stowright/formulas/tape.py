"""Tape measures: error limits by class, and what they make of a reading."""

from __future__ import annotations

import math
from typing import Final, Literal

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.ranges import require_finite
from stowright.formulas.sources import Source

__all__ = [
    "SOURCES",
    "TapeClass",
    "expanded_uncertainty_mm",
    "max_permissible_error_mm",
    "reading_standard_uncertainty_mm",
    "temperature_change_mm",
]

type TapeClass = Literal["I", "II", "III"]

# a, b per metre, c for a hook or ring end [mm]
_LIMITS: Final[dict[TapeClass, tuple[float, float, float]]] = {
    "I": (0.1, 0.1, 0.1),
    "II": (0.3, 0.2, 0.2),
    "III": (0.6, 0.4, 0.3),
}

_GUM: Final = Source(
    text="Guide to the Expression of Uncertainty in Measurement, rectangular shares",
    standing="derived",
)
SOURCES: Final = {
    "max_permissible_error_mm": Source(
        text="Directive 2014/32/EU, Annex X (MI-008), table in a trade note and UK SI 2006/1267",
        standing="public restatement",
    ),
    "reading_standard_uncertainty_mm": _GUM,
    "expanded_uncertainty_mm": _GUM,
    "temperature_change_mm": Source(
        text="expansion of steel 11.5e-6 per kelvin", standing="from memory"
    ),
}


def max_permissible_error_mm(
    *, tape_class: TapeClass, length_mm: float, from_hook: bool = False
) -> float:
    """Return how far a tape's own graduation may be out at a length, either way. [mm].

    a + b L, with L in metres rounded UP to the next whole metre; c is added when the tape's end
    (its hook) is one of the limits.

    Range: 20 C, 50 N pull on steel, 20 N on fibre.
    Source: Directive 2014/32/EU, Annex X. Standing: public restatement.

    Raises:
        OutOfRangeError: If the length is not above zero.
    """
    require_positive(length_mm=length_mm)
    fixed_mm, per_metre_mm, end_mm = _LIMITS[tape_class]
    # a length that is a whole number of metres but for rounding in its last digits stays there
    metres = math.ceil(round(length_mm, 6) / 1000.0)
    return fixed_mm + per_metre_mm * metres + (end_mm if from_hook else 0.0)


def reading_standard_uncertainty_mm(
    *, max_error_mm: float, graduation_mm: float = 1.0, hook_play_mm: float = 0.5
) -> float:
    """Return the standard uncertainty of one reading. [mm].

    u = sqrt((E/sqrt 3)^2 + (g/sqrt 12)^2 + (h/sqrt 3)^2): error limit and hook play rectangular
    either way, graduation rectangular over one division.

    Source: GUM. Standing: derived.

    Raises:
        OutOfRangeError: If a number is negative.
    """
    require_not_negative(
        max_error_mm=max_error_mm, graduation_mm=graduation_mm, hook_play_mm=hook_play_mm
    )
    return math.sqrt(max_error_mm**2 / 3.0 + graduation_mm**2 / 12.0 + hook_play_mm**2 / 3.0)


def expanded_uncertainty_mm(*, standard_mm: float, coverage: float = 2.0) -> float:
    """Return the half-width that holds the true value in about 95 of 100 cases. [mm].

    U = k u, k = 2.

    Source: GUM. Standing: derived.

    Raises:
        OutOfRangeError: If a number is negative.
    """
    require_not_negative(standard_mm=standard_mm, coverage=coverage)
    return coverage * standard_mm


def temperature_change_mm(*, length_mm: float, kelvin: float) -> float:
    """Return how much a steel tape grows over a length. [mm].

    11.5e-6 L dT; 0.23 mm on 2 m for 10 K.

    Source: expansion of steel. Standing: from memory.

    Raises:
        OutOfRangeError: If the length is negative or the temperature not finite.
    """
    require_not_negative(length_mm=length_mm)
    require_finite(kelvin=kelvin)
    return 11.5e-6 * length_mm * kelvin
