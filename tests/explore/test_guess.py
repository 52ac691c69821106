"""What is guessed of designs that were not made, where the right answer is known."""

from dataclasses import replace

import numpy as np
import pytest
from small_bays import TUB, small_judge

from stowright.app.loading import load_catalogue, load_job
from stowright.explore.arrangement import everything, normal, space_of
from stowright.explore.budget import Budget
from stowright.explore.design_search import search
from stowright.explore.dice import Dice
from stowright.explore.exploring import few
from stowright.explore.guess import Guess
from stowright.explore.judging import Judged
from stowright.explore.measures import Measures
from stowright.explore.promising import Promising

JUDGE = small_judge()
SPACE = JUDGE.space
ALL = list(everything(SPACE))
#: What each answer adds to room and to mass in an invented world of plain sums.
ROOM = [[7.0 * k * (place + 1) for k in range(9)] for place in range(len(SPACE.questions))]
MASS = [[3.0 * k * k + place for k in range(9)] for place in range(len(SPACE.questions))]


def summed(table, choice):
    return sum(table[place][k] for place, k in enumerate(choice))


def judged(choice, *, serves=True):
    """A design of the invented world."""
    measures = Measures(
        litres=summed(ROOM, choice),
        mass_kg=summed(MASS, choice),
        sheets=1.0,
        cost=None,
        axle_margin_kg=None,
        height_mm=400.0,
        sleeping_mm=None,
        worst_use=None,
        cuts=10.0,
    )
    return Judged(choice=choice, stage="quick", measures=measures, short=0.0 if serves else 1.0)


def test_plain_sums_are_guessed_from_a_third_of_them():
    known = Dice(3).shuffled(ALL)[: len(ALL) // 3]
    values = np.array([[summed(ROOM, c), summed(MASS, c)] for c in known])
    guess = Guess(SPACE, known, values)
    truth = np.array([[summed(ROOM, c), summed(MASS, c)] for c in ALL])
    # answers are drawn towards nothing as if one design in so many were not made
    scale = truth.max(axis=0) - truth.min(axis=0)
    assert (np.abs(guess.of(ALL) - truth) / scale).max() < 0.08


def test_an_answer_never_seen_adds_nothing():
    place = max(range(len(SPACE.questions)), key=lambda k: len(SPACE.questions[k].answers))
    known = [c for c in ALL if c[place] != 1]
    values = np.array([[summed(ROOM, c)] for c in known])
    guess = Guess(SPACE, known, values)
    one = next(c for c in ALL if c[place] == 1)
    rest = [k for k in range(len(one)) if k != place]
    others = [c for c in known if all(c[k] == one[k] for k in rest)]
    between = [float(v) for v in guess.of(others)[:, 0]]
    assert min(between) <= guess.of([one])[0, 0] <= max(between)


def test_what_promises_most_is_better_than_what_was_seen():
    known = {c: judged(c) for c in Dice(1).shuffled(ALL)[:30]}
    best = [max(known.values(), key=lambda row: row.measures.litres)]
    found = Promising(SPACE, Dice(2)).of(known, best, 5)
    assert len(found) == 5
    assert not set(found) & set(known)
    gains = [judged(c).measures for c in found]
    was = best[0].measures
    assert any(m.litres > was.litres or m.mass_kg < was.mass_kg for m in gains)


def test_while_nothing_serves_what_falls_short_least_is_looked_for():
    """Falling short by the sum of the answers: the way down is found from one answer to another."""

    def short(choice):
        row = judged(choice, serves=False)
        return Judged(choice=choice, stage="quick", measures=row.measures, short=1.0 + sum(choice))

    known = {c: short(c) for c in Dice(4).shuffled(ALL)[:40]}
    best = sorted(known.values(), key=lambda row: (row.short, row.choice))[:10]
    found = Promising(SPACE, Dice(5)).of(known, best, 4)
    mean = np.mean([sum(c) for c in known])
    assert np.mean([sum(c) for c in found]) < mean


def test_the_same_seed_goes_the_same_way():
    class Here:
        def judge(self, tasks):
            return [judged(choice) for _, choice in tasks]

    budget = Budget(quick=60, whole=0, first_quick=20, round_quick=10)
    one, two = (search(JUDGE, Here(), seed=7, budget=budget)[0] for _ in range(2))
    assert list(one.quick) == list(two.quick)


@pytest.mark.parametrize("room", [True, False])
def test_points_of_both_ends_are_gone_on_from(room):
    """Of two ends of what is best, both have neighbours among what promises."""
    rows = sorted((judged(c) for c in ALL[::3]), key=lambda r: r.measures.litres)
    known = {row.choice: row for row in rows}
    found = Promising(SPACE, Dice(0)).of(known, [rows[0], rows[-1]], 30)
    end = rows[-1] if room else rows[0]
    assert any(sum(a != b for a, b in zip(c, end.choice, strict=True)) <= 2 for c in found)


def row(choice, **numbers):
    """A design that serves, with some numbers of its own."""
    told = judged(choice)
    return replace(told, measures=replace(told.measures, **numbers))


def test_of_units_alike_but_for_their_sheets_one_that_is_nowhere_worse_stays():
    """Ten kilograms more for two litres is no choice; for sixty litres it is, and so is a shape."""
    space = space_of(load_job(TUB), load_catalogue())
    at = space.place("carcass")
    thin = normal(space, tuple(0 for _ in space.questions))
    thick = normal(space, (*thin[:at], 1, *thin[at + 1 :]))
    other = normal(space, (*thin[:1], 1, *thin[2:]))
    best = row(thin, litres=300.0, mass_kg=60.0)
    hardly = row(thick, litres=302.0, mass_kg=70.0)
    more = row(thick, litres=360.0, mass_kg=70.0)
    elsewhere = row(other, litres=302.0, mass_kg=70.0)
    assert few(space, [best, hardly], 12) == [best]
    assert set(few(space, [best, more], 12)) == {best, more}
    assert set(few(space, [best, elsewhere], 12)) == {best, elsewhere}


def test_while_nothing_serves_a_few_that_differ_are_shown():
    rows = sorted((judged(c, serves=False) for c in ALL), key=lambda r: r.choice)
    rows = [replace(r, short=1.0 + k) for k, r in enumerate(rows)]
    shown = few(SPACE, rows, 12)
    assert shown[0] == rows[0]
    assert 1 < len(shown) <= 4
    assert len({r.choice for r in shown}) == len(shown)
    assert few(SPACE, [], 12) == []
