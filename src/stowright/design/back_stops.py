"""Rubber stops behind drawer boxes, so that a shut drawer has no way to go towards its back."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from stowright.design.pieces import Piece
from stowright.model.design import Gap, OpeningDesign

__all__ = ["STOP_MM", "back_stops", "stops_of"]

#: Thickness of a rubber stop, and how far the shut box presses it (common practice). [mm]
STOP_MM = 10.0
_PRESSED = 1.0
_STOP, _BLOCK = "bump-stop-10", "stop-block"

type _Row = tuple[str, int, str]


def back_stops(
    openings: Iterable[OpeningDesign], pieces: Iterable[Piece], gaps: Iterable[Gap]
) -> Iterator[_Row]:
    """Yield what is bought to stop every drawer and tray against its carcass back.

    Two rubber stops a box, on blocks where the room behind it is greater; none where the carcass
    has no back panel.
    """
    backs = {(p.block, p.module) for p in pieces if p.role == "carcass-back"}
    behind = {gap.name: gap.sum for gap in gaps}
    for opening in openings:
        room = behind.get(f"{opening.name}: behind the box")
        if opening.runner is None or room is None:
            continue
        if (opening.block, opening.module) not in backs:
            continue
        yield _STOP, 2, f"{_where(opening.name)}, one at each side"
        if room > STOP_MM:
            under = room - STOP_MM + _PRESSED
            yield (
                _BLOCK,
                2,
                f"{_where(opening.name)}, packed or planed to {under:.0f} mm under its stop",
            )


def _where(opening: str) -> str:
    return f"{opening}: behind the box"


def stops_of(opening: str, hardware: Iterable[_Row]) -> int:
    """Return how many rubber stops stand behind the box of an opening."""
    return sum(
        n for name, n, where in hardware if name == _STOP and where.startswith(_where(opening))
    )
