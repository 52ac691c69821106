"""A complete answer at once: each part into the corner of the rest that it fits best.

Nothing here is searched and nothing compiled, so that somebody who waits sees a whole layout in
a moment. A few orders of the parts and two ways of splitting a rest are tried; the best stands.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

from stowright.cutting.problem import Pattern, Solution
from stowright.cutting.slots import ALONG, UPWARD, Slot, join, leaf

if TYPE_CHECKING:
    from collections.abc import Callable

    from stowright.cutting.problem import Problem

__all__ = ["by_corners", "rank"]

type Sizes = tuple[int, int]

_MOST_REPEATS = 300  # parts; above that only one order is tried


@dataclass(slots=True, eq=False)  # one is found in a list by itself, not by its sizes
class _Rest:
    """A rectangle of a sheet, and what it is cut into once a part stands in its corner.

    Attributes:
        w: Grown extent along the sheet's length.
        h: Grown extent across it.
        level: Rows around it that are fixed already.
        part: What stands in its corner; None while it is free.
        first: Axis of the cut that comes first.
        beside: The rest beside the part.
        above: The rest above it.
    """

    w: int
    h: int
    level: int
    part: Slot | None = None
    first: int = ALONG
    beside: _Rest | None = None
    above: _Rest | None = None

    def slot(self) -> Slot | None:
        """Return what it holds as a slot; None when it holds nothing."""
        if self.part is None:
            return None
        beside, above = self.beside and self.beside.slot(), self.above and self.above.slot()
        inner, outer = (above, beside) if self.first == ALONG else (beside, above)
        corner = join(1 - self.first, [self.part, *([inner] if inner else [])])
        return join(self.first, [corner, *([outer] if outer else [])])


@dataclass(slots=True)
class _Laying:
    """Sheets being filled."""

    problem: Problem
    larger_rest_whole: bool
    free: list[_Rest]
    sheets: list[tuple[int, _Rest]]
    used: list[int]

    def add(self, kind: int) -> bool:
        """Lay one part; False when no sheet holds it."""
        found = self._best(self.free, kind) or self._opened(kind)
        if found is None:
            return False
        rest, (w, h) = found
        own = self.problem.kinds[kind]
        kerf = self.problem.rules.kerf
        turned = (w, h) != (own.length + kerf, own.width + kerf)
        rest.part = leaf(kind, w, h, turned=turned)
        rest.first = self._first_cut(rest, w, h)
        across = rest.first == UPWARD  # the first cut frees what is above, whole
        rest.beside = _Rest(rest.w - w, h if across else rest.h, rest.level + across)
        rest.above = _Rest(rest.w if across else w, rest.h - h, rest.level + (not across))
        self.free.remove(rest)
        self.free.extend(r for r in (rest.beside, rest.above) if self._is_free(r))
        return True

    def _is_free(self, rest: _Rest) -> bool:
        """Tell whether a rest has a size and may be cut again."""
        stages = self.problem.rules.stages
        return rest.w > 0 and rest.h > 0 and (stages is None or rest.level < stages)

    def _first_cut(self, rest: _Rest, w: int, h: int) -> int:
        """Return the axis of the cut beside a part that comes first."""
        rules = self.problem.rules
        if rules.first_axis is not None:  # strips first, then along them, and so on
            return (rules.first_axis + rest.level) % 2
        along_first = (rest.w - w) * rest.h > (rest.h - h) * rest.w
        return ALONG if along_first == self.larger_rest_whole else UPWARD

    def _best(self, rests: list[_Rest], kind: int) -> tuple[_Rest, Sizes] | None:
        """Return the rest that a part fits tightest, and how it lies there."""
        found: tuple[_Rest, Sizes] | None = None
        least = (1 << 62, 0)
        for w, h in _ways(self.problem, kind):
            for rest in rests:
                if rest.w >= w and rest.h >= h:
                    over = rest.w - w, rest.h - h
                    tight = min(over), max(over)
                    if tight < least:
                        least, found = tight, (rest, (w, h))
        return found

    def _opened(self, kind: int) -> tuple[_Rest, Sizes] | None:
        """Open the cheapest sheet for its area that holds a part."""
        bins, kerf = self.problem.bins, self.problem.rules.kerf
        order = sorted(range(len(bins)), key=lambda i: (bins[i].cost / (bins[i].w * bins[i].h), i))
        for index in order:
            bin_ = bins[index]
            sheet = _Rest(bin_.w + kerf, bin_.h + kerf, 0)
            found = self._best([sheet], kind)
            if found is not None and (bin_.copies is None or self.used[index] < bin_.copies):
                self.used[index] += 1
                self.free.append(sheet)
                self.sheets.append((index, sheet))
                return found
        return None


def by_corners(problem: Problem) -> Solution:
    """Return the best of a few quick answers; parts are missing where no sheet holds them."""
    orders: list[Callable[[int], Sizes]] = [
        lambda k: (problem.kinds[k].length * problem.kinds[k].width, 0),
        lambda k: (max(_sides(problem, k)), min(_sides(problem, k))),
        lambda k: (min(_sides(problem, k)), max(_sides(problem, k))),
    ]
    tries = list(product(orders, (True, False)))
    if problem.parts > _MOST_REPEATS:
        tries = tries[:1]
    answers = [_laid(problem, order, larger_rest_whole=whole) for order, whole in tries]
    return min(answers, key=lambda a: rank(problem, a))


def rank(problem: Problem, answer: Solution) -> tuple[float, ...]:
    """Return a key that puts the better answer first: whole, cheap, little sheet, few lines."""
    missing = sum(count for _, count in answer.missing)
    return missing, answer.cost(problem), answer.area(problem), answer.lines(problem)


def _sides(problem: Problem, kind: int) -> Sizes:
    return problem.kinds[kind].length, problem.kinds[kind].width


def _ways(problem: Problem, kind: int) -> list[Sizes]:
    """Return the grown sizes that a part may lie with."""
    own, kerf = problem.kinds[kind], problem.rules.kerf
    straight = own.length + kerf, own.width + kerf
    if own.turnable and own.length != own.width:
        return [straight, straight[::-1]]
    return [straight]


def _laid(problem: Problem, order: Callable[[int], Sizes], *, larger_rest_whole: bool) -> Solution:
    """Return the answer for one order of the parts, largest first."""
    laying = _Laying(problem, larger_rest_whole, [], [], [0] * len(problem.bins))
    missing: list[tuple[int, int]] = []
    for kind in sorted(range(len(problem.kinds)), key=lambda k: (order(k), -k), reverse=True):
        copies = problem.kinds[kind].copies
        left = next((n for n in range(copies) if not laying.add(kind)), copies)
        if left < copies:
            missing.append((kind, copies - left))
    patterns = tuple(
        Pattern(index, root) for index, sheet in laying.sheets if (root := sheet.slot())
    )
    return Solution(patterns=patterns, found_by="corners", missing=tuple(sorted(missing)))
