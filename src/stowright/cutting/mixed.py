"""A few sheets of several sizes laid out anew at less cost.

Two ways. The sheet that holds least for its cost is taken off and its parts go onto the others;
what finds no place goes onto the cheapest sheet that holds it. Or the same parts are laid on any
sheets that cost less together.
"""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

from stowright.cutting.corners import by_corners
from stowright.cutting.problem import Pattern, Problem, Solution
from stowright.cutting.searching import combined_costs, on_one_less
from stowright.cutting.slots import count_kinds, renumbered
from stowright.cutting.starting import part_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stowright.cutting.effort import Watch

__all__ = ["Spare", "crowding", "drained_once", "traded", "used_for_cost"]

type Spare = dict[int, int | None]

_NOISE = 1e-9


def used_for_cost(problem: Problem, pattern: Pattern) -> float:
    """Return the grown area of a sheet's parts for what the sheet costs."""
    area = sum(part.w * part.h for part in pattern.root.leaves())
    return area / combined_costs(problem)[pattern.bin]


def crowding(problem: Problem, pattern: Pattern) -> float:
    """Return what a sheet's parts count for: a large one a little more than small ones."""
    kerf = problem.rules.kerf
    whole = max((bin_.w + kerf) * (bin_.h + kerf) for bin_ in problem.bins)
    shares = [part.w * part.h / whole for part in pattern.root.leaves()]
    return sum(a * math.sqrt(math.sqrt(math.sqrt(math.sqrt(a)))) for a in shares)


def drained_once(
    problem: Problem,
    group: Sequence[Pattern],
    spare: Spare,
    *,
    work: int,
    watch: Watch,
    seed: int,
) -> list[Pattern] | None:
    """Return sheets with the first one's parts on the others, as many as go; None if in vain.

    In vain is what neither costs less nor leaves less on a sheet of the same cost.

    Args:
        problem: The problem, sheets of several sizes.
        group: The sheets, the one that holds least for its cost first.
        spare: How many more of each bin there are; None without limit.
        work: Slots looked at.
        watch: Ends it early.
        seed: Start of the random numbers.
    """
    counts = Counter(pattern.bin for pattern in group)
    found = _less(problem, group, dict(counts), work=work, watch=watch, seed=seed, trade=False)
    patterns, missing = found
    if missing:
        used = Counter(pattern.bin for pattern in patterns)
        there = {
            index: None if more is None else more + counts[index] - used[index]
            for index, more in spare.items()
        }
        last = _on_one(problem, missing, there)
        if last is None:
            return None
        patterns = [*patterns, last]
        more = _cost(problem, patterns) - _cost(problem, group)
        is_emptier = crowding(problem, last) < crowding(problem, group[0])
        return patterns if more < -_NOISE or (more <= _NOISE and is_emptier) else None
    return patterns


def traded(
    problem: Problem,
    group: Sequence[Pattern],
    spare: Spare,
    *,
    work: int,
    watch: Watch,
    seed: int,
) -> list[Pattern] | None:
    """Return cheaper sheets that hold all parts of a group; None when none were found.

    Args:
        problem: The problem, sheets of several sizes.
        group: The sheets.
        spare: How many more of each bin there are; None without limit.
        work: Slots looked at.
        watch: Ends it early.
        seed: Start of the random numbers.
    """
    counts = Counter(pattern.bin for pattern in group)
    there = {index: None if more is None else more + counts[index] for index, more in spare.items()}
    patterns, missing = _less(problem, group, there, work=work, watch=watch, seed=seed, trade=True)
    return None if missing else patterns


def _cost(problem: Problem, patterns: Sequence[Pattern]) -> float:
    costs = combined_costs(problem)
    return sum(costs[pattern.bin] for pattern in patterns)


def _less(
    problem: Problem,
    group: Sequence[Pattern],
    there: Spare,
    *,
    work: int,
    watch: Watch,
    seed: int,
    trade: bool,
) -> tuple[list[Pattern], Counter[int]]:
    """Return a group's parts on sheets that cost less, and the parts that found no place."""
    wanted: Counter[int] = Counter()
    for pattern in group:
        wanted += count_kinds(pattern.root)
    bins = [index for index, most in there.items() if most != 0]
    own, numbers = part_of(problem, wanted, bins)
    limited = zip(own.bins, bins, strict=True)
    own = replace(own, bins=tuple(replace(bin_, copies=there[index]) for bin_, index in limited))
    back = {number: index for index, number in enumerate(numbers)}
    places = {index: at for at, index in enumerate(bins)}
    start = Solution(
        patterns=tuple(Pattern(places[p.bin], renumbered(p.root, back)) for p in group),
        found_by="batch",
    )
    found = on_one_less(own, start, work=work, watch=watch, seed=seed, trade=trade)
    patterns = [Pattern(bins[p.bin], renumbered(p.root, numbers)) for p in found.patterns]
    return patterns, Counter({numbers[kind]: count for kind, count in found.missing})


def _on_one(problem: Problem, wanted: Counter[int], there: Spare) -> Pattern | None:
    """Return the cheapest sheet that holds some parts; None when no single one does."""
    costs = combined_costs(problem)
    for index in sorted((i for i, most in there.items() if most != 0), key=lambda i: costs[i]):
        own, numbers = part_of(problem, wanted, [index])
        own = replace(own, bins=(replace(own.bins[0], copies=1),))
        if own.part_area > own.bins[0].w * own.bins[0].h:
            continue
        found = by_corners(own)
        if not found.missing:
            return Pattern(index, renumbered(found.patterns[0].root, numbers))
    return None
