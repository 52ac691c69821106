"""What of a job does not go into the next vehicle as it stands, and what becomes of it.

A bay without a rail has no height below its rail, a shorter one nothing to stand at the far end, an
anchor of the vehicle before is not there. Each is put so that it says the same in the new bay where
that can be said, else left out; either way it is told in words.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, MutableMapping
from typing import TYPE_CHECKING, Any

from stowright.units import MM_PER_INCH, format_length

if TYPE_CHECKING:
    from stowright.model.bay import Bay
    from stowright.model.job import Block, Deck, Job

__all__ = ["carry_over"]

#: How far a deck stays under the roof at least: less is no room for anything. [mm]
_UNDER_ROOF = 100.0
#: A block of which less lies in the bay is not built there. [mm]
_LEAST_ROOM = 150.0


def carry_over(document: MutableMapping[str, Any], own: Job, theirs: Job) -> tuple[str, ...]:
    """Change what does not go into the next vehicle, in place; return what changed, a line each.

    Args:
        document: The file of the job whose choices are kept, its bay not yet replaced.
        own: That job.
        theirs: The job whose bay and vehicle it gets.
    """
    said = [*_decks(document, own, theirs.bay)]
    gone = _beyond(own, theirs.bay)
    if gone and len(gone) < len(own.blocks):
        said += _without(document, own, gone)
    elif gone:
        said += _unplaced(document, own, gone)
    return (*said, *_straps(document, theirs.bay))


def _decks(document: MutableMapping[str, Any], own: Job, bay: Bay) -> Iterator[str]:
    """Put decks as high as they were where the bay has no rail, or none that high."""
    for table, deck in zip(document.get("deck", ()), own.decks, strict=False):
        height = _height(deck, own.bay)
        if height is None:
            continue
        too_high = bay.clear_height is not None and height > bay.clear_height - _UNDER_ROOF
        above_rail = bay.rail is not None and deck.top is None and deck.below_rail >= bay.rail
        if too_high:
            _drop(table, "top", "below_rail")
            yield f"{deck.name}: {_told(height, own)} is too high here; it lies at the usual height"
        elif above_rail:
            _drop(table, "below_rail")
            yield f"{deck.name}: the rail here is too low for it; it lies at the usual height"
        elif bay.rail is None and deck.top is None:
            _drop(table, "below_rail")
            table["top"] = _number(height, own)
            high = _told(height, own)
            yield f"{deck.name}: there is no rail here; it lies {high} high, as before"


def _height(deck: Deck, bay: Bay) -> float | None:
    if deck.top is not None:
        return deck.top
    return None if bay.rail is None else bay.rail - deck.below_rail


def _beyond(own: Job, bay: Bay) -> dict[int, str]:
    """Return the blocks, by number, of which hardly anything lies in the bay, and why."""
    length = max([bay.length, *(read.length for read in bay.lengths)])
    half = max([bay.width, *(read.width for read in bay.widths)]) / 2.0
    ends = {"x": (0.0, length), "y": (-half, half), "z": (0.0, bay.clear_height)}
    found: dict[int, str] = {}
    for number, block in enumerate(own.blocks):
        for axis, (low, high) in ends.items():
            span = getattr(block.place, axis)
            if span is None or high is None:
                continue
            inside = min(span[1], high) - max(span[0], low)
            if inside < min(_LEAST_ROOM, span[1] - span[0]):
                asked, there = (_range(own, *each) for each in (span, (low, high)))
                found[number] = f"its place on {axis} is {asked}, this bay has {there}"
    return found


def _without(
    document: MutableMapping[str, Any], own: Job, gone: Mapping[int, str]
) -> Iterator[str]:
    """Leave blocks out, and what speaks of them."""
    names = {own.blocks[number].name for number in gone}
    _keep_names(document, own)
    for number in sorted(gone, reverse=True):
        del document["block"][number]
    for number, why in gone.items():
        yield f"{own.blocks[number].name}: left out, {why}"
    for table in document["block"]:
        for where in (table, table.get("place")):
            if isinstance(where, MutableMapping) and where.get("beside") in names:
                name = where.pop("beside")
                yield f"{table.get('name', 'a block')}: no longer beside {name}"
    yield from _uncovered(document, own, names)
    yield from _homeless(document, [own.blocks[number] for number in gone])


def _keep_names(document: MutableMapping[str, Any], own: Job) -> None:
    """Write down what blocks and openings without a name are called: numbers would move up."""
    for table, block in zip(document["block"], own.blocks, strict=True):
        table.setdefault("name", block.name)
        for one, column in zip(table.get("columns", ()), block.columns, strict=False):
            for fill, called in zip(one.get("stack", ()), column.stack, strict=False):
                fill.setdefault("name", called.name)


def _uncovered(document: MutableMapping[str, Any], own: Job, names: set[str]) -> Iterator[str]:
    """Take blocks that are left out from under the decks; a deck over nothing else goes as well."""
    bare: set[str] = set()
    for number in reversed(range(len(document.get("deck", ())))):
        table, deck = document["deck"][number], own.decks[number]
        if not names & set(deck.over):
            continue
        kept = [name for name in deck.over if name not in names]
        if kept:
            table["over"] = kept
        else:
            del document["deck"][number]
            bare.add(deck.name)
            yield f"{deck.name}: left out, nothing is left under it"
    if "deck" in document and not document["deck"]:
        document.pop("deck")
    for item in document.get("carry", ()):
        if str(item.get("on", "")) in bare:
            _drop(item, "on", "at", "lash")
            yield f"{item['what']}: finds a place of its own, its deck is left out"


def _homeless(document: MutableMapping[str, Any], gone: list[Block]) -> Iterator[str]:
    openings = {fill.name for block in gone for column in block.columns for fill in column.stack}
    for item in document.get("carry", ()):
        if str(item.get("goes_in", "")) in openings:
            name = item.pop("goes_in")
            yield f"{item['what']}: finds a place of its own, {name} is left out"
    pairs = document.get("contact", ())
    for number in reversed(range(len(pairs))):
        if openings & {str(name) for name in pairs[number].get("between", ())}:
            del pairs[number]


def _unplaced(
    document: MutableMapping[str, Any], own: Job, gone: Mapping[int, str]
) -> Iterator[str]:
    """Let blocks fill what is free where none of them stands in the bay as asked."""
    for number, why in gone.items():
        table = document["block"][number]
        for where in (table, table.get("place")):
            if isinstance(where, MutableMapping):
                _drop(where, "x", "y", "z")
        if isinstance(table.get("place"), MutableMapping) and not table["place"]:
            table.pop("place")
        yield f"{own.blocks[number].name}: fills what is free, {why}"


def _straps(document: MutableMapping[str, Any], bay: Bay) -> Iterator[str]:
    """Take straps off anchors of the vehicle before; rails and the unit are the job's own."""
    own = {str(row.get("what", "")) for row in document["bay"].get("anchors", ())}
    missing = own - {anchor.what for anchor in bay.anchors}
    for item in document.get("carry", ()):
        lash = item.get("lash", {})
        points = [str(name) for name in lash.get("to", ())]
        lost = [name for name in points if name in missing]
        if not lost:
            continue
        kept = [name for name in points if name not in missing]
        if kept:
            lash["to"] = kept
        else:
            _drop(lash, "to")
        yield f"{item['what']}: not strapped to {' and '.join(lost)}, which this vehicle has not"


def _drop(table: MutableMapping[str, Any], *keys: str) -> None:
    for key in keys:
        table.pop(key, None)


def _told(mm: float, job: Job) -> str:
    return format_length(mm, job.units, with_unit=True)


def _range(job: Job, low: float, high: float) -> str:
    return f"{format_length(low, job.units)} to {_told(high, job)}"


def _number(mm: float, job: Job) -> float | int:
    number = round(mm if job.units == "mm" else mm / MM_PER_INCH, 4)
    return int(number) if number.is_integer() else number
