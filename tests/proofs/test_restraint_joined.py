"""A carcass without bolts of its own, held by what it is bolted to: only where that is proved."""

from dataclasses import replace

import pytest
from restraint_jobs import CATALOGUE

from stowright.design.build import design
from stowright.explore.anchors import plan_anchors
from stowright.jobfile import read_job
from stowright.proofs.restraint import anchor_demands, restraint_findings

JOB = """
[job]
title = "Joined carcasses"
[bay]
kind = "tub"
length = 1500
width = 1400
rail = 500
floor = {material = "steel", thickness = 0.8}
no_drill = [ {what = "tank", surface = "floor", x = [-10, 1600], y = [-750, -20]} ]
[[bay.opening]]
face = "tail"
width = 1330
[[carry]]
what = "case"
size = [400, 300, 200]
mass = 20
goes_in = "two"
[[block]]
name = "drawers"
columns = [ {stack = [ {fill = "drawer", name = "one"} ]},
            {stack = [ {fill = "drawer", name = "two"} ]} ]
"""
UNIT = design(read_job(JOB), CATALOGUE)


def findings(unit):
    return {f.id: f for f in restraint_findings(unit, CATALOGUE)}


def test_the_second_carcass_has_no_place_for_bolts_of_its_own():
    assert {a.module for a in UNIT.anchors} == {"1"}


def test_it_is_held_through_its_neighbour_with_the_joining_bolts_proved():
    found = findings(UNIT)["RESTRAINT:drawers/2"]
    assert found.status == "pass"
    assert "bolted to drawers/1" in found.title
    assert any("joining bolts: " in line for line in found.working)
    assert found.standing == "assumed"


def test_without_joining_bolts_it_stands_alone_and_fails():
    apart = replace(UNIT, joints=tuple(j for j in UNIT.joints if j.kind != "bolted"))
    assert findings(apart)["RESTRAINT:drawers/2"].status == "fail"
    assert findings(apart)["RESTRAINT:drawers/1"].status == "pass"


def test_joining_bolts_that_are_too_weak_do_not_count():
    thin = tuple(
        replace(f, type="M5x40-8.8") if f.kind == "bolt" and f.step == "modules" else f
        for f in UNIT.fixings
    )
    heavy = tuple(
        replace(b, openings=tuple(replace(o, contents_kg=4000.0) for o in b.openings))
        for b in UNIT.blocks
    )
    found = findings(replace(UNIT, fixings=thin, blocks=heavy))
    assert found["RESTRAINT:drawers/2"].status == "fail"


@pytest.mark.parametrize("module", ["1", "2"])
def test_each_carcass_has_one_finding_of_a_kind(module):
    rows = [f.id for f in restraint_findings(UNIT, CATALOGUE)]
    assert rows.count(f"RESTRAINT:drawers/{module}") == 1


def test_anchors_that_carry_two_carcasses_see_both():
    apart = replace(UNIT, joints=tuple(j for j in UNIT.joints if j.kind != "bolted"))
    alone = {row.id: row.shear_n for row in anchor_demands(apart, CATALOGUE)}
    both = {row.id: row.shear_n for row in anchor_demands(UNIT, CATALOGUE)}
    assert set(both) == {a.id for a in UNIT.anchors}
    assert max(both.values()) > 1.5 * max(alone.values())


def test_no_bolt_is_saved_on_a_carcass_that_another_hangs_on():
    assert plan_anchors(UNIT, CATALOGUE).modules == ()
