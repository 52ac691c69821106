"""packingsolver on stock that it does not take as it is: limited, mixed, or a great lot."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

from stowright.cutting.problem import Pattern, Problem, Solution
from stowright.cutting.slots import count_kinds, renumbered
from stowright.cutting.solver import CORRECTIONS, by_packingsolver, fill_one

if TYPE_CHECKING:
    from stowright.cutting.slots import Slot

__all__ = ["MOST_AT_ONCE", "part_of", "solver_answer"]

MOST_AT_ONCE = 250  # parts given to packingsolver's bin packing in one go; it grows quadratically


def solver_answer(problem: Problem) -> Solution:
    """Return packingsolver's answer; parts are missing in it when no place was found for them.

    Limited stock is filled first, cheapest for its area, sheet by sheet; what is left goes on
    the sheets that can be bought, of the one size that costs least.
    """
    left = Counter({index: kind.copies for index, kind in enumerate(problem.kinds)})
    patterns: list[Pattern] = []
    limited = [i for i, bin_ in enumerate(problem.bins) if bin_.copies is not None]
    for index in sorted(limited, key=lambda i: _dearness(problem, i)):
        for _ in range(problem.bins[index].copies or 0):
            root = _filled(problem, left, index)
            if root is None:
                break
            patterns.append(Pattern(index, root))
            left -= count_kinds(root)
    if left:
        bought = _bought(problem, left)
        if bought is not None:
            patterns.extend(bought.patterns)
            left = Counter()
    missing = tuple(sorted(left.items()))
    return Solution(patterns=tuple(patterns), found_by="packingsolver", missing=missing)


def _dearness(problem: Problem, index: int) -> tuple[float, int, int]:
    """Return a key that puts cheap sheets, then large ones, first."""
    bin_ = problem.bins[index]
    area = bin_.w * bin_.h
    return bin_.cost / area, -area, index


def part_of(problem: Problem, left: Counter[int], bins: list[int]) -> tuple[Problem, list[int]]:
    """Return the problem of some parts on some bins, and its kinds' numbers in the whole."""
    numbers = [index for index in sorted(left) if left[index] > 0]
    kinds = tuple(replace(problem.kinds[index], copies=left[index]) for index in numbers)
    chosen = tuple(problem.bins[index] for index in bins)
    return replace(problem, kinds=kinds, bins=chosen), numbers


def _filled(problem: Problem, left: Counter[int], index: int) -> Slot | None:
    """Return a layout that fills one sheet as well as it can; None when nothing fits."""
    fitting = Counter(
        {
            kind: count
            for kind, count in left.items()
            if problem.fits(problem.kinds[kind], problem.bins[index])
        }
    )
    if not fitting:
        return None
    own, numbers = part_of(problem, fitting, [index])
    own = replace(own, bins=(replace(own.bins[0], copies=1),))
    root = fill_one(own)
    return None if root is None else renumbered(root, numbers)


def _bought(problem: Problem, left: Counter[int]) -> Solution | None:
    """Return the cheapest way to lay out what is left on sheets of one size without limit."""
    answers: list[Solution] = []
    unlimited = [i for i, bin_ in enumerate(problem.bins) if bin_.copies is None]
    for index in unlimited:
        bin_ = problem.bins[index]
        if all(problem.fits(problem.kinds[kind], bin_) for kind in left):
            answers.append(_on_one_size(problem, left, index))
    whole = [answer for answer in answers if answer.patterns]
    if whole:
        return min(whole, key=lambda a: (a.cost(problem), a.area(problem)))
    own, numbers = part_of(problem, left, unlimited)
    mixed = by_packingsolver(own, corrections=CORRECTIONS) if unlimited else None
    if mixed is None:
        return None
    return _whole(mixed, numbers, unlimited)


def _whole(answer: Solution, numbers: list[int], bins: list[int]) -> Solution:
    """Return an answer to a part of a problem in terms of the whole."""
    patterns = tuple(Pattern(bins[p.bin], renumbered(p.root, numbers)) for p in answer.patterns)
    return replace(answer, patterns=patterns)


def _on_one_size(problem: Problem, left: Counter[int], index: int) -> Solution:
    """Return a layout on sheets of one size; very many parts are laid out in lots."""
    patterns: list[Pattern] = []
    for lot in _lots(problem, left):
        own, numbers = part_of(problem, lot, [index])
        answer = by_packingsolver(own)
        if answer is None:
            return Solution(patterns=(), found_by="packingsolver")
        patterns.extend(_whole(answer, numbers, [index]).patterns)
    return Solution(patterns=tuple(patterns), found_by="packingsolver")


def _lots(problem: Problem, left: Counter[int]) -> list[Counter[int]]:
    """Return the parts in lots of alike sizes, the largest first."""
    total = left.total()
    lots = -(-total // MOST_AT_ONCE)
    if lots == 1:
        return [left]
    each = [kind for kind in sorted(left) for _ in range(left[kind])]
    each.sort(key=lambda kind: -problem.kinds[kind].length * problem.kinds[kind].width)
    return [Counter(each[lot::lots]) for lot in range(lots)]
