"""Part drawings shared out to pages: as many on one as stay readable, in the order of their marks.

Each part has one or two ways to be drawn: as large as a page lets it, and smaller. Among all ways
to break the row of parts into pages the one with the fewest pages is taken, and of those the one
that draws the fewest parts smaller. Where that leaves pages half empty, a part may stand a few
places ahead of its turn. A pair of hands stands on one page where it fits; of a pair that is alike
but for its hand one drawing serves both.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, product

from stowright.drawings.part_drawing import other_hand, part_drawing, shown_beside
from stowright.drawings.scene import Scene
from stowright.errors import OutOfRangeError
from stowright.model.part import Part
from stowright.model.plan import Plan
from stowright.units import Unit

__all__ = [
    "CAPTION",
    "PartPage",
    "drawn_with",
    "filled_up",
    "kept_together",
    "packed",
    "part_pages",
    "shared_out",
]

#: Width of a drawing. [mm]
_WIDE = 174.0
#: Heights for a drawing that shares its page, the larger first. [mm]
_LOW = (150.0, 116.0, 74.0)
#: A shared page's drawings are no smaller than this; one alone, or of a part that nothing is made
#: in, may be half of it.
_LEAST_SHARED, _LEAST_ALONE = 0.1, 0.05
#: What a figure takes besides its drawing: caption and gaps, as the template sets them. [mm]
CAPTION = 8.0
#: More than this many on a page are hard to find one's way among.
_MOST = 4
#: A drawing stands at most this many places ahead of its turn.
_AHEAD = 6

type _Pages = tuple[tuple[tuple[int, int], ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PartPage:
    """The drawings of one page: marks and scenes, from the top down."""

    drawings: tuple[tuple[str, Scene], ...]


def drawn_with(parts: Sequence[Part]) -> dict[str, str]:
    """Return whose drawing shows each part, by their marks: its own, or that of one like it.

    Parts that differ in what they wait for alone are drawn once; of a pair that is alike but for
    the hand the left one is drawn, with the right one beside it.
    """
    first: dict[tuple[object, ...], str] = {}
    found = {part.mark: first.setdefault(_made(part), part.mark) for part in parts}
    for part in parts:
        mirror = other_hand(part, parts) if part.hand == "left" else None
        if mirror is not None and found[part.mark] == part.mark:
            for mark, drawn in found.items():
                if drawn == found[mirror.mark]:
                    found[mark] = part.mark
    return found


def _made(part: Part) -> tuple[object, ...]:
    """Return all that a part's drawing shows of it."""
    features = tuple(replace(feature, fixing="") for feature in part.features)
    sizes = (part.length, part.width, part.thickness, part.outline, part.tabs, part.reliefs)
    looks = (part.name, part.material, part.grain, part.hand, part.mirrored, part.origin_note)
    return (*looks, *sizes, features, part.edges, part.front_edge, part.release, part.quantity)


def part_pages(plan: Plan, *, height_mm: float) -> tuple[PartPage, ...]:
    """Return the part drawings of a plan by page.

    Args:
        plan: The plan.
        height_mm: What a page holds. [mm]
    """
    units, every = plan.job.units, plan.design.parts
    shown = drawn_with(every)
    parts = [part for part in every if shown[part.mark] == part.mark]
    ways = [_ways(part, every, units, whole=height_mm - CAPTION) for part in parts]
    rows = list(_together(parts, every, units, ways, height_mm))
    heights = [[sum(s.height + CAPTION for s in way) for way in row] for row in rows]
    pages = min(
        shared_out(heights, height=height_mm), filled_up(heights, height=height_mm), key=len
    )
    return tuple(
        PartPage(drawings=tuple((_mark(scene), scene) for k, way in page for scene in rows[k][way]))
        for page in pages
    )


def kept_together(
    parts: Sequence[Part], heights: Mapping[str, float], *, height_mm: float
) -> list[list[str]]:
    """Return the names of the part drawings, a pair of hands in one row where a page holds both.

    Args:
        parts: The design's parts.
        heights: Height of each part's drawing by its name, in the book's order. [mm]
        height_mm: What a page holds. [mm]
    """
    pairs = {
        f"part-{right.mark}": f"part-{part.mark}"
        for part in parts
        if (right := shown_beside(part, parts)) is not None
    }
    rows: list[list[str]] = []
    for name in (name for name in heights if name.startswith("part-")):
        left = pairs.get(name)
        near = left is not None and bool(rows) and rows[-1] == [left]
        if near and heights[rows[-1][0]] + heights[name] + 2.0 * CAPTION <= height_mm:
            rows[-1].append(name)
        else:
            rows.append([name])
    return rows


def packed(
    heights: Mapping[str, float], *, height_mm: float, caption_mm: float = CAPTION
) -> list[str]:
    """Return names of figures in an order that fills pages, those of a page by their old order.

    Args:
        heights: Height of each figure by its name. [mm]
        height_mm: What a page holds. [mm]
        caption_mm: What a figure takes besides its drawing. [mm]
    """
    pages: list[list[str]] = []
    for name in sorted(heights, key=lambda n: -heights[n]):
        taken = heights[name] + caption_mm
        for page in pages:
            if sum(heights[n] + caption_mm for n in page) + taken <= height_mm:
                page.append(name)
                break
        else:
            pages.append([name])
    order = list(heights)
    rows = sorted((sorted(p, key=order.index) for p in pages), key=lambda p: order.index(p[0]))
    emptiest = min(rows, key=lambda row: sum(heights[n] for n in row), default=[])
    rows.sort(key=lambda row: row is not emptiest)  # it may go on where the figures before end
    return [name for row in rows for name in row]


def _mark(scene: Scene) -> str:
    return scene.name.removeprefix("part-")


def _together(
    parts: Sequence[Part],
    every: Sequence[Part],
    units: Unit,
    ways: Sequence[Sequence[Scene]],
    height: float,
) -> Iterator[list[tuple[Scene, ...]]]:
    """Yield what shares a page for certain: a pair of which both have a drawing, any other part.

    Side by side on a page a pair needs no small view of the other hand.
    """
    k = 0
    while k < len(parts):
        right = shown_beside(parts[k], every)
        nearest = k + 1 < len(parts) and right is not None and parts[k + 1].mark == right.mark
        pair = list(_pair_ways(parts[k], units, ways[k + 1], height)) if nearest else []
        yield pair or [(scene,) for scene in ways[k]]
        k += 2 if pair else 1


def _pair_ways(
    left: Part, units: Unit, right: Sequence[Scene], height: float
) -> Iterator[tuple[Scene, ...]]:
    room = (_WIDE, height - min(scene.height for scene in right) - 2.0 * CAPTION)
    try:
        scene = part_drawing(left, units=units, room=room, smallest=_LEAST_SHARED)
    except OutOfRangeError:
        return
    for other in right:
        if scene.height + other.height + 2.0 * CAPTION <= height:
            yield scene, other


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
    least = _LEAST_SHARED if part.features or part.tabs else _LEAST_ALONE
    if first.scale > least:  # else there is no smaller scale to go down to
        for height in (h for h in _LOW if h < first.height):
            low = drawn(height, least)
            if low is not None and low.height < found[-1].height - 1.0:
                found.append(low)
    return found


def shared_out(heights: Sequence[Sequence[float]], *, height: float) -> _Pages:
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


def filled_up(heights: Sequence[Sequence[float]], *, height: float) -> _Pages:
    """Return pages of (number, way), each filled with what comes next or soon after it.

    A page starts with the first drawing that has none yet. With it stand as many of those after it
    as a page holds, the fewest of them smaller, the nearest first.

    Args:
        heights: For each drawing the heights of its ways, the largest first. [mm]
        height: Of a page. [mm]
    """
    left = list(range(len(heights)))
    pages = []
    while left:
        page = _fullest(heights, left, height)
        pages.append(page)
        left = [k for k in left if k not in {number for number, _ in page}]
    return tuple(pages)


def _fullest(
    heights: Sequence[Sequence[float]], left: Sequence[int], height: float
) -> tuple[tuple[int, int], ...]:
    first, near = left[0], [k for k in left[1:] if k <= left[0] + _AHEAD]
    for many in range(min(_MOST - 1, len(near)), 0, -1):
        pages = [_fitting(heights, (first, *more), height) for more in combinations(near, many)]
        found = [page for page in pages if page is not None]
        if found:
            return min(found, key=lambda page: (sum(way for _, way in page), page))
    return ((first, 0),)


def _page(
    heights: Sequence[Sequence[float]], start: int, end: int, height: float
) -> tuple[tuple[int, int], ...] | None:
    """Return drawings on one page in the ways that shrink them least; None when none fit."""
    fits = _fitting(heights, range(start, end), height)
    return ((start, 0),) if fits is None and end - start == 1 else fits


def _fitting(
    heights: Sequence[Sequence[float]], rows: Sequence[int], height: float
) -> tuple[tuple[int, int], ...] | None:
    choices = sorted(product(*(range(len(heights[k])) for k in rows)), key=lambda c: (sum(c), c))
    for choice in choices:
        if sum(heights[k][way] for k, way in zip(rows, choice, strict=True)) <= height:
            return tuple(zip(rows, choice, strict=True))
    return None
