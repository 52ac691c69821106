"""What is under a deck or a wing: the lines that hold it, the spans between, flats along edges.

A line is a piece that stands on edge right under the sheet, or under a flat rail that lies between.
The lines cut the sheet into spans; an edge of a span counts as held when a line runs along nearly
all of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from stowright.model.geometry import Box, Span
from stowright.model.part import PlacedPart
from stowright.proofs.index import Index

__all__ = ["DeckSpan", "flats_under", "spans_under"]

#: Surfaces this close touch. [mm]
TOUCH = 1.5
#: A line this near an edge of a span holds it. [mm]
NEAR = 20.0
#: Spans narrower than this are part of one wide support. [mm]
LEAST = 60.0
#: How far under a sheet the top of what carries it may lie, flats between them. [mm]
REACH = 60.0
#: Share of an edge that a line has to run along.
COVER = 0.6

type Axis = Literal["x", "y"]
_AXES: tuple[Axis, Axis] = ("x", "y")


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckSpan:
    """One span of a sheet that lies flat, in plan.

    Attributes:
        x, y: Its clear extent. [mm]
        held: Held edges: ``low x``, ``high x``, ``low y``, ``high y``.
        goes_on: Edges across which the same sheet goes on to another span.
    """

    x: Span
    y: Span
    held: frozenset[str]
    goes_on: frozenset[str]


def _on_edge(piece: PlacedPart) -> bool:
    """Say whether a piece stands on edge, its thickness lying flat."""
    return abs(piece.axes[2][2]) < 0.5


def flats_under(index: Index, piece: PlacedPart) -> list[PlacedPart]:
    """Return the flat fixed pieces right under a sheet: rails and tops that it lies on."""
    under = index.boxes[piece.id]
    return [
        other
        for other, box in _near(index, under.z.low)
        if other.id != piece.id and not _on_edge(other) and _touches(box, under)
    ]


def _near(index: Index, level: float) -> list[tuple[PlacedPart, Box]]:
    """Return the fixed pieces whose tops lie near a level, with their boxes."""
    return [
        (piece, box)
        for piece in index.design.placed
        if piece.body == "fixed" and -REACH < (box := index.boxes[piece.id]).z.high - level <= TOUCH
    ]


def _touches(below: Box, above: Box) -> bool:
    """Say whether one box carries another on its top."""
    return (
        abs(below.z.high - above.z.low) <= TOUCH
        and below.x.overlap(above.x) > 0.0
        and below.y.overlap(above.y) > 0.0
    )


def _lines(index: Index, piece: PlacedPart) -> list[Box]:
    """Return what holds a sheet: pieces on edge under it, and the flats where one is under them."""
    sheet = index.boxes[piece.id]
    flats = [index.boxes[flat.id] for flat in flats_under(index, piece)]
    found = []
    for other, box in _near(index, sheet.z.low):
        if not _on_edge(other):
            continue
        if _touches(box, sheet):
            found.append(box)
            continue
        found += [
            Box(x=_shared(box.x, flat.x), y=_shared(box.y, flat.y), z=box.z)
            for flat in flats
            if _reaches(box, flat)
        ]
    return found


def _reaches(below: Box, flat: Box) -> bool:
    """Say whether a piece on edge carries a flat, let into it or not."""
    return (
        flat.z.low - TOUCH <= below.z.high <= flat.z.high
        and below.z.low < flat.z.low
        and below.x.overlap(flat.x) > 0.0
        and below.y.overlap(flat.y) > 0.0
    )


def _shared(one: Span, other: Span) -> Span:
    return Span(low=max(one.low, other.low), high=min(one.high, other.high))


def _cuts(whole: Span, across: list[Span]) -> list[Span]:
    """Return the clear spans between supports across one axis."""
    ordered = sorted(across, key=lambda each: each.low)
    merged: list[Span] = []
    for each in ordered:
        if merged and each.low - merged[-1].high < LEAST:
            merged[-1] = Span(low=merged[-1].low, high=max(merged[-1].high, each.high))
        else:
            merged.append(each)
    ends = [whole.low, *(v for each in merged for v in (each.low, each.high)), whole.high]
    pairs = [Span(low=a, high=b) for a, b in pairwise(ends)][::2]
    return [each for each in pairs if each.size >= LEAST]


def spans_under(index: Index, piece: PlacedPart) -> list[DeckSpan]:
    """Return the spans of a sheet between what holds it; one without held edges when nothing."""
    if piece.id not in index.deck_spans:
        group = _joined_by_strips(index, piece)
        index.deck_spans.update(dict.fromkeys((each.id for each in group), _spans_of(index, group)))
    own = index.boxes[piece.id]
    return [
        span
        for span in index.deck_spans[piece.id]
        if own.x.low <= span.x.middle <= own.x.high and own.y.low <= span.y.middle <= own.y.high
    ]


def _spans_of(index: Index, group: list[PlacedPart]) -> list[DeckSpan]:
    """Return the spans of the sheets that are one over what holds them."""
    box = _around([index.boxes[each.id] for each in group])
    lines = [line for each in group for line in _lines(index, each)]
    along_y = [line for line in lines if line.y.size >= line.x.size]
    along_x = [line for line in lines if line.x.size > line.y.size]
    inside_x = [line.x for line in along_y if line.x.overlap(box.x) > 0.0]
    inside_y = [line.y for line in along_x if line.y.overlap(box.y) > 0.0]
    cells = [(x, y) for x in _cuts(box.x, inside_x) for y in _cuts(box.y, inside_y)]
    return _joined(
        [
            DeckSpan(
                x=x,
                y=y,
                held=_held(x, y, along_x, along_y),
                goes_on=_goes_on(x, y, box),
            )
            for x, y in cells
        ]
    )


def _joined_by_strips(index: Index, piece: PlacedPart) -> list[PlacedPart]:
    """Return a deck piece with those that joint strips under it make one sheet with it."""
    if piece.role != "deck":
        return [piece]
    decks = [other for other in index.design.placed if other.role == "deck"]
    group, waiting = [piece], [piece]
    while waiting:
        strips = [f for f in flats_under(index, waiting.pop()) if f.role == "joint-strip"]
        for other in decks:
            touched = any(
                _touches(index.boxes[strip.id], index.boxes[other.id]) for strip in strips
            )
            if touched and other not in group:
                group.append(other)
                waiting.append(other)
    return group


def _around(boxes: list[Box]) -> Box:
    """Return the box around several."""
    x, y, z = (
        Span(
            low=min(getattr(box, axis).low for box in boxes),
            high=max(getattr(box, axis).high for box in boxes),
        )
        for axis in ("x", "y", "z")
    )
    return Box(x=x, y=y, z=z)


def _held(x: Span, y: Span, along_x: list[Box], along_y: list[Box]) -> frozenset[str]:
    found = set()
    for name, at in (("low x", x.low), ("high x", x.high)):
        beside = [line.y for line in along_y if line.x.low - NEAR <= at <= line.x.high + NEAR]
        if beside and _covered(y, beside) >= COVER:
            found.add(name)
    for name, at in (("low y", y.low), ("high y", y.high)):
        beside = [line.x for line in along_x if line.y.low - NEAR <= at <= line.y.high + NEAR]
        if beside and _covered(x, beside) >= COVER:
            found.add(name)
    return frozenset(found)


def _covered(over: Span, runs: list[Span]) -> float:
    """Return the share of a range that some runs cover, overlaps counted once."""
    total, reached = 0.0, over.low
    for run in sorted(runs, key=lambda each: each.low):
        low, high = max(run.low, reached), min(run.high, over.high)
        if high > low:
            total += high - low
            reached = high
    return total / over.size if over.size > 0.0 else 0.0


def _goes_on(x: Span, y: Span, box: Box) -> frozenset[str]:
    found = set()
    if x.low - box.x.low >= LEAST:
        found.add("low x")
    if box.x.high - x.high >= LEAST:
        found.add("high x")
    if y.low - box.y.low >= LEAST:
        found.add("low y")
    if box.y.high - y.high >= LEAST:
        found.add("high y")
    return frozenset(found)


def _joined(spans: list[DeckSpan]) -> list[DeckSpan]:
    """Join neighbours with nothing under the edge between them and like edges beside it.

    Which way is joined first can matter; the way that leaves fewer spans hanging is taken.
    """
    ways = [_rescued(_joined_in(spans, order)) for order in (_AXES, _AXES[::-1])]
    return min(ways, key=lambda found: (sum(_hangs(span) for span in found), len(found)))


def _joined_in(spans: list[DeckSpan], order: tuple[Axis, ...]) -> list[DeckSpan]:
    found, before = spans, len(spans) + 1
    while len(found) < before:
        before = len(found)
        for axis in order:
            found = _joined_along(found, axis)
    return found


def _rescued(spans: list[DeckSpan]) -> list[DeckSpan]:
    """Join two spans that hang where both together lie between two held edges.

    An edge that only one of them has held beside them is then left out, which is safe.
    """
    hanging = [span for span in spans if _hangs(span)]
    for axis in _AXES:
        for one in hanging:
            for other in hanging:
                both = _one_of_two(one, other, axis, alike=False) if one is not other else None
                if both is not None and not _hangs(both):
                    rest = [each for each in spans if each is not one and each is not other]
                    return _rescued([*rest, both])
    return spans


def _hangs(span: DeckSpan) -> bool:
    """Say whether no two opposite edges of a span are held."""
    return not any({f"low {axis}", f"high {axis}"} <= span.held for axis in _AXES)


def _ranges(span: DeckSpan, axis: Axis) -> tuple[Span, Span]:
    """Return a span's range along an axis and across it."""
    return (span.x, span.y) if axis == "x" else (span.y, span.x)


def _joined_along(spans: list[DeckSpan], axis: Axis) -> list[DeckSpan]:
    """Join neighbours one after another along an axis."""

    def place(span: DeckSpan) -> tuple[int, int, float]:
        along, across = _ranges(span, axis)
        return round(across.low), round(across.high), along.low

    found: list[DeckSpan] = []
    for span in sorted(spans, key=place):
        both = _one_of_two(found[-1], span, axis) if found else None
        if both is not None:
            found[-1] = both
        else:
            found.append(span)
    return found


def _one_of_two(
    one: DeckSpan, other: DeckSpan, axis: Axis, *, alike: bool = True
) -> DeckSpan | None:
    """Return two spans as one where the second goes on from the first along an axis, else None.

    Unless ``alike`` is asked for, an edge beside them counts as held where it is on both.
    """
    beside = "y" if axis == "x" else "x"
    (a, c), (b, d) = _ranges(one, axis), _ranges(other, axis)
    if not 0.0 <= b.low - a.high <= LEAST + 40.0:
        return None
    same = abs(c.low - d.low) < 1.0 and abs(c.high - d.high) < 1.0
    open_between = f"high {axis}" not in one.held and f"low {axis}" not in other.held
    if not (same and open_between):
        return None
    sides = {f"low {beside}", f"high {beside}"}
    if alike and one.held & sides != other.held & sides:
        return None
    both = Span(low=a.low, high=b.high)
    ends = (one.held & {f"low {axis}"}) | (other.held & {f"high {axis}"})
    goes = (one.goes_on & {f"low {axis}"}) | (other.goes_on & {f"high {axis}"})
    return DeckSpan(
        x=both if axis == "x" else one.x,
        y=both if axis == "y" else one.y,
        held=ends | (one.held & other.held & sides),
        goes_on=goes | (one.goes_on & sides),
    )
