"""One sheet cut up exactly, each part as often as wanted: a dynamic program; compiled.

The best value of every rectangle is the better of one part laid on it and the best way to cut it
in two, edge to edge.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.cutting.compiling import compiled

if TYPE_CHECKING:
    type Table = np.ndarray[Any, np.dtype[np.int64]]

__all__ = ["best_values"]


@compiled
def floors(points: Table) -> Table:
    """Return for each length the last place that is no further."""
    found = np.empty(points[-1] + 1, np.int64)
    at = 0
    for length in range(points[-1] + 1):
        if at + 1 < len(points) and points[at + 1] <= length:
            at += 1
        found[length] = at
    return found


@compiled
def lay_singles(parts: Table, across: Table, up: Table, best: Table, choice: Table) -> None:
    """Set the value of each rectangle to that of the most valuable part that fits on it."""
    for part in range(parts.shape[1]):
        w, h, value = parts[0, part], parts[1, part], parts[2, part]
        for i in range(len(across)):
            if across[i] >= w:
                for j in range(len(up)):
                    if up[j] >= h and value > best[i, j]:
                        best[i, j] = value
                        choice[i, j] = part


@compiled
def best_values(parts: Table, across: Table, up: Table) -> tuple[Table, Table]:
    """Return the most value of each rectangle, and how it is reached.

    Args:
        parts: Rows width, height and value; a part that may turn stands in two columns.
        across: Places along the sheet that a cut can be at, from 0 to its end.
        up: Places across it.

    Returns:
        Values, and choices: a part's column, ``-1`` for nothing, ``-2 - 2 k`` for a cut at
        place k along the sheet, ``-3 - 2 k`` for one across it.
    """
    best = np.zeros((len(across), len(up)), np.int64)
    choice = np.full((len(across), len(up)), -1, np.int64)
    lay_singles(parts, across, up, best, choice)
    floor_x, floor_y = floors(across), floors(up)
    for i in range(len(across)):
        for j in range(len(up)):
            value = best[i, j]
            k = 1
            while k < i and 2 * across[k] <= across[i]:
                other = best[k, j] + best[floor_x[across[i] - across[k]], j]
                if other > value:
                    value, choice[i, j] = other, -2 - 2 * k
                k += 1
            k = 1
            while k < j and 2 * up[k] <= up[j]:
                other = best[i, k] + best[i, floor_y[up[j] - up[k]]]
                if other > value:
                    value, choice[i, j] = other, -3 - 2 * k
                k += 1
            best[i, j] = value
    return best, choice
