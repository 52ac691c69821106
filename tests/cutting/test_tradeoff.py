"""Few lines against a large offcut: the same stock, what was counted is what is laid."""

from collections import Counter
from dataclasses import replace
from itertools import pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.cutting.anneal_kernel import CHANCES, block_sizes, gather, put_block
from stowright.cutting.annealing import Run, Seen, annealed, unbeaten
from stowright.cutting.assemble import cut_layouts
from stowright.cutting.corners import by_corners
from stowright.cutting.effort import Watch
from stowright.cutting.intake import by_material
from stowright.cutting.kernel import AXIS, PART, ROOT, TYPE, both_gains, put_in
from stowright.cutting.problem import Pattern
from stowright.cutting.searching import Handy, measured
from stowright.cutting.slots import count_kinds
from stowright.cutting.states import read_back, set_up
from stowright.cutting.tradeoff import Wanted, chosen, handiest
from stowright.model.layout import CutPart, SawSettings, StockSheet

SAW = SawSettings(kerf=3, trim=10)
SHEET = (StockSheet(id="S", material="ply", length=1250, width=940),)
HANDY = Handy(keep_long=300 * 160, keep_short=100 * 160)
ROWS = st.lists(
    st.tuples(st.integers(10, 60), st.integers(8, 50), st.integers(1, 3), st.booleans()),
    min_size=2,
    max_size=6,
)


def material_of(rows, saw=SAW, stock=SHEET):
    job = tuple(
        CutPart(mark=f"P{n}", length=10 * a, width=10 * b, quantity=q, grain=g, material="ply")
        for n, (a, b, q, g) in enumerate(rows)
    )
    return by_material(job, stock, saw)[0]


def wanted_of(lines, **more):
    return Wanted(
        handy=HANDY, most_lines=lines, least_offcut=0, work=100_000, watch=Watch(**more), seed=0
    )


def parts_of(answer):
    return sum((count_kinds(pattern.root) for pattern in answer.patterns), Counter())


def largest_laid(material, answer, saw):
    layouts, _ = cut_layouts(material, answer, saw, 1)
    return max((o.along * o.across for la in layouts for o in la.offcuts if o.keep), default=0.0)


@given(ROWS, st.booleans())
@settings(max_examples=12, deadline=None)
def test_it_takes_no_more_lines_than_allowed_and_no_more_stock(rows, panel):
    saw = replace(SAW, method="panel" if panel else "hand")
    material = material_of(rows, saw)
    problem = material.problem
    start = by_corners(problem)
    allowed = start.lines(problem) + 2
    found = handiest(problem, [start], wanted_of(allowed))
    assert len(found.patterns) == len(start.patterns)
    assert parts_of(found) == parts_of(start)
    assert found.lines(problem) <= allowed
    layouts, left = cut_layouts(material, found, saw, 1)
    assert not left
    assert sum(la.copies * len(la.cuts) for la in layouts) == found.lines(problem)
    assert found == handiest(problem, [start], wanted_of(allowed))


@given(ROWS, st.booleans())
@settings(max_examples=12, deadline=None)
def test_what_a_front_says_of_its_layouts_is_true_of_them(rows, panel):
    problem = material_of(rows, replace(SAW, method="panel" if panel else "hand")).problem
    start = by_corners(problem)
    runs = [Run(start=start, offcut=8.0, seed=seed) for seed in range(2)]
    handy = replace(HANDY, setting=0.0)  # settings depend on which of a row's kids is last
    front = annealed(problem, runs, handy=handy, work=60_000, watch=Watch())
    assert front
    for seen in front:
        assert parts_of(seen.answer) == parts_of(start)
        assert seen.lines == seen.answer.lines(problem)
        count, offcut = measured(problem, seen.answer, handy)
        assert offcut == seen.offcut
        assert abs(count - seen.count) < 1e-9  # the same sum in another order
    for fewer, more in pairwise(front):
        assert more.lines >= fewer.lines
        assert more.offcut > fewer.offcut or more.count < fewer.count


@given(ROWS)
@settings(max_examples=20, deadline=None)
def test_an_offcut_is_laid_at_least_as_large_as_it_was_counted(rows):
    material = material_of(rows)
    answer = by_corners(material.problem)
    counted = measured(material.problem, answer, HANDY)[1] / 160**2
    # counted with the kerf beside it, once each way at most
    assert largest_laid(material, answer, SAW) >= counted - 3.0 * (1250 + 940)


def seen_of(lines, count, offcut):
    return Seen(lines, count, offcut, f"{lines}/{offcut}")


def test_of_few_lines_the_one_that_counts_least_with_nearly_the_largest_offcut():
    seen = [seen_of(10, 9.0, 50), seen_of(11, 9.5, 95), seen_of(12, 10.0, 100), seen_of(13, 1, 900)]
    assert chosen(seen, most_lines=12, least_offcut=0) == "11/95"
    assert chosen(seen, most_lines=12, least_offcut=96) == "12/100"
    assert chosen(seen, most_lines=12, least_offcut=500) == "11/95"
    assert chosen(seen, most_lines=10, least_offcut=60) == "10/50"
    assert chosen(seen, most_lines=3, least_offcut=0) == "10/50"


def test_what_is_beaten_by_fewer_lines_is_left_out():
    good, large, beaten = seen_of(10, 9.0, 50), seen_of(12, 11.0, 60), seen_of(12, 11.5, 40)
    assert unbeaten([beaten, large, good]) == [good, large]


def test_the_waste_of_two_sheets_is_gathered_on_one():
    # two sheets, one third empty each: five of the six could share a sheet with room to spare
    problem = material_of([(61, 45, 6, True)]).problem
    half = by_corners(replace(problem, kinds=(replace(problem.kinds[0], copies=3),)))
    start = replace(by_corners(problem), patterns=(Pattern(0, half.patterns[0].root),) * 2)
    found = handiest(problem, [start], wanted_of(start.lines(problem) + 4))
    assert measured(problem, found, HANDY)[1] > measured(problem, start, HANDY)[1]


def test_whoever_asked_can_stop_it():
    problem = material_of([(40, 30, 5, True)]).problem
    start = by_corners(problem)
    found = handiest(problem, [start], wanted_of(99, should_stop=lambda: True))
    assert found.lines(problem) == start.lines(problem)
    assert measured(problem, found, HANDY) == measured(problem, start, HANDY)


def test_chances_are_those_of_an_exponential_distribution():
    # its mean and its standard deviation are 1; in 1024 shares the long tail is cut a little
    assert abs(CHANCES.mean() - 1.0) < 0.001
    assert abs(CHANCES.std() - 1.0) < 0.01
    assert np.all(np.diff(CHANCES) < 0.0)


def test_parts_with_a_side_in_common_are_put_in_as_one_block():
    # 400 wide: two straight, one that has to turn; the fourth has no side of 400
    rows = [(50, 40, 2, True), (40, 30, 1, False), (20, 10, 1, False)]
    problem = material_of(rows).problem
    bare = replace(by_corners(problem), patterns=(), missing=((0, 2), (1, 1), (2, 1)))
    desk = set_up(problem, bare, [1.0], 1)
    state, parts, flips = desk.best, desk.task.parts, np.zeros(9, np.int64)
    many = gather(state.pool, parts, (0, 4), 0, flips)
    assert (many, list(flips[:3])) == (3, [0, 0, 1])
    along, across, turns = block_sizes(state.pool, parts, (0, many, 0), flips)
    assert (along, across, turns) == (sum(s + 3 for s in (500, 500, 300)) * 160, 403 * 160, 0)
    state.bins[TYPE, 0] = 0
    put_block(state, desk.task, (0, many, 0), flips, np.array([-1, 0, 0, 0, 0]))
    (pattern,) = read_back(desk, problem, "block").patterns
    assert (pattern.root.w, pattern.root.h) == (along, across)
    assert [leaf.turned for leaf in pattern.root.leaves()] == [False, False, True]


def test_a_part_as_narrow_as_another_of_its_row_is_trimmed_with_it():
    problem = material_of([(40, 50, 1, True), (30, 20, 2, True)]).problem
    bare = replace(by_corners(problem), patterns=(), missing=((0, 1), (1, 2)))
    desk = set_up(problem, bare, [1.0], 1)
    state, sheet = desk.best, (desk.task.stock[0, 0], desk.task.stock[1, 0])
    state.bins[TYPE, 0] = 0
    put_in(state, desk.task, 0, np.array([-1, 0, 0, 0, 0]))
    part = tuple(int(desk.task.parts[row, 1]) for row in range(3))
    put_in(state, desk.task, 1, np.array([state.bins[ROOT, 0], 0, 1, 0, 0]))
    row = int(state.bins[ROOT, 0])
    assert state.tree[AXIS, row] == 0
    assert state.tree[AXIS, 0] == PART
    line = 5.0
    alone = both_gains(state.tree, row, 0, sheet, part, (1e-6, line, 0.0))[0]
    together = both_gains(state.tree, row, 0, sheet, part, (1e-6, line, line))[0]
    assert together - alone == line
