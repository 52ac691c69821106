"""The search: never dearer, the same every time, within the saw's rules, compiled or not."""

import os
import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.cutting import lay_out
from stowright.cutting.assemble import cut_layouts
from stowright.cutting.corners import by_corners
from stowright.cutting.effort import EFFORTS, Effort
from stowright.cutting.handiness import LINES, handiness
from stowright.cutting.intake import by_material
from stowright.cutting.panel import crosscuts_first, lowered
from stowright.cutting.problem import Bin, Kind, Pattern, Problem, Rules, Solution
from stowright.cutting.slots import ALONG, UPWARD, join, leaf
from stowright.cutting.solver import by_packingsolver
from stowright.cutting.states import set_up
from stowright.model.layout import CutPart, SawSettings, StockSheet

SHORT = Effort(place=1_000_000, finish=2_000_000)


def test_the_search_takes_no_more_sheets_and_fewer_saw_lines(parts, stock, saw):
    first = lay_out(parts, stock, saw, effort="first")
    searched = lay_out(parts, stock, saw, effort=SHORT)
    assert searched.sheets <= first.sheets
    assert searched.saw_lines < first.saw_lines


def test_two_runs_give_the_same_plan(parts, stock, saw):
    assert lay_out(parts, stock, saw, effort=SHORT) == lay_out(parts, stock, saw, effort=SHORT)


def test_a_panel_saw_rips_before_it_crosscuts(parts, stock, saw):
    plan = lay_out(parts, stock, replace(saw, method="panel"), effort=SHORT)
    for layout in plan.layouts:
        assert layout.cuts[0].axis == "y" or all(cut.axis == "x" for cut in layout.cuts)


def test_a_panel_saw_rips_first_even_where_a_stack_is_exactly_as_high_as_the_sheet(stock):
    # 2 x 598.5 and a kerf of 3 are the 1200 that the trim leaves: a lone strip of stacks
    rows = [CutPart(mark="A", length=1000, width=598.5, quantity=3, grain=True, material="ply-15")]
    rows.append(CutPart(mark="B", length=300, width=590, quantity=2, grain=True, material="ply-15"))
    whole = replace(stock[0], id="W", material="ply-15", length=2440, width=1220, copies=None)
    saw = SawSettings(kerf=3, trim=10, method="panel")
    for layout in lay_out(rows, (whole,), saw, effort=SHORT).layouts:
        assert layout.cuts[0].axis == "y" or all(cut.axis == "x" for cut in layout.cuts)
    # a part as high as the sheet leaves no other way
    rows.append(CutPart(mark="C", length=400, width=1200, grain=True, material="ply-15"))
    assert lay_out(rows, (whole,), saw, effort=SHORT).sheets >= 1


def test_a_lone_strip_as_high_as_the_sheet_is_told_and_lower_sheets_have_none():
    kinds = (Kind(length=9, width=4, copies=2, turnable=False),)
    rules = Rules(kerf=2, stages=3, first_axis=UPWARD)
    problem = Problem(
        kinds=kinds, bins=(Bin(w=30, h=10, copies=None, cost=1.0, sheet=0),), rules=rules
    )
    stack = join(UPWARD, [leaf(0, 11, 6, turned=False) for _ in range(2)])
    strip = join(ALONG, [stack, stack])
    answer = Solution(patterns=(Pattern(0, strip),), found_by="test")
    assert crosscuts_first(problem, answer)
    assert not crosscuts_first(lowered(problem), answer)
    assert lowered(problem).bins[0].h == 9
    high = replace(problem, kinds=(replace(kinds[0], width=10),))
    assert lowered(high) == high


def test_several_stock_sizes_cost_no_more_than_one(parts, stock, saw):
    small = StockSheet(id="S15s", material="ply-15", length=1220, width=1220)
    one = lay_out(parts, stock, saw, effort=SHORT)
    both = lay_out(parts, (*stock, small), saw, effort=SHORT)
    assert sum(m.cost for m in both.materials) <= sum(m.cost for m in one.materials) + 1e-9


def test_whoever_asked_can_stop_the_search_and_the_plan_says_so(parts, stock, saw):
    plan = lay_out(parts, stock, saw, effort="long", should_stop=lambda: True)
    assert all(result.stopped for result in plan.materials)


@pytest.mark.parametrize("name", sorted(EFFORTS))
def test_every_named_effort_is_a_budget(name):
    assert EFFORTS[name].place >= 0


PLAIN = """
from stowright.cutting import lay_out
from stowright.cutting.effort import Effort
from stowright.model.layout import CutPart, SawSettings, StockSheet

sizes = [(760, 390, 4, True), (890, 390, 3, False), (1200, 90, 5, True), (455, 180, 8, False)]
parts = [
    CutPart(mark=f"P{n}", length=a, width=b, quantity=q, material="ply", grain=g)
    for n, (a, b, q, g) in enumerate(sizes)
]
stock = [StockSheet(id="S", material="ply", length=1525, width=1525)]
effort = Effort(place=30_000, finish=30_000)
print(lay_out(parts, stock, SawSettings(kerf=3.2, trim=10), effort=effort))
"""


def test_plain_python_finds_the_same_plan_as_compiled_code():
    found = [
        subprocess.run(
            [sys.executable, "-c", PLAIN],
            capture_output=True,
            text=True,
            check=True,
            env=os.environ | {"NUMBA_DISABLE_JIT": without},
        ).stdout
        for without in ("1", "0")
    ]
    assert found[0]
    assert found[0] == found[1]


@given(
    st.lists(
        st.tuples(st.integers(60, 900), st.integers(40, 500), st.integers(1, 4), st.booleans()),
        min_size=1,
        max_size=8,
    )
)
@settings(max_examples=25)
def test_no_job_takes_more_sheets_than_the_solver_alone(rows):
    job = tuple(
        CutPart(mark=f"P{n}", length=a, width=b, quantity=q, grain=g, material="ply")
        for n, (a, b, q, g) in enumerate(rows)
    )
    sheet = (StockSheet(id="S", material="ply", length=1250, width=940),)
    saw = SawSettings(kerf=3, trim=10)
    plan = lay_out(job, sheet, saw, effort=Effort(place=100_000, finish=100_000))
    alone = by_packingsolver(by_material(job, sheet, saw)[0].problem)
    assert plan.sheets <= len(alone.patterns)
    assert plan == lay_out(job, sheet, saw, effort=Effort(place=100_000, finish=100_000))


ROWS = st.lists(
    st.tuples(st.integers(6, 90), st.integers(4, 50), st.integers(1, 4), st.booleans()),
    min_size=1,
    max_size=6,
)


@given(ROWS, st.booleans(), st.integers(0, 3))
@settings(max_examples=40)
def test_lines_are_counted_alike_by_the_search_by_the_trees_and_by_the_saw(rows, panel, kerf):
    job = tuple(
        CutPart(mark=f"P{n}", length=10 * a, width=10 * b, quantity=q, grain=g, material="ply")
        for n, (a, b, q, g) in enumerate(rows)
    )
    sheet = (StockSheet(id="S", material="ply", length=1250, width=940),)
    saw = SawSettings(kerf=kerf, trim=10, method="panel" if panel else "hand")
    material = by_material(job, sheet, saw)[0]
    answer = by_corners(material.problem)
    desk = set_up(material.problem, answer, [1.0], 1)
    sums = np.zeros(4)
    handiness(desk.best, desk.task, sums)
    layouts, _ = cut_layouts(material, answer, saw, 1)
    sawn = sum(layout.copies * len(layout.cuts) for layout in layouts)
    assert sawn == answer.lines(material.problem) == int(sums[LINES])


def test_equally_narrow_neighbours_are_trimmed_by_one_line():
    # beside the wide one three narrow ones: part them off together, trim once, cut twice
    job = (
        CutPart(mark="W", length=300, width=500, grain=True, material="ply"),
        CutPart(mark="N", length=200, width=400, quantity=3, grain=True, material="ply"),
    )
    sheet = (StockSheet(id="S", material="ply", length=909, width=500),)
    plan = lay_out(job, sheet, SawSettings(kerf=3, trim=0), effort=SHORT)
    assert plan.saw_lines == 4
