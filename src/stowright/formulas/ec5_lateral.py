"""EN 1995-1-1 (Eurocode 5) section 8: nails, screws, bolts pushed sideways (yield model).

Characteristic values (5th percentile). Side 1 is the head side, side 2 the point side. Screws up to
6 mm count as nails, above as bolts (8.7.1), with the effective diameter of
``effective_diameter_mm``.
"""

from __future__ import annotations

import math
from typing import Final, NamedTuple

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.ranges import require_at_least, require_between
from stowright.formulas.sources import Source

__all__ = [
    "ROPE_LIMIT",
    "SOURCES",
    "LateralResistance",
    "axial_lateral_utilisation",
    "bolt_yield_moment_n_mm",
    "effective_diameter_mm",
    "effective_number_bolts",
    "embedment_bolted_plywood_n_mm2",
    "embedment_plywood_n_mm2",
    "embedment_timber_n_mm2",
    "single_shear",
    "slip_modulus_n_mm",
    "square_nail_yield_moment_n_mm",
    "staple_yield_moment_n_mm",
    "steel_plate_shear",
]

_LIBRARY: Final = "restated with clause numbers by a public library"
_RESTATED: Final = Source(
    text=f"EN 1995-1-1:2004, section 8, {_LIBRARY}", standing="public restatement"
)
_TEXTBOOK: Final = Source(
    text="EN 1995-1-1, section 8, as in Porteous & Kermani (2007), Table 10.5",
    standing="public restatement",
)
SOURCES: Final = {
    "effective_diameter_mm": _RESTATED,
    "embedment_timber_n_mm2": _RESTATED,
    "embedment_plywood_n_mm2": Source(
        text="EN 1995-1-1, (8.20): number and use restated, expression remembered",
        standing="from memory",
    ),
    "embedment_bolted_plywood_n_mm2": Source(text="EN 1995-1-1, (8.36)", standing="from memory"),
    "bolt_yield_moment_n_mm": _TEXTBOOK,
    "square_nail_yield_moment_n_mm": _TEXTBOOK,
    "staple_yield_moment_n_mm": _TEXTBOOK,
    "single_shear": _RESTATED,
    "steel_plate_shear": _RESTATED,
    "slip_modulus_n_mm": Source(
        text="EN 1995-1-1, Table 7.1: existence restated, expressions remembered",
        standing="from memory",
    ),
    "effective_number_bolts": _RESTATED,
    "axial_lateral_utilisation": Source(
        text="EN 1995-1-1, (8.27) and (8.28)", standing="from memory"
    ),
}

# Limit of the rope effect as a share of the Johansen part, 8.2.2(2); nails from memory.
ROPE_LIMIT: Final = {
    "screw": 1.0,
    "bolt": 0.25,
    "square nail": 0.25,
    "dowel": 0.0,
    "round nail": 0.15,
    "other nail": 0.5,
    "none": 0.0,
}


class LateralResistance(NamedTuple):
    """The resistance of one fastener in one shear plane, with every failure mode.

    Attributes:
        resistance_n: The least of all modes. [N].
        mode: The mode that governs.
        modes_n: Every mode by name, rope effect included. [N].
    """

    resistance_n: float
    mode: str
    modes_n: dict[str, float]


def effective_diameter_mm(
    *, shank_mm: float, root_mm: float, smooth_shank_into_point_side_mm: float
) -> float:
    """Return the diameter that a screw counts with. [mm].

    The shank where the smooth part goes at least 4 d into the point side, else 1.1 x root (8.7.1).

    Source: EN 1995-1-1, 8.7.1. Standing: public restatement.

    Raises:
        OutOfRangeError: If a diameter is not above zero or the length is negative.
    """
    require_positive(shank_mm=shank_mm, root_mm=root_mm)
    require_not_negative(smooth_shank_into_point_side_mm=smooth_shank_into_point_side_mm)
    if smooth_shank_into_point_side_mm >= 4.0 * shank_mm:
        return shank_mm
    return 1.1 * root_mm


def embedment_timber_n_mm2(*, diameter_mm: float, density_kg_m3: float, predrilled: bool) -> float:
    """Return the characteristic embedment strength of timber. [N/mm2].

    0.082 rho_k d^-0.3 not pre-drilled (8.15); 0.082 (1 - 0.01 d) rho_k pre-drilled (8.16), also for
    bolts along the grain (8.32).

    Range: nails up to 8 mm.
    Source: EN 1995-1-1, (8.15), (8.16), (8.32). Standing: public restatement.

    Raises:
        OutOfRangeError: If the diameter is not above zero, a nail is over 8 mm, or the density is
        not
            above zero.
    """
    require_positive(diameter_mm=diameter_mm, density_kg_m3=density_kg_m3)
    if predrilled:
        require_between(low=0.0, high=30.0, diameter_mm=diameter_mm)
        return 0.082 * (1.0 - 0.01 * diameter_mm) * density_kg_m3
    require_between(low=0.0, high=8.0, diameter_mm=diameter_mm)
    return 0.082 * density_kg_m3 * math.pow(diameter_mm, -0.3)


def embedment_plywood_n_mm2(*, diameter_mm: float, density_kg_m3: float) -> float:
    """Return the characteristic embedment strength of plywood for nails and thin screws. [N/mm2].

    0.11 rho_k d^-0.3 (8.20), for heads of at least 2 d.

    Range: nails d <= 8 mm, screws d <= 6 mm.
    Source: EN 1995-1-1, (8.20). Standing: from memory.

    Raises:
        OutOfRangeError: If the diameter is over 8 mm or a number is not above zero.
    """
    require_positive(diameter_mm=diameter_mm, density_kg_m3=density_kg_m3)
    require_between(low=0.0, high=8.0, diameter_mm=diameter_mm)
    return 0.11 * density_kg_m3 * math.pow(diameter_mm, -0.3)


def embedment_bolted_plywood_n_mm2(*, diameter_mm: float, density_kg_m3: float) -> float:
    """Return the characteristic embedment strength of bolted plywood at any angle. [N/mm2].

    0.11 (1 - 0.01 d) rho_k (8.36).

    Range: d <= 30 mm.
    Source: EN 1995-1-1, (8.36). Standing: from memory.

    Raises:
        OutOfRangeError: If the diameter is over 30 mm or a number is not above zero.
    """
    require_positive(diameter_mm=diameter_mm, density_kg_m3=density_kg_m3)
    require_between(low=0.0, high=30.0, diameter_mm=diameter_mm)
    return 0.11 * (1.0 - 0.01 * diameter_mm) * density_kg_m3


def bolt_yield_moment_n_mm(*, diameter_mm: float, tensile_strength_n_mm2: float) -> float:
    """Return the characteristic yield moment of a round nail, screw or bolt. [N mm].

    M_y,Rk = 0.3 f_u d^2.6 (8.14, 8.30).

    Source: EN 1995-1-1, (8.14), (8.30). Standing: public restatement.

    Raises:
        OutOfRangeError: If a number is not above zero.
    """
    require_positive(diameter_mm=diameter_mm, tensile_strength_n_mm2=tensile_strength_n_mm2)
    return 0.3 * tensile_strength_n_mm2 * math.pow(diameter_mm, 2.6)


def square_nail_yield_moment_n_mm(*, side_mm: float, tensile_strength_n_mm2: float) -> float:
    """Return the characteristic yield moment of a square nail. [N mm].

    M_y,Rk = 0.45 f_u d^2.6 (8.14).

    Source: EN 1995-1-1, (8.14). Standing: public restatement.

    Raises:
        OutOfRangeError: If a number is not above zero.
    """
    require_positive(side_mm=side_mm, tensile_strength_n_mm2=tensile_strength_n_mm2)
    return 0.45 * tensile_strength_n_mm2 * math.pow(side_mm, 2.6)


def staple_yield_moment_n_mm(*, leg_width_mm: float, leg_thickness_mm: float) -> float:
    """Return the characteristic yield moment of a staple leg. [N mm].

    M_y,Rk = 240 d^2.6 with d the root of the product of both leg sizes (8.29).

    Source: EN 1995-1-1, (8.29). Standing: public restatement.

    Raises:
        OutOfRangeError: If a number is not above zero.
    """
    require_positive(leg_width_mm=leg_width_mm, leg_thickness_mm=leg_thickness_mm)
    return 240.0 * math.pow(leg_width_mm * leg_thickness_mm, 1.3)


def _with_rope(johansen_n: float, axial_n: float, limit: float) -> float:
    """Add the rope effect: a quarter of the withdrawal, no more than a share of the rest."""
    return johansen_n + min(axial_n / 4.0, limit * johansen_n)


def single_shear(
    *,
    embedment_1_n_mm2: float,
    embedment_2_n_mm2: float,
    thickness_1_mm: float,
    penetration_2_mm: float,
    diameter_mm: float,
    yield_moment_n_mm: float,
    axial_n: float = 0.0,
    rope_limit: float = 0.0,
) -> LateralResistance:
    """Return the characteristic resistance of a fastener in single shear, wood on wood.

    With beta = f_h2/f_h1, r = t2/t1 (8.6 a to f)::

        a  f_h1 t1 d                b  f_h2 t2 d c  f_h1 t1 d/(1+beta) [sqrt(beta + 2 beta^2 (1 + r
        + r^2) + beta^3 r^2) - beta (1 + r)] d  1.05 f_h1 t1 d/(2+beta) [sqrt(2 beta(1+beta) + 4
        beta(2+beta) M/(f_h1 d t1^2)) - beta] e  1.05 f_h1 t2 d/(1+2beta) [sqrt(2 beta^2(1+beta) + 4
        beta(1+2beta) M/(f_h1 d t2^2)) - beta] f  1.15 sqrt(2 beta/(1+beta)) sqrt(2 M f_h1 d)

    c to f gain the rope effect min(F_ax,Rk/4, k x the Johansen part); set the axial part to 0 in
    thin edges.

    Source: EN 1995-1-1, (8.6). Standing: public restatement.

    Raises:
        OutOfRangeError: If a size, strength or moment is not above zero, or an axial part is
        negative.
    """
    require_positive(
        embedment_1_n_mm2=embedment_1_n_mm2,
        embedment_2_n_mm2=embedment_2_n_mm2,
        thickness_1_mm=thickness_1_mm,
        penetration_2_mm=penetration_2_mm,
        diameter_mm=diameter_mm,
        yield_moment_n_mm=yield_moment_n_mm,
    )
    require_not_negative(axial_n=axial_n, rope_limit=rope_limit)
    beta = embedment_2_n_mm2 / embedment_1_n_mm2
    r = penetration_2_mm / thickness_1_mm
    bearing_1 = embedment_1_n_mm2 * thickness_1_mm * diameter_mm
    bearing_1_at_2 = embedment_1_n_mm2 * penetration_2_mm * diameter_mm
    johansen = {
        "c": bearing_1 * _tilt(beta, r),
        "d": 1.05 * bearing_1 * _hinge_2(beta, yield_moment_n_mm / (bearing_1 * thickness_1_mm)),
        "e": 1.05
        * bearing_1_at_2
        * _hinge_1(beta, yield_moment_n_mm / (bearing_1_at_2 * penetration_2_mm)),
        "f": 1.15
        * math.sqrt(2.0 * beta / (1.0 + beta))
        * math.sqrt(2.0 * yield_moment_n_mm * embedment_1_n_mm2 * diameter_mm),
    }
    modes_n = {"a": bearing_1, "b": embedment_2_n_mm2 * penetration_2_mm * diameter_mm}
    modes_n |= {mode: _with_rope(part, axial_n, rope_limit) for mode, part in johansen.items()}
    return _least(modes_n)


def _tilt(beta: float, r: float) -> float:
    """Return the bracket of mode c: the fastener tilts, both members crush."""
    root = math.sqrt(beta + 2.0 * beta**2 * (1.0 + r + r**2) + beta**3 * r**2)
    return (root - beta * (1.0 + r)) / (1.0 + beta)


def _hinge_2(beta: float, moment: float) -> float:
    """Return the bracket of mode d: one hinge, on the point side."""
    root = math.sqrt(2.0 * beta * (1.0 + beta) + 4.0 * beta * (2.0 + beta) * moment)
    return (root - beta) / (2.0 + beta)


def _hinge_1(beta: float, moment: float) -> float:
    """Return the bracket of mode e: one hinge, on the head side."""
    root = math.sqrt(2.0 * beta**2 * (1.0 + beta) + 4.0 * beta * (1.0 + 2.0 * beta) * moment)
    return (root - beta) / (1.0 + 2.0 * beta)


def _least(modes_n: dict[str, float]) -> LateralResistance:
    """Pick the mode that governs."""
    mode = min(modes_n, key=modes_n.__getitem__)
    return LateralResistance(resistance_n=modes_n[mode], mode=mode, modes_n=modes_n)


def steel_plate_shear(
    *,
    embedment_n_mm2: float,
    thickness_mm: float,
    diameter_mm: float,
    yield_moment_n_mm: float,
    plate_mm: float,
    axial_n: float = 0.0,
    rope_limit: float = 0.0,
) -> LateralResistance:
    """Return the characteristic resistance of a fastener through a steel plate into wood.

    Thin plate, t_s <= 0.5 d (8.9)::

        a  0.4 f_h t d              b  1.15 sqrt(2 M f_h d) + rope

    Thick plate, t_s >= d (8.10)::

        c  f_h t d                  d  f_h t d [sqrt(2 + 4 M/(f_h d t^2)) - 1] + rope
        e  2.3 sqrt(M f_h d) + rope

    Between, a straight line from the thin to the thick value; all five modes are given,
    "thin-thick" governs.

    Source: EN 1995-1-1, (8.9), (8.10), 8.2.3(1). Standing: public restatement.

    Raises:
        OutOfRangeError: If a size, strength or moment is not above zero, or an axial part is
        negative.
    """
    require_positive(
        embedment_n_mm2=embedment_n_mm2,
        thickness_mm=thickness_mm,
        diameter_mm=diameter_mm,
        yield_moment_n_mm=yield_moment_n_mm,
        plate_mm=plate_mm,
    )
    require_not_negative(axial_n=axial_n, rope_limit=rope_limit)
    line_n_mm = embedment_n_mm2 * diameter_mm
    bearing = line_n_mm * thickness_mm
    hinge = math.sqrt(2.0 + 4.0 * yield_moment_n_mm / (bearing * thickness_mm)) - 1.0
    rope = (axial_n, rope_limit)
    thin = {
        "a": 0.4 * bearing,
        "b": _with_rope(1.15 * math.sqrt(2.0 * yield_moment_n_mm * line_n_mm), *rope),
    }
    thick = {
        "c": bearing,
        "d": _with_rope(bearing * hinge, *rope),
        "e": _with_rope(2.3 * math.sqrt(yield_moment_n_mm * line_n_mm), *rope),
    }
    share = min(1.0, max(0.0, 2.0 * plate_mm / diameter_mm - 1.0))
    if share == 0.0:
        return _least(thin)
    if share == 1.0:
        return _least(thick)
    between = (1.0 - share) * min(thin.values()) + share * min(thick.values())
    return LateralResistance(
        resistance_n=between, mode="thin-thick", modes_n=thin | thick | {"thin-thick": between}
    )


def slip_modulus_n_mm(
    *, diameter_mm: float, density_kg_m3: float, nailed: bool, on_steel: bool
) -> float:
    """Return the slip modulus of one fastener in one shear plane. [N/mm].

    K_ser = rho_m^1.5 d/23 for bolts, screws and pre-drilled nails, rho_m^1.5 d^0.8/30 for driven
    nails; twice that on a steel plate.

    Source: EN 1995-1-1, Table 7.1. Standing: from memory.

    Raises:
        OutOfRangeError: If a number is not above zero.
    """
    require_positive(diameter_mm=diameter_mm, density_kg_m3=density_kg_m3)
    base = math.pow(density_kg_m3, 1.5)
    modulus = base * math.pow(diameter_mm, 0.8) / 30.0 if nailed else base * diameter_mm / 23.0
    return 2.0 * modulus if on_steel else modulus


def effective_number_bolts(*, bolts: int, spacing_mm: float, diameter_mm: float) -> float:
    """Return how many bolts of a row along the grain count. [-].

    n_ef = min(n, n^0.9 (a1/13d)^0.25) (8.34). Nails spaced 14 d and more all count (8.17).

    Source: EN 1995-1-1, (8.34). Standing: public restatement.

    Raises:
        OutOfRangeError: If there is no bolt or a size is not above zero.
    """
    require_at_least(low=1.0, bolts=bolts)
    require_positive(spacing_mm=spacing_mm, diameter_mm=diameter_mm)
    return min(
        float(bolts), math.pow(bolts, 0.9) * math.pow(spacing_mm / (13.0 * diameter_mm), 0.25)
    )


def axial_lateral_utilisation(
    *,
    axial_n: float,
    axial_resistance_n: float,
    lateral_n: float,
    lateral_resistance_n: float,
    smooth_nail: bool,
) -> float:
    """Return the utilisation under pull and shear together; 1 is the limit. [-].

    Fa/Ra + Fv/Rv for smooth nails, (Fa/Ra)^2 + (Fv/Rv)^2 for screws and profiled nails.

    Source: EN 1995-1-1, (8.27), (8.28). Standing: from memory.

    Raises:
        OutOfRangeError: If a resistance is not above zero or a demand is negative.
    """
    require_positive(
        axial_resistance_n=axial_resistance_n, lateral_resistance_n=lateral_resistance_n
    )
    require_not_negative(axial_n=axial_n, lateral_n=lateral_n)
    pull = axial_n / axial_resistance_n
    push = lateral_n / lateral_resistance_n
    return pull + push if smooth_nail else pull**2 + push**2
