"""One material's cutting problem in whole numbers, and its answer."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from stowright.cutting.slots import Slot, count_lines

__all__ = ["Bin", "Kind", "Pattern", "Problem", "Rules", "Solution"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """Parts of one size. Sizes are real, not grown.

    Attributes:
        length: Size along the sheet's length while not turned. [1/160 mm]
        width: The other size. [1/160 mm]
        copies: How many there are.
        turnable: True when they may lie turned.
        waits: True for release B: cut later, after a measurement.
    """

    length: int
    width: int
    copies: int
    turnable: bool
    waits: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Bin:
    """A clean rectangle to lay parts on: a trimmed sheet or a sound region of one.

    Attributes:
        w: Size along the sheet's length. [1/160 mm]
        h: Size across it. [1/160 mm]
        copies: How many there are; None without limit.
        cost: What using one counts for.
        sheet: Index of the stock sheet it belongs to.
        region: Which sound region of that sheet it is.
    """

    w: int
    h: int
    copies: int | None
    cost: float
    sheet: int
    region: int = 0

    def grown(self, kerf: int) -> tuple[int, int]:
        """Return the grown sides. [1/160 mm]."""
        return self.w + kerf, self.h + kerf


@dataclass(frozen=True, slots=True, kw_only=True)
class Rules:
    """What the saw allows.

    Attributes:
        kerf: Width of a cut. [1/160 mm]
        stages: Most levels of rows in a layout; None without limit.
        first_axis: Axis that the first level must divide; None when free.
    """

    kerf: int
    stages: int | None = None
    first_axis: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """Parts of one material and the bins they can go on."""

    kinds: tuple[Kind, ...]
    bins: tuple[Bin, ...]
    rules: Rules

    @property
    def parts(self) -> int:
        """How many parts there are in all."""
        return sum(kind.copies for kind in self.kinds)

    @property
    def part_area(self) -> int:
        """Their real area, in units squared."""
        return sum(kind.copies * kind.length * kind.width for kind in self.kinds)

    def whole_sheets(self) -> list[int]:
        """Return the indices of the bins that are a whole sheet each, not a region of one."""
        regions = Counter(bin_.sheet for bin_ in self.bins)
        return [index for index, bin_ in enumerate(self.bins) if regions[bin_.sheet] == 1]

    def fits(self, kind: Kind, bin_: Bin) -> bool:
        """Tell whether a part of this kind fits on a bin at all."""
        straight = kind.length <= bin_.w and kind.width <= bin_.h
        return straight or (kind.turnable and kind.width <= bin_.w and kind.length <= bin_.h)


@dataclass(frozen=True, slots=True)
class Pattern:
    """One bin as it is cut up.

    Attributes:
        bin: Index of the bin.
        root: The layout.
    """

    bin: int
    root: Slot


@dataclass(frozen=True, slots=True, kw_only=True)
class Solution:
    """A complete answer.

    Attributes:
        patterns: One for each bin used, repeats included.
        found_by: Which method made it.
        bound: Lower bound on the number of bins that came with it; 0 when none did.
        cost_bound: The same on the cost.
        missing: How many parts of each kind found no place, ``(kind, count)``.
    """

    patterns: tuple[Pattern, ...]
    found_by: str
    bound: int = 0
    cost_bound: float = 0.0
    missing: tuple[tuple[int, int], ...] = ()

    def cost(self, problem: Problem) -> float:
        """Return what the bins used count for."""
        return sum(problem.bins[pattern.bin].cost for pattern in self.patterns)

    def area(self, problem: Problem) -> int:
        """Return the area of the bins used, in units squared."""
        return sum(problem.bins[p.bin].w * problem.bins[p.bin].h for p in self.patterns)

    def lines(self, problem: Problem) -> int:
        """Return the saw lines of all patterns together."""
        kerf, groups = problem.rules.kerf, problem.rules.stages is None
        sides = [problem.bins[p.bin].grown(kerf) for p in self.patterns]
        return sum(
            count_lines(p.root, w, h, groups=groups)
            for p, (w, h) in zip(self.patterns, sides, strict=True)
        )
