"""EN 1993-1-8:2005, Table 3.4: bolts in steel, design resistances (gamma_M2 = 1.25).

Written for plates of 3 mm and more; thinner sheet goes to ``thin_sheet_en1993_1_3``.
"""

from __future__ import annotations

import math
from typing import Final

from stowright.errors import OutOfRangeError, require_not_negative, require_positive
from stowright.formulas.ranges import require_at_least
from stowright.formulas.sources import Source

__all__ = [
    "ALPHA_V_THREADS",
    "GAMMA_M2",
    "SOURCES",
    "bearing_factors",
    "bearing_n",
    "mean_head_diameter_mm",
    "punching_n",
    "shear_n",
    "shear_tension_utilisation",
    "tension_n",
]

GAMMA_M2: Final = 1.25
# alpha_v with threads in the shear plane; stainless as in EN 1993-1-4, from memory.
ALPHA_V_THREADS: Final = {
    "4.6": 0.6,
    "5.6": 0.6,
    "8.8": 0.6,
    "4.8": 0.5,
    "5.8": 0.5,
    "6.8": 0.5,
    "10.9": 0.5,
    "stainless": 0.5,
}

_TABLE_3_4: Final = Source(
    text="EN 1993-1-8:2005, Table 3.4, several independent public transcriptions agree",
    standing="public restatement",
)
SOURCES: Final = {name: _TABLE_3_4 for name in __all__ if name.islower()} | {
    "mean_head_diameter_mm": Source(
        text="EN 1993-1-8:2005, 1.5: d_m, mean of across flats and across corners",
        standing="from memory",
    ),
}


def shear_n(
    *,
    tensile_strength_n_mm2: float,
    area_mm2: float,
    alpha_v: float,
    material_factor: float = GAMMA_M2,
) -> float:
    """Return the design shear resistance of a bolt for one shear plane. [N].

    F_v,Rd = alpha_v f_ub A / gamma_M2. Threads in the plane: stress area and alpha_v by class (0.6
    or 0.5); plain shank in the plane: gross area and 0.6.

    Source: EN 1993-1-8, Table 3.4. Standing: public restatement.

    Raises:
        OutOfRangeError: If a number is not above zero.
    """
    require_positive(
        tensile_strength_n_mm2=tensile_strength_n_mm2,
        area_mm2=area_mm2,
        alpha_v=alpha_v,
        material_factor=material_factor,
    )
    return alpha_v * tensile_strength_n_mm2 * area_mm2 / material_factor


def tension_n(
    *,
    tensile_strength_n_mm2: float,
    stress_area_mm2: float,
    countersunk: bool = False,
    material_factor: float = GAMMA_M2,
) -> float:
    """Return the design tension resistance of a bolt. [N].

    F_t,Rd = k2 f_ub A_s / gamma_M2, k2 = 0.9, countersunk 0.63.

    Source: EN 1993-1-8, Table 3.4. Standing: public restatement.

    Raises:
        OutOfRangeError: If a number is not above zero.
    """
    require_positive(
        tensile_strength_n_mm2=tensile_strength_n_mm2,
        stress_area_mm2=stress_area_mm2,
        material_factor=material_factor,
    )
    share = 0.63 if countersunk else 0.9
    return share * tensile_strength_n_mm2 * stress_area_mm2 / material_factor


def bearing_factors(
    *,
    end_mm: float,
    edge_mm: float,
    hole_mm: float,
    bolt_strength_n_mm2: float,
    plate_strength_n_mm2: float,
    pitch_mm: float | None = None,
    gauge_mm: float | None = None,
) -> tuple[float, float]:
    """Return alpha_b and k1 of bearing. [-].

    alpha_b = min(e1/(3 d0), p1/(3 d0) - 0.25, f_ub/f_u, 1); k1 = min(2.8 e2/d0 - 1.7, 1.4 p2/d0 -
    1.7, 2.5); the terms with p1 and p2 only where there are more bolts in that direction.

    Source: EN 1993-1-8, Table 3.4. Standing: public restatement.

    Raises:
        OutOfRangeError: If a number is not above zero, or the distances leave no resistance.
    """
    require_positive(
        end_mm=end_mm,
        edge_mm=edge_mm,
        hole_mm=hole_mm,
        bolt_strength_n_mm2=bolt_strength_n_mm2,
        plate_strength_n_mm2=plate_strength_n_mm2,
    )
    ends = [end_mm / (3.0 * hole_mm), bolt_strength_n_mm2 / plate_strength_n_mm2, 1.0]
    edges = [2.8 * edge_mm / hole_mm - 1.7, 2.5]
    if pitch_mm is not None:
        require_positive(pitch_mm=pitch_mm)
        ends.append(pitch_mm / (3.0 * hole_mm) - 0.25)
    if gauge_mm is not None:
        require_positive(gauge_mm=gauge_mm)
        edges.append(1.4 * gauge_mm / hole_mm - 1.7)
    alpha_b, k_1 = min(ends), min(edges)
    if not (alpha_b > 0.0 and k_1 > 0.0):
        raise OutOfRangeError("hole_mm", hole_mm, "small enough for its edge distances and pitches")
    return alpha_b, k_1


def bearing_n(
    *,
    alpha_b: float,
    k_1: float,
    plate_strength_n_mm2: float,
    diameter_mm: float,
    thickness_mm: float,
    material_factor: float = GAMMA_M2,
) -> float:
    """Return the design bearing resistance of a plate. [N].

    F_b,Rd = k1 alpha_b f_u d t / gamma_M2 with f_u of the PLATE.

    Range: t >= 3 mm.
    Source: EN 1993-1-8, Table 3.4. Standing: public restatement.

    Raises:
        OutOfRangeError: If a number is not above zero or the plate is thinner than 3 mm.
    """
    require_positive(
        alpha_b=alpha_b,
        k_1=k_1,
        plate_strength_n_mm2=plate_strength_n_mm2,
        diameter_mm=diameter_mm,
        material_factor=material_factor,
    )
    require_at_least(low=3.0, thickness_mm=thickness_mm)
    return k_1 * alpha_b * plate_strength_n_mm2 * diameter_mm * thickness_mm / material_factor


def mean_head_diameter_mm(*, across_flats_mm: float, across_corners_mm: float) -> float:
    """Return d_m of one head or nut; take the smaller of both ends. [mm].

    Mean of across flats and across corners; never the hole's diameter.

    Source: EN 1993-1-8, 1.5. Standing: from memory.

    Raises:
        OutOfRangeError: If a size is not above zero or the corners lie inside the flats.
    """
    require_positive(across_flats_mm=across_flats_mm)
    require_at_least(low=across_flats_mm, across_corners_mm=across_corners_mm)
    return (across_flats_mm + across_corners_mm) / 2.0


def punching_n(
    *,
    mean_diameter_mm: float,
    thickness_mm: float,
    plate_strength_n_mm2: float,
    material_factor: float = GAMMA_M2,
) -> float:
    """Return the design resistance of a plate to a head punched through. [N].

    B_p,Rd = 0.6 pi d_m t_p f_u / gamma_M2.

    Source: EN 1993-1-8, Table 3.4. Standing: public restatement.

    Raises:
        OutOfRangeError: If a number is not above zero.
    """
    require_positive(
        mean_diameter_mm=mean_diameter_mm,
        thickness_mm=thickness_mm,
        plate_strength_n_mm2=plate_strength_n_mm2,
        material_factor=material_factor,
    )
    around_mm2 = math.pi * mean_diameter_mm * thickness_mm
    return 0.6 * around_mm2 * plate_strength_n_mm2 / material_factor


def shear_tension_utilisation(
    *, shear_n: float, shear_resistance_n: float, tension_n: float, tension_resistance_n: float
) -> float:
    """Return the utilisation of a bolt under shear and tension; 1 is the limit. [-].

    max(F_v/F_v,Rd + F_t/(1.4 F_t,Rd), F_t/F_t,Rd).

    Source: EN 1993-1-8, Table 3.4. Standing: public restatement.

    Raises:
        OutOfRangeError: If a resistance is not above zero or a demand is negative.
    """
    require_positive(
        shear_resistance_n=shear_resistance_n, tension_resistance_n=tension_resistance_n
    )
    require_not_negative(shear_n=shear_n, tension_n=tension_n)
    both = shear_n / shear_resistance_n + tension_n / (1.4 * tension_resistance_n)
    return max(both, tension_n / tension_resistance_n)
