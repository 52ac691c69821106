"""Looking for the arrangements that no other beats.

In each round many arrangements are judged quickly, those about the best so far that promise to add
most, and some of earlier rounds are proved and cut: those that mend what failed with a thicker
sheet, those that promise most by what was proved, and those that differ most from one another.
Chance comes from one seed, and a round's results are used only when all of it is there: the number
of workers makes no difference.

Breeding among those that no other beats follows K. Deb and others, A fast and elitist
multiobjective genetic algorithm: NSGA-II, IEEE Trans. Evol. Comput. 6, 2002; going on from each by
single changes, L. Paquete and others, Pareto local optimum sets, 2004 (both from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import islice

from stowright.errors import StoppedError
from stowright.explore.arrangement import (
    Choice,
    by_chance,
    everything,
    usual,
)
from stowright.explore.budget import Budget
from stowright.explore.dice import Dice
from stowright.explore.fronts import best_of, values_of
from stowright.explore.judging import Judge, Judged, Task
from stowright.explore.mending import mended
from stowright.explore.pareto import spread
from stowright.explore.promising import Promising
from stowright.explore.workers import Crew

__all__ = ["Progress", "Search", "Told", "search"]

#: Of a quick round what promises most; the rest by chance.
GUIDED = 0.9
#: Of the first quick round what is built most, so that something soon serves; by chance are no
#: more than so many, which tell of every answer.
USUAL, BY_CHANCE = 0.4, 24
#: What is less likely to serve, when it is proved, is not gone on from.
TRUSTED = 0.25
#: A space is listed only when it counts no more than this many times the budget.
LISTED = 20
#: A whole round up to these shares: mending what failed, what promises most; the rest is apart.
MENDING, HOPED = 0.25, 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """How far a search is: what was judged, the share of the budget used, the best so far."""

    quick: int
    whole: int
    share: float
    best: tuple[Judged, ...]


type Progress = Callable[[Told], None]


class Search:
    """What has been judged so far, and what to judge next."""

    def __init__(self, judge: Judge, *, seed: int) -> None:
        self.space, self.catalogue = judge.space, judge.catalogue
        self.dice = Dice(seed)
        self.promising = Promising(judge.space, self.dice)
        self.usual = usual(judge.space)
        self.quick: dict[Choice, Judged] = {}
        self.whole: dict[Choice, Judged] = {}
        self.best_quick: list[Judged] = []
        self.best_whole: list[Judged] = []

    def learn(self, rows: Iterable[Judged]) -> None:
        """Take in what was judged: the best of all is the best of the best so far and the new."""
        judged = tuple(rows)
        quick = [row for row in judged if row.stage == "quick"]
        whole = [row for row in judged if row.stage == "whole"]
        self.quick |= {row.choice: row for row in quick}
        self.whole |= {row.choice: row for row in whole}
        self.best_quick = best_of((*self.best_quick, *quick))
        self.best_whole = best_of((*self.best_whole, *whole))

    def best(self) -> tuple[Judged, ...]:
        """Return the best so far: proved where anything was proved."""
        return tuple(self.best_whole if self.whole else self.best_quick)

    def next_quick(self, many: int) -> list[Choice]:
        """Return arrangements to judge by their bodies, none of them twice."""
        wanted: dict[Choice, None] = {}
        if not self.quick:
            usual_ones = max(int(many * USUAL), many - BY_CHANCE)
            self._want(wanted, self.dice.shuffled(self.usual)[:usual_ones])
        hopes = self.promising.of(self.quick, self.starts(), int(many * GUIDED), proved=self.whole)
        self._want(wanted, hopes)
        for _ in range(20 * many):
            if len(wanted) >= many:
                break
            self._want(wanted, (by_chance(self.space, self.dice),))
        return list(wanted)[:many]

    def starts(self) -> list[Judged]:
        """Return what is gone on from: the best of what serves, or may when it is proved."""
        rows = [row for row in self.quick.values() if row.serves]
        if not rows or not self.whole:
            return self.best_quick
        fails = {choice for choice, row in self.whole.items() if not row.serves}
        rows = [row for row in rows if row.choice not in fails] or rows
        odds = self.promising.to_serve(self.whole, [row.choice for row in rows])
        may = [row for row, one in zip(rows, odds, strict=True) if one >= TRUSTED]
        served = [row for row in rows if row.choice in self.whole]
        return best_of(may or served or rows)

    def _want(self, wanted: dict[Choice, None], choices: Iterable[Choice]) -> None:
        wanted |= {choice: None for choice in choices if choice not in self.quick}

    def next_whole(self, many: int) -> list[Choice]:
        """Return arrangements to prove and cut, none of them twice."""
        wanted: dict[Choice, None] = {}
        failing = sorted(
            (row for row in self.whole.values() if not row.serves and row.measures is not None),
            key=lambda row: (row.short, row.choice),
        )
        mends = [c for row in failing for c in mended(self.space, self.catalogue, row.choice)]
        hopes = self.promising.to_prove(self.quick, self.whole, self.best_whole, 2 * many)
        self._prove(wanted, mends, int(many * MENDING))
        self._prove(wanted, hopes, int(many * HOPED))
        self._prove(wanted, self._apart(many), many)
        self._prove(wanted, hopes, many)
        self._prove(wanted, mends, many)
        self._prove(wanted, self._serving(), many)
        return list(wanted)

    def _prove(self, wanted: dict[Choice, None], rows: Iterable[Choice], until: int) -> None:
        for choice in rows:
            if len(wanted) >= until:
                return
            if choice not in self.whole:
                wanted[choice] = None

    def _apart(self, many: int) -> list[Choice]:
        """Return what differs most of the best that is not proved yet."""
        rows = [row for row in self.best_quick if row.choice not in self.whole]
        return [rows[k].choice for k in spread(values_of(rows), many)] if rows else []

    def _serving(self) -> list[Choice]:
        return sorted(row.choice for row in self.quick.values() if row.serves)


def search(
    judge: Judge,
    hands: Crew,
    *,
    seed: int,
    budget: Budget,
    progress: Progress | None = None,
) -> tuple[Search, bool]:
    """Return what was judged, and whether the search was stopped before its end.

    Args:
        judge: What is judged with.
        hands: Who judges.
        seed: Start of the random numbers.
        budget: How many arrangements are judged.
        progress: Told after each round.
    """
    state = Search(judge, seed=seed)
    try:
        _rounds(state, hands, budget, progress)
    except StoppedError:
        return state, True
    return state, False


def _rounds(state: Search, hands: Crew, budget: Budget, progress: Progress | None) -> None:
    listed = _listed(state, budget)
    quick, whole = budget.quick_at_first, budget.first_whole
    while True:
        room = min(quick, budget.quick - len(state.quick))
        choices = state.next_quick(room) if listed is None else listed[len(state.quick) :][:room]
        looks: list[Task] = [("quick", choice) for choice in choices]
        if not state.quick:  # nothing to prove yet
            state.learn(hands.judge(looks))
            looks = []
        proved = state.next_whole(min(whole, budget.whole - len(state.whole)))
        # in one go, the long errands first: nobody waits for the last of either kind
        state.learn(hands.judge([*(("whole", choice) for choice in proved), *looks]))
        quick, whole = budget.quick_a_round, budget.whole_a_round
        if progress is not None:
            progress(_told(state, budget))
        if not choices and not proved:
            return


def _listed(state: Search, budget: Budget) -> list[Choice] | None:
    """Return every arrangement where all can be judged, those built most first; else None.

    Equal units are counted more than once in the size of a space, so some more may be listed.
    """
    if state.space.size > LISTED * budget.quick:
        return None
    usual_first = dict.fromkeys((*state.usual, *islice(everything(state.space), budget.quick + 1)))
    return list(usual_first) if len(usual_first) <= budget.quick else None


def _told(state: Search, budget: Budget) -> Told:
    done = len(state.quick) / max(1, budget.quick), len(state.whole) / max(1, budget.whole)
    share = min(1.0, 0.5 * (done[0] + done[1]))
    return Told(quick=len(state.quick), whole=len(state.whole), share=share, best=state.best())
