"""What a design not made yet is likely to come to, by the answers and by what was made near it.

Shares by answer tell most of it; what they leave unexplained (answers that count only together) is
drawn from the designs that differ in few answers, those that matter little counting as nearer
(kriging of the residuals: G. Matheron, Principles of geostatistics, 1963; a product of one factor
for each question, as for choices that have no order: P. Z. G. Qian, H. Wu and C. F. J. Wu, Gaussian
process models for computer experiments with qualitative and quantitative factors, 2008; both from
memory). How quickly likeness fades is chosen by likelihood.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from stowright.explore.arrangement import Choice, Question, Space
from stowright.explore.guess import Guess

__all__ = ["Nearby"]

type Rows = NDArray[np.float64]

#: Of more than so many made the nearest to what matters are looked at.
MOST = 400
#: Speeds at which likeness fades with answers that differ; the likeliest is taken. [-]
FADING = (0.15, 0.3, 0.6, 1.2)
#: A question that makes no difference still parts designs by this much. [-]
LEAST_APART = 0.05
#: Neighbouring numbers are this far apart at least, where the ends of a question's are 1. [-]
STEP_APART = 0.35
#: Share of what is left over that no nearness explains. [-]
UNEXPLAINED = 1.0e-3


class Nearby:
    """Numbers by answer and by nearness, learnt from designs that were made."""

    def __init__(
        self,
        space: Space,
        choices: Sequence[Choice],
        values: Rows,
        *,
        about: Sequence[Choice] = (),
    ) -> None:
        """Learn.

        Args:
            space: What may be chosen.
            choices: What was made, one at least.
            values: A row of numbers for each.
            about: Where it matters; of very many made those nearest to it count as near by,
                else the latest.
        """
        self.guess = Guess(space, choices, values)
        near = _nearest(choices, about)
        known = [choices[k] for k in near]
        rest = values[near] - self.guess.of(known)
        scale = rest.std(axis=0) + 1.0e-9
        apart = self._apart(space, values)
        hot = self._hot(known)
        self.known = hot @ apart
        self.fading, weights = _likeliest(self.known @ hot.T, rest / scale)
        self.weights = weights * scale

    def of(self, choices: Sequence[Choice]) -> Rows:
        """Return the numbers of some arrangements, a row for each."""
        apart = self._hot(choices) @ self.known.T
        drawn = np.exp(-self.fading * apart) @ self.weights
        return np.asarray(self.guess.of(choices) + drawn, dtype=np.float64)

    def _hot(self, choices: Sequence[Choice]) -> Rows:
        """Return a row for each arrangement: 1 at each of its answers, else 0."""
        places = np.array(choices, dtype=np.int64) + self.guess.starts
        rows = np.zeros((len(places), len(self.guess.shares)))
        rows[np.arange(len(places))[:, None], places] = 1.0
        return rows

    def _apart(self, space: Space, values: Rows) -> Rows:
        """Return how far answers part designs: those of one question, by what they change."""
        shares, wide = self.guess.shares, values.std(axis=0) + 1.0e-9
        apart = np.zeros((len(shares), len(shares)))
        for question, start in zip(space.questions, self.guess.starts, strict=True):
            mine = slice(int(start), int(start) + len(question.answers))
            change = np.ptp(shares[mine], axis=0) / wide
            apart[mine, mine] = (LEAST_APART + np.minimum(1.0, change).mean()) * _unlike(question)
        return apart


def _unlike(question: Question) -> Rows:
    """Return how unlike the answers of a question are: 0 to 1; numbers by their difference."""
    many = len(question.answers)
    away = np.ones((many, many))
    if many > 1 and all(isinstance(answer, float | int) for answer in question.answers):
        line = np.array(question.answers, dtype=np.float64)
        away = np.abs(line[:, None] - line[None, :]) / max(1.0e-9, float(np.ptp(line)))
        away = STEP_APART + (1.0 - STEP_APART) * away
    np.fill_diagonal(away, 0.0)
    return away


def _likeliest(apart: Rows, rest: Rows) -> tuple[float, Rows]:
    """Return the likeliest speed of fading, and the weights of what was made."""
    found = []
    for fading in FADING:
        like = np.exp(-fading * apart)
        like[np.diag_indices_from(like)] += UNEXPLAINED
        root = np.linalg.cholesky(like)
        freed = np.linalg.solve(root, rest)
        fits = np.log((freed * freed).mean(axis=0) + 1.0e-9).sum() * len(rest) / 2.0
        odds = -fits - np.log(np.diag(root)).sum() * rest.shape[1]
        found.append((round(float(odds), 6), -fading, root, freed))
    _, slow, root, freed = max(found, key=lambda each: each[:2])
    return -slow, np.asarray(np.linalg.solve(root.T, freed), dtype=np.float64)


def _nearest(choices: Sequence[Choice], about: Sequence[Choice]) -> list[int]:
    """Return the places of those that differ in fewest answers from what matters.

    Where nothing is said to matter they are the latest: a search goes on from the best so far.
    """
    if len(choices) <= MOST or not about:
        return list(range(len(choices)))[-MOST:]
    rows, middle = np.array(choices, dtype=np.int64), np.array(about, dtype=np.int64)
    far = np.array([(row != middle).sum(axis=1).min() for row in rows])
    return sorted(sorted(range(len(rows)), key=lambda k: (far[k], -k))[:MOST])
