"""People and danger: filters by height and reach, carrying in, sleepers, what is never proved."""

import re

import pytest
from use_jobs import changed, designed, findings

VAN = (
    ('kind = "tub"', 'kind = "van"'),
    ("above_ground = 800", "above_ground = 800\nopens_inside = true"),
)


def test_a_lift_higher_up_is_allowed_less():
    low, high = (
        findings(changed(("above_ground = 800", f"above_ground = {z}")))["LIFT:tools"]
        for z in (500, 1300)
    )
    assert low.capacity > high.capacity
    assert low.status == "pass"


def test_an_open_space_is_reached_at_arms_length():
    text = changed(('{fill = "drawer", name = "tools"}', '{fill = "open", name = "tools"}'))
    found = findings(text)
    assert "arm's length" in found["LIFT:tools"].load_case
    # the daily saw case lies in a space deeper than an arm
    assert found["REACH:tools"].status == "fail"
    assert "REACH:tools" not in findings(changed())


def test_what_three_cannot_lift_within_the_filter_asks_for_an_assessment():
    found = findings(changed(("mass = 14", "mass = 45")))["LIFT:tools"]
    assert found.status == "not proved"
    assert "assessment" in found.needs[0]


def test_without_the_height_above_ground_nothing_is_said_about_lifting():
    found = findings(changed(("above_ground = 800\n", "")))["LIFT:tools"]
    assert found.status == "not proved"
    assert "above_ground" in found.needs[0]


def test_push_on_a_slope_is_by_hand():
    found = findings(changed())["PUSH:tools"]
    gross = designed(changed()).opening("tools").gross_kg
    # m g (sin + 0.01 cos) on 20 %: 76.96 N for 40 kg without friction (restraint handbook, 16)
    assert found.demand == pytest.approx(gross * (76.96 / 40.0 + 9.81 * 0.01 * 0.98058), rel=1e-3)


def test_what_has_to_come_out_of_a_heavy_drawer_is_rounded_to_the_safe_side():
    # several masses, as one alone could round that way by chance
    for mass in (75.1, 75.3, 75.5, 75.7, 75.9):
        found = findings(changed(("mass = 14", f"mass = {mass}")))["PUSH:tools"]
        assert found.status == "fail"
        most, out = (int(number) for number in re.findall(r"(\d+) kg", found.advice[0]))
        gross = designed(changed(("mass = 14", f"mass = {mass}"))).opening("tools").gross_kg
        for left in (most, gross - out):
            assert found.demand * left / gross <= 0.9 * found.capacity


def test_a_carcass_is_weighed_without_its_drawers():
    unit = designed(changed())
    module = unit.blocks[0].modules[0]
    found = findings(changed())["CARRY-IN:drawers/1"]
    assert found.demand < module.mass_kg
    assert found.capacity == 50.0


def test_a_heavy_lift_out_piece_fails_and_says_how_many_pieces():
    text = changed(("below_rail = 45", 'below_rail = 45\nkind = "lift-out"'))
    found = [f for name, f in findings(text).items() if name.startswith("LIFT-OUT")]
    assert found
    assert all(f.status in {"pass", "warn"} for f in found)
    high = text.replace("above_ground = 800", "above_ground = 1300")
    worse = [f for name, f in findings(high).items() if name.startswith("LIFT-OUT")]
    assert all(f.capacity < 10.0 for f in worse)
    assert any(re.search(r"in \d pieces of [\d.]+ kg", " ".join(f.advice)) for f in worse)


@pytest.mark.parametrize(("roof", "status"), [(1250, "pass"), (1054, "warn"), (1000, "fail")])
def test_a_sleeper_needs_room_to_roll_over(roof, status):
    # deck at 455, 600 to roll over, reading error 2
    text = changed(
        ("below_rail = 45", "below_rail = 45\nsleeper = 1300"),
        ("clear_height = 1250", f"clear_height = {roof}"),
        ("height = 900", "height = 600"),
    )
    assert findings(text)["HEADROOM:deck"].status == status


def test_without_a_sleeper_headroom_is_only_told():
    found = findings(changed())["HEADROOM:deck"]
    assert found.status == "not proved"
    assert "deck to roof" in " ".join(found.working)


def test_a_bed_is_75_longer_than_its_sleeper():
    short = findings(changed(("below_rail = 45", "below_rail = 45\nsleeper = 1400")))
    assert short["BED-LENGTH:deck"].status == "fail"
    assert short["BED-LENGTH:deck"].demand == 1475.0
    fits = findings(changed(("below_rail = 45", "below_rail = 45\nsleeper = 1330")))
    assert fits["BED-LENGTH:deck"].status == "pass"


@pytest.mark.parametrize(
    ("said", "status"), [("", "not proved"), ("true", "pass"), ("false", "fail")]
)
def test_a_sleeper_needs_a_door_that_opens_from_inside(said, status):
    more = f"\nopens_inside = {said}" if said else ""
    text = changed(
        ("below_rail = 45", "below_rail = 45\nsleeper = 1300"),
        ("above_ground = 800", f"above_ground = 800{more}"),
    )
    found = findings(text)["WAY-OUT:deck"]
    assert found.status == status
    assert status == "pass" or "from inside" in found.advice[0]


@pytest.mark.parametrize("hazard", ["gas", "fuel", "battery", "aerosol"])
def test_danger_is_never_more_than_not_proved_and_asks_for_three_things(hazard):
    text = changed(("keep_upright = true", f'keep_upright = true\nhazard = "{hazard}"'))
    for more in ("", ", vent = 100"):
        vented = text.replace('name = "stores"}', f'name = "stores"{more}}}')
        found = findings(vented)["HAZARD:food box"]
        assert found.status == "not proved"
        told = " ".join(found.advice)
        for word in ("vent", "seal it from living space", "away from heat"):
            assert word in told


def test_people_in_the_same_space_are_told_and_a_bulkhead_parts_them():
    gas = ("keep_upright = true", 'keep_upright = true\nhazard = "gas"')
    space = '\n[bay.people_space]\nbarrier = "%s"\n\n[vehicle]'
    shared = findings(changed(gas, ("\n[vehicle]", space % "rated")))
    assert shared["HAZARD-PEOPLE:food box"].status == "not proved"
    parted = findings(changed(gas, ("\n[vehicle]", space % "bulkhead")))
    assert "HAZARD-PEOPLE:food box" not in parted
    asleep = findings(changed(gas, ("below_rail = 45", "below_rail = 45\nsleeper = 1300")))
    assert "sleeps" in asleep["HAZARD-PEOPLE:food box"].load_case
