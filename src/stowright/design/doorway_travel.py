"""Whether a drawer's whole travel lies inside its doorway and over its step. Millimetres."""

from __future__ import annotations

from dataclasses import dataclass

from stowright.model.bay import Bay, Face, Opening
from stowright.model.geometry import Span

__all__ = ["TravelRoom", "jambs_of", "travel_inside_doorway"]


@dataclass(frozen=True, slots=True, kw_only=True)
class TravelRoom:
    """Room of a drawer's whole travel inside its doorway. Available less needed. [mm].

    Attributes:
        known: False when the doorway's place along the bay was not given.
        across: The lesser of the room at the two jambs.
        upright: The lesser of the room over the sill and under the lintel.
        at_low_jamb, at_high_jamb: Towards the lesser and the greater coordinate.
        over_sill, under_lintel: None under an open top.
        why: Which of them governs, in words.
    """

    known: bool
    across: float
    upright: float
    at_low_jamb: float
    at_high_jamb: float
    over_sill: float
    under_lintel: float | None
    why: str

    @property
    def fits(self) -> bool:
        """Whether the whole travel lies inside the doorway and over its step."""
        return self.known and self.across >= 0.0 and self.upright >= 0.0


def travel_inside_doorway(*, bay: Bay, face: Face, across: Span, z: Span) -> TravelRoom | None:
    """Return the room of a drawer's whole travel inside its doorway, None without a doorway.

    Args:
        bay: The bay.
        face: The side the drawer opens to.
        across: What moves, across the doorway: y at the tail, x at a side.
        z: What moves, upright, droop included.

    The tail doorway is taken as centred. A step that was not measured is none.
    """
    opening = bay.opening(face)
    if opening is None:
        return None
    jambs = jambs_of(bay, opening)
    error = bay.reading_error
    sill = opening.sill_rise + (error if opening.sill_rise > 0.0 else 0.0)
    over_sill = z.low - sill
    under = None
    if opening.height is not None:
        under = opening.sill_rise + opening.height - error - z.high
    low, high = across.low - jambs.low, jambs.high - across.high
    rooms = {"the low jamb": low, "the high jamb": high, "the sill": over_sill}
    if under is not None:
        rooms["the lintel"] = under
    governs = min(rooms, key=lambda name: rooms[name])
    known = face == "tail" or opening.at is not None
    return TravelRoom(
        known=known,
        across=min(low, high),
        upright=over_sill if under is None else min(over_sill, under),
        at_low_jamb=low,
        at_high_jamb=high,
        over_sill=over_sill,
        under_lintel=under,
        why=f"{governs} governs" if known else "where the doorway begins (at) was not given",
    )


def jambs_of(bay: Bay, opening: Opening) -> Span:
    """Return the doorway's clear range across, less the errors of its width and its place."""
    error = bay.reading_error
    if opening.face == "tail":
        half = (opening.width - error) / 2.0
        return Span(low=-half, high=half)
    at = 0.0 if opening.at is None else opening.at
    return Span(low=at + error, high=at + opening.width - 2.0 * error)
