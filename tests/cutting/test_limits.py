"""What ends a search early, what a shop's own limits do, and the order of cuts."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.cutting import lay_out
from stowright.cutting.effort import Effort
from stowright.model.layout import CutPart, SawSettings, StockSheet

SHORT = Effort(place=100_000, finish=100_000)
STOCK = (StockSheet(id="S", material="ply", length=2440, width=1220, mass=37.5),)


def test_a_time_limit_ends_the_search_and_the_plan_says_so(parts, stock, saw):
    plan = lay_out(parts, stock, saw, effort="long", time_limit_s=0.0)
    assert all(result.stopped for result in plan.materials)
    assert all(layout.pieces for layout in plan.layouts)


def test_without_a_limit_nothing_is_said_to_be_stopped(parts, stock, saw):
    plan = lay_out(parts, stock, saw, effort=SHORT)
    assert not any(result.stopped for result in plan.materials)


@given(
    st.lists(
        st.tuples(st.integers(80, 1100), st.integers(60, 560), st.integers(1, 3), st.booleans()),
        min_size=2,
        max_size=6,
    ),
    st.floats(10.0, 40.0),
)
@settings(max_examples=25)
def test_nothing_too_heavy_is_cut_to_size_while_it_could_be_broken_up(rows, carry):
    job = tuple(
        CutPart(mark=f"P{n}", length=a, width=b, quantity=q, grain=g, material="ply")
        for n, (a, b, q, g) in enumerate(rows)
    )
    plan = lay_out(job, STOCK, SawSettings(carry=carry), effort=SHORT)
    for layout in plan.layouts:
        breaks = [cut.kind == "break" for cut in layout.cuts]
        assert breaks == sorted(breaks, reverse=True)  # all of them come first
        for cut in layout.cuts:
            held = (cut.end - cut.start) * sum(
                leaf.along if cut.axis == "x" else leaf.across for leaf in cut.leaves
            )
            if cut.kind != "break":  # what is in hand, a kerf apart, weighs no more than allowed
                assert held / 1e6 * 37.5 / (2.44 * 1.22) <= carry + 1e-6


def test_edges_come_off_before_the_first_cut_that_is_measured_from_them(parts, stock, saw):
    plan = lay_out(parts, stock, saw, effort=SHORT)
    for layout in plan.layouts:
        first = next((c.order for c in layout.cuts if c.kind != "break"), 0)
        assert {trim.edge for trim in layout.trims} == {"left", "right", "bottom", "top"}
        assert all(trim.before == 0 or trim.before >= first for trim in layout.trims)


def test_each_cut_is_numbered_has_a_setting_and_tells_what_it_leaves(parts, stock, saw):
    plan = lay_out(parts, stock, saw, effort=SHORT)
    grouped = {entry for group in plan.setting_groups for entry in group.cuts}
    for layout in plan.layouts:
        assert [cut.order for cut in layout.cuts] == list(range(1, len(layout.cuts) + 1))
        for cut in layout.cuts:
            assert cut.setting > 0.0
            assert cut.leaves
            assert (layout.number, cut.order) in grouped


@pytest.mark.parametrize("least", [(300.0, 100.0), (600.0, 400.0)])
def test_only_offcuts_of_the_shop_s_least_sizes_are_kept_and_named(parts, stock, saw, least):
    shop = replace(saw, keep_length=least[0], keep_width=least[1])
    plan = lay_out(parts, stock, shop, effort=SHORT)
    for layout in plan.layouts:
        for offcut in layout.offcuts:
            sides = sorted((offcut.along, offcut.across))
            assert offcut.keep == (sides[0] >= least[1] and sides[1] >= least[0])
            assert bool(offcut.name) == offcut.keep
