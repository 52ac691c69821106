"""Jobs of odd sizes: no lettering on lettering or lines, every figure true, every place given.

Very narrow drawers, one big tray, lids on both sides, a body over the arches, a tall unit of five
drawers with many dividers, and lockers, blanks and a side door in inches.
"""

from functools import cache
from pathlib import Path

import pytest

from stowright.app.loading import load_catalogue, load_job
from stowright.app.planning import design_job
from stowright.drawings.arrangement_sheets import Issue, arrangement_sheets
from stowright.drawings.details import detail_figures
from stowright.drawings.dimension_check import false_dimensions
from stowright.drawings.isometric import exploded_set
from stowright.drawings.overlap import overlaps
from stowright.drawings.part_check import missing_sizes
from stowright.drawings.part_drawing import part_drawing, shown_beside
from stowright.drawings.placing_check import unplaced
from stowright.drawings.placing_plan import placing_figures
from stowright.drawings.runner_places import drawn_members
from stowright.drawings.runner_sheet import runner_figure
from stowright.drawings.set_out import set_out_strip
from stowright.drawings.sheet_frame import PAPERS
from stowright.drawings.step_figures import step_scenes
from stowright.making.drafts import finish_steps
from stowright.making.steps import step_drafts

ROOM = (174.0, 222.0)
JOBS = {path.stem: path for path in Path(__file__).parent.glob("odd_jobs/*.toml")}


@cache
def design_of(name):
    shelf = load_catalogue()
    return design_job(load_job(JOBS[name], catalogue=shelf), catalogue=shelf)


def clean(scenes, units):
    assert {s.name: overlaps(s) for s in scenes if overlaps(s)} == {}
    assert [line for s in scenes for line in false_dimensions(s, units=units)] == []


pytestmark = pytest.mark.parametrize("name", sorted(JOBS))


def test_part_drawings_are_legible_and_complete(name):
    design = design_of(name)
    units, parts = design.job.units, design.parts
    scenes = {
        p.mark: part_drawing(p, units=units, room=ROOM, pair=shown_beside(p, parts)) for p in parts
    }
    clean(scenes.values(), units)
    assert [line for p in parts for line in missing_sizes(p, scenes[p.mark])] == []


def test_arrangement_details_and_places_are_legible(name):
    design = design_of(name)
    units = design.job.units
    issue = Issue(owner="", title=design.job.title)
    sheets = arrangement_sheets(
        design, projection="first", paper=PAPERS["A3"], units=units, issue=issue
    )
    places = placing_figures(design, units=units, room=ROOM)
    details = detail_figures(design, load_catalogue(), units=units, room=ROOM)
    assert len(sheets) == len(design.blocks)
    clean((*sheets, *places, *details), units)
    assert unplaced(design, places) == []


def test_set_out_and_runners_are_legible(name):
    design = design_of(name)
    units = design.job.units
    scenes = []
    for opening in (o for block in design.blocks for o in block.openings if o.runner is not None):
        members = drawn_members(design, opening)
        scenes.append(runner_figure(members, units=units, room=ROOM, name="runner"))
        scenes += [
            set_out_strip(design, opening.name, units=units, room=ROOM, axes=(axis,))
            for axis in ("up", "across")
        ]
    clean(scenes, units)


def test_every_step_and_the_exploded_view_are_legible(name):
    design = design_of(name)
    steps = finish_steps(design, step_drafts(design))
    scenes = step_scenes(design, steps)
    assert [s.name for s in scenes] == [s.figure for s in steps if s.figure]
    clean((*scenes, *exploded_set(design)), design.job.units)
