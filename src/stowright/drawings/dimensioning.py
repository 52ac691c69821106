"""Dimensions laid out: texts moved apart, arrows turned out where there is no room.

The rules are those of ISO 129-1 as a shop uses them: running dimensions from one datum instead of
chains, the smallest dimension nearest the view, no closed chain.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Literal

from stowright.drawings.figures import ARROW
from stowright.drawings.lettering import hangs, text_width
from stowright.drawings.scene import Dimension, Running
from stowright.model.geometry import Point2
from stowright.units import Unit, format_length

__all__ = ["linear", "running", "running_depth", "spread"]

#: Spacing of running texts, as a multiple of their height.
_PITCH = 1.5
#: Points nearer than this are one place. [model mm]
_SAME = 0.05
#: A fraction's stroke hangs below its line. [mm]
_SLACK = 0.4


def spread(places: Sequence[float], *, gap: float) -> tuple[float, ...]:
    """Move places in rising order apart, so that neighbours are at least ``gap`` apart.

    Least squares: clusters that collide share their mean (pool adjacent violators).
    """
    # With y_k = place_k - k * gap the wanted order is plainly "not falling".
    pools: list[tuple[float, int]] = []
    for k, place in enumerate(places):
        mean, count = place - k * gap, 1
        while pools and pools[-1][0] > mean:
            before, n = pools.pop()
            mean = (before * n + mean * count) / (n + count)
            count += n
        pools.append((mean, count))
    levels = [mean for mean, count in pools for _ in range(count)]
    return tuple(level + k * gap for k, level in enumerate(levels))


def linear(
    start: Point2,
    end: Point2,
    *,
    axis: Literal["x", "y"],
    line_at: float,
    value: float,
    units: Unit,
    note: str = "",
    height: float = 2.5,
) -> Dimension:
    """Return a linear dimension with arrows and text where they have room.

    Args:
        start: One point on the outline. [mm on paper]
        end: The other.
        axis: Direction measured.
        line_at: Where the dimension line lies.
        value: What it says. [model mm]
        units: Unit of print.
        note: Words after the figure.
        height: Lettering height.
    """
    text = format_length(value, units) + (f" {note}" if note else "")
    along = 0 if axis == "x" else 1
    low, high = sorted((start[along], end[along]))
    room = high - low
    wide = text_width(text, height=height)
    # what hangs below a figure's base line, a fraction's stroke too, would meet arrows inside
    between = room - 2.0 * ARROW - 0.6 if hangs(text) else room
    arrows_out = room < 3.2 * ARROW or wide > between
    text_at = None
    if wide > room - 0.8:
        arrows_out = True
        text_at = high + 2.4 * ARROW + wide / 2.0
    return Dimension(
        start=start,
        end=end,
        axis=axis,
        line_at=line_at,
        value=value,
        text=text,
        text_at=text_at,
        arrows_out=arrows_out,
        height=height,
    )


def running(
    datum: Point2,
    points: Iterable[tuple[Point2, float]],
    *,
    axis: Literal["x", "y"],
    line_at: float,
    units: Unit,
    side: Literal[-1, 1],
    bars: Sequence[float] = (),
    height: float = 2.5,
) -> Running | None:
    """Return running dimensions from a datum; None when there is nothing to locate.

    Args:
        datum: Where zero is. [mm on paper]
        points: Each a place on paper and its distance from the datum in model millimetres. Of
            several at one distance the one nearest the dimension line is kept.
        axis: Direction measured.
        line_at: Where the dimension line lies.
        units: Unit of print.
        side: On which side of the line the texts stand: -1 below or left, 1 above or right.
        bars: Where lines of other dimensions run through the texts; they are kept clear.
        height: Lettering height.
    """
    kept = _nearest(points, axis=axis, line_at=line_at)
    if not kept:
        return None
    along = 0 if axis == "x" else 1
    rows = sorted([(datum, 0.0), *kept], key=lambda row: row[0][along])
    texts_at = _clear_of(bars, [place[along] for place, _ in rows], datum[along], _PITCH * height)
    shift = max(abs(a - row[0][along]) for a, row in zip(texts_at, rows, strict=True))
    zero = next(k for k, row in enumerate(rows) if row[1] == 0.0)
    order = [zero, *(k for k in range(len(rows)) if k != zero)]
    return Running(
        datum=datum,
        points=tuple(rows[k][0] for k in order[1:]),
        axis=axis,
        line_at=line_at,
        texts_at=tuple(texts_at[k] for k in order),
        values=tuple(rows[k][1] for k in order[1:]),
        texts=tuple(format_length(rows[k][1], units) for k in order),
        out=3.0 + min(0.6 * shift, 6.0),
        side=side,
        height=height,
    )


def _clear_of(
    bars: Sequence[float], places: list[float], datum: float, gap: float
) -> tuple[float, ...]:
    """Return places moved apart and off the bars; the zero of a barred datum goes outside it."""
    if not bars:
        return spread(places, gap=gap)
    rims = [float("-inf"), *sorted(bars), float("inf")]
    outward = 0.5 * gap + _SLACK
    if datum <= sum(places) / len(places):
        outward = -outward
    moved = [p + outward if p == datum else p for p in places]
    found: list[float] = []
    for low, high in pairwise(rims):
        inside = [p for p in moved if low < p <= high]
        found += _within(
            spread(inside, gap=gap), low + 0.5 * gap + _SLACK, high - 0.5 * gap - _SLACK, gap
        )
    return tuple(found)


def _within(places: Sequence[float], low: float, high: float, gap: float) -> list[float]:
    """Return places pushed inside two limits, the lower one last and so never broken."""
    kept = list(places)
    for k in reversed(range(len(kept))):
        kept[k] = min(kept[k], high - (len(kept) - 1 - k) * gap)
    for k in range(len(kept)):
        kept[k] = max(kept[k], low + k * gap)
    return kept


def running_depth(item: Running) -> float:
    """Return how far running dimensions reach beyond their line, texts included. [mm]."""
    return item.out + 0.6 + max(text_width(text, height=item.height) for text in item.texts)


def _nearest(
    points: Iterable[tuple[Point2, float]], *, axis: Literal["x", "y"], line_at: float
) -> list[tuple[Point2, float]]:
    across = 1 if axis == "x" else 0
    kept: list[tuple[Point2, float]] = []
    for place, value in sorted(points, key=lambda row: row[1]):
        if abs(value) <= _SAME:
            continue
        if kept and value - kept[-1][1] <= _SAME:
            if abs(place[across] - line_at) < abs(kept[-1][0][across] - line_at):
                kept[-1] = (place, kept[-1][1])
            continue
        kept.append((place, value))
    return kept
