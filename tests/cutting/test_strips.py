"""Very many parts: sheets filled by strips, and what two runs of that have in common."""

import hashlib
import os
import subprocess
import sys
from collections import Counter
from dataclasses import replace

import numpy as np
import pytest

from stowright.cutting import strips_kernel as kernel
from stowright.cutting.corners import by_corners
from stowright.cutting.effort import Watch
from stowright.cutting.intake import by_material
from stowright.cutting.slots import ALONG, UPWARD
from stowright.cutting.strips import all_by_strips, by_strips
from stowright.model.layout import CutPart, SawSettings, StockSheet

SAW = SawSettings(kerf=3, trim=10)
STOCK = (StockSheet(id="S", material="ply", length=2440, width=1220),)


def many(count, seed=5):
    """Parts like those of drawer units, in few copies each."""
    chance = np.random.default_rng(seed)
    return tuple(
        CutPart(
            mark=str(n),
            length=float(chance.integers(300, 1100)),
            width=float(chance.integers(80, 560)),
            quantity=int(chance.integers(1, 6)),
            grain=n % 2 == 0,
            material="ply",
        )
        for n in range(count)
    )


def problem_of(parts):
    return by_material(parts, STOCK, SAW)[0].problem


def test_every_part_is_laid_once_and_no_part_leaves_its_sheet():
    problem = problem_of(many(60))
    answer = by_strips(problem, Watch())
    laid = Counter(part.kind for p in answer.patterns for part in p.root.leaves())
    assert laid == {index: kind.copies for index, kind in enumerate(problem.kinds)}
    kerf, bin_ = problem.rules.kerf, problem.bins[0]
    for pattern in answer.patterns:
        assert pattern.root.w <= bin_.w + kerf
        assert pattern.root.h <= bin_.h + kerf
        for part in pattern.root.leaves():
            kind = problem.kinds[part.kind]
            sides = (kind.length + kerf, kind.width + kerf)
            assert (part.w, part.h) == (sides[::-1] if part.turned else sides)
            assert kind.turnable or not part.turned


def test_small_parts_go_beside_what_only_dear_sheets_hold_once_parts_have_prices():
    sizes = (
        replace(STOCK[0], id="dear", length=3050, width=1525, cost=90.0),
        replace(STOCK[0], id="cheap", length=1525, width=1525, cost=40.0),
    )
    long = CutPart(mark="1", length=2000, width=700, quantity=8, grain=True, material="ply")
    small = CutPart(mark="2", length=490, width=490, quantity=24, grain=True, material="ply")
    problem = by_material((long, small), sizes, SAW)[0].problem
    answers = all_by_strips(problem, Watch())
    # two long ones on each of four dear sheets, and there six small ones beside them: that is all
    assert [answer.cost(problem) for answer in answers][:1] == [4 * 90.0]
    # cheap sheets full of small parts look better as long as a part counts by its area alone
    assert answers[-1].cost(problem) > 4 * 90.0
    assert by_strips(problem, Watch()) == answers[0]


def test_strips_take_no_more_sheets_than_corners_do():
    problem = problem_of(many(120))
    few, quick = by_strips(problem, Watch()), by_corners(problem)
    assert len(few.patterns) < len(quick.patterns)


@pytest.mark.parametrize("first", [ALONG, UPWARD])
def test_the_first_level_keeps_to_the_axis_that_the_saw_asks_for(first):
    problem = problem_of(many(20))
    problem = replace(problem, rules=replace(problem.rules, stages=3, first_axis=first))
    for pattern in by_strips(problem, Watch()).patterns:
        root = pattern.root
        depth = root.depth() + (root.axis not in {first, -1})  # a lone strip stands in a row of one
        assert depth <= 3


def test_a_perfect_sheet_is_found():
    """Four strips of 300 by hand: 2 x 600, 3 x 400, 1200, and a stack of 3 x 100 beside 900."""
    ways = [
        (400, 300, 0, 0),
        (600, 300, 1, 0),
        (300, 100, 2, 0),
        (900, 300, 3, 0),
        (1200, 300, 4, 0),
    ]
    ways = np.array(sorted(ways), np.int64).T.copy()
    values = np.array([400 * 300, 600 * 300, 300 * 100, 900 * 300, 1200 * 300], np.int64)
    left = np.array([3, 2, 3, 1, 1], np.int64)
    distinct, heights = np.unique(ways[0]), np.array([300], np.int64)
    most, last = kernel.all_stacks(ways, values, left, distinct, 1200)
    stacks = last, ways, distinct
    taken = np.zeros(5, np.int64)
    for _ in range(4):
        left_now = left - taken
        most, last = kernel.all_stacks(ways, values, left_now, distinct, 300)
        stacks = last, ways, distinct
        sides = np.array([1200, 40], np.int64)
        worth, uses, _ = kernel.all_strips(most, stacks, left_now, heights, sides)
        assert worth[0] == 1200 * 300
        taken += uses[0]
    assert taken.tolist() == left.tolist()


def test_no_part_is_used_more_often_than_there_are_copies():
    ways = np.array([[100, 100, 0, 0]], np.int64).T.copy()
    left, values = np.array([2], np.int64), np.array([7], np.int64)
    distinct = np.array([100], np.int64)
    most, last = kernel.all_stacks(ways, values, left, distinct, 500)
    assert most[0].max() == 14
    sides = np.array([500, 40], np.int64)
    worth, uses, _ = kernel.all_strips(most, (last, ways, distinct), left, distinct, sides)
    assert worth.tolist() == [14]
    total, chosen = kernel.best_strips(distinct, worth, uses, left, 500)
    assert (total, len(chosen)) == (14, 1)


SCRIPT = """
from tests.cutting.test_strips import many, STOCK
from stowright.cutting import lay_out
from stowright.cutting.effort import Effort
plan = lay_out(many(90), STOCK, effort=Effort(place=400_000, finish=100_000))
print(repr(plan))
"""


def test_other_processes_with_other_hashes_give_the_same_plan():
    """The sizes of sets and dicts do not decide: 90 kinds, 270 parts, a batch to the search."""
    prints = set()
    for seed in ("0", "4321"):
        run = subprocess.run(
            [sys.executable, "-c", SCRIPT],
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        )
        prints.add(hashlib.sha256(run.stdout.encode()).hexdigest())
    assert len(prints) == 1


def test_it_ends_early_with_nothing():
    assert by_strips(problem_of(many(30)), Watch(should_stop=lambda: True)) is None
