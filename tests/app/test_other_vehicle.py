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
    tables = tables_of(for_vehicle(own + record, other).text)
    mine = tables_of(own)
    assert tables["block"] == mine["block"]
    assert tables["build"] == mine["build"]
    assert "spoiled" not in tables
    two = load_job(for_vehicle(own, other).text.encode(), catalogue=SHELF)
    theirs = load_job(other.encode(), catalogue=SHELF)
    # an inch job's readings are told in millimetres to a hundredth
    assert two.bay.length == pytest.approx(theirs.bay.length, abs=0.01)
    assert "# it tapers" in own
    assert "# a foot on its edge" in for_vehicle(own, other).text


def test_what_is_no_job_is_refused():
    own = next(path for path in EXAMPLES if path.parent.name == "pickup").read_text()
    with pytest.raises(JobError, match="bay"):
        for_vehicle(own, 'format = 1\n[job]\ntitle = "No bay"\n')


def carried(name, other):
    """An example's choices in the bay of another one."""
    texts = {path.parent.name: path.read_text() for path in EXAMPLES}
    return for_vehicle(texts[name], texts[other])


def test_a_deck_in_a_bay_without_a_rail_lies_as_high_as_it_did():
    copied = carried("pickup", "van")
    (deck,) = load_job(copied.text.encode(), catalogue=SHELF).decks
    assert deck.top == 492 - 45  # the rail of the pickup less below_rail
    assert copied.said == ("deck: there is no rail here; it lies 447 mm high, as before",)
    assert made(copied.text).blocks[0].openings


def test_an_inch_deck_keeps_its_height_in_inches():
    text = next(path for path in EXAMPLES if path.parent.name == "pickup-inches").read_text()
    van = next(path for path in EXAMPLES if path.parent.name == "van").read_text()
    before = load_job(text.encode(), catalogue=SHELF)
    (deck,) = load_job(for_vehicle(text, van).text.encode(), catalogue=SHELF).decks
    assert deck.top == pytest.approx(before.bay.rail - before.decks[0].below_rail, abs=2e-3)


def test_a_block_beyond_a_shorter_bay_is_left_out_with_what_speaks_of_it():
    copied = carried("van", "wagon")
    job = load_job(copied.text.encode(), catalogue=SHELF)
    assert [block.name for block in job.blocks] == ["rear"]
    assert job.decks[0].over == ("rear",)
    assert {item.what: item.goes_in for item in job.carry}["stove box"] == ""
    assert copied.said[0] == (
        "side: left out, its place on x is 1500 to 2200 mm, this bay has 0 to 1060 mm"
    )
    assert made(copied.text).parts


def test_the_only_block_fills_what_is_free_where_its_place_is_not_there():
    text = SIDED.replace('name = "low"', 'name = "low"\nx = [1600, 2400]')
    long = text.replace("length = 1500", "length = 2500")
    copied = for_vehicle(long, SIDED)
    (block,) = load_job(copied.text.encode(), catalogue=SHELF).blocks
    assert block.place.x is None
    assert copied.said[0].startswith("low: fills what is free, its place on x is 1600 to 2400 mm")


def test_openings_without_a_name_keep_theirs_when_a_block_before_them_is_left_out():
    first = '[[block]]\nname = "far"\nx = [1600, 2400]\ncolumns = [{stack = [{}]}]\n'
    text = SIDED.replace("length = 1500", "length = 2500").replace("[[block]]", first + "[[block]]")
    text = text.replace('goes_in = "drawer 1"', 'goes_in = "drawer 2"')
    job = load_job(for_vehicle(text, SIDED).text.encode(), catalogue=SHELF)
    names = [fill.name for column in job.blocks[0].columns for fill in column.stack]
    assert names == ["drawer 2", "drawer 3", "drawer 4"]
    assert job.carry[1].goes_in == "drawer 2"


def test_straps_come_off_anchors_that_the_next_vehicle_has_not():
    copied = for_vehicle(SIDED, SIDED.replace('"eye"', '"ring"'))
    item = load_job(copied.text.encode(), catalogue=SHELF).carry[0]
    assert item.lash.to == ("left rail",)
    assert "pump: not strapped to eye, which this vehicle has not" in copied.said


def test_a_pair_that_goes_together_says_nothing():
    assert carried("wagon", "van").said == ()


def test_a_deck_over_unlike_drawers_is_proved_over_the_tighter_one():
    """Two columns of one width, a shallow gap over one drawer only: it governs on either side."""
    text = (
        SIDED[: SIDED.index("[[carry]]")]
        + """
[[block]]
name = "low"
columns = [{stack = [{}, {fill = "tray", sides = 0, height = 130}]}, {stack = [{}]}]
[[deck]]
over = ["low"]
"""
    )
    gaps = [
        next(f for f in prove(made(each), SHELF, builds=1000) if f.id == "DECK-GAP:deck/1")
        for each in (text, mirrored(text))
    ]
    assert gaps[0].capacity == pytest.approx(gaps[1].capacity, abs=1e-6)
    assert gaps[0].utilisation == pytest.approx(gaps[1].utilisation, abs=1e-6)
