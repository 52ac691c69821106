"""What tabs carry, how they fit, and that proofs measure from shoulder to shoulder."""

import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "design"))
from job_texts import CATALOGUE, VAN, made

from stowright.proofs.index import index_of
from stowright.proofs.joint_holds import glued_area
from stowright.proofs.prove import prove
from stowright.proofs.tab_holds import tab_capacity, tab_fit_findings, tabs_in

BLOCK = """
[[carry]]
what = "jack"
size = [400, 300, 150]
mass = 25
goes_in = "top"
[[block]]
name = "unit"
place = {z = [0, 420]}
columns = [ {stack = [ {fill = "drawer", name = "low"}, {fill = "open", name = "top"} ]} ]
"""


def unit_of(joint="tab-and-slot", measured="{ply-15 = [14.6, 14.7]}"):
    build = f'[build]\nmethod = "cnc"\nsaw = "cnc-6"\njoint = "{joint}"\n'
    return made("cut_grid = 0", VAN, BLOCK, f"{build}measured_thickness = {measured}\n")


def index_for(design):
    return index_of(design.from_shoulders(), CATALOGUE)


def joints_of(design, piece):
    return [j for j in design.joints if j.kind == "tab-and-slot" and j.parts[1].endswith(piece)]


def test_each_joint_knows_its_own_tabs():
    design = unit_of()
    index = index_for(design)
    for joint in design.joints:
        found = tabs_in(index, joint)
        assert len(found) >= 2 if joint.kind == "tab-and-slot" else not found
    parts = [design.part(p.mark) for p in design.placed]
    assert sum(len(tabs_in(index, j)) for j in design.joints) == sum(len(p.tabs) for p in parts)


def test_tabs_carry_by_the_weakest_of_three_ways():
    design = unit_of()
    index = index_for(design)
    (joint, _) = joints_of(design, "shelf-1-1")
    tabs = tabs_in(index, joint)
    long = sum(tab.end - tab.start for tab in tabs)
    row = CATALOGUE.material("ply-15")
    found = tab_capacity(index, [joint])
    # planar shear governs by far: 2/3 f_r against f_c over about the same area. EN 1995-1-1,
    # service class 2, instantaneous: k_mod 1.1, gamma_M 1.2 (handbook, plywood 2.4)
    share = 1.1 / 1.2 if row.basis == "characteristic" else 1.0
    assert found.value == pytest.approx(2 / 3 * long * 14.65 * row.f_rolling * share, rel=1e-3)
    both = tab_capacity(index, joints_of(design, "shelf-1-1"))
    assert both.value == pytest.approx(2 * found.value)
    assert any("shear only" in line for line in both.working)


def test_glue_counts_on_the_shoulders_alone():
    design = unit_of()
    index = index_for(design)
    (joint, _) = joints_of(design, "shelf-1-1")
    depth = next(o.depth for b in design.blocks for o in b.openings if o.name == "top")
    roots = sum(t.end - t.start for t in tabs_in(index, joint)) * 14.65
    # the shelf is cut to a tenth of a millimetre
    assert glued_area(index, joint) == pytest.approx(depth * 14.65 - roots, abs=0.1 * 14.65)


def test_a_joint_without_glue_and_screws_holds_by_its_tabs_in_shear():
    design = unit_of()
    bare = replace(
        design,
        joints=tuple(replace(j, glued=False, fixing="", count=0) for j in design.joints),
        fixings=(),
    )
    found = {f.id: f for f in prove(bare, CATALOGUE, builds=0)}
    shelf = next(f for key, f in found.items() if key.startswith("SHELF-JOINT"))
    assert shelf.status == "pass"
    assert any("tab roots" in line for line in shelf.working)
    kept = {f.id: f for f in prove(design, CATALOGUE, builds=0)}
    shelf = next(f for key, f in kept.items() if key.startswith("SHELF-JOINT"))
    assert any("are not added" in line and "tabs" in line for line in shelf.working)


def test_spans_are_those_of_butt_joints():
    butt, routed = index_for(unit_of("butt")), index_for(unit_of())
    for name, box in butt.boxes.items():
        if "packer" not in name:
            assert routed.boxes[name].size == pytest.approx(box.size, abs=1e-6), name


def test_sheets_that_nobody_measured_are_not_proved_to_fit():
    (measured,) = tab_fit_findings(unit_of())
    assert (measured.status, measured.id) == ("pass", "TAB-FIT:ply-15")
    (assumed,) = tab_fit_findings(unit_of(measured="{}"))
    assert assumed.status == "not proved"
    assert assumed.needs == ("caliper readings of ply-15",)
