"""The second checker: looks at the rectangles alone, in exact fractions of a millimetre.

It shares nothing with the first: no tree, no numbered cuts, no whole units. From the pieces it
finds out whether they lie inside, apart by a kerf, sound, along the grain and in the right
number, and whether edge-to-edge cuts of one kerf could set them free at all. Any cut that passes
between pieces may be taken first: taking one never spoils another, so no search is needed.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from typing import TYPE_CHECKING

from stowright.errors import CuttingError

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from stowright.model.layout import CutPart, CuttingPlan, Layout, Piece, StockSheet

__all__ = ["check_by_rectangles", "check_counts"]

type Span = tuple[Fraction, Fraction]
type Box = tuple[Span, Span]

_LARGEST_ROUNDING = Fraction(1, 160)  # mm; sizes that are no whole units are rounded up to one


def check_by_rectangles(layout: Layout, parts: tuple[CutPart, ...], sheet: StockSheet) -> None:
    """Refuse a layout whose pieces cannot come out of its sheet.

    Args:
        layout: The layout; without a tree of cuts the edge-to-edge rule is not asked for.
        parts: The parts that its pieces are taken from.
        sheet: The stock sheet it is made for.

    Raises:
        CuttingError: Naming the layout, the piece and what is wrong.
    """
    known = {(part.job, part.mark): part for part in parts}
    boxes = [_box(piece.x, piece.y, piece.along, piece.across) for piece in layout.pieces]
    for piece, box in zip(layout.pieces, boxes, strict=True):
        _check_size(layout, piece, known.get((piece.job, piece.mark)))
        _check_inside(layout, piece, box, sheet)
        _check_sound(layout, piece, box, sheet)
    kerf = _exact(layout.kerf)
    _check_apart(layout, boxes, kerf)
    if layout.tree is not None and not _comes_apart(boxes, kerf):
        raise _refused(layout, "no edge-to-edge cuts can set its pieces free")


def check_counts(
    plan: CuttingPlan, parts: tuple[CutPart, ...], stock: tuple[StockSheet, ...]
) -> None:
    """Refuse a plan that does not hold every part exactly once or uses more sheets than there are.

    Raises:
        CuttingError: Naming the part or the sheet, with both numbers.
    """
    cut = Counter[tuple[str, str]]()
    sheets = Counter[tuple[str, str]]()
    for layout in plan.layouts:
        sheets[layout.material, layout.sheet] += layout.copies
        for piece in layout.pieces:
            cut[piece.job, piece.mark] += layout.copies
    for missing in plan.unplaced:
        cut[missing.job, missing.mark] += missing.quantity
    asked = Counter[tuple[str, str]]()
    for part in parts:
        asked[part.job, part.mark] += part.quantity
    for job, mark in sorted(asked | cut):
        if asked[job, mark] != cut[job, mark]:
            raise CuttingError(f"{mark}: {asked[job, mark]} asked for, {cut[job, mark]} laid out")
    limits = {(sheet.material, sheet.id): sheet.copies for sheet in stock}
    for material, name in sorted(sheets):
        limit, used = limits.get((material, name), 0), sheets[material, name]
        if limit is not None and used > limit:
            raise CuttingError(f"sheet {name} of {material}: {limit} there, {used} used")


def _refused(layout: Layout, reason: str) -> CuttingError:
    return CuttingError(f"layout {layout.number} on {layout.sheet}: {reason}")


def _exact(value: float) -> Fraction:
    """Return a length as the fraction that its float was rounded from."""
    return Fraction(value).limit_denominator(10_000)


def _box(x: float, y: float, along: float, across: float) -> Box:
    left, low = _exact(x), _exact(y)
    return (left, left + _exact(along)), (low, low + _exact(across))


def _check_size(layout: Layout, piece: Piece, part: CutPart | None) -> None:
    if part is None:
        raise _refused(layout, f"{piece.mark} is not a part of this job")
    if piece.turned and part.grain:
        raise _refused(layout, f"{piece.mark} lies across the grain")
    if part.material != layout.material:
        raise _refused(layout, f"{piece.mark} is of {part.material}, not of {layout.material}")
    asked = (part.width, part.length) if piece.turned else (part.length, part.width)
    for got, wanted in zip((piece.along, piece.across), asked, strict=True):
        if not 0 <= _exact(got) - _exact(wanted) < _LARGEST_ROUNDING:
            raise _refused(layout, f"{piece.mark} is {got:g} where {wanted:g} is asked for")


def _check_inside(layout: Layout, piece: Piece, box: Box, sheet: StockSheet) -> None:
    trim = _exact(layout.trim)
    for (low, high), side in zip(box, (sheet.length, sheet.width), strict=True):
        if low < trim or high > _exact(side) - trim:
            raise _refused(layout, f"{piece.mark} reaches beyond the trimmed sheet")


def _check_sound(layout: Layout, piece: Piece, box: Box, sheet: StockSheet) -> None:
    for x, y, along, across in sheet.defects:
        if _overlap(box, _box(x, y, along, across), Fraction(0)):
            raise _refused(layout, f"{piece.mark} lies on a defect at {x:g}, {y:g}")


def _overlap(one: Box, other: Box, kerf: Fraction) -> bool:
    """Tell whether two boxes are nearer than a kerf in both directions."""
    return all(a[0] < b[1] + kerf and b[0] < a[1] + kerf for a, b in zip(one, other, strict=True))


def _check_apart(layout: Layout, boxes: Sequence[Box], kerf: Fraction) -> None:
    for index, box in enumerate(boxes):
        for before in range(index):
            if _overlap(box, boxes[before], kerf):
                names = f"{layout.pieces[before].mark} and {layout.pieces[index].mark}"
                raise _refused(layout, f"{names} overlap or leave no room for the kerf")


def _comes_apart(boxes: Sequence[Box], kerf: Fraction) -> bool:
    """Tell whether edge-to-edge cuts can part the boxes from one another."""
    groups = [list(boxes)]
    while groups:
        group = groups.pop()
        if len(group) < 2:
            continue
        halves = _parted(group, 0, kerf) or _parted(group, 1, kerf)
        if halves is None:
            return False
        groups.extend(halves)
    return True


def _parted(group: Iterable[Box], axis: int, kerf: Fraction) -> list[list[Box]] | None:
    """Return the groups that all cuts across an axis make of a group; None when there is none."""
    runs: list[list[Box]] = []
    reach = Fraction(0)
    for box in sorted(group, key=lambda b: b[axis][0]):
        if runs and box[axis][0] < reach + kerf:
            runs[-1].append(box)
            reach = max(reach, box[axis][1])
        else:
            runs.append([box])
            reach = box[axis][1]
    return runs if len(runs) > 1 else None
