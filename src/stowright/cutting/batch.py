"""Very many parts: sheets taken a few at a time, the emptiest drained into the others.

A search over thousands of parts at once gets nowhere. Here the emptiest sheet and a few others
are laid out anew on one sheet less; what then finds no place is the new emptiest sheet. When
nothing is left over, a sheet is saved. The finishing search too goes a few sheets at a time.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

from stowright.cutting.corners import by_corners
from stowright.cutting.problem import Pattern, Solution
from stowright.cutting.searching import handier, on_one_less
from stowright.cutting.slots import count_kinds, renumbered
from stowright.cutting.starting import part_of

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from stowright.cutting.effort import Watch
    from stowright.cutting.problem import Problem
    from stowright.cutting.searching import Handy

__all__ = ["LARGE", "drained", "handier_by_groups"]

LARGE = 220  # parts; more of them are searched a few sheets at a time
_GROUP = 45  # parts in such a group, about
_FEWEST = 3  # sheets in a group
_WORK = 2_000_000  # slots looked at, per stream and group
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
        work: Slots looked at in all, per stream.
        watch: Ends it early.
        seed: Start of the random numbers.
    """
    chance = _Chance(seed + 1)
    patterns = list(start.patterns)
    done = 0
    while done < work and not watch.is_over():
        if is_least(replace(start, patterns=tuple(patterns))):
            break
        done += _WORK
        chosen = _group(problem, patterns, chance)
        if len(chosen) < 2:
            break
        new = _again(problem, [patterns[i] for i in chosen], watch, seed + done)
        if new is not None:
            kept = [p for i, p in enumerate(patterns) if i not in set(chosen)]
            patterns = kept + new
    return replace(start, patterns=tuple(patterns))


def _fill(problem: Problem, pattern: Pattern) -> int:
    """Return the area of the parts on a sheet."""
    kinds = problem.kinds
    return sum(kinds[p.kind].length * kinds[p.kind].width for p in pattern.root.leaves())


def _group(problem: Problem, patterns: Sequence[Pattern], chance: _Chance) -> list[int]:
    """Return the emptiest sheet and some others of its size, drawn by chance."""
    emptiest = min(range(len(patterns)), key=lambda i: (_fill(problem, patterns[i]), i))
    own = patterns[emptiest].bin
    alike = [i for i, p in enumerate(patterns) if i != emptiest and p.bin == own]
    chosen, parts = [emptiest], _parts(patterns[emptiest])
    while alike and (len(chosen) < _FEWEST or parts < _GROUP):
        chosen.append(alike.pop(chance.below(len(alike))))
        parts += _parts(patterns[chosen[-1]])
    return chosen


def _parts(pattern: Pattern) -> int:
    return sum(1 for _ in pattern.root.leaves())


def _again(problem: Problem, group: list[Pattern], watch: Watch, seed: int) -> list[Pattern] | None:
    """Return the sheets of a group laid out anew, the emptiest one emptier or gone; else None."""
    own, numbers, start = _cut_out(problem, group)
    found = on_one_less(own, start, work=_WORK, watch=watch, seed=seed)
    left = 0
    if found.missing:
        rest, kinds = part_of(own, Counter(dict(found.missing)), [0])
        last = by_corners(rest)
        left = rest.part_area
        if last.missing or len(last.patterns) > 1 or left >= _fill(problem, group[0]):
            return None
        found = replace(
            found,
            patterns=(*found.patterns, Pattern(0, renumbered(last.patterns[0].root, kinds))),
        )
    return [Pattern(group[0].bin, renumbered(p.root, numbers)) for p in found.patterns]


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
            other=None,
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
