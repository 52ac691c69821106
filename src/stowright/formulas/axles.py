"""What an added mass does to the axles: moment balance on two supports.

x is the distance behind the front axle [mm]; beyond the rear axle it exceeds the wheelbase, and the
front axle is unloaded. Masses [kg]; removed things have negative mass.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from stowright.errors import require_not_negative, require_positive
from stowright.formulas.ranges import require_finite
from stowright.formulas.sources import Source

__all__ = [
    "OCCUPANT_KG",
    "SOURCES",
    "AxleMasses",
    "axle_change_kg",
    "axle_masses_kg",
    "ball_overhang_ratio",
    "brake_transfer_kg",
    "centre_of_mass_mm",
    "front_share",
    "payload_left_kg",
    "tow_ball_change_kg",
]

# Assumed mass of a person where none was weighed; 68 is used in some places, 75 is the safe side.
OCCUPANT_KG: Final = 75.0

_BALANCE: Final = Source(text="standard moment balance of a two-axle vehicle", standing="published")
SOURCES: Final = {name: _BALANCE for name in __all__ if name.islower()} | {
    "brake_transfer_kg": Source(
        text="load transfer under braking, m a h / L", standing="public restatement"
    ),
}


class AxleMasses(NamedTuple):
    """What stands on each axle. [kg]."""

    front_kg: float
    rear_kg: float

    @property
    def total_kg(self) -> float:
        """Both axles together. [kg]."""
        return self.front_kg + self.rear_kg


def axle_change_kg(*, mass_kg: float, behind_front_mm: float, wheelbase_mm: float) -> AxleMasses:
    """Return what an added mass puts on each axle. [kg].

    dR = m x / L, dF = m - dR.

    Source: moment balance. Standing: published.

    Raises:
        OutOfRangeError: If the wheelbase is not above zero or a number is not finite.
    """
    require_positive(wheelbase_mm=wheelbase_mm)
    require_finite(mass_kg=mass_kg, behind_front_mm=behind_front_mm)
    rear_kg = mass_kg * behind_front_mm / wheelbase_mm
    return AxleMasses(front_kg=mass_kg - rear_kg, rear_kg=rear_kg)


def tow_ball_change_kg(
    *, ball_mass_kg: float, behind_rear_mm: float, wheelbase_mm: float
) -> AxleMasses:
    """Return what a mass on the tow ball puts on each axle. [kg].

    dR = m (1 + o/L), dF = -m o/L, o the ball's distance behind the rear axle.

    Source: moment balance. Standing: published.

    Raises:
        OutOfRangeError: If the wheelbase is not above zero or a number is not finite.
    """
    return axle_change_kg(
        mass_kg=ball_mass_kg,
        behind_front_mm=wheelbase_mm + behind_rear_mm,
        wheelbase_mm=wheelbase_mm,
    )


def axle_masses_kg(
    *,
    start: AxleMasses,
    items: Sequence[tuple[float, float]],
    wheelbase_mm: float,
) -> AxleMasses:
    """Return the axle masses after adding items. [kg].

    F = F0 + sum dF, R = R0 + sum dR; each item is (mass [kg], distance behind the front axle [mm]).

    Source: moment balance. Standing: published.

    Raises:
        OutOfRangeError: If the wheelbase is not above zero or a number is not finite.
    """
    changes = [
        axle_change_kg(mass_kg=mass_kg, behind_front_mm=behind_mm, wheelbase_mm=wheelbase_mm)
        for mass_kg, behind_mm in items
    ]
    return AxleMasses(
        front_kg=math.fsum([start.front_kg, *(change.front_kg for change in changes)]),
        rear_kg=math.fsum([start.rear_kg, *(change.rear_kg for change in changes)]),
    )


def centre_of_mass_mm(*, masses: AxleMasses, wheelbase_mm: float) -> float:
    """Return how far the centre of mass lies behind the front axle. [mm].

    x = R L / (F + R).

    Source: moment balance. Standing: published.

    Raises:
        OutOfRangeError: If the wheelbase or the total is not above zero.
    """
    require_positive(wheelbase_mm=wheelbase_mm, total_kg=masses.total_kg)
    return masses.rear_kg * wheelbase_mm / masses.total_kg


def front_share(*, masses: AxleMasses) -> float:
    """Return the part of the mass on the steered front axle. [-].

    F / (F + R). Some categories ask for 0.20 and more (EU 1230/2012, from memory).

    Source: moment balance. Standing: published.

    Raises:
        OutOfRangeError: If the total is not above zero.
    """
    require_positive(total_kg=masses.total_kg)
    return masses.front_kg / masses.total_kg


def ball_overhang_ratio(*, ball_mass_kg: float, rear_gain_kg: float) -> float:
    """Return o/L from a weighing with and without the trailer. [-].

    o/L = dR / m - 1.

    Source: moment balance. Standing: published.

    Raises:
        OutOfRangeError: If the ball mass is not above zero or the gain is not finite.
    """
    require_positive(ball_mass_kg=ball_mass_kg)
    require_finite(rear_gain_kg=rear_gain_kg)
    return rear_gain_kg / ball_mass_kg - 1.0


def brake_transfer_kg(
    *, mass_kg: float, braking: float, height_mm: float, wheelbase_mm: float
) -> float:
    """Return the mass that moves from the rear to the front axle under braking; information. [kg].

    dm = m a h / L, a in g, h the height of the centre of mass above the road.

    Source: load transfer under braking. Standing: public restatement.

    Raises:
        OutOfRangeError: If the wheelbase is not above zero or a number is negative.
    """
    require_positive(wheelbase_mm=wheelbase_mm)
    require_not_negative(mass_kg=mass_kg, braking=braking, height_mm=height_mm)
    return mass_kg * braking * height_mm / wheelbase_mm


def payload_left_kg(*, masses: AxleMasses, limit_kg: float) -> float:
    """Return what may still be added before the total limit; negative when it is passed. [kg].

    limit - F - R. Being under it does not prove either axle.

    Source: moment balance. Standing: published.

    Raises:
        OutOfRangeError: If the limit is not above zero.
    """
    require_positive(limit_kg=limit_kg)
    return limit_kg - masses.total_kg
