"""Chance for a search, from a seed: the same seed gives the same throws."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

__all__ = ["Dice"]


#: Throws made at once: one by one they take ten times as long.
AT_ONCE = 4096


class Dice:
    """Throws from a seed."""

    def __init__(self, seed: int) -> None:
        self.chance = np.random.default_rng(seed)
        self.thrown: list[float] = []

    def below(self, count: int) -> int:
        """Return a whole number from 0 to below ``count``."""
        if not self.thrown:
            self.thrown = self.chance.random(AT_ONCE).tolist()
        return int(self.thrown.pop() * count)

    def one_of[T](self, rows: Sequence[T]) -> T:
        """Return one of some rows."""
        return rows[self.below(len(rows))]

    def shuffled[T](self, rows: Sequence[T]) -> list[T]:
        """Return all rows in another order."""
        return [rows[int(k)] for k in self.chance.permutation(len(rows))]
