"""A job for the next vehicle, and mirrored."""

from collections import Counter
from pathlib import Path

import pytest

from stowright.app.edits import tables_of
from stowright.app.loading import load_catalogue, load_job
from stowright.app.other_vehicle import for_vehicle, mirrored
from stowright.design.build import design
from stowright.errors import JobError
from stowright.proofs import prove

SHELF = load_catalogue()
EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*/job.toml"))


def made(text):
    return design(load_job(text.encode(), catalogue=SHELF), SHELF)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.parent.name)
def test_mirrored_twice_is_as_it_was(path):
    text = path.read_text()
    assert tables_of(mirrored(mirrored(text))) == tables_of(text)


@pytest.mark.parametrize("name", ["pickup", "van"])
def test_a_mirrored_job_has_the_same_sizes_on_the_other_side(name):
    text = next(path for path in EXAMPLES if path.parent.name == name).read_text()
    one, two = made(text), made(mirrored(text))
    pieces = [sorted((p.role, p.length, p.width) for p in unit.placed) for unit in (one, two)]
    assert pieces[0] == pieces[1]
    for a in (o for block in one.blocks for o in block.openings):
        b = two.opening(a.name)
        assert b.clear.y.low == pytest.approx(-a.clear.y.high, abs=1e-6)
        assert b.clear.x.low == pytest.approx(a.clear.x.low, abs=1e-6)


SIDED = """
format = 1
[job]
title = "Everything has its side"
[bay]
kind = "tub"
length = 1500
width = 1430
rail = 500
no_drill = [{what = "loom", surface = "left", x = [0, 500], z = [100, 300]}]
anchors = [{what = "eye", surface = "right", x = 1300, z = 300, tension = 3000, shear = 3000}]
[[carry]]
what = "pump"
size = [420, 380, 300]
mass = 22
on = "deck"
at = [600, 200]
lash = {count = 4, to = ["left rail", "eye"]}
[[carry]]
what = "hoses"
size = [400, 300, 150]
mass = 9
goes_in = "drawer 1"
[[block]]
name = "low"
place = {word = "left", beside = ""}
y = ["2 in", 690]
columns = [{width = 280, stack = [{}]}, {stack = [{height = 120}, {}]}]
[[deck]]
over = ["low"]
rails = [{side = "left", rating = 1500}, {side = "tail", name = "strip", rating = 1500}]
"""


def test_what_is_called_by_its_place_is_called_by_the_new_one():
    """Rails, what rides on the deck and what lies in an opening without a name change sides too."""
    there = tables_of(mirrored(SIDED))
    assert there["block"][0]["place"]["word"] == "right"
    assert there["block"][0]["y"] == [-690, "-2 in"]
    assert [rail["side"] for rail in there["deck"][0]["rails"]] == ["right", "tail"]
    pump, hoses = there["carry"]
    assert pump["at"] == [600, -200]
    assert pump["lash"]["to"] == ["right rail", "eye"]
    assert hoses["goes_in"] == "drawer 3"
    assert [there["bay"][key][0]["surface"] for key in ("no_drill", "anchors")] == ["right", "left"]
    assert tables_of(mirrored(mirrored(SIDED))) == tables_of(SIDED)


def test_a_mirrored_job_is_proved_alike():
    """As many proofs of each kind pass, fail and warn, and the same mass stands at the same x."""
    units = [made(SIDED), made(mirrored(SIDED))]
    told = [
        Counter((found.id.split(":")[0], found.status) for found in prove(unit, SHELF, builds=1000))
        for unit in units
    ]
    assert told[0] == told[1]
    assert units[0].empty_kg == pytest.approx(units[1].empty_kg, abs=1e-6)
    here, there = (unit.deck_cargo[0].box for unit in units)
    assert there.x == here.x
    assert there.y.low == pytest.approx(-here.y.high)


def test_a_job_in_the_next_vehicle_keeps_its_choices():
    own, other = (
        next(path for path in EXAMPLES if path.parent.name == name).read_text()
        for name in ("pickup", "pickup-inches")
    )
    record = '\n[[spoiled]]\nmark = "A1"\n'
    tables = tables_of(for_vehicle(own + record, other))
    mine = tables_of(own)
    assert tables["block"] == mine["block"]
    assert tables["build"] == mine["build"]
    assert "spoiled" not in tables
    two = load_job(for_vehicle(own, other).encode(), catalogue=SHELF)
    theirs = load_job(other.encode(), catalogue=SHELF)
    # an inch job's readings are told in millimetres to a hundredth
    assert two.bay.length == pytest.approx(theirs.bay.length, abs=0.01)
    assert "# it tapers" in own
    assert "# a foot on its edge" in for_vehicle(own, other)


def test_a_bay_that_the_choices_do_not_suit_is_refused_in_one_line():
    own, other = (
        next(path for path in EXAMPLES if path.parent.name == name).read_text()
        for name in ("pickup", "van")
    )
    with pytest.raises(JobError, match="rail"):
        for_vehicle(own, other)
