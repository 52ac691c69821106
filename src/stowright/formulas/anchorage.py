"""A rigid body on a floor: sliding, overturning and what its bolts see.

The body is thrown one way by a horizontal acceleration a [g] and lifted by a_v [g]. It turns about
its bottom edge on the side it is thrown towards (the pivot); x_c is the distance from that edge to
the centre of mass, measured along the push, and y_i that to bolt i. Lengths [mm], masses [kg],
forces [N], moments [N mm].
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, NamedTuple

from stowright.errors import OutOfRangeError, require_not_negative, require_positive
from stowright.formulas.gravity import GRAVITY_M_S2
from stowright.formulas.ranges import require_finite
from stowright.formulas.sources import Source

__all__ = [
    "SOURCES",
    "BoltShear",
    "bolt_group_pulls_n",
    "bolt_group_shears_n",
    "elastic_bolt_tensions_n",
    "far_row_tension_n",
    "net_overturning_moment_n_mm",
    "overturning_moment_n_mm",
    "restoring_moment_n_mm",
    "sliding_force_n",
    "tip_threshold",
    "uplift_per_bolt_n",
]

_STATICS: Final = Source(text="rigid-body statics", standing="derived")
SOURCES: Final = {name: _STATICS for name in __all__ if name.islower()}


class BoltShear(NamedTuple):
    """In-plane force on one bolt.

    Attributes:
        along_x_n: Part along x. [N].
        along_y_n: Part along y. [N].
        resultant_n: Both together. [N].
    """

    along_x_n: float
    along_y_n: float
    resultant_n: float


def sliding_force_n(
    *, mass_kg: float, push: float, friction: float = 0.0, lift: float = 0.0
) -> float:
    """Return the horizontal force left for the bolts after friction. [N].

    V = max(0, a W - mu (1 - a_v) W), the weight never below zero. Count no friction (the default)
    once bolts are fitted: vibration, lift and a waxy film make it unreliable.

    Source: rigid-body statics. Standing: derived.

    Raises:
        OutOfRangeError: If a number is negative.
    """
    require_not_negative(mass_kg=mass_kg, push=push, friction=friction, lift=lift)
    weight_n = mass_kg * GRAVITY_M_S2
    return max(0.0, push * weight_n - friction * max(0.0, 1.0 - lift) * weight_n)


def overturning_moment_n_mm(*, mass_kg: float, push: float, height_mm: float) -> float:
    """Return the moment that turns the body over. [N mm].

    M_o = a W h, h the height of the centre of mass above the pivot.

    Source: rigid-body statics. Standing: derived.

    Raises:
        OutOfRangeError: If a number is negative.
    """
    require_not_negative(mass_kg=mass_kg, push=push, height_mm=height_mm)
    return push * mass_kg * GRAVITY_M_S2 * height_mm


def restoring_moment_n_mm(*, mass_kg: float, arm_mm: float, lift: float = 0.0) -> float:
    """Return the moment that keeps the body down; negative when the lift exceeds 1 g. [N mm].

    M_r = (1 - a_v) W x_c.

    Source: rigid-body statics. Standing: derived.

    Raises:
        OutOfRangeError: If a number is negative.
    """
    require_not_negative(mass_kg=mass_kg, arm_mm=arm_mm, lift=lift)
    return (1.0 - lift) * mass_kg * GRAVITY_M_S2 * arm_mm


def net_overturning_moment_n_mm(
    *, mass_kg: float, push: float, height_mm: float, arm_mm: float, lift: float = 0.0
) -> float:
    """Return the moment left for the bolts. [N mm].

    M = max(0, a W h - (1 - a_v) W x_c).

    Source: rigid-body statics. Standing: derived.

    Raises:
        OutOfRangeError: If a number is negative.
    """
    over = overturning_moment_n_mm(mass_kg=mass_kg, push=push, height_mm=height_mm)
    return max(0.0, over - restoring_moment_n_mm(mass_kg=mass_kg, arm_mm=arm_mm, lift=lift))


def tip_threshold(*, arm_mm: float, height_mm: float) -> float:
    """Return the acceleration at which a body that stands free begins to tip. [g].

    a = x_c / h. It begins to slide at a = mu.

    Source: rigid-body statics. Standing: derived.

    Raises:
        OutOfRangeError: If the height is not above zero or the arm is negative.
    """
    require_positive(height_mm=height_mm)
    require_not_negative(arm_mm=arm_mm)
    return arm_mm / height_mm


def far_row_tension_n(*, moment_n_mm: float, bolts: int, distance_mm: float) -> float:
    """Return the pull on each bolt when only the row furthest from the pivot counts. [N].

    T = M / (n y).

    Source: rigid-body statics. Standing: derived.

    Raises:
        OutOfRangeError: If there is no bolt, the distance is not above zero or the moment is
        negative.
    """
    require_positive(bolts=bolts, distance_mm=distance_mm)
    require_not_negative(moment_n_mm=moment_n_mm)
    return moment_n_mm / (bolts * distance_mm)


def elastic_bolt_tensions_n(
    *, moment_n_mm: float, distances_mm: Sequence[float]
) -> tuple[float, ...]:
    """Return the pull on each bolt of a stiff base that turns about its pivot edge. [N].

    T_i = M y_i / sum(y_j^2).

    Source: rigid-body statics. Standing: derived.

    Raises:
        OutOfRangeError: If the moment or a distance is negative, or no bolt is off the pivot.
    """
    require_not_negative(moment_n_mm=moment_n_mm)
    for distance_mm in distances_mm:
        require_not_negative(distance_mm=distance_mm)
    squares = math.sumprod(distances_mm, distances_mm)
    require_positive(sum_of_squared_distances_mm2=squares)
    return tuple(moment_n_mm * distance_mm / squares for distance_mm in distances_mm)


def uplift_per_bolt_n(*, mass_kg: float, lift: float, bolts: int) -> float:
    """Return the pull on each bolt when the body is lifted by more than its weight. [N].

    T = max(0, a_v - 1) W / n.

    Source: rigid-body statics. Standing: derived.

    Raises:
        OutOfRangeError: If there is no bolt or a number is negative.
    """
    require_positive(bolts=bolts)
    require_not_negative(mass_kg=mass_kg, lift=lift)
    return max(0.0, lift - 1.0) * mass_kg * GRAVITY_M_S2 / bolts


def bolt_group_shears_n(
    *,
    bolts_mm: Sequence[tuple[float, float]],
    force_x_n: float,
    force_y_n: float,
    at_x_mm: float,
    at_y_mm: float,
    sharing: float = 1.0,
) -> tuple[BoltShear, ...]:
    """Return the in-plane force on each bolt of a stiff group pushed off its centre.

    About the bolts' centroid: M = Fy ex - Fx ey, J = sum(x^2 + y^2);
    V_x,i = Fx/n - M y_i/J, V_y,i = Fy/n + M x_i/J.

    With ``sharing`` below 1 only that part of the bolts is taken to share (clearance holes: 0.5),
    which scales every force by 1 / sharing.

    Source: rigid-body statics. Standing: derived.

    Raises:
        OutOfRangeError: If there is no bolt, a number is not finite or the share is not above 0 and
        up to 1.
    """
    require_positive(bolts=len(bolts_mm))
    require_finite(force_x_n=force_x_n, force_y_n=force_y_n, at_x_mm=at_x_mm, at_y_mm=at_y_mm)
    if not 0.0 < sharing <= 1.0:
        raise OutOfRangeError("sharing", sharing, "above 0 and at most 1")
    count = len(bolts_mm)
    mid_x_mm = math.fsum(x for x, _ in bolts_mm) / count
    mid_y_mm = math.fsum(y for _, y in bolts_mm) / count
    arms = [(x - mid_x_mm, y - mid_y_mm) for x, y in bolts_mm]
    polar = math.fsum(x * x + y * y for x, y in arms)
    moment = force_y_n * (at_x_mm - mid_x_mm) - force_x_n * (at_y_mm - mid_y_mm)
    if polar == 0.0 and moment != 0.0:
        raise OutOfRangeError("bolts", count, "spread out, to resist a push off their centre")
    turn = moment / polar if polar else 0.0
    return tuple(
        _shear((force_x_n / count - turn * y) / sharing, (force_y_n / count + turn * x) / sharing)
        for x, y in arms
    )


def bolt_group_pulls_n(
    *, bolts_mm: Sequence[tuple[float, float]], force_n: float, at_x_mm: float, at_y_mm: float
) -> tuple[float, ...]:
    """Return the pull on each bolt of a stiff face pulled straight off, off its centre. [N].

    T_i = F/n + p x_i + q y_i about the bolts' centroid, with p and q from moment balance: p Sxx +
    q Sxy = F ex, p Sxy + q Syy = F ey. Where the faces stay pressed together a pull comes out
    negative; what that pressure takes is left to the other bolts as it stands.

    Source: rigid-body statics. Standing: derived.

    Raises:
        OutOfRangeError: If there is no bolt, a number is not finite, the force is negative, or the
        bolts stand in a line or a point that cannot resist the pull off their centre.
    """
    require_positive(bolts=len(bolts_mm))
    require_not_negative(force_n=force_n)
    require_finite(at_x_mm=at_x_mm, at_y_mm=at_y_mm)
    count = len(bolts_mm)
    mid_x_mm = math.fsum(x for x, _ in bolts_mm) / count
    mid_y_mm = math.fsum(y for _, y in bolts_mm) / count
    arms = [(x - mid_x_mm, y - mid_y_mm) for x, y in bolts_mm]
    s_xx, s_yy = (math.fsum(arm[k] ** 2 for arm in arms) for k in (0, 1))
    s_xy = math.fsum(x * y for x, y in arms)
    about = (force_n * (at_x_mm - mid_x_mm), force_n * (at_y_mm - mid_y_mm))
    whole = s_xx * s_yy - s_xy**2
    if whole > 0.0:
        p = (about[0] * s_yy - about[1] * s_xy) / whole
        q = (about[1] * s_xx - about[0] * s_xy) / whole
    elif about == (0.0, 0.0):
        p = q = 0.0
    else:
        raise OutOfRangeError("bolts", count, "spread out, to resist a pull off their centre")
    return tuple(force_n / count + p * x + q * y for x, y in arms)


def _shear(along_x_n: float, along_y_n: float) -> BoltShear:
    """Put both parts together."""
    return BoltShear(
        along_x_n=along_x_n, along_y_n=along_y_n, resultant_n=math.hypot(along_x_n, along_y_n)
    )
