"""A tall rack: the joint of floor to upright is its weak link, and the advice was tried."""

from restraint_jobs import CATALOGUE

from stowright.design.build import design
from stowright.explore.anchors import plan_anchors
from stowright.jobfile import read_job
from stowright.model.given import Given
from stowright.proofs.restraint import restraint_findings

JOB = """
[job]
title = "Tall rack"
[bay]
kind = "van"
length = 2500
width = 1700
clear_height = 1700
floor = {material = "steel", thickness = 0.8, rib_depth = 8, ribs_run = "lengthwise"}
no_drill = [ {what = "tank", surface = "floor", x = [1400, 2000], y = [-700, -200]} ]
%s
[[bay.opening]]
face = "right"
width = 1300
height = 1500
at = 150
[[carry]]
what = "boxes"
size = [400, 250, 200]
mass = 15
quantity = 8
[[block]]
name = "rack"
face = "right"
place = {x = [200, 1400], y = [300, 700], z = [0, 1300]}
columns = [ {stack = [ {fill = "open", name = "a"}, {fill = "open", name = "b"},
                       {fill = "open", name = "c"}, {fill = "open", name = "d"} ]} ]
"""
EYE = 'anchors = [ {what = "wall eye", surface = "left", x = 800, z = 1100, %s} ]'


def rack(anchors=""):
    return design(read_job(JOB % anchors), CATALOGUE)


def path(unit):
    found = {f.id: f for f in restraint_findings(unit, CATALOGUE)}
    return found["RESTRAINT-PATH:rack/1"]


def test_its_joint_fails_and_the_bolts_do_not():
    unit = rack()
    found = {f.id: f for f in restraint_findings(unit, CATALOGUE)}
    assert found["RESTRAINT:rack/1"].status == "pass"
    assert path(unit).status == "fail"
    assert any(line.startswith("joint of floor to uprights: ") for line in path(unit).working)


def test_the_planner_mends_it_with_angles_at_the_bolts():
    unit = rack()
    plan = plan_anchors(unit, CATALOGUE)
    assert plan.modules[0].angle
    assert len(plan.modules) == 1
    mended = design(unit.job, CATALOGUE, Given(anchors=plan))
    assert path(mended).status == "pass"


def test_a_bracket_at_the_top_is_told_with_what_it_takes():
    assert any(
        "from its top to an anchor in wall or roof: " in line for line in path(rack()).advice
    )


def test_a_wall_anchor_that_is_stated_to_hold_it_is_named():
    strong = path(rack(EYE % "tension = 2000, shear = 2000"))
    assert any(
        "bracket to wall eye (left)" in line and "passes at 0." in line for line in strong.advice
    )
    unknown = path(rack(EYE % 'thread = "M8"'))
    assert not any("wall eye" in line for line in unknown.advice)
