"""How much a set beats: its hypervolume, and the few of many that keep most of it.

Less is better throughout. The exact volume is found as in L. While, L. Bradstreet and L. Barone,
A fast way of calculating exact hypervolumes, IEEE Trans. Evol. Comput. 16, 2012: what each point
beats alone, the rest cut down to it. Choosing again and again the one that adds most keeps at least
1 - 1/e of the best volume of so many (G. L. Nemhauser, L. A. Wolsey and M. L. Fisher, An analysis
of approximations for maximizing submodular set functions, 1978). Both from memory.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Sequence

import numpy as np
from numpy.typing import NDArray

__all__ = ["hypervolume", "most_volume", "points_in"]

type Vector = tuple[float, ...]
type Rows = NDArray[np.float64]

#: Points that a volume is counted by where one of several is chosen.
POINTS = 16_384
#: One that adds this share of the most still stands for choice by what else differs.
NEARLY = 0.95


def hypervolume(vectors: Sequence[Vector], reference: Vector) -> float:
    """Return how much of the space below a reference point a set beats, exactly."""
    limit = np.array(reference, dtype=np.float64)
    rows = np.array(vectors, dtype=np.float64).reshape(len(vectors), len(reference))
    return _volume(_unbeaten(rows[(rows < limit).all(axis=1)]), limit)


def _volume(rows: Rows, limit: Rows) -> float:
    total = 0.0
    for k, row in enumerate(rows):
        alone = float(np.prod(limit - row))
        if k + 1 < len(rows):
            alone -= _volume(_unbeaten(np.maximum(rows[k + 1 :], row)), limit)
        total += alone
    return total


def _unbeaten(rows: Rows) -> Rows:
    """Return the rows that no other beats, each once, the greatest first value first."""
    rows = np.unique(rows, axis=0)[::-1]
    no_more = (rows[:, None, :] <= rows[None, :, :]).all(axis=2)
    np.fill_diagonal(no_more, val=False)
    return np.asarray(rows[~no_more.any(axis=0)], dtype=np.float64)


def points_in(low: Rows, high: Rows, many: int) -> Rows:
    """Return points spread evenly over a box: the same each time.

    The additive sequence of the generalised golden ratio (M. Roberts, The unreasonable
    effectiveness of quasirandom sequences, 2018; from memory).
    """
    wide = len(low)
    root = 2.0
    for _ in range(64):
        root = (1.0 + root) ** (1.0 / (wide + 1))
    steps = np.array([root ** -(k + 1) for k in range(wide)])
    places = np.mod(0.5 + np.outer(np.arange(1, many + 1), steps), 1.0)
    return np.asarray(low + places * (high - low), dtype=np.float64)


def most_volume(
    vectors: Sequence[Vector],
    most: int,
    *,
    ends: int = 0,
    apart: Sequence[Vector] = (),
    kinds: Sequence[Hashable] = (),
    of_a_kind: int = 0,
) -> tuple[int, ...]:
    """Return the places of a few that together beat most, in the order they were taken.

    Measured between the best values and one above the worst. Of those that add nearly as much as
    the one that adds most, the one furthest from all taken is preferred.

    Args:
        vectors: The values.
        most: How many to take; fewer where there are not so many kinds.
        ends: So many of them at most are the best in one value each, and come first.
        apart: Coordinates that count for the distance only.
        kinds: What each is; none need be told.
        of_a_kind: So many of a kind are taken, the best in one value each beside them.
    """
    if len(vectors) <= (most if not kinds else min(most, of_a_kind)):
        return tuple(range(len(vectors)))
    rows = np.array(vectors, dtype=np.float64)
    low, high = rows.min(axis=0), rows.max(axis=0) + 1.0
    points = points_in(low, high, POINTS)
    beaten = np.stack([(row <= points).all(axis=1) for row in rows])
    size = ((rows - low) / (high - low)).sum(axis=1)
    taken = _ends(rows, beaten, size, min(ends, most))
    free = ~beaten[taken].any(axis=0) if taken else np.ones(len(points), dtype=bool)
    while len(taken) < min(most, len(rows)):
        adds = (beaten & free).sum(axis=1)
        adds[[*taken, *_too_many(kinds, taken, of_a_kind)]] = -1
        if adds.max() < 0:
            break
        near = [k for k in range(len(rows)) if adds[k] >= NEARLY * adds.max() and adds[k] >= 0]
        best = min(near, key=lambda k: (-_far(apart, k, taken), -adds[k], size[k], k))
        taken.append(best)
        free &= ~beaten[best]
    return tuple(taken)


def _too_many(kinds: Sequence[Hashable], taken: Sequence[int], of_a_kind: int) -> list[int]:
    """Return the places of the kinds of which enough are taken."""
    full = {
        kind
        for kind, many in Counter(kinds[k] for k in taken if kinds).items()
        if many >= of_a_kind
    }
    return [k for k, kind in enumerate(kinds) if kind in full]


def _ends(rows: Rows, beaten: NDArray[np.bool_], size: Rows, most: int) -> list[int]:
    """Return the best in each value, those not taken for another value before; a few at most."""
    taken: list[int] = []
    for column in rows.T:
        best = [k for k in range(len(rows)) if column[k] == column.min()]
        if len(taken) < most and not set(best) & set(taken):
            taken.append(max(best, key=lambda k: (beaten[k].sum(), -size[k], -k)))
    return taken


def _far(apart: Sequence[Vector], k: int, taken: Sequence[int]) -> float:
    """Return the squared distance to the nearest one taken; 0 where nothing counts for it."""
    if not apart or not taken:
        return 0.0
    return min(sum((a - b) ** 2 for a, b in zip(apart[k], apart[i], strict=True)) for i in taken)
