"""The largest empty rectangles between parts that lie freely on a sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from stowright.cutting.plates import Rect

__all__ = ["largest_empty"]


def largest_empty(
    sound: Sequence[Rect],
    laid: Sequence[Rect],
    *,
    gap: int,
    least: tuple[int, int],
    most: int,
) -> list[Rect]:
    """Return empty rectangles worth keeping, each the largest that the ones before leave.

    Args:
        sound: Where offcuts may lie: the sheet less its edges and defects.
        laid: The parts.
        gap: How far an offcut stays from parts and other offcuts.
        least: Least shorter and longer side.
        most: How many to return at most.
    """
    taken = list(laid)
    found: list[Rect] = []
    while len(found) < most:
        fitting = [
            rect
            for region in sound
            for rect in _empty(region, taken, gap)
            if min(rect[2:]) >= least[0] and max(rect[2:]) >= least[1]
        ]
        if not fitting:
            break
        found.append(max(fitting, key=lambda r: (r[2] * r[3], r)))
        taken.append(found[-1])
    return found


def _empty(region: Rect, taken: Sequence[Rect], gap: int) -> Iterator[Rect]:
    """Yield rectangles between two upright lines that reach as far up and down as they can."""
    x, y, w, h = region
    lefts = sorted({x, *(r[0] + r[2] + gap for r in taken)})
    rights = sorted({x + w, *(r[0] - gap for r in taken)})
    for left in lefts:
        for right in rights:
            if x <= left < right <= x + w:
                beside = [r for r in taken if r[0] < right + gap and r[0] + r[2] > left - gap]
                yield from _between((left, right), (y, y + h), beside, gap)


def _between(
    sides: tuple[int, int], ends: tuple[int, int], beside: Sequence[Rect], gap: int
) -> Iterator[Rect]:
    """Yield the clear stretches of a strip."""
    low = ends[0]
    for rect in sorted(beside, key=lambda r: r[1]):
        if rect[1] - gap > low:
            yield sides[0], low, sides[1] - sides[0], min(rect[1] - gap, ends[1]) - low
        low = max(low, rect[1] + rect[3] + gap)
    if low < ends[1]:
        yield sides[0], low, sides[1] - sides[0], ends[1] - low
