"""A body with drawers out, level or on a slope, and a vehicle on its wheels. [kg, mm, degrees].

Masses stand at a distance ``at`` from the edge that the body could tip over, positive on the side
that keeps it down, and at a height ``up`` above that edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final, NamedTuple

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.gravity import GRAVITY_M_S2
from stowright.formulas.ranges import require_between, require_finite
from stowright.formulas.sources import Source

__all__ = ["SOURCES", "MassAt", "TippingMoments", "counterweight_kg", "moments_n_mm"]

_STATICS: Final = Source(text="moments about an edge on an incline", standing="derived")
SOURCES: Final = {name: _STATICS for name in __all__ if name.islower()}


class MassAt(NamedTuple):
    """A mass beside the edge that a body could tip over.

    Attributes:
        mass_kg: Mass, factors included.
        at_mm: Distance from the edge, positive where it keeps the body down.
        up_mm: Height above the edge.
    """

    mass_kg: float
    at_mm: float
    up_mm: float


class TippingMoments(NamedTuple):
    """Moments about the edge. [N mm].

    Attributes:
        over_n_mm: What tips the body over.
        back_n_mm: What keeps it down.
    """

    over_n_mm: float
    back_n_mm: float


def moments_n_mm(masses: Iterable[MassAt], *, angle_deg: float = 0.0) -> TippingMoments:
    """Return what tips a body over an edge that lies downhill, and what keeps it down. [N mm].

    Each mass gives g m (x cos theta - h sin theta): kept down where positive, tipped where
    negative.

    Source: moments about an edge on an incline. Standing: derived.

    Raises:
        OutOfRangeError: If a mass is negative, a number is not finite or the angle is not from 0 to
        45.
    """
    require_between(low=0.0, high=45.0, angle_deg=angle_deg)
    cosine, sine = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    over = back = 0.0
    for mass in masses:
        require_not_negative(mass_kg=mass.mass_kg)
        require_finite(mass_kg=mass.mass_kg, at_mm=mass.at_mm, up_mm=mass.up_mm)
        moment = GRAVITY_M_S2 * mass.mass_kg * (mass.at_mm * cosine - mass.up_mm * sine)
        if moment >= 0.0:
            back += moment
        else:
            over -= moment
    return TippingMoments(over_n_mm=over, back_n_mm=back)


def counterweight_kg(*, moment_n_mm: float, arm_mm: float) -> float:
    """Return the mass that balances a moment when it lies at an arm from the edge. [kg].

    m = M / (g a).

    Source: moments about an edge. Standing: derived.

    Raises:
        OutOfRangeError: If the arm is not above zero or the moment is negative.
    """
    require_positive(arm_mm=arm_mm)
    require_not_negative(moment_n_mm=moment_n_mm)
    return moment_n_mm / (GRAVITY_M_S2 * arm_mm)
