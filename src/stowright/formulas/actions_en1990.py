"""EN 1990: factors on loads, and the vertical shock of the road as this program takes it."""

from __future__ import annotations

from typing import Final, Literal

from stowright.errors import BasisMixError, require_not_negative
from stowright.formulas.ranges import require_at_least
from stowright.formulas.sources import Source

__all__ = [
    "ROAD_SHOCK",
    "SOURCES",
    "ULTIMATE_DIVISOR",
    "load_factor",
    "road_shock",
    "working_load_n",
]

# Vertical acceleration on contents and parts, in g, gravity included: a judgement.
ROAD_SHOCK: Final = {"sealed": 2.0, "rough": 3.0}
# What a mean ultimate test value is divided by before it is a working value: a judgement.
ULTIMATE_DIVISOR: Final = 5.0

SOURCES: Final = {
    "load_factor": Source(
        text="EN 1990, factors 1.35 on own mass and 1.5 on people and contents",
        standing="from memory",
    ),
    "road_shock": Source(
        text="2.0 g on sealed and 3.0 g on rough roads, a choice", standing="judgement"
    ),
    "working_load_n": Source(
        text="mean ultimate value divided by 5, a choice near the 5.5 of old allowable loads",
        standing="judgement",
    ),
}


def load_factor(
    *,
    load: Literal["own mass", "people", "contents"],
    capacity_basis: Literal["characteristic", "working load", "mean ultimate"],
) -> float:
    """Return the factor on a vertical load that is held against a kind of capacity. [-].

    Characteristic values: 1.35 on own mass, 1.5 on people and contents. Working-load values: 1.0.
    Mean ultimate values are refused: divide them first.

    Source: EN 1990. Standing: from memory.

    Raises:
        BasisMixError: If the capacity is a mean ultimate value.
    """
    if capacity_basis == "mean ultimate":
        raise BasisMixError("factored or working demand", "mean ultimate, not yet divided")
    if capacity_basis == "working load":
        return 1.0
    return 1.35 if load == "own mass" else 1.5


def road_shock(*, road: Literal["sealed", "rough"]) -> float:
    """Return the vertical acceleration that contents and parts see, gravity included. [g].

    2.0 on sealed, 3.0 on rough roads; instantaneous.

    Source: a choice of this program. Standing: judgement.
    """
    return ROAD_SHOCK[road]


def working_load_n(*, mean_ultimate_n: float, divisor: float = ULTIMATE_DIVISOR) -> float:
    """Return a working load from a mean ultimate test value. [N].

    F = F_u / 5 unless another divisor is stated.

    Source: a choice of this program. Standing: judgement.

    Raises:
        OutOfRangeError: If the divisor is below 1 or the load is negative.
    """
    require_not_negative(mean_ultimate_n=mean_ultimate_n)
    require_at_least(low=1.0, divisor=divisor)
    return mean_ultimate_n / divisor
