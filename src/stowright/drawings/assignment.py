"""The cheapest way to give each of n things a place of its own among m places.

Shortest augmenting paths with potentials; this form of the Hungarian method is common knowledge.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from stowright.errors import OutOfRangeError

__all__ = ["cheapest_places"]


def cheapest_places(cost: NDArray[np.float64]) -> list[int]:
    """Return the place of each thing so that the costs add up to the least.

    Args:
        cost: n × m, n things and m places, n no more than m; all finite.

    Raises:
        OutOfRangeError: When there are fewer places than things.
    """
    things, places = cost.shape
    if things > places:
        raise OutOfRangeError("things", things, f"no more than the {places} places")
    # row and column 0 are helpers; holder[j] is the thing that holds place j
    thing_price, place_price = np.zeros(things + 1), np.zeros(places + 1)
    holder = np.zeros(places + 1, dtype=np.int64)
    for thing in range(1, things + 1):
        holder[0] = thing
        _augment(cost, thing_price, place_price, holder)
    found = [0] * things
    for place in range(1, places + 1):
        if holder[place]:
            found[int(holder[place]) - 1] = place - 1
    return found


def _augment(
    cost: NDArray[np.float64],
    thing_price: NDArray[np.float64],
    place_price: NDArray[np.float64],
    holder: NDArray[np.int64],
) -> None:
    """Find a place for the thing that holder[0] names, moving others where that is cheaper."""
    places = cost.shape[1]
    least = np.full(places + 1, np.inf)
    before = np.zeros(places + 1, dtype=np.int64)
    used = np.zeros(places + 1, dtype=bool)
    place = 0
    while holder[place]:
        used[place] = True
        thing = holder[place]
        reduced = cost[thing - 1] - thing_price[thing] - place_price[1:]
        better = ~used[1:] & (reduced < least[1:])
        least[1:][better] = reduced[better]
        before[1:][better] = place
        free = np.where(used, np.inf, least)
        free[0] = np.inf
        nearest = int(np.argmin(free))
        step = free[nearest]
        thing_price[holder[used]] += step
        place_price[used] -= step
        least[~used] -= step
        place = nearest
    while place:
        holder[place] = holder[before[place]]
        place = int(before[place])
