"""Where the tabs of a joint stand along it: how many, how long, clear of what is made there.

The rules are judgement, set out in the guide: at least two tabs, alike from end to end, so far from
the ends and from each other that the wood between them holds; where a part has a front edge the tab
nearest to it is longer, so that the part goes in one way round only.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import floor

__all__ = ["TabRule", "rule_for", "tab_places"]

type Stretch = tuple[float, float]

#: Shortest and longest tab, wood between two, and from a joint's end (judgement). [mm]
_LEAST, _LONGEST, _LAND, _END = 18.0, 60.0, 15.0, 12.0
#: From a long joint's end to its first tab. [mm]
_END_MOST = 40.0
#: About one tab to this. [mm]
_PITCH = 200.0
#: How much longer the tab at the front edge is: more than any slot's play. [mm]
_KEY = 8.0
#: Tabs are set out in steps of this. [mm]
_MARK = 0.5
_EPS = 1.0e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class TabRule:
    """How tabs are set out.

    Attributes:
        least: Shortest tab. [mm]
        land: Least wood between two tabs. [mm]
        end: Least wood between a tab and the joint's end. [mm]
    """

    least: float
    land: float
    end: float


def rule_for(cutter: float) -> TabRule:
    """Return the rule for a cutter's diameter: a wide one takes more at each corner. [mm]."""
    return TabRule(
        least=max(_LEAST, 2.0 * cutter + 2.0),
        land=max(_LAND, 2.0 * cutter + 3.0),
        end=max(_END, cutter + 3.0),
    )


def tab_places(
    length: float, blocked: Iterable[Stretch], rule: TabRule, *, keyed: bool
) -> tuple[Stretch, ...]:
    """Return where tabs start and end along a joint; nothing where no two of them find room.

    Args:
        length: Of the joint. [mm]
        blocked: Stretches that no tab may touch, from the joint's beginning.
        rule: Least sizes.
        keyed: Whether the first tab is longer than the others.
    """
    end = max(rule.end, min(length / 8.0, _END_MOST))
    free = _free(end, length - end, blocked, rule.least)
    alone = len(free) == 1
    found = [place for stretch in free for place in _spread(stretch, rule, at_least=1 + alone)]
    found = _apart(found, rule.land)
    if len(found) < 2:
        return ()
    if keyed and found[1][0] - found[0][1] >= rule.land + _KEY:
        found[0] = (found[0][0], found[0][1] + _KEY)
    return tuple(found)


def _free(low: float, high: float, blocked: Iterable[Stretch], least: float) -> list[Stretch]:
    found: list[Stretch] = []
    at = low
    for a, b in sorted(blocked):
        if a > high or b < low:
            continue
        if min(a, high) - at >= least - _EPS:
            found.append((at, min(a, high)))
        at = max(at, b)
    if high - at >= least - _EPS:
        found.append((at, high))
    return found


def _apart(places: Iterable[Stretch], land: float) -> list[Stretch]:
    """Return the places without those that leave too little wood behind the one before."""
    kept: list[Stretch] = []
    for place in places:
        if not kept or place[0] - kept[-1][1] >= land - _EPS:
            kept.append(place)
    return kept


def _spread(stretch: Stretch, rule: TabRule, *, at_least: int) -> Sequence[Stretch]:
    """Return tabs spread over a stretch, the outer ones at its ends, alike from both ends."""
    low, high = stretch
    size = high - low
    most = int((size + rule.land + _EPS) // (rule.least + rule.land))
    count = min(most, max(at_least, 1 + round(size / _PITCH)))
    if count < 1:
        return ()
    wished = float(floor(min(0.45 * size / count, _LONGEST)))
    tab = min(max(wished, rule.least), (size - (count - 1) * rule.land) / count)
    if count == 1:
        middle = (low + high) / 2.0
        return ((middle - tab / 2.0, middle + tab / 2.0),)
    step = (size - tab) / (count - 1)
    half = [round(i * step / _MARK) * _MARK for i in range(count // 2)]
    found = [(low + at, low + at + tab) for at in half]
    centre = [((low + high - tab) / 2.0, (low + high + tab) / 2.0)] if count % 2 else []
    return (*found, *centre, *((low + high - b, low + high - a) for a, b in reversed(found)))
