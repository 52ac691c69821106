"""One sheet cut anew: never more lines, the same parts, and as few as trying everything finds."""

from collections import Counter
from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.cutting.corners import by_corners
from stowright.cutting.problem import Bin, Kind, Problem, Rules
from stowright.cutting.recut import fewest_lines, recut
from stowright.cutting.slots import count_kinds, count_lines, join, leaf

SIDES = (60, 45)


def problem_of(rows):
    kinds = tuple(Kind(length=a, width=b, copies=q, turnable=t) for a, b, q, t in rows)
    bin_ = Bin(w=SIDES[0], h=SIDES[1], copies=None, cost=1.0, sheet=0)
    return Problem(kinds=kinds, bins=(bin_,), rules=Rules(kerf=0))


ROWS = st.lists(
    st.tuples(st.integers(5, 40), st.integers(5, 30), st.integers(1, 2), st.booleans()),
    min_size=1,
    max_size=4,
)


@given(ROWS)
@settings(max_examples=50)
def test_no_sheet_gets_more_lines_or_other_parts(rows):
    problem = problem_of(rows)
    answer = by_corners(problem)
    again = recut(problem, answer)
    for before, after in zip(answer.patterns, again.patterns, strict=True):
        assert count_kinds(after.root) == count_kinds(before.root)
        assert count_lines(after.root, *SIDES) <= count_lines(before.root, *SIDES)
        assert after.root.w <= SIDES[0]
        assert after.root.h <= SIDES[1]


def every_tree(parts):
    """Yield every layout of a few different parts, rows of two at a time."""
    if len(parts) == 1:
        kind, length, width, turnable = parts[0]
        yield leaf(kind, length, width, turned=False)
        if turnable:
            yield leaf(kind, width, length, turned=True)
        return
    for mask in range(1, 2 ** (len(parts) - 1)):
        one = [p for n, p in enumerate(parts) if mask >> n & 1]
        other = [p for n, p in enumerate(parts) if not mask >> n & 1]
        for a, b, axis in product(list(every_tree(one)), list(every_tree(other)), (0, 1)):
            yield join(axis, [a, b])


@given(
    st.lists(
        st.tuples(st.integers(5, 40), st.integers(5, 30), st.booleans()), min_size=2, max_size=4
    )
)
@settings(max_examples=30)
def test_it_finds_as_few_lines_as_trying_everything(rows):
    problem = problem_of([(a, b, 1, t) for a, b, t in rows])
    parts = [(n, a, b, t) for n, (a, b, t) in enumerate(rows)]
    fitting = [t for t in every_tree(parts) if t.w <= SIDES[0] and t.h <= SIDES[1]]
    found = fewest_lines(problem, Counter(range(len(rows))), SIDES)
    if not fitting:
        assert found is None
        return
    assert count_lines(found, *SIDES) == min(count_lines(t, *SIDES) for t in fitting)
