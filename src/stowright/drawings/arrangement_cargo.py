"""What stands on a block's decks, in the views of its general arrangement."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.drawings.arrangement import Arrangement, ViewName
from stowright.drawings.bay_lines import Note
from stowright.drawings.deck_things import (
    StandIn,
    box_corners,
    deck_things,
    lashings,
    tie_points,
)
from stowright.drawings.linetypes import Pen
from stowright.drawings.scene import Circle, Item, Line, Polyline
from stowright.model.geometry import Box, Point3
from stowright.units import format_mass

__all__ = ["cargo_items", "cargo_notes"]

_TIE = 0.45


def cargo_items(arrangement: Arrangement, view: ViewName) -> Iterator[Item]:
    """Yield rails with their bolts, cargo in thin double-dotted lines, and what lashes it."""
    for thing in _things(arrangement):
        pen: Pen = "phantom" if thing.kind == "cargo" else "outline"
        spots = [arrangement.flat(view, corner) for corner in box_corners(thing.box)]
        xs, ys = [x for x, _ in spots], [y for _, y in spots]
        low, high = (min(xs), min(ys)), (max(xs), max(ys))
        ring = (low, (high[0], low[1]), high, (low[0], high[1]))
        yield Polyline(points=ring, closed=True, pen=pen, about=thing.id)
    for deck in arrangement.decks:
        for start, end in lashings(arrangement.design, deck.name):
            ends = arrangement.flat(view, start), arrangement.flat(view, end)
            yield Line(start=ends[0], end=ends[1], pen="light")
        if view == "plan":
            for at in tie_points(arrangement.design, deck.name):
                spot = arrangement.flat(view, at)
                yield Circle(centre=spot, radius=_TIE, pen="outline", fill="ink")


def cargo_notes(arrangement: Arrangement, view: ViewName) -> Iterator[Note]:
    """Yield the name and mass of each thing on a deck, and each rail's name once."""
    named: set[str] = set()
    for thing in _things(arrangement):
        first, *others = (arrangement.flat(view, at) for at in _inside(thing.box))
        more = tuple(others)
        if thing.kind == "cargo":
            words = f"{thing.what}, {format_mass(thing.mass_kg)}"
            yield Note(at=first, lines=(words,), others=more)
        elif view == "plan" and thing.what not in named:
            named.add(thing.what)
            yield Note(at=first, lines=(thing.what,), others=more)


def _inside(box: Box) -> Iterator[Point3]:
    """Yield points of a box that its name may be led to, the middle first."""
    for share in ((0.5, 0.5), (0.25, 0.25), (0.75, 0.75), (0.25, 0.75), (0.75, 0.25)):
        x = box.x.low + share[0] * box.x.size
        yield x, box.y.low + share[1] * box.y.size, box.z.low + share[1] * box.z.size


def _things(arrangement: Arrangement) -> Iterator[StandIn]:
    names = {deck.name for deck in arrangement.decks}
    yield from (thing for thing in deck_things(arrangement.design) if thing.deck in names)
