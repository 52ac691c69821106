"""Where a value comes from, how far it can be trusted, and what a strength means."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["Basis", "Origin", "Standing"]

#: How far a value can be trusted, weakest last.
type Standing = Literal["published", "common practice", "from memory", "assumed"]
#: What a strength means; demands are factored to suit and never mixed.
type Basis = Literal["characteristic", "mean ultimate", "allowable", "common practice"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Origin:
    """Where a row comes from."""

    source: str
    standing: Standing
