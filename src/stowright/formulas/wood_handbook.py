"""USDA Wood Handbook (FPL-GTR-190 and -282), chapter 8: withdrawal of screws and nails.

These loads are MEAN ULTIMATE values in the side grain of solid wood: divide before use and never
hold them against characteristic or design values. For plywood take the reductions at the end of
this module.
"""

from __future__ import annotations

import math
from typing import Final

from stowright.errors import OutOfRangeError, require_positive
from stowright.formulas.sources import Source

__all__ = [
    "EDGE_OF_FACE",
    "PLYWOOD_FACE_FACTOR",
    "SOURCES",
    "lag_screw_withdrawal_n",
    "lateral_lead_hole_mm",
    "nail_withdrawal_n",
    "plywood_nail_withdrawal_n",
    "plywood_screw_withdrawal_n",
    "screw_withdrawal_allowable_n",
    "screw_withdrawal_n",
    "staple_leg_mm",
    "withdrawal_lead_hole_mm",
]

PLYWOOD_FACE_FACTOR: Final = 0.7
EDGE_OF_FACE: Final = 0.75

_RESTATED: Final = Source(
    text=(
        "USDA Wood Handbook FPL-GTR-190 (2010), ch. 8, imperial constant from a public restatement,"
        " metric by exact conversion; mean ultimate, side grain"
    ),
    standing="public restatement",
)
_LEAD: Final = Source(
    text="NDS lead-hole rules as printed in a civil engineering handbook",
    standing="public restatement",
)
SOURCES: Final = {
    "screw_withdrawal_n": _RESTATED,
    "nail_withdrawal_n": _RESTATED,
    "screw_withdrawal_allowable_n": Source(
        text="allowable withdrawal 2850 G^2 D lb per inch, building design handbook eq. 6.37",
        standing="public restatement",
    ),
    "lag_screw_withdrawal_n": Source(
        text="USDA Wood Handbook, ch. 8, lag screws (8100 lb-inch form)", standing="from memory"
    ),
    "plywood_screw_withdrawal_n": Source(
        text=(
            "Wood Handbook ultimate times 0.7 for a plywood face (Ahn, Pang & Oh 2021 found the"
            " expression too high for plywood; the size of the reduction is a choice) and 0.75 of"
            " the face for an edge (Wu 1999, direction only)"
        ),
        standing="judgement",
    ),
    "plywood_nail_withdrawal_n": Source(
        text=(
            "association paper on 1900 nail tests in plywood and oriented strand board: equivalent"
            " specific gravity 0.40 smooth, 0.70 ring shank, 0.75 in wet service"
        ),
        standing="published",
    ),
    "withdrawal_lead_hole_mm": _LEAD,
    "lateral_lead_hole_mm": _LEAD,
    "staple_leg_mm": Source(
        text="USDA Wood Handbook FPL-GTR-190 (2010), ch. 8, staples", standing="published"
    ),
}


def _require_fastener(
    *, specific_gravity: float, diameter_mm: float, penetration_mm: float
) -> None:
    """Refuse what is not there; a specific gravity of wood lies below 1.3."""
    require_positive(
        specific_gravity=specific_gravity, diameter_mm=diameter_mm, penetration_mm=penetration_mm
    )
    if not specific_gravity <= 1.3:
        raise OutOfRangeError("specific_gravity", specific_gravity, "at most 1.3 (wood)")


def screw_withdrawal_n(
    *, specific_gravity: float, diameter_mm: float, penetration_mm: float
) -> float:
    """Return the mean ultimate withdrawal load of a wood screw. [N].

    p = 108.25 G^2 D L: G oven-dry specific gravity, D shank diameter [mm], L threaded penetration
    [mm]. (15700 G^2 D L in lb and inches.) Fully threaded tapping screws hold about 10 % more.

    Range: side grain only; wood screws should not be loaded in withdrawal from end grain.
    Source: USDA Wood Handbook, ch. 8. Standing: public restatement.

    Raises:
        OutOfRangeError: If a number is not above zero or G is above 1.3.
    """
    _require_fastener(
        specific_gravity=specific_gravity, diameter_mm=diameter_mm, penetration_mm=penetration_mm
    )
    return 108.25 * specific_gravity**2 * diameter_mm * penetration_mm


def screw_withdrawal_allowable_n(
    *, specific_gravity: float, diameter_mm: float, penetration_mm: float
) -> float:
    """Return the ALLOWABLE withdrawal load of a wood screw. [N].

    p = 19.65 G^2 D L in N and mm; 2850 G^2 D lb per inch of thread, about a 5.5th of the ultimate.

    Source: building design handbook eq. 6.37. Standing: public restatement.

    Raises:
        OutOfRangeError: If a number is not above zero or G is above 1.3.
    """
    _require_fastener(
        specific_gravity=specific_gravity, diameter_mm=diameter_mm, penetration_mm=penetration_mm
    )
    return 19.65 * specific_gravity**2 * diameter_mm * penetration_mm


def nail_withdrawal_n(
    *, specific_gravity: float, diameter_mm: float, penetration_mm: float
) -> float:
    """Return the mean ultimate withdrawal load of a bright common nail. [N].

    p = 54.12 G^(5/2) D L. (7850 G^(5/2) D L in lb and inches; an older edition has 6900.)

    Source: USDA Wood Handbook, ch. 8. Standing: public restatement.

    Raises:
        OutOfRangeError: If a number is not above zero or G is above 1.3.
    """
    _require_fastener(
        specific_gravity=specific_gravity, diameter_mm=diameter_mm, penetration_mm=penetration_mm
    )
    return 54.12 * math.pow(specific_gravity, 2.5) * diameter_mm * penetration_mm


def lag_screw_withdrawal_n(
    *,
    specific_gravity: float,
    diameter_mm: float,
    penetration_mm: float,
    end_grain: bool = False,
) -> float:
    """Return the mean ultimate withdrawal load of a lag (coach) screw. [N].

    p = 125.4 G^(3/2) D^(3/4) L; in end grain 3/4 of it.

    Source: USDA Wood Handbook, ch. 8. Standing: from memory (the 3/4: public restatement).

    Raises:
        OutOfRangeError: If a number is not above zero or G is above 1.3.
    """
    _require_fastener(
        specific_gravity=specific_gravity, diameter_mm=diameter_mm, penetration_mm=penetration_mm
    )
    side_n = 125.4 * math.pow(specific_gravity, 1.5) * math.pow(diameter_mm, 0.75) * penetration_mm
    return 0.75 * side_n if end_grain else side_n


def plywood_screw_withdrawal_n(
    *,
    specific_gravity: float,
    diameter_mm: float,
    penetration_mm: float,
    into_edge: bool,
) -> float:
    """Return a reduced mean ultimate withdrawal load of a wood screw in plywood. [N].

    0.7 of the solid-wood value in a face, 0.75 of that again in an edge.

    Source: Wood Handbook with two engineering reductions. Standing: judgement.

    Raises:
        OutOfRangeError: If a number is not above zero or G is above 1.3.
    """
    face_n = PLYWOOD_FACE_FACTOR * screw_withdrawal_n(
        specific_gravity=specific_gravity, diameter_mm=diameter_mm, penetration_mm=penetration_mm
    )
    return EDGE_OF_FACE * face_n if into_edge else face_n


def plywood_nail_withdrawal_n(
    *, diameter_mm: float, penetration_mm: float, ring_shank: bool, wet_service: bool
) -> float:
    """Return the mean ultimate withdrawal load of a nail in a plywood face. [N].

    The nail formula with an equivalent G of 0.40 (smooth or screw shank) or 0.70 (ring shank); x
    0.75 wet.

    Source: association paper on 1900 tests. Standing: published.

    Raises:
        OutOfRangeError: If a size is not above zero.
    """
    dry_n = nail_withdrawal_n(
        specific_gravity=0.70 if ring_shank else 0.40,
        diameter_mm=diameter_mm,
        penetration_mm=penetration_mm,
    )
    return 0.75 * dry_n if wet_service else dry_n


def withdrawal_lead_hole_mm(*, specific_gravity: float, root_diameter_mm: float) -> float:
    """Return the lead hole for a screw loaded in withdrawal; 0 where none is needed. [mm].

    0.7 of the root diameter for 0.5 < G <= 0.6, 0.9 above 0.6, none needed up to 0.5.

    Source: NDS rules in a civil engineering handbook. Standing: public restatement.

    Raises:
        OutOfRangeError: If a number is not above zero.
    """
    require_positive(specific_gravity=specific_gravity, root_diameter_mm=root_diameter_mm)
    if specific_gravity > 0.6:
        return 0.9 * root_diameter_mm
    return 0.7 * root_diameter_mm if specific_gravity > 0.5 else 0.0


def lateral_lead_hole_mm(
    *, specific_gravity: float, root_diameter_mm: float, shank_diameter_mm: float
) -> tuple[float, float]:
    """Return the lead holes for the thread and for the shank of a screw loaded sideways. [mm].

    Full root and shank diameter for G > 0.6, 7/8 of them below.

    Source: NDS rules in a civil engineering handbook. Standing: public restatement.

    Raises:
        OutOfRangeError: If a number is not above zero.
    """
    require_positive(
        specific_gravity=specific_gravity,
        root_diameter_mm=root_diameter_mm,
        shank_diameter_mm=shank_diameter_mm,
    )
    share = 1.0 if specific_gravity > 0.6 else 0.875
    return share * root_diameter_mm, share * shank_diameter_mm


def staple_leg_mm(*, nail_diameter_mm: float) -> float:
    """Return the leg diameter of a staple that carries what a nail carries. [mm].

    About 2/3 of the nail's diameter.

    Source: USDA Wood Handbook FPL-GTR-190 (2010), ch. 8. Standing: published.

    Raises:
        OutOfRangeError: If the diameter is not above zero.
    """
    require_positive(nail_diameter_mm=nail_diameter_mm)
    return nail_diameter_mm * 2.0 / 3.0
