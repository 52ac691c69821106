"""Layouts for a router: the cutter passes, clamps hold, and the checkers refuse slips."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.cutting import check_plan, lay_out, planning, routed
from stowright.cutting.effort import Effort
from stowright.cutting.empty import largest_empty
from stowright.cutting.free import by_free_rectangles
from stowright.cutting.intake import by_material
from stowright.cutting.rectangles import check_by_rectangles
from stowright.cutting.routed_check import check_by_sweep
from stowright.errors import CuttingError
from stowright.model.layout import CutPart, SawSettings, StockSheet

UNIT = 1 / 160  # mm
ROUTER = SawSettings(method="cnc", kerf=8, trim=15)
STOCK = (StockSheet(id="S", material="ply", length=1200, width=800),)
SHORT = Effort(place=200_000, finish=100_000)


def part(mark, length, width, quantity=1, *, grain=False):
    return CutPart(
        mark=mark, length=length, width=width, quantity=quantity, grain=grain, material="ply"
    )


PARTS = (part("A", 500, 300, 3), part("B", 420, 180, 2, grain=True), part("C", 90, 60, 4))


@pytest.fixture
def layout():
    return lay_out(PARTS, STOCK, ROUTER, effort=SHORT).layouts[0]


def broken(layout, index, **changes):
    pieces = list(layout.pieces)
    pieces[index] = replace(pieces[index], **changes)
    return replace(layout, pieces=tuple(pieces))


def test_a_pinwheel_that_no_saw_could_cut_takes_one_sheet():
    # four parts around a square hole: 500 + 8 + 262 = 770 both ways round
    parts = (part("A", 500, 262, 4),)
    stock = (StockSheet(id="S", material="ply", length=800, width=800),)
    sawn = lay_out(parts, stock, replace(ROUTER, method="hand"), effort=SHORT)
    routed = lay_out(parts, stock, ROUTER, effort=SHORT)
    check_plan(routed, parts, stock)
    assert (sawn.sheets, routed.sheets) == (2, 1)
    assert routed.saw_lines == 0
    assert routed.layouts[0].tree is None


@given(
    st.lists(
        st.tuples(st.integers(30, 700), st.integers(30, 500), st.integers(1, 3), st.booleans()),
        min_size=1,
        max_size=6,
    )
)
@settings(max_examples=25)
def test_both_checkers_pass_what_is_made_and_the_areas_add_up(rows):
    parts = tuple(part(f"P{n}", a, b, q, grain=g) for n, (a, b, q, g) in enumerate(rows))
    plan = lay_out(parts, STOCK, ROUTER, effort=SHORT)
    check_plan(plan, parts, STOCK)
    areas = plan.part_area + plan.kerf_area + plan.trim_area + plan.offcut_area + plan.scrap_area
    assert areas == pytest.approx(plan.sheets * 1.2 * 0.8, abs=1e-5)  # rounded to 1 mm2 each
    assert min(plan.kerf_area, plan.scrap_area) >= 0


@pytest.mark.parametrize("check", [check_by_sweep, check_by_rectangles])
def test_a_piece_moved_by_one_unit_towards_its_neighbour_is_refused(check):
    parts = (part("A", 581, 770, 2),)
    (layout,) = lay_out(parts, STOCK, ROUTER, effort=SHORT).layouts  # 2 x 581 + 8 fill the sheet
    check(layout, parts, STOCK[0])
    first = min(range(2), key=lambda n: layout.pieces[n].x)
    with pytest.raises(CuttingError):
        check(broken(layout, first, x=layout.pieces[first].x + UNIT), parts, STOCK[0])


@pytest.mark.parametrize("check", [check_by_sweep, check_by_rectangles])
@pytest.mark.parametrize("change", [{"x": 15 - UNIT}, {"mark": "Z"}, {"along": 77.0}])
def test_a_piece_in_the_margin_unknown_or_of_another_size_is_refused(layout, check, change):
    with pytest.raises(CuttingError):
        check(broken(layout, 0, **change), PARTS, STOCK[0])


@pytest.mark.parametrize("check", [check_by_sweep, check_by_rectangles])
def test_a_piece_turned_against_its_grain_is_refused(layout, check):
    index = next(n for n, piece in enumerate(layout.pieces) if piece.mark == "B")
    piece = layout.pieces[index]
    turned = {"along": piece.across, "across": piece.along, "turned": True}
    with pytest.raises(CuttingError, match="grain"):
        check(broken(layout, index, **turned), PARTS, STOCK[0])


def test_the_largest_empty_rectangle_is_found_and_keeps_its_distance():
    sheet = (0, 0, 100, 60)
    found = largest_empty([sheet], [(0, 0, 30, 60)], gap=4, least=(10, 10), most=3)
    assert found == [(34, 0, 66, 60)]
    found = largest_empty([sheet], [(40, 20, 10, 10)], gap=2, least=(5, 5), most=1)
    assert found == [(52, 0, 48, 60)]  # 2880, more than the 2800 below, 3600 wide is not clear


def test_a_router_is_held_to_no_bound_for_edge_to_edge_cuts():
    parts = (part("A", 500, 262, 4),)
    stock = (StockSheet(id="S", material="ply", length=800, width=800),)
    plan = lay_out(parts, stock, ROUTER)
    assert (plan.sheets, plan.lower_bound) == (1, 1)
    assert plan.proved_least


def test_free_rectangles_are_not_asked_for_where_no_layout_can_take_less(monkeypatch):
    asked = []

    def free(problem):
        asked.append(problem)
        return by_free_rectangles(problem)

    monkeypatch.setattr(routed, "by_free_rectangles", free)
    small = StockSheet(id="T", material="ply", length=700, width=800)
    for stock in (STOCK, (*STOCK, small)):
        plan = lay_out((part("A", 500, 300),), stock, ROUTER, effort=SHORT)
        assert plan.sheets == 1
        assert not asked
    pinwheel = (part("A", 500, 262, 4),)
    lay_out(pinwheel, (replace(STOCK[0], length=800),), ROUTER, effort=SHORT)
    assert len(asked) == 1


def test_a_pinwheel_is_found_on_stock_of_two_sizes():
    small = StockSheet(id="T", material="ply", length=800, width=800)
    plan = lay_out((part("A", 500, 262, 4),), (*STOCK, small), ROUTER, effort=SHORT)
    assert [layout.sheet for layout in plan.layouts] == ["T"]


def test_limited_stock_that_only_free_parts_fit_on_is_enough_for_a_router():
    pinwheel, one = (part("A", 500, 262, 4),), replace(STOCK[0], length=800, width=800, copies=1)
    plan = lay_out(pinwheel, (one,), ROUTER, effort=SHORT)
    assert (plan.sheets, plan.unplaced) == (1, ())
    with pytest.raises(CuttingError, match="does not reach"):
        lay_out(pinwheel, (one,), replace(ROUTER, method="hand"), effort=SHORT)


def test_a_router_looks_for_the_offcut_and_not_for_fewer_lines(monkeypatch):
    sought = []

    def made_handy(_, answer, search):
        sought.append(search)
        return answer

    monkeypatch.setattr(planning, "made_handy", made_handy)
    lay_out((part("A", 500, 300, 3),), STOCK, ROUTER, effort=SHORT)
    (search,) = sought
    assert not search.sawn
    assert search.handy.setting == search.handy.metres == 0.0


def test_the_least_effort_asks_for_no_free_rectangles(monkeypatch):
    asked = []
    monkeypatch.setattr(routed, "by_free_rectangles", asked.append)
    lay_out(PARTS, STOCK, ROUTER, effort="first")
    assert not asked


def test_regions_of_a_sheet_share_its_cost():
    holed = replace(STOCK[0], defects=((500.0, 300.0, 60.0, 60.0),), cost=12.0)
    problem = by_material(PARTS, (holed,), ROUTER)[0].problem
    assert len(problem.bins) > 2
    assert all(bin_.cost > 0.0 for bin_ in problem.bins)
    assert sum(bin_.cost for bin_ in problem.bins) == pytest.approx(12.0)


def test_on_several_sizes_each_that_serves_is_tried_alone_and_the_cheapest_stands():
    dear = replace(STOCK[0], id="D", cost=9.0)
    cheap = replace(STOCK[0], id="C", length=1300, cost=5.0)
    few = replace(STOCK[0], id="F", cost=0.5, copies=1)
    problem = by_material(PARTS, (dear, few, cheap), ROUTER)[0].problem
    found = by_free_rectangles(problem)
    assert {pattern.bin for pattern in found} == {2}
    assert sum(len(pattern.laid) for pattern in found) == problem.parts
