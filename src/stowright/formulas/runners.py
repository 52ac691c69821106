"""Drawer runners: the width window, end reactions, ratings and their derating."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Final, NamedTuple

from stowright.errors import OutOfRangeError, require_not_negative, require_positive
from stowright.formulas.ranges import require_finite
from stowright.formulas.sources import Source

__all__ = [
    "FLAT_MOUNTED",
    "KITCHEN_FLOOR_LOAD_N_MM2",
    "SIDE_PLAY_GREATEST_MM",
    "SIDE_PLAY_LEAST_MM",
    "SOURCES",
    "VEHICLE_USE",
    "EndReactions",
    "WidthWindow",
    "derated_kg",
    "drawer_width_window",
    "dynamic_share_of_static",
    "end_reactions_n",
    "floor_test_load_n",
    "length_factor",
    "width_factor",
]

SIDE_PLAY_LEAST_MM: Final = 0.2
SIDE_PLAY_GREATEST_MM: Final = 0.5
# Factors on a rating: road use on a rating for buildings, and runners lying flat (from memory).
VEHICLE_USE: Final = 0.5
FLAT_MOUNTED: Final = 0.25
# Kitchen cabinet test: 15 lb/ft2 on the drawer's floor.
KITCHEN_FLOOR_LOAD_N_MM2: Final = 718e-6

# Static load class [lb] against dynamic load [lb], woodwork standards, Appendix B.
_STATIC_DYNAMIC_LB: Final = {50: 30.0, 75: 50.0, 100: 75.0}

SOURCES: Final = {
    "drawer_width_window": Source(
        text="a component maker's installation note: runner thickness plus 0.2 to 0.5 mm a side",
        standing="published",
    ),
    "end_reactions_n": Source(text="statics of two lines of balls", standing="derived"),
    "width_factor": Source(
        text="drawers wider than long rack: derate in proportion, a judgement",
        standing="from memory",
    ),
    "length_factor": Source(
        text="a longer runner than the one rated carries less: derate in proportion, a judgement",
        standing="from memory",
    ),
    "derated_kg": Source(
        text="rating x a product of named factors; vehicle 0.5 and flat 0.25",
        standing="from memory",
    ),
    "dynamic_share_of_static": Source(
        text="Architectural Woodwork Standards (2009), Appendix B", standing="published"
    ),
    "floor_test_load_n": Source(
        text="kitchen cabinet test summary, 718 Pa (15 lb/ft2) of drawer floor",
        standing="published",
    ),
}


class WidthWindow(NamedTuple):
    """Widths of a drawer box at which its runners run. [mm]."""

    least_mm: float
    greatest_mm: float


class EndReactions(NamedTuple):
    """Forces on one runner's fixings, as positive numbers. [N].

    Attributes:
        front_up_n: At the front bearing, upward.
        rear_down_n: At the rear bearing, downward.
    """

    front_up_n: float
    rear_down_n: float


def drawer_width_window(
    *,
    opening_mm: float,
    runner_thickness_mm: float,
    play_least_mm: float = SIDE_PLAY_LEAST_MM,
    play_greatest_mm: float = SIDE_PLAY_GREATEST_MM,
) -> WidthWindow:
    """Return the drawer widths that suit an opening and a pair of side-mounted runners. [mm].

    W - 2 (r + p): too tight squeezes the members, too loose spreads them.

    Source: a component maker's installation note. Standing: published.

    Raises:
        OutOfRangeError: If a size is not above zero, the play is out of order or no width is left.
    """
    require_positive(opening_mm=opening_mm, runner_thickness_mm=runner_thickness_mm)
    require_not_negative(play_least_mm=play_least_mm)
    if not play_greatest_mm >= play_least_mm:
        raise OutOfRangeError("play_greatest_mm", play_greatest_mm, "at least play_least_mm")
    least_mm = opening_mm - 2.0 * (runner_thickness_mm + play_greatest_mm)
    require_positive(least_width_mm=least_mm)
    return WidthWindow(
        least_mm=least_mm,
        greatest_mm=opening_mm - 2.0 * (runner_thickness_mm + play_least_mm),
    )


def end_reactions_n(*, load_n: float, arm_mm: float, overlap_mm: float) -> EndReactions:
    """Return the end reactions of one runner that is out. [N].

    Front W (1 + e/s) up, rear W e/s down: e the load's distance ahead of the front bearing, s the
    overlap left. With the load behind the front bearing (e < 0, shut) both may point up:
    rear_down_n is then negative.

    Source: statics. Standing: derived.

    Raises:
        OutOfRangeError: If the overlap is not above zero, the load is negative or the arm not
        finite.
    """
    require_positive(overlap_mm=overlap_mm)
    require_not_negative(load_n=load_n)
    require_finite(arm_mm=arm_mm)
    rear_n = load_n * arm_mm / overlap_mm
    return EndReactions(front_up_n=load_n + rear_n, rear_down_n=rear_n)


def width_factor(*, length_mm: float, width_mm: float) -> float:
    """Return what a drawer wider than long leaves of a rating. [-].

    min(1, length / width).

    Source: a judgement. Standing: from memory.

    Raises:
        OutOfRangeError: If a size is not above zero.
    """
    require_positive(length_mm=length_mm, width_mm=width_mm)
    return min(1.0, length_mm / width_mm)


def length_factor(*, length_mm: float, basis_length_mm: float) -> float:
    """Return what is left of a rating that was taken on a shorter runner of the family. [-].

    min(1, basis length / length): a shorter one than rated gains nothing.

    Source: a judgement. Standing: from memory.

    Raises:
        OutOfRangeError: If a length is not above zero.
    """
    require_positive(length_mm=length_mm, basis_length_mm=basis_length_mm)
    return min(1.0, basis_length_mm / length_mm)


def derated_kg(*, rating_kg: float, factors: Mapping[str, float]) -> float:
    """Return what is left of a pair's rating after every named factor. [kg].

    rating x product of factors; each factor has a name so that a proof can list and switch it.

    Source: practice, factors from memory. Standing: from memory.

    Raises:
        OutOfRangeError: If the rating is not above zero or a factor is not above 0 and up to 1.
    """
    require_positive(rating_kg=rating_kg)
    for name, factor in factors.items():
        if not 0.0 < factor <= 1.0:
            raise OutOfRangeError(name, factor, "above 0 and at most 1")
    return rating_kg * math.prod(factors.values())


def dynamic_share_of_static(*, static_lb: int) -> float:
    """Return dynamic over static test load of a woodwork-standard class: 50, 75 or 100 lb. [-].

    0.60, 0.67, 0.75.

    Source: Architectural Woodwork Standards (2009), Appendix B. Standing: published.

    Raises:
        OutOfRangeError: If the class is another one.
    """
    if static_lb not in _STATIC_DYNAMIC_LB:
        raise OutOfRangeError("static_lb", static_lb, "50, 75 or 100")
    return _STATIC_DYNAMIC_LB[static_lb] / static_lb


def floor_test_load_n(*, width_mm: float, length_mm: float) -> float:
    """Return the load that a kitchen cabinet test lays on a drawer's floor. [N].

    718 Pa over the floor.

    Source: kitchen cabinet test summary. Standing: published.

    Raises:
        OutOfRangeError: If a size is not above zero.
    """
    require_positive(width_mm=width_mm, length_mm=length_mm)
    return KITCHEN_FLOOR_LOAD_N_MM2 * width_mm * length_mm
