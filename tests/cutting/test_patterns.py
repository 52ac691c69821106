"""Bounds from whole sheets and the pool: never above a layout, never worse than what was there."""

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.cutting.bounds import lower_bounds, stock_sizes
from stowright.cutting.corners import by_corners
from stowright.cutting.effort import Effort, Watch
from stowright.cutting.exact import SingleSheet
from stowright.cutting.patterns import fewest_of, pooled
from stowright.cutting.portfolio import Search, least_stock
from stowright.cutting.problem import Bin, Kind, Problem, Rules
from stowright.cutting.scarce import ScarceSheet
from stowright.cutting.searching import Handy
from stowright.cutting.slots import count_kinds

SEARCH = Search(
    material="ply", effort=Effort(place=300_000, finish=0), handy=Handy(), watch=Watch()
)


@st.composite
def problems(draw, most=5):
    kinds = tuple(
        Kind(
            length=draw(st.integers(12, 90)),
            width=draw(st.integers(8, 60)),
            copies=draw(st.integers(1, 3)),
            turnable=draw(st.booleans()),
        )
        for _ in range(draw(st.integers(2, most)))
    )
    bin_ = Bin(w=100, h=70, copies=None, cost=1.0, sheet=0)
    return Problem(kinds=kinds, bins=(bin_,), rules=Rules(kerf=draw(st.integers(0, 3))))


@given(problems())
@settings(max_examples=50)
def test_the_bound_is_never_above_a_layout_and_the_pool_never_makes_it_worse(problem):
    found, _ = least_stock(
        problem, lower_bounds(problem.kinds, stock_sizes(problem), problem.rules), SEARCH
    )
    start = by_corners(problem)
    pool = pooled(problem, start, work=16_000_000, watch=Watch())
    assert pool.sheets <= len(found.patterns)
    better = fewest_of(problem, pool.roots, start)
    assert pool.sheets <= len(better.patterns) <= len(start.patterns)
    laid = sum((count_kinds(p.root) for p in better.patterns), start=Counter())
    assert [laid[k] for k in range(len(problem.kinds))] == [k.copies for k in problem.kinds]


@given(problems(most=3))
@settings(max_examples=40)
def test_one_sheet_cut_exactly_holds_what_any_layout_of_one_sheet_holds(problem):
    areas = [kind.length * kind.width for kind in problem.kinds]
    bin_ = problem.bins[0]
    best, root = SingleSheet.of(problem.kinds, bin_.w, bin_.h, problem.rules.kerf).best(areas)
    for pattern in by_corners(problem).patterns:
        assert best >= sum(areas[k] * n for k, n in count_kinds(pattern.root).items())
    assert best == sum(areas[k] * n for k, n in count_kinds(root).items())


@given(problems(), st.data())
@settings(max_examples=40)
def test_copies_that_are_counted_are_not_exceeded_and_many_make_no_difference(problem, data):
    bin_, kinds = problem.bins[0], problem.kinds
    values = [data.draw(st.integers(0, 9)) * kind.length * kind.width for kind in kinds]
    sheet = SingleSheet.of(kinds, bin_.w, bin_.h, problem.rules.kerf)
    copies = tuple((k, kinds[k].copies) for k in range(min(2, len(kinds))))
    most, root = ScarceSheet(sheet, copies).best(values)
    held = Counter() if root is None else count_kinds(root)
    assert most == sum(values[kind] * count for kind, count in held.items())
    assert all(held[kind] <= count for kind, count in copies)
    assert most <= sheet.best(values)[0]
    assert ScarceSheet(sheet, ((0, 40),)).best(values)[0] == sheet.best(values)[0]


def test_a_part_that_is_there_once_is_not_counted_three_times():
    # at most two long parts lie in a sheet's middle, or one and two of the middle ones, or four
    # of these: 11 / 2 + 3 / 4 sheets. With the lone low one as often as liked it would be 6.00
    rows = [(1086, 426, 3), (1044, 344, 4), (1764, 380, 1), (1983, 477, 4), (1910, 420, 6)]
    kinds = tuple(Kind(length=a, width=b, copies=c, turnable=False) for a, b, c in rows)
    bin_ = Bin(w=2420, h=1200, copies=None, cost=1.0, sheet=0)
    problem = Problem(kinds=kinds, bins=(bin_,), rules=Rules(kerf=3))
    start = by_corners(problem)
    assert pooled(problem, start, work=400_000_000, watch=Watch()).sheets == 7
