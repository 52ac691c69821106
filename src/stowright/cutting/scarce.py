"""The most value that one sheet can hold while some kinds are taken no more often than they are.

The exact program for one sheet uses a part as often as it likes. Where a sheet would hold a
part more often than there are copies, its value is too large and the bound that comes of it too
low; then the copies of that kind are counted, one kind after the other, while that is few states.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from importlib import import_module
from itertools import product
from typing import TYPE_CHECKING, Any

import numpy as np

from stowright.cutting.slots import Slot, join

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stowright.cutting.exact import SingleSheet

    type Table = np.ndarray[Any, np.dtype[np.int64]]

__all__ = ["ScarceSheet"]


@dataclass(frozen=True, slots=True)
class ScarceSheet:
    """A sheet, and the kinds whose copies are counted.

    Attributes:
        sheet: The sheet with all kinds of parts.
        copies: For each kind that is counted how often it may be taken.
    """

    sheet: SingleSheet
    copies: tuple[tuple[int, int], ...]

    @property
    def states(self) -> int:
        """How many numbers of copies may be taken, over all kinds that are counted."""
        return math.prod(count + 1 for _, count in self.copies)

    @property
    def work(self) -> int:
        """How many cuts one answer looks at, about, and places for single parts."""
        shares = math.prod((count + 1) * (count + 2) // 2 for _, count in self.copies)
        places = len(self.sheet.across) * len(self.sheet.up)
        return self.sheet.work * shares + len(self.sheet.columns) * self.states * places

    def best(self, values: Sequence[int]) -> tuple[int, Slot | None]:
        """Return the most value that the sheet holds, and a layout with it.

        Args:
            values: What one part of each kind is worth, whole numbers from 0.
        """
        kernel = import_module("stowright.cutting.scarce_kernel")
        sheet = self.sheet
        states = list(product(*(range(count + 1) for _, count in self.copies)))
        shares = self._shares(states)
        best, choice = kernel.scarce_values(
            sheet.priced(values), self._takes(states), shares, (sheet.across, sheet.up)
        )
        at = len(states) - 1, len(sheet.across) - 1, len(sheet.up) - 1
        return int(best[at]), self._slot(choice, shares, at)

    def _takes(self, states: Sequence[tuple[int, ...]]) -> Table:
        """Return for each column of the sheet and each state whether the part may be taken."""
        counted = {kind: at for at, (kind, _) in enumerate(self.copies)}
        return np.array(
            [
                [int(kind not in counted or state[counted[kind]] > 0) for state in states]
                for kind, _, _, _ in self.sheet.columns
            ],
            np.int64,
        )

    @staticmethod
    def _shares(states: Sequence[tuple[int, ...]]) -> Table:
        """Return every way to share out every state between two halves."""
        number = {state: at for at, state in enumerate(states)}
        found = [
            (
                number[state],
                number[one],
                number[tuple(a - b for a, b in zip(state, one, strict=True))],
            )
            for state in states
            for one in product(*(range(count + 1) for count in state))
        ]
        return np.array(found, np.int64).T.copy()

    def _slot(self, choice: Table, shares: Table, at: tuple[int, int, int]) -> Slot | None:
        """Return the layout of a rectangle in a state, from what was chosen."""
        chosen, share = int(choice[(0, *at)]), int(choice[(1, *at)])
        if chosen == -1:
            return None
        if chosen >= 0:
            return self.sheet.part(chosen)
        axis, *cells = self.sheet.halves(chosen, *at[1:])
        halves = [(int(shares[1 + n, share]), *cell) for n, cell in enumerate(cells)]
        kids = [kid for half in halves if (kid := self._slot(choice, shares, half)) is not None]
        return join(axis, kids) if kids else None
