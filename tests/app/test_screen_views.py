"""What a screen shows of a packed load and of a refit is what the plan has."""

from pathlib import Path

import pytest

from stowright.app.changes import changes_since
from stowright.app.loading import load_catalogue, load_job
from stowright.app.packing_view import packed_openings, packing_picture
from stowright.app.planning import design_job
from stowright.app.refit_view import refit_view
from stowright.app.refitting import refit_design
from stowright.errors import UnknownNameError

PICKUP = (Path(__file__).parents[2] / "examples" / "pickup" / "job.toml").read_text()
READ = """
[[reading]]
of = {opening = "tools", what = "between-runners"}
values = [485.2, 486.0, 486.4]
"""


def quiet(_):
    pass


@pytest.fixture(scope="module")
def packed():
    return design_job(load_job(PICKUP))


@pytest.fixture(scope="module")
def refitted():
    shelf = load_catalogue()
    job = load_job(PICKUP + READ)
    return refit_view(job, shelf, quiet), refit_design(job, shelf)


def test_every_packed_thing_is_in_the_list_of_its_opening(packed):
    rows = {row["name"]: row for row in packed_openings(packed)}
    for name, row in rows.items():
        own = [thing for thing in packed.packed.things if thing.opening == name]
        assert sorted(line[1] for line in row["things"]) == sorted(thing.what for thing in own)
        assert row["contents"] == f"{sum(thing.mass_kg for thing in own):.1f} kg"
    assert rows.keys() == {thing.opening for thing in packed.packed.things}


def test_an_opening_has_its_plan(packed):
    assert len(packed_openings(packed)) == 2
    assert packing_picture(packed, 1).lstrip().startswith("<")
    for place in (-1, 2):
        with pytest.raises(UnknownNameError):
            packing_picture(packed, place)


def test_what_a_reading_changes_is_told_part_by_part(refitted):
    shown, (design, refit, old) = refitted
    changes = changes_since(old.parts, design, refit)
    assert changes
    assert [row.mark for row in shown.parts] == [change.mark for change in changes]
    assert all(row.why for row in shown.parts)
    assert shown.pictures.keys() == {change.mark for change in changes if change.new}
    assert shown.sheet.startswith(b"%PDF")
    assert {row[0] for row in shown.shims} == {pack.opening for pack in refit.shims}
    assert shown.reasons == refit.reasons
    assert shown.trouble == ""


def test_a_record_that_cannot_be_is_told_in_words():
    job = load_job(PICKUP + '\n[[done]]\nstage = "cut"\nparts = [{mark = "Z99"}]\n')
    shown = refit_view(job, load_catalogue(), quiet)
    assert "Z99" in shown.trouble
    assert shown.parts == ()
