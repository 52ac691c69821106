"""How far the bay is out of square, from its diagonals. Millimetres.

With the tail's corners on the y axis, the cab's corners at lengths l (left) and r (right) and moved
sideways by s, and W the mean of the widths at tail and cab:

    d1^2 = l^2 + (W + s)^2,   d2^2 = r^2 + (W - s)^2,   d1^2 - d2^2 = 4 W s + (l^2 - r^2)

(own derivation, exact for any taper). Side walls that lean and a headboard out of square give the
same difference of the diagonals; lengths read at both sides tell how much of it is the headboard's.
The first diagonal counts as the one from the tail's right to the cab's left corner; since a builder
may have written them the other way round, the order that lets the lengths explain more is taken.
"""

from __future__ import annotations

from dataclasses import dataclass

from stowright.design.bay_solid import bay_solid, headboard_x, wall_y
from stowright.model.bay import Bay, LengthStation
from stowright.model.design import Skew

__all__ = ["skew_of", "skew_words"]

#: Lengths this far off the centre line count as read at a side. [mm].
AT_A_SIDE = 100.0
#: A lean less than this is none. [mm].
NO_LEAN = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class _Headboard:
    """What the lengths at both sides say: l^2 - r^2 at the corners, and its error. [mm2]."""

    difference: float
    error: float


def skew_of(bay: Bay) -> Skew:
    """Return the sideways lean of the side walls over the bay's length, with its range and cause.

    Where lengths at both sides are missing the whole difference is taken as lean, the cautious
    reading for the width; the cause then is "not known which".
    """
    if bay.diagonals is None:
        return Skew(lean=0.0, low=0.0, high=0.0, cause="not measured")
    first, second = bay.diagonals
    width = _mean_width(bay)
    difference = first * first - second * second
    error = 2.0 * bay.reading_error * (first + second)
    headboard = _headboard(bay, width)
    if headboard is None:
        cause = "not known which"
        unexplained = difference
    else:
        order = min((1.0, -1.0), key=lambda sign: abs(sign * difference - headboard.difference))
        unexplained = order * difference - headboard.difference
        error += headboard.error
        by_headboard = abs(unexplained) < 0.5 * abs(difference)
        cause = "headboard" if by_headboard else "side lean"
    lean = unexplained / (4.0 * width)
    spread = error / (4.0 * width)
    if abs(difference) / (4.0 * width) < NO_LEAN and abs(lean) < NO_LEAN:
        cause = "square"
    return Skew(lean=lean, low=lean - spread, high=lean + spread, cause=cause)


def _mean_width(bay: Bay) -> float:
    """Return the mean of the widths at tail and cab, at the floor."""
    solid = bay_solid(bay)
    far = headboard_x(solid, y=0.0, z=0.0)
    return (
        sum(wall_y(solid, side=side, x=x, z=0.0) for side in ("left", "right") for x in (0.0, far))
        / 2.0
    )


def _headboard(bay: Bay, width: float) -> _Headboard | None:
    """Return what the lengths at both sides of the lowest level say, None without them."""
    lowest = min(station.height for station in bay.lengths)
    level = [station for station in bay.lengths if station.height == lowest]
    left = max(level, key=lambda station: station.y)
    right = min(level, key=lambda station: station.y)
    if left.y < AT_A_SIDE or right.y > -AT_A_SIDE:
        return None
    at_left, at_right = (_at_corner(left, right, y) for y in (width / 2.0, -width / 2.0))
    slope_error = 2.0 * bay.reading_error / (left.y - right.y)
    return _Headboard(
        difference=at_left * at_left - at_right * at_right,
        error=slope_error * width * (at_left + at_right),
    )


def _at_corner(left: LengthStation, right: LengthStation, y: float) -> float:
    """Return the length at a corner, on the straight line through two readings."""
    slope = (left.length - right.length) / (left.y - right.y)
    return right.length + slope * (y - right.y)


def skew_words(skew: Skew, *, shown: str) -> str:
    """Return a skew in words.

    Args:
        skew: The skew.
        shown: Its lean as printed, with its unit.
    """
    match skew.cause:
        case "not measured":
            return "not known: no diagonals were read"
        case "square":
            return "square by its diagonals"
        case "headboard":
            return f"the headboard is out of square; {shown} of lean are left for the side walls"
        case "side lean":
            return f"the side walls lean sideways by {shown} over the length"
        case _:
            return (
                f"side lean or headboard, not known which: taken as {shown} of lean; "
                "lengths read at both sides would tell"
            )
