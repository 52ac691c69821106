"""What is under a deck or a wing: the lines that hold it, the spans between, flats along edges.

A line is a piece that stands on edge right under the sheet, or under a flat rail that lies between.
The lines cut the sheet into spans; an edge of a span counts as held when a line runs along nearly
all of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Protocol

from stowright.design.deck_joining import HIGH, LOW, Cell, joined
from stowright.model.geometry import Box, Span
from stowright.model.part import PlacedPart

__all__ = [
    "DeckSpan",
    "Laid",
    "Lying",
    "box_of",
    "flats_under",
    "held_well",
    "lying",
    "spans_under",
]

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

#: The edges that some bits stand for.
_NAMED = tuple(
    frozenset(
        name
        for name, bit in (
            ("low x", LOW[0]),
            ("high x", HIGH[0]),
            ("low y", LOW[1]),
            ("high y", HIGH[1]),
        )
        if bits & bit
    )
    for bits in range(16)
)


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


class Laid(Protocol):
    """Placed pieces to look under sheets in, and what is kept once worked out."""

    @property
    def placed(self) -> Sequence[PlacedPart]:
        """The pieces."""
        ...

    @property
    def boxes(self) -> dict[str, Box]:
        """The box of each piece in the bay, by its id."""
        ...

    @property
    def deck_spans(self) -> dict[str, list[DeckSpan]]:
        """Spans of each sheet, by its id, kept once worked out."""
        ...

    @property
    def tops_near(self) -> dict[float, list[tuple[PlacedPart, Box, bool]]]:
        """Fixed pieces with tops near a level, by that level, kept likewise."""
        ...

    @property
    def flats(self) -> dict[str, list[PlacedPart]]:
        """Flat pieces right under a sheet, by its id, kept likewise."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Lying:
    """Placed pieces and no more; see ``Laid``."""

    placed: tuple[PlacedPart, ...]
    boxes: dict[str, Box]
    deck_spans: dict[str, list[DeckSpan]] = field(default_factory=dict)
    tops_near: dict[float, list[tuple[PlacedPart, Box, bool]]] = field(default_factory=dict)
    flats: dict[str, list[PlacedPart]] = field(default_factory=dict)


def lying(placed: Iterable[PlacedPart]) -> Lying:
    """Return fixed pieces and decks to look under sheets in."""
    kept = tuple(piece for piece in placed if piece.body == "fixed" or piece.role == "deck")
    return Lying(placed=kept, boxes={piece.id: box_of(piece) for piece in kept})


def held_well(span: DeckSpan) -> bool:
    """Say whether two opposite edges of a span, at least, are held."""
    return {"low x", "high x"} <= span.held or {"low y", "high y"} <= span.held


def box_of(piece: PlacedPart) -> Box:
    """Return the box that a piece fills in the bay."""
    one, two = piece.origin, piece.point(piece.length, piece.width, piece.thickness)
    return Box(
        x=Span(low=one[0], high=two[0]) if one[0] <= two[0] else Span(low=two[0], high=one[0]),
        y=Span(low=one[1], high=two[1]) if one[1] <= two[1] else Span(low=two[1], high=one[1]),
        z=Span(low=one[2], high=two[2]) if one[2] <= two[2] else Span(low=two[2], high=one[2]),
    )


def _on_edge(piece: PlacedPart) -> bool:
    """Say whether a piece stands on edge, its thickness lying flat."""
    return abs(piece.axes[2][2]) < 0.5


def flats_under(index: Laid, piece: PlacedPart) -> list[PlacedPart]:
    """Return the flat fixed pieces right under a sheet: rails and tops that it lies on."""
    if piece.id not in index.flats:
        under = index.boxes[piece.id]
        index.flats[piece.id] = [
            other
            for other, box, on_edge in _near(index, under.z.low)
            if not on_edge and other.id != piece.id and _touches(box, under)
        ]
    return index.flats[piece.id]


def _near(index: Laid, level: float) -> list[tuple[PlacedPart, Box, bool]]:
    """Return the fixed pieces whose tops lie near a level: box, and whether they stand on edge."""
    if level not in index.tops_near:
        index.tops_near[level] = [
            (piece, box, _on_edge(piece))
            for piece in index.placed
            if piece.body == "fixed"
            and -REACH < (box := index.boxes[piece.id]).z.high - level <= TOUCH
        ]
    return index.tops_near[level]


def _touches(below: Box, above: Box) -> bool:
    """Say whether one box carries another on its top."""
    return (
        abs(below.z.high - above.z.low) <= TOUCH
        and _cross(below.x, above.x)
        and _cross(below.y, above.y)
    )


def _cross(one: Span, other: Span) -> bool:
    """Say whether two ranges share more than an end."""
    return one.low < other.high and other.low < one.high


def _lines(index: Laid, piece: PlacedPart) -> list[Box]:
    """Return what holds a sheet: pieces on edge under it, and the flats where one is under them."""
    sheet = index.boxes[piece.id]
    flats = [index.boxes[flat.id] for flat in flats_under(index, piece)]
    found = []
    for _, box, on_edge in _near(index, sheet.z.low):
        if not on_edge:
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
        and _cross(below.x, flat.x)
        and _cross(below.y, flat.y)
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


def spans_under(index: Laid, piece: PlacedPart) -> list[DeckSpan]:
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


def _spans_of(index: Laid, group: list[PlacedPart]) -> list[DeckSpan]:
    """Return the spans of the sheets that are one over what holds them."""
    box = _around([index.boxes[each.id] for each in group])
    lines = [line for each in group for line in _lines(index, each)]
    along_y = [line for line in lines if line.y.size >= line.x.size]
    along_x = [line for line in lines if line.x.size > line.y.size]
    inside_x = [line.x for line in along_y if _cross(line.x, box.x)]
    inside_y = [line.y for line in along_x if _cross(line.y, box.y)]
    runs_y = sorted((line.y.low, line.y.high, line.x.low, line.x.high) for line in along_y)
    runs_x = sorted((line.x.low, line.x.high, line.y.low, line.y.high) for line in along_x)
    columns = [(x, _beside(0, x, runs_y), _goes_on(0, x, box.x)) for x in _cuts(box.x, inside_x)]
    rows = [(y, _beside(1, y, runs_x), _goes_on(1, y, box.y)) for y in _cuts(box.y, inside_y)]
    cells = [
        Cell(x.low, x.high, y.low, y.high, _held(ends, y) | _held(sides, x), on_x | on_y)
        for x, ends, on_x in columns
        for y, sides, on_y in rows
    ]
    return [
        DeckSpan(
            x=Span(low=cell.low_x, high=cell.high_x),
            y=Span(low=cell.low_y, high=cell.high_y),
            held=_NAMED[cell.held],
            goes_on=_NAMED[cell.goes_on],
        )
        for cell in joined(cells)
    ]


def _joined_by_strips(index: Laid, piece: PlacedPart) -> list[PlacedPart]:
    """Return a deck piece with those that joint strips under it make one sheet with it."""
    if piece.role != "deck":
        return [piece]
    decks = [other for other in index.placed if other.role == "deck"]
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


def _beside(
    axis: int, own: Span, lines: list[tuple[float, float, float, float]]
) -> list[tuple[int, list[tuple[float, float]]]]:
    """Return the two ends of a range with the runs of the lines that lie there, in order.

    Lines come in the order of their runs: where a run starts and ends, then the same across it.
    """
    return [
        (bit, [(start, end) for start, end, low, high in lines if low - NEAR <= at <= high + NEAR])
        for bit, at in ((LOW[axis], own.low), (HIGH[axis], own.high))
    ]


def _held(ends: list[tuple[int, list[tuple[float, float]]]], over: Span) -> int:
    """Return the bits of the ends along which a line runs under nearly all of a range."""
    return sum(bit for bit, runs in ends if runs and _covered(over, runs) >= COVER)


def _covered(over: Span, runs: list[tuple[float, float]]) -> float:
    """Return the share of a range that some runs, in order, cover; overlaps counted once."""
    total, reached, end = 0.0, over.low, over.high
    for run_low, run_high in runs:
        low = max(reached, run_low)
        high = min(end, run_high)
        if high > low:
            total += high - low
            reached = high
    return total / over.size if over.size > 0.0 else 0.0


def _goes_on(axis: int, own: Span, whole: Span) -> int:
    """Return the bits of the ends of a range at which the sheet goes on."""
    low = LOW[axis] if own.low - whole.low >= LEAST else 0
    high = HIGH[axis] if whole.high - own.high >= LEAST else 0
    return low | high
