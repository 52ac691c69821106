"""A bound from whole sheets, and whole sheets put together: columns and an integer program.

Give each part a price. If no sheet can hold more than V of it, all parts, worth P together, need
at least P / V sheets. The prices come from a linear program over the sheets seen so far; the best
sheet for them comes from an exact dynamic program that may use a part as often as it likes,
which only makes V larger and the bound safer. The bound holds for edge-to-edge cuts, in any
number of stages; it is closer than the bounds from sides alone, and takes longer.

The sheets seen on the way, with those of other methods, are a pool: an integer program picks the
fewest that hold everything, and what is held twice is dropped.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from stowright.cutting.bounds import rounded_down
from stowright.cutting.exact import SingleSheet
from stowright.cutting.problem import Pattern, Solution
from stowright.cutting.programs import Prices, cheapest_cover
from stowright.cutting.scarce import ScarceSheet
from stowright.cutting.slots import LEAF, Slot, count_kinds, join, leaf

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stowright.cutting.effort import Watch
    from stowright.cutting.problem import Problem

__all__ = ["Pool", "fewest_of", "pooled"]

_ROUND = 300_000  # cuts that could be looked at in the time that the linear program takes
_SCALE = 10**7  # prices are rounded down to whole numbers of its reciprocal
_MOST_NODES = 60
_MOST_COUNTED = 2_000_000_000  # cuts looked at while copies are counted, about
_MOST_STATES = 64  # numbers of copies taken, over all kinds that are counted
_FEW = 20  # rounds, besides one for each kind of part, that it is worth starting for
_NOISE = 1e-7


@dataclass(frozen=True, slots=True, kw_only=True)
class Pool:
    """Sheets seen, and what they prove.

    Attributes:
        sheets: No answer takes fewer.
        roots: Layouts of one sheet each; a part may stand in one more often than it is wanted.
        because: The proof in words.
    """

    sheets: int
    roots: tuple[Slot, ...]
    because: str = ""


def pooled(problem: Problem, answer: Solution, *, work: int, watch: Watch) -> Pool:
    """Return a bound on the number of sheets, and the sheets seen while it was found.

    Where sheets would hold some kinds more often than there are copies, the work starts anew with
    the copies of one such kind counted, and of one more, while that is few enough states.

    Args:
        problem: Parts, and sheets of one size.
        answer: A complete answer; the work ends when it is proved.
        work: Cuts looked at in all, about.
        watch: Ends it early.
    """
    bin_, kinds = problem.bins[0], problem.kinds
    sheet: SingleSheet | ScarceSheet
    whole = SingleSheet.of(kinds, bin_.w, bin_.h, problem.rules.kerf)
    best = Pool(sheets=0, roots=tuple(pattern.root for pattern in answer.patterns))
    sheet, copies, done = whole, list[tuple[int, int]](), 0
    while work - done >= (sheet.work + _ROUND) * (_FEW + len(kinds)) and not watch.is_over():
        found, overused, spent = _priced(problem, answer, sheet, work - done, watch)
        done += spent
        better = max(best, found, key=lambda pool: pool.sheets)
        best = replace(better, roots=tuple(dict.fromkeys((*best.roots, *found.roots))))
        if best.sheets >= len(answer.patterns) or overused is None:
            break
        work = min(work, done + _MOST_COUNTED) if not copies else work
        copies.append((overused, kinds[overused].copies))
        sheet = ScarceSheet(whole, tuple(copies))
        if sheet.states > _MOST_STATES:
            break
    return best


def _priced(
    problem: Problem,
    answer: Solution,
    sheet: SingleSheet | ScarceSheet,
    work: int,
    watch: Watch,
) -> tuple[Pool, int | None, int]:
    """Return the bound for one way to fill a sheet, a kind that is used too often, and the work.

    Args:
        problem: Parts, and sheets of one size.
        answer: A complete answer.
        sheet: One sheet; kinds whose copies it counts are never used too often.
        work: Cuts looked at, about.
        watch: Ends it early.
    """
    kinds = problem.kinds
    wanted = [kind.copies for kind in kinds]
    roots = [pattern.root for pattern in answer.patterns]
    prices = Prices(wanted, [_column(root) for root in (*roots, *_singles(problem))])
    best, ratio, steady = 0, 0.0, prices.solve()
    done, overused = 0, Counter[int]()
    while done < work and best < len(answer.patterns) and not watch.is_over():
        now = prices.solve()
        root = None
        for values in ([(a + b) / 2 for a, b in zip(steady, now, strict=True)], now):
            done += sheet.work + _ROUND
            whole = [math.floor(max(0.0, value) * _SCALE) for value in values]
            most, found = sheet.best(whole)
            worth = sum(price * count for price, count in zip(whole, wanted, strict=True))
            if most and -(-worth // most) >= best:
                best, ratio, steady = -(-worth // most), worth / most, values
            if found is not None and _gains(found, now):
                root = found
                break
        if root is None:
            break
        roots.append(root)
        overused.update(_over(problem, root, now))
        prices.add(_column(root))
    because = (
        f"the parts, each with a price found by a linear program, come to "
        f"{rounded_down(ratio)} times the most that one sheet can hold of them"
    )
    often = min(overused, key=lambda kind: (-overused[kind], kind), default=None)
    return Pool(sheets=best, roots=tuple(roots), because=because), often, done


def _over(problem: Problem, root: Slot, prices: Sequence[float]) -> list[int]:
    """Return the kinds with a price that a sheet holds more often than there are copies."""
    held = count_kinds(root)
    return [k for k, count in held.items() if prices[k] > 0.0 and count > problem.kinds[k].copies]


def _column(root: Slot) -> list[tuple[int, float]]:
    return [(kind, float(count)) for kind, count in sorted(count_kinds(root).items())]


def _gains(root: Slot, prices: Sequence[float]) -> bool:
    """Tell whether a sheet is worth more than one at some prices."""
    return sum(prices[k] * count for k, count in count_kinds(root).items()) > 1.0 + _NOISE


def _singles(problem: Problem) -> list[Slot]:
    """Return a sheet for each kind that holds one part of it."""
    kerf = problem.rules.kerf
    return [
        leaf(index, kind.length + kerf, kind.width + kerf, turned=False)
        for index, kind in enumerate(problem.kinds)
    ]


def fewest_of(problem: Problem, roots: Sequence[Slot], answer: Solution) -> Solution:
    """Return the fewest sheets of a pool that hold everything; the answer when none are fewer.

    Args:
        problem: Parts, and sheets of one size without limit.
        roots: The pool.
        answer: A complete answer.
    """
    pool = list({tuple(_column(root)): root for root in roots}.values())
    found = cheapest_cover(
        costs=[1.0] * len(pool),
        most=[float(len(answer.patterns))] * len(pool),
        columns=[_column(root) for root in pool],
        least=[float(kind.copies) for kind in problem.kinds],
        node_limit=_MOST_NODES,
    )
    if found is None or sum(found[1]) >= len(answer.patterns):
        return answer
    left = Counter({index: kind.copies for index, kind in enumerate(problem.kinds)})
    patterns = [
        Pattern(0, root)
        for each, count in zip(pool, found[1], strict=True)
        for _ in range(count)
        if (root := _thinned(each, left)) is not None
    ]
    return replace(answer, patterns=tuple(patterns), found_by="pool")


def _thinned(slot: Slot, left: Counter[int]) -> Slot | None:
    """Return a layout without the parts that are not wanted any more; it counts down what is."""
    if slot.axis == LEAF:
        if left[slot.kind] <= 0:
            return None
        left[slot.kind] -= 1
        return slot
    kids = [kid for each in slot.kids if (kid := _thinned(each, left)) is not None]
    return join(slot.axis, kids) if kids else None
