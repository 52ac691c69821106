"""Keeping and measuring: what was read, what touches, drains, seals, what has to stay reachable."""

from dataclasses import replace

import pytest
from use_jobs import CATALOGUE, changed, designed, findings

from stowright.proofs.fixing_lengths import fixing_findings

READ = '\n[[reading]]\nof = {%s, what = "%s"}\nvalues = %s\n'


def test_run_out_and_packers_follow_the_diagonals():
    more = READ % ('opening = "tools"', "diagonals", "[1505.0, 1502.0]")
    found = findings(changed(more=more))["SQUARE:tools"]
    # D sqrt(W² + L²) / (2 W): plane geometry, practice handbook A10
    opening = designed(changed()).opening("tools")
    wide, deep = opening.width, opening.depth
    out = 3.0 * (wide**2 + deep**2) ** 0.5 / (2.0 * wide)
    assert f"{out:.1f} mm sideways" in " ".join(found.working)
    assert found.status == "fail"


@pytest.mark.parametrize(("apart", "status"), [(1.0, "pass"), (1.9, "warn"), (2.5, "fail")])
def test_diagonals_pass_to_a_millimetre_per_metre(apart, status):
    more = READ % ('opening = "tools"', "diagonals", f"[{1503.0 + apart}, 1503.0]")
    assert findings(changed(more=more))["SQUARE:tools"].status == status


def test_diagonals_of_a_block_and_of_a_box_are_judged_too():
    more = READ % ('block = "drawers"', "diagonals", "[1795.0, 1790.0]")
    more += READ % ('opening = "tools"', "box-diagonals", "[1432.0, 1431.5]")
    found = findings(changed(more=more))
    assert found["SQUARE:drawers"].status == "fail"
    assert found["SQUARE-BOX:tools"].status == "pass"


@pytest.mark.parametrize(
    ("what", "values", "status"),
    [
        ("between-runners", "[478.6, 479.0, 479.0]", "pass"),
        ("between-runners", "[478.5, 479.0, 478.5]", "warn"),
        ("between-runners", "[478.5, 479.0, 476.0]", "fail"),
        ("between-runners", "[490.0]", "fail"),
        ("width", "[517.0, 517.0, 517.0]", "pass"),
        ("width", "[513.0, 517.0, 517.0]", "fail"),
        ("box-width", "[481.0]", "fail"),
    ],
)
def test_a_reading_is_held_against_the_sum(what, values, status):
    more = READ % ('opening = "tools"', what, values)
    assert findings(changed(more=more))["WIDTH:tools"].status == status


def test_shims_are_told_by_place():
    more = READ % ('opening = "tools"', "between-runners", "[478.5, 479.5, 480.0]")
    working = " ".join(findings(changed(more=more))["WIDTH:tools"].working)
    assert "0.0 mm at the face, 1.0 mm at the middle, 1.5 mm at the back" in working


def test_a_deck_may_be_cut_once_the_unit_stands():
    cut = '\n[[done]]\nstage = "cut"\nparts = [{mark = "T1", size = [1421.0, 1093.0, 17.6]}]\n'
    fitted = '\n[[done]]\nstage = "fitted"\nparts = [{mark = "A1", size = [1421, 428.5, 14.6]}]\n'
    assert findings(changed(more=cut))["HELD-BACK:release B"].status == "fail"
    assert findings(changed(more=cut + fitted))["HELD-BACK:release B"].status == "pass"


def test_infills_and_wings_may_be_cut_once_the_unit_stands():
    waiting = [p for p in designed(changed()).parts if p.waits_for.startswith("the unit in place")]
    assert {"wing", "infill"} <= {p.role for p in waiting}
    marks = ", ".join(
        f'{{mark = "{p.mark}", size = [{p.length}, {p.width}, {p.thickness}]}}' for p in waiting
    )
    cut = f'\n[[done]]\nstage = "cut"\nparts = [{marks}]\n'
    fitted = '\n[[done]]\nstage = "fitted"\nparts = [{mark = "A1", size = [1421, 428.5, 14.6]}]\n'
    assert findings(changed(more=cut))["HELD-BACK:release B"].status == "fail"
    assert findings(changed(more=cut + fitted))["HELD-BACK:release B"].status == "pass"


def test_a_spoiled_part_may_be_cut_twice():
    size = "size = [1421.0, 428.5, 14.6]"
    twice = (
        f'\n[[done]]\nstage = "cut"\nparts = [{{mark = "A1", {size}}}, {{mark = "A1", {size}}}]\n'
    )
    assert findings(changed(more=twice))["HANDS:parts"].status == "fail"
    mended = twice + '\n[[spoiled]]\nmark = "A1"\n'
    assert findings(changed(more=mended))["HANDS:parts"].status == "pass"


def test_readings_far_apart_are_no_batch():
    text = changed(("birch-12 = [11.8,", "birch-12 = [12.6,"))
    assert findings(text)["THICKNESS:birch-12"].status == "fail"


def test_sealing_counts_faces_edges_and_litres():
    found = findings(changed())["SEALED:clear"]
    parts = designed(changed()).parts
    area = sum(2.0 * p.length * p.width * p.quantity for p in parts) / 1e6
    assert f"faces {area:.2f} m2" in found.working[0]
    assert "litres of clear" in found.working[-1]


@pytest.mark.parametrize(
    ("packers", "floor", "status"),
    [
        ('{how = "on-ribs"}', True, "pass"),
        ('{how = "on-ribs"}', False, "not proved"),
        ('{how = "in-valleys"}', True, "not proved"),
        ('{how = "none"}', False, "fail"),
    ],
)
def test_water_finds_a_way(packers, floor, status):
    pairs = [('finish = "clear"', f'finish = "clear"\npackers = {packers}')]
    if not floor:
        pairs.append(("rib_depth = 9, rib_pitch = 64, ribs_run", "rib_depth = 0, ribs_run"))
        pairs.append(('"lengthwise"}', '"none"}'))
    assert findings(changed(*pairs))["DRAINS:drawers"].status == status


def test_nothing_is_bolted_near_a_belt_and_nothing_covers_it():
    belt = 'belts = [{what = "tether", surface = "floor", x = %d, y = %d}]'
    near = findings(changed(("belts = []", belt % (700, 300))))["BELT:tether"]
    assert near.status == "fail"
    assert any("stands over it" in line for line in near.working)
    far = findings(changed(("belts = []", belt % (1700, 0))))["BELT:tether"]
    assert far.status == "pass"


def test_an_anchor_that_reads_as_a_seat_bolt_is_not_used():
    text = changed(("tie-down, left front", "seat belt bolt, left"))
    found = findings(text)["BELT-USED:seat belt bolt, left"]
    assert found.status == "fail"
    assert "bay.belts" in found.advice[0]


def test_an_access_under_a_fixed_wing_wants_a_lid():
    hatch = 'access = [{what = "jack", x = [600, 800], y = [600, 690], lift_out = %s}]'
    old = 'access = [{what = "spare wheel winch", x = [0, 40], y = [-60, 60], lift_out = true}]'
    fixed = changed((old, hatch % "true"))
    assert findings(fixed)["ACCESS:jack"].status == "fail"
    lid = fixed.replace('wings = {left = "fixed"', 'wings = {left = "lid"')
    assert findings(lid)["ACCESS:jack"].status == "pass"


@pytest.mark.parametrize(
    ("lies", "gap", "status"),
    [("none", 0.5, "fail"), ("none", 4, "pass"), ("felt", 0.5, "pass"), ("glue", 0, "pass")],
)
def test_a_bare_pair_knocks_up_to_one_and_a_half(lies, gap, status):
    more = f'\n[[contact]]\nbetween = ["tray", "lamp"]\nlies = "{lies}"\ngap = {gap}\n'
    assert findings(changed(more=more))["RATTLE:pairs"].status == status


def test_a_lid_that_lies_on_its_cleat_is_asked_about():
    text = changed(('left = "fixed"', 'left = "lid"'))
    found = findings(text)["RATTLE:pairs"]
    assert found.status == "not proved"
    said = '\n[[contact]]\nbetween = ["wing-left", "wing-cleat-left"]\nlies = "felt"\n'
    more = '\n[[contact]]\nbetween = ["wing-left", "deck"]\nlies = "foam"\n'
    more += '\n[[contact]]\nbetween = ["wing-left", "infill"]\nlies = "foam"\n'
    more += '\n[[contact]]\nbetween = ["wing-left", "leg"]\nlies = "foam"\n'
    more += '\n[[contact]]\nbetween = ["wing-left", "side"]\nlies = "foam"\n'
    assert findings(text + said + more)["RATTLE:pairs"].status == "pass"


def test_a_seal_without_a_panel_error_assumes_one():
    text = changed((", panel_error = 3", ""))
    found = findings(text)["SEAL:tailgate"]
    assert found.standing == "assumed"
    assert "2 mm per metre" in found.assumed[0]


def test_no_seal_is_not_proved_and_tells_the_length():
    text = changed(("seals = [", "seals = []  # ["))
    found = findings(text)["SEAL:tail"]
    assert found.status == "not proved"
    assert "m" in found.working[0]


def test_no_two_fixings_meet_and_one_that_is_moved_into_another_is_told():
    unit = designed(changed())
    assert findings(changed())["FIXINGS-CLASH:all"].status == "pass"
    screws = [f for f in unit.fixings if f.kind == "screw"]
    twin = replace(screws[0], id="twin", at=screws[0].at, joint="other")
    spoiled = replace(unit, fixings=(*unit.fixings, twin))
    found = next(f for f in fixing_findings(spoiled, CATALOGUE) if f.id.startswith("FIXINGS"))
    assert found.status == "fail"
    assert "twin" in " ".join(found.working)
