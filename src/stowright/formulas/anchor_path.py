"""From a hold-down bolt into the wood: bolt across a gap, floor beside an upright, metal angle.

Lengths [mm], forces [N], moments [N mm], strengths [N/mm2].
"""

from __future__ import annotations

import math
from typing import Final

from stowright.errors import OutOfRangeError, require_not_negative, require_positive
from stowright.formulas.sources import Source

__all__ = [
    "SOURCES",
    "angle_pull_n",
    "bolt_across_gap_n",
    "panel_pull_n",
    "strip_width_mm",
]

_STATICS: Final = Source(text="statics of a strip and of a leg in bending", standing="derived")
SOURCES: Final = {
    "bolt_across_gap_n": Source(
        text=(
            "the yield model of EN 1995-1-1 with a gap before the steel; without one it gives 0.414"
            " f_h t d and sqrt(2 M f_h d), beside 0.4 and 1.15 sqrt(2 M f_h d) in (8.9)"
        ),
        standing="derived",
    ),
    "strip_width_mm": Source(text="load spread at 45 degrees, a strip rule", standing="judgement"),
    "panel_pull_n": _STATICS,
    "angle_pull_n": _STATICS,
}


def bolt_across_gap_n(
    *,
    embedment_n_mm2: float,
    thickness_mm: float,
    diameter_mm: float,
    yield_moment_n_mm: float,
    gap_mm: float,
) -> float:
    """Return the characteristic sideways resistance of a bolt in wood that stands off its steel.

    The lesser of a bolt that tilts, ``f d t [sqrt((1 + 2 g/t)^2 + 1) - (1 + 2 g/t)]``, and one that
    bends, ``f d [sqrt(g^2 + 2 M/(f d)) - g]``, g the gap between wood and steel.

    Range: a steel plate that gives no fixity; cautious where the nut clamps a plate.
    Source: EN 1995-1-1 yield model with a gap. Standing: derived.

    Raises:
        OutOfRangeError: If a size or strength is not above zero or the gap is negative.
    """
    require_positive(
        embedment_n_mm2=embedment_n_mm2,
        thickness_mm=thickness_mm,
        diameter_mm=diameter_mm,
        yield_moment_n_mm=yield_moment_n_mm,
    )
    require_not_negative(gap_mm=gap_mm)
    per_mm = embedment_n_mm2 * diameter_mm
    arm = 1.0 + 2.0 * gap_mm / thickness_mm
    tilts = per_mm * thickness_mm * (math.hypot(arm, 1.0) - arm)
    bends = per_mm * (math.sqrt(gap_mm**2 + 2.0 * yield_moment_n_mm / per_mm) - gap_mm)
    return min(tilts, bends)


def strip_width_mm(
    *, washer_mm: float, arm_mm: float, to_end_mm: float, to_other_end_mm: float
) -> float:
    """Return the width of floor that carries a washer's pull to an upright. [mm].

    45 degrees from the washer each way: d_w/2 + a on either side, cut off where the panel ends.

    Source: strip rule. Standing: judgement.

    Raises:
        OutOfRangeError: If a distance is negative or the washer is not above zero.
    """
    require_positive(washer_mm=washer_mm)
    require_not_negative(arm_mm=arm_mm, to_end_mm=to_end_mm, to_other_end_mm=to_other_end_mm)
    half = washer_mm / 2.0 + arm_mm
    return min(half, to_end_mm) + min(half, to_other_end_mm)


def panel_pull_n(
    *,
    strength_n_mm2: float,
    width_mm: float,
    thickness_mm: float,
    arm_mm: float,
    span_mm: float,
) -> float:
    """Return the pull of a bolt at which a floor between two uprights reaches its strength. [N].

    M = T a (L - a)/L and sigma = 6 M/(b t^2), so T = f b t^2 L / [6 a (L - a)].

    Source: strip in bending, simply supported at both uprights. Standing: derived.

    Raises:
        OutOfRangeError: If a number is not above zero or the bolt is not between the uprights.
    """
    require_positive(
        strength_n_mm2=strength_n_mm2,
        width_mm=width_mm,
        thickness_mm=thickness_mm,
        arm_mm=arm_mm,
    )
    if not arm_mm < span_mm:
        raise OutOfRangeError("arm_mm", arm_mm, "less than the span")
    modulus_mm3 = width_mm * thickness_mm**2 / 6.0
    return strength_n_mm2 * modulus_mm3 * span_mm / (arm_mm * (span_mm - arm_mm))


def angle_pull_n(
    *,
    leg_thickness_mm: float,
    leg_width_mm: float,
    arm_mm: float,
    yield_n_mm2: float,
    screws: int,
    screw_n: float,
) -> float:
    """Return the pull that a metal angle takes from a bolt in one leg to screws in the other. [N].

    The lesser of its lying leg in full bending, f_y b t^2/4 / a, and its screws together.

    Source: leg in bending, screws side by side. Standing: derived.

    Raises:
        OutOfRangeError: If a number is not above zero.
    """
    require_positive(
        leg_thickness_mm=leg_thickness_mm,
        leg_width_mm=leg_width_mm,
        arm_mm=arm_mm,
        yield_n_mm2=yield_n_mm2,
        screws=screws,
        screw_n=screw_n,
    )
    bends = yield_n_mm2 * leg_width_mm * leg_thickness_mm**2 / 4.0 / arm_mm
    return min(bends, screws * screw_n)
