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
LOWEST, HIGHEST, STEP = 250.0, 700.0, 50.0
#: What floor, runner line, bottom and top of a unit take besides the tallest thing in it, and how
#: many steps higher than that are looked at (common practice). [mm]
AROUND, MORE_STEPS = 100.0, 2
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
    """Return heights of the unit with its deck, the usual one first. [mm].

    A rail sets one where the tallest thing goes in below it; the unit of an open tray may stand
    higher, and so may one that has to.
    """
    bay = job.bay
    asked, need = _asked(job), _need(job)
    highest = max([_highest(bay), *asked])
    lowest = max([LOWEST, *(arch.height + OVER_ARCH for arch in bay.arches)])
    steps = int(max(0.0, highest - lowest) // STEP)
    most = _most(bay, need)
    over = [highest + k * STEP for k in range(1, 1 + int(max(0.0, most - highest) // STEP))]
    over += [need] if highest < need <= most else []
    below = [highest - k * STEP for k in range(steps + 1)]
    first = asked[0] if asked else highest
    usual = first if first >= need else min([z for z in (*below, *over) if z >= need] or [first])
    found = [usual, *asked[:1], *below, *over, *_above_the_rail(bay, highest)]
    inside = [z for z in found if bay.clear_height is None or z < bay.clear_height]
    return tuple(dict.fromkeys(round(z, 3) for z in inside)) or (highest,)


def _asked(job: Job) -> list[float]:
    """Return the heights that decks name, or the tops of blocks where there is no deck. [mm]."""
    tops = [deck.top for deck in job.decks if deck.top is not None]
    if job.bay.rail is not None:
        tops += [job.bay.rail - deck.below_rail for deck in job.decks if deck.top is None]
    if job.decks:
        return tops
    return [max(z[1] for z in zs)] if (zs := [b.place.z for b in job.blocks if b.place.z]) else []


def _highest(bay: Bay) -> float:
    """Return how high a unit usually stands: just below the rail, else as the roof leaves it."""
    if bay.rail is not None:
        return bay.rail - BELOW_RAIL
    return min(HIGHEST, 0.6 * bay.clear_height) if bay.clear_height else HIGHEST


def _need(job: Job) -> float:
    """Return the height that the tallest thing asks for; what may lie lies flat. [mm]."""
    things = [item for item in job.carry if not item.on]
    tall = [(i.size[2] if i.stays_upright else min(i.size)) + i.clear_above for i in things]
    return max(tall, default=0.0) + AROUND if tall else 0.0


def _most(bay: Bay, need: float) -> float:
    """Return how high a unit is looked at where something asks for more than the usual. [mm]."""
    most = max(HIGHEST if bay.kind == "tray" else 0.0, need + MORE_STEPS * STEP if need else 0.0)
    if bay.clear_height is not None:
        most = min(most, bay.clear_height - min(HAND_ROOM, 0.2 * bay.clear_height))
    return most


def _above_the_rail(bay: Bay, highest: float) -> tuple[float, ...]:
    """Return heights that let a body stand over the arches under a canopy."""
    if bay.rail is None or bay.clear_height is None or not bay.arches:
        return ()
    return tuple(
        z
        for z in (bay.rail + RAISED, bay.rail + 2.0 * RAISED)
        if highest < z < bay.clear_height - HAND_ROOM
    )
