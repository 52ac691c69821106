"""Which of many no other beats, and a few of those that differ most. Less is better throughout.

Sorting by the first value before comparing: H. T. Kung, F. Luccio and F. P. Preparata, On finding
the maxima of a set of vectors, J. ACM 22, 1975 (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence

__all__ = ["beats", "non_dominated", "ranks", "spread"]

type Vector = tuple[float, ...]


def beats(one: Sequence[float], two: Sequence[float]) -> bool:
    """Tell whether one is nowhere worse than another and somewhere better."""
    better = False
    for a, b in zip(one, two, strict=True):
        if a > b:
            return False
        better = better or a < b
    return better


def non_dominated(vectors: Sequence[Vector]) -> tuple[int, ...]:
    """Return which no other beats, in their order; of equal ones the first."""
    order = sorted(range(len(vectors)), key=lambda i: (vectors[i], i))
    kept: list[int] = []
    for i in order:
        if not any(beats(vectors[k], vectors[i]) or vectors[k] == vectors[i] for k in kept):
            kept.append(i)
    return tuple(sorted(kept))


def ranks(vectors: Sequence[Vector]) -> tuple[int, ...]:
    """Return the front that each belongs to, from 1: what is left when better fronts are gone."""
    found = [0] * len(vectors)
    left = list(range(len(vectors)))
    front = 0
    while left:
        front += 1
        here = [i for i in left if not any(beats(vectors[k], vectors[i]) for k in left)]
        for i in here:
            found[i] = front
        left = [i for i in left if not found[i]]
    return tuple(found)


def spread(
    vectors: Sequence[Vector], most: int, *, apart: Sequence[Vector] = ()
) -> tuple[int, ...]:
    """Return a few that differ most, in the order they were taken.

    The best in each value come first, then again and again the one furthest from all taken.

    Args:
        vectors: The values.
        most: How many to take.
        apart: More coordinates that count for the distance only, scaled 0 to 1 already.
    """
    if len(vectors) <= most:
        return tuple(range(len(vectors)))
    scaled = _scaled(vectors)
    places = [(*row, *(apart[i] if apart else ())) for i, row in enumerate(scaled)]
    taken: list[int] = []
    for k in range(len(vectors[0])):
        best = min(range(len(vectors)), key=lambda i: (scaled[i][k], sum(scaled[i]), i))
        if best not in taken and len(taken) < most:
            taken.append(best)
    while len(taken) < most:
        left = [i for i in range(len(vectors)) if i not in taken]
        taken.append(max(left, key=lambda i: (min(_far(places[i], places[k]) for k in taken), -i)))
    return tuple(taken)


def _scaled(vectors: Sequence[Vector]) -> list[Vector]:
    lows = [min(column) for column in zip(*vectors, strict=True)]
    highs = [max(column) for column in zip(*vectors, strict=True)]
    return [
        tuple(
            (value - low) / (high - low) if high > low else 0.0
            for value, low, high in zip(row, lows, highs, strict=True)
        )
        for row in vectors
    ]


def _far(one: Vector, two: Vector) -> float:
    return sum((a - b) ** 2 for a, b in zip(one, two, strict=True))
