"""Axles in every case, moves that are told because they were tried, two slips that agree."""

import re
from pathlib import Path

import pytest

from stowright.app.loading import load_job
from stowright.app.plan_mass import vehicle_data
from stowright.app.planning import design_job
from stowright.catalogue import load_catalogue
from stowright.design.build import design
from stowright.jobfile import read_job
from stowright.proofs.axle_cases import Item, axle_cases, scales_of, second_slip
from stowright.proofs.vehicle import centre_heights, vehicle_findings

BAY = """
[job]
title = "Axles"
[bay]
kind = "tub"
length = 1500
width = 1400
rail = 500
[[bay.opening]]
face = "tail"
width = 1330
above_ground = 820
"""
VEHICLE = """
[vehicle]
wheelbase = 3200
rear_axle_x = 600
weighed = {{front_axle = 1150, rear_axle = 900}}
limits = {{front_axle = 1500, rear_axle = {rear}, total = {total}}}
people = [{{mass = 80, x = 2400}}, {{mass = 70, x = 2400}}]
{more}
"""
REST = """
[[carry]]
what = "case"
size = [400, 300, 200]
mass = 60
goes_in = "one"
[[block]]
name = "drawers"
columns = [{stack = [{fill = "drawer", name = "one"}]}, {stack = [{fill = "drawer"}]}]
"""
CATALOGUE = load_catalogue()
EXAMPLES = Path(__file__).parents[2] / "examples"


def unit(rear=1800, total=3200, more=""):
    text = BAY + VEHICLE.format(rear=rear, total=total, more=more) + REST
    return design(read_job(text), CATALOGUE)


def found(made):
    return {finding.id: finding for finding in vehicle_findings(made)}


def test_cases_are_the_unit_alone_driver_only_full_and_full_with_ball():
    names = [case.name for case in axle_cases(unit(more="tow_ball = {mass = 80, x = -1200}"))]
    assert names == [
        "as weighed",
        "unit alone",
        "driver only, unit full",
        "full",
        "driver only, unit full, with ball",
        "full, with ball",
    ]
    assert len(axle_cases(unit())) == 4


def test_each_case_is_the_moment_balance_by_hand():
    made = unit(more="tow_ball = {mass = 80, x = -1200}")
    full = axle_cases(made)[-1]
    # restraint handbook 4.1: dR = m x / L behind the front axle, here at x = 3800
    rear = 900.0
    rear += (80 + 70) * (3800 - 2400) / 3200
    rear += 80 * (3800 + 1200) / 3200
    rear += made.empty_kg * (3800 - made.centre_empty[0]) / 3200
    rear += 60 * (3800 - made.opening("one").usable.centre[0]) / 3200
    total = 1150 + 900 + 150 + 80 + made.empty_kg + 60
    assert full.rear == pytest.approx(rear)
    assert full.total == pytest.approx(total)


def test_what_found_no_place_is_on_the_axles_all_the_same():
    """A drum that fits nowhere has to go in: 110 kg are not left off the scales for that."""
    drum = """
[[carry]]
what = "drum"
size = [600, 600, 900]
mass = 55
quantity = 2
goes_in = "one"
"""
    text = BAY + VEHICLE.format(rear=1800, total=3200, more="") + REST
    made, usual = (design_job(read_job(each)) for each in (text + drum, text))
    assert not any(what == "drum" for o in made.blocks[0].openings for what, _ in o.carried)
    full, plain = axle_cases(made)[3], axle_cases(usual)[3]
    assert full.total == pytest.approx(plain.total + 110.0)
    x = made.opening("one").usable.centre[0]
    assert full.rear == pytest.approx(plain.rear + 110.0 * (600 + 3200 - x) / 3200)
    assert any(
        "drum (no place yet): 110.0 kg" in line for line in found(made)["VEHICLE-REAR"].working
    )
    assert second_slip(made) is None


def test_people_who_were_weighed_are_not_added_and_the_driver_alone_takes_the_others_off():
    made = unit(more="people_in_weighed = true")
    _, alone, driver, full = axle_cases(made)
    assert full.total == pytest.approx(2050 + made.empty_kg + 60)
    assert full.total - driver.total == pytest.approx(70)
    assert alone.total == pytest.approx(2050 + made.empty_kg)


def test_a_margin_is_the_limit_less_the_mass_and_the_reserve_counts_once():
    made = unit()
    mass = max(case.rear for case in axle_cases(made))
    just = unit(rear=mass / 0.9 + 0.01)
    assert found(just)["VEHICLE-REAR"].status == "pass"
    assert found(unit(rear=mass / 0.9 - 0.1))["VEHICLE-REAR"].status == "warn"
    assert found(unit(rear=mass + 0.01))["VEHICLE-REAR"].status == "warn"
    assert found(unit(rear=mass - 0.1))["VEHICLE-REAR"].status == "fail"


def test_a_move_that_is_told_does_bring_the_axle_to_nine_tenths():
    made = unit()
    rear = max(case.rear for case in axle_cases(made))
    tight = unit(rear=(rear - 5.0) / 0.9)
    advice = found(tight)["VEHICLE-REAR"].advice
    moved = re.match(r"move (\d+) kg in one (\d+) mm forward: (\d+) kg", advice[0])
    mass, far = float(moved[1]), float(moved[2])
    scales, case = scales_of(tight), axle_cases(tight)[3]
    assert case.rear - mass * far / scales.wheelbase <= rear - 5.0 + 1e-9
    # half of it would not do, so it is not told too large
    assert case.rear - (mass - 5.0) * far / scales.wheelbase > rear - 5.0
    assert any(line.startswith("take ") for line in advice)


def test_what_is_to_be_taken_out_is_enough_and_a_kilogram_less_is_not():
    made = unit()
    total = axle_cases(made)[3].total
    tight = unit(total=(total - 12.5) / 0.9)
    advice = found(tight)["VEHICLE-TOTAL"].advice
    assert advice == (f"take 13 kg out: {total:.0f} kg becomes {total - 13:.0f} kg",)


def test_when_nothing_carried_helps_it_says_so():
    advice = found(unit(total=2000))["VEHICLE-TOTAL"].advice
    assert "even with nothing in the unit" in advice[0]


def test_a_heavy_ball_unloads_the_steered_axle():
    ball = "tow_ball = {mass = 900, x = -2500}"
    finding = found(unit(more=ball))["VEHICLE-STEERING"]
    assert finding.status in {"warn", "fail"}
    assert finding.load_case == "driver only, unit full, with ball"
    assert finding.advice


def slip(front, rear, more=""):
    return f"weighed_after = {{front_axle = {front}, rear_axle = {rear}{more}}}"


def test_a_second_slip_that_agrees_passes_and_one_that_does_not_says_where_to_look():
    expected = second_slip(unit(more=slip(1, 1)))
    good = found(unit(more=slip(round(expected.front), round(expected.rear))))
    assert good["SLIP-FRONT"].status == good["SLIP-REAR"].status == "pass"
    # 60 kg more at the rear axle itself, read to whole kilograms: within 30 mm of it
    off = found(unit(more=slip(round(expected.front), round(expected.rear) + 60)))
    assert off["SLIP-FRONT"].status == "pass"
    assert off["SLIP-REAR"].status == "fail"
    assert re.search(
        r"(59|60|61) kg more than computed, as if at x = (5[789]\d|6[012]\d) mm", str(off)
    )


def test_the_second_slip_counts_contents_and_people_only_when_they_were_on_board():
    empty = second_slip(unit(more=slip(1, 1)))
    loaded = second_slip(unit(more=slip(1, 1, ", loaded = true, people = 1")))
    assert loaded.total - empty.total == pytest.approx(60 + 80)


def test_the_plan_holds_before_after_cases_and_what_the_unit_changed():
    made = unit(more="centre_height = 700")
    data = vehicle_data(made.job, made)
    assert data["after"]["rear_axle"] == pytest.approx(axle_cases(made)[-1].rear, abs=1e-3)
    assert data["unit_change"]["total"] == pytest.approx(made.empty_kg, abs=1e-3)
    assert data["before"]["total"] == pytest.approx(2050 + 150)
    assert data["margins"]["total"] == pytest.approx(3200 - data["total"], abs=1e-3)
    own, before, after = centre_heights(made)
    assert own == pytest.approx(820 + made.centre[2])
    assert before < after < own


@pytest.mark.parametrize("name", ["VEHICLE-FRONT", "VEHICLE-REAR", "VEHICLE-TOTAL"])
def test_more_mass_never_raises_a_margin(name):
    # the drawers lie between the axles and behind the rear one; the front axle may only be relieved
    # by what stands behind the rear axle, so each is asked with the load ahead of it
    texts = [
        BAY
        + VEHICLE.format(rear=1800, total=3200, more="").replace("rear_axle_x = 600", axle)
        + REST.replace("mass = 60", f"mass = {mass}")
        for axle in ("rear_axle_x = -200",)
        for mass in (1, 20, 60)
    ]
    demands = [found(design(read_job(text), CATALOGUE))[name].demand for text in texts]
    assert demands == sorted(demands)


@pytest.mark.parametrize("mass", [0.0, 10.0, 250.0])
@pytest.mark.parametrize("x", [-500.0, 600.0, 2500.0])
def test_a_move_forward_never_loads_the_rear_axle(mass, x):
    scales = scales_of(unit())
    at, ahead = (
        scales.case("", (Item(what="", kind="also", mass=mass, x=place),)) for place in (x, x + 300)
    )
    assert ahead.rear <= at.rear
    assert ahead.total == pytest.approx(at.total)


def test_a_vehicle_without_people_is_told():
    text = BAY + VEHICLE.format(rear=1800, total=3200, more="") + REST
    alone = re.sub(r"people = .*\n", "", text)
    finding = found(design(read_job(alone), CATALOGUE))["VEHICLE-TOTAL"]
    assert finding.standing == "assumed"
    assert "nobody on board" in finding.assumed[0]


def test_height_is_not_known_without_the_doorway():
    text = BAY.replace("above_ground = 820\n", "")
    made = design(read_job(text + VEHICLE.format(rear=1800, total=3200, more="") + REST), CATALOGUE)
    assert centre_heights(made) == (None, None, None)


@pytest.mark.parametrize("name", ["pickup", "wagon"])
def test_what_is_carried_stands_where_it_is_packed(name):
    # the items of a case have the mass and the centre that the design has
    made = design_job(load_job(EXAMPLES / name / "job.toml"))
    carried = [item for item in axle_cases(made)[3].items if item.kind in {"unit", "contents"}]
    assert len(carried) > 2
    mass = sum(item.mass for item in carried)
    assert mass == pytest.approx(made.empty_kg + made.contents_kg)
    assert sum(item.mass * item.x for item in carried) / mass == pytest.approx(made.centre[0])
