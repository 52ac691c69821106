"""Lettering on a cut-up sheet: labels that fit their rectangles, numbers at the saw lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Literal

import numpy as np

from stowright.drawings.extent import Bounds, bounds
from stowright.drawings.lettering import text_width
from stowright.drawings.scene import Balloon, Item, Line, Text
from stowright.drawings.space import Space, ring_offsets
from stowright.model.geometry import Point2
from stowright.model.layout import Cut, Layout

__all__ = ["cut_numbers", "rectangle_label"]

_HEIGHTS = ((3.5, 2.5), (2.5, 2.5), (2.5, 1.8), (1.8, 1.8))
_INSET = 0.7
_CLEAR = 0.1  # between a label's ink and the line round it
_RING = 1.9
_WIDE_RING = 2.4  # round a number of three figures
_ROWS = 4  # of rings one beyond the other, where cuts lie nearer than rings are wide
_OUTSIDE = (3.4, 7.8)  # rows of rings beyond the sheet's edge
_LEFT = 5.6  # and at the left; the sheet's own dimension stands at the right


# Labels ------------------------------------------------------------------------------------------


def rectangle_label(box: Bounds, mark: str, size: str, *, brief_under: float = 0.0) -> list[Item]:
    """Return a mark and size that fit inside a rectangle, turned when that suits it better.

    A rectangle too small for both carries its mark alone; one too small even for that carries
    nothing (the list of cuts names it).

    Args:
        box: The rectangle.
        mark: What is said first.
        size: What is said where there is room.
        brief_under: A rectangle narrower than this carries its mark alone. [mm on paper]
    """
    width, height = box.width - _INSET, box.height - _INSET
    turns = (False, True) if width >= 0.6 * height else (True, False)
    brief = min(box.width, box.height) < brief_under
    for lines in _arrangements(mark, size, brief=brief):
        for turned in turns:
            wide, high = (height, width) if turned else (width, height)
            if _fits(lines, wide, high) and _inside(box, lines, turned=turned):
                return _set(box, lines, turned=turned)
    return []


type _Lines = tuple[tuple[str, float, bool], ...]


def _arrangements(mark: str, size: str, *, brief: bool) -> Iterator[_Lines]:
    """Yield what a label may say, each line with its height and whether it is bold."""
    for big, small in () if brief else _HEIGHTS:
        yield ((mark, big, True), (size, small, False))
        yield ((f"{mark} · {size}", small, False),)
    yield ((mark, 1.8, True),)


def _fits(lines: _Lines, wide: float, high: float) -> bool:
    total = sum(h for _, h, _ in lines) + 0.8 * lines[-1][1] * (len(lines) - 1)
    widest = max(text_width(t, height=h, weight="bold" if b else "regular") for t, h, b in lines)
    return widest <= wide and total * 1.12 <= high


def _inside(box: Bounds, lines: _Lines, *, turned: bool) -> bool:
    """Return whether the lines' ink, brackets and tails included, stays off the rectangle's rim."""
    ink = bounds(_set(box, lines, turned=turned))
    return (
        ink.left >= box.left + _CLEAR
        and ink.right <= box.right - _CLEAR
        and ink.bottom >= box.bottom + _CLEAR
        and ink.top <= box.top - _CLEAR
    )


def _set(box: Bounds, lines: _Lines, *, turned: bool) -> list[Item]:
    """Return the lines set in the middle of a box."""
    gap = 0.8 * lines[-1][1]
    total = sum(h for _, h, _ in lines) + gap * (len(lines) - 1)
    x, y = (box.left + box.right) / 2.0, (box.bottom + box.top) / 2.0
    items: list[Item] = []
    down = -total / 2.0
    for text, height, bold in lines:
        middle = down + height / 2.0
        at = (x + middle, y) if turned else (x, y - middle)
        weight: Literal["bold", "regular"] = "bold" if bold else "regular"
        items.append(
            Text(
                text=text,
                at=at,
                height=height,
                anchor="middle",
                rise="middle",
                turn=90.0 if turned else 0.0,
                weight=weight,
            )
        )
        down += height + gap
    return items


# Cut numbers -------------------------------------------------------------------------------------


def cut_numbers(
    layout: Layout,
    size: tuple[float, float],
    scale: float,
    labels: list[Item],
    *,
    margin: float,
    whole: bool,
) -> list[Item] | None:
    """Return a numbered ring for each cut, or None as soon as one of them finds no place.

    A cut that runs out at the sheet's edge has its ring outside the sheet; others have it on the
    line itself or, where labels are in the way, beyond its end or beside it with a leader. Rings
    are clear of labels and of each other; they may lie up to ``margin`` above and below the sheet.
    Unless all of them are asked for (``whole``), one without a place is left out.
    """
    length, width = size
    room = Bounds(left=-_LEFT, bottom=-margin, right=length, top=width + margin)
    space = Space(room, apart=0.0)
    space.take(labels)
    items: list[Item] = []
    for cut in layout.cuts:
        number = _number(cut, layout, size, scale, space)
        if not number and whole:
            return None
        space.take(number)
        items += number
    return items


def _number(
    cut: Cut, layout: Layout, size: tuple[float, float], scale: float, space: Space
) -> tuple[Item, ...]:
    """Return a cut's ring and its leader where they are free; nothing when there is no place."""
    places = [*_outside_places(cut, layout, size, scale), *_line_places(cut, layout, scale)]
    for centre, end in places:
        ring = _ring(cut, centre)
        marks = (ring,) if end is None else (Line(start=end, end=centre, pen="cut"), ring)
        if space.free(bounds((ring,)), margin=0.25) and space.free_for(marks[:-1]):
            return marks
    return _led_ring(cut, layout, scale, space)


def _led_ring(cut: Cut, layout: Layout, scale: float, space: Space) -> tuple[Item, ...]:
    """Return a ring off the line, led to it, where neither touches lettering; or nothing."""
    at = (cut.at + layout.kerf / 2.0) * scale
    low, high = cut.start * scale, cut.end * scale
    feet = np.array([_point(cut, at, low + k / 8.0 * (high - low)) for k in (4, 2, 6, 1, 7)])
    clear = space.free_boxes(np.hstack((feet - 0.8, feet + 0.8)), level="texts", margin=0.0)
    feet = feet[clear] if len(clear) else feet
    for far, turns in ((60.0, 24), (250.0, 120)):
        offsets = ring_offsets(near=4.0, far=far, step=2.0, turns=turns)
        places = (offsets[:, None, :] + feet[None, :, :]).reshape(-1, 2)
        room = _radius(cut)
        free = space.free_boxes(np.hstack((places - room, places + room)), margin=0.25)
        k = space.first_free_line(feet[free % len(feet)], places[free])
        if k is not None:
            (x, y), (u, v) = places[free[k]], feet[free[k] % len(feet)]
            return (replace(_ring(cut, (float(x), float(y))), target=(float(u), float(v))),)
    return ()


def _ring(cut: Cut, centre: Point2) -> Balloon:
    return Balloon(centre=centre, text=str(cut.order), radius=_radius(cut), height=1.8)


def _radius(cut: Cut) -> float:
    return _RING if cut.order < 100 else _WIDE_RING


def _outside_places(
    cut: Cut, layout: Layout, size: tuple[float, float], scale: float
) -> Iterator[tuple[Point2, Point2 | None]]:
    """Yield places beyond the edge that the cut runs out at, with the line's end there."""
    across = 1 if cut.axis == "x" else 0
    edge = size[across]
    reach = (layout.trim + layout.kerf) * scale + 0.3
    at = (cut.at + layout.kerf / 2.0) * scale
    low, high = cut.start * scale, cut.end * scale
    for row in _OUTSIDE[: 2 if cut.axis == "x" else 1]:
        for end, out in ((high, edge + row), (low, -row)):
            if out > 0.0 and cut.axis == "y":
                continue  # the sheet's own dimension stands at the right
            runs_out = end >= edge - reach if out > 0.0 else end <= reach
            if runs_out:
                yield _point(cut, at, out), _point(cut, at, end)


def _line_places(cut: Cut, layout: Layout, scale: float) -> Iterator[tuple[Point2, Point2 | None]]:
    at = (cut.at + layout.kerf / 2.0) * scale
    low, high = cut.start * scale, cut.end * scale
    for share in (0.5, 0.35, 0.65, 0.22, 0.78, 0.12, 0.88, 0.42, 0.58, 0.05, 0.95):
        yield _point(cut, at, low + share * (high - low)), None
    for row in range(_ROWS):
        off = _RING + 0.3 + row * (2.0 * _RING + 0.5)
        for end, beyond in ((high, high + off), (low, low - off)):
            yield _point(cut, at, beyond), _point(cut, at, end) if row else None


def _point(cut: Cut, at: float, along: float) -> Point2:
    return (at, along) if cut.axis == "x" else (along, at)
