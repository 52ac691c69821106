"""Floor-mounted equipment on four anchors, by the ASCE 7-22 chapter 13 worked method.

Kept as a second opinion: it spreads the dead load evenly over the anchors instead of taking moments
about the toe, so it differs from ``anchorage``.
"""

from __future__ import annotations

from typing import Final

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.sources import Source

__all__ = ["SOURCES", "net_anchor_tension_n", "overturning_tension_n"]

_EXAMPLE: Final = Source(
    text="published worked example of floor-mounted equipment, ASCE 7-22 ch. 13 method",
    standing="public restatement",
)
SOURCES: Final = {name: _EXAMPLE for name in __all__ if name.islower()}


def overturning_tension_n(
    *, push_n: float, height_mm: float, tension_anchors: int, row_spacing_mm: float
) -> float:
    """Return the pull on each anchor of the tension row from overturning alone. [N].

    T = F_p h / (n d), d between the two rows.

    Source: ASCE 7-22 ch. 13 worked example. Standing: public restatement.

    Raises:
        OutOfRangeError: If there is no anchor, the spacing is not above zero or a load is negative.
    """
    require_positive(tension_anchors=tension_anchors, row_spacing_mm=row_spacing_mm)
    require_not_negative(push_n=push_n, height_mm=height_mm)
    return push_n * height_mm / (tension_anchors * row_spacing_mm)


def net_anchor_tension_n(
    *,
    push_n: float,
    height_mm: float,
    tension_anchors: int,
    row_spacing_mm: float,
    uplift_n: float,
    weight_n: float,
    anchors: int,
) -> float:
    """Return the net pull on each anchor of the tension row; never below zero. [N].

    T = F_p h / (n_t d) + F_v / n - 0.6 W / n.

    Source: ASCE 7-22 ch. 13 worked example. Standing: public restatement.

    Raises:
        OutOfRangeError: If there is no anchor, the spacing is not above zero or a load is negative.
    """
    require_positive(anchors=anchors)
    require_not_negative(uplift_n=uplift_n, weight_n=weight_n)
    over_n = overturning_tension_n(
        push_n=push_n,
        height_mm=height_mm,
        tension_anchors=tension_anchors,
        row_spacing_mm=row_spacing_mm,
    )
    return max(0.0, over_n + (uplift_n - 0.6 * weight_n) / anchors)
