"""Rubber stops behind drawer boxes, so that a shut drawer has no way to go towards its back.

A stop stands on the carcass back, on blocks where the room behind the box is greater; where that
room is deep, the blocks stand on the uprights instead, just behind the box, where they are reached.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil

from stowright.design.pieces import Piece
from stowright.design.screw_choice import RESERVE, least_bite
from stowright.model.catalogue import Screw
from stowright.model.design import Gap, OpeningDesign
from stowright.model.goods_place import GoodsPlace

__all__ = [
    "BLOCK_MM",
    "STOP_MM",
    "ScrewShelf",
    "back_stops",
    "on_uprights",
    "stop_places",
    "stops_of",
]

#: Thickness of a rubber stop, its sides, how far the shut box presses it (common practice). [mm]
STOP_MM = 10.0
_STOP_SIDE = 20.0
_PRESSED = 1.0
#: A timber block: along, across, thick. [mm]
BLOCK_MM = (60.0, 40.0, 15.0)
_STOP, _BLOCK = "bump-stop-10", "stop-block"
#: Blocks stand on the back up to this height; less than the least is packed, not planed. [mm]
_MOST_ON_BACK, _LEAST_BLOCK = 45.0, 2.0
#: Rubber under the head of the screw through a stop, half a stop's width, and how deep a screw's
#: head is sunk into a block without a thought, and at most (judgement). [mm]
_SEAT, _HALF, _SHALLOW, _SUNK = 4.0, 10.0, 4, 10.0
#: Screws through stops and blocks: no thicker, so that a block does not split (judgement). [mm]
_THICK_STOP, _THICK_BLOCK = 3.6, 4.2
#: Room above and below a standing block. [mm]
_ROUND = 16.0
_SIDES = frozenset({"drawer-side", "tray-cheek"})
_ABOVE = "above what is under the box"

type _Row = tuple[str, int, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewShelf:
    """The screws there are, and those that the design uses already: one pack then serves both."""

    screws: Sequence[Screw]
    used: frozenset[str]

    def through_stop(self, under: float, into: float) -> Screw | None:
        """Return a screw through a stop and what is under it; ``into`` is what it may bite."""
        fitting = [
            s
            for s in self._slim(_THICK_STOP)
            if _SEAT + under + least_bite(s.diameter) <= s.length <= _SEAT + under + into
        ]
        return min(
            fitting, key=lambda s: (s.name not in self.used, -s.length, s.name), default=None
        )

    def through_block(self, thick: float, into: float) -> tuple[Screw, int] | None:
        """Return a screw through a block, its head sunk by so much. [mm]."""
        found = []
        for s in self._slim(_THICK_BLOCK):
            sunk = max(0, ceil(thick + least_bite(s.diameter) - s.length - 1.0e-9))
            if sunk <= min(_SUNK, thick / 2.0) and s.length <= thick + into:
                found.append((sunk > _SHALLOW, s.name not in self.used, sunk, -s.length, s.name, s))
        best = min(found, default=None, key=lambda row: row[:5])
        return None if best is None else (best[5], best[2])

    def _slim(self, thickest: float) -> Iterator[Screw]:
        return (s for s in self.screws if s.kind == "countersunk" and s.diameter <= thickest)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """Where a box's stops go: room behind it, and how far its side is in and up. [mm].

    ``end`` is where a stop's back end stands, from the face; ``back`` and ``upright`` are the least
    thickness of what they are screwed to; ``low`` is an opening in which a block has no room to
    stand.
    """

    opening: OpeningDesign
    room: float
    inwards: float
    up: float
    end: float
    back: float
    upright: float
    even: bool
    low: bool


def back_stops(
    openings: Iterable[OpeningDesign],
    pieces: Iterable[Piece],
    gaps: Iterable[Gap],
    *,
    shelf: ScrewShelf,
    thinnest: Mapping[str, float],
) -> Iterator[_Row]:
    """Yield what is bought to stop every drawer and tray against its carcass: two stops a box.

    None where the carcass has no back panel.

    Args:
        openings: Every opening.
        pieces: Every piece in the bay.
        gaps: The named gaps; the one behind a box tells the room.
        shelf: The screws.
        thinnest: Least thickness of each material in use. [mm]
    """
    for place in _places(openings, pieces, gaps, thinnest):
        how, goods = _fitted(place, shelf)
        where = (
            f"{place.opening.name}: behind the box; one at each side, so that the shut box presses "
            f"them {_PRESSED:g} mm; {how}"
        )
        yield from ((name, count, where) for name, count in goods if count)


def stop_places(
    openings: Iterable[OpeningDesign],
    pieces: Iterable[Piece],
    gaps: Iterable[Gap],
    *,
    thinnest: Mapping[str, float],
) -> Iterator[GoodsPlace]:
    """Yield where stops and their blocks stand; the arguments are those of ``back_stops``."""
    for place in _places(openings, pieces, gaps, thinnest):
        stop = GoodsPlace(
            opening=place.opening.name,
            kind="stop",
            what=_STOP,
            on="upright" if on_uprights(place.room) else "back",
            across=place.inwards,
            inwards=round(place.end - STOP_MM, 1),
            up=place.up,
            size=(_STOP_SIDE, STOP_MM, _STOP_SIDE),
        )
        for one in (stop, *_block_of(place, stop)):
            yield one
            yield replace(one, across=round(place.opening.width - one.across, 1))


def _block_of(place: _Place, stop: GoodsPlace) -> Iterator[GoodsPlace]:
    """Yield what a stop stands on besides the back or the upright."""
    under = place.room - STOP_MM + _PRESSED
    tall, wide = BLOCK_MM[:2] if not place.low else (BLOCK_MM[1], BLOCK_MM[0])
    if stop.on == "upright":
        layers = _layers(place.inwards + _HALF)
        across = layers * BLOCK_MM[2]
        size = (across, wide, tall)
    elif under >= _LEAST_BLOCK:
        layers, across = _layers(under), max(2.0 * place.inwards, wide)  # not into the upright
        size = (wide, float(round(under)), tall)  # as it is planed
    else:
        return
    yield replace(
        stop,
        kind="block",
        what=_BLOCK,
        across=across / 2.0,
        inwards=place.end,
        size=size,
        count=layers,
    )


def _layers(thick: float) -> int:
    return ceil(thick / BLOCK_MM[2] - 1.0e-9)


def _places(
    openings: Iterable[OpeningDesign],
    pieces: Iterable[Piece],
    gaps: Iterable[Gap],
    thinnest: Mapping[str, float],
) -> Iterator[_Place]:
    rows = tuple(pieces)
    backs = {(p.block, p.module): p for p in rows if p.role == "carcass-back"}
    sides = {p.opening: p for p in rows if p.role in _SIDES}
    by_id = {p.id: p for p in rows}
    behind = {gap.name: gap.sum for gap in gaps}

    def least(piece: Piece | None) -> float:
        if piece is None:
            return 0.0
        return min(piece.thickness, thinnest.get(piece.material, piece.thickness))

    for opening in openings:
        room = behind.get(f"{opening.name}: behind the box")
        back, side = backs.get((opening.block, opening.module)), sides.get(opening.name)
        if opening.box is None or room is None or back is None or side is None:
            continue
        in_from = (opening.width - opening.box.width + side.thickness) / 2.0
        yield _Place(
            opening=opening,
            room=room,
            inwards=round(in_from, 1),
            up=round(opening.build.under_gap + (opening.box.height + opening.box.under) / 2.0),
            end=round(opening.depth - room + STOP_MM - _PRESSED, 1),
            back=least(back),
            upright=min(least(by_id.get(bound)) for bound in opening.bounds[:2]),
            even=opening.column % 2 == 0,
            low=opening.height < BLOCK_MM[0] + _ROUND,
        )


def _fitted(place: _Place, shelf: ScrewShelf) -> tuple[str, list[tuple[str, int]]]:
    """Return in words how a box's stops stand, and what that takes."""
    under = place.room - STOP_MM + _PRESSED
    if on_uprights(place.room):
        return _blocks_on_uprights(place, shelf)
    middle = f"its middle {place.inwards:g} mm in from the upright and {place.up:g} mm {_ABOVE}"
    if under < _LEAST_BLOCK:
        screw = shelf.through_stop(0.0, place.back - RESERVE)
        packed = f", packed out by {under:.0f} mm" if under >= 1.0 else ""
        held = _by_screw(screw, "into the back")
        return f"each stands on the back{packed}, {middle}{held}", [(_STOP, 2), *_screws(screw, 2)]
    layers = _layers(under)
    word = "a block glued" if layers == 1 else f"{layers} blocks glued one on the other and"
    goods = [(_STOP, 2), (_BLOCK, 2 * layers)]
    both = shelf.through_stop(under, place.back - RESERVE)
    lying = ", lying" if place.low else ""
    told = f"each stands on {word} to the back{lying}, planed to {under:.0f} mm in all, {middle}"
    if both is not None:
        held = _by_screw(both, "through both into the back")
        return f"{told}{held}", [*goods, *_screws(both, 2)]
    own = shelf.through_stop(0.0, under - RESERVE)
    block = shelf.through_block(under, place.back - RESERVE)
    held = _block_held(block, 1, "into the back") + _by_screw(own, "into its block")
    through = [] if block is None else [(block[0].name, 2)]
    return f"{told}{held}", [*goods, *through, *_screws(own, 2)]


def _blocks_on_uprights(place: _Place, shelf: ScrewShelf) -> tuple[str, list[tuple[str, int]]]:
    """Return stops on blocks that stand in from the uprights as far as the box's sides."""
    layers = _layers(place.inwards + _HALF)
    out = layers * BLOCK_MM[2]
    own = shelf.through_stop(0.0, BLOCK_MM[1] / 2.0)
    block = shelf.through_block(out, place.upright - RESERVE)
    off = 14 if place.even else 8  # so that those from both faces of a partition do not meet
    tall, deep = BLOCK_MM[:2] if not place.low else (BLOCK_MM[1], BLOCK_MM[0])
    held = _block_held(block, 2, f"into the upright, {off} mm above and below their middle")
    told = (
        f"they stand on {layers} blocks on each upright: {tall:g} mm standing, {deep:g} mm deep, "
        f"glued one on the other and to the upright{held}; their ends {place.end:g} mm behind the "
        f"face, their middle {place.up:g} mm {_ABOVE}; the stop on those ends, its middle "
        f"{place.inwards:g} mm in from the upright{_by_screw(own, 'into the blocks')}"
    )
    through = [] if block is None else [(block[0].name, 4)]
    return told, [(_STOP, 2), (_BLOCK, 2 * layers), *through, *_screws(own, 2)]


def _by_screw(screw: Screw | None, where: str) -> str:
    return f", {screw.name} {where}" if screw else ", glued"


def _block_held(found: tuple[Screw, int] | None, count: int, where: str) -> str:
    if found is None:
        return ""
    screw, sunk = found
    deep = f", head sunk {sunk} mm" if sunk else ""
    return f", {count} × {screw.name} through them {where}{deep}"


def _screws(screw: Screw | None, count: int) -> list[tuple[str, int]]:
    return [] if screw is None else [(screw.name, count)]


def stops_of(opening: str, hardware: Iterable[_Row]) -> int:
    """Return how many rubber stops stand behind the box of an opening."""
    return sum(
        n for name, n, about in hardware if name == _STOP and about.startswith(f"{opening}: ")
    )


def on_uprights(room: float) -> bool:
    """Whether stops stand on blocks on the uprights, not on the carcass back.

    Args:
        room: Behind the box. [mm]
    """
    return room - STOP_MM + _PRESSED > _MOST_ON_BACK
