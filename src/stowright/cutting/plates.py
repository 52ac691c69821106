"""Sound regions of a sheet with defects: cut apart edge to edge before parts are laid on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stowright.cutting.slots import ALONG, LEAF, UPWARD

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["Plate", "Rect", "regions", "split_around"]

type Rect = tuple[int, int, int, int]  # x, y, extent along, extent across [1/160 mm]


@dataclass(frozen=True, slots=True)
class Plate:
    """A rectangle of a sheet: sound, waste, or cut into more of them.

    Attributes:
        rect: Where it lies on the whole sheet, real sizes.
        sound: True for a region that parts may be laid on.
        axis: Axis along which it is cut; ``LEAF`` when it is not.
        kids: What the cuts leave, lower first, one kerf apart.
    """

    rect: Rect
    sound: bool = False
    axis: int = LEAF
    kids: tuple[Plate, ...] = ()


def regions(plate: Plate) -> Iterator[Rect]:
    """Yield the sound rectangles, in the order of the tree."""
    if plate.sound:
        yield plate.rect
    for kid in plate.kids:
        yield from regions(kid)


def split_around(rect: Rect, defects: tuple[Rect, ...], kerf: int) -> Plate:
    """Return a rectangle cut up so that its sound regions are free of defects.

    Each cut runs along an edge of a defect; of the cuts possible the one that frees the largest
    sound rectangle comes first.
    """
    inside = tuple(c for d in defects if (c := _clipped(d, rect)) is not None)
    if not inside:
        return Plate(rect, sound=True)
    if any(d == rect for d in inside):
        return Plate(rect)
    cuts = [cut for d in inside for cut in _cuts_beside(d, rect, kerf)]
    clean = [(_cleared(low, high, inside), axis, low, high) for axis, low, high in cuts]
    _, axis, low, high = max(clean, key=lambda found: (found[0], -found[1], found[2]))
    kids = tuple(split_around(r, inside, kerf) for r in (low, high) if r[2] > 0 and r[3] > 0)
    return Plate(rect, axis=axis, kids=kids)


def _clipped(defect: Rect, rect: Rect) -> Rect | None:
    """Return the part of a defect that lies in a rectangle, if any."""
    low_x, low_y = max(defect[0], rect[0]), max(defect[1], rect[1])
    high_x = min(defect[0] + defect[2], rect[0] + rect[2])
    high_y = min(defect[1] + defect[3], rect[1] + rect[3])
    if low_x >= high_x or low_y >= high_y:
        return None
    return low_x, low_y, high_x - low_x, high_y - low_y


def _cuts_beside(defect: Rect, rect: Rect, kerf: int) -> Iterator[tuple[int, Rect, Rect]]:
    """Yield the cuts along a defect's four edges as axis, lower and higher rectangle."""
    for axis in (ALONG, UPWARD):
        start, end = rect[axis], rect[axis] + rect[2 + axis]
        low, high = defect[axis], defect[axis] + defect[2 + axis]
        if low > start:  # the kerf falls into the defect
            yield axis, _span(rect, axis, start, low), _span(rect, axis, low + kerf, end)
        if high < end and high - kerf > start:
            yield axis, _span(rect, axis, start, high - kerf), _span(rect, axis, high, end)
        elif high < end:  # narrower than the kerf: cut beside it, so that something is left
            yield axis, _span(rect, axis, start, high), _span(rect, axis, high + kerf, end)


def _span(rect: Rect, axis: int, start: int, end: int) -> Rect:
    """Return the part of a rectangle between two positions along an axis."""
    extent = max(0, end - start)
    if axis == ALONG:
        return start, rect[1], extent, rect[3]
    return rect[0], start, rect[2], extent


def _cleared(low: Rect, high: Rect, defects: tuple[Rect, ...]) -> int:
    """Return the area of the larger sound side of a cut."""
    sound = [r[2] * r[3] for r in (low, high) if all(_clipped(d, r) is None for d in defects)]
    return max(sound, default=0)
