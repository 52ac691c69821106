"""Isotropic plates by table: Roark's Formulas for Stress and Strain, 7th ed., Table 11.4.

For checks and quick use (nu = 0.3). b is the SHORT side. Flat plates up to about a quarter of the
short side thick, deflections up to about half the thickness. Between printed ratios the tables are
read on a straight line in b/a, so that an endless plate (b/a = 0) belongs to the table.
"""

from __future__ import annotations

import math
from typing import Final

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.interpolation import table_value
from stowright.formulas.sources import Source

__all__ = [
    "SOURCES",
    "case_1a_reaction_n_mm",
    "case_1a_sag_mm",
    "case_1a_stress_n_mm2",
    "case_1b_sag_mm",
    "case_1b_stress_n_mm2",
    "case_8_edge_stress_n_mm2",
    "case_8_sag_mm",
]

_BOOK: Final = "Roark's Formulas for Stress and Strain, 7th ed., Table 11.4"
_SEEN: Final = Source(text=f"{_BOOK}, case 1a and 1b", standing="published")
_CASE_8: Final = Source(text=f"{_BOOK}, case 8, recomputed", standing="derived")
SOURCES: Final = {
    "case_1a_stress_n_mm2": _SEEN,
    "case_1a_sag_mm": _SEEN,
    "case_1a_reaction_n_mm": _SEEN,
    "case_1b_stress_n_mm2": _SEEN,
    "case_1b_sag_mm": _SEEN,
    "case_8_sag_mm": _CASE_8,
    "case_8_edge_stress_n_mm2": _CASE_8,
}

_POISSON: Final = 0.3
# b/a of the printed a/b = inf, 3, 2, 1.8, 1.6, 1.4, 1.2, 1
_ASPECTS: Final = (0.0, 1 / 3, 1 / 2, 1 / 1.8, 1 / 1.6, 1 / 1.4, 1 / 1.2, 1.0)
_BETA_1A: Final = (0.7500, 0.7134, 0.6102, 0.5688, 0.5172, 0.4530, 0.3762, 0.2874)
_ALPHA_1A: Final = (0.1421, 0.1335, 0.1110, 0.1017, 0.0906, 0.0770, 0.0616, 0.0444)
_GAMMA_1A: Final = (0.500, 0.505, 0.503, 0.499, 0.491, 0.478, 0.455, 0.420)
# b/a of a/b = inf, 2, 1.8, 1.6, 1.4, 1.2, 1
_SHORT_ASPECTS: Final = (0.0, 1 / 2, 1 / 1.8, 1 / 1.6, 1 / 1.4, 1 / 1.2, 1.0)
_BETA_1B: Final = (1.000, 0.958, 0.927, 0.875, 0.789, 0.650, 0.435)
_ALPHA_1B: Final = (0.1851, 0.1805, 0.1770, 0.1715, 0.1621, 0.1478, 0.1267)
_ALPHA_8: Final = (0.0284, 0.0277, 0.0267, 0.0251, 0.0226, 0.0188, 0.0138)
_BETA_8: Final = (0.500, 0.497, 0.487, 0.468, 0.436, 0.383, 0.308)


def _read(values: tuple[float, ...], short_mm: float, long_mm: float) -> float:
    """Return a coefficient at b/a from the table that has that many rows."""
    require_positive(short_mm=short_mm, long_mm=long_mm)
    places = _ASPECTS if len(values) == len(_ASPECTS) else _SHORT_ASPECTS
    return table_value(at=short_mm / long_mm, places=places, values=values)


def case_1a_stress_n_mm2(
    *, pressure_n_mm2: float, short_mm: float, long_mm: float, thickness_mm: float
) -> float:
    """Return the greatest stress of a supported plate under an even load. [N/mm2].

    sigma = beta q b^2 / t^2, at the centre.

    Source: Roark, Table 11.4, case 1a. Standing: published.

    Raises:
        OutOfRangeError: If a size is not above zero, the short side is the longer or the load is
            negative.
    """
    require_not_negative(pressure_n_mm2=pressure_n_mm2)
    require_positive(thickness_mm=thickness_mm)
    return _read(_BETA_1A, short_mm, long_mm) * pressure_n_mm2 * (short_mm / thickness_mm) ** 2


def case_1a_sag_mm(
    *,
    pressure_n_mm2: float,
    short_mm: float,
    long_mm: float,
    thickness_mm: float,
    modulus_n_mm2: float,
) -> float:
    """Return the greatest deflection of a supported plate under an even load. [mm].

    y = alpha q b^4 / (E t^3), at the centre.

    Source: Roark, Table 11.4, case 1a. Standing: published.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero, the short side is the longer or the
            load is negative.
    """
    require_not_negative(pressure_n_mm2=pressure_n_mm2)
    require_positive(thickness_mm=thickness_mm, modulus_n_mm2=modulus_n_mm2)
    alpha = _read(_ALPHA_1A, short_mm, long_mm)
    return alpha * pressure_n_mm2 * short_mm**4 / (modulus_n_mm2 * thickness_mm**3)


def case_1a_reaction_n_mm(*, pressure_n_mm2: float, short_mm: float, long_mm: float) -> float:
    """Return the greatest edge reaction, at the middle of the long side. [N/mm].

    R = gamma q b.

    Source: Roark, Table 11.4, case 1a. Standing: published.

    Raises:
        OutOfRangeError: If a size is not above zero, the short side is the longer or the load is
            negative.
    """
    require_not_negative(pressure_n_mm2=pressure_n_mm2)
    return _read(_GAMMA_1A, short_mm, long_mm) * pressure_n_mm2 * short_mm


def case_1b_stress_n_mm2(
    *, load_n: float, radius_mm: float, short_mm: float, long_mm: float, thickness_mm: float
) -> float:
    """Return the stress under a load on a small central circle of a supported plate. [N/mm2].

    sigma = 3 W / (2 pi t^2) [(1 + nu) ln(2 b / (pi r0')) + beta], r0' = sqrt(1.6 r0^2 + t^2) -
    0.675 t below r0 = 0.5 t, else r0.

    Source: Roark, Table 11.4, case 1b. Standing: published.

    Raises:
        OutOfRangeError: If a size is not above zero, the short side is the longer or the load is
            negative.
    """
    require_not_negative(load_n=load_n)
    require_positive(radius_mm=radius_mm, thickness_mm=thickness_mm)
    beta = _read(_BETA_1B, short_mm, long_mm)
    radius = radius_mm
    if radius_mm < 0.5 * thickness_mm:
        radius = math.sqrt(1.6 * radius_mm**2 + thickness_mm**2) - 0.675 * thickness_mm
    spread = (1.0 + _POISSON) * math.log(2.0 * short_mm / (math.pi * radius)) + beta
    return 1.5 * load_n / (math.pi * thickness_mm**2) * spread


def case_1b_sag_mm(
    *,
    load_n: float,
    short_mm: float,
    long_mm: float,
    thickness_mm: float,
    modulus_n_mm2: float,
) -> float:
    """Return the deflection under a load on a small central circle of a supported plate. [mm].

    y = alpha W b^2 / (E t^3).

    Source: Roark, Table 11.4, case 1b. Standing: published.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero, the short side is the longer or the
            load is negative.
    """
    require_not_negative(load_n=load_n)
    require_positive(thickness_mm=thickness_mm, modulus_n_mm2=modulus_n_mm2)
    alpha = _read(_ALPHA_1B, short_mm, long_mm)
    return alpha * load_n * short_mm**2 / (modulus_n_mm2 * thickness_mm**3)


def case_8_sag_mm(
    *,
    pressure_n_mm2: float,
    short_mm: float,
    long_mm: float,
    thickness_mm: float,
    modulus_n_mm2: float,
) -> float:
    """Return the centre deflection of a plate fixed all round under an even load. [mm].

    y = alpha q b^4 / (E t^3).

    Source: Roark, Table 11.4, case 8 (recomputed). Standing: derived.

    Raises:
        OutOfRangeError: If a size or modulus is not above zero, the short side is the longer or the
            load is negative.
    """
    require_not_negative(pressure_n_mm2=pressure_n_mm2)
    require_positive(thickness_mm=thickness_mm, modulus_n_mm2=modulus_n_mm2)
    alpha = _read(_ALPHA_8, short_mm, long_mm)
    return alpha * pressure_n_mm2 * short_mm**4 / (modulus_n_mm2 * thickness_mm**3)


def case_8_edge_stress_n_mm2(
    *, pressure_n_mm2: float, short_mm: float, long_mm: float, thickness_mm: float
) -> float:
    """Return the stress at the middle of the long fixed edge, as a positive number. [N/mm2].

    sigma = beta1 q b^2 / t^2.

    Source: Roark, Table 11.4, case 8 (recomputed). Standing: derived.

    Raises:
        OutOfRangeError: If a size is not above zero, the short side is the longer or the load is
            negative.
    """
    require_not_negative(pressure_n_mm2=pressure_n_mm2)
    require_positive(thickness_mm=thickness_mm)
    return _read(_BETA_8, short_mm, long_mm) * pressure_n_mm2 * (short_mm / thickness_mm) ** 2
