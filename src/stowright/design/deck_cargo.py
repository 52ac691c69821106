"""What rides on a deck: where each thing lies, what ties it down, what that takes to buy.

A thing lies where the job says, or else where the deck is borne under all of it, and of such places
as far towards the cab as there is room, then near the middle. It keeps its height; lengthwise or
crosswise, whichever lies further forward.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import product

from stowright.design.deck_spans import DeckSpan, box_of, held_well, lying, spans_under
from stowright.design.masses import Lump
from stowright.design.ring_bolts import RING
from stowright.model.design import DeckCargo, LooseThing
from stowright.model.geometry import Box, Span
from stowright.model.job import CarryItem, Job
from stowright.model.part import PlacedPart

__all__ = ["cargo_holds", "cargo_lumps", "deck_cargo"]

_NEAR = 1.0e-6

type _Row = tuple[str, int, str]


def deck_cargo(job: Job, placed: Iterable[PlacedPart]) -> tuple[DeckCargo, ...]:
    """Return where everything lies that the job puts on a deck.

    Args:
        job: The job; things without a place are laid out in its order, those with one first.
        placed: The pieces of the unit; a deck's are found by its name.
    """
    placed = tuple(placed)
    tops = _tops(placed)
    singles = [
        (item, copy, item.at if copy == 1 else None)
        for item in job.carry
        if item.on in tops
        for copy in range(1, item.quantity + 1)
    ]
    found: dict[tuple[int, int], DeckCargo] = {}
    loose = _loose(placed, {item.on for item, _, at in singles if at is None})
    order = sorted(range(len(singles)), key=lambda n: singles[n][2] is None)
    for n in order:
        item, copy, at = singles[n]
        top = tops[item.on]
        taken = [row.box for row in found.values() if row.deck == item.on]
        box, fits = _laid(item, at, top, taken, loose.get(item.on, ()))
        found[n, copy] = replace(
            _cargo(item, copy, box, top, fits=fits), on_rails=_on_rails(job, item)
        )
    return tuple(found[key] for key in sorted(found))


def _on_rails(job: Job, item: CarryItem) -> bool:
    names = {rail.name for deck in job.decks if deck.name == item.on for rail in deck.rails}
    return item.lash is not None and bool(names & set(item.lash.to))


def _tops(placed: Iterable[PlacedPart]) -> dict[str, Box]:
    """Return the outline of each deck, its pieces together; z is their thickness."""
    boxes: dict[str, Box] = {}
    for piece in placed:
        if piece.role == "deck":
            own = box_of(piece)
            boxes[piece.block] = _around(boxes[piece.block], own) if piece.block in boxes else own
    return boxes


def _loose(placed: Sequence[PlacedPart], decks: Collection[str]) -> dict[str, tuple[DeckSpan, ...]]:
    """Return the spans of some decks that no two opposite edges hold."""
    view = lying(placed) if decks else None
    found: dict[str, tuple[DeckSpan, ...]] = {}
    for piece in placed:
        if view is not None and piece.role == "deck" and piece.block in decks:
            spans = (span for span in spans_under(view, piece) if not held_well(span))
            found[piece.block] = (*found.get(piece.block, ()), *spans)
    return found


def _around(one: Box, two: Box) -> Box:
    pairs = ((one.x, two.x), (one.y, two.y), (one.z, two.z))
    x, y, z = (Span(low=min(a.low, b.low), high=max(a.high, b.high)) for a, b in pairs)
    return Box(x=x, y=y, z=z)


def _laid(
    item: CarryItem,
    at: tuple[float, float] | None,
    top: Box,
    taken: Sequence[Box],
    loose: Sequence[DeckSpan],
) -> tuple[Box, bool]:
    """Return where a thing lies, and whether nothing is in its way there."""
    length, width, height = item.size
    z = Span(low=top.z.high, high=top.z.high + height)
    ways = ((length, width), (width, length))
    if at is not None:
        boxes = [_amid(at[0], at[1], way, z) for way in ways]
        box = min(boxes, key=lambda each: _hangs(each, top))
        return box, _free(box, taken)
    places = [
        box for way in ways for box in _corners(way, top, z, [*taken, *loose]) if _free(box, taken)
    ]
    if not places:
        return _amid(top.x.middle, top.y.middle, ways[0], z), False
    middle = top.y.middle
    best = min(
        places,
        key=lambda box: (
            not _free(box, loose),
            -box.x.middle,
            abs(box.y.middle - middle),
            box.y.low,
        ),
    )
    return best, True


def _amid(x: float, y: float, way: tuple[float, float], z: Span) -> Box:
    a, b = way[0] / 2.0, way[1] / 2.0
    return Box(x=Span(low=x - a, high=x + a), y=Span(low=y - b, high=y + b), z=z)


def _corners(
    way: tuple[float, float], top: Box, z: Span, taken: Sequence[Box | DeckSpan]
) -> Iterator[Box]:
    """Yield places on the deck: against its cab end or what is kept off, beside it or amid."""
    along, across = way
    ends = [top.x.high, *(box.x.low for box in taken)]
    sides = [
        top.y.middle - across / 2.0,
        top.y.low,
        top.y.high - across,
        *(box.y.high for box in taken),
        *(box.y.low - across for box in taken),
    ]
    for high, low in product(ends, sides):
        box = Box(x=Span(low=high - along, high=high), y=Span(low=low, high=low + across), z=z)
        if _hangs(box, top) <= _NEAR:
            yield box


def _free(box: Box, taken: Iterable[Box | DeckSpan]) -> bool:
    return not any(
        box.x.overlap(other.x) > _NEAR and box.y.overlap(other.y) > _NEAR for other in taken
    )


def _hangs(box: Box, top: Box) -> float:
    """Return how far a box reaches past a deck's outline, the worst side. [mm]."""
    return max(
        0.0,
        top.x.low - box.x.low,
        box.x.high - top.x.high,
        top.y.low - box.y.low,
        box.y.high - top.y.high,
    )


def _cargo(item: CarryItem, copy: int, box: Box, top: Box, *, fits: bool) -> DeckCargo:
    lash = item.lash
    return DeckCargo(
        what=item.what,
        copy=copy,
        deck=item.on,
        mass_kg=item.mass,
        box=box,
        fits=fits,
        hangs_over=round(_hangs(box, top), 4),
        strap=lash.strap if lash else "",
        straps=lash.count if lash else 0,
        tied_to=lash.to if lash else (),
    )


def cargo_lumps(rows: Iterable[DeckCargo]) -> tuple[Lump, ...]:
    """Return deck cargo as masses at their middles."""
    return tuple(
        Lump(mass=row.mass_kg, at=row.box.centre, body=row.deck, module=(row.deck, ""))
        for row in rows
    )


def cargo_holds(rows: Iterable[DeckCargo]) -> tuple[tuple[LooseThing, ...], tuple[_Row, ...]]:
    """Return deck cargo as loose things with what holds each, and the straps and rings to buy."""
    things, bought = [], []
    for row in rows:
        tied = f"{row.strap}, {row.straps}" if row.straps else ""
        things.append(LooseThing(what=row.what, where=row.deck, mass_kg=row.mass_kg, held_by=tied))
        if row.straps and "unit" in row.tied_to:
            said = f"{row.deck}: one for each strap of {row.what}, out from its corners"
            bought.append((RING, row.straps, said))
        if row.straps:
            ends = ("its rings" if end == "unit" else end for end in row.tied_to)
            said = f"{row.deck}: from the corners of {row.what} to {', '.join(ends)}"
            bought.append((row.strap, row.straps, said))
    return tuple(things), tuple(bought)
