"""Drawers stay shut and open; contents do not break out of them.

Demands by the restraint handbook, check 16: 40 kg at 0.5 g asks 196.2 N of a latch, 20 % of slope
76.96 N.
"""

import pytest
from structure_jobs import findings, found_in, indexed, job_text

from stowright.formulas.slopes import grade_angle_deg, latch_demand_n


def test_check_16_of_the_restraint_handbook():
    assert latch_demand_n(mass_kg=40.0, fraction=0.5) == pytest.approx(196.2, abs=0.05)
    slope = latch_demand_n(mass_kg=40.0, fraction=0.0, angle_deg=grade_angle_deg(grade_percent=20))
    assert slope == pytest.approx(76.96, abs=0.01)


def test_the_latch_takes_the_gross_mass_in_the_opening_direction():
    index = indexed(job_text(mass=20))
    gross = index.design.opening("one").gross_kg
    found = found_in(job_text(mass=20))["LATCH:one"]
    assert found.demand == pytest.approx(0.5 * gross * 9.81, rel=1e-4)
    assert "light-envelope" in found.load_case
    assert any("20 %" in line for line in found.working)
    assert any("one of a pair" in line for line in found.working)


def test_a_latch_too_weak_is_told_one_of_the_shelf_that_holds():
    found = findings(mass=90)["LATCH:one"]
    assert found.status == "fail"
    assert "passes at" in found.advice[0]


def test_the_shut_tailgate_is_a_second_line_of_defence():
    assert findings()["LATCH-SECOND:one"].status == "pass"


def test_without_tailgate_or_second_latch_there_is_no_second_line():
    found = findings(tailgate=False)["LATCH-SECOND:one"]
    assert found.status == "not proved"
    assert "strap" in found.advice[0]


def test_a_runner_without_locks_leaves_the_drawer_to_roll_and_says_what_would_hold_it():
    found = findings(build='runner = "heavy-76"')
    assert found["STAYS-OPEN:one"].status == "not proved"
    assert "lock" in found["STAYS-OPEN:one"].needs[0]
    assert found["STAYS-OPEN:one"].advice


def test_no_lock_asked_for_means_that_none_is_counted():
    found = findings(more='lock = "none"')["LATCH:one"]
    assert not any("held by the lock" in line for line in found.working)
    plain = findings()["LATCH:one"]
    assert any("held by the lock" in line for line in plain.working)


def test_an_open_lock_is_held_against_the_slope():
    found = findings()["STAYS-OPEN:one"]
    assert found.status == "pass"
    assert "20 %" in found.load_case


def test_contents_push_the_back_when_braking_and_the_front_when_pulling_away():
    found = findings(mass=20)
    back, front = found["BACK-JOINT:one"], found["FRONT-JOINT:one"]
    assert back.demand == pytest.approx(1.5 * 0.9 * 20 * 9.81, rel=1e-4)
    assert front.demand == pytest.approx(1.5 * 0.5 * 20 * 9.81, rel=1e-4)
    assert (back.family, found["BACK-PANEL:one"].family) == (7, 10)


def test_the_back_bends_more_under_a_harder_rule_set():
    envelope = findings(rules="light-envelope")["BACK-PANEL:one"].demand
    milder = findings(rules="en-12195")["BACK-PANEL:one"].demand
    assert envelope == pytest.approx(milder * 0.9 / 0.8, rel=1e-3)


def test_glue_and_screws_are_never_added():
    found = findings()["BACK-JOINT:one"]
    assert any("not added" in line for line in found.working)


@pytest.mark.parametrize("code", ["LATCH:one", "BACK-PANEL:one", "BACK-JOINT:one"])
def test_more_mass_never_leaves_more_margin(code):
    rows = [findings(mass=mass)[code].utilisation for mass in (5, 20, 45)]
    assert rows == sorted(rows)
