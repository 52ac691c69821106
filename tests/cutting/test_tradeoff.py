"""A place for the offcut set apart: the same stock, few lines, and as large as it was counted."""

from collections import Counter
from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.cutting.assemble import cut_layouts
from stowright.cutting.corners import by_corners
from stowright.cutting.effort import Watch
from stowright.cutting.handiness import LARGEST, LINES, handiness
from stowright.cutting.intake import by_material
from stowright.cutting.problem import Pattern
from stowright.cutting.searching import Handy, measured, settled
from stowright.cutting.slots import count_kinds
from stowright.cutting.states import set_up
from stowright.cutting.tradeoff import Wanted, with_offcut
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
        handy=HANDY,
        most_lines=lines,
        most_with_one_more=0,
        least_offcut=0,
        work=200_000,
        watch=Watch(**more),
        seed=0,
    )


def parts_of(answer):
    return sum((count_kinds(pattern.root) for pattern in answer.patterns), Counter())


def largest_laid(material, answer, saw):
    layouts, _ = cut_layouts(material, answer, saw, 1)
    return max((o.along * o.across for la in layouts for o in la.offcuts if o.keep), default=0.0)


@given(ROWS, st.booleans())
@settings(max_examples=12, deadline=None)
def test_the_offcut_costs_no_more_lines_than_allowed_and_no_stock(rows, panel):
    saw = replace(SAW, method="panel" if panel else "hand")
    material = material_of(rows, saw)
    problem = material.problem
    start = by_corners(problem)
    allowed = start.lines(problem) + 2
    found = with_offcut(problem, [start], wanted_of(allowed))
    assert len(found.patterns) == len(start.patterns)
    assert parts_of(found) == parts_of(start)
    assert found.lines(problem) <= allowed
    double = replace(HANDY, offcut=2.0 * HANDY.offcut)  # what it counts for among few lines
    assert measured(problem, found, double)[0] <= measured(problem, start, double)[0]
    layouts, left = cut_layouts(material, found, saw, 1)
    assert not left
    assert sum(la.copies * len(la.cuts) for la in layouts) == found.lines(problem)


@given(ROWS)
@settings(max_examples=20, deadline=None)
def test_an_offcut_is_laid_at_least_as_large_as_it_was_counted(rows):
    material = material_of(rows)
    answer = by_corners(material.problem)
    counted = measured(material.problem, answer, HANDY)[1] / 160**2
    # counted with the kerf beside it, once each way at most
    assert largest_laid(material, answer, SAW) >= counted - 3.0 * (1250 + 940)


def test_what_is_left_whole_beside_a_bin_takes_no_line_of_its_own():
    problem = material_of([(40, 30, 5, True)]).problem
    answer = by_corners(problem)
    sheet = problem.bins[0]
    strip = 200 * 160
    less = replace(sheet, w=sheet.w - strip, beyond_w=strip)
    own = replace(problem, bins=(less,))
    assert answer.lines(own) == answer.lines(problem)
    sums = []
    for each in (problem, own):
        desk = set_up(each, answer, [1.0], 1)
        sums.append(np.zeros(4))
        handiness(desk.best, desk.task, sums[-1])
    assert sums[0][LINES] == sums[1][LINES]
    assert sums[0][LARGEST] == sums[1][LARGEST]


def test_what_does_not_fit_beside_the_place_set_apart_is_not_laid():
    problem = material_of([(60, 40, 4, True)]).problem
    start = by_corners(problem)
    missing = tuple(sorted(count_kinds(start.patterns[0].root).items()))
    sheet = problem.bins[0]
    narrow = replace(sheet, h=sheet.h // 3, beyond_h=sheet.h - sheet.h // 3, copies=1)
    own = replace(problem, bins=(narrow,))
    nothing = replace(start, patterns=(), missing=missing)
    assert settled(own, nothing, handy=HANDY, work=(100_000, 100_000), seed=0) is None


def test_a_strip_set_apart_gathers_the_waste_of_two_sheets_on_one():
    # two sheets, one third empty each: five of the six could share a sheet with room to spare
    material = material_of([(61, 45, 6, True)])
    problem = material.problem
    full = by_corners(problem)
    assert len(full.patterns) == 2
    kind = [leaf for pattern in full.patterns for leaf in pattern.root.leaves()]
    halves = [by_corners(replace(problem, kinds=(replace(problem.kinds[0], copies=3),)))] * 2
    start = replace(full, patterns=tuple(Pattern(0, half.patterns[0].root) for half in halves))
    assert len(kind) == 6
    found = with_offcut(problem, [start], wanted_of(start.lines(problem) + 4))
    assert measured(problem, found, HANDY)[1] > measured(problem, start, HANDY)[1]


def test_whoever_asked_can_stop_it():
    problem = material_of([(40, 30, 5, True)]).problem
    start = by_corners(problem)
    stopped = wanted_of(99, should_stop=lambda: True)
    assert with_offcut(problem, [start], stopped).patterns == start.patterns
