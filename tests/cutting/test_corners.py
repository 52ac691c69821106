"""The answer at once: whole, within the rules of the saw, from the sheets that there are."""

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.cutting.corners import by_corners
from stowright.cutting.problem import Bin, Kind, Problem, Rules
from stowright.cutting.slots import UPWARD, count_kinds


@st.composite
def problems(draw):
    kinds = tuple(
        Kind(
            length=draw(st.integers(3, 90)),
            width=draw(st.integers(3, 60)),
            copies=draw(st.integers(1, 9)),
            turnable=draw(st.booleans()),
        )
        for _ in range(draw(st.integers(1, 6)))
    )
    small = Bin(w=70, h=70, copies=draw(st.integers(1, 2)), cost=0.0, sheet=0)
    large = Bin(w=100, h=70, copies=None, cost=1.0, sheet=1)
    panel = draw(st.booleans())
    rules = Rules(kerf=1, stages=3 if panel else None, first_axis=UPWARD if panel else None)
    return Problem(kinds=kinds, bins=(small, large), rules=rules)


@given(problems())
@settings(max_examples=60)
def test_every_part_is_laid_once_on_the_sheets_that_there_are(problem):
    answer = by_corners(problem)
    laid = sum((count_kinds(p.root) for p in answer.patterns), start=Counter())
    assert [laid[k] for k in range(len(problem.kinds))] == [k.copies for k in problem.kinds]
    assert not answer.missing
    assert sum(p.bin == 0 for p in answer.patterns) <= problem.bins[0].copies
    for pattern in answer.patterns:
        bin_ = problem.bins[pattern.bin]
        assert pattern.root.w <= bin_.w + 1
        assert pattern.root.h <= bin_.h + 1
        if problem.rules.stages:
            levels = pattern.root.depth() + (pattern.root.axis not in {UPWARD, -1})
            assert levels <= problem.rules.stages
