"""A panel saw rips a sheet before it crosscuts it: layouts that cannot be sawn so, and a way out.

A strip that is exactly as high as the sheet needs no rip, so that the first cut would be a
crosscut. On sheets one unit lower every strip is ripped off, be it by a last trim.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stowright.cutting.slots import LEAF

if TYPE_CHECKING:
    from stowright.cutting.problem import Bin, Pattern, Problem, Solution

__all__ = ["crosscuts_first", "lowered"]


def crosscuts_first(problem: Problem, answer: Solution) -> bool:
    """Tell whether a sheet would be crosscut before it is ripped, where the saw forbids that."""
    return any(_is_crosscut_first(problem, pattern) for pattern in answer.patterns)


def _is_crosscut_first(problem: Problem, pattern: Pattern) -> bool:
    first, bin_ = problem.rules.first_axis, problem.bins[pattern.bin]
    if first is None or pattern.root.axis in {first, LEAF}:
        return False
    whole = (bin_.h if first else bin_.w) + problem.rules.kerf
    return pattern.root.extent(first) == whole and pattern.root.depth() > 1


def lowered(problem: Problem) -> Problem:
    """Return a problem with each sheet one unit lower across the first cuts where parts allow it.

    A sheet that a part fits on no lower one instead of stays as it is.
    """
    bins = list(problem.bins)
    for index, bin_ in enumerate(problem.bins):
        bins[index] = _lower(problem, bin_)
        if not all(any(problem.fits(kind, b) for b in bins) for kind in problem.kinds):
            bins[index] = bin_
    return replace(problem, bins=tuple(bins))


def _lower(problem: Problem, bin_: Bin) -> Bin:
    if problem.rules.first_axis:
        return replace(bin_, h=bin_.h - 1)
    return replace(bin_, w=bin_.w - 1)
