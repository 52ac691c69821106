"""Runners: ratings and named factors, end reactions, side push, the shut stop."""

from dataclasses import replace

import pytest
from structure_jobs import CATALOGUE, findings, found_in, indexed, job_text

from stowright.design.build import design
from stowright.formulas.runners import end_reactions_n
from stowright.jobfile import read_job
from stowright.model.geometry import Box, Span
from stowright.model.packed import PackedLoad, PackedThing
from stowright.proofs.push import mass_centre, pushes
from stowright.proofs.runner_fixings import runner_fixing_findings
from stowright.proofs.runners import runner_finding
from stowright.proofs.structure import structure_findings


def test_each_factor_on_a_rating_is_named_with_its_value():
    found = findings()["RUNNER:one"]
    line = next(line for line in found.working if "per pair" in line)
    assert "vehicle 0.5" in line
    assert "width" in line
    assert any("basis of the rating" in each for each in found.working)


def test_a_factor_that_the_job_changes_changes_what_is_allowed():
    usual = findings()["RUNNER:one"].capacity
    own = findings(build="runner_factors = {vehicle = 0.6}")["RUNNER:one"].capacity
    assert own == pytest.approx(usual * 0.6 / 0.5)


def test_an_opening_can_have_factors_of_its_own():
    found = findings(more="runner_factors = {vehicle = 1.0}")
    assert found["RUNNER:one"].capacity == pytest.approx(2.0 * findings()["RUNNER:one"].capacity)
    assert "vehicle 0.5" in " ".join(found["RUNNER:two"].working)


def test_a_load_to_one_side_loads_one_runner_more():
    """Statics by hand: M at e off the middle of a width w puts M (1/2 + e/w) on the near side."""
    index = indexed(job_text(mass=20))
    opening = index.openings()[0][1]
    middle, inside = opening.usable.y.middle, opening.usable
    found = {}
    for off in (0.0, 100.0, -100.0):
        y = Span(low=middle + off - 50.0, high=middle + off + 50.0)
        box = Box(x=inside.x, y=y, z=inside.z)
        thing = PackedThing(
            what="case", copy=1, opening=opening.name, at=(0.0, 0.0, 0.0), size=(100.0, 1.0, 1.0),
            box=box, mass_kg=20.0, stands=1.0, used="trip",
        )  # fmt: skip
        laden = replace(index.design, packed=PackedLoad(things=(thing,)))
        found[off] = runner_finding(replace(index, design=laden), opening, opening.runner)
    more = 2.0 * 20.0 * 100.0 / opening.box.width
    assert found[100.0].demand == pytest.approx(found[0.0].demand + more, abs=1e-3)  # as rounded
    assert found[-100.0].demand == found[100.0].demand
    assert "heavier side" in " ".join(found[100.0].working)
    assert "heavier side" not in " ".join(found[0.0].working)


def test_an_overloaded_pair_is_told_what_was_tried():
    found = findings(mass=110)["RUNNER:one"]
    assert found.status == "fail"
    assert any("passes at" in advice for advice in found.advice)
    assert any("taken out" in advice for advice in found.advice)


def test_what_is_advised_to_take_out_brings_it_to_nine_tenths():
    found = findings(mass=110)["RUNNER:one"]
    line = next(advice for advice in found.advice if "taken out" in advice)
    left = found.demand - float(line.split()[0])
    # taken out in whole kilograms, so a little below
    assert 0.9 - 1.0 / found.capacity <= left / found.capacity <= 0.9


def test_without_a_stated_lateral_rating_the_side_push_is_not_proved_and_a_guide_is_proposed():
    found = findings()["RUNNER-SIDEWAYS:one"]
    assert found.status == "not proved"
    assert "lateral rating" in found.needs[0]
    assert "guide" in found.advice[0]
    assert "stop" in found.advice[1]


def test_what_a_maker_states_is_entered_in_the_job_and_counts():
    # 0.7 g sideways and 0.9 g towards the back on the gross mass, against working loads
    gross = indexed(job_text(mass=20)).openings()[0][1].gross_kg
    own = findings(mass=20, build="runner_stated = {lateral = 900, stop = 700}")
    side, stop = own["RUNNER-SIDEWAYS:one"], own["RUNNER-STOP:one"]
    assert (side.demand, side.capacity) == (pytest.approx(0.7 * gross * 9.81, rel=1e-3), 900.0)
    assert (stop.demand, stop.capacity) == (pytest.approx(0.9 * gross * 9.81, rel=1e-3), 700.0)
    weak = findings(mass=20, build='back = "none"\nrunner_stated = {lateral = 90, stop = 70}')
    assert {weak[code].status for code in ("RUNNER-SIDEWAYS:one", "RUNNER-STOP:one")} == {"fail"}
    assert weak["RUNNER-SIDEWAYS:one"].standing != "published"


def test_a_stop_that_is_stated_too_weak_leaves_it_to_the_carcass_back():
    found = findings(mass=20, build="runner_stated = {stop = 70}")["RUNNER-STOP:one"]
    assert found.status == "pass"
    assert "second line" in " ".join(found.working)


def test_a_lock_that_the_maker_states_holds_the_drawer_shut():
    usual = findings(mass=20)["LATCH:one"]
    own = findings(mass=20, build="runner_stated = {lock = 800}")["LATCH:one"]
    assert own.capacity == pytest.approx(2.0 * usual.capacity)


def test_an_opening_can_have_runners_of_its_own_strength():
    found = findings(more="runner_stated = {lateral = 900}")
    assert found["RUNNER-SIDEWAYS:one"].status == "pass"
    assert found["RUNNER-SIDEWAYS:two"].status == "not proved"


def test_stops_on_the_carcass_back_are_the_second_line_and_are_bought():
    found = findings()["RUNNER-STOP:one"]
    assert found.status == "pass"
    assert "second line" in " ".join(found.working)
    rows = indexed(job_text()).design.hardware
    assert any(name == "bump-stop-10" and where.startswith("one") for name, _, where in rows)


def test_the_shut_stop_is_not_proved_without_a_rating_or_a_back_and_a_block_is_proposed():
    found = findings(build='back = "none"')["RUNNER-STOP:one"]
    assert found.status == "not proved"
    assert "build.runner_stated.stop" in found.needs[0]
    assert "block" in found.advice[0]


def test_an_overlay_front_bears_on_the_carcass():
    assert findings(build='front = "overlay"')["RUNNER-STOP:one"].status == "pass"


def test_end_reactions_follow_the_lever():
    # handbook R2 by the same statics: front W (1 + e/s), rear W e/s, with the job's own lengths
    index = indexed(job_text(mass=20))
    block, opening = index.openings()[0]
    fit = opening.runner
    found = found_in(job_text(mass=20))["RUNNER-FIXINGS:one/upright"]
    weight = opening.gross_kg * 9.81 / 2.0
    start = min(
        fixing.at[0]
        for joint in index.joints[opening.bounds[0]]
        if joint.kind == "runner" and joint.parts[1].startswith("one/")
        for fixing in index.fixings[joint.id]
    )
    arm = fit.size.travel - (mass_centre(index, block, opening) - start)
    front = end_reactions_n(load_n=weight, arm_mm=arm, overlap_mm=fit.size.overlap).front_up_n
    assert found.load_case == "fully open, at rest, front bearing"
    assert found.demand == pytest.approx(front * found.factor, rel=0.02)


def test_more_mass_never_leaves_more_margin():
    for code in ("RUNNER:one", "RUNNER-FIXINGS:one/upright", "RUNNER-FIXINGS:one/side"):
        rows = [findings(mass=mass)[code].utilisation for mass in (5, 20, 45)]
        assert rows == sorted(rows), code


def test_rough_roads_ask_more_of_the_screws_that_are_shut():
    def shut(road):
        text = " ".join(findings(road=road)["RUNNER-FIXINGS:one/upright"].working)
        return float(text.split(f"shut, road {road}:")[1].split("instantaneous: ")[1].split()[0])

    assert shut("rough") >= shut("sealed")


def test_screws_beyond_the_proved_fraction_are_not_proved_and_longer_ones_are_tried():
    found = findings(mass=30, build='drawer = "birch-12"')["RUNNER-FIXINGS:one/side"]
    assert found.status == "not proved"
    assert found.utilisation > 1.0
    assert "test" in found.needs[0]
    # two 10 gauge screws 7 d = 34 mm apart fill an end's 60 mm: no third is advised
    assert not any("more pan" in advice for advice in found.advice)
    assert any("which takes pan-10g-15, passes at" in advice for advice in found.advice)


def test_a_drawer_to_the_side_is_pushed_along_by_cornering_and_across_by_braking():
    rules = indexed(job_text()).rules
    tail, side = pushes(rules, "tail"), pushes(rules, "left")
    assert (tail.opening, tail.shutting, tail.across) == (0.5, 0.9, 0.7)
    assert (side.opening, side.shutting, side.across) == (0.7, 0.7, 0.9)
    assert side.names[2] == "braking"


def test_without_a_carry_list_nothing_is_claimed_about_loads():
    found = findings(carry=False)
    for code in ("RUNNER:one", "RUNNER-FIXINGS:one/side", "LATCH:one", "BOTTOM-STRESS:one"):
        assert found[code].status == "not proved"
        assert "carry" in found[code].needs[0]
    assert "may carry" in found["RUNNER:one"].advice[0]
    assert "may carry" in found["BOTTOM-STRESS:one"].advice[0]


def test_runners_that_lie_flat_lose_three_quarters_and_push_no_upright():
    side = CATALOGUE.runner("heavy-76-lock")
    flat = replace(side, name="flat-76", mount="flat")
    shelf = replace(CATALOGUE, runners=(*CATALOGUE.runners, flat))
    unit = design(read_job(job_text(mass=5, build='runner = "flat-76"')), shelf)
    found = {each.id: each for each in structure_findings(unit, shelf)}
    assert "flat 0.25" in found["RUNNER:one"].working[1]
    assert not any(code.startswith("UPRIGHT-PUSHED") for code in found)
    assert "RUNNER-FIXINGS:one/floor" in found


def test_a_rating_for_one_length_is_derated_on_a_longer_one():
    side = CATALOGUE.runner("heavy-76-lock")
    rated = replace(side, name="rated-450", basis_length=450.0)
    shelf = replace(CATALOGUE, runners=(*CATALOGUE.runners, rated))
    unit = design(read_job(job_text(mass=5, build='runner = "rated-450"')), shelf)
    found = {each.id: each for each in structure_findings(unit, shelf)}["RUNNER:one"]
    length = unit.opening("one").runner.size.length
    assert f"length {450.0 / length:.3g}" in found.working[1]
    off = job_text(mass=5, build='runner = "rated-450"\nrunner_factors = {length = false}')
    told = structure_findings(design(read_job(off), shelf), shelf)
    without = {each.id: each for each in told}["RUNNER:one"]
    assert "length" not in without.working[1].split("per pair")[1]


def test_a_slim_runner_at_the_height_of_the_groove_is_told_how_far_to_raise_it():
    def side(build):
        unit = design(read_job(job_text(mass=2, build=f'runner = "slim-45"\n{build}')), CATALOGUE)
        found = {each.id: each for each in structure_findings(unit, CATALOGUE)}
        return found["RUNNER-FIXINGS:one/side"]

    (need,) = side("").needs
    # 22.5 lies 0.8 over a groove from 10 to 21.7; 4.5 are kept beside it: 3.7, a whole mm up
    assert "meets the groove" in need
    assert "build.runner_up: 4 mm more" in need
    assert side("runner_up = 4").status in {"pass", "warn", "fail"}


def test_a_runner_is_held_as_by_the_upright_that_has_fewer_of_its_screws():
    """On a partition two runners share the holes: the side's full row may not speak for it."""
    text = job_text(mass=30).replace('"drawers"\n', '"drawers"\nmodules = "shared"\n', 1)
    index = indexed(text)
    for _, opening in index.openings():
        ends = {}
        for upright in opening.bounds[:2]:
            xs = [
                each.at[0]
                for joint in index.joints[upright]
                if joint.kind == "runner" and joint.parts[1].startswith(f"{opening.name}/")
                for each in index.fixings[joint.id]
            ]
            ends[upright] = sum(1 for x in xs if x - min(xs) <= 60.0)
        found = found_in(text)[f"RUNNER-FIXINGS:{opening.name}/upright"]
        shared = next(line for line in found.working if "share it" in line)
        assert shared.startswith(f"{min(ends.values())} ")


def test_left_and_right_uprights_are_judged_alike():
    """A panel that touches an upright holds its top on either hand, whatever a float rounds to."""
    text = job_text(mass=15, build='top = "panel"', deck=False)
    found = found_in(text)
    for module in ("1", "2"):
        one, two = (
            found[f"UPRIGHT-PUSHED:drawers/{module}/side-{hand}"] for hand in ("left", "right")
        )
        assert one.demand == pytest.approx(two.demand)
        assert not any("between 2 rails" in line for line in (*one.working, *two.working))


def test_an_upright_without_a_screw_does_not_hide_that_the_other_one_fails():
    index = indexed(job_text(mass=300, build='carcass = "birch-18"'))
    (block, opening), *_ = index.openings()

    def judged(bare):
        joints = {
            name: [] if name == opening.bounds[bare] else rows
            for name, rows in index.joints.items()
        }
        robbed = replace(index, joints=joints)
        return next(iter(runner_fixing_findings(robbed, block, opening, opening.runner)))

    whole = next(iter(runner_fixing_findings(index, block, opening, opening.runner)))
    assert whole.status == "fail"
    for bare in (0, 1):
        assert judged(bare).status == "fail"
