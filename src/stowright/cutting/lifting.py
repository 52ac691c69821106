"""Sides of parts lifted to what can no longer be used beside them, for the lower bounds.

If no choice of other parts can fill more than R of what a part leaves of a sheet's side C, the
part may as well be C - R long: every layout stays a layout. Parts are lifted one after another,
each against the sides as they stand.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from stowright.cutting.problem import Kind

__all__ = ["Sides", "lifted", "plain"]

type Values = np.ndarray[Any, np.dtype[np.int64]]

_MOST_WORK = 40_000_000  # parts squared times steps of the grid; beyond it nothing is lifted


@dataclass(frozen=True, slots=True, kw_only=True)
class Sides:
    """Grown sides of parts, one row for each kind or part.

    Attributes:
        w: Along the sheet while straight.
        h: Across it while straight.
        turned_w: Along the sheet while turned; as ``w`` for a part that may not turn.
        turned_h: Across it while turned.
        turnable: Which parts may turn.
        copies: How many each row stands for.
    """

    w: Values
    h: Values
    turned_w: Values
    turned_h: Values
    turnable: np.ndarray[Any, np.dtype[np.bool_]]
    copies: Values


def plain(kinds: tuple[Kind, ...], kerf: int) -> Sides:
    """Return the sides as they are."""
    w = np.array([kind.length + kerf for kind in kinds], dtype=np.int64)
    h = np.array([kind.width + kerf for kind in kinds], dtype=np.int64)
    turnable = np.array([kind.turnable for kind in kinds])
    return Sides(
        w=w,
        h=h,
        turned_w=np.where(turnable, h, w),
        turned_h=np.where(turnable, w, h),
        turnable=turnable,
        copies=np.array([kind.copies for kind in kinds], dtype=np.int64),
    )


def lifted(sides: Sides, w: int, h: int) -> Sides | None:
    """Return the sides lifted on a sheet of grown size w by h; None when that is too much work."""
    single = _one_row_each(sides)
    parts = len(single.w)
    unit = math.gcd(w, h, *(int(v) for v in (*sides.w, *sides.h))) or 1
    if parts * parts * (max(w, h) // unit) > _MOST_WORK * 64:
        return None
    if w == h and bool(single.turnable.all()):
        low, high = _lift(single.w, single.h, w, unit)
        return Sides(
            w=low,
            h=high,
            turned_w=high,
            turned_h=low,
            turnable=single.turnable,
            copies=single.copies,
        )
    along = _lift(single.w, single.turned_w, w, unit)
    up = _lift(single.h, single.turned_h, h, unit)
    return Sides(
        w=along[0],
        turned_w=along[1],
        h=up[0],
        turned_h=up[1],
        turnable=single.turnable,
        copies=single.copies,
    )


def _one_row_each(sides: Sides) -> Sides:
    """Return a row for every single part, largest first."""
    order = np.argsort(-(sides.w * sides.h), kind="stable")
    rows = np.repeat(order, sides.copies[order])
    return Sides(
        w=sides.w[rows],
        h=sides.h[rows],
        turned_w=sides.turned_w[rows],
        turned_h=sides.turned_h[rows],
        turnable=sides.turnable[rows],
        copies=np.ones(len(rows), dtype=np.int64),
    )


def _lift(one: Values, other: Values, side: int, unit: int) -> tuple[Values, Values]:
    """Lift the sides that parts may lie with along one side of the sheet, both ways of lying.

    A part adds to a line across the sheet one of its two sides, or nothing.
    """
    ways = [(int(a) // unit, int(b) // unit) for a, b in zip(one, other, strict=True)]
    whole = side // unit
    for index in range(len(ways)):
        reach = _sums(ways, index, whole)
        a, b = (_lifted_side(value, reach, whole) for value in ways[index])
        ways[index] = a, b
    first = np.array([a * unit for a, _ in ways], dtype=np.int64)
    return first, np.array([b * unit for _, b in ways], dtype=np.int64)


def _sums(ways: list[tuple[int, int]], without: int, whole: int) -> int:
    """Return the sums that all other parts can make, as the bits of a number."""
    reach, mask = 1, (1 << (whole + 1)) - 1
    for index, (a, b) in enumerate(ways):
        if index != without:
            reach |= ((reach << a) | (reach << b)) & mask
    return reach


def _lifted_side(value: int, reach: int, whole: int) -> int:
    """Return a side lifted to what the largest sum beside it leaves."""
    if value > whole:
        return value
    beside = (reach & ((1 << (whole - value + 1)) - 1)).bit_length() - 1
    return whole - beside
