"""Isotropic plates by table: Timoshenko & Woinowsky-Krieger, Tables 8, 23, 35 (nu = 0.3).

For checks and quick use; ``plates_navier`` computes. a is the SHORT side and the "short way" moment
bends across it. Between printed ratios the tables are read on a straight line in a/b, so that an
endless plate (a/b = 0) belongs to the table. D = E t^3 / [12 (1 - nu^2)].
"""

from __future__ import annotations

from typing import Final

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.interpolation import table_value
from stowright.formulas.sources import Source

__all__ = [
    "SOURCES",
    "clamped_point_sag_mm",
    "clamped_uniform_centre_moment_n",
    "clamped_uniform_edge_moment_n",
    "clamped_uniform_sag_mm",
    "rigidity_n_mm",
    "supported_point_sag_mm",
    "supported_uniform_moments_n",
    "supported_uniform_sag_mm",
]

_BOOK: Final = "Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed."
_TABLES: Final = Source(
    text=f"{_BOOK}, Tables 8, 23, 35; values recomputed, the print from memory", standing="derived"
)
SOURCES: Final = {name: _TABLES for name in __all__ if name.islower()}

# a/b of the printed b/a = inf, 3, 2, 1.8, 1.6, 1.5, 1.4, 1.2, 1
_ASPECTS: Final = (0.0, 1 / 3, 1 / 2, 1 / 1.8, 1 / 1.6, 1 / 1.5, 1 / 1.4, 1 / 1.2, 1.0)
_ALPHA: Final = (
    *(0.01302, 0.01223, 0.01013, 0.00932, 0.00831),
    *(0.00772, 0.00708, 0.00565, 0.00406),
)
_BETA: Final = (0.1250, 0.1189, 0.1017, 0.0948, 0.0862, 0.0812, 0.0755, 0.0627, 0.0479)
_BETA_1: Final = (0.0375, 0.0406, 0.0464, 0.0479, 0.0493, 0.0498, 0.0502, 0.0501, 0.0479)
# a/b of b/a = 3, 2, 1.8, 1.6, 1.4, 1.2, 1
_POINT_ASPECTS: Final = (1 / 3, 1 / 2, 1 / 1.8, 1 / 1.6, 1 / 1.4, 1 / 1.2, 1.0)
_POINT: Final = (0.01693, 0.01652, 0.01621, 0.01570, 0.01487, 0.01356, 0.01160)
# a/b of b/a = inf, 2, 1.8, 1.6, 1.4, 1.2, 1
_CLAMPED_ASPECTS: Final = (0.0, 1 / 2, 1 / 1.8, 1 / 1.6, 1 / 1.4, 1 / 1.2, 1.0)
_CLAMPED: Final = (0.00260, 0.00253, 0.00245, 0.00230, 0.00207, 0.00172, 0.00127)
_CLAMPED_EDGE: Final = (0.0833, 0.0829, 0.0812, 0.0780, 0.0726, 0.0639, 0.0513)
_CLAMPED_CENTRE: Final = (0.0417, 0.0412, 0.0401, 0.0382, 0.0350, 0.0300, 0.0229)
_CLAMPED_POINT: Final = (0.0072, 0.0072, 0.0071, 0.0069, 0.0065, 0.0056)


def rigidity_n_mm(*, modulus_n_mm2: float, thickness_mm: float, poisson: float = 0.3) -> float:
    """Return the rigidity of an isotropic plate. [N mm].

    D = E t^3 / [12 (1 - nu^2)].

    Source: Timoshenko & Woinowsky-Krieger. Standing: derived.

    Raises:
        OutOfRangeError: If the modulus or thickness is not above zero, or nu^2 reaches 1.
    """
    require_positive(modulus_n_mm2=modulus_n_mm2, thickness_mm=thickness_mm)
    coupling = 1.0 - poisson**2
    require_positive(one_less_poisson_squared=coupling)
    return modulus_n_mm2 * thickness_mm**3 / (12.0 * coupling)


def _aspect(short_mm: float, long_mm: float) -> float:
    """Return a/b; a short side that is the longer one lies outside every table."""
    require_positive(short_mm=short_mm, long_mm=long_mm)
    return short_mm / long_mm


def supported_uniform_sag_mm(
    *, pressure_n_mm2: float, short_mm: float, long_mm: float, rigidity_n_mm: float
) -> float:
    """Return the centre deflection of a supported plate under an even load. [mm].

    w = alpha q a^4 / D (Table 8).

    Source: Timoshenko & Woinowsky-Krieger, Table 8. Standing: derived.

    Raises:
        OutOfRangeError: If a size or rigidity is not above zero, the short side is the longer or
        the
            load is negative.
    """
    require_not_negative(pressure_n_mm2=pressure_n_mm2)
    require_positive(rigidity_n_mm=rigidity_n_mm)
    alpha = table_value(at=_aspect(short_mm, long_mm), places=_ASPECTS, values=_ALPHA)
    return alpha * pressure_n_mm2 * short_mm**4 / rigidity_n_mm


def supported_uniform_moments_n(
    *, pressure_n_mm2: float, short_mm: float, long_mm: float
) -> tuple[float, float]:
    """Return the centre moments the short way and the long way. [N mm/mm].

    M = beta q a^2 and beta1 q a^2 (Table 8).

    Source: Timoshenko & Woinowsky-Krieger, Table 8. Standing: derived.

    Raises:
        OutOfRangeError: If a size is not above zero, the short side is the longer or the load is
            negative.
    """
    require_not_negative(pressure_n_mm2=pressure_n_mm2)
    aspect = _aspect(short_mm, long_mm)
    scale = pressure_n_mm2 * short_mm**2
    return (
        scale * table_value(at=aspect, places=_ASPECTS, values=_BETA),
        scale * table_value(at=aspect, places=_ASPECTS, values=_BETA_1),
    )


def supported_point_sag_mm(
    *, load_n: float, short_mm: float, long_mm: float, rigidity_n_mm: float
) -> float:
    """Return the deflection under a central point load on a supported plate. [mm].

    w = alpha P a^2 / D (Table 23).

    Range: 1 <= b/a <= 3.
    Source: Timoshenko & Woinowsky-Krieger, Table 23. Standing: derived.

    Raises:
        OutOfRangeError: If a size or rigidity is not above zero, the ratio is outside the table or
        the
            load is negative.
    """
    require_not_negative(load_n=load_n)
    require_positive(rigidity_n_mm=rigidity_n_mm)
    alpha = table_value(at=_aspect(short_mm, long_mm), places=_POINT_ASPECTS, values=_POINT)
    return alpha * load_n * short_mm**2 / rigidity_n_mm


def clamped_uniform_sag_mm(
    *, pressure_n_mm2: float, short_mm: float, long_mm: float, rigidity_n_mm: float
) -> float:
    """Return the centre deflection of a plate clamped all round under an even load. [mm].

    w = alpha q a^4 / D (Table 35). Real glued carcasses lie between supported and clamped.

    Source: Timoshenko & Woinowsky-Krieger, Table 35. Standing: derived.

    Raises:
        OutOfRangeError: If a size or rigidity is not above zero, the short side is the longer or
        the
            load is negative.
    """
    require_not_negative(pressure_n_mm2=pressure_n_mm2)
    require_positive(rigidity_n_mm=rigidity_n_mm)
    alpha = table_value(at=_aspect(short_mm, long_mm), places=_CLAMPED_ASPECTS, values=_CLAMPED)
    return alpha * pressure_n_mm2 * short_mm**4 / rigidity_n_mm


def clamped_uniform_edge_moment_n(
    *, pressure_n_mm2: float, short_mm: float, long_mm: float
) -> float:
    """Return the hogging moment at the middle of the long side, as a positive number. [N mm/mm].

    M = k q a^2 (Table 35).

    Source: Timoshenko & Woinowsky-Krieger, Table 35. Standing: derived.

    Raises:
        OutOfRangeError: If a size is not above zero, the short side is the longer or the load is
            negative.
    """
    require_not_negative(pressure_n_mm2=pressure_n_mm2)
    aspect = _aspect(short_mm, long_mm)
    k = table_value(at=aspect, places=_CLAMPED_ASPECTS, values=_CLAMPED_EDGE)
    return k * pressure_n_mm2 * short_mm**2


def clamped_uniform_centre_moment_n(
    *, pressure_n_mm2: float, short_mm: float, long_mm: float
) -> float:
    """Return the centre moment the short way of a clamped plate. [N mm/mm].

    M = k q a^2 (Table 35).

    Source: Timoshenko & Woinowsky-Krieger, Table 35. Standing: derived.

    Raises:
        OutOfRangeError: If a size is not above zero, the short side is the longer or the load is
            negative.
    """
    require_not_negative(pressure_n_mm2=pressure_n_mm2)
    aspect = _aspect(short_mm, long_mm)
    k = table_value(at=aspect, places=_CLAMPED_ASPECTS, values=_CLAMPED_CENTRE)
    return k * pressure_n_mm2 * short_mm**2


def clamped_point_sag_mm(
    *, load_n: float, short_mm: float, long_mm: float, rigidity_n_mm: float
) -> float:
    """Return the deflection under a central point load on a clamped plate. [mm].

    w = alpha P a^2 / D; a Ritz solution that converges from below.

    Range: 1 <= b/a <= 2.
    Source: Timoshenko & Woinowsky-Krieger (recomputed). Standing: derived.

    Raises:
        OutOfRangeError: If a size or rigidity is not above zero, the ratio is outside the table or
        the
            load is negative.
    """
    require_not_negative(load_n=load_n)
    require_positive(rigidity_n_mm=rigidity_n_mm)
    aspect = _aspect(short_mm, long_mm)
    alpha = table_value(at=aspect, places=_CLAMPED_ASPECTS[1:], values=_CLAMPED_POINT)
    return alpha * load_n * short_mm**2 / rigidity_n_mm
