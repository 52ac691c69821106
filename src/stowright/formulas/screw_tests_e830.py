"""Published tests of screws in plywood: association Technical Note E830 (2011), Tables 1 and 2.

MEAN ULTIMATE LATERAL loads, softwood plywood and steel. They stand in where a thin panel puts a
screw outside the code's range; divide (by 5 here, a judgement) before use. What lies between rows
takes the lower row.
"""

from __future__ import annotations

from typing import Final, Literal

from stowright.errors import OutOfRangeError, require_positive
from stowright.formulas.sources import Source

__all__ = [
    "DIVISOR",
    "SOURCES",
    "ScrewKind",
    "plywood_to_steel_ultimate_n",
    "steel_to_plywood_ultimate_n",
    "working_lateral_n",
]

type ScrewKind = Literal["wood", "tapping"]

DIVISOR: Final = 5.0
_NEWTON_PER_LB: Final = 4.4482216152605

# Steel side plate to plywood: kind, threaded penetration [mm], gauge -> mean ultimate [lb].
_INTO_PLYWOOD: Final[dict[ScrewKind, dict[float, dict[int, float]]]] = {
    "wood": {12.7: {8: 415.0, 12: 590.0}},
    "tapping": {
        12.7: {8: 465.0, 12: 670.0},
        15.9: {8: 500.0, 10: 600.0, 12: 705.0},
        19.0: {8: 590.0, 10: 655.0, 12: 715.0},
    },
}
# Plywood on 2 mm steel: plywood thickness [mm], gauge -> mean ultimate [lb].
_ONTO_STEEL: Final = {
    6.4: {8: 360.0, 10: 380.0},
    12.7: {8: 700.0, 10: 890.0},
    19.0: {8: 700.0, 10: 950.0},
}

_NOTE: Final = Source(
    text="association Technical Note E830 (2011), Tables 1 and 2, mean ultimate lateral",
    standing="published",
)
SOURCES: Final = {
    "steel_to_plywood_ultimate_n": _NOTE,
    "plywood_to_steel_ultimate_n": _NOTE,
    "working_lateral_n": Source(
        text="Technical Note E830 (2011), divided by 5, a judgement near the 5.5 of old allowables",
        standing="judgement",
    ),
}


def _row_at_or_below(rows: dict[float, dict[int, float]], at_mm: float) -> dict[int, float]:
    """Return the row of the greatest tabulated size that is not above the given one."""
    below = [size for size in rows if size <= at_mm]
    if not below:
        raise OutOfRangeError(
            "tested size in mm", at_mm, f"at least {min(rows):g}, the least tested"
        )
    return rows[max(below)]


def _gauge_at_or_below(row: dict[int, float], gauge: int) -> float:
    """Return the load of the thickest tabulated gauge that is not above the given one. [N]."""
    below = [size for size in row if size <= gauge]
    if not below:
        raise OutOfRangeError("gauge", gauge, f"at least {min(row)}, the least tested")
    return row[max(below)] * _NEWTON_PER_LB


def steel_to_plywood_ultimate_n(*, kind: ScrewKind, gauge: int, penetration_mm: float) -> float:
    """Return the mean ultimate lateral load of a screw through a steel plate into plywood. [N].

    4.8 mm steel, end distance 25 mm, by threaded penetration and gauge.

    Range: penetration from 12.7 mm, gauge from #8.
    Source: Technical Note E830, Table 1. Standing: published.

    Raises:
        OutOfRangeError: Below the least that was tested.
    """
    require_positive(penetration_mm=penetration_mm)
    return _gauge_at_or_below(_row_at_or_below(_INTO_PLYWOOD[kind], penetration_mm), gauge)


def plywood_to_steel_ultimate_n(*, gauge: int, plywood_mm: float) -> float:
    """Return the mean ultimate lateral load of a screw through plywood into 2 mm steel. [N].

    By the plywood's thickness and gauge.

    Range: plywood from 6.4 mm, gauge from #8.
    Source: Technical Note E830, Table 2. Standing: published.

    Raises:
        OutOfRangeError: Below the least that was tested.
    """
    require_positive(plywood_mm=plywood_mm)
    return _gauge_at_or_below(_row_at_or_below(_ONTO_STEEL, plywood_mm), gauge)


def working_lateral_n(*, ultimate_n: float, divisor: float = DIVISOR) -> float:
    """Return a working load from a mean ultimate test load. [N].

    F_u / 5.

    Source: Technical Note E830, divided. Standing: judgement.

    Raises:
        OutOfRangeError: If the load or the divisor is not above zero.
    """
    require_positive(ultimate_n=ultimate_n, divisor=divisor)
    return ultimate_n / divisor
