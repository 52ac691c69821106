"""One sheet cut up exactly while some kinds of parts are scarce: a dynamic program; compiled.

As in ``single``, but every rectangle has a value for each number of scarce parts that it may
take; where it is cut in two these numbers are shared out.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.cutting.compiling import compiled
from stowright.cutting.single import floors

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]

__all__ = ["scarce_values"]


@compiled
def lay_scarce(
    parts: Table, takes: Table, sides: tuple[Table, Table], best: Table, choice: Table
) -> None:
    """Set each rectangle's values to that of the most valuable part that fits and may be taken."""
    across, up = sides
    for part in range(parts.shape[1]):
        w, h, value = parts[0, part], parts[1, part], parts[2, part]
        for state in range(takes.shape[1]):
            if takes[part, state] == 0:
                continue
            for i in range(len(across)):
                if across[i] >= w:
                    for j in range(len(up)):
                        if up[j] >= h and value > best[state, i, j]:
                            best[state, i, j] = value
                            choice[0, state, i, j] = part


@compiled
def scarce_values(
    parts: Table, takes: Table, shares: Table, sides: tuple[Table, Table]
) -> tuple[Table, Table]:
    """Return the most value of each rectangle for each state, and how it is reached.

    Args:
        parts: Rows width, height and value; a part that may turn stands in two columns.
        takes: For each column and state 1 where the state lets such a part be taken.
        shares: A column for each way to share out a state: the state, and those of two halves.
        sides: Places along the sheet that a cut can be at, from 0 to its end, and across it.

    Returns:
        Values, and choices: first as in ``best_values``, second the column of the shares.
    """
    across, up = sides
    states = takes.shape[1]
    best = np.zeros((states, len(across), len(up)), np.int64)
    choice = np.full((2, states, len(across), len(up)), -1, np.int64)
    lay_scarce(parts, takes, sides, best, choice)
    floor_x, floor_y = floors(across), floors(up)
    for i in range(len(across)):
        for j in range(len(up)):
            for share in range(shares.shape[1]):
                state, one, two = shares[0, share], shares[1, share], shares[2, share]
                value = best[state, i, j]
                for k in range(1, i):
                    if 2 * across[k] > across[i]:
                        break
                    other = best[one, k, j] + best[two, floor_x[across[i] - across[k]], j]
                    if other > value:
                        value = other
                        choice[0, state, i, j], choice[1, state, i, j] = -2 - 2 * k, share
                for k in range(1, j):
                    if 2 * up[k] > up[j]:
                        break
                    other = best[one, i, k] + best[two, i, floor_y[up[j] - up[k]]]
                    if other > value:
                        value = other
                        choice[0, state, i, j], choice[1, state, i, j] = -3 - 2 * k, share
                best[state, i, j] = value
    return best, choice
