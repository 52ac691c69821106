"""Plywood sheets as delivered: thickness limits, squareness, mass."""

from __future__ import annotations

from typing import Final, NamedTuple

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.sources import Source

__all__ = [
    "SOURCES",
    "SQUARENESS_MM_PER_M",
    "THICKNESS_STATIONS",
    "WITHIN_SHEET_MM",
    "ThicknessLimits",
    "diagonal_allowance_mm",
    "out_of_square_mm",
    "sanded_thickness_limits",
    "sheet_mass_kg",
    "unsanded_thickness_limits",
]

# Worst squareness and edge straightness of a mill's sheets; EN 315 has 1 (Chinese text read).
SQUARENESS_MM_PER_M: Final = 2.0
# Spread within one sheet up to 24 mm, one mill's table.
WITHIN_SHEET_MM: Final = 0.6
# EN 324-1: eight places 50 mm in from the edge, read to 0.1 mm.
THICKNESS_STATIONS: Final = 8

SOURCES: Final = {
    "sanded_thickness_limits": Source(
        text="EN 315 / ISO 1954 formula as in GB/T 9846 and a mill's table",
        standing="public restatement",
    ),
    "unsanded_thickness_limits": Source(
        text="a mill's table for unsanded sheets (+1.1/-0.6 at 12 mm, +1.3/-0.8 at 18 mm)",
        standing="public restatement",
    ),
    "sheet_mass_kg": Source(text="length x width x thickness x density", standing="derived"),
    "out_of_square_mm": Source(
        text="squareness in mm per m over a length; 1 in GB/T 9846, 2 at a mill",
        standing="public restatement",
    ),
    "diagonal_allowance_mm": Source(
        text="US PS 1-09 against EN 324-2, comparison by an association",
        standing="public restatement",
    ),
}


class ThicknessLimits(NamedTuple):
    """Least and greatest thickness that a sheet may have. [mm]."""

    least_mm: float
    greatest_mm: float


def sanded_thickness_limits(*, nominal_mm: float) -> ThicknessLimits:
    """Return the limits of a sanded sheet. [mm].

    t + (0.2 + 0.03 t), t - (0.4 + 0.03 t).

    Source: EN 315 formula. Standing: public restatement.

    Raises:
        OutOfRangeError: If the thickness is not above zero.
    """
    require_positive(nominal_mm=nominal_mm)
    return ThicknessLimits(
        least_mm=nominal_mm - (0.4 + 0.03 * nominal_mm),
        greatest_mm=nominal_mm + (0.2 + 0.03 * nominal_mm),
    )


def unsanded_thickness_limits(*, nominal_mm: float) -> ThicknessLimits:
    """Return the limits of an unsanded sheet. [mm].

    t + (0.8 + 0.03 t), t - (0.4 + 0.03 t) (the mill's own is 0.3 to 0.4; the wider is taken).

    Source: a mill's table. Standing: public restatement.

    Raises:
        OutOfRangeError: If the thickness is not above zero.
    """
    require_positive(nominal_mm=nominal_mm)
    return ThicknessLimits(
        least_mm=nominal_mm - (0.4 + 0.03 * nominal_mm),
        greatest_mm=nominal_mm + (0.8 + 0.03 * nominal_mm),
    )


def sheet_mass_kg(
    *, length_mm: float, width_mm: float, thickness_mm: float, density_kg_m3: float
) -> float:
    """Return the mass of a sheet or a rectangular part. [kg].

    m = rho L W t.

    Source: length x width x thickness x density. Standing: derived.

    Raises:
        OutOfRangeError: If a number is not above zero.
    """
    require_positive(
        length_mm=length_mm,
        width_mm=width_mm,
        thickness_mm=thickness_mm,
        density_kg_m3=density_kg_m3,
    )
    return density_kg_m3 * length_mm * width_mm * thickness_mm * 1e-9


def out_of_square_mm(
    *, length_mm: float, squareness_mm_per_m: float = SQUARENESS_MM_PER_M
) -> float:
    """Return how far an edge may run out of square; what trimming must take off. [mm].

    s L / 1000.

    Source: sheet rules. Standing: public restatement.

    Raises:
        OutOfRangeError: If the length is not above zero or the squareness is negative.
    """
    require_positive(length_mm=length_mm)
    require_not_negative(squareness_mm_per_m=squareness_mm_per_m)
    return squareness_mm_per_m * length_mm / 1000.0


def diagonal_allowance_mm(*, longest_edge_mm: float) -> float:
    """Return how much the diagonals of a US sheet may differ. [mm].

    1.3 mm per m of the longest edge (8 x 4 ft: 3.17 mm).

    Source: US PS 1-09. Standing: public restatement.

    Raises:
        OutOfRangeError: If the edge is not above zero.
    """
    require_positive(longest_edge_mm=longest_edge_mm)
    return 1.3 * longest_edge_mm / 1000.0
