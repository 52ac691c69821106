"""Details at full or half size: joint, runner, front, wing cleat, anchor with its spreader plate.

Each is a true section through the model, cut where a fixing runs in the plane.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations, pairwise
from math import dist

from shapely import LineString

from stowright.drawings.detail_cut import CutPiece, cut_items, cut_pieces
from stowright.drawings.detail_fixings import fixing_items, lies_in_plane
from stowright.drawings.detail_kinds import details_of
from stowright.drawings.detail_plan import Detail
from stowright.drawings.dimensioning import linear
from stowright.drawings.extent import Bounds, bounds, framed
from stowright.drawings.part_notes import Tip, led_note
from stowright.drawings.scales import scale_text
from stowright.drawings.scene import Item, Leader, Scene, Text
from stowright.drawings.space import Space
from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.model.geometry import Point2
from stowright.model.part import PlacedFixing
from stowright.units import Unit, format_length

__all__ = ["detail_figures"]

type _Note = tuple[Point2, tuple[str, ...]]

_SCALES = (1.0, 0.5)
_AROUND = 34.0
_MARGIN = 1.0
_HALF_SHEET = 0.6


def detail_figures(
    design: Design, catalogue: Catalogue, *, units: Unit, room: tuple[float, float]
) -> tuple[Scene, ...]:
    """Return a detail of each kind that the design has, at 1:1, or 1:2 where that is too large.

    Args:
        design: The design.
        catalogue: Sizes of fixings.
        units: Unit of print.
        room: Width and height each may take. [mm]
    """
    found = []
    for detail in details_of(design, catalogue, units):
        scene = _drawn(design, catalogue, detail, units, room)
        found.extend([scene] if scene is not None else [])
    return tuple(found)


# Drawn -------------------------------------------------------------------------------------------


def _drawn(
    design: Design, catalogue: Catalogue, detail: Detail, units: Unit, room: tuple[float, float]
) -> Scene | None:
    """Return a detail at the largest of its scales that the room holds; None when none does."""
    pieces = cut_pieces(design, detail.sight, depth=detail.depth, window=detail.window)
    if not pieces:
        return None
    for scale in _SCALES:
        items = _items(design, catalogue, detail, pieces, units, scale)
        scene = framed(
            items, name=detail.name, title=detail.title, view="detail", scale=scale,
            margin=_MARGIN, room=room,
        )  # fmt: skip
        if scene is not None:
            return scene
    return None


def _items(
    design: Design,
    catalogue: Catalogue,
    detail: Detail,
    pieces: tuple[CutPiece, ...],
    units: Unit,
    scale: float,
) -> tuple[Item, ...]:
    window = detail.window
    items: list[Item] = [*detail.also(scale), *cut_items(pieces, scale), *detail.over(scale)]
    shown = [f for f in design.fixings if _shown(f, detail)]
    for fixing in shown:
        items += fixing_items(fixing, catalogue, detail.sight, scale)
    items += _dimensions(detail, units, scale)
    box = bounds(items)
    room = Bounds(
        left=box.left - _AROUND,
        right=box.right + _AROUND,
        bottom=box.bottom - _AROUND,
        top=box.top + _AROUND,
    )
    notes = [*_names(design, pieces, units), *_fixing_names(shown, detail), *_said(detail)]
    items += _led(notes, items, room, scale)
    box = bounds(items)
    head = f"{detail.head or detail.title} · {scale_text(scale)}"
    low = min(box.left, window.left * scale)
    items.append(Text(text=head, at=(low, box.top + 3.5), height=3.0, weight="bold"))
    return tuple(items)


def _led(notes: list[_Note], items: list[Item], room: Bounds, scale: float) -> list[Leader]:
    """Return the notes led to their places; of a few orders the one with the shortest leaders.

    Which note is set first decides which one has the place nearby. While leaders cross, more
    orders are tried.
    """
    rows = [notes, notes[::-1], [*notes[1::2], *notes[::2]]]
    tried = [_set(row, items, room, scale) for row in rows]
    best = min(tried, key=_way)
    for k in range(len(notes)):
        if not _crossings(best):
            break
        first = _set([notes[k], *notes[:k], *notes[k + 1 :]], items, room, scale)
        best = min(best, first, key=_way)
    return best


def _set(notes: list[_Note], items: list[Item], room: Bounds, scale: float) -> list[Leader]:
    """Return the notes, each at the best place that those before it leave."""
    space = Space(room)
    space.take(items)
    found: list[Leader] = []
    for at, lines in notes:
        note = led_note(lines, [Tip((at[0] * scale, at[1] * scale), 0.0)], space)
        space.take((note,))
        found.append(note)
    return found


def _way(notes: list[Leader]) -> tuple[int, int, float]:
    """Return how many notes stand over lines or leaders cross, and how long they are. [mm2]."""
    length = sum(dist(a, b) ** 2 for note in notes for a, b in pairwise(note.points))
    return sum(note.clear for note in notes), _crossings(notes), round(length, 6)


def _crossings(notes: list[Leader]) -> int:
    """Return how many pairs of leaders cross."""
    lines = [LineString(note.points) for note in notes]
    return sum(a.crosses(b) for a, b in combinations(lines, 2))


def _shown(fixing: PlacedFixing, detail: Detail) -> bool:
    """Return whether a fixing lies in the plane, and its head in the window."""
    if not lies_in_plane(fixing, detail.sight, detail.depth):
        return False
    x, y = detail.sight.flat(fixing.at)
    window = detail.window
    return window.left < x < window.right and window.bottom < y < window.top


def _dimensions(detail: Detail, units: Unit, scale: float) -> Iterator[Item]:
    out = {"x": 8.0, "y": 7.0}
    for axis, start, end in detail.sizes:
        k = 0 if axis == "x" else 1
        value = abs(end[k] - start[k])
        if value < 0.05:
            continue
        base = max(start[1 - k], end[1 - k]) * scale
        yield linear(
            (start[0] * scale, start[1] * scale),
            (end[0] * scale, end[1] * scale),
            axis="x" if axis == "x" else "y",
            line_at=base + out[axis],
            value=value,
            units=units,
        )
        out[axis] += 8.0


def _names(
    design: Design, pieces: tuple[CutPiece, ...], units: Unit
) -> Iterator[tuple[Point2, tuple[str, ...]]]:
    """Yield the mark, name and thickness of each cut piece, and a point in it."""
    for piece in pieces:
        part = design.part(piece.placed.mark)
        shape = max(piece.shapes, key=lambda s: s.area)
        at = shape.representative_point()
        words = f"{part.mark} {part.name}, {format_length(part.thickness, units)}"
        yield (float(at.x), float(at.y)), (words,)


def _fixing_names(
    shown: Iterable[PlacedFixing], detail: Detail
) -> Iterator[tuple[Point2, tuple[str, ...]]]:
    seen: set[str] = set()
    for fixing in shown:
        if fixing.type in seen or fixing.kind == "latch":  # a latch is named by its detail
            continue
        seen.add(fixing.type)
        (x, y), (dx, dy) = detail.sight.flat(fixing.at), detail.sight.flat(fixing.direction)
        reach = _HALF_SHEET * fixing.length if fixing.length else 1.0
        yield (x + dx * reach, y + dy * reach), (fixing.type,)


def _said(detail: Detail) -> Iterator[tuple[Point2, tuple[str, ...]]]:
    for at, words in detail.notes:
        yield at, (words,)
