"""EN 1995-1-1 (Eurocode 5) section 8: screws and nails pulled out or through.

Characteristic values (5th percentile): multiply by k_mod / gamma_M before holding them against a
factored demand. Outside the stated ranges the functions refuse; thin plywood carcass screws usually
are outside.
"""

from __future__ import annotations

import math
from typing import Final

from stowright.errors import require_positive
from stowright.formulas.ranges import require_at_least, require_between
from stowright.formulas.sources import Source

__all__ = [
    "SOURCES",
    "effective_number",
    "hardwood_screw_withdrawal_n",
    "head_pull_through_n",
    "head_pull_through_strength_n_mm2",
    "nail_head_strength_n_mm2",
    "nail_penetration_factor",
    "nail_withdrawal_n",
    "nail_withdrawal_strength_n_mm2",
    "screw_in_clause_range",
    "screw_withdrawal_n",
    "screw_withdrawal_strength_n_mm2",
    "washer_bearing_n",
]

_LIBRARY: Final = Source(
    text="EN 1995-1-1:2004, section 8, as restated with clause numbers by a public library",
    standing="public restatement",
)
SOURCES: Final = {
    "washer_bearing_n": Source(
        text="EN 1995-1-1, 10.4.3, as used in Porteous & Kermani (2007)",
        standing="public restatement",
    ),
    "screw_in_clause_range": _LIBRARY,
    "screw_withdrawal_strength_n_mm2": _LIBRARY,
    "screw_withdrawal_n": _LIBRARY,
    "effective_number": _LIBRARY,
    "nail_withdrawal_strength_n_mm2": _LIBRARY,
    "nail_head_strength_n_mm2": _LIBRARY,
    "nail_penetration_factor": _LIBRARY,
    "nail_withdrawal_n": _LIBRARY,
    "hardwood_screw_withdrawal_n": Source(
        text="Huebner, CIB-W18 paper 46-7-4 (2013), abstract; solid hardwood, not plywood",
        standing="published",
    ),
    "head_pull_through_n": Source(
        text="several European screw assessments, tables not visible", standing="from memory"
    ),
    "head_pull_through_strength_n_mm2": Source(
        text="several European screw assessments, tables not visible", standing="from memory"
    ),
}


def screw_in_clause_range(
    *, diameter_mm: float, penetration_mm: float, member_thickness_mm: float
) -> bool:
    """Say whether a screw pulled out lies inside clause 8.7.2.

    6 <= d <= 12 mm, threaded point-side penetration >= 6 d, member at least 12 d thick.

    Source: EN 1995-1-1, 8.7.2. Standing: public restatement.

    Raises:
        OutOfRangeError: If a size is not above zero.
    """
    require_positive(
        diameter_mm=diameter_mm,
        penetration_mm=penetration_mm,
        member_thickness_mm=member_thickness_mm,
    )
    return (
        6.0 <= diameter_mm <= 12.0
        and penetration_mm >= 6.0 * diameter_mm
        and member_thickness_mm >= 12.0 * diameter_mm
    )


def screw_withdrawal_strength_n_mm2(
    *, diameter_mm: float, penetration_mm: float, density_kg_m3: float
) -> float:
    """Return the characteristic withdrawal strength of a screw across the grain. [N/mm2].

    f_ax,k = 0.52 d^-0.5 l_ef^-0.1 rho_k^0.8 (8.39).

    Range: 6 <= d <= 12 mm, l_ef >= 6 d.
    Source: EN 1995-1-1, (8.39). Standing: public restatement.

    Raises:
        OutOfRangeError: Outside the range, or a density that is not above zero.
    """
    require_between(low=6.0, high=12.0, diameter_mm=diameter_mm)
    require_at_least(low=6.0 * diameter_mm, penetration_mm=penetration_mm)
    require_positive(density_kg_m3=density_kg_m3)
    return (
        0.52
        * math.pow(diameter_mm, -0.5)
        * math.pow(penetration_mm, -0.1)
        * math.pow(density_kg_m3, 0.8)
    )


def effective_number(*, screws: int) -> float:
    """Return how many screws of a group pulled together count. [-].

    n_ef = n^0.9 (8.41).

    Source: EN 1995-1-1, (8.41). Standing: public restatement.

    Raises:
        OutOfRangeError: If there is no screw.
    """
    require_at_least(low=1.0, screws=screws)
    return math.pow(screws, 0.9)


def screw_withdrawal_n(
    *,
    diameter_mm: float,
    penetration_mm: float,
    density_kg_m3: float,
    angle_deg: float = 90.0,
    screws: int = 1,
) -> float:
    """Return the characteristic withdrawal resistance of screws. [N].

    F = n_ef f_ax,k d l_ef k_d / (1.2 cos^2 a + sin^2 a) (8.38), k_d = min(d/8, 1) (8.40), a the
    angle between screw and grain.

    Range: 6 <= d <= 12 mm, l_ef >= 6 d, 30 <= a <= 90 degrees.
    Source: EN 1995-1-1, (8.38) to (8.41). Standing: public restatement.

    Raises:
        OutOfRangeError: Outside the range, or a density that is not above zero.
    """
    require_between(low=30.0, high=90.0, angle_deg=angle_deg)
    strength = screw_withdrawal_strength_n_mm2(
        diameter_mm=diameter_mm, penetration_mm=penetration_mm, density_kg_m3=density_kg_m3
    )
    angle = math.radians(angle_deg)
    k_d = min(diameter_mm / 8.0, 1.0)
    across = strength * diameter_mm * penetration_mm * k_d
    return (
        effective_number(screws=screws)
        * across
        / (1.2 * math.cos(angle) ** 2 + math.sin(angle) ** 2)
    )


def nail_withdrawal_strength_n_mm2(*, density_kg_m3: float) -> float:
    """Return the characteristic withdrawal strength of a smooth nail. [N/mm2].

    f_ax,k = 20e-6 rho_k^2 (8.25), for a penetration of 12 d and more.

    Source: EN 1995-1-1, (8.25). Standing: public restatement.

    Raises:
        OutOfRangeError: If the density is not above zero.
    """
    require_positive(density_kg_m3=density_kg_m3)
    return 20e-6 * density_kg_m3**2


def nail_head_strength_n_mm2(*, density_kg_m3: float) -> float:
    """Return the characteristic pull-through strength of a nail head. [N/mm2].

    f_head,k = 70e-6 rho_k^2 (8.26).

    Source: EN 1995-1-1, (8.26). Standing: public restatement.

    Raises:
        OutOfRangeError: If the density is not above zero.
    """
    require_positive(density_kg_m3=density_kg_m3)
    return 70e-6 * density_kg_m3**2


def nail_penetration_factor(*, diameter_mm: float, penetration_mm: float, profiled: bool) -> float:
    """Return the part of the withdrawal strength that a penetration earns. [-].

    Smooth: 1 from 12 d, t/(4 d) - 2 down to 0 at 8 d. Profiled (ring, threaded): 1 from 8 d,
    t/(2 d) - 3 down to 0 at 6 d.

    Source: EN 1995-1-1, 8.3.2(7). Standing: public restatement.

    Raises:
        OutOfRangeError: If a size is not above zero.
    """
    require_positive(diameter_mm=diameter_mm, penetration_mm=penetration_mm)
    ratio = penetration_mm / diameter_mm
    earned = ratio / 2.0 - 3.0 if profiled else ratio / 4.0 - 2.0
    return min(1.0, max(0.0, earned))


def nail_withdrawal_n(
    *,
    diameter_mm: float,
    head_diameter_mm: float,
    penetration_mm: float,
    head_side_mm: float,
    point_density_kg_m3: float,
    head_density_kg_m3: float,
) -> float:
    """Return the characteristic withdrawal resistance of a smooth nail. [N].

    F = min(f_ax d t_pen, f_ax d t + f_head d_h^2) (8.24): t_pen point-side penetration, t the
    thickness of the head-side member.

    Range: no permanent or long-term pull may be put on smooth nails.
    Source: EN 1995-1-1, (8.24) to (8.26). Standing: public restatement.

    Raises:
        OutOfRangeError: If a size or density is not above zero.
    """
    require_positive(head_diameter_mm=head_diameter_mm, head_side_mm=head_side_mm)
    factor = nail_penetration_factor(
        diameter_mm=diameter_mm, penetration_mm=penetration_mm, profiled=False
    )
    point = factor * nail_withdrawal_strength_n_mm2(density_kg_m3=point_density_kg_m3)
    shank = nail_withdrawal_strength_n_mm2(density_kg_m3=head_density_kg_m3)
    head = nail_head_strength_n_mm2(density_kg_m3=head_density_kg_m3)
    return min(
        point * diameter_mm * penetration_mm,
        shank * diameter_mm * head_side_mm + head * head_diameter_mm**2,
    )


def hardwood_screw_withdrawal_n(
    *, diameter_mm: float, length_mm: float, density_kg_m3: float, angle_deg: float = 90.0
) -> float:
    """Return the characteristic withdrawal resistance of a screw in solid hardwood. [N].

    R = f_ax,k pi d l_ef, f_ax,k = 7e-4 rho_k^1.6 d^-0.34, l_ef = l - 1.1 d; below 30 degrees
    between screw and grain a straight loss to 0.7 in end grain.

    Range: 4 <= d <= 20 mm; strength falls about 2.5 % for each 1 % of moisture above the test's.
    Source: Huebner, CIB-W18 46-7-4. Standing: published (abstract).

    Raises:
        OutOfRangeError: Outside the range, or a length that leaves no thread.
    """
    require_between(low=4.0, high=20.0, diameter_mm=diameter_mm)
    require_between(low=0.0, high=90.0, angle_deg=angle_deg)
    require_positive(density_kg_m3=density_kg_m3)
    effective_mm = length_mm - 1.1 * diameter_mm
    require_positive(effective_length_mm=effective_mm)
    strength = 7e-4 * math.pow(density_kg_m3, 1.6) * math.pow(diameter_mm, -0.34)
    grain = 0.7 + 0.3 * min(angle_deg / 30.0, 1.0)
    return grain * strength * math.pi * diameter_mm * effective_mm


def head_pull_through_strength_n_mm2(*, panel_thickness_mm: float) -> float:
    """Return the pull-through strength of a screw head in a wood panel. [N/mm2].

    10 above 20 mm, else 8.

    Source: European screw assessments. Standing: from memory.

    Raises:
        OutOfRangeError: If the thickness is not above zero.
    """
    require_positive(panel_thickness_mm=panel_thickness_mm)
    return 10.0 if panel_thickness_mm > 20.0 else 8.0


def head_pull_through_n(
    *, head_diameter_mm: float, panel_thickness_mm: float, density_kg_m3: float
) -> float:
    """Return the characteristic pull-through resistance of a screw head in a wood panel. [N].

    F = f_head,k d_h^2 (rho_k/350)^0.8, never more than 400 N in a panel under 12 mm.

    Source: European screw assessments. Standing: from memory.

    Raises:
        OutOfRangeError: If a size or density is not above zero.
    """
    require_positive(head_diameter_mm=head_diameter_mm, density_kg_m3=density_kg_m3)
    strength = head_pull_through_strength_n_mm2(panel_thickness_mm=panel_thickness_mm)
    full_n = strength * head_diameter_mm**2 * math.pow(density_kg_m3 / 350.0, 0.8)
    if panel_thickness_mm < 12.0:
        return min(full_n, 400.0)
    return full_n


def washer_bearing_n(
    *, washer_mm: float, bolt_mm: float, compression_strength_n_mm2: float
) -> float:
    """Return the characteristic resistance of wood under a round washer. [N].

    R = 3 f_c,90,k pi/4 [d_w^2 - (d + 1)^2].

    Range: washer at least 3 d across and 0.3 d thick (from memory).
    Source: EN 1995-1-1, 10.4.3, as used in Porteous & Kermani (2007). Standing: public restatement.

    Raises:
        OutOfRangeError: If a number is not above zero or the washer is no larger than its hole.
    """
    require_positive(bolt_mm=bolt_mm, compression_strength_n_mm2=compression_strength_n_mm2)
    require_at_least(low=bolt_mm + 1.0, washer_mm=washer_mm)
    ring_mm2 = math.pi / 4.0 * (washer_mm**2 - (bolt_mm + 1.0) ** 2)
    return 3.0 * compression_strength_n_mm2 * ring_mm2
