"""Layouts with every rectangle in its place, waste included, real sizes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stowright.cutting.slots import ALONG, LEAF, UPWARD, Slot

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stowright.cutting.plates import Plate, Rect

__all__ = ["Block", "lay_on_plate", "lay_on_rect"]


@dataclass(frozen=True, slots=True)
class Block:
    """A rectangle of a layout. Real sizes in 1/160 mm, on the whole sheet.

    Attributes:
        rect: x, y, extent along, extent across.
        axis: Axis along which it is cut; ``LEAF`` for a part or waste.
        kids: What the cuts leave, lower first; where the last one ends short of the block's end,
            the rest is sawdust of one more cut.
        kind: Kind of part that it is; -1 for waste or when it is cut.
        turned: True when the part lies turned.
    """

    rect: Rect
    axis: int = LEAF
    kids: tuple[Block, ...] = ()
    kind: int = -1
    turned: bool = False

    def leaves(self) -> Iterator[Block]:
        """Yield parts and waste, in order."""
        if self.axis == LEAF:
            yield self
        for kid in self.kids:
            yield from kid.leaves()


def lay_on_plate(
    plate: Plate, roots: list[Slot | None], kerf: int, *, rips_first: bool = False
) -> Block:
    """Return a sheet with one layout for each of its sound regions, in their order.

    Args:
        plate: The sheet, cut apart around its defects.
        roots: The layouts, None for a region left whole; used up from the front.
        kerf: Width of a cut. [1/160 mm]
        rips_first: True when rips along the whole length must come before any crosscut.
    """
    if plate.sound:
        root = roots.pop(0)
        if root is None:
            return Block(plate.rect)
        lay = _lay_rips_first if rips_first else lay_on_rect
        return lay(root, plate.rect, kerf)
    kids = tuple(lay_on_plate(kid, roots, kerf, rips_first=rips_first) for kid in plate.kids)
    return Block(plate.rect, plate.axis, kids)


def lay_on_rect(root: Slot, rect: Rect, kerf: int) -> Block:
    """Return a layout in its place on a rectangle.

    What the sheet has beyond the layout's own size is left so that the larger rest is one piece.
    """
    over_x, over_y = rect[2] + kerf - root.w, rect[3] + kerf - root.h
    right = over_x * rect[3]  # the rest beside the layout as high as the sheet, or ...
    above = over_y * rect[2]  # ... the one above it as long as the sheet
    first = ALONG if right > above else UPWARD
    if (over_x if first == ALONG else over_y) == 0:
        return _lay(root, rect, kerf)
    own = list(rect)
    own[2 + first] = root.extent(first) - kerf
    kid = _lay(root, (own[0], own[1], own[2], own[3]), kerf)
    return _with_rest(rect, first, [kid], kerf)


def _lay_rips_first(root: Slot, rect: Rect, kerf: int) -> Block:
    """Return a layout whose first cuts all run along the whole rectangle."""
    rows = root.kids if root.axis == UPWARD else (root,)
    kids: list[Block] = []
    at = rect[UPWARD]
    for row in rows:
        own = _placed(rect, UPWARD, at, row.h - kerf)
        kids.append(_lay(row, own, kerf, groups=False))
        at += row.h
    if len(kids) == 1 and kids[0].rect == rect:
        return kids[0]
    return _with_rest(rect, UPWARD, kids, kerf)


def _lay(slot: Slot, rect: Rect, kerf: int, *, groups: bool = True) -> Block:
    """Return a slot in its place; the rectangle may be larger than it either way."""
    across = UPWARD if slot.axis == ALONG else ALONG
    if slot.axis == LEAF:
        return _lay_part(slot, rect, kerf)
    if slot.extent(across) - kerf < rect[2 + across]:
        return _lay_row_with_rest(slot, rect, across, kerf, groups=groups)
    kids: list[Block] = []
    at = rect[slot.axis]
    for group in _groups(slot, groups=groups):
        extent = sum(kid.extent(slot.axis) for kid in group)
        own = _placed(rect, slot.axis, at, extent - kerf)
        kids.append(_lay(_as_one(slot.axis, group), own, kerf, groups=groups))
        at += extent
    return _with_rest(rect, slot.axis, kids, kerf)


def _groups(slot: Slot, *, groups: bool) -> list[list[Slot]]:
    """Return a row's kids in groups that are trimmed by one line; full ones one by one."""
    across = 1 - slot.axis
    found: dict[tuple[int, int], list[Slot]] = {}
    for index, kid in enumerate(slot.kids):
        extent = kid.extent(across)
        alone = not groups or extent == slot.extent(across)
        found.setdefault((extent, index if alone else -1), []).append(kid)
    return list(found.values())


def _as_one(axis: int, group: list[Slot]) -> Slot:
    """Return a group of kids as one slot, a row of its own where there are several."""
    if len(group) == 1:
        return group[0]
    along, across = sum(kid.extent(axis) for kid in group), group[0].extent(1 - axis)
    w, h = (across, along) if axis else (along, across)
    return Slot(axis, w, h, tuple(group))


def _lay_row_with_rest(slot: Slot, rect: Rect, across: int, kerf: int, *, groups: bool) -> Block:
    """Return a row that is less wide than its place: the rest is ripped off first."""
    own = _placed(rect, across, rect[across], slot.extent(across) - kerf)
    return _with_rest(rect, across, [_lay(slot, own, kerf, groups=groups)], kerf)


def _lay_part(slot: Slot, rect: Rect, kerf: int) -> Block:
    """Return a part in a place that may be larger than it: trimmed on up to two sides."""
    w, h = slot.w - kerf, slot.h - kerf
    if (w, h) == rect[2:]:
        return Block(rect, kind=slot.kind, turned=slot.turned)
    axis = ALONG if (rect[2] - w) * rect[3] >= (rect[3] - h) * rect[2] else UPWARD
    own = _placed(rect, axis, rect[axis], h if axis else w)
    return _with_rest(rect, axis, [_lay_part(slot, own, kerf)], kerf)


def _placed(rect: Rect, axis: int, at: int, extent: int) -> Rect:
    """Return the part of a rectangle that starts at a position and has an extent on an axis."""
    if axis == ALONG:
        return at, rect[1], extent, rect[3]
    return rect[0], at, rect[2], extent


def _with_rest(rect: Rect, axis: int, kids: list[Block], kerf: int) -> Block:
    """Return a block of kids and, where one is left, the rest at the high end."""
    last = kids[-1].rect
    start = last[axis] + last[2 + axis] + kerf
    extent = rect[axis] + rect[2 + axis] - start
    if extent > 0:
        kids = [*kids, Block(_placed(rect, axis, start, extent))]
    flat: list[Block] = []
    for kid in kids:
        flat.extend(kid.kids if kid.axis == axis and _fills(kid, axis) else (kid,))
    return Block(rect, axis, tuple(flat))


def _fills(block: Block, axis: int) -> bool:
    """Tell whether a block's kids reach its end, so that they may stand in its place."""
    last = block.kids[-1].rect
    return last[axis] + last[2 + axis] == block.rect[axis] + block.rect[2 + axis]
