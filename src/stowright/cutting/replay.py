"""The first checker: saws a layout as it is numbered and looks at what is left in hand.

It knows nothing of how layouts are made. It starts with the trimmed sheet, makes every cut in
its order, refuses a cut that does not run edge to edge of a piece in hand, and compares what is
left with the tree of cuts and with the parts.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from stowright.cutting import grid
from stowright.cutting.layout_units import refused, whole_units

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stowright.cutting.plates import Rect
    from stowright.model.layout import (
        Cut,
        CutLeaf,
        CutNode,
        CutPart,
        Layout,
        Offcut,
        Piece,
        StockSheet,
    )

__all__ = ["check_by_replay", "check_stages"]


def check_by_replay(layout: Layout, parts: tuple[CutPart, ...], sheet: StockSheet) -> None:
    """Refuse an edge-to-edge layout that cannot be sawn as numbered into exactly its pieces.

    Args:
        layout: The layout.
        parts: The parts that its pieces are taken from.
        sheet: The stock sheet it is made for.

    Raises:
        CuttingError: Naming the layout, the cut or the piece, and what is wrong.
    """
    if layout.tree is None:
        raise refused(layout, "has no tree of cuts")
    whole = _trimmed(layout, sheet)
    if _rect(layout, layout.tree) != whole:
        raise refused(layout, "its tree does not start from the trimmed sheet")
    kerf = whole_units(layout, layout.kerf)
    left = _sawn(layout, whole, kerf)
    leaves = list(_tree_leaves(layout, layout.tree, kerf))
    if left != Counter(_rect(layout, leaf) for leaf in leaves):
        raise refused(layout, "the numbered cuts leave other pieces than the tree of cuts")
    _check_pieces(layout, leaves, parts)
    _check_rest(layout, leaves)
    _check_defects(layout, leaves, sheet)


def check_stages(layout: Layout, stages: int) -> None:
    """Refuse a layout for a panel saw that has too many stages, rips being the first.

    A last trim that brings a part to its width is not a stage of its own. A strip that is exactly
    as high as the sheet needs no rip to free it, but that stage counts as one.

    Args:
        layout: The layout.
        stages: Most stages.

    Raises:
        CuttingError: Naming the layout and what is wrong.
    """
    if layout.tree is None:
        raise refused(layout, "has no tree of cuts")
    if _stages(layout.tree) + (layout.tree.axis == "x") > stages:
        raise refused(layout, f"needs more than {stages} stages")


def _stages(node: CutNode) -> int:
    """Return how many stages a rectangle is cut in, last trims apart."""
    if node.axis is None:
        return 0
    inside = max(_stages(child) for child in node.children)
    marked = sum(1 for child in node.children if child.mark)
    if inside == 0 and marked == 1:
        return 0
    return 1 + inside


def _rect(layout: Layout, it: CutNode | CutLeaf | Piece | Offcut) -> Rect:
    x, y, along, across = (whole_units(layout, v) for v in (it.x, it.y, it.along, it.across))
    if along <= 0 or across <= 0:
        raise refused(layout, f"a rectangle at {it.x:g}, {it.y:g} has no size")
    return x, y, along, across


def _trimmed(layout: Layout, sheet: StockSheet) -> Rect:
    """Return the sheet less its trimmed edges."""
    if (layout.sheet, layout.material) != (sheet.id, sheet.material):
        raise refused(layout, f"is held against another sheet, {sheet.id} of {sheet.material}")
    trim = whole_units(layout, layout.trim)
    length, width = grid.whole_down(sheet.length), grid.whole_down(sheet.width)
    return trim, trim, length - 2 * trim, width - 2 * trim


def _sawn(layout: Layout, whole: Rect, kerf: int) -> Counter[Rect]:
    """Make every cut in its order and return what is left in hand."""
    in_hand = [whole]
    for number, cut in enumerate(layout.cuts, start=1):
        if cut.order != number:
            raise refused(layout, f"cut {cut.order} stands where cut {number} should")
        held = _held(layout, cut, in_hand)
        in_hand.remove(held)
        left = list(_halves(layout, cut, held, kerf))
        if left != [_rect(layout, leaf) for leaf in cut.leaves]:
            raise refused(layout, f"cut {number} does not leave what it says")
        in_hand.extend(left)
    return Counter(in_hand)


def _held(layout: Layout, cut: Cut, in_hand: list[Rect]) -> Rect:
    """Return the piece in hand that a cut crosses edge to edge."""
    at, start, end = (whole_units(layout, v) for v in (cut.at, cut.start, cut.end))
    axis = 0 if cut.axis == "x" else 1
    for rect in in_hand:
        inside = rect[axis] < at < rect[axis] + rect[2 + axis]
        if inside and (start, end) == (rect[1 - axis], rect[1 - axis] + rect[3 - axis]):
            return rect
    raise refused(layout, f"cut {cut.order} does not run edge to edge of a piece in hand")


def _halves(layout: Layout, cut: Cut, held: Rect, kerf: int) -> Iterator[Rect]:
    """Yield what a cut makes of a piece; a rest no wider than the kerf is sawdust."""
    at, axis = whole_units(layout, cut.at), 0 if cut.axis == "x" else 1
    yield _span(held, axis, held[axis], at)
    end = held[axis] + held[2 + axis]
    if at + kerf < end:
        yield _span(held, axis, at + kerf, end)


def _span(rect: Rect, axis: int, start: int, end: int) -> Rect:
    if axis == 0:
        return start, rect[1], end - start, rect[3]
    return rect[0], start, rect[2], end - start


def _tree_leaves(layout: Layout, node: CutNode, kerf: int) -> Iterator[CutNode]:
    """Yield the undivided rectangles of a tree whose every division is edge to edge."""
    if node.axis is None:
        yield node
        return
    axis = 0 if node.axis == "x" else 1
    rect = _rect(layout, node)
    at, end = rect[axis], rect[axis] + rect[2 + axis]
    for child in node.children:
        own = _rect(layout, child)
        if own != _span(rect, axis, at, at + own[2 + axis]):
            raise refused(layout, f"a piece at {child.x:g}, {child.y:g} is not one kerf on")
        at += own[2 + axis] + kerf
        yield from _tree_leaves(layout, child, kerf)
    if not end <= at <= end + kerf:
        raise refused(layout, f"what is cut at {node.x:g}, {node.y:g} does not add up to it")


def _check_pieces(layout: Layout, leaves: list[CutNode], parts: tuple[CutPart, ...]) -> None:
    """Refuse pieces that are not exactly the marked leaves, or not the size of their part."""
    known = {(part.job, part.mark): part for part in parts}
    marked = Counter((n.job, n.mark, n.turned, _rect(layout, n)) for n in leaves if n.mark)
    listed = Counter((p.job, p.mark, p.turned, _rect(layout, p)) for p in layout.pieces)
    if marked != listed:
        raise refused(layout, "its list of pieces is not what the cuts leave")
    for job, mark, turned, rect in listed:
        part = known.get((job, mark))
        if part is None:
            raise refused(layout, f"{mark} is not a part of this job")
        if part.material != layout.material:
            raise refused(layout, f"{mark} is of {part.material}, not of {layout.material}")
        if turned and part.grain:
            raise refused(layout, f"{mark} lies across the grain")
        size = grid.up(part.length), grid.up(part.width)
        if rect[2:] != (size[::-1] if turned else size):
            raise refused(
                layout, f"{mark} is cut to another size than {part.length:g} × {part.width:g}"
            )


def _check_rest(layout: Layout, leaves: list[CutNode]) -> None:
    """Refuse offcuts that are not exactly the unmarked leaves."""
    unmarked = Counter(_rect(layout, leaf) for leaf in leaves if not leaf.mark)
    if unmarked != Counter(_rect(layout, offcut) for offcut in layout.offcuts):
        raise refused(layout, "its list of offcuts is not what the cuts leave")


def _check_defects(layout: Layout, leaves: list[CutNode], sheet: StockSheet) -> None:
    """Refuse a part or a kept offcut that touches a defect."""
    kept = {_rect(layout, offcut) for offcut in layout.offcuts if offcut.keep}
    for leaf in leaves:
        rect = _rect(layout, leaf)
        if not leaf.mark and rect not in kept:
            continue
        for x, y, along, across in sheet.defects:
            apart = (
                grid.whole_down(x) >= rect[0] + rect[2]
                or grid.up(x + along) <= rect[0]
                or grid.whole_down(y) >= rect[1] + rect[3]
                or grid.up(y + across) <= rect[1]
            )
            if not apart:
                what = leaf.mark or "an offcut to keep"
                raise refused(layout, f"{what} lies on a defect at {x:g}, {y:g}")
