"""AISI S100: a head or washer pulled over thin sheet, a second opinion beside EN 1993-1-3."""

from __future__ import annotations

from typing import Final

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.ranges import require_at_least
from stowright.formulas.sources import Source

__all__ = [
    "SAFETY_FACTOR",
    "SOURCES",
    "WASHER_CAP_MM",
    "combined_utilisation",
    "pull_over_allowable_n",
    "pull_over_nominal_n",
]

# Allowable stress design, from an evaluation report.
SAFETY_FACTOR: Final = 3.0
# Largest washer that counts, 3/4 in, recent editions, from memory.
WASHER_CAP_MM: Final = 19.1

_AISI: Final = Source(
    text="AISI S100, pull-over equations as in an evaluation report; washer cap from memory",
    standing="public restatement",
)
SOURCES: Final = {name: _AISI for name in __all__ if name.islower()}


def pull_over_nominal_n(
    *, washer_mm: float, thickness_mm: float, sheet_strength_n_mm2: float
) -> float:
    """Return the nominal pull-over resistance. [N].

    P_nov = 1.5 t1 d_w F_u1, d_w the larger of head and washer, no more than 19.1 mm.

    Range: head at least 7.94 mm, washer at least 1.27 mm thick.
    Source: AISI S100. Standing: public restatement.

    Raises:
        OutOfRangeError: If the head is smaller or a number is not above zero.
    """
    require_at_least(low=7.94, washer_mm=washer_mm)
    require_positive(thickness_mm=thickness_mm, sheet_strength_n_mm2=sheet_strength_n_mm2)
    counted_mm = min(washer_mm, WASHER_CAP_MM)
    return 1.5 * thickness_mm * counted_mm * sheet_strength_n_mm2


def pull_over_allowable_n(
    *, washer_mm: float, thickness_mm: float, sheet_strength_n_mm2: float
) -> float:
    """Return the allowable pull-over resistance. [N].

    P_nov / 3.0.

    Source: AISI S100. Standing: public restatement.

    Raises:
        OutOfRangeError: If the head is smaller than 7.94 mm or a number is not above zero.
    """
    nominal_n = pull_over_nominal_n(
        washer_mm=washer_mm, thickness_mm=thickness_mm, sheet_strength_n_mm2=sheet_strength_n_mm2
    )
    return nominal_n / SAFETY_FACTOR


def combined_utilisation(
    *,
    shear_n: float,
    tension_n: float,
    diameter_mm: float,
    washer_mm: float,
    thickness_mm: float,
    sheet_strength_n_mm2: float,
) -> float:
    """Return the allowable-stress utilisation under shear and pull-over; 1 is the limit. [-].

    [Q/(2.7 t1 d F_u1) + 0.71 T/(1.5 t1 d_w F_u1)] / (1.1 / 2.35).

    Source: AISI S100. Standing: public restatement.

    Raises:
        OutOfRangeError: If the head is smaller than 7.94 mm, a size is not above zero or a demand
        is negative.
    """
    require_not_negative(shear_n=shear_n, tension_n=tension_n)
    require_positive(diameter_mm=diameter_mm)
    over_n = pull_over_nominal_n(
        washer_mm=washer_mm, thickness_mm=thickness_mm, sheet_strength_n_mm2=sheet_strength_n_mm2
    )
    bearing_n = 2.7 * thickness_mm * diameter_mm * sheet_strength_n_mm2
    return (shear_n / bearing_n + 0.71 * tension_n / over_n) * 2.35 / 1.1
