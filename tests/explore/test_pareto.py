"""What no other beats, checked against a general library.

The library is paretoset (MIT), which sorts into fronts and finds the first one.
"""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from paretoset import paretorank, paretoset

from stowright.explore.pareto import beats, non_dominated, ranks, spread

ROWS = st.integers(2, 5).flatmap(
    lambda wide: st.lists(st.tuples(*[st.integers(0, 6)] * wide), min_size=1, max_size=40)
)


@settings(max_examples=80, deadline=None)
@given(ROWS)
def test_the_first_front_is_that_of_a_general_library(rows):
    mine = {rows[k] for k in non_dominated(rows)}
    theirs = paretoset(np.array(rows, dtype=float), sense=["min"] * len(rows[0]), distinct=True)
    assert mine == {row for row, kept in zip(rows, theirs, strict=True) if kept}
    assert len(non_dominated(rows)) == len(mine)


@settings(max_examples=60, deadline=None)
@given(ROWS)
def test_fronts_are_those_of_a_general_library(rows):
    theirs = paretorank(np.array(rows, dtype=float), sense=["min"] * len(rows[0]), distinct=False)
    assert list(ranks(rows)) == [int(rank) for rank in theirs]


@settings(max_examples=40, deadline=None)
@given(ROWS)
def test_what_is_kept_beats_all_the_rest(rows):
    kept = non_dominated(rows)
    for i, row in enumerate(rows):
        if i not in kept:
            assert any(beats(rows[k], row) or rows[k] == row for k in kept)


def test_a_spread_holds_the_best_of_each_and_what_lies_between():
    rows = [(0.0, 10.0), (0.1, 9.9), (5.0, 5.0), (5.1, 4.9), (10.0, 0.0)]
    assert set(spread(rows, 3)) in ({0, 2, 4}, {0, 3, 4})
    assert spread(rows, 9) == (0, 1, 2, 3, 4)
