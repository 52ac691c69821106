"""Nothing tips: while it is built, in use on a slope, the vehicle on its wheels."""

from dataclasses import replace

import pytest
from restraint_jobs import CATALOGUE, unit

from stowright.proofs.restraint_check import studied
from stowright.proofs.tipping import tipping_findings, use_when_out

VEHICLE = """
[vehicle]
wheelbase = 3000
rear_axle_x = %s
weighed = {front_axle = %s, rear_axle = 900}
limits = {total = 3000}
"""


def findings(design):
    return {f.id: f for f in tipping_findings(design, CATALOGUE)}


def heavier(design, name, kg):
    """Return the design with one drawer's own mass raised."""
    blocks = tuple(
        replace(
            b,
            openings=tuple(
                replace(o, gross_kg=o.gross_kg + kg) if o.name == name else o for o in b.openings
            ),
        )
        for b in design.blocks
    )
    return replace(design, blocks=blocks)


def test_a_carcass_stays_on_its_feet_while_it_is_built():
    found = findings(unit())["TIP-BUILD:drawers/1"]
    assert found.status == "pass"
    assert found.load_case.startswith("not anchored, level, empty")


def test_by_hand_about_the_face():
    design = unit()
    found = findings(design)["TIP-BUILD:drawers/1"]
    one = design.opening("one")
    edge = design.blocks[0].modules[0].box.x.low
    out = one.usable.centre[0] - one.runner.size.travel - edge
    moment = (one.gross_kg - one.contents_kg) * 9.81 * -out / 1000.0
    assert found.demand == pytest.approx(moment, rel=0.02)


def test_a_heavy_drawer_tips_it_and_the_weight_that_was_tried_is_told():
    found = findings(heavier(unit(), "one", 60.0))["TIP-BUILD:drawers/1"]
    assert found.status == "fail"
    assert found.advice[0] == "bolt it down before its first drawer goes in"
    assert "passes at 0.90" in found.advice[1]


def test_in_use_the_bolts_hold_it_on_a_slope():
    found = findings(unit(mass=60))["TIP-USE:drawers/1"]
    assert found.status == "pass"
    assert "20 %" in found.load_case
    assert any("information only, nothing is claimed: with 100 kg" in x for x in found.working)


def test_more_in_the_drawers_never_helps():
    design = unit(mass=60)
    uses = [
        use_when_out(studied(heavier(design, "one", kg), CATALOGUE).held[0])
        for kg in (0.0, 20.0, 80.0, 200.0)
    ]
    assert uses == sorted(uses)
    assert uses[0] < uses[-1]


def test_without_a_floor_weight_has_to_do_or_the_input_is_named():
    light = findings(unit(floor="", mass=1))["TIP-USE:drawers/1"]
    assert light.status in {"pass", "warn", "not proved"}
    heavy = findings(unit(floor="", mass=250))["TIP-USE:drawers/1"]
    assert heavy.status == "not proved"
    assert [need.partition(":")[0] for need in heavy.needs] == ["bay.floor"]


def test_the_vehicle_stands_on_its_wheels():
    found = findings(unit(more=VEHICLE % (600, 1100)))["TIP-VEHICLE:tail"]
    assert found.status == "pass"
    # vehicle: 2000 kg at 1650 mm ahead of the rear axle, 750 up; slope 11.31 degrees
    turn = 2000.0 * 9.81 * (1650.0 * 0.98058 - 750.0 * 0.19612) / 1000.0
    assert found.capacity == pytest.approx(turn, rel=0.1)
    assert any("750 mm above the ground" in line for line in found.assumed)


def test_a_light_front_and_a_long_overhang_fail():
    found = findings(unit(more=VEHICLE % (1400, 40), mass=400))["TIP-VEHICLE:tail"]
    assert found.status == "fail"


def test_without_a_vehicle_it_is_not_proved():
    found = findings(unit())["TIP-VEHICLE:tail"]
    assert found.status == "not proved"
    assert "vehicle" in found.needs[0]
