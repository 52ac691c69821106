"""Part drawings shared out to pages: as many on one as stay readable, in the order of their marks.

Each part has one or two ways to be drawn: as large as a page lets it, and smaller. Among all ways
to break the row of parts into pages the one with the fewest pages is taken, and of those the one
that draws the fewest parts smaller.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product

from stowright.drawings.part_drawing import part_drawing, shown_beside
from stowright.drawings.scene import Scene
from stowright.errors import OutOfRangeError
from stowright.model.part import Part
from stowright.model.plan import Plan
from stowright.units import Unit

__all__ = ["PartPage", "part_pages", "shared_out"]

#: Width of a drawing. [mm]
_WIDE = 174.0
#: Heights for a drawing that shares its page, the larger first. [mm]
_LOW = (150.0, 116.0, 74.0)
#: A shared page's drawings are no smaller than this; one alone may be half of it.
_LEAST_SHARED, _LEAST_ALONE = 0.1, 0.05
#: What a figure takes besides its drawing: caption and gaps, as the template sets them. [mm]
CAPTION = 9.5
#: More than this many on a page are hard to find one's way among.
_MOST = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class PartPage:
    """The drawings of one page: marks and scenes, from the top down."""

    drawings: tuple[tuple[str, Scene], ...]


def part_pages(plan: Plan, *, height_mm: float) -> tuple[PartPage, ...]:
    """Return the part drawings of a plan by page.

    Args:
        plan: The plan.
        height_mm: What a page holds. [mm]
    """
    units, parts = plan.job.units, plan.design.parts
    ways = [_ways(part, parts, units, whole=height_mm - CAPTION) for part in parts]
    heights = [[scene.height + CAPTION for scene in row] for row in ways]
    pages = shared_out(heights, height=height_mm)
    return tuple(
        PartPage(drawings=tuple((parts[k].mark, ways[k][way]) for k, way in page)) for page in pages
    )


def _ways(part: Part, parts: Iterable[Part], units: Unit, *, whole: float) -> list[Scene]:
    """Return the ways to draw a part, the largest first; ``whole`` is a page's height. [mm]."""
    pair = shown_beside(part, parts)

    def drawn(height: float, least: float) -> Scene | None:
        try:
            return part_drawing(part, units=units, room=(_WIDE, height), smallest=least, pair=pair)
        except OutOfRangeError:
            return None

    first = drawn(whole, _LEAST_ALONE)
    if first is None:
        return [part_drawing(part, units=units, room=(_WIDE, 2.0 * whole), pair=pair)]
    found = [first]
    if first.scale > _LEAST_SHARED:  # else there is no smaller scale to go down to
        for height in (h for h in _LOW if h < first.height):
            low = drawn(height, _LEAST_SHARED)
            if low is not None and low.height < found[-1].height - 1.0:
                found.append(low)
    return found


def shared_out(
    heights: Sequence[Sequence[float]], *, height: float
) -> tuple[tuple[tuple[int, int], ...], ...]:
    """Return pages of (number, way), in order; a drawing too tall for a page stands alone.

    Args:
        heights: For each drawing the heights of its ways, the largest first. [mm]
        height: Of a page. [mm]
    """
    best: list[tuple[tuple[int, int], tuple[tuple[tuple[int, int], ...], ...]]] = [((0, 0), ())]
    for end in range(1, len(heights) + 1):
        found = []
        for start in range(max(0, end - _MOST), end):
            page = _page(heights, start, end, height)
            if page is not None:
                (pages, smaller), before = best[start]
                shrunk = sum(way for _, way in page)
                found.append(((pages + 1, smaller + shrunk), (*before, page)))
        best.append(min(found, key=lambda row: row[0]))
    return best[-1][1]


def _page(
    heights: Sequence[Sequence[float]], start: int, end: int, height: float
) -> tuple[tuple[int, int], ...] | None:
    """Return drawings on one page in the ways that shrink them least; None when none fit."""
    rows = range(start, end)
    choices = sorted(product(*(range(len(heights[k])) for k in rows)), key=lambda c: (sum(c), c))
    for choice in choices:
        if sum(heights[k][way] for k, way in zip(rows, choice, strict=True)) <= height:
            return tuple(zip(rows, choice, strict=True))
    return ((start, 0),) if end - start == 1 else None
