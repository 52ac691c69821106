"""A drawing at full size that is longer than a page: stretches on pages laid end on end.

Each page repeats the last stretch of the one before between two pairs of register marks. What is
drawn runs along the height of the page.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from stowright.drawings.scene import Item, Symbol, Text
from stowright.drawings.sheet_frame import Paper

__all__ = ["FOOT", "Stretch", "register_marks", "stretches"]

#: From the sheet's ends to what is drawn: printers leave a margin, and words stand there. [mm]
FOOT = 28.0
_LAP = 15.0  # repeated on the next page
_FROM_SIDE = 14.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """What a page shows, and where. [mm].

    Attributes:
        number, count: Page number from 1, and how many.
        low, high: The stretch, from the datum.
        foot: From the sheet's lower end to what is drawn.
    """

    number: int
    count: int
    low: float
    high: float
    foot: float = FOOT

    def y(self, value: float) -> float:
        """Return the paper height of a place."""
        return self.foot + value - self.low

    def holds(self, value: float) -> bool:
        """Return whether a place lies on this page."""
        return self.low <= value <= self.high

    @property
    def page(self) -> str:
        """Which page it is, in words."""
        return f"page {self.number} of {self.count}"


def stretches(length: float, paper: Paper) -> tuple[Stretch, ...]:
    """Return the stretches of a length along the height of a paper, the datum's first. [mm]."""
    step = paper.height - 2.0 * FOOT - _LAP
    count = max(1, ceil((length - _LAP) / step))
    return tuple(
        Stretch(number=k + 1, count=count, low=k * step, high=(k + 1) * step + _LAP)
        for k in range(count)
    )


def register_marks(paper: Paper, stretch: Stretch) -> list[Item]:
    """Return register marks at both ends of what neighbouring pages share, with their numbers."""
    sides = (_FROM_SIDE, paper.width - _FROM_SIDE)
    items: list[Item] = []
    shared = []
    if stretch.number > 1:
        shared.append((stretch.low, stretch.number - 1))
    if stretch.number < stretch.count:
        shared.append((stretch.high - _LAP, stretch.number + 1))
    for low, other in shared:
        for x in sides:
            items += [
                Symbol(kind="register", at=(x, stretch.y(value)), size=7.0)
                for value in (low, low + _LAP)
            ]
        items.append(
            Text(
                text=f"page {other}",
                at=(sides[0], stretch.y(low + _LAP / 2.0)),
                height=1.8,
                anchor="middle",
                rise="middle",
            )
        )
    return items
