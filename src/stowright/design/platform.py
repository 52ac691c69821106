"""Decks over blocks and voids, and the wings beside them."""

from __future__ import annotations

from dataclasses import dataclass

from stowright.design.block import StandingBlock
from stowright.design.context import Context
from stowright.design.deck import decks_of
from stowright.design.pieces import JointDraft, Piece
from stowright.design.wings import wings_of
from stowright.model.design import Gap, LooseThing, Motion, Skew, Sum, WingDesign

__all__ = ["Platform", "platform_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Platform:
    """Everything that lies on top of and beside the blocks."""

    pieces: tuple[Piece, ...] = ()
    drafts: tuple[JointDraft, ...] = ()
    sums: tuple[Sum, ...] = ()
    gaps: tuple[Gap, ...] = ()
    motions: tuple[Motion, ...] = ()
    loose: tuple[LooseThing, ...] = ()
    wings: tuple[WingDesign, ...] = ()
    warnings: tuple[str, ...] = ()
    hardware: tuple[tuple[str, int, str], ...] = ()


def platform_of(
    context: Context,
    skew: Skew,
    standing: tuple[StandingBlock, ...],
    carcasses: tuple[Piece, ...],
) -> Platform:
    """Return decks and wings.

    Args:
        context: The job.
        skew: How far the bay is out of square.
        standing: The blocks.
        carcasses: Their pieces: what a deck is screwed to.
    """
    decks = decks_of(context, skew, standing, carcasses)
    wings = wings_of(context, standing, decks.pieces, carcasses)
    return Platform(
        pieces=(*decks.pieces, *wings.pieces),
        drafts=(*decks.drafts, *wings.drafts),
        sums=(*decks.sums, *wings.sums),
        gaps=(*decks.gaps, *wings.gaps),
        motions=wings.motions,
        loose=(*decks.loose, *wings.loose),
        wings=wings.wings,
        warnings=(*decks.warnings, *wings.warnings),
        hardware=(*decks.hardware, *wings.hardware),
    )
