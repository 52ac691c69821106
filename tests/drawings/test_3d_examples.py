"""The figures and solids of every example job: nothing clashes, nothing overlaps, all is named."""

from functools import cache
from pathlib import Path

import pytest

from stowright.app.loading import load_catalogue, load_job
from stowright.app.planning import design_job
from stowright.drawings.balloons import balloon_faults
from stowright.drawings.clashes import interpenetrations, moving_clashes
from stowright.drawings.isometric import assembled, exploded_set
from stowright.drawings.overlap import overlaps
from stowright.drawings.scene import Arrow, Balloon
from stowright.drawings.solids import part_solid
from stowright.drawings.step_figures import step_scenes
from stowright.making.drafts import finish_steps
from stowright.making.steps import step_drafts
from stowright.model.part_area import volume_mm3

EXAMPLES = sorted(Path(__file__).parents[2].glob("examples/*/job.toml"))
pytestmark = pytest.mark.parametrize("job", EXAMPLES, ids=[path.parent.name for path in EXAMPLES])


@cache
def design_of(job):
    shelf = load_catalogue()
    return design_job(load_job(job, catalogue=shelf), catalogue=shelf)


def test_no_two_pieces_run_into_each_other(job):
    assert interpenetrations(design_of(job)) == []


def test_no_body_meets_anything_on_its_way(job):
    assert moving_clashes(design_of(job)) == []


def test_solids_weigh_what_the_plane_areas_say(job):
    for part in design_of(job).parts:
        assert part_solid(part).volume() == pytest.approx(volume_mm3(part), rel=1e-9), part.mark


def test_every_mark_is_named_once_and_legibly(job):
    design = design_of(job)
    named = []
    for scene in exploded_set(design):
        balloons = [item for item in scene.items if isinstance(item, Balloon)]
        assert balloon_faults(balloons) == []
        assert overlaps(scene) == []
        named += [b.text for b in balloons]
    assert set(named) == {part.mark for part in design.parts}


def test_the_cover_fits_its_place(job):
    scene = assembled(design_of(job), bay=True, open_by=0.5, width_mm=150.0, height_mm=100.0)
    assert scene.width <= 150.0
    assert scene.height <= 100.0


def test_every_step_figure_is_legible(job):
    design = design_of(job)
    steps = finish_steps(design, step_drafts(design))
    scenes = step_scenes(design, steps)
    assert [s.name for s in scenes] == [s.figure for s in steps if s.figure]
    for step, scene in zip([s for s in steps if s.figure], scenes, strict=True):
        balloons = [item for item in scene.items if isinstance(item, Balloon)]
        # a sheet under the caliper, a vehicle on its scale and the finished unit have no marks
        assert balloons or step.kind in {"cut", "weigh", "test"}
        assert balloon_faults(balloons) == []
        assert overlaps(scene) == []


def test_every_step_has_a_figure_or_is_done_from_another_chapters(job):
    design = design_of(job)
    steps = finish_steps(design, step_drafts(design))
    assert {s.title for s in steps if not s.figure} == {"Read the bay again", "Cut release A"}


def test_a_step_that_puts_something_on_shows_the_way(job):
    design = design_of(job)
    steps = finish_steps(design, step_drafts(design))
    scenes = {scene.name: scene for scene in step_scenes(design, steps)}
    still = {"cut", "weigh", "test", "machine", "finish", "install"}
    for step in steps:
        if step.figure and step.kind not in still:
            arrows = [i for i in scenes[step.figure].items if isinstance(i, Arrow)]
            assert arrows, step.title
