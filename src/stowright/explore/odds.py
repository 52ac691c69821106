"""How likely an arrangement is to serve, by the answers of those that were proved.

Answers are counted each on its own, as in a naive Bayes classifier with a half added to each
count (R. O. Duda and P. E. Hart, Pattern classification and scene analysis, 1973; from memory).
"""

from __future__ import annotations

from collections.abc import Iterable
from math import log

from stowright.explore.arrangement import Choice
from stowright.explore.judging import Judged

__all__ = ["Odds"]

#: While nothing serves, this share that falls short least counts as good.
GOOD_SHARE = 0.25
ADDED = 0.5


class Odds:
    """What was seen of each answer among what is good and what is not."""

    def __init__(self, proved: Iterable[Judged]) -> None:
        rows = sorted(
            (row for row in proved if row.choice), key=lambda row: (row.short, row.choice)
        )
        serving = [row for row in rows if row.serves]
        good = serving or rows[: int(GOOD_SHARE * len(rows))]
        names = {row.choice for row in good}
        self.counts = (len(good), len(rows) - len(good))
        self.seen: dict[tuple[int, int], list[int]] = {}
        for row in rows:
            for place, answer in enumerate(row.choice):
                pair = self.seen.setdefault((place, answer), [0, 0])
                pair[0 if row.choice in names else 1] += 1

    def of(self, choice: Choice) -> float:
        """Return the logarithm of the odds that an arrangement is good, but for a constant."""
        total = 0.0
        good, bad = (count + 2.0 * ADDED for count in self.counts)
        for place, answer in enumerate(choice):
            yes, no = self.seen.get((place, answer), (0, 0))
            total += log((yes + ADDED) / good) - log((no + ADDED) / bad)
        return total
