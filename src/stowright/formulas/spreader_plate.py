"""Spreader (backing) plates: whether one is stiff enough to count as a large washer."""

from __future__ import annotations

from typing import Final

from stowright.errors import OutOfRangeError, require_not_negative, require_positive
from stowright.formulas.sources import Source

__all__ = [
    "SEAT_PLATE_AREA_MM2",
    "SEAT_PLATE_STEEL_MM",
    "SOURCES",
    "bending_stress_n_mm2",
    "counts_as_rigid",
    "rigid_up_to_n",
]

# Motorsport seat mounts (Appendix J, Art. 253; three copies agree): a published anchor for plate
# size.
SEAT_PLATE_AREA_MM2: Final = 4000.0
SEAT_PLATE_STEEL_MM: Final = 3.0

_STRIP: Final = Source(text="cantilever strip from washer to plate edge", standing="derived")
SOURCES: Final = {name: _STRIP for name in __all__ if name.islower()}


def bending_stress_n_mm2(
    *, tension_n: float, side_mm: float, thickness_mm: float, washer_mm: float
) -> float:
    """Return the bending stress of a square plate that spreads a bolt's pull. [N/mm2].

    p = T / b^2, c = (b - d_w) / 2, sigma = 3 p c^2 / t^2.

    Source: cantilever strip. Standing: derived.

    Raises:
        OutOfRangeError: If a size is not above zero, the washer is larger than the plate or the
        pull is
            negative.
    """
    require_not_negative(tension_n=tension_n)
    require_positive(side_mm=side_mm, thickness_mm=thickness_mm, washer_mm=washer_mm)
    if not washer_mm <= side_mm:
        raise OutOfRangeError("washer_mm", washer_mm, "no larger than the plate")
    pressure = tension_n / side_mm**2
    reach_mm = (side_mm - washer_mm) / 2.0
    return 3.0 * pressure * reach_mm**2 / thickness_mm**2


def counts_as_rigid(
    *,
    tension_n: float,
    side_mm: float,
    thickness_mm: float,
    washer_mm: float,
    yield_n_mm2: float,
) -> bool:
    """Say whether the plate's side may stand for the washer in a pull-through check.

    sigma <= f_y; otherwise it dishes and only the washer counts.

    Source: cantilever strip. Standing: derived.

    Raises:
        OutOfRangeError: If a size or the yield strength is not above zero, the washer is larger
        than the
            plate or the pull is negative.
    """
    require_positive(yield_n_mm2=yield_n_mm2)
    stress = bending_stress_n_mm2(
        tension_n=tension_n, side_mm=side_mm, thickness_mm=thickness_mm, washer_mm=washer_mm
    )
    return stress <= yield_n_mm2


def rigid_up_to_n(
    *, side_mm: float, thickness_mm: float, washer_mm: float, yield_n_mm2: float
) -> float:
    """Return the pull up to which a square plate stands for a washer of its own size. [N].

    sigma = f_y at T = f_y b^2 t^2 / (3 c^2), c = (b - d_w) / 2; infinite where nothing overhangs.

    Source: cantilever strip. Standing: derived.

    Raises:
        OutOfRangeError: If a size or the yield strength is not above zero or the washer is larger
        than the
            plate.
    """
    require_positive(yield_n_mm2=yield_n_mm2)
    stress_at_one = bending_stress_n_mm2(
        tension_n=1.0, side_mm=side_mm, thickness_mm=thickness_mm, washer_mm=washer_mm
    )
    return yield_n_mm2 / stress_at_one if stress_at_one > 0.0 else float("inf")
