"""Advice that was tried on the whole unit, written into the job with one tap, keeps its word."""

from pathlib import Path

import pytest

from stowright.app.edits import edited
from stowright.app.loading import load_catalogue, load_job
from stowright.app.planning import design_job, prove_design
from stowright.app.remedies import tried_remedies

PICKUP = (Path(__file__).parents[2] / "examples" / "pickup" / "job.toml").read_text()
TOOLS = '{fill = "drawer", name = "tools", height = "share"'
#: No room at the front for the levers of the locks.
BARE = PICKUP.replace(TOOLS, TOOLS + ', lever = "none"', 1)


@pytest.fixture(scope="module")
def shelf():
    return load_catalogue()


@pytest.fixture(scope="module")
def advised(shelf):
    assert BARE != PICKUP
    design = design_job(load_job(BARE), settle=False)
    found = prove_design(design, catalogue=shelf)
    return design, [each for each in found if any(" passes" in line for line in each.advice)]


def test_what_was_tried_and_passes_is_written_and_then_passes(advised, shelf):
    design, findings = advised
    ways = [(each, way) for each in findings for way in tried_remedies(BARE, design, shelf, each)]
    assert ways
    for finding, way in ways[:2]:
        assert any(line.startswith(way.label) for line in finding.advice)
        job = load_job(edited(BARE, way.edits))
        after = prove_design(design_job(job, settle=False), catalogue=shelf, advise=False)
        again = next((each for each in after if each.id == finding.id), None)
        assert again is None or again.status == "pass"


def test_advice_in_mere_words_gives_no_change(advised, shelf):
    design, findings = advised
    mute = [each for each in findings if not any(" passes" in line for line in each.advice)]
    assert all(tried_remedies(BARE, design, shelf, each) == () for each in mute)
