"""Advice about a deck's own keys is not written into the whole unit's table."""

from dataclasses import replace
from pathlib import Path

from stowright.app.loading import load_catalogue, load_job
from stowright.app.planning import design_job, prove_design
from stowright.app.remedies import remedies

JOB = Path(__file__).parents[2] / "examples" / "van" / "job.toml"


def test_a_decks_back_and_top_are_not_those_of_the_build():
    text, shelf = JOB.read_text(encoding="utf-8"), load_catalogue()
    job = load_job(text, catalogue=shelf)
    design = design_job(job, catalogue=shelf, settle=False)
    found = prove_design(design, catalogue=shelf, advise=False)[0]
    advice = ('back = "wall" and overhang = 80 passes', 'finish = "clear" passes')
    about_deck = replace(found, about=job.decks[0].name, advice=advice)
    assert [each.label for each in remedies(text, job, shelf, about_deck)] == ["finish = clear"]
    about_block = replace(found, about=job.blocks[0].name, advice=('back = "panel" passes',))
    assert len(remedies(text, job, shelf, about_block)) == 1
