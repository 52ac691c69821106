"""A drawer or a tray on a slope: what rolls, what holds it, what a latch has to take."""

from __future__ import annotations

import math
from typing import Final

from stowright.errors import require_not_negative
from stowright.formulas.gravity import GRAVITY_M_S2
from stowright.formulas.ranges import require_between
from stowright.formulas.sources import Source

__all__ = [
    "ROLLING_FRICTION",
    "SOURCES",
    "WORST_PARKED_GRADE_PERCENT",
    "grade_angle_deg",
    "latch_demand_n",
    "push_uphill_n",
    "roll_out_angle_deg",
    "run_away_force_n",
]

# Ball runners about 0.01 (0.01 to 0.03 for pressed steel), from memory.
ROLLING_FRICTION: Final = 0.01
# The slope that a parking brake is designed for (UN R13-H, from memory): the worst to park on.
WORST_PARKED_GRADE_PERCENT: Final = 20.0

_STATICS: Final = Source(text="statics on an incline", standing="derived")
SOURCES: Final = {name: _STATICS for name in __all__ if name.islower()}


def grade_angle_deg(*, grade_percent: float) -> float:
    """Return the angle of a slope given in per cent. [degrees].

    theta = atan(p / 100).

    Source: geometry. Standing: derived.

    Raises:
        OutOfRangeError: If the grade is negative.
    """
    require_not_negative(grade_percent=grade_percent)
    return math.degrees(math.atan(grade_percent / 100.0))


def push_uphill_n(*, mass_kg: float, angle_deg: float, friction: float = ROLLING_FRICTION) -> float:
    """Return the force that pushes a drawer uphill along its runners. [N].

    F = m g (sin theta + mu cos theta).

    Source: statics. Standing: derived.

    Raises:
        OutOfRangeError: If a number is negative or the angle above 90.
    """
    require_not_negative(mass_kg=mass_kg, friction=friction)
    require_between(low=0.0, high=90.0, angle_deg=angle_deg)
    angle = math.radians(angle_deg)
    return mass_kg * GRAVITY_M_S2 * (math.sin(angle) + friction * math.cos(angle))


def run_away_force_n(
    *, mass_kg: float, angle_deg: float, friction: float = ROLLING_FRICTION
) -> float:
    """Return the force with which a drawer rolls downhill by itself; 0 when it stays. [N].

    F = max(0, m g (sin theta - mu cos theta)).

    Source: statics. Standing: derived.

    Raises:
        OutOfRangeError: If a number is negative or the angle above 90.
    """
    require_not_negative(mass_kg=mass_kg, friction=friction)
    require_between(low=0.0, high=90.0, angle_deg=angle_deg)
    angle = math.radians(angle_deg)
    return max(0.0, mass_kg * GRAVITY_M_S2 * (math.sin(angle) - friction * math.cos(angle)))


def roll_out_angle_deg(*, friction: float = ROLLING_FRICTION) -> float:
    """Return the slope at which an unlatched drawer begins to roll. [degrees].

    theta = atan(mu).

    Source: statics. Standing: derived.

    Raises:
        OutOfRangeError: If the friction is negative.
    """
    require_not_negative(friction=friction)
    return math.degrees(math.atan(friction))


def latch_demand_n(*, mass_kg: float, fraction: float, angle_deg: float = 0.0) -> float:
    """Return the force that a latch or lock has to hold. [N].

    F = m g (a + sin theta): a the restraint acceleration in the direction the drawer opens [g],
    theta a slope taken at the same time. Parked on a slope is a case of its own with a = 0.

    Source: statics. Standing: derived.

    Raises:
        OutOfRangeError: If a number is negative or the angle above 90.
    """
    require_not_negative(mass_kg=mass_kg, fraction=fraction)
    require_between(low=0.0, high=90.0, angle_deg=angle_deg)
    return mass_kg * GRAVITY_M_S2 * (fraction + math.sin(math.radians(angle_deg)))
