"""A carcass pushed sideways: with a back that braces it, or by its corners alone."""

from __future__ import annotations

from typing import Final

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.sources import Source

__all__ = [
    "SOURCES",
    "back_drift_mm",
    "back_fastener_force_n",
    "back_shear_stress_n_mm2",
    "corner_moment_n_mm",
    "screw_pair_moment_n_mm",
]

_STATICS: Final = Source(text="statics of a shear panel and of a portal frame", standing="derived")
SOURCES: Final = {name: _STATICS for name in __all__ if name.islower()}


def back_shear_stress_n_mm2(*, push_n: float, width_mm: float, thickness_mm: float) -> float:
    """Return the shear stress in a back that braces a carcass. [N/mm2].

    v = H / (b t): H pushed along the top, b the back's width.

    Source: statics. Standing: derived.

    Raises:
        OutOfRangeError: If a size is not above zero or the push is negative.
    """
    require_positive(width_mm=width_mm, thickness_mm=thickness_mm)
    require_not_negative(push_n=push_n)
    return push_n / (width_mm * thickness_mm)


def back_fastener_force_n(*, push_n: float, width_mm: float, spacing_mm: float) -> float:
    """Return the force on one fastener along a back's rim. [N].

    F = (H / b) s: the shear flow is the same along all four sides, s the spacing.

    Source: statics. Standing: derived.

    Raises:
        OutOfRangeError: If a size is not above zero or the push is negative.
    """
    require_positive(width_mm=width_mm, spacing_mm=spacing_mm)
    require_not_negative(push_n=push_n)
    return push_n * spacing_mm / width_mm


def back_drift_mm(
    *,
    push_n: float,
    width_mm: float,
    height_mm: float,
    thickness_mm: float,
    shear_modulus_n_mm2: float,
) -> float:
    """Return how far the top moves by shear of the back alone; fasteners slip on top of it. [mm].

    u = H h / (G b t).

    Source: statics. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or the push is negative.
    """
    require_positive(
        width_mm=width_mm,
        height_mm=height_mm,
        thickness_mm=thickness_mm,
        shear_modulus_n_mm2=shear_modulus_n_mm2,
    )
    require_not_negative(push_n=push_n)
    return push_n * height_mm / (shear_modulus_n_mm2 * width_mm * thickness_mm)


def corner_moment_n_mm(*, push_n: float, height_mm: float, corners: int = 4) -> float:
    """Return the moment on each corner of a carcass without a back. [N mm].

    M = H h / n: the corners share the storey moment.

    Source: statics. Standing: derived.

    Raises:
        OutOfRangeError: If the height is not above zero, there is no corner or the push is
        negative.
    """
    require_positive(height_mm=height_mm, corners=corners)
    require_not_negative(push_n=push_n)
    return push_n * height_mm / corners


def screw_pair_moment_n_mm(*, resistance_n: float, lever_mm: float) -> float:
    """Return the moment that a pull on one screw and bearing at a lever resist. [N mm].

    M = F z.

    Source: statics. Standing: derived.

    Raises:
        OutOfRangeError: If the lever is not above zero or the resistance is negative.
    """
    require_positive(lever_mm=lever_mm)
    require_not_negative(resistance_n=resistance_n)
    return resistance_n * lever_mm
