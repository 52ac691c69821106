"""The packing sheet: every packed thing is drawn where it lies, counted, weighed and labelled."""

import io
from pathlib import Path
from types import SimpleNamespace

import pytest
from pypdf import PdfReader

from stowright.app.loading import load_job
from stowright.app.planning import design_job
from stowright.book.packing_sheet import make_packing_sheet, packing_rows
from stowright.drawings.packing_plan import numbered, packing_plan, packing_plans
from stowright.drawings.scene import Region, Text
from stowright.drawings.svg import to_svg
from stowright.errors import UnknownNameError

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("pickup", "van")


@pytest.fixture(scope="module", params=NAMES)
def design(request):
    return design_job(load_job(EXAMPLES / request.param / "job.toml"))


def test_every_thing_is_drawn_at_its_place_and_size(design):
    drawn = 0
    for scene in packing_plans(design):
        name = scene.name.removeprefix("packing-")
        rows = numbered(design, name)
        regions = [(v, i) for v in scene.views for i in v.items if isinstance(i, Region)]
        assert len(regions) == len(rows)
        for view, region in regions:
            corner, far = (view.model(p) for p in (region.outer[0], region.outer[2]))
            size = (far[0] - corner[0], far[1] - corner[1])
            assert any(
                row.thing.what == region.about
                and corner == pytest.approx(row.thing.at[:2], abs=1e-6)
                and size == pytest.approx(row.thing.size[:2], abs=1e-6)
                for row in rows
            )
        drawn += len(rows)
    assert drawn == len(design.packed.things)


def test_every_divider_is_drawn_and_listed_with_the_mark_of_its_part(design):
    parts = {part.mark: part for part in design.parts if part.name == "divider"}
    rows = packing_rows(design)
    listed = [row[0] for opening in rows for row in opening["boards"]]
    assert len(listed) == len(design.packed.dividers)
    assert {mark: listed.count(mark) for mark in listed} == {
        mark: part.quantity for mark, part in parts.items()
    }
    for opening, scene in zip(rows, packing_plans(design), strict=True):
        marks = {row[0] for row in opening["boards"]}
        for view in scene.views:
            assert marks <= {item.text for item in view.items if isinstance(item, Text)}


def test_a_layer_is_told_by_where_its_lowest_thing_begins(design):
    for scene in packing_plans(design):
        things = [row.thing for row in numbered(design, scene.name.removeprefix("packing-"))]
        bottoms = {round(thing.at[2], 1) for thing in things}
        for view in scene.views:
            told = [item.text for item in view.items if isinstance(item, Text)]
            for text in (each for each in told if each.startswith("from ")):
                assert float(text.removeprefix("from ").removesuffix(" mm up")) in bottoms


def test_nothing_is_drawn_off_the_paper(design):
    for scene in packing_plans(design, room=(120.0, 80.0)):
        assert scene.height <= 80.0 + 1e-6
        for item in scene.items:
            points = item.outer if isinstance(item, Region) else ()
            if isinstance(item, Text):
                points = (item.at,)
            for x, y in points:
                assert -1e-6 <= x <= scene.width + 1e-6
                assert -1e-6 <= y <= scene.height + 1e-6
        assert to_svg(scene).startswith("<")


def test_masses_are_those_of_the_things(design):
    for row in packing_rows(design):
        things = [t for t in design.packed.things if t.opening == row["name"]]
        assert row["contents"] == f"{sum(t.mass_kg for t in things):.1f} kg"
        assert len(row["things"]) == len(things)


def test_the_sheet_names_every_thing_and_is_the_same_again(design):
    plan = SimpleNamespace(design=design, job=design.job)
    pdf = make_packing_sheet(plan)
    text = " ".join(" ".join(p.extract_text() for p in PdfReader(io.BytesIO(pdf)).pages).split())
    for thing in design.packed.things:
        assert thing.what in text
    assert make_packing_sheet(plan) == pdf


def test_a_name_that_is_not_there_is_refused(design):
    with pytest.raises(UnknownNameError):
        packing_plan(design, "nowhere")
