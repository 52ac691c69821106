"""A basket for what lies on top of and beside the blocks, filled by one maker after another."""

from __future__ import annotations

from dataclasses import dataclass, field

from stowright.design.pieces import JointDraft, Piece
from stowright.model.design import Gap, LooseThing, Motion, Sum, WingDesign

__all__ = ["Basket"]


@dataclass(slots=True)
class Basket:
    """Collects what decks and wings add to the blocks."""

    pieces: list[Piece] = field(default_factory=list)
    drafts: list[JointDraft] = field(default_factory=list)
    sums: list[Sum] = field(default_factory=list)
    gaps: list[Gap] = field(default_factory=list)
    motions: list[Motion] = field(default_factory=list)
    loose: list[LooseThing] = field(default_factory=list)
    wings: list[WingDesign] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)
    hardware: list[tuple[str, int, str]] = field(default_factory=list)
