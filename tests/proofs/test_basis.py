"""Bases are never mixed: loads get the factor that the capacity's basis asks for, or are refused.

Factors 1.35 and 1.5: EN 1990, from memory; rule sets and their bases: the page on proofs.
"""

import pytest
from structure_jobs import found_in, indexed, job_text

from stowright.errors import BasisMixError
from stowright.formulas.restraint import rule_set
from stowright.proofs.basis import (
    Capacity,
    Load,
    design_resistance,
    factor_on,
    held,
    held_or_told,
    least,
    sheet_strength,
    together,
    working,
    worst,
)
from stowright.proofs.judge import About
from stowright.proofs.screws import pulled, sideways_on_steel

ABOUT = About(id="X:y", title="t", about="y", family=7, source="s", standing="published")


def capacity(basis, value=100.0, standing="published"):
    return Capacity(value=value, unit="N", basis=basis, source="a table", standing=standing)


@pytest.mark.parametrize(
    ("kind", "basis", "factor"),
    [
        ("own mass", "characteristic", 1.35),
        ("contents", "characteristic", 1.5),
        ("people", "characteristic", 1.5),
        ("restraint", "characteristic", 1.5),
        ("contents", "allowable", 1.0),
        ("restraint", "allowable", 1.0),
        ("people", "common practice", 1.0),
    ],
)
def test_the_basis_of_the_capacity_fixes_the_factor_on_the_demand(kind, basis, factor):
    assert factor_on(kind, basis=basis) == factor


def test_a_set_against_breaking_strength_has_no_factor_on_characteristic_values():
    assert factor_on("restraint", basis="characteristic", rules=rule_set("us-393")) == 1.0
    assert factor_on("restraint", basis="characteristic", rules=rule_set("en-12195")) == 1.5


@pytest.mark.parametrize("name", ["us-393-wll", "ca-qc"])
def test_a_working_load_set_is_held_against_working_values_only(name):
    rules = rule_set(name)
    assert factor_on("restraint", basis="allowable", rules=rules) == 1.0
    with pytest.raises(BasisMixError):
        factor_on("restraint", basis="characteristic", rules=rules)


def test_a_mean_ultimate_value_is_divided_before_anything_is_held_against_it():
    with pytest.raises(BasisMixError):
        held(ABOUT, loads=(Load(kind="people", value=1.0),), capacity=capacity("mean ultimate"))
    divided = working(capacity("mean ultimate"))
    assert (divided.value, divided.basis) == (20.0, "allowable")
    assert "/ 5" in divided.working[-1]


@pytest.mark.parametrize("basis", ["characteristic", "allowable", "common practice"])
def test_nothing_else_is_divided(basis):
    with pytest.raises(BasisMixError):
        working(capacity(basis))


@pytest.mark.parametrize("combine", [together, least])
def test_capacities_on_two_bases_are_neither_added_nor_compared(combine):
    with pytest.raises(BasisMixError):
        combine(capacity("characteristic"), capacity("allowable"))
    same = combine(capacity("allowable", 30.0), capacity("allowable", 20.0))
    assert same.value == (50.0 if combine is together else 20.0)


def test_loads_of_several_kinds_each_get_their_own_factor():
    found = held(
        ABOUT,
        loads=(Load(kind="contents", value=20.0), Load(kind="own mass", value=10.0)),
        capacity=capacity("characteristic"),
    )
    assert found.demand == pytest.approx(1.5 * 20.0 + 1.35 * 10.0)
    assert (found.factor, found.basis) == (1.5, "characteristic")
    assert any("1.35 x 10" in line for line in found.working)


def test_the_weaker_standing_of_proof_and_capacity_is_told():
    weak = capacity("allowable", standing="assumed")
    assert held(ABOUT, loads=(), capacity=weak).standing == "assumed"


def test_a_design_value_by_hand():
    # EN 1995-1-1 (2.14): 1.1 x 60 / 1.2 = 55, short in a joint: 0.9 x 60 / 1.3 = 41.54
    sheet = design_resistance(
        capacity("characteristic", 60.0), duration="instantaneous", service_class=2, what="sheet"
    )
    joint = design_resistance(
        capacity("characteristic", 60.0), duration="short", service_class=2, what="joint"
    )
    assert (sheet.value, joint.value) == pytest.approx((55.0, 41.538), abs=1e-3)
    untouched = design_resistance(
        capacity("allowable", 60.0), duration="short", service_class=3, what="sheet"
    )
    assert untouched.value == 60.0


def test_what_cannot_be_held_is_not_proved_and_says_what_it_needs():
    def mixed():
        return held(
            ABOUT,
            loads=(Load(kind="restraint", value=1.0),),
            capacity=capacity("characteristic"),
            rules=rule_set("ca-qc"),
        )

    found = held_or_told(ABOUT, mixed)
    assert found.status == "not proved"
    assert "working-load value" in found.needs[0]


def test_a_plan_by_a_working_load_set_holds_no_wood_against_it():
    found = found_in(job_text(rules="ca-qc"))
    assert found["BACK-PANEL:one"].status == "not proved"
    assert found["LATCH:one"].status == "pass"  # a lock's working value takes it
    for each in found.values():
        if each.load_case.startswith("ca-qc") and each.utilisation is not None:
            assert each.basis == "allowable"


@pytest.mark.parametrize("rules", ["light-envelope", "us-393", "ca-qc", "en-12195"])
def test_every_finding_of_a_plan_has_a_factor_that_its_basis_allows(rules):
    allowed = {"characteristic": {1.0, 1.35, 1.5}, "allowable": {1.0}, "common practice": {1.0}}
    for found in found_in(job_text(rules=rules)).values():
        if found.basis:
            assert found.factor in allowed[found.basis], found.id


def test_sheets_on_another_basis_are_taken_as_what_they_are():
    index = indexed(job_text())
    row = index.catalogue.material("birch-12")
    for basis, value in (("characteristic", 1.1 * 42.9 / 1.2), ("mean ultimate", 42.9 / 5.0)):
        changed = type(row)(**{**{n: getattr(row, n) for n in row.__slots__}, "basis": basis})
        found = sheet_strength(changed, strength=42.9, duration="instantaneous", service_class=2)
        assert found.value == pytest.approx(value)
        assert found.basis == ("characteristic" if basis == "characteristic" else "allowable")


def test_the_gravest_finding_governs_and_the_others_are_named():
    mild = held(ABOUT, loads=(Load(kind="people", value=10.0),), capacity=capacity("allowable"))
    grave = held(ABOUT, loads=(Load(kind="people", value=200.0),), capacity=capacity("allowable"))
    assert worst((mild, grave)).status == "fail"
    assert worst((mild, grave)).working[-1].endswith("0.10")


def test_a_thin_panel_screw_is_told_to_be_outside_the_clause_and_falls_back_to_tests():
    # E830 table 1: tapping #10 at 12.7 mm takes the #8 row, 465 lb = 2068 N; a fifth is 414 N
    index = indexed(job_text())
    screw = index.catalogue.screw("pan-10g-15")
    sheet = index.catalogue.material("birch-15")
    hold = sideways_on_steel(screw, sheet=sheet, sheet_mm=14.8, steel_mm=1.5, service_class=2)
    assert hold.outside
    assert hold.counted.basis == "allowable"
    assert hold.counted.value == pytest.approx(413.7, abs=0.2)
    light = index.catalogue.material("poplar-15")
    lighter = sideways_on_steel(screw, sheet=light, sheet_mm=14.9, steel_mm=1.5, service_class=2)
    assert lighter.counted.value <= hold.counted.value


def test_below_the_least_tested_thickness_a_fraction_of_the_clause_is_counted():
    # J4 of the handbook: thin steel on 11 mm ply, d_ef 2.86, 636 N; here a #8 on 10.5 mm
    index = indexed(job_text())
    screw = index.catalogue.screw("pan-8g-12")
    sheet = index.catalogue.material("birch-12")
    hold = sideways_on_steel(screw, sheet=sheet, sheet_mm=12.0, steel_mm=1.5, service_class=2)
    assert hold.clause is not None
    assert hold.counted.value == pytest.approx(0.5 * hold.clause.value)
    assert hold.counted.basis == "characteristic"


def test_withdrawal_from_a_face_and_an_edge_by_hand():
    # 0.7 x 108.25 x G^2 x 4.166 x 20 / 5, G = 680 / 1120; an edge holds three quarters of it
    index = indexed(job_text())
    screw = index.catalogue.screw("screw-8g-32")
    sheet = index.catalogue.material("birch-15")
    numbers = {"sheet": sheet, "point_mm": 20.0, "service_class": 2}
    face = pulled(screw, **numbers, into_edge=False).counted
    edge = pulled(screw, **numbers, into_edge=True).counted
    by_hand = 0.7 * 108.25 * (680.0 / 1120.0) ** 2 * 4.166 * 20.0 / 5.0
    assert face.value == pytest.approx(by_hand, rel=1e-6)
    assert edge.value == pytest.approx(0.75 * by_hand, rel=1e-6)
    assert face.basis == "allowable"
