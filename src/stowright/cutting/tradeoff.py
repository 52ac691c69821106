"""Few saw lines and one large offcut at once, on the stock of a given answer.

The search by itself finds few lines and leaves the offcut as it comes. Here a place for the offcut
is set apart beforehand, at the end or along the side of one sheet, and the rest is searched for
few lines; its size is found by halving between what the lines cost nothing for and the whole
waste.
"""

from __future__ import annotations

import math
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

from stowright.cutting.problem import Pattern, Solution
from stowright.cutting.searching import measured, settled
from stowright.cutting.slots import ALONG, UPWARD, count_kinds

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stowright.cutting.effort import Watch
    from stowright.cutting.problem import Problem
    from stowright.cutting.searching import Handy

__all__ = ["Wanted", "aside", "with_offcut"]

_ASIDE = 0.4  # what settings and offcut count for while few lines are looked for, of their weight
_AMONG = 2.0  # what the offcut counts for among answers with few enough lines, of its weight
_POOR = 0.6  # of the largest offcut that is tried for
_MUCH = 0.2  # of a sheet: what one line more must bring then
_STEPS = 5
_MOST = 0.97  # of the waste, or of a sheet: the largest offcut that is tried for
_SHARE_OF_PLACING = 1.5  # of a step's work; mostly far less is needed


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What is looked for.

    Attributes:
        handy: What makes a layout handy.
        most_lines: Saw lines that there may be.
        most_with_one_more: The same where a poor offcut is much larger with one line more.
        least_offcut: Area below which the offcut should not come where the lines allow it.
        work: Slots looked at in each step, per stream.
        watch: Ends it early.
        seed: Start of the random numbers.
    """

    handy: Handy
    most_lines: int
    most_with_one_more: int
    least_offcut: int
    work: int
    watch: Watch
    seed: int


def aside(handy: Handy) -> Handy:
    """Return what counts while few lines are looked for: settings and the offcut less."""
    return replace(handy, setting=handy.setting * _ASIDE, offcut=handy.offcut * _ASIDE)


def with_offcut(problem: Problem, answers: Sequence[Solution], wanted: Wanted) -> Solution:
    """Return the handiest answer on the same sheets that has no more than so many lines.

    One line more is taken where the offcut is poor without it and much larger with it.

    Args:
        problem: The problem.
        answers: Complete answers with few lines.
        wanted: What is looked for.
    """
    most = _most_waste(problem, answers[0])
    handy = replace(wanted.handy, offcut=wanted.handy.offcut * _AMONG)
    known = [_Known.of(problem, answer, handy) for answer in answers]
    best = _best(known, wanted.most_lines, wanted.least_offcut)
    low, high = best.offcut, most
    with ThreadPoolExecutor(2) as pool:
        for step in range(_STEPS):
            if wanted.watch.is_over() or low >= high:
                break
            area = (low + high) // 2
            own = replace(wanted, seed=wanted.seed + step)
            look = partial(_beside, problem, best.answer, area, own)
            found = [other for other in pool.map(look, _axes(problem)) if other is not None]
            known += [_Known.of(problem, other, handy) for other in found]
            few = any(other.lines(problem) <= wanted.most_lines for other in found)
            low, high = (area, high) if few else (low, area)
            best = _best(known, wanted.most_lines, wanted.least_offcut)
    one_more = min(wanted.most_lines + 1, wanted.most_with_one_more)
    more = _best(known, one_more, wanted.least_offcut)
    is_poor = best.offcut < _POOR * most and more.lines <= wanted.most_lines + 1
    if is_poor and more.offcut - best.offcut > _MUCH * _sheet(problem):
        best = more
    start = answers[0]
    return replace(
        best.answer, found_by=start.found_by, bound=start.bound, cost_bound=start.cost_bound
    )


@dataclass(frozen=True, slots=True)
class _Known:
    """An answer, its lines, how handy it is, and the area of its largest offcut."""

    answer: Solution
    lines: int
    count: float
    offcut: int

    @classmethod
    def of(cls, problem: Problem, answer: Solution, handy: Handy) -> _Known:
        """Measure an answer."""
        return cls(answer, answer.lines(problem), *measured(problem, answer, handy))


def _best(known: Sequence[_Known], most_lines: int, least_offcut: int) -> _Known:
    """Return the handiest answer with few enough lines, if it can be with a large enough offcut."""
    return min(known, key=lambda k: (k.lines > most_lines, k.offcut < least_offcut, k.count))


def _sheet(problem: Problem) -> int:
    """Return the area of the largest sheet."""
    return max(bin_.w * bin_.h for bin_ in problem.bins)


def _most_waste(problem: Problem, answer: Solution) -> int:
    """Return the largest offcut that is worth trying for; each part takes a kerf each way."""
    kerf = problem.rules.kerf
    areas = [math.prod(problem.bins[pattern.bin].grown(kerf)) for pattern in answer.patterns]
    taken = sum(kind.copies * (kind.length + kerf) * (kind.width + kerf) for kind in problem.kinds)
    return int(_MOST * min(sum(areas) - taken, max(areas)))


def _axes(problem: Problem) -> tuple[int, ...]:
    """Return along which axes the offcut may be set apart: a panel saw rips first."""
    return (UPWARD,) if problem.rules.stages is not None else (ALONG, UPWARD)


def _emptiest(problem: Problem, answer: Solution) -> int:
    """Return which sheet of an answer has most waste."""

    def waste(at: int) -> int:
        pattern = answer.patterns[at]
        bin_ = problem.bins[pattern.bin]
        kinds = [problem.kinds[leaf.kind] for leaf in pattern.root.leaves()]
        return bin_.w * bin_.h - sum(kind.length * kind.width for kind in kinds)

    return max(range(len(answer.patterns)), key=waste)


def _beside(
    problem: Problem, answer: Solution, area: int, wanted: Wanted, axis: int
) -> Solution | None:
    """Return an answer that leaves an offcut of some area at the end or side of a sheet."""
    host = _emptiest(problem, answer)
    own = _set_apart(problem, answer, host, area, axis)
    if own is None:
        return None
    patterns = tuple(p for at, p in enumerate(answer.patterns) if at != host)
    missing = tuple(sorted(count_kinds(answer.patterns[host].root).items()))
    start = replace(answer, patterns=patterns, missing=missing)
    work = math.ceil(wanted.work * _SHARE_OF_PLACING), wanted.work
    handy = aside(wanted.handy)
    made = settled(own, start, handy=handy, work=work, seed=2 * wanted.seed + axis)
    if made is None:
        return None
    bin_ = answer.patterns[host].bin
    back = [Pattern(p.bin if p.bin < len(problem.bins) else bin_, p.root) for p in made.patterns]
    return replace(made, patterns=tuple(back))


def _set_apart(
    problem: Problem, answer: Solution, host: int, area: int, axis: int
) -> Problem | None:
    """Return the problem on an answer's sheets, one of them less by a strip of some area.

    The strip and the cut beside it lie beyond the last of the bins.
    """
    used = Counter(pattern.bin for pattern in answer.patterns)
    bin_ = answer.patterns[host].bin
    sheet = problem.bins[bin_]
    strip = -(-area // (sheet.h if axis == ALONG else sheet.w)) + problem.rules.kerf
    if axis == ALONG:
        less = replace(sheet, copies=1, w=sheet.w - strip, beyond_w=strip)
    else:
        less = replace(sheet, copies=1, h=sheet.h - strip, beyond_h=strip)
    if min(less.w, less.h) <= 0:
        return None
    used[bin_] -= 1
    bins = tuple(replace(b, copies=used[at]) for at, b in enumerate(problem.bins))
    return replace(problem, bins=(*bins, less))
