"""Generic things to carry: sizes of one module, litres that agree with outsides, and ``like``."""

import pytest

from stowright.app.loading import load_catalogue, load_job
from stowright.catalogue import load_catalogue as load_shelf
from stowright.errors import JobError
from stowright.jobfile import dump_job, read_job

SHELF = load_catalogue()
BAY = '[job]\ntitle = "Crates"\n[bay]\nkind = "tub"\nlength = 1500\nwidth = 1400\nrail = 480\n'


def test_crates_keep_to_the_module_of_600_by_400():
    """ISO 3394 (from memory): 600 x 400, its double 800 x 600, and its half and quarter."""
    plans = {thing.size[:2] for thing in SHELF.things if thing.kind == "crate"}
    assert plans == {(800.0, 600.0), (600.0, 400.0), (400.0, 300.0), (300.0, 200.0)}
    whole = next(t for t in SHELF.things if t.name == "crate-60x40x32")
    half = next(t for t in SHELF.things if t.name == "crate-40x30x32")
    assert whole.size[0] * whole.size[1] == 2 * half.size[0] * half.size[1]


@pytest.mark.parametrize("thing", SHELF.things, ids=lambda thing: thing.name)
def test_what_is_told_by_litres_or_kilograms_holds_them(thing):
    """Outsides hold the litres of the name; nothing is denser than what could be in it."""
    outside = thing.size[0] * thing.size[1] * thing.size[2] / 1.0e6
    words = thing.what.split(", ")[-1].split()
    if words[-1] == "l":
        assert float(words[0]) <= 0.95 * outside
        assert thing.mass >= 0.1 * float(words[0])
    if thing.hazard == "gas":
        assert thing.mass > float(words[0])  # gas and bottle
    assert thing.mass / outside < 2.6


def test_like_fills_what_is_not_given_and_says_so():
    job = load_job(BAY + '[[carry]]\nlike = "fridge-45"\nquantity = 2\nmass = 44\n')
    item = job.carry[0]
    assert (item.what, item.mass, item.quantity) == ("fridge, 45 l", 44.0, 2)
    assert item.size == SHELF.thing("fridge-45").size
    assert item.keep_upright
    told = {row.field: row.why for row in job.assumed}
    assert "measure yours" in told["carry[1].size"]
    assert "carry[1].mass" not in told
    assert load_job(dump_job(job)).carry == job.carry


def test_hazard_comes_along():
    job = read_job(BAY + '[[carry]]\nlike = "gas-bottle-5"\n')
    assert job.carry[0].hazard == "gas"


def test_a_shop_adds_its_own():
    shop = '[[things]]\nname = "pump"\nkind = "crate"\nwhat = "pump"\n'
    shop += "size = [500, 300, 300]\nmass = 20\n"
    job = load_job(BAY + '[[carry]]\nlike = "pump"\n', catalogue=load_shelf(shop))
    assert job.carry[0].size == (500.0, 300.0, 300.0)


def test_an_unknown_thing_is_a_mistake_with_the_nearest_name():
    with pytest.raises(JobError) as caught:
        load_job(BAY + '[[carry]]\nlike = "frigde-45"\n')
    mistake = caught.value.mistakes[0]
    assert mistake.field == "carry[1].like"
    assert mistake.nearest == "fridge-45"


def test_without_like_size_and_mass_are_still_needed():
    with pytest.raises(JobError) as caught:
        load_job(BAY + '[[carry]]\nwhat = "box"\n')
    assert {m.field for m in caught.value.mistakes} == {"carry[1].size", "carry[1].mass"}
