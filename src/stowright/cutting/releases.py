"""Two releases: what waits for a measurement on material of its own, and what that would cost.

Release B is cut later, from what was measured on the assembled body. If it comes from sheets of
its own these stay whole until then, and a body that came out differently spoils nothing.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stowright.cutting.problem import Pattern, Solution
from stowright.cutting.slots import renumbered
from stowright.cutting.starting import part_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from stowright.cutting.problem import Problem

__all__ = ["Share", "by_release", "joined"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """One release laid out on sheets of its own.

    Attributes:
        problem: Its parts, and the sheets that are left for it.
        answer: The answer to that.
        kinds: Number of each of its kinds in the whole problem.
        bins: Number of each of its bins in the whole problem.
    """

    problem: Problem
    answer: Solution
    kinds: tuple[int, ...]
    bins: tuple[int, ...]


def by_release(
    problem: Problem, solve: Callable[[Problem], Solution]
) -> tuple[Share, Share] | None:
    """Return both releases on sheets of their own; None with one release, or if stock is short.

    Args:
        problem: All parts of a material.
        solve: Returns the answer to a problem.
    """
    if len({kind.waits for kind in problem.kinds}) < 2:
        return None
    copies = [bin_.copies for bin_ in problem.bins]
    shares: list[Share] = []
    for waits in (False, True):
        wanted = Counter({i: k.copies for i, k in enumerate(problem.kinds) if k.waits == waits})
        left = [i for i, count in enumerate(copies) if count is None or count > 0]
        if not left:
            return None
        own, numbers = part_of(problem, wanted, left)
        own = replace(
            own,
            bins=tuple(replace(b, copies=copies[i]) for b, i in zip(own.bins, left, strict=True)),
        )
        if not all(any(own.fits(kind, bin_) for bin_ in own.bins) for kind in own.kinds):
            return None
        answer = solve(own)
        if answer.missing:
            return None
        shares.append(Share(problem=own, answer=answer, kinds=tuple(numbers), bins=tuple(left)))
        _take_away(copies, shares[-1])
    return shares[0], shares[1]


def _take_away(copies: list[int | None], share: Share) -> None:
    """Take the sheets that a share uses from those that are left, all regions of each."""
    for pattern in share.answer.patterns:
        index = share.bins[pattern.bin]
        count = copies[index]
        if count is not None:
            copies[index] = count - 1


def joined(shares: tuple[Share, Share], whole: Solution) -> Solution:
    """Return two shares as one answer, with the bounds of an answer to the whole."""
    patterns = [
        Pattern(share.bins[p.bin], renumbered(p.root, share.kinds))
        for share in shares
        for p in share.answer.patterns
    ]
    return replace(whole, patterns=tuple(patterns), found_by=shares[0].answer.found_by)
