"""Legs to the load floor under a deck where it reaches past its blocks and nothing else carries it.

A deck may be wider or longer than what stands under it: at the wall, in a corner between two
blocks, beside the narrower of them. There panels on edge carry it, as far apart as its thickness
spans. Arches, keep-outs and blocks are kept clear; where no leg can stand the plan says so.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import ceil

from stowright.design.bearers import free_runs
from stowright.design.block import StandingBlock
from stowright.design.context import Context
from stowright.model.design import Skew
from stowright.model.geometry import Box, Span
from stowright.units import tidy

__all__ = ["Leg", "bare_areas", "before_a_face", "legs_of", "with_cleats"]

#: A deck that hangs out further than this wants a leg under it (common practice). [mm]
UNSUPPORTED = 100.0
#: How far a deck of a thickness may span, (up to, span): 12 spans 400, 15 spans 550, 18 spans 700
#: (common practice). [mm]
SPANS = ((13.5, 400.0), (16.5, 550.0), (float("inf"), 700.0))
#: How far a leg stands in from a free edge (common practice). [mm]
FROM_EDGE = 30.0
#: A leg that meets something is tried this much further in, so often. [mm]
SHIFT, TRIES = 25.0, 6
_SAME = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """Where a leg stands in plan."""

    x: Span
    y: Span


def bare_areas(outline: Box, under: tuple[StandingBlock, ...]) -> Iterator[tuple[Box, bool, bool]]:
    """Yield what of a deck lies over no block and between none, and which ends a block carries."""
    for area, at_low, at_high in _bare_strips(outline, under):
        if not _between_blocks(area, under):
            yield area, at_low, at_high


def _bare_strips(
    outline: Box, under: tuple[StandingBlock, ...]
) -> Iterator[tuple[Box, bool, bool]]:
    """Yield what of a deck lies over no block, with whether a block carries its ends along x.

    The deck is looked at in strips between the blocks' sides; bare strips that a block bounds on
    both sides are voids, which bearers cross.
    """
    edges = {outline.y.low, outline.y.high}
    for standing in under:
        edges |= {y for y in (standing.box.y.low, standing.box.y.high) if _within(outline.y, y)}
    ys = sorted(edges)
    for low, high in pairwise(ys):
        strip = Span(low=low, high=high)
        if strip.size < UNSUPPORTED:
            continue
        over = sorted(
            (s.box.x for s in under if s.box.y.overlap(strip) > _SAME), key=lambda x: x.low
        )
        at, carried = outline.x.low, False
        for x in over:
            if x.low - at > _SAME:
                yield Box(x=Span(low=at, high=x.low), y=strip, z=outline.z), carried, True
            at, carried = max(at, x.high), True
        if outline.x.high - at > _SAME:
            yield Box(x=Span(low=at, high=outline.x.high), y=strip, z=outline.z), carried, False


def _within(span: Span, value: float) -> bool:
    return span.low + _SAME < value < span.high - _SAME


def legs_of(
    context: Context,
    skew: Skew,
    outline: Box,
    blocks: tuple[tuple[StandingBlock, ...], tuple[Box, ...]],
    t: float,
) -> tuple[tuple[Leg, ...], tuple[str, ...]]:
    """Return the legs under a deck, and where one is wanted and none can stand.

    Args:
        context: The job.
        skew: How far the bay is out of square.
        outline: The deck.
        blocks: Those that carry it, and the boxes of the others.
        t: Thickness of a leg. [mm]
    """
    under, others = blocks
    taken = (*(with_cleats(s) for s in under), *others)
    apart = next(span for up_to, span in SPANS if outline.z.size <= up_to)
    wanted: dict[float, list[Span]] = {}
    blocked = []
    for area, at_low, at_high in bare_areas(outline, under):
        opens = before_a_face(area, under)
        if opens:
            blocked.append(opens)
            continue
        for x in _stations(area.x, t, apart, at_low=at_low, at_high=at_high):
            wanted.setdefault(x, []).append(area.y)
    legs: list[Leg] = []
    missing: list[str] = []
    for x in sorted(wanted):
        for y in _joined(wanted[x]):
            made = _standing_legs(context, skew, (x, t), (y, outline.z.low), under[0], taken)
            legs += made
            if not made:
                missing.append(context.shown(x))
    lines = [f"not carried before {name}, which opens there" for name in dict.fromkeys(blocked)]
    if missing:
        places = ", ".join(dict.fromkeys(missing))
        lines.append(f"no leg can stand under it at {places} from the tail")
    return tuple(legs), tuple(lines)


def with_cleats(standing: StandingBlock) -> Box:
    """Return a block's box with the cleats of its wings, which legs keep off."""
    box, t, wings = standing.box, standing.plan.t + _SAME, standing.block.wings
    y = Span(
        low=box.y.low - (t if wings.right != "none" else 0.0),
        high=box.y.high + (t if wings.left != "none" else 0.0),
    )
    return Box(x=box.x, y=y, z=box.z)


def before_a_face(area: Box, under: tuple[StandingBlock, ...]) -> str:
    """Return the name of a block that opens into an area: nothing may stand in its way."""
    for standing in under:
        box, face = standing.box, standing.block.face
        if face == "tail":
            before = area.x.high <= box.x.low + _SAME and area.y.overlap(box.y) > _SAME
        elif face == "left":
            before = area.y.low >= box.y.high - _SAME and area.x.overlap(box.x) > _SAME
        else:
            before = area.y.high <= box.y.low + _SAME and area.x.overlap(box.x) > _SAME
        if before:
            return standing.block.name
    return ""


def _between_blocks(area: Box, under: tuple[StandingBlock, ...]) -> bool:
    """Tell whether blocks stand on both sides of an area: then bearers cross it."""
    sides = [
        any(
            abs(edge - mine) < _SAME and s.box.x.overlap(area.x) > UNSUPPORTED
            for s in under
            for edge in (s.box.y.low, s.box.y.high)
        )
        for mine in (area.y.low, area.y.high)
    ]
    return all(sides)


def _stations(span: Span, t: float, apart: float, *, at_low: bool, at_high: bool) -> list[float]:
    """Return where legs begin along x, so that supports stand no further apart than asked."""
    first = span.low if at_low else span.low + FROM_EDGE
    last = span.high if at_high else span.high - FROM_EDGE - t
    if at_low and not at_high and span.size <= UNSUPPORTED:
        return []
    if last - first < t:
        return []
    count = max(1, ceil((last - first) / apart))
    pitch = (last - first) / count
    kept = [first + i * pitch for i in range(count + 1)]
    inner = kept[1 if at_low else 0 : len(kept) - 1 if at_high else len(kept)]
    return [round(x, 3) for x in inner]


def _joined(spans: list[Span]) -> list[Span]:
    """Return stretches across, those that meet as one."""
    found: list[Span] = []
    for span in sorted(spans, key=lambda s: s.low):
        if found and span.low - found[-1].high < _SAME:
            found[-1] = Span(low=found[-1].low, high=span.high)
        else:
            found.append(span)
    return found


def _standing_legs(
    context: Context,
    skew: Skew,
    place: tuple[float, float],
    size: tuple[Span, float],
    serves: StandingBlock,
    taken: tuple[Box, ...],
) -> list[Leg]:
    """Return the legs at one place along x, moved towards the tail until they stand clear."""
    (x, t), (y, top) = place, size
    for step in range(TRIES):
        at = tidy(x - step * SHIFT)
        where = Span(low=at, high=tidy(at + t))
        found = free_runs(
            context,
            skew,
            serves,
            (where, y),
            Span(low=0.0, high=top),
            taken,
            across_is_y=True,
        )
        if found:
            return [Leg(x=where, y=run) for run in found]
    return []
