"""Which arrangements not judged yet are likely to add most to what no other beats.

Arrangements one or a few answers away from the best, and bred from two of them, are guessed from
the shares of their answers and from what was judged near them. First comes what is
likely to go beyond the best in one value; then, one after another, what is likely to beat most that
nothing beats yet, as in M. Emmerich and others, Single- and multiobjective evolutionary
optimization assisted by Gaussian random field metamodels, IEEE Trans. Evol. Comput. 10, 2006
(expected improvement of the hypervolume; from memory).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import log1p

import numpy as np
from numpy.typing import NDArray

from stowright.explore.arrangement import Choice, Space, crossed, neighbours, shaken
from stowright.explore.dice import Dice
from stowright.explore.judging import Judged
from stowright.explore.measures import criteria_known, worth
from stowright.explore.nearby import Nearby
from stowright.explore.volume import most_volume, points_in

__all__ = ["Promising"]

type Rows = NDArray[np.float64]

#: Beyond so many that no other beats, only those that beat most are gone on from.
MOST_PARENTS = 30
#: Bred from two of the best, and changed in two or three answers.
BRED, SHAKEN = 1000, 1000
#: Points by which is counted what nothing beats yet; this many are thrown to find them.
POINTS, THROWN = 4096, 16_384
#: What is worse in something than the best so far counts this share of the way to the worst hoped.
BEYOND = 0.6
#: So many times what is asked for is looked at closely.
LOOKED_AT = 5
#: What is guessed to fail may still serve: when it is looked at, and when it is proved.
LEAST_ODDS, LEAST_PROVED = 0.03, 0.01
#: Falling short by more than this makes no difference.
FAR_OFF = 1.0e3


class Promising:
    """Chooses what to judge next."""

    def __init__(self, space: Space, dice: Dice) -> None:
        self.space, self.dice = space, dice

    def of(
        self,
        judged: Mapping[Choice, Judged],
        best: Sequence[Judged],
        many: int,
        *,
        proved: Mapping[Choice, Judged] | None = None,
    ) -> list[Choice]:
        """Return arrangements that promise most, none of them judged yet.

        Args:
            judged: What was judged quickly so far.
            best: The best of it: what no other beats, or what falls short least.
            many: How many are wanted; fewer where the best have no more about them.
            proved: What was proved so far: what is like that which fails promises less.
        """
        if not best or many <= 0:
            return []
        pool = self._pool(judged, [row.choice for row in self._parents(best)])
        if not pool:
            return []
        if not best[0].serves:
            return self._nearest(judged, best, pool, many)
        odds, hoped, front = self._hopes(judged, best, pool)
        odds = np.round(odds * self.to_serve(proved or {}, pool), 6)
        worst = front.max(axis=0)
        high = worst + BEYOND * np.maximum(0.0, hoped.max(axis=0) - worst)
        ends = [pool[k] for k in _ends(front, hoped, odds)][:many]
        most = _taken(pool, odds, _beats(front, hoped, high), many)
        return list(dict.fromkeys((*ends, *most)))[:many]

    def to_serve(self, proved: Mapping[Choice, Judged], choices: Sequence[Choice]) -> Rows:
        """Return the odds of some arrangements to serve when they are proved; 1 before any was."""
        if not any(row.serves for row in proved.values()):
            return np.ones(len(choices))
        served = np.array([[float(row.serves)] for row in proved.values()])
        odds = Nearby(self.space, list(proved), served).of(choices)[:, 0]
        return np.asarray(np.round(np.clip(odds, LEAST_PROVED, 1.0), 6))

    def to_prove(
        self,
        quick: Mapping[Choice, Judged],
        whole: Mapping[Choice, Judged],
        best: Sequence[Judged],
        many: int,
    ) -> list[Choice]:
        """Return which of what was judged quickly promises most when it is proved.

        What proofs found beyond the quick look is guessed too, and so are the odds to serve.

        Args:
            quick: What was judged quickly.
            whole: What was proved.
            best: The best of what was proved.
            many: How many are wanted.
        """
        rows = [row for row in quick.values() if row.serves and row.choice not in whole]
        made = [row for row in whole.values() if row.measures is not None and row.choice in quick]
        if not rows or not made or many <= 0:
            return []
        choices = [row.choice for row in rows]
        serving = [row for row in best if row.serves]
        if not serving:
            return self._nearest(whole, best, choices, many)
        odds = self.to_serve(whole, choices)
        looks = [quick[row.choice] for row in made]
        beyond = worth_of(made, made) - worth_of(looks, made)
        grown = Nearby(self.space, [row.choice for row in made], beyond).of(choices)
        # what is worse in something than all proved so far may beat them in something else
        front, hoped = worth_of(serving, made), np.round(worth_of(rows, made) + grown, 6)
        high = np.maximum(front.max(axis=0), hoped.max(axis=0))
        return _taken(choices, odds, _beats(front, hoped, high), many)

    def _parents(self, best: Sequence[Judged]) -> list[Judged]:
        if len(best) <= MOST_PARENTS or not best[0].serves:
            return list(best[:MOST_PARENTS])
        rows = worth_of(best, best)
        return [best[k] for k in most_volume([tuple(row) for row in rows], MOST_PARENTS)]

    def _pool(self, judged: Mapping[Choice, Judged], parents: list[Choice]) -> list[Choice]:
        """Return arrangements about some, none of them judged yet."""
        found: dict[Choice, None] = {}
        for parent in parents:
            found |= dict.fromkeys(neighbours(self.space, parent))
        for _ in range(BRED):
            one, two = self.dice.one_of(parents), self.dice.one_of(parents)
            found[crossed(self.space, one, two, self.dice)] = None
        for _ in range(SHAKEN):
            found[shaken(self.space, self.dice.one_of(parents), self.dice)] = None
        return [choice for choice in found if choice not in judged]

    def _nearest(
        self, judged: Mapping[Choice, Judged], best: Sequence[Judged], pool: list[Choice], many: int
    ) -> list[Choice]:
        """Return what is guessed to fall short least."""
        rows = np.array([[-log1p(min(row.short, FAR_OFF))] for row in judged.values()])
        guess = Nearby(self.space, list(judged), rows, about=[row.choice for row in best])
        hope = np.round(guess.of(pool)[:, 0], 6)
        order = sorted(range(len(hope)), key=lambda k: (-hope[k], pool[k]))
        return [pool[k] for k in order[:many]]

    def _hopes(
        self, judged: Mapping[Choice, Judged], best: Sequence[Judged], pool: list[Choice]
    ) -> tuple[Rows, Rows, Rows]:
        """Return the odds of each to serve, its numbers as guessed, and those of the best."""
        made = [row for row in judged.values() if row.measures is not None]
        values = worth_of(made, made)
        known = {row.choice: value for row, value in zip(made, values, strict=True)}
        about = [row.choice for row in best]
        guess = Nearby(self.space, [row.choice for row in made], values, about=about)
        hoped = np.round(guess.of(pool), 6)
        serves = np.array([[float(row.serves)] for row in judged.values()])
        odds = Nearby(self.space, list(judged), serves, about=about).of(pool)[:, 0]
        front = np.array([known[row.choice] for row in best])
        return np.round(np.clip(odds, LEAST_ODDS, 1.0), 6), hoped, front


def worth_of(rows: Sequence[Judged], among: Sequence[Judged]) -> Rows:
    """Return the values of designs in steps, not rounded, by what is known of all of some.

    What is not known yet of a design that was only looked at quickly counts as nothing.
    """
    criteria = criteria_known(row.measures for row in among if row.measures is not None)
    return np.array(
        [worth(row.measures, criteria) for row in rows if row.measures is not None]
    ).reshape(len(rows), len(criteria))


def _ends(front: Rows, hoped: Rows, odds: Rows) -> list[int]:
    """Return, for each value, what most likely goes beyond the best of it by a step and more."""
    beyond = np.round((front.min(axis=0) - hoped) * odds[:, None], 6)
    best = beyond.argmax(axis=0)
    return [int(k) for k, gain in zip(best, beyond.max(axis=0), strict=True) if gain >= 1.0]


def _beats(front: Rows, hoped: Rows, high: Rows) -> NDArray[np.bool_]:
    """Return which points each would be the first to beat.

    They lie between the best hoped for and what is worst in everything.
    """
    low = np.minimum(front.min(axis=0), hoped.min(axis=0))
    points = points_in(low, high + 1.0, THROWN)
    beaten = np.zeros(len(points), dtype=bool)
    for row in front:
        beaten |= (row <= points).all(axis=1)
    points = points[~beaten][:POINTS]
    new = np.ones(len(hoped), dtype=bool)  # what is beaten itself beats no point first
    for row in front:
        new &= (hoped < row).any(axis=1)
    some = np.ones((np.count_nonzero(new), len(points)), dtype=bool)
    for mine, theirs in zip(hoped[new].T, points.T, strict=True):
        some &= mine[:, None] <= theirs
    beats = np.zeros((len(hoped), len(points)), dtype=bool)
    beats[new] = some
    return beats


def _taken(choices: list[Choice], odds: Rows, beats: NDArray[np.bool_], many: int) -> list[Choice]:
    """Return what adds most, one after another; what was likely beaten counts less and less."""
    first = np.round(np.count_nonzero(beats, axis=1) * odds, 6)
    order = sorted(range(len(choices)), key=lambda k: (-first[k], -odds[k], choices[k]))
    order = order[: LOOKED_AT * many]
    odds, points = odds[order], np.ascontiguousarray(beats[order].T)
    gain, open_ = first[order], np.ones(len(points))
    taken: list[int] = []
    for _ in range(min(many, len(order))):
        best = int(np.argmax(gain))
        taken.append(best)
        hit = np.flatnonzero(points[:, best])
        closed = open_[hit] * odds[best]
        open_[hit] -= closed
        gain = np.round(gain - (points[hit] * closed[:, None]).sum(axis=0) * odds, 6)
        gain[taken] = -1.0
    return [choices[order[k]] for k in taken]
