"""Rails on a deck: bolted where there is room, rated by the user, and what is tied to them."""

from dataclasses import replace
from functools import cache
from math import pi

import pytest
from use_jobs import CATALOGUE, SOUND

from stowright.design.build import design
from stowright.drawings.clashes import interpenetrations
from stowright.errors import JobError
from stowright.jobfile import dump_job, read_job
from stowright.proofs.prove import prove
from stowright.proofs.tie_rails import rail_findings

TENT = """
[[carry]]
what = "tent"
size = [500, 400, 250]
mass = 25
on = "deck"
lash = {count = 4, to = ["left rail", "right rail"]}
"""
RAILS = 'rails = [{side = "right"%s}, {side = "left"%s}]\n'


def text_of(rating="rating = 900", more=""):
    rails = RAILS % ((f", {rating}{more}",) * 2 if rating else (more, more))
    return SOUND.replace("[[deck]]\n", "[[deck]]\n" + rails) + TENT


@cache
def designed(text):
    return design(read_job(text), CATALOGUE)


@cache
def findings(text):
    return {f.id: f for f in prove(designed(text), CATALOGUE, builds=0, advise=False)}


def bolts(unit, name="left rail"):
    joints = {j.id for j in unit.joints if j.kind == "rail" and j.note.startswith(name)}
    return [f for f in unit.fixings if f.kind == "bolt" and f.joint in joints]


def test_each_bolt_has_a_hole_a_large_washer_and_a_nut():
    unit = designed(text_of())
    rails = [f for f in unit.fixings if f.type == "tie-down-rail"]
    assert rails
    found = [*bolts(unit), *bolts(unit, "right rail")]
    holes = [x for p in unit.parts for x in p.features if "rail of deck" in x.purpose]
    assert len(holes) == len(found) >= 4
    for bolt in found:
        own = [f for f in unit.fixings if f.set == bolt.id]
        assert {"washer", "nut"} <= {f.kind for f in own}
        # large enough for timber: three times the bolt, from memory
        wide = max(CATALOGUE.washer(f.type).outside for f in own if f.kind == "washer")
        assert wide >= 3.0 * 6.0
    assert interpenetrations(unit) == interpenetrations(designed(SOUND))


def test_bolts_stand_along_the_edge_at_the_inset_and_no_further_apart_than_asked():
    unit = designed(text_of(more=", inset = 60, pitch = 150"))
    deck = [p for p in unit.placed if p.role == "deck"]
    edge = max(max(p.point(0, 0, 0)[1], p.point(p.length, p.width, 0)[1]) for p in deck)
    ys = {round(b.at[1], 3) for b in bolts(unit)}
    assert ys == {round(edge - 60.0, 3)}


def test_what_the_washer_holds_is_worked_out_by_hand():
    found = findings(text_of())["TIE-RAIL:deck:left rail"]
    unit = designed(text_of())
    sheet = CATALOGUE.material(read_job(text_of()).decks[0].build.deck_sheet)
    washer = max(
        CATALOGUE.washer(f.type).outside
        for f in unit.fixings
        if f.kind == "washer" and f.set == bolts(unit)[0].id
    )
    t = unit.thickness(sheet.name).t_min
    shear = pi * washer * t * sheet.f_panel_shear
    # instantaneous in service class 1 or 2: 1.1, connections 1.3 (EN 1995-1-1, from memory)
    assert found.capacity <= 1.1 * shear / 1.3 * (1.0 + 1e-9)
    assert found.demand == pytest.approx(1.5 * 900.0)
    assert findings(text_of("rating = 9000"))["TIE-RAIL:deck:left rail"].status == "fail"


def test_cargo_tied_to_rails_is_held_and_counts_with_the_unit():
    found = findings(text_of())["LOOSE:tent:deck"]
    assert found.status == "pass"
    assert all(row.on_unit for row in designed(text_of()).deck_cargo)
    # straps and points alike: twice the mass, twice the use; a weaker rail holds less
    weak = findings(text_of("rating = 450"))["LOOSE:tent:deck"]
    assert weak.capacity == pytest.approx(found.capacity / 2.0)


def test_a_rail_without_a_rating_rates_nothing():
    all_found = findings(text_of(""))
    assert all_found["TIE-RAIL:deck:left rail"].status == "not proved"
    assert all_found["LOOSE:tent:deck"].status == "not proved"
    assert "rating" in str(all_found["LOOSE:tent:deck"].assumed) + str(
        all_found["LOOSE:tent:deck"].working
    ) + str(all_found["LOOSE:tent:deck"].advice) + str(all_found["LOOSE:tent:deck"].needs)


def test_a_job_with_rails_is_written_and_read_again():
    job = read_job(text_of(more=", inset = 45, pitch = 120"))
    assert read_job(dump_job(job)).decks == job.decks


def _last(text, old, new):
    """The text with the last of some words changed: the vehicle's own arches stand before."""
    head, _, tail = text.rpartition(old)
    return f"{head}{new}{tail}"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('{side = "left"', '{side = "front"', "rails"),
        ('"left rail", ', '"left rial", ', "left rail"),
        ("rating = 900", 'rating = "strong"', "rating"),
    ],
)
def test_mistakes_name_the_field(old, new, said):
    with pytest.raises(JobError) as caught:
        read_job(_last(text_of(), old, new))
    assert said in str(caught.value)


def test_a_rail_that_runs_out_far_past_its_last_bolt_is_not_proved():
    unit = designed(text_of())
    _, _, *rest = sorted(bolts(unit), key=lambda bolt: bolt.at[0])
    loose = replace(unit, fixings=tuple(f for f in unit.fixings if f not in rest))
    found = {f.id: f for f in rail_findings(loose, CATALOGUE)}
    assert found["TIE-RAIL:deck:right rail"].status == "pass"
    left = found["TIE-RAIL:deck:left rail"]
    assert left.status == "not proved"
    assert "left rail have no bolt" in left.needs[0]


def test_a_rating_too_great_for_the_sheet_is_told_the_sheet_that_takes_it():
    text = text_of("rating = 3600")
    told = {f.id: f for f in prove(designed(text), CATALOGUE, builds=0)}
    found = told["TIE-RAIL:deck:left rail"]
    assert found.status == "fail"
    line = next(line for line in found.advice if "deck_sheet" in line)
    assert "passes" in line
    sheet = line.partition('"')[2].partition('"')[0]
    asked = read_job(text)
    (deck,) = asked.decks
    other = replace(deck, build=replace(deck.build, deck_sheet=sheet))
    again = prove(design(replace(asked, decks=(other,)), CATALOGUE), CATALOGUE, builds=0)
    assert {f.id: f for f in again}["TIE-RAIL:deck:left rail"].status == "pass"
