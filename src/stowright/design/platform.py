"""Decks over blocks and voids, and the wings beside them."""

from __future__ import annotations

from stowright.design.block import StandingBlock
from stowright.design.context import Context
from stowright.design.deck import add_decks
from stowright.design.extras import Basket
from stowright.design.pieces import Piece
from stowright.design.wings import add_wings
from stowright.model.design import Skew

__all__ = ["platform_of"]


def platform_of(
    context: Context,
    skew: Skew,
    standing: tuple[StandingBlock, ...],
    carcasses: tuple[Piece, ...],
) -> Basket:
    """Return decks and wings.

    Args:
        context: The job.
        skew: How far the bay is out of square.
        standing: The blocks.
        carcasses: Their pieces: what a deck is screwed to.
    """
    basket = Basket()
    add_decks(context, skew, standing, carcasses, basket)
    add_wings(context, standing, carcasses, basket)
    return basket
