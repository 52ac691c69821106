"""Least spacings, edge and end distances of nails and screws: EN 1995-1-1 and cross-bonded panels.

Angles are between the force and the grain (of the face veneer in a panel). a1 along, a2 across the
grain between fasteners; a3 to an end, a4 to an edge; t loaded (the force points at it), c free.
Millimetres.
"""

from __future__ import annotations

import math
from typing import Final, NamedTuple

from stowright.errors import OutOfRangeError, require_positive
from stowright.formulas.ranges import require_between
from stowright.formulas.sources import Source

__all__ = [
    "PANEL_TO_TIMBER",
    "SOURCES",
    "Distances",
    "axial_screw_distances",
    "cross_ply_panel_distances",
    "edge_face_greatest_diameter_mm",
    "must_predrill",
    "panel_penetration_ok",
    "plywood_edge_distances_mm",
    "timber_distances",
]

# Spacings (not edge distances) between a panel and timber may be this part of timber's, from
# memory.
PANEL_TO_TIMBER: Final = 0.85

_LIBRARY_AND_LVL: Final = Source(
    text="EN 1995-1-1, Table 8.2, by a public library and LVL Handbook (2025), Table 5.1",
    standing="public restatement",
)
SOURCES: Final = {
    "timber_distances": _LIBRARY_AND_LVL,
    "cross_ply_panel_distances": Source(
        text="LVL Handbook (2025), Table 5.1, wide face of cross-bonded LVL, taken for plywood",
        standing="public restatement",
    ),
    "axial_screw_distances": _LIBRARY_AND_LVL,
    "plywood_edge_distances_mm": Source(
        text="EN 1995-1-1, 8.3.1.3, plywood members", standing="from memory"
    ),
    "edge_face_greatest_diameter_mm": Source(
        text="geometry of twice the edge distance; distances of LVL Handbook (2025), Table 5.2",
        standing="derived",
    ),
    "must_predrill": Source(
        text="EN 1995-1-1, (8.18); always above 500 kg/m3 from memory",
        standing="public restatement",
    ),
    "panel_penetration_ok": Source(
        text="LVL Handbook (2025), Table 5.1, note", standing="public restatement"
    ),
}


class Distances(NamedTuple):
    """Least distances of a group of fasteners. [mm].

    Attributes:
        along_mm: a1, between fasteners along the grain.
        across_mm: a2, between fasteners across the grain.
        loaded_end_mm: a3,t.
        free_end_mm: a3,c.
        loaded_edge_mm: a4,t.
        free_edge_mm: a4,c.
    """

    along_mm: float
    across_mm: float
    loaded_end_mm: float
    free_end_mm: float
    loaded_edge_mm: float
    free_edge_mm: float


def _angle(angle_deg: float) -> tuple[float, float]:
    """Return cosine and sine of an angle between force and grain."""
    require_between(low=0.0, high=90.0, angle_deg=angle_deg)
    angle = math.radians(angle_deg)
    return math.cos(angle), math.sin(angle)


def timber_distances(*, diameter_mm: float, angle_deg: float, predrilled: bool) -> Distances:
    """Return the distances of nails and thin screws in timber. [mm].

    Not pre-drilled: a1 (5 + 5 cos) d, a2 5 d, a3t (10 + 5 cos) d, a3c 10 d, a4t (5 + 2 sin) d, a4c
    5 d. Pre-drilled: (4 + cos) d, (3 + sin) d, (7 + 5 cos) d, 7 d, (3 + 2 sin) d, 3 d.

    Range: d < 5 mm; not pre-drilled only in timber up to 420 kg/m3.
    Source: EN 1995-1-1, Table 8.2. Standing: public restatement.

    Raises:
        OutOfRangeError: If the diameter is not above zero or reaches 5 mm, or the angle is outside
        0 to 90.
    """
    require_positive(diameter_mm=diameter_mm)
    if not diameter_mm < 5.0:
        raise OutOfRangeError("diameter_mm", diameter_mm, "below 5 (other rows were not seen)")
    cos, sin = _angle(angle_deg)
    if predrilled:
        multiples = (4.0 + cos, 3.0 + sin, 7.0 + 5.0 * cos, 7.0, 3.0 + 2.0 * sin, 3.0)
    else:
        multiples = (5.0 + 5.0 * cos, 5.0, 10.0 + 5.0 * cos, 10.0, 5.0 + 2.0 * sin, 5.0)
    return Distances(*(multiple * diameter_mm for multiple in multiples))


def cross_ply_panel_distances(*, diameter_mm: float, angle_deg: float) -> Distances:
    """Return the distances of screws and nails in the wide face of a cross-ply panel. [mm].

    a1 (5 + 2 cos) d, a2 5 d, a3t (4 + 3 cos) d, a3c 5 d, a4t (3 + 4 sin) d, a4c 3 d.

    Range: penetration at least 10 d.
    Source: LVL Handbook (2025), Table 5.1. Standing: public restatement.

    Raises:
        OutOfRangeError: If the diameter is not above zero or the angle is outside 0 to 90.
    """
    require_positive(diameter_mm=diameter_mm)
    cos, sin = _angle(angle_deg)
    multiples = (5.0 + 2.0 * cos, 5.0, 4.0 + 3.0 * cos, 5.0, 3.0 + 4.0 * sin, 3.0)
    return Distances(*(multiple * diameter_mm for multiple in multiples))


def panel_penetration_ok(*, diameter_mm: float, penetration_mm: float) -> bool:
    """Say whether a penetration suits the cross-ply distances: at least 10 d.

    Source: LVL Handbook (2025), Table 5.1. Standing: public restatement.

    Raises:
        OutOfRangeError: If a size is not above zero.
    """
    require_positive(diameter_mm=diameter_mm, penetration_mm=penetration_mm)
    return penetration_mm >= 10.0 * diameter_mm


def axial_screw_distances(*, diameter_mm: float) -> Distances:
    """Return the distances of screws that are pulled. [mm].

    a1 7 d, a2 5 d, end 10 d, edge 4 d, to the centre of gravity of the thread.

    Source: EN 1995-1-1, 8.7.2. Standing: public restatement.

    Raises:
        OutOfRangeError: If the diameter is not above zero.
    """
    require_positive(diameter_mm=diameter_mm)
    return Distances(*(multiple * diameter_mm for multiple in (7.0, 5.0, 10.0, 10.0, 4.0, 4.0)))


def plywood_edge_distances_mm(*, diameter_mm: float, angle_deg: float) -> tuple[float, float]:
    """Return the loaded and the free edge distance in a plywood member. [mm].

    (3 + 4 sin) d and 3 d.

    Source: EN 1995-1-1, 8.3.1.3. Standing: from memory.

    Raises:
        OutOfRangeError: If the diameter is not above zero or the angle is outside 0 to 90.
    """
    require_positive(diameter_mm=diameter_mm)
    _, sin = _angle(angle_deg)
    return (3.0 + 4.0 * sin) * diameter_mm, 3.0 * diameter_mm


def edge_face_greatest_diameter_mm(
    *, thickness_mm: float, pulled: bool, predrilled: bool = True
) -> float:
    """Return the thickest fastener that keeps its edge distance in the edge of a panel. [mm].

    d = t / (2 k), k = 3 pushed sideways in a pre-drilled edge, 7 not pre-drilled, 4 pulled: a 27 mm
    edge takes 4.5, 1.9 and 3.4 mm, an 18 mm edge 3.0 or 2.25.

    Source: geometry with LVL Handbook (2025), Table 5.2. Standing: derived.

    Raises:
        OutOfRangeError: If the thickness is not above zero.
    """
    require_positive(thickness_mm=thickness_mm)
    multiple = 3.0 if predrilled else 7.0
    if pulled:
        multiple = max(multiple, 4.0)
    return thickness_mm / (2.0 * multiple)


def must_predrill(*, diameter_mm: float, thickness_mm: float, density_kg_m3: float) -> bool:
    """Say whether timber has to be pre-drilled for a nail or a thin screw.

    Thinner than max(7 d, (13 d - 30) rho_k / 400) (8.18), or denser than 500 kg/m3.

    Source: EN 1995-1-1, (8.18). Standing: public restatement.

    Raises:
        OutOfRangeError: If a number is not above zero.
    """
    require_positive(
        diameter_mm=diameter_mm, thickness_mm=thickness_mm, density_kg_m3=density_kg_m3
    )
    least_mm = max(7.0 * diameter_mm, (13.0 * diameter_mm - 30.0) * density_kg_m3 / 400.0)
    return density_kg_m3 > 500.0 or thickness_mm < least_mm
