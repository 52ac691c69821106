"""Dimensions of a finished view moved until no line crosses their figures (ISO 129-1).

A view is dimensioned from what it shows, but what lies round it (another block's open drawers, the
wall that a travel runs past) may cross a figure all the same. Such a dimension is moved further
out, or its figure along its line.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from stowright.drawings.figures import ARROW
from stowright.drawings.lettering import text_width
from stowright.drawings.overlap import Overlap, overlaps
from stowright.drawings.scene import Dimension, Item, Running, Scene, View

__all__ = ["settled"]

_STEP = 3.5
_STEPS = 14
_FAR = 1.0e6


def settled(items: Sequence[Item]) -> list[Item]:
    """Return a view's items, its crossed dimensions moved where a place for them is found."""
    kept = list(items)
    for k in sorted({fault.item for fault in _faults(kept)}):
        item = kept[k]
        if isinstance(item, Dimension | Running):
            before = len(_faults(kept))
            for trial in _elsewhere(item):
                moved = [*kept[:k], trial, *kept[k + 1 :]]
                faults = _faults(moved)
                if len(faults) < before and all(fault.item != k for fault in faults):
                    kept = moved
                    break
    return kept


def _faults(items: Sequence[Item]) -> list[Overlap]:
    """Return what crosses the lettering of a view, wherever that lies on paper."""
    view = View(name="view", items=tuple(items))
    scene = Scene(name="", title="", width=_FAR, height=_FAR, views=(view,))
    return [fault for fault in overlaps(scene) if fault.kind != "text off the paper"]


def _elsewhere(item: Dimension | Running) -> Iterator[Dimension | Running]:
    """Yield a dimension with its figure elsewhere on its line, then with the line further out."""
    for further in range(_STEPS):
        line_at = item.line_at + _outward(item) * further * _STEP
        if isinstance(item, Running):
            yield replace(item, line_at=line_at)
        else:
            yield from (replace(moved, line_at=line_at) for moved in _along(item))


def _along(item: Dimension) -> Iterator[Dimension]:
    """Yield a dimension with its figure in the middle, towards either end, and beyond either."""
    along = 0 if item.axis == "x" else 1
    low, high = sorted((item.start[along], item.end[along]))
    half = text_width(item.text, height=item.height) / 2.0
    yield item
    inside = half + ARROW + 0.6
    for place in (low + inside, high - inside):
        if low + inside <= high - inside:
            yield replace(item, text_at=place)
    for place in (low - 2.4 * ARROW - half, high + 2.4 * ARROW + half):
        yield replace(item, text_at=place, arrows_out=True)


def _outward(item: Dimension | Running) -> float:
    """Return on which side of what is measured a dimension's line lies."""
    across = 1 if item.axis == "x" else 0
    feet = (item.start, item.end) if isinstance(item, Dimension) else (item.datum, *item.points)
    return 1.0 if item.line_at >= max(foot[across] for foot in feet) else -1.0
