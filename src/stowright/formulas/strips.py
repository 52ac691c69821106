"""Strips of a sheet that carry a point on a free edge or a tip, and what a batten takes of it.

The strip rule: a load near a free edge is carried by a strip of some width that works as a beam by
itself. The width of a strip between two held edges follows from the moment that the plate theory
finds there; that of a strip that stands over is a spread of one in two from the patch.
"""

from __future__ import annotations

from typing import Final

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.ranges import require_between
from stowright.formulas.sources import Source

__all__ = [
    "SOURCES",
    "cantilever_strip_width_mm",
    "edge_strip_width_mm",
    "share_by_stiffness",
]

SOURCES: Final = {
    "edge_strip_width_mm": Source(
        text="strip rule: beam moment over the plate moment at the free edge (Levy's series)",
        standing="derived",
    ),
    "cantilever_strip_width_mm": Source(
        text="strip rule: the load spreads by half the arm each way, a judgement",
        standing="judgement",
    ),
    "share_by_stiffness": Source(
        text="beams that bend alike share a load by E I", standing="derived"
    ),
}


def edge_strip_width_mm(
    *, patch_mm: float, span_mm: float, moment_per_load: float, most_mm: float
) -> float:
    """Return the width of the strip that carries a patch on a free edge. [mm].

    b = (2 L - c) / (8 m), m the plate moment per width and unit load under the patch, c the patch,
    L the span; never wider than the sheet.

    Source: strip rule with Levy's series. Standing: derived.

    Raises:
        OutOfRangeError: If a number is not above zero or the patch is longer than the span.
    """
    require_positive(patch_mm=patch_mm, moment_per_load=moment_per_load, most_mm=most_mm)
    require_between(low=patch_mm, high=float("inf"), span_mm=span_mm)
    return min((2.0 * span_mm - patch_mm) / (8.0 * moment_per_load), most_mm)


def cantilever_strip_width_mm(*, arm_mm: float, patch_mm: float, most_mm: float) -> float:
    """Return the width of the strip that carries a patch at the tip of what stands over. [mm].

    b = c + e/2 at a corner, the worst place: the load spreads by half its arm e to one side; never
    wider than the sheet.

    Source: a judgement. Standing: judgement.

    Raises:
        OutOfRangeError: If the arm is negative or another number is not above zero.
    """
    require_not_negative(arm_mm=arm_mm)
    require_positive(patch_mm=patch_mm, most_mm=most_mm)
    return min(patch_mm + arm_mm / 2.0, most_mm)


def share_by_stiffness(*, stiffness: float, others: float) -> float:
    """Return the share of a load that one of two beams takes which bend alike. [-].

    E I / (E I + sum of the others' E I).

    Source: strength of materials. Standing: derived.

    Raises:
        OutOfRangeError: If the beam has no stiffness or the others' is negative.
    """
    require_positive(stiffness=stiffness)
    require_not_negative(others=others)
    return stiffness / (stiffness + others)
