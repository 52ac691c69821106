"""How plywood moves with damp and heat."""

from __future__ import annotations

from typing import Final

from stowright.errors import require_not_negative
from stowright.formulas.ranges import require_between, require_finite
from stowright.formulas.sources import Source

__all__ = ["SOURCES", "damp_change_mm", "heat_change_mm", "thickness_change_mm"]

SOURCES: Final = {
    "damp_change_mm": Source(
        text="plywood association figure, 0.0002 for each 10 % relative humidity, on several pages",
        standing="published",
    ),
    "heat_change_mm": Source(
        text="thermal movement of plywood in its plane, 6.1e-6 per kelvin", standing="published"
    ),
    "thickness_change_mm": Source(
        text="0.3 to 0.4 % through the thickness for each 1 % moisture", standing="from memory"
    ),
}


def damp_change_mm(*, length_mm: float, humidity_from: float, humidity_to: float) -> float:
    """Return how much plywood grows in its plane; negative when it dries. [mm].

    0.0002 L for each 10 % of relative humidity [%].

    Source: plywood association figure. Standing: published.

    Raises:
        OutOfRangeError: If the length is negative or a humidity is outside 0 to 100.
    """
    require_not_negative(length_mm=length_mm)
    require_between(low=0.0, high=100.0, humidity_from=humidity_from, humidity_to=humidity_to)
    return 0.0002 * length_mm * (humidity_to - humidity_from) / 10.0


def heat_change_mm(*, length_mm: float, kelvin: float) -> float:
    """Return how much plywood grows in its plane when it warms. [mm].

    6.1e-6 L dT; 0.49 mm over 2 m for 40 K.

    Source: thermal movement of plywood. Standing: published.

    Raises:
        OutOfRangeError: If the length is negative or the temperature not finite.
    """
    require_not_negative(length_mm=length_mm)
    require_finite(kelvin=kelvin)
    return 6.1e-6 * length_mm * kelvin


def thickness_change_mm(*, thickness_mm: float, moisture_change_percent: float) -> float:
    """Return how much a sheet swells through its thickness. [mm].

    0.4 % of t for each 1 % of moisture content (0.3 to 0.4 are stated; the larger is taken).

    Source: 0.3 to 0.4 %. Standing: from memory.

    Raises:
        OutOfRangeError: If the thickness is negative or the change not finite.
    """
    require_not_negative(thickness_mm=thickness_mm)
    require_finite(moisture_change_percent=moisture_change_percent)
    return 0.004 * thickness_mm * moisture_change_percent
