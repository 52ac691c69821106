"""A job for the next vehicle, and mirrored."""

from pathlib import Path

import pytest

from stowright.app.edits import tables_of
from stowright.app.loading import load_catalogue, load_job
from stowright.app.other_vehicle import for_vehicle, mirrored
from stowright.design.build import design
from stowright.errors import JobError

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
