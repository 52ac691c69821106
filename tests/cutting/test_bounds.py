"""Lower bounds: never above what a layout was found for, on sheets of one size and of several."""

from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.cutting import lay_out
from stowright.cutting.bounds import StockSize, lower_bounds, rounded_down
from stowright.cutting.effort import Effort
from stowright.cutting.problem import Kind, Rules
from stowright.model.layout import CutPart, SawSettings, StockSheet

SHORT = Effort(place=200_000, finish=0)


@st.composite
def stocked_jobs(draw):
    count = draw(st.integers(1, 7))
    parts = [
        CutPart(
            mark=f"P{n}",
            length=draw(st.integers(60, 950)),
            width=draw(st.integers(60, 700)),
            quantity=draw(st.integers(1, 3)),
            material="ply",
            grain=draw(st.booleans()),
        )
        for n in range(count)
    ]
    sizes = [(1000, 750), *draw(st.lists(st.sampled_from([(700, 700), (1300, 500)]), unique=True))]
    stock = [
        StockSheet(id=f"S{n}", length=a, width=b, material="ply", price=draw(st.integers(5, 20)))
        for n, (a, b) in enumerate(sizes)
    ]
    return parts, stock


@given(stocked_jobs())
@settings(max_examples=60)
def test_no_layout_takes_less_than_the_bound(job):
    parts, stock = job
    plan = lay_out(parts, stock, SawSettings(kerf=3, trim=0), effort=SHORT)
    (result,) = plan.materials
    assert result.lower_bound <= result.sheets
    assert result.cost_bound <= result.cost + 1e-6  # the program's own tolerance


def test_a_part_is_not_lifted_beyond_a_smaller_sheet_that_holds_it():
    # beside a 900 part nothing fits on the long sheet, but it does go on the short one
    kinds = (Kind(length=900, width=300, copies=1, turnable=False),)
    stock = tuple(StockSize(w=w, h=h, copies=None, cost=1.0) for w, h in ((2000, 500), (1000, 800)))
    found = lower_bounds(kinds, stock, Rules(kerf=0))
    assert found.sheets == 1
    assert found.cost <= 1.0


def test_a_part_that_fits_one_way_only_is_counted_that_way():
    # four parts of 600 x 100 on sheets 1000 x 399: turned they do not fit; straight, one
    # beside the other is impossible and three above each other are the most: two sheets
    kinds = (Kind(length=600, width=100, copies=4, turnable=True),)
    stock = (StockSize(w=1000, h=399, copies=None, cost=1.0),)
    assert lower_bounds(kinds, stock, Rules(kerf=0)).sheets == 2


def test_what_only_the_dear_sheets_hold_is_counted_on_these():
    # four doors fit on the large sheets only, one on each; by area cheap small sheets would do
    kinds = (Kind(length=2000, width=1000, copies=4, turnable=True),)
    stock = (
        StockSize(w=2420, h=1200, copies=None, cost=60.0),
        StockSize(w=1200, h=590, copies=None, cost=5.0),
    )
    found = lower_bounds(kinds, stock, Rules(kerf=0))
    assert found.cost >= 240.0 - 1e-6  # the program's own tolerance
    assert "fits on some of the sizes only" in found.because
    few = (*kinds, Kind(length=500, width=400, copies=30, turnable=True))
    # two small ones go on each small sheet: at least the area of 30 on these and beside doors
    assert lower_bounds(few, stock, Rules(kerf=0)).cost >= 240.0


def test_a_ratio_above_a_whole_number_is_never_told_as_that_number():
    assert rounded_down(3.0) == "3.00"
    assert rounded_down(3.999) == "3.99"
    assert rounded_down(3.004) == "3.004"
    assert rounded_down(3.00007) == "3.00007"
    assert rounded_down(2.9999999) == "2.99"
