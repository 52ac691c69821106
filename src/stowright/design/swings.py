"""Rectangles that are turned: through an opening, and upright again behind it. Millimetres.

Turned by a, a rectangle p wide and q high takes p cos a + q sin a in width and p sin a + q cos a in
height (own derivation: the sums of its sides' shadows).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, atan2, cos, hypot, pi, sin, sqrt

from stowright.errors import require_positive

__all__ = ["Roll", "rolled_fit", "swing_extents"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Roll:
    """The best angle at which a rectangle passes an opening.

    Attributes:
        angle: From upright. [rad]
        width, height: What it takes at that angle. [mm]
        room: Least of the room left in width and in height; negative when it does not pass. [mm]
    """

    angle: float
    width: float
    height: float
    room: float


def rolled_fit(
    *, width_mm: float, height_mm: float, opening_width_mm: float, opening_height_mm: float
) -> Roll:
    """Return the angle at which a rectangle passes an upright opening with the most room.

    The room in width and in height is convex in the angle over the quarter turn, so the lesser of
    the two is greatest at an end of it or where both are equal:
    (p - q)(cos a - sin a) = W - H. (Own derivation.)

    Args:
        width_mm: Width p of the section. [mm]
        height_mm: Its height q. [mm]
        opening_width_mm: W. [mm]
        opening_height_mm: H; may be unbounded. [mm]

    Raises:
        OutOfRangeError: If the section has no width or height.
    """
    require_positive(width_mm=width_mm, height_mm=height_mm)
    angles = [0.0, pi / 2.0]
    if width_mm != height_mm and opening_height_mm < float("inf"):
        ratio = (opening_width_mm - opening_height_mm) / (width_mm - height_mm)
        if abs(ratio) <= 1.0:
            angles.append(acos(ratio / sqrt(2.0)) - pi / 4.0)
    rolls = []
    for a in angles:
        width = width_mm * cos(a) + height_mm * sin(a)
        height = width_mm * sin(a) + height_mm * cos(a)
        room = min(opening_width_mm - width, opening_height_mm - height)
        rolls.append(Roll(angle=a, width=width, height=height, room=room))
    return max(rolls, key=lambda roll: (roll.room, -roll.angle))


def swing_extents(width: float, height: float, angle: float) -> tuple[float, float]:
    """Return the greatest width and height of a rectangle while it turns upright from an angle.

    Each extent passes the diagonal once in a quarter turn. [mm, rad]
    """
    lean = atan2(height, width)
    diagonal = hypot(width, height)
    wide = diagonal if angle >= lean else width * cos(angle) + height * sin(angle)
    high = diagonal if angle >= pi / 2.0 - lean else width * sin(angle) + height * cos(angle)
    return max(wide, width), max(high, height)
