"""Sides of parts lifted to what can no longer be used beside them, for the lower bounds.

If no choice of other parts can fill more than R of what a part leaves of a sheet's side C, the
part may as well be C - R long: every layout stays a layout. Parts are lifted one after another,
each against the sides as they stand. With sheets of several sizes a part is lifted only as far
as every sheet that it fits on allows.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
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


def plain(kinds: tuple[Kind, ...], kerf: int, sheets: tuple[tuple[int, int], ...]) -> Sides:
    """Return the sides as they are; a part that fits only one way round may not turn.

    Args:
        kinds: The parts.
        kerf: What each side is grown by.
        sheets: Grown sides of the sheets on offer.
    """
    ways = [_way(kind, kerf, sheets) for kind in kinds]
    w = np.array([way[0] for way in ways], dtype=np.int64)
    h = np.array([way[1] for way in ways], dtype=np.int64)
    turnable = np.array([way[2] for way in ways], dtype=np.bool_)
    return Sides(
        w=w,
        h=h,
        turned_w=np.where(turnable, h, w),
        turned_h=np.where(turnable, w, h),
        turnable=turnable,
        copies=np.array([kind.copies for kind in kinds], dtype=np.int64),
    )


def _way(kind: Kind, kerf: int, sheets: tuple[tuple[int, int], ...]) -> tuple[int, int, bool]:
    """Return the grown sides of a part as it may lie, and whether the other way fits too."""
    w, h = kind.length + kerf, kind.width + kerf
    straight = any(w <= along and h <= across for along, across in sheets)
    turned = kind.turnable and any(h <= along and w <= across for along, across in sheets)
    if turned and not straight:
        return h, w, False
    return w, h, turned


def lifted(sides: Sides, sheets: tuple[tuple[int, int], ...]) -> Sides | None:
    """Return the sides lifted on sheets of grown sizes; None when that is too much work."""
    single = _one_row_each(sides)
    parts = len(single.w)
    edges = [side for sheet in sheets for side in sheet]
    unit = math.gcd(*edges, *(int(v) for v in (*sides.w, *sides.h))) or 1
    if parts * parts * (max(edges) // unit) > _MOST_WORK * 64:
        return None
    widths, heights = [w // unit for w, _ in sheets], [h // unit for _, h in sheets]
    if widths == heights and bool(single.turnable.all()):
        low, high = _lift(single.w, single.h, widths, unit)
        return replace(single, w=low, h=high, turned_w=high, turned_h=low)
    along = _lift(single.w, single.turned_w, widths, unit)
    up = _lift(single.h, single.turned_h, heights, unit)
    return replace(single, w=along[0], turned_w=along[1], h=up[0], turned_h=up[1])


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


def _lift(one: Values, other: Values, wholes: list[int], unit: int) -> tuple[Values, Values]:
    """Lift the sides that parts may lie with along one side of the sheets, both ways of lying.

    A part adds to a line across the sheet one of its two sides, or nothing.
    """
    ways = [(int(a) // unit, int(b) // unit) for a, b in zip(one, other, strict=True)]
    for index in range(len(ways)):
        reach = _sums(ways, index, max(wholes))
        a, b = (_lifted_side(value, reach, wholes) for value in ways[index])
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


def _lifted_side(value: int, reach: int, wholes: list[int]) -> int:
    """Return a side lifted to what the largest sum beside it leaves on each sheet that holds it."""
    holding = [whole for whole in wholes if value <= whole]
    return min((whole - _largest(reach, whole - value) for whole in holding), default=value)


def _largest(reach: int, room: int) -> int:
    """Return the largest sum that is no more than some room."""
    return (reach & ((1 << (room + 1)) - 1)).bit_length() - 1
