"""How much a set beats: volumes known by hand and counted by chance, and the few that keep most."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.explore.pareto import non_dominated
from stowright.explore.volume import hypervolume, most_volume, points_in


def test_hypervolumes_by_hand():
    # One point at (1, 1) under (3, 4): 2 x 3.
    assert hypervolume([(1.0, 1.0)], (3.0, 4.0)) == pytest.approx(6.0)
    # A staircase: 1 x 1 + 1 x 2 + 1 x 3, points (0, 2), (1, 1), (2, 0) under (3, 3).
    assert hypervolume([(0.0, 2.0), (1.0, 1.0), (2.0, 0.0)], (3.0, 3.0)) == pytest.approx(6.0)
    # Two boxes 1 x 2 x 2 and 2 x 1 x 2 that share 1 x 1 x 2.
    assert hypervolume([(1.0, 0.0, 0.0), (0.0, 1.0, 0.0)], (2.0, 2.0, 2.0)) == pytest.approx(6.0)
    assert hypervolume([(5.0, 5.0)], (3.0, 3.0)) == 0.0


@settings(max_examples=20, deadline=None)
@given(st.lists(st.tuples(*[st.floats(0.0, 1.0)] * 3), min_size=1, max_size=8), st.integers(0, 99))
def test_hypervolume_is_the_share_of_points_that_are_beaten(rows, seed):
    points = np.random.default_rng(seed).random((4000, 3))
    beaten = np.zeros(len(points), bool)
    for row in rows:
        beaten |= (points >= np.array(row)).all(axis=1)
    # 4000 throws: 3.5 standard deviations of a share of one half are 0.028.
    assert hypervolume(rows, (1.0, 1.0, 1.0)) == pytest.approx(beaten.mean(), abs=0.03)


@settings(max_examples=30, deadline=None)
@given(st.lists(st.tuples(*[st.integers(0, 5)] * 4), min_size=1, max_size=12))
def test_hypervolume_is_the_number_of_whole_cells_that_are_beaten(rows):
    cells = np.stack(np.meshgrid(*[np.arange(6)] * 4), axis=-1).reshape(-1, 4)
    beaten = np.zeros(len(cells), bool)
    for row in rows:
        beaten |= (cells >= np.array(row)).all(axis=1)
    assert hypervolume(rows, (6.0,) * 4) == pytest.approx(beaten.sum())


def test_points_are_spread_evenly():
    points = points_in(np.zeros(2), np.array([1.0, 2.0]), 1600)
    counts, _, _ = np.histogram2d(points[:, 0], points[:, 1], bins=4, range=((0, 1), (0, 2)))
    # a hundred in each of sixteen equal fields; by chance they would be off by ten and more
    assert abs(counts - 100).max() <= 5


@settings(max_examples=20, deadline=None)
@given(st.lists(st.tuples(*[st.integers(0, 9)] * 3), min_size=6, max_size=14, unique=True))
def test_the_few_that_are_kept_hold_nearly_as_much_as_any_few_can(rows):
    front = [rows[k] for k in non_dominated(rows)]
    few = min(3, len(front))
    limit = tuple(max(column) + 1.0 for column in zip(*front, strict=True))
    best = max(hypervolume(some, limit) for some in combinations(front, few))
    kept = hypervolume([front[k] for k in most_volume(front, few)], limit)
    # one after another: 1 - 1/e of the best, 0.63; less half a hundredth for counting by points
    assert kept >= 0.625 * best


@pytest.mark.parametrize(("apart", "second"), [((0.0, 0.0, 1.0), 2), ((0.0, 1.0, 0.0), 1)])
def test_of_those_that_add_as_much_the_one_that_differs_is_kept(apart, second):
    # the ends add 4 each beside the middle one
    rows = [(4.0, 4.0), (0.0, 9.0), (9.0, 0.0)]
    assert most_volume(rows, 2, apart=[(a,) for a in apart]) == (0, second)


def test_the_best_in_each_value_come_first_when_they_are_asked_for():
    rows = [(4.0, 4.0), (0.0, 9.0), (9.0, 0.0), (3.9, 4.2), (4.2, 3.9)]
    assert most_volume(rows, 3)[0] == 0
    assert most_volume(rows, 3, ends=2) == (1, 2, 0)
    assert most_volume(rows, 3, ends=1)[0] == 1


def test_only_so_many_of_a_kind_are_kept_beside_the_ends():
    # a staircase of one kind with most of the volume, and two of another kind in its corner
    rows = [(float(k), 9.0 - k) for k in range(8)] + [(8.2, 0.9), (8.4, 0.8)]
    kinds = ["shelf"] * 8 + ["drawer"] * 2
    few = most_volume(rows, 6, kinds=kinds, of_a_kind=3)
    assert sorted(kinds[k] for k in few) == ["drawer"] * 2 + ["shelf"] * 3
    assert sum(kinds[k] == "shelf" for k in most_volume(rows, 6)) > 3
    assert len(most_volume(rows[:8], 6, kinds=kinds[:8], of_a_kind=4)) == 4
