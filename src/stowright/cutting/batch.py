"""Very many parts: sheets taken a few at a time, the emptiest drained into the others.

A search over thousands of parts at once gets nowhere. Here the emptiest sheet and a few others
are laid out anew on one sheet less; what then finds no place is the new emptiest sheet. When
nothing is left over, a sheet is saved. The others are drawn by chance, rather empty ones mostly,
since only what they have free can take in parts. Where nothing is gained for long, more sheets
are laid out anew at once, and longer. The finishing search too goes a few sheets at a time.
"""

from __future__ import annotations

from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from stowright.cutting.mixed import Group, laid_anew, used_for_cost
from stowright.cutting.problem import Pattern, Solution
from stowright.cutting.searching import handier
from stowright.cutting.slots import count_kinds, renumbered
from stowright.cutting.starting import part_of

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from stowright.cutting.effort import Watch
    from stowright.cutting.mixed import Spare
    from stowright.cutting.problem import Problem
    from stowright.cutting.searching import Handy

__all__ = ["LARGE", "drained", "handier_by_groups"]

LARGE = 220  # parts; more of them are searched a few sheets at a time
_GROUP = 45  # parts in such a group, about
_FEWEST = 3  # sheets in a group
_WORK = 2_000_000  # slots looked at for one group
_PATIENCE = 40  # groups drained in vain before they grow
_LEVELS, _GROWTH = 4, 20  # how often they grow, and by how many parts; the work by one share more
_THOROUGH, _NEARLY = 3, 0.25  # times the work while so little of the last sheet is used
_ANY = 3  # of ten sheets of a group are drawn from all alike
_FINE = 1 << 20  # steps in which a share is drawn
_SIDE_BY_SIDE = 2  # groups laid out anew at the same time
_MODULUS, _FACTOR = 2147483647, 48271  # Park and Miller's generator, from memory


class _Chance:
    """Random numbers that are the same everywhere."""

    def __init__(self, seed: int) -> None:
        self._state = 1 + seed % (_MODULUS - 1)

    def below(self, most: int) -> int:
        """Return the next number below ``most``."""
        self._state = self._state * _FACTOR % _MODULUS
        return self._state % most


def drained(
    problem: Problem,
    start: Solution,
    *,
    is_least: Callable[[Solution], bool],
    work: int,
    watch: Watch,
    seed: int = 0,
) -> Solution:
    """Return an answer on no more sheets of the same sizes, on fewer where that was found.

    Args:
        problem: The problem.
        start: A complete answer.
        is_least: Tells whether an answer is proved least; the search then ends.
        work: Slots looked at, for one of the groups that are laid out side by side; some times
            as many while a sheet is nearly saved.
        watch: Ends it early.
        seed: Start of the random numbers.
    """
    chance = _Chance(seed + 1)
    patterns = list(start.patterns)
    done, in_vain = 0, 0
    with ThreadPoolExecutor(_SIDE_BY_SIDE) as pool:
        while not watch.is_over() and _is_worth_more(problem, patterns, done / work):
            if is_least(replace(start, patterns=tuple(patterns))):
                break
            level = min(_LEVELS, in_vain // _PATIENCE)
            done += _WORK * (1 + level)
            groups = _apart(problem, patterns, chance, _GROUP + _GROWTH * level)
            if not groups:
                break
            tasks = [
                Group(
                    patterns=[patterns[i] for i in group],
                    spare=_spare(problem, patterns if number == 0 else None),
                    trade=len(problem.bins) > 1 and chance.below(2) == 0,
                    work=_WORK * (1 + level),
                    seed=seed + done + number,
                )
                for number, group in enumerate(groups)
            ]
            news = list(pool.map(partial(laid_anew, problem, watch), tasks))
            gone = {i for g, new in zip(groups, news, strict=True) if new is not None for i in g}
            patterns = [p for i, p in enumerate(patterns) if i not in gone]
            patterns += [p for new in news if new is not None for p in new]
            in_vain = in_vain + 1 if news[0] is None else 0
    return replace(start, patterns=tuple(patterns))


def _is_worth_more(problem: Problem, patterns: Sequence[Pattern], share: float) -> bool:
    """Tell whether to go on after some share of the work is done."""
    if share < 1.0 or share >= _THOROUGH:
        return share < 1.0
    last = min(patterns, key=lambda pattern: used_for_cost(problem, pattern))
    bin_ = problem.bins[last.bin]
    return _fill(problem, last) < _NEARLY * bin_.w * bin_.h


def _apart(
    problem: Problem, patterns: Sequence[Pattern], chance: _Chance, parts: int
) -> list[list[int]]:
    """Return groups of about so many parts that share no sheet, one of the emptiest in front.

    The first two of the emptiest are drained together now and then, so that what is left in
    both can come onto one; what a second group frees elsewhere gathers on a sheet too.
    """
    free = sorted(range(len(patterns)), key=lambda i: (used_for_cost(problem, patterns[i]), i))
    groups: list[list[int]] = []
    for number in range(_SIDE_BY_SIDE):
        if len(free) < _FEWEST and (groups or len(free) < 2):
            break
        with_next = number == 0 and chance.below(2) == 0
        group = _group(patterns, free, chance, parts, with_next=with_next)
        free = [i for i in free if i not in set(group)]
        groups.append(group)
    return [group for group in groups if len(group) > 1]


def _fill(problem: Problem, pattern: Pattern) -> int:
    """Return the area of the parts on a sheet."""
    kinds = problem.kinds
    return sum(kinds[p.kind].length * kinds[p.kind].width for p in pattern.root.leaves())


def _group(
    patterns: Sequence[Pattern], free: Sequence[int], chance: _Chance, most: int, *, with_next: bool
) -> list[int]:
    """Return the emptiest of some sheets and others, drawn by chance.

    Args:
        patterns: All sheets.
        free: Which of them may be taken, the emptiest first.
        chance: Random numbers.
        most: Parts in the group, about.
        with_next: True to take the next emptiest first.
    """
    alike = list(free[1:])
    chosen, parts = [free[0]], _parts(patterns[free[0]])
    while alike and (len(chosen) < _FEWEST or parts < most):
        next_ = 0 if with_next and len(chosen) == 1 else _drawn(len(alike), chance)
        chosen.append(alike.pop(next_))
        parts += _parts(patterns[chosen[-1]])
    return chosen


def _drawn(count: int, chance: _Chance) -> int:
    """Return a number below a count: a low one mostly, now and then any."""
    if chance.below(10) < _ANY:
        return chance.below(count)
    share = chance.below(_FINE) / _FINE
    cube = share * share * share
    return int(count * cube * cube)


def _parts(pattern: Pattern) -> int:
    return sum(1 for _ in pattern.root.leaves())


def _spare(problem: Problem, patterns: Sequence[Pattern] | None) -> Spare:
    """Return how many more of each bin there are beside some sheets.

    Without the sheets there are none of a limited bin. Sheets that fall into several regions are
    left as they are.
    """
    whole = set(problem.whole_sheets())
    used = Counter(pattern.bin for pattern in patterns or ())
    spare: Spare = {}
    for index, bin_ in enumerate(problem.bins):
        if index in whole and bin_.copies is None:
            spare[index] = None
        elif index not in whole or bin_.copies is None or patterns is None:
            spare[index] = 0
        else:
            spare[index] = bin_.copies - used[index]
    return spare


def _cut_out(problem: Problem, group: list[Pattern]) -> tuple[Problem, list[int], Solution]:
    """Return a group of sheets of one size as a problem of its own, and the answer it stands at."""
    wanted: Counter[int] = Counter()
    for pattern in group:
        wanted += count_kinds(pattern.root)
    own, numbers = part_of(problem, wanted, [group[0].bin])
    own = replace(own, bins=(replace(own.bins[0], copies=None),))
    back = {number: index for index, number in enumerate(numbers)}
    patterns = tuple(Pattern(0, renumbered(p.root, back)) for p in group)
    return own, numbers, Solution(patterns=patterns, found_by="batch")


def handier_by_groups(
    problem: Problem, start: Solution, *, handy: Handy, work: int, watch: Watch, seed: int = 0
) -> Solution:
    """Return an answer of the same cost with fewer cuts, the sheets taken a few at a time.

    Args:
        problem: The problem.
        start: A complete answer.
        handy: What counts.
        work: Slots looked at in all, per stream.
        watch: Ends it early.
        seed: Start of the random numbers.
    """
    groups = _groups(start)
    patterns: list[Pattern] = []
    for group in groups:
        own, numbers, own_start = _cut_out(problem, group)
        found = handier(
            own,
            own_start,
            handy=handy,
            work=max(1, work // len(groups)),
            watch=watch,
            seed=seed,
        )
        patterns += [Pattern(group[0].bin, renumbered(p.root, numbers)) for p in found.patterns]
    return replace(start, patterns=tuple(patterns))


def _groups(answer: Solution) -> list[list[Pattern]]:
    """Return the sheets in groups of one size, those with the same kinds of parts together."""
    order = sorted(answer.patterns, key=lambda p: (p.bin, sorted(count_kinds(p.root).items())))
    groups: list[list[Pattern]] = []
    for pattern in order:
        full = groups and sum(map(_parts, groups[-1])) + _parts(pattern) > _GROUP
        if not groups or full or groups[-1][0].bin != pattern.bin:
            groups.append([])
        groups[-1].append(pattern)
    return groups
