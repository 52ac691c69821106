"""Somebody sleeps on the deck: headroom, length of the bed, the way out."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.model.job import Deck
from stowright.model.part import PlacedPart
from stowright.proofs.judge import About, clearance, complete, not_proved

__all__ = ["bed_pieces", "sleeping_findings"]

#: Deck to roof: to roll over, and to sit up (common practice). [mm]
ROLL_OVER, SIT_UP = 600.0, 900.0
#: What a bed is longer than its sleeper (common practice, 75 to 100). [mm]
LONGER = 75.0
_SOURCE = "common practice: 600 mm to roll over, 900 to 950 to sit up, bed 75 to 100 mm longer"


def sleeping_findings(design: Design) -> Iterator[Finding]:
    """Yield findings about each deck as a bed; without a sleeper the headroom is only told."""
    for deck in design.job.decks:
        pieces = bed_pieces(design, deck)
        if not pieces:
            continue
        yield _headroom(design, deck, pieces)
        if deck.sleeper > 0.0:
            yield _length(design, deck, pieces)
            yield _way_out(design, deck)


def bed_pieces(design: Design, deck: Deck) -> list[PlacedPart]:
    """Return the placed pieces of a deck."""
    return [piece for piece in design.placed if piece.role == "deck" and piece.block == deck.name]


def _headroom(design: Design, deck: Deck, pieces: list[PlacedPart]) -> Finding:
    bay = design.job.bay
    top = max(piece.point(0.0, 0.0, piece.thickness)[2] for piece in pieces)
    room = None if bay.clear_height is None else bay.clear_height - top
    told = "no roof is given" if room is None else f"{room:.0f} mm from deck to roof"
    about = About(
        id=f"HEADROOM:{deck.name}",
        title=f"Room over {deck.name} for a sleeper",
        about=deck.name,
        family=13,
        source=_SOURCE,
        standing="common practice",
        load_case="parked, lying" if deck.sleeper else "nobody sleeps here as far as the job says",
        working=(
            f"room = roof - deck's upper face at {top:.0f} mm; {told}",
            f"{ROLL_OVER:.0f} mm to roll over, {SIT_UP:.0f} mm to sit up",
            *_climb(design, top),
            *(() if room is None else (_able(room),)),
        ),
    )
    if not deck.sleeper and (room is None or room < SIT_UP):
        return not_proved(
            about, needs=("deck.sleeper: whether anybody sleeps on it, and how tall",)
        )
    if room is None:
        return not_proved(about, needs=("bay.clear_height: floor to roof or canopy",))
    return clearance(
        about,
        needed=ROLL_OVER,
        available=room,
        reading_error=bay.reading_error,
        advice=(
            (
                f"a deck at {(bay.clear_height or 0.0) - ROLL_OVER:.0f} mm or lower: "
                f"{ROLL_OVER - room:.0f} mm down"
            ),
        ),
    )


def _climb(design: Design, top: float) -> Iterator[str]:
    doorway = design.job.bay.opening("tail")
    if doorway is not None and doorway.above_ground is not None:
        high = doorway.above_ground - doorway.sill_rise + top
        yield f"the deck is {high:.0f} mm above the ground to climb on to"


def _able(room: float) -> str:
    over, up = ("yes" if room >= need else "no" for need in (ROLL_OVER, SIT_UP))
    return f"rolls over: {over}, sits up: {up}"


def _length(design: Design, deck: Deck, pieces: list[PlacedPart]) -> Finding:
    ends = [
        x
        for piece in pieces
        for x in (
            piece.point(0.0, 0.0, 0.0)[0],
            piece.point(piece.length, piece.width, 0.0)[0],
        )
    ]
    long = max(ends) - min(ends)
    needed = deck.sleeper + LONGER
    bay = design.job.bay.length
    if bay >= needed:
        advice = f'back = "wall" and an overhang of {needed - long:.0f} mm in all'
    else:
        advice = (
            f"the bay is {bay:.0f} mm long: lie across it, with a flap over the open tailgate, or "
            "a shorter sleeper"
        )
    return clearance(
        About(
            id=f"BED-LENGTH:{deck.name}",
            title=f"{deck.name} is long enough for its sleeper",
            about=deck.name,
            family=13,
            source=_SOURCE,
            standing="common practice",
            load_case="parked, lying along the vehicle",
            working=(f"{deck.sleeper:.0f} + {LONGER:.0f} = {needed:.0f} mm; bed {long:.0f} mm",),
        ),
        needed=needed,
        available=long,
        reading_error=design.job.bay.reading_error,
        advice=(advice,),
    )


def _way_out(design: Design, deck: Deck) -> Finding:
    doorways = design.job.bay.openings
    about = About(
        id=f"WAY-OUT:{deck.name}",
        title=f"Whoever sleeps on {deck.name} gets out without help",
        about=deck.name,
        family=13,
        source="usual caution: a way out that works from inside, a second one where there can be",
        standing="common practice",
        load_case="parked, doors shut",
        working=tuple(
            f"doorway at the {d.face}: opens from inside: "
            f"{ {None: 'not said', True: 'yes', False: 'no'}[d.opens_inside] }"
            for d in doorways
        ),
    )
    advice = ("a handle or release that works from inside, tried from the bed, doors shut",)
    if not doorways or all(d.opens_inside is None for d in doorways):
        needs = ("bay.opening.opens_inside: a doorway that can be opened from inside",)
        return not_proved(about, needs=needs, advice=advice)
    ways = [d.face for d in doorways if d.opens_inside]
    return complete(
        about,
        missing=() if ways else ("no doorway opens from inside",),
        advice=advice,
    )
