"""Boards across drawers and trays, where the packing of the load asks for them.

A board stands on the bottom, loose between the sides, and is screwed through the bottom from
below, so that it holds and still comes out.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from stowright.design.context import Context
from stowright.design.frame import frame_of
from stowright.design.panel import Lie, Place3, panel
from stowright.design.pieces import JointDraft, Piece
from stowright.design.sums import fitted, line
from stowright.model.design import BlockDesign, OpeningDesign, Sum
from stowright.model.geometry import Span
from stowright.model.packed import Divider, PackedLoad
from stowright.units import snap_down

__all__ = ["Dividers", "dividers_of"]

#: What a board is shorter than the inside it stands in, both ends together (common practice). [mm]
LOOSE_FIT = 1.0
_LIE = Lie("+a", "+h", "-d")
_BOTTOMS = frozenset({"drawer-bottom", "tray-base"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Dividers:
    """The boards of a design, what screws them, and how long they are."""

    pieces: tuple[Piece, ...] = ()
    drafts: tuple[JointDraft, ...] = ()
    sums: tuple[Sum, ...] = ()


def dividers_of(
    context: Context,
    blocks: Iterable[BlockDesign],
    pieces: Iterable[Piece],
    packed: PackedLoad | None,
) -> Dividers:
    """Return the boards that a packing asks for, in its order."""
    if packed is None or not packed.dividers:
        return Dividers()
    homes = {o.name: (block, o) for block in blocks for o in block.openings}
    bottoms = {p.opening: p for p in pieces if p.role in _BOTTOMS}
    boards: list[Piece] = []
    drafts: list[JointDraft] = []
    sums: list[Sum] = []
    for divider in packed.dividers:
        block, opening = homes[divider.opening]
        number = 1 + sum(board.opening == opening.name for board in boards)
        board = _board(context, block, opening, divider, number=number)
        boards.append(board)
        sums.append(_sum(context, board, block, opening))
        if opening.name in bottoms:
            drafts.append(_screwed(bottoms[opening.name], board))
    return Dividers(pieces=tuple(boards), drafts=tuple(drafts), sums=tuple(sums))


def _board(
    context: Context, block: BlockDesign, opening: OpeningDesign, divider: Divider, *, number: int
) -> Piece:
    inside = _inside(block, opening)
    length = snap_down(inside - LOOSE_FIT, context.grid)
    low = round((inside - length) / 2.0, 6)
    t = context.t(divider.material)
    height = snap_down(divider.height, context.grid)
    return panel(
        frame_of(block.face, opening.usable),
        Place3(
            across=Span(low=low, high=round(low + length, 6)),
            depth=Span(low=divider.depth, high=round(divider.depth + t, 6)),
            up=Span(low=0.0, high=height),
        ),
        _LIE,
        piece_id=f"{opening.name}/divider-{number}",
        name="divider",
        role="divider",
        block=block.name,
        body=opening.name,
        material=divider.material,
        module=opening.module,
        opening=opening.name,
        release="B",
        waits_for=f"{opening.name}: between runners",
        edges=("v1",),
    )


def _inside(block: BlockDesign, opening: OpeningDesign) -> float:
    usable = opening.usable
    return usable.y.size if block.face == "tail" else usable.x.size


def _sum(context: Context, board: Piece, block: BlockDesign, opening: OpeningDesign) -> Sum:
    return fitted(
        f"{board.id}: length",
        line("inside across", _inside(block, opening)),
        line("loose between the sides", -LOOSE_FIT),
        grid=context.grid,
    )


def _screwed(bottom: Piece, board: Piece) -> JointDraft:
    return JointDraft(
        receiver=bottom.id,
        entering=board.id,
        kind="butt",
        glued=False,
        step="drawer",
        purpose="bottom to divider",
        removable=True,
    )
