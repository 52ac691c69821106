"""Nothing is loose: what a hold has to take, what it takes, and what jobs come out as."""

from dataclasses import replace

import pytest
from restraint_jobs import CATALOGUE, unit

from stowright.formulas.restraint import RULE_SETS
from stowright.model.design import LooseThing
from stowright.proofs.loose import hold_demand_n, loose_findings

OPEN = '{fill = "open", name = "one"}'
TRAY = '{fill = "tray", name = "one", sides = 60}'
DECK = '[[deck]]\nover = ["drawers"]\nkind = "%s"'


def findings(design):
    return {f.id: f for f in loose_findings(design, CATALOGUE)}


@pytest.mark.parametrize(
    ("fill", "face", "force", "way"),
    [
        # 20 kg by F = a m g, g = 9.81, light-envelope 0.9 / 0.5 / 0.7
        ("open", "tail", 98.1, "0.5 g rearward"),
        ("open", "left", 137.34, "0.7 g sideways"),
        ("through", "tail", 176.58, "0.9 g forward"),
        ("through", "left", 137.34, "0.7 g sideways"),
        ("tray", "tail", 176.58, "0.9 g forward"),
    ],
)
def test_what_a_hold_has_to_take(fill, face, force, way):
    got = hold_demand_n(RULE_SETS["light-envelope"], mass_kg=20.0, fill=fill, face=face)
    assert got == (pytest.approx(force, rel=1e-3), way)


def test_what_stands_in_an_open_space_without_a_net_fails_with_a_net_that_was_tried():
    found = findings(unit(one=OPEN))["LOOSE:case:one"]
    assert found.status == "fail"
    assert any("net = true): passes at 0.33" in line for line in found.advice)


def test_with_a_net_it_is_held_as_far_as_the_net_goes():
    netted = OPEN.replace("}", ", net = true}")
    assert findings(unit(one=netted))["LOOSE:case:one"].status == "pass"
    assert findings(unit(one=netted, mass=90))["LOOSE:case:one"].status == "fail"


def test_what_rides_on_a_tray_gets_straps_that_are_bought():
    design = unit(one=TRAY, mass=31)
    found = findings(design)["LOOSE:case:one"]
    assert found.status == "pass"
    assert "cam-strap-25, 2" in " ".join(found.working)
    assert found.demand == pytest.approx(0.9 * 31.0 * 9.81, rel=1e-3)
    assert ("cam-strap-25", 2, "one: over case, ring to ring") in design.hardware


def test_a_space_of_which_nothing_is_said_is_not_proved():
    design = unit(one=OPEN)
    emptied = tuple(
        replace(b, openings=tuple(replace(o, carried=()) for o in b.openings))
        for b in design.blocks
    )
    found = findings(replace(design, blocks=emptied, loose=()))["LOOSE-SPACE:one"]
    assert found.status == "not proved"


def test_lift_out_deck_pieces_have_their_holds():
    found = findings(unit(more=DECK % "lift-out"))
    held = [f for name, f in found.items() if name.startswith("LOOSE:deck")]
    assert held
    assert all(f.status == "pass" and f.capacity == 400.0 for f in held)


def test_a_deck_says_what_its_cargo_could_be_tied_to():
    found = findings(unit(more=DECK % "fixed"))
    row = next(f for name, f in found.items() if name.startswith("DECK-CARGO"))
    assert row.status == "not proved"
    assert "not rated" in row.title


def test_an_unheld_piece_is_found():
    design = unit()
    assert findings(design)["LOOSE-PIECES"].status == "pass"
    back = next(p.id for p in design.placed if p.role == "carcass-back")
    cut = replace(
        design,
        joints=tuple(j for j in design.joints if back not in j.parts),
        fixings=tuple(f for f in design.fixings if back not in f.joins),
    )
    found = findings(cut)["LOOSE-PIECES"]
    assert found.status == "fail"
    assert any(back in line for line in found.working)


def test_a_hold_of_unknown_strength_is_not_proved():
    thing = LooseThing(what="lid", where="wing", mass_kg=3.0, held_by="felt-tape, 2")
    found = findings(replace(unit(), loose=(thing,)))["LOOSE:lid:wing"]
    assert found.status == "not proved"


def test_one_of_two_holds_is_counted():
    one = LooseThing(what="lid", where="wing", mass_kg=3.0, held_by="turn-catch, 1")
    two = replace(one, held_by="turn-catch, 2")
    capacity = [
        findings(replace(unit(), loose=(thing,)))["LOOSE:lid:wing"].capacity for thing in (one, two)
    ]
    assert capacity == [300.0, 300.0]


def test_people_in_the_same_space_want_a_rated_barrier_and_no_crash_is_claimed():
    found = findings(unit(people='[bay.people_space]\nbarrier = "none"'))["BARRIER"]
    assert found.status == "not proved"
    assert "rated barrier" in found.title
    assert sum("information only, nothing is claimed" in line for line in found.working) == 2
    assert "BARRIER" not in findings(unit(people='[bay.people_space]\nbarrier = "rated"'))
