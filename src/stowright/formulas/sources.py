"""Where a formula or a number comes from, and how well that is known.

The words for "how well" are kept apart here, because a proof shows them beside its result:

* published: the text, or the issuing body's own page, was read with the figure;
* public restatement: seen only through a public page, library or textbook that restates it;
* derived: worked out from statics or geometry; checkable by hand;
* common practice: trade knowledge without a source;
* from memory: remembered, nobody could open it;
* judgement: an engineering choice of this program.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

__all__ = ["SHOWN_AS", "ShownStanding", "Source", "Standing"]

type Standing = Literal[
    "published",
    "public restatement",
    "derived",
    "common practice",
    "from memory",
    "judgement",
]
type ShownStanding = Literal["published", "common practice", "from memory", "assumed"]

# Statics adds no weakness of its own to its inputs, so "derived" ranks with "published".
SHOWN_AS: Final[dict[Standing, ShownStanding]] = {
    "published": "published",
    "public restatement": "published",
    "derived": "published",
    "common practice": "common practice",
    "from memory": "from memory",
    "judgement": "assumed",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Where something comes from.

    Attributes:
        text: Document, edition and clause or table, as a reader would look it up.
        standing: How well it is known, in the words of this module.
    """

    text: str
    standing: Standing

    @property
    def shown_as(self) -> ShownStanding:
        """The one of four words that a proof prints beside its status."""
        return SHOWN_AS[self.standing]
