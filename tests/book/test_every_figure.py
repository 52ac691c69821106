"""Every drawing of every example: no lettering on lettering or lines, every figure true."""

from functools import cache
from pathlib import Path

import pytest

from stowright import load_job, plan
from stowright.book.figures import book_scenes
from stowright.book.full_size import full_size_scenes
from stowright.book.options import BookOptions
from stowright.book.stamp import stamp_of
from stowright.drawings.dimension_check import false_dimensions
from stowright.drawings.overlap import overlaps
from stowright.drawings.scene import Symbol
from stowright.drawings.sheet_frame import PAPERS

EXAMPLES = sorted(Path(__file__).parents[2].glob("examples/*/job.toml"))


@cache
def plan_of(path):
    return plan(load_job(path))


@pytest.mark.parametrize("path", EXAMPLES, ids=[path.parent.name for path in EXAMPLES])
def test_lettering_is_free_and_figures_are_true(path):
    made = plan_of(path)
    paper = "letter" if made.job.units == "in" else "a4"
    options = BookOptions(paper=paper, drawings="large")
    scenes = [s for _, s in book_scenes(made, options, stamp_of(made.job)).values()]
    scenes += full_size_scenes(made, PAPERS["A4"])
    assert {s.name: overlaps(s) for s in scenes if overlaps(s)} == {}
    assert [line for s in scenes for line in false_dimensions(s, units=made.job.units)] == []


@pytest.mark.parametrize("projection", ["first", "third"])
def test_the_arrangement_stands_in_its_angle_and_says_so(projection):
    """First angle: the plan under the elevation, the side view at its left; third the other way."""
    made = plan_of(EXAMPLES[0])
    options = BookOptions(projection=projection, drawings="large")
    scenes = book_scenes(made, options, stamp_of(made.job))
    sheets = [scene for name, (_, scene) in scenes.items() if name.startswith("ga-")]
    assert len(sheets) == len(made.design.blocks)
    for sheet in sheets:
        plan_y, elevation = sheet.view("plan").at[1], sheet.view("elevation").at
        third = projection == "third"
        assert (plan_y > elevation[1]) == third
        assert (sheet.view("section").at[0] > elevation[0]) == third
        kinds = {item.kind for item in sheet.items if isinstance(item, Symbol)}
        assert f"{projection}-angle" in kinds
        assert not kinds & ({"first-angle", "third-angle"} - {f"{projection}-angle"})
        assert overlaps(sheet) == []
