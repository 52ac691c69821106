"""What a bay leaves to choose: where units face, how many columns, how deep and how high."""

from __future__ import annotations

from stowright.model.bay import Bay
from stowright.model.catalogue import Catalogue
from stowright.model.job import Job

__all__ = ["depths_of", "heights_of", "layouts_of", "most_columns"]

#: A column is no narrower (a hand and a crate of the 400 module go in; common practice). [mm]
LEAST_COLUMN = 300.0
MOST_COLUMNS = 4
#: Depths looked at besides the whole length: the longest runners first.
MOST_DEPTHS, LEAST_RUNNER = 5, 450.0
#: Heights of a unit where no rail sets one; step and range (common practice). [mm]
LOWEST, HIGHEST, STEP, MOST_HEIGHTS = 250.0, 700.0, 50.0, 8
#: What a deck keeps below the rail by default, and what it keeps above an arch. [mm]
BELOW_RAIL, OVER_ARCH = 45.0, 30.0
#: Steps above the rail for a unit over the arches, and what stays free under a canopy. [mm]
RAISED, HAND_ROOM = 100.0, 250.0
#: The least depth of a unit behind another that opens to a side door. [mm]
LEAST_SIDE = 450.0


def layouts_of(bay: Bay) -> tuple[str, ...]:
    """Return where units can face: the tail; both sides; the tail and a side doorway."""
    if bay.kind == "tray":
        return ("tail", "sides")
    side = [
        f"tail and {door.face}"
        for door in bay.openings
        if door.face in {"left", "right"}
        and door.at is not None
        and door.at > LEAST_SIDE
        and door.width >= LEAST_SIDE
    ]
    return ("tail", *dict.fromkeys(side))


def most_columns(bay: Bay) -> int:
    """Return the greatest number of columns side by side."""
    wide = max([bay.width, *(station.width for station in bay.widths)])
    return max(1, min(MOST_COLUMNS, int(wide // LEAST_COLUMN)))


def depths_of(bay: Bay, catalogue: Catalogue) -> tuple[float, ...]:
    """Return runner lengths that a unit can be made for; 0 is the whole length of the bay."""
    lengths = {
        size.length for row in catalogue.runners if row.mount == "side" for size in row.sizes
    }
    most = 0.8 * bay.length
    short = sorted((each for each in lengths if LEAST_RUNNER <= each < most), reverse=True)
    every = max(1, len(short) // MOST_DEPTHS)
    return (0.0, *short[::every][:MOST_DEPTHS])


def heights_of(job: Job) -> tuple[float, ...]:
    """Return heights of the unit with its deck, the usual one first. [mm]."""
    bay = job.bay
    asked = [deck.top for deck in job.decks if deck.top is not None]
    if bay.rail is not None:
        asked += [bay.rail - deck.below_rail for deck in job.decks if deck.top is None]
        highest = max([bay.rail - BELOW_RAIL, *asked])
    else:
        highest = min(HIGHEST, 0.6 * bay.clear_height) if bay.clear_height else HIGHEST
    lowest = max([LOWEST, *(arch.height + OVER_ARCH for arch in bay.arches)])
    usual = asked[:1] or [highest]
    steps = int(max(0.0, highest - lowest) // STEP)
    found = [
        *usual,
        *(highest - k * STEP for k in range(steps + 1)),
        *_above_the_rail(bay, highest),
    ]
    inside = [z for z in found if bay.clear_height is None or z < bay.clear_height]
    return tuple(dict.fromkeys(round(z, 3) for z in inside)) or (highest,)


def _above_the_rail(bay: Bay, highest: float) -> tuple[float, ...]:
    """Return heights that let a body stand over the arches under a canopy."""
    if bay.rail is None or bay.clear_height is None or not bay.arches:
        return ()
    return tuple(
        z
        for z in (bay.rail + RAISED, bay.rail + 2.0 * RAISED)
        if highest < z < bay.clear_height - HAND_ROOM
    )
