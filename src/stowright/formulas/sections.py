"""Sections and stresses: rectangles in bending and shear, rolling shear in a cross ply."""

from __future__ import annotations

from typing import Final

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.sources import Source

__all__ = [
    "SOURCES",
    "bending_stress_n_mm2",
    "rectangle_second_moment_mm4",
    "rectangle_section_modulus_mm3",
    "rectangle_shear_stress_n_mm2",
    "rolling_shear_stress_n_mm2",
]

_TABLES: Final = Source(text="strength of materials, any textbook", standing="derived")
SOURCES: Final = {name: _TABLES for name in __all__ if name.islower()}


def rectangle_second_moment_mm4(*, width_mm: float, depth_mm: float) -> float:
    """Return the second moment of a rectangle, bent over its depth. [mm4].

    I = b h^3 / 12.

    Source: strength of materials. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    require_positive(width_mm=width_mm, depth_mm=depth_mm)
    return width_mm * depth_mm**3 / 12.0


def rectangle_section_modulus_mm3(*, width_mm: float, depth_mm: float) -> float:
    """Return the section modulus of a rectangle, bent over its depth. [mm3].

    Z = b h^2 / 6.

    Source: strength of materials. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    require_positive(width_mm=width_mm, depth_mm=depth_mm)
    return width_mm * depth_mm**2 / 6.0


def bending_stress_n_mm2(*, moment_n_mm: float, section_modulus_mm3: float) -> float:
    """Return the outermost fibre stress. [N/mm2].

    sigma = M / Z.

    Source: strength of materials. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    require_positive(section_modulus_mm3=section_modulus_mm3)
    require_not_negative(moment_n_mm=moment_n_mm)
    return moment_n_mm / section_modulus_mm3


def rectangle_shear_stress_n_mm2(*, shear_n: float, width_mm: float, depth_mm: float) -> float:
    """Return the largest shear stress in a solid rectangle. [N/mm2].

    tau = 3 V / (2 b h); also the upper bound of rolling shear where the lay-up is not known.

    Source: strength of materials. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    require_positive(width_mm=width_mm, depth_mm=depth_mm)
    require_not_negative(shear_n=shear_n)
    return 1.5 * shear_n / (width_mm * depth_mm)


def rolling_shear_stress_n_mm2(
    *, shear_n: float, width_mm: float, shear_factor_per_mm: float
) -> float:
    """Return the rolling shear stress in a cross ply. [N/mm2].

    tau_r = V S0 / (I b), with S0 / I [1/mm] from the lay-up.

    Source: strength of materials. Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero or a load is negative.
    """
    require_positive(width_mm=width_mm)
    require_not_negative(shear_n=shear_n, shear_factor_per_mm=shear_factor_per_mm)
    return shear_n * shear_factor_per_mm / width_mm
