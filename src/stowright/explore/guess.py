"""What a design not made yet is likely to come to, by the answers of those that were made.

Each answer adds its own share to each number (an additive model, fitted by going round the
questions: J. H. Friedman and W. Stuetzle, Projection pursuit regression, 1981, and T. Hastie and
R. Tibshirani, Generalized additive models, 1986; from memory). Shares of answers seen seldom are
drawn towards nothing. Sums are taken in order, so that every machine guesses the same.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from stowright.explore.arrangement import Choice, Space

__all__ = ["Guess"]

#: Rounds over the questions, and how many designs that were not made count for each answer.
ROUNDS, DRAWN = 6, 1.0


class Guess:
    """Numbers by answer, learnt from designs that were made."""

    def __init__(
        self, space: Space, choices: Sequence[Choice], values: NDArray[np.float64]
    ) -> None:
        """Learn.

        Args:
            space: What may be chosen.
            choices: What was made, one at least.
            values: A row of numbers for each.
        """
        self.sizes = [len(question.answers) for question in space.questions]
        self.starts = np.concatenate([[0], np.cumsum(self.sizes)[:-1]]).astype(np.int64)
        self.mean = values.mean(axis=0)
        self.shares = np.zeros((sum(self.sizes), values.shape[1]))
        answers = np.array(choices, dtype=np.int64)
        guessed = np.tile(self.mean, (len(values), 1))
        for _ in range(ROUNDS):
            for place, size in enumerate(self.sizes):
                if size > 1:
                    guessed += self._learnt(place, answers[:, place], values - guessed)

    def _learnt(
        self, place: int, answers: NDArray[np.int64], rest: NDArray[np.float64]
    ) -> NDArray[np.float64]:
        """Learn one question's shares from what is left to explain; return what that changes."""
        size, start = self.sizes[place], int(self.starts[place])
        old = self.shares[start : start + size].copy()
        seen = np.bincount(answers, minlength=size)
        left = rest + old[answers]
        sums = [np.bincount(answers, weights=column, minlength=size) for column in left.T]
        new = np.stack(sums, axis=1) / (seen + DRAWN)[:, None]
        self.shares[start : start + size] = new
        return np.asarray((new - old)[answers], dtype=np.float64)

    def of(self, choices: Sequence[Choice]) -> NDArray[np.float64]:
        """Return the numbers of some arrangements, a row for each."""
        places = np.array(choices, dtype=np.int64) + self.starts
        found = self.mean + self.shares[places].sum(axis=1)
        return np.asarray(found, dtype=np.float64)
