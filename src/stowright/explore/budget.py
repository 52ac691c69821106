"""How many arrangements are judged, and how many designs are shown."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["KEEP", "Budget"]

#: Designs on the comparison sheet at most.
KEEP = 20
#: So many arrangements are many: a round has a larger part in them.
_MANY = 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class Budget:
    """How many arrangements are judged, by count, so that the result is the same everywhere.

    Attributes:
        quick: Judged by their bodies.
        whole: Proved and cut.
        first_quick, first_whole: In the first round, which shows a first set.
        round_quick, round_whole: In one round after it.

    Where one of a round is 0 it is what suits the whole, as the properties have it: guesses get
    better with each round, but each costs as much as a few designs. Of few designs a twenty-fifth
    is judged by their bodies at a time, of many a sixteenth.
    """

    quick: int = 3200
    whole: int = 170
    first_quick: int = 0
    first_whole: int = 6
    round_quick: int = 0
    round_whole: int = 0

    @property
    def quick_at_first(self) -> int:
        """How many are judged by their bodies in the first round."""
        return self.first_quick or min(96, max(24, self.quick // 8))

    @property
    def quick_a_round(self) -> int:
        """How many are judged by their bodies in one round after it."""
        return self.round_quick or max(12, self.quick // (25 if self.quick < _MANY else 16))

    @property
    def whole_a_round(self) -> int:
        """How many are proved and cut in one round after the first."""
        return self.round_whole or max(8, self.whole // 16)
