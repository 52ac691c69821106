"""Decks, as the unit reads in its place: its width over all, and whether it stands square."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from stowright.design.context import FINEST_GRID
from stowright.explore.as_built import latest, three, where_least
from stowright.formulas.squareness import DIAGONALS_PER_METRE_MM
from stowright.model.design import BlockDesign, Design
from stowright.model.job import Deck
from stowright.model.refit import Change, DeckRefit, FrozenPart
from stowright.units import format_length, snap_down

__all__ = ["UnitReadings", "unit_refits"]

_SAME = 1.0e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitReadings:
    """What the width and the diagonals of units change."""

    rows: tuple[DeckRefit, ...]
    reasons: tuple[str, ...]
    open: tuple[str, ...]


def unit_refits(design: Design, cut: Mapping[str, FrozenPart]) -> UnitReadings:
    """Return what decks gain in width, and which blocks or boxes are out of square."""
    rows: list[DeckRefit] = []
    reasons: list[str] = []
    grid = design.job.cut_grid or FINEST_GRID
    for deck in design.job.decks:
        own = [p for p in design.placed if p.block == deck.name and p.role == "deck"]
        if any(piece.id in cut for piece in own):
            continue
        change = _width(design, deck)
        if change is None or not own:
            continue
        rows.append(DeckRefit(deck=deck.name, width=change))
        size = sum(b.box.y.size for b in design.blocks if b.name in deck.over)
        grown = snap_down(size + change.by, grid) - snap_down(size, grid)
        if grown:
            word = "narrower" if grown < 0.0 else "wider"
            many = format_length(abs(grown), design.job.units, with_unit=True)
            reasons.append(f"{deck.name}: deck {many} {word}: {change.why}")
    return UnitReadings(rows=tuple(rows), reasons=tuple(reasons), open=tuple(_skewed(design)))


def _width(design: Design, deck: Deck) -> Change | None:
    """Return what a deck gains: every block under it as it reads at its least."""
    by, words, units = 0.0, [], design.job.units
    for block in design.blocks:
        values = latest(design.job.readings, "width", block=block.name)
        if block.name not in deck.over or not values:
            continue
        read = three(values)
        by += min(read) - _across(block)
        least = format_length(min(read), units, with_unit=units == "in")
        words.append(f"{block.name} reads {least} wide{where_least(read)}")
    return Change(by=by, why=", ".join(words)) if abs(by) > _SAME else None


def _across(block: BlockDesign) -> float:
    return block.box.y.size if block.face == "tail" else block.box.x.size


def _skewed(design: Design) -> Iterator[str]:
    """Yield blocks and drawer boxes whose diagonals differ by more than a careful builder lets."""
    rows = design.job.readings
    for block in design.blocks:
        deep = block.box.x.size if block.face == "tail" else block.box.y.size
        found = latest(rows, "diagonals", block=block.name)
        yield from _told(block.name, "it", found, _across(block), deep)
        for opening in block.openings:
            if opening.box is not None:
                found = latest(rows, "box-diagonals", opening=opening.name)
                box = opening.box
                yield from _told(opening.name, "the box", found, box.width, box.length)


def _told(
    name: str, what: str, diagonals: tuple[float, ...] | None, width: float, depth: float
) -> Iterator[str]:
    if not diagonals or len(diagonals) < 2:
        return
    apart = abs(diagonals[0] - diagonals[1])
    limit = DIAGONALS_PER_METRE_MM * math.hypot(width, depth) / 1000.0
    if apart > limit + _SAME:
        yield (
            f"{name}: the diagonals differ by {apart:g} mm, {limit:.1f} is the limit: pull {what} "
            "square and clamp it before anything is fixed to it"
        )
