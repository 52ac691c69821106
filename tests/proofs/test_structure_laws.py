"""Laws that every plate, strip and screw of the proofs keeps, whatever its numbers."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from structure_jobs import CATALOGUE, findings

from stowright.design.deck_joining import ENDS, HIGH, LOW, Cell, joined
from stowright.proofs.screws import glue_capacity, pull_through, pulled, sideways, sideways_on_steel
from stowright.proofs.sheets import Sheet
from stowright.proofs.supported import EDGES, Field, cantilever

BIRCH = CATALOGUE.material("birch-12")
SHEET = Sheet(material=BIRCH, thickness=12.0, grain_1=True)
ALL = frozenset(EDGES)
HELD = [
    ALL,
    ALL - {"low 2"},
    ALL - {"high 2"},
    ALL - {"low 2", "high 2"},
    ALL - {"low 1"},
    ALL - {"low 1", "high 1"},
]
SIDE = st.floats(250.0, 1400.0)
few = settings(max_examples=12)


def field(one, two, edges, sheet=SHEET):
    return Field(sheet=sheet, side_1=one, side_2=two, edges=edges)


@pytest.mark.parametrize("edges", HELD, ids=lambda edges: f"{len(edges)} held")
@given(one=SIDE, two=SIDE, factor=st.floats(0.5, 2.0))
@few
def test_sag_grows_with_the_fourth_power_of_the_size_and_moment_with_the_second(
    edges, one, two, factor
):
    small = field(one, two, edges).uniform(pressure_n_mm2=1e-3)
    large = field(factor * one, factor * two, edges).uniform(pressure_n_mm2=1e-3)
    assert large.deflection_mm == pytest.approx(factor**4 * small.deflection_mm, rel=1e-6)
    for big, little in zip(large[1:], small[1:], strict=True):
        assert big == pytest.approx(factor**2 * little, rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("edges", HELD, ids=lambda edges: f"{len(edges)} held")
@given(one=SIDE, two=SIDE)
@few
def test_a_sheet_seen_from_its_other_side_is_the_same(edges, one, two):
    swap = {"low 1": "low 2", "high 1": "high 2", "low 2": "low 1", "high 2": "high 1"}
    turned = frozenset(swap[edge] for edge in edges)
    here = field(one, two, edges).uniform(pressure_n_mm2=1e-3)
    there = field(two, one, turned, SHEET.turned()).uniform(pressure_n_mm2=1e-3)
    assert there.deflection_mm == pytest.approx(here.deflection_mm, rel=1e-9)
    assert (there.moment_y_n, there.moment_x_n) == pytest.approx(here[1:], rel=1e-9, abs=1e-12)


@given(one=SIDE, two=SIDE)
@few
def test_left_and_right_are_alike(one, two):
    low = field(one, two, ALL - {"low 2"})
    high = field(one, two, ALL - {"high 2"})
    # the two are solved apart: the same to the rounding of a thousandth of a thousandth
    assert low.uniform(pressure_n_mm2=1e-3).deflection_mm == pytest.approx(
        high.uniform(pressure_n_mm2=1e-3).deflection_mm, rel=1e-6
    )
    assert low.strip_width(patch_mm=50.0) == pytest.approx(
        high.strip_width(patch_mm=50.0), rel=1e-6
    )


@given(one=SIDE, two=SIDE)
@few
def test_taking_a_support_away_never_stiffens(one, two):
    # under the load itself; elsewhere a sheet may well sag more for a support on its other side
    spot = {"load_n": 1000.0, "patch_1_mm": 50.0, "patch_2_mm": 50.0}
    rows = [
        field(one, two, edges).patch(**spot).deflection_mm
        for edges in (ALL, ALL - {"low 2"}, ALL - {"low 2", "high 2"})
    ]
    assert rows == sorted(rows)


@given(one=SIDE, two=SIDE, thick=st.floats(6.0, 20.0))
@few
def test_a_thicker_sheet_is_never_weaker(one, two, thick):
    for edges in (ALL, ALL - {"low 2"}):
        thin = field(one, two, edges, replace(SHEET, thickness=thick))
        more = field(one, two, edges, replace(SHEET, thickness=1.1 * thick))
        spot = {"load_n": 1000.0, "patch_1_mm": 50.0, "patch_2_mm": 50.0}
        assert more.patch(**spot).deflection_mm < thin.patch(**spot).deflection_mm
        stress = [
            6.0 * each.patch(**spot).moment_x_n / each.sheet.thickness**2 for each in (thin, more)
        ]
        assert stress[1] < stress[0]


def test_a_long_plate_held_on_four_edges_comes_near_one_held_on_two():
    # continuity across the change of method: Navier's plate and Levy's, ten times as long as wide
    four = field(400.0, 4000.0, ALL).uniform(pressure_n_mm2=1e-3)
    two = field(400.0, 4000.0, ALL - {"low 2", "high 2"}).uniform(pressure_n_mm2=1e-3)
    assert four.deflection_mm == pytest.approx(two.deflection_mm, rel=0.005)
    assert four.moment_x_n == pytest.approx(two.moment_x_n, rel=0.01)


def test_a_sheet_whose_grain_is_free_counts_with_the_weaker_value_both_ways():
    free = replace(SHEET, grain_1=None)
    assert free.strengths == (BIRCH.f_across, BIRCH.f_across)
    assert free.moduli == (BIRCH.e_across, BIRCH.e_across)
    assert SHEET.strengths == (BIRCH.f_along, BIRCH.f_across)
    assert SHEET.turned().strengths == (BIRCH.f_across, BIRCH.f_along)


@given(arm=st.floats(60.0, 500.0))
@few
def test_a_longer_overhang_bends_and_sags_more(arm):
    numbers = {"along_1": True, "width_mm": 900.0, "load_n": 1000.0, "patch_mm": 50.0}
    short = cantilever(SHEET, arm_mm=arm, **numbers)
    long = cantilever(SHEET, arm_mm=1.2 * arm, **numbers)
    assert long[0] > short[0]
    assert long[1] > short[1]


def test_spans_with_nothing_between_them_are_one():
    left = Cell(0.0, 400.0, 0.0, 500.0, LOW[0] | LOW[1] | HIGH[1], HIGH[0])
    right = Cell(400.0, 900.0, 0.0, 500.0, HIGH[0] | LOW[1] | HIGH[1], LOW[0])
    (both,) = joined([left, right])
    assert (both.low_x, both.high_x) == (0.0, 900.0)
    assert both.held == ENDS[0] | ENDS[1]
    held_between = right._replace(held=right.held | LOW[0])
    assert len(joined([left, held_between])) == 2


SCREW = CATALOGUE.screw("screw-8g-38")


@given(deep=st.floats(5.0, 30.0))
@few
def test_a_deeper_screw_never_holds_less(deep):
    for into_edge in (False, True):
        numbers = {"sheet": BIRCH, "into_edge": into_edge, "service_class": 2}
        less = pulled(SCREW, point_mm=deep, **numbers).counted.value
        more = pulled(SCREW, point_mm=deep + 2.0, **numbers).counted.value
        assert more >= less
        sides = {"head": BIRCH, "head_mm": 12.0, "point": BIRCH, "into_edge": into_edge}
        less = sideways(SCREW, point_mm=deep, service_class=2, **sides).counted.value
        more = sideways(SCREW, point_mm=deep + 2.0, service_class=2, **sides).counted.value
        assert more >= less


def test_damper_wood_and_longer_loads_hold_less():
    sides = {"head": BIRCH, "head_mm": 12.0, "point": BIRCH, "point_mm": 26.0, "into_edge": True}
    rows = [
        sideways(SCREW, service_class=damp, duration=lasts, **sides).counted.value
        for damp, lasts in ((2, "instantaneous"), (2, "short"), (2, "long"), (3, "long"))
    ]
    assert rows == sorted(rows, reverse=True)
    # k_mod 1.1, 0.9, 0.7, 0.55 of one characteristic value: EN 1995-1-1, Table 3.1
    assert [row / rows[0] for row in rows] == pytest.approx([1.0, 0.9 / 1.1, 0.7 / 1.1, 0.5])


def test_a_heavier_sheet_holds_a_head_better_and_thin_ones_are_capped():
    birch, poplar = (CATALOGUE.material(name) for name in ("birch-15", "poplar-15"))
    heads = [
        pull_through(SCREW, sheet=row, sheet_mm=15.0, service_class=2).value
        for row in (poplar, birch)
    ]
    assert heads == sorted(heads)
    thin = pull_through(SCREW, sheet=CATALOGUE.material("birch-9"), sheet_mm=9.2, service_class=2)
    assert thin.value == pytest.approx(1.1 * 400.0 / 1.3)


def test_glue_is_limited_by_the_ply_that_rolls():
    birch = glue_capacity(area_mm2=1000.0, sheets=(BIRCH,), service_class=2)
    assert birch.value == pytest.approx(500.0)
    weak = replace(BIRCH, f_rolling=0.3)
    rolled = glue_capacity(area_mm2=1000.0, sheets=(BIRCH, weak), service_class=2)
    assert rolled.value == pytest.approx(1000.0 * 1.1 * 0.3 / 1.2)


def test_thicker_steel_never_holds_less():
    pan = CATALOGUE.screw("pan-8g-12")
    rows = [
        sideways_on_steel(pan, sheet=BIRCH, sheet_mm=10.0, steel_mm=steel, service_class=2)
        for steel in (0.8, 1.2, 1.6)
    ]
    assert all(row.clause is not None for row in rows)


@pytest.mark.parametrize("code", ["BOTTOM-STRESS:one", "BOTTOM-SAG:one", "DECK-STRESS:deck/1"])
@pytest.mark.parametrize("family", ["ply", "birch", "softwood", "hardwood", "poplar"])
def test_in_every_family_a_thicker_sheet_is_never_weaker(code, family):
    key = "deck_sheet" if code.startswith("DECK") else "drawer_bottom"
    names = [f"{family}-{n}" for n in (9, 12, 18)]
    rows = [findings(build=f'{key} = "{name}"')[code].utilisation for name in names]
    assert rows == sorted(rows, reverse=True)


def test_two_spans_that_hang_lie_together_between_two_held_edges():
    left = Cell(0.0, 250.0, 0.0, 400.0, LOW[0], LOW[0] | HIGH[0])
    right = Cell(265.0, 590.0, 0.0, 400.0, HIGH[0] | LOW[1], LOW[0] | HIGH[0] | LOW[1])
    (both,) = joined([left, right])
    assert (both.low_x, both.high_x) == (0.0, 590.0)
    assert both.held == ENDS[0]  # the edge that only one has held is left out


def test_an_edge_behind_which_the_sheet_goes_on_is_not_free():
    found = findings(build='deck_sheet = "birch-18"')["DECK-EDGE:deck/1"]
    assert "low x" not in found.working[1].split("held edges")[1]
