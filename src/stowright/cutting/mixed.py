"""A few sheets of several sizes laid out anew at less cost.

Two ways. The sheet that holds least for its cost is taken off and its parts go onto the others;
what finds no place goes onto the cheapest sheet that holds it. Or the same parts are laid on any
sheets that cost less together.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from importlib import import_module
from typing import TYPE_CHECKING

from stowright.cutting.corners import by_corners
from stowright.cutting.problem import Pattern, Problem, Solution
from stowright.cutting.searching import combined_costs, on_one_less
from stowright.cutting.slots import count_kinds, renumbered
from stowright.cutting.starting import part_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stowright.cutting.effort import Watch

__all__ = ["Group", "Spare", "laid_anew", "used_for_cost"]

type Spare = dict[int, int | None]

_NOISE = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Some sheets to be laid out anew.

    Attributes:
        patterns: The sheets, the one that holds least for its cost first.
        spare: How many more of each bin there are; None without limit.
        trade: True to lay them on any sheets that cost less together.
        work: Slots looked at.
        seed: Start of the random numbers.
    """

    patterns: Sequence[Pattern]
    spare: Spare
    trade: bool
    work: int
    seed: int


def laid_anew(problem: Problem, watch: Watch, group: Group) -> list[Pattern] | None:
    """Return other sheets for the parts of a group; None when nothing is gained.

    Gained is what costs less. Where sheets are not traded that is the first one gone, or another
    of the same cost that holds less in its stead.

    Args:
        problem: The problem.
        watch: Ends it early.
        group: The sheets.
    """
    return (_traded if group.trade else _drained)(problem, watch, group)


def used_for_cost(problem: Problem, pattern: Pattern) -> float:
    """Return the grown area of a sheet's parts for what the sheet costs."""
    area = sum(part.w * part.h for part in pattern.root.leaves())
    return area / combined_costs(problem)[pattern.bin]


def _crowding(problem: Problem, pattern: Pattern) -> float:
    """Return what a sheet's parts count for: a large one a little more than small ones."""
    rounds = import_module("stowright.cutting.rounds")
    kerf = problem.rules.kerf
    whole = max((bin_.w + kerf) * (bin_.h + kerf) for bin_ in problem.bins)
    leaves = pattern.root.leaves()
    return sum(float(rounds.crowding(part.w * part.h / whole)) for part in leaves)


def _drained(problem: Problem, watch: Watch, group: Group) -> list[Pattern] | None:
    """Return sheets with the first one's parts on the others, as many as go; None if in vain."""
    counts = Counter(pattern.bin for pattern in group.patterns)
    patterns, missing = _less(problem, watch, group, dict(counts))
    if not missing:
        return patterns
    used = Counter(pattern.bin for pattern in patterns)
    last = _on_one(problem, missing, _more(group.spare, counts - used))
    if last is None:
        return None
    patterns = [*patterns, last]
    more = _cost(problem, patterns) - _cost(problem, group.patterns)
    is_emptier = _crowding(problem, last) < _crowding(problem, group.patterns[0])
    return patterns if more < -_NOISE or (more <= _NOISE and is_emptier) else None


def _traded(problem: Problem, watch: Watch, group: Group) -> list[Pattern] | None:
    """Return cheaper sheets that hold all parts of a group; None when none were found."""
    there = _more(group.spare, Counter(pattern.bin for pattern in group.patterns))
    patterns, missing = _less(problem, watch, group, there)
    return None if missing else patterns


def _more(spare: Spare, counts: Counter[int]) -> Spare:
    """Return how many of each bin there are with some that were given back."""
    return {index: None if most is None else most + counts[index] for index, most in spare.items()}


def _cost(problem: Problem, patterns: Sequence[Pattern]) -> float:
    costs = combined_costs(problem)
    return sum(costs[pattern.bin] for pattern in patterns)


def _less(
    problem: Problem, watch: Watch, group: Group, there: Spare
) -> tuple[list[Pattern], Counter[int]]:
    """Return a group's parts on sheets that cost less, and the parts that found no place."""
    wanted: Counter[int] = Counter()
    for pattern in group.patterns:
        wanted += count_kinds(pattern.root)
    bins = [index for index, most in there.items() if most != 0]
    own, numbers = part_of(problem, wanted, bins)
    limited = zip(own.bins, bins, strict=True)
    own = replace(own, bins=tuple(replace(bin_, copies=there[index]) for bin_, index in limited))
    back = {number: index for index, number in enumerate(numbers)}
    places = {index: at for at, index in enumerate(bins)}
    start = Solution(
        patterns=tuple(Pattern(places[p.bin], renumbered(p.root, back)) for p in group.patterns),
        found_by="batch",
    )
    found = on_one_less(
        own, start, work=group.work, watch=watch, seed=group.seed, trade=group.trade
    )
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
