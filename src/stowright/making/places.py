"""How each new piece of a step lies: its good face, its datum corner, its distances.

A carcass's pieces are measured from their module, a box's from the box; what stands loose in the
bay has its place in the plans of places. Left and right are as one looks at the block's face.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from stowright.model.design import Design
from stowright.model.geometry import Axes3, Point3
from stowright.model.making import Step
from stowright.model.part import PlacedPart

__all__ = ["Lie", "lies_of"]

_BAY: Axes3 = ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
#: Where each way along an axis looks: across to the right, inwards, up.
_WORDS = (("left", "right"), ("face", "back"), ("bottom", "top"))
_ALONG = 0.9
#: Fronts are set by their gaps, not by their distance from a box.
_BY_GAPS = frozenset({"drawer-front", "door", "blank"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Lie:
    """How pieces of one mark lie.

    Attributes:
        mark: Their mark.
        copies: How many.
        good_face: What the good face looks at: ``left``, ``right``, ``face``, ``back``, ``top`` …
        corner: Where datum corner 0 is: the sides it starts from, of length and of width.
        away: From the face, from the left, from the bottom, a value for each different place;
            empty where a plan of places or gaps tell it. [mm]
    """

    mark: str
    copies: int
    good_face: str
    corner: tuple[str, str]
    away: tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]] | tuple[()]


def lies_of(design: Design, step: Step) -> tuple[Lie, ...]:
    """Return how the pieces lie that a step introduces, marks in the step's order."""
    by_id = {piece.id: piece for piece in design.placed}
    found: dict[tuple[object, ...], list[tuple[float, float, float] | None]] = {}
    for part in step.parts:
        if part.first:
            for name in part.placed:
                piece = by_id[name]
                axes = _axes(design, piece)
                key = (piece.mark, *(_word(axes, axis) for axis in piece.axes))
                found.setdefault(key, []).append(_away(design, piece, axes))
    return tuple(_lie(key, rows) for key, rows in found.items())


def _lie(key: tuple[object, ...], rows: Sequence[tuple[float, float, float] | None]) -> Lie:
    mark, along, across, up = (str(word) for word in key)
    known = [row for row in rows if row is not None]
    away = tuple(tuple(sorted({row[k] for row in known})) for k in range(3)) if known else ()
    return Lie(
        mark=mark,
        copies=len(rows),
        good_face=up,
        corner=(_opposite(along), _opposite(across)),
        away=(away[0], away[1], away[2]) if away else (),
    )


def _axes(design: Design, piece: PlacedPart) -> Axes3:
    """Return the axes that a piece is looked at by: its block's; the bay's where it has none."""
    for block in design.blocks:
        if block.name == piece.block and (piece.module or piece.opening):
            return block.axes
    return _BAY


def _word(axes: Axes3, axis: Point3) -> str:
    for words, along in zip(_WORDS, axes, strict=True):
        value = _dot(axis, along)
        if abs(value) > _ALONG:
            return words[value > 0.0]
    return "slope"


def _opposite(word: str) -> str:
    for low, high in _WORDS:
        if word in {low, high}:
            return low if word == high else high
    return word


def _away(design: Design, piece: PlacedPart, axes: Axes3) -> tuple[float, float, float] | None:
    """Return how far a piece stands from face, left and bottom; None where others tell it."""
    whole = _whole(design, piece)
    if not whole:
        return None
    across, deep, up = (
        round(min(_reach(piece, axis)) - min(v for w in whole for v in _reach(w, axis)), 1)
        for axis in axes
    )
    return deep, across, up


def _whole(design: Design, piece: PlacedPart) -> list[PlacedPart]:
    """Return the pieces of the carcass or the box that a piece belongs to."""
    if piece.role in _BY_GAPS or not piece.module:
        return []
    if not piece.opening:
        home = (piece.block, piece.module, "")
        return [p for p in design.placed if (p.block, p.module, p.opening) == home]
    if piece.body != piece.opening:
        return []
    return [p for p in design.placed if p.opening == piece.opening and p.role not in _BY_GAPS]


def _reach(piece: PlacedPart, axis: Point3) -> tuple[float, float]:
    """Return where a piece begins and ends along an axis, from shoulder to shoulder."""
    bare = piece.without_tabs()
    ends = _ends(bare, axis)
    return min(ends), max(ends)


def _ends(piece: PlacedPart, axis: Point3) -> Iterable[float]:
    corners = (piece.point(0.0, 0.0, 0.0), piece.point(piece.length, piece.width, piece.thickness))
    return [_dot(corner, axis) for corner in corners]


def _dot(a: Point3, b: Point3) -> float:
    return sum(x * y for x, y in zip(a, b, strict=True))
