"""EN 1993-1-3:2006: bolts and washers in thin steel sheet, design resistances (gamma_M2 = 1.25)."""

from __future__ import annotations

from typing import Final

from stowright.errors import OutOfRangeError, require_positive
from stowright.formulas.ranges import require_between
from stowright.formulas.sources import Source

__all__ = [
    "BODY_SHEET_N_MM2",
    "GAMMA_M2",
    "SOURCES",
    "bearing_n",
    "in_table_8_4",
    "net_section_n",
    "pull_through_n",
    "thickness_factor",
]

GAMMA_M2: Final = 1.25
# Least tensile strength of cold-rolled body sheet (EN 10130, steelmakers' tables agree).
BODY_SHEET_N_MM2: Final = 270.0

_TABLE_8_4: Final = Source(
    text="EN 1993-1-3:2006, Table 8.4, public transcription with clause headings",
    standing="public restatement",
)
SOURCES: Final = {
    "in_table_8_4": _TABLE_8_4,
    "thickness_factor": _TABLE_8_4,
    "bearing_n": _TABLE_8_4,
    "net_section_n": _TABLE_8_4,
    "pull_through_n": Source(
        text=(
            "EN 1993-1-3:2006, Table 8.2, self-tapping screws, taken for a bolt's washer; repeated"
            " load read, static load (twice that) from memory"
        ),
        standing="from memory",
    ),
}


def in_table_8_4(
    *,
    bolt_mm: float,
    hole_mm: float,
    thickness_mm: float,
    sheet_strength_n_mm2: float,
    end_mm: float,
    edge_mm: float,
    least_pitch_mm: float = float("inf"),
) -> bool:
    """Say whether a bolt in sheet lies in the table's range.

    Bolt from M6, 0.75 <= t < 3 mm, f_u <= 550, e1 >= d0, e2 >= 1.5 d0, p1 and p2 >= 3 d0 (a floor
    skin of 0.70 mm is just outside).

    Source: EN 1993-1-3, Table 8.4. Standing: public restatement.

    Raises:
        OutOfRangeError: If a size is not above zero.
    """
    require_positive(
        bolt_mm=bolt_mm,
        hole_mm=hole_mm,
        thickness_mm=thickness_mm,
        sheet_strength_n_mm2=sheet_strength_n_mm2,
        end_mm=end_mm,
        edge_mm=edge_mm,
    )
    return (
        bolt_mm >= 6.0
        and 0.75 <= thickness_mm < 3.0
        and sheet_strength_n_mm2 <= 550.0
        and end_mm >= hole_mm
        and edge_mm >= 1.5 * hole_mm
        and least_pitch_mm >= 3.0 * hole_mm
    )


def thickness_factor(*, thickness_mm: float) -> float:
    """Return k_t. [-].

    (0.8 t + 1.5) / 2.5 up to 1.25 mm, 1 above.

    Range: 0.75 <= t < 3 mm.
    Source: EN 1993-1-3, Table 8.4. Standing: public restatement.

    Raises:
        OutOfRangeError: Outside the range.
    """
    if not 0.75 <= thickness_mm < 3.0:
        raise OutOfRangeError("thickness_mm", thickness_mm, "at least 0.75 and below 3")
    return min(1.0, (0.8 * thickness_mm + 1.5) / 2.5)


def bearing_n(
    *,
    sheet_strength_n_mm2: float,
    diameter_mm: float,
    thickness_mm: float,
    end_mm: float,
    material_factor: float = GAMMA_M2,
) -> float:
    """Return the design bearing resistance of a bolt in sheet. [N].

    F_b,Rd = 2.5 alpha_b k_t f_u d t / gamma_M2, alpha_b = min(1, e1/(3 d)).

    Range: 0.75 <= t < 3 mm, f_u <= 550.
    Source: EN 1993-1-3, Table 8.4. Standing: public restatement.

    Raises:
        OutOfRangeError: Outside the range, or a number that is not above zero.
    """
    require_positive(
        sheet_strength_n_mm2=sheet_strength_n_mm2,
        diameter_mm=diameter_mm,
        end_mm=end_mm,
        material_factor=material_factor,
    )
    require_between(low=0.0, high=550.0, sheet_strength_n_mm2=sheet_strength_n_mm2)
    alpha_b = min(1.0, end_mm / (3.0 * diameter_mm))
    k_t = thickness_factor(thickness_mm=thickness_mm)
    area_mm2 = diameter_mm * thickness_mm
    return 2.5 * alpha_b * k_t * sheet_strength_n_mm2 * area_mm2 / material_factor


def net_section_n(
    *,
    net_area_mm2: float,
    sheet_strength_n_mm2: float,
    hole_mm: float,
    edge_mm: float,
    pitch_mm: float,
    bolts_in_section: int,
    bolts_in_joint: int,
    material_factor: float = GAMMA_M2,
) -> float:
    """Return the design resistance of the sheet's net section. [N].

    F_n,Rd = (1 + 3 r (d0/u - 0.3)) A_net f_u / gamma_M2, at most A_net f_u / gamma_M2; u = min(2
    e2, p2), r = bolts in the section / bolts in the joint.

    Source: EN 1993-1-3, Table 8.4. Standing: public restatement.

    Raises:
        OutOfRangeError: If a number is not above zero or more bolts stand in the section than in
        the joint.
    """
    require_positive(
        net_area_mm2=net_area_mm2,
        sheet_strength_n_mm2=sheet_strength_n_mm2,
        hole_mm=hole_mm,
        edge_mm=edge_mm,
        pitch_mm=pitch_mm,
        bolts_in_section=bolts_in_section,
        bolts_in_joint=bolts_in_joint,
        material_factor=material_factor,
    )
    share = bolts_in_section / bolts_in_joint
    require_between(low=0.0, high=1.0, share_in_section=share)
    width_mm = min(2.0 * edge_mm, pitch_mm)
    reduced = min(1.0, 1.0 + 3.0 * share * (hole_mm / width_mm - 0.3))
    return reduced * net_area_mm2 * sheet_strength_n_mm2 / material_factor


def pull_through_n(
    *,
    washer_mm: float,
    thickness_mm: float,
    sheet_strength_n_mm2: float,
    repeated: bool,
    material_factor: float = GAMMA_M2,
) -> float:
    """Return the design resistance of sheet against a washer pulled through. [N].

    F_p,Rd = d_w t f_u / gamma_M2, half of it under repeated load. Holds only if the washer or plate
    is stiff enough not to dish.

    Range: 0.5 <= t <= 1.5 mm.
    Source: EN 1993-1-3, Table 8.2. Standing: from memory (the repeated value: published).

    Raises:
        OutOfRangeError: Outside the range, or a number that is not above zero.
    """
    require_positive(
        washer_mm=washer_mm,
        sheet_strength_n_mm2=sheet_strength_n_mm2,
        material_factor=material_factor,
    )
    require_between(low=0.5, high=1.5, thickness_mm=thickness_mm)
    static_n = washer_mm * thickness_mm * sheet_strength_n_mm2 / material_factor
    return 0.5 * static_n if repeated else static_n
