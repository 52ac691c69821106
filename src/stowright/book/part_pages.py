"""Part drawings shared out to pages: as many on one as stay readable, in the order of their marks.

Each part has one or two ways to be drawn: as large as a page lets it, and smaller. Among all ways
to break the row of parts into pages the one with the fewest pages is taken, and of those the one
that draws the fewest parts smaller. Where that leaves pages half empty, a part may stand a few
places ahead of its turn. A pair of hands stands on one page where it fits; of a pair that is alike
but for its hand one drawing serves both. A part too long for an upright page to show it at 1:10 is
drawn on a turned one, where that has room for a larger scale.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations, product

from stowright.drawings.part_drawing import other_hand, part_drawing, shown_beside
from stowright.drawings.scene import Scene
from stowright.errors import OutOfRangeError
from stowright.model.design import Design
from stowright.model.part import Part
from stowright.units import Unit

__all__ = [
    "CAPTION",
    "PartPage",
    "drawn_with",
    "filled_up",
    "in_pages",
    "kept_together",
    "part_pages",
    "part_titles",
    "shared_out",
    "turned",
]

#: Width of a drawing. [mm]
_WIDE = 174.0
#: Heights for a drawing that shares its page, the larger first. [mm]
_LOW = (150.0, 116.0, 74.0)
#: A shared page's drawings are no smaller than this; one alone, or of a part that nothing is made
#: in, may be half of it.
_LEAST_SHARED, _LEAST_ALONE = 0.1, 0.05
#: Height that a turned page has for drawings, on A4 and Letter alike. [mm]
_TURNED = 180.0
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

    @property
    def turned(self) -> bool:
        """Whether the page lies on its side."""
        return turned(self.drawings[0][1])


def turned(scene: Scene) -> bool:
    """Return whether a part's drawing is too wide for an upright page."""
    return scene.width > _WIDE + 1.0


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


def part_pages(
    design: Design, *, height_mm: float, marks: Collection[str] | None = None
) -> tuple[PartPage, ...]:
    """Return the part drawings of a design by page.

    Args:
        design: The design.
        height_mm: What a page holds. [mm]
        marks: The parts wanted; all of them when None.
    """
    units, every = design.job.units, design.parts
    shown = drawn_with(every)
    wanted = {shown[mark] for mark in (shown if marks is None else marks)}
    parts = [part for part in every if part.mark in wanted]
    ways = {p.mark: _ways(p, every, units, whole=height_mm - CAPTION) for p in parts}
    wide = {
        part.mark: scene
        for part in parts
        if ways[part.mark][0].scale < _LEAST_SHARED
        and (scene := _on_its_side(part, every, units, wide=height_mm)) is not None
    }
    upright = [part for part in parts if part.mark not in wide]
    rows = list(_together(upright, every, units, [ways[p.mark] for p in upright], height_mm))
    pages = [
        *_pages(rows, height_mm),
        *_pages([[(scene,)] for scene in wide.values()], _TURNED),
    ]
    order = [part.mark for part in parts]
    return tuple(sorted(pages, key=lambda page: order.index(page.drawings[0][0])))


def _pages(rows: Sequence[Sequence[tuple[Scene, ...]]], height: float) -> Iterator[PartPage]:
    """Yield rows of drawings, each with the ways to draw it, shared out to the fewest pages."""
    heights = [[sum(s.height + CAPTION for s in way) for way in row] for row in rows]
    found = min(shared_out(heights, height=height), filled_up(heights, height=height), key=len)
    for page in found:
        scenes = [scene for k, way in page for scene in rows[k][way]]
        yield PartPage(drawings=tuple((_mark(scene), scene) for scene in scenes))


def _on_its_side(part: Part, every: Sequence[Part], units: Unit, *, wide: float) -> Scene | None:
    """Return the drawing of a part that much is made in on a page of this width, None where none.

    A plain one is as clear on an upright page, however small.
    """
    if not (part.features or part.tabs):
        return None
    room, pair = (wide, _TURNED - CAPTION), shown_beside(part, every)
    try:
        scene = part_drawing(
            part, units=units, room=room, smallest=_LEAST_SHARED, pair=pair, legible=True
        )
    except OutOfRangeError:
        return None
    return scene if turned(scene) else None


def kept_together(
    parts: Sequence[Part], scenes: Mapping[str, Scene], *, height_mm: float
) -> list[list[str]]:
    """Return the names of the part drawings, in rows that stay together.

    A row is a pair of hands where a page holds both, what shares a turned page, else one drawing.

    Args:
        parts: The design's parts.
        scenes: Each part's drawing by its name, in the book's order.
        height_mm: What a page holds. [mm]
    """
    pairs = {
        f"part-{right.mark}": f"part-{part.mark}"
        for part in parts
        if (right := shown_beside(part, parts)) is not None
    }
    rows: list[list[str]] = []
    for name in (name for name in scenes if name.startswith("part-")):
        before = rows[-1] if rows else []
        lies = {turned(scenes[n]) for n in (*before, name)}
        room = _TURNED if True in lies else height_mm
        near = lies == {True} or before == [pairs.get(name)]
        taken = sum(scenes[n].height + CAPTION for n in (*before, name))
        if before and near and len(lies) == 1 and taken <= room:
            rows[-1].append(name)
        else:
            rows.append([name])
    return rows


def in_pages(
    heights: Mapping[str, float], *, height_mm: float, caption_mm: float, taken_mm: float
) -> list[str]:
    """Return names of figures in an order that fills pages, each a few places ahead at most.

    Args:
        heights: Height of each figure by its name. [mm]
        height_mm: What a page holds. [mm]
        caption_mm: What a figure takes besides its drawing. [mm]
        taken_mm: What words take at the head of the first page. [mm]
    """
    names = list(heights)
    rows = [[taken_mm], *([heights[name] + caption_mm] for name in names)]
    pages = filled_up(rows, height=height_mm)
    return [names[k - 1] for page in pages for k, _ in page if k]


def part_titles(parts: Sequence[Part]) -> dict[str, str]:
    """Return the titles of part drawings by mark, with the parts that one serves as well."""
    by_mark = {part.mark: part for part in parts}
    names = {part.mark: f"{part.mark} {part.name}" for part in parts}
    titles = dict(names)
    for mark, drawn in drawn_with(parts).items():
        if mark == drawn:
            continue
        if by_mark[mark].hand != by_mark[drawn].hand:
            titles[drawn] += f"; its mirror image {names[mark]}"
        else:
            waits = ", cut to its own reading" if by_mark[mark].release == "B" else ""
            titles[drawn] += f"; {mark} alike{waits}"
    return titles


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
