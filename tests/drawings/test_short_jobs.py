"""Two dozen short invented jobs: nothing crosses lettering, every figure true, every size given.

Tabs and slots blind and through, housings, hand holes, many modules, tiny parts, thin sheets,
inches, long parts, lockers alone, little but a deck, wings, tapers, arches, deck cargo, rails. Of
each the arrangement and the parts with most to say are looked at, of some the places and details.
"""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from stowright.app.loading import load_catalogue, load_job
from stowright.app.planning import design_job
from stowright.app.stock import parts_to_cut, saw_settings, stock_for
from stowright.cutting import lay_out
from stowright.drawings.arrangement_sheets import Issue, arrangement_sheets
from stowright.drawings.details import detail_figures
from stowright.drawings.dimension_check import false_dimensions
from stowright.drawings.general_arrangement import title_of
from stowright.drawings.layout_drawing import layout_pages
from stowright.drawings.overlap import overlaps
from stowright.drawings.part_check import missing_sizes
from stowright.drawings.part_drawing import part_drawing, shown_beside
from stowright.drawings.placing_check import unplaced
from stowright.drawings.placing_plan import placing_figures
from stowright.drawings.scene import Balloon, Leader, Text
from stowright.drawings.sheet_frame import PAPERS, drawing_room

JOBS = {path.stem: path for path in Path(__file__).parent.glob("short_jobs/*.toml")}
ROOM = drawing_room(PAPERS["A4"])
ISSUE = Issue(owner="", title="An invented job")
#: Parts with most to say that are drawn of each job.
MOST = 3
#: Jobs whose kinds others here have too, or that take long: looked at by the slow suite.
LONG = {
    "many-modules",  # a crowd of openings
    "tabs-separate-18",  # as tabs-shared-blind
    "tabs-hand-hole",  # as hand-holes and tabs-shared-blind
    "deck-cargo-rails",  # its places and details below, its arrangement in test_deck_things
    "inch-tabs",  # as inch, and its details below
    "side-facing",  # its places and details below
    "very-long",
    "van-twelve-drawers",  # two blocks, cargo, rails
    "forty-hold-downs",  # three blocks
    "three-rows-inch",
    "thin-asymmetric",
    "one-wide-drawer",
}
#: The least scale of an arrangement on A3 where the bay is long or hold-downs are many.
LEAST_SCALE = {"van-twelve-drawers": 1 / 40, "forty-hold-downs": 1 / 50, "three-rows-inch": 1 / 25}


@cache
def design_of(name):
    shelf = load_catalogue()
    return design_job(load_job(JOBS[name], catalogue=shelf), catalogue=shelf)


def clean(scenes, units):
    found = {scene.name: overlaps(scene) for scene in scenes}
    assert {name: faults for name, faults in found.items() if faults} == {}
    assert [line for scene in scenes for line in false_dimensions(scene, units=units)] == []


@pytest.mark.parametrize(
    "name", [pytest.param(n, marks=[pytest.mark.slow] * (n in LONG)) for n in sorted(JOBS)]
)
def test_arrangement_and_busiest_parts_are_legible_and_complete(name):
    design = design_of(name)
    units, parts = design.job.units, design.parts
    projection = "first" if sorted(JOBS).index(name) % 2 else "third"
    sheets = arrangement_sheets(
        design, projection=projection, paper=PAPERS["A3"], units=units, issue=ISSUE
    )
    assert len(sheets) == len(design.blocks)
    for sheet, block in zip(sheets, design.blocks, strict=True):
        assert sheet.scale >= LEAST_SCALE.get(name, 0.01)
        elevation = sheet.view("elevation").items
        words = {i.text for i in elevation if isinstance(i, Text)}
        words |= {line for i in elevation if isinstance(i, Leader) for line in i.lines}
        assert {opening.name for opening in block.openings} <= words
    busy = sorted(parts, key=lambda p: -len(p.features) - len(p.tabs))[:MOST]
    drawn = {
        p.mark: part_drawing(p, units=units, room=ROOM, pair=shown_beside(p, parts)) for p in busy
    }
    clean((*sheets, *drawn.values()), units)
    assert [line for p in busy for line in missing_sizes(p, drawn[p.mark])] == []


@pytest.mark.parametrize("name", ["side-facing", "wings-taper", "inch-tabs", "deck-cargo-rails"])
def test_places_and_details_are_legible(name):
    design = design_of(name)
    units = design.job.units
    places = placing_figures(design, units=units, room=ROOM)
    details = detail_figures(design, load_catalogue(), units=units, room=(174.0, 160.0))
    clean((*places, *details), units)
    assert unplaced(design, places) == []


def test_a_crowd_of_hold_downs_has_a_plan_and_a_table_of_its_own():
    design = design_of("many-modules")
    assert len(design.anchors) > 40
    scenes = placing_figures(design, units="mm", room=ROOM)
    assert [s.name for s in scenes][:2] == ["placing-floor", "placing-floor-hold-downs"]
    clean(scenes, "mm")
    assert unplaced(design, scenes) == []
    floor, crowd = scenes[:2]
    named = {line for i in crowd.items if isinstance(i, Leader) for line in i.lines}
    assert named == {a.number for a in design.anchors if a.surface == "floor"}
    assert {f"bolt {number}" for number in named} <= {a.id for a in design.anchors}
    assert "bolt" in {i.text for i in crowd.items if isinstance(i, Text)}
    assert not named & {line for i in floor.items if isinstance(i, Leader) for line in i.lines}
    one, *rest = design.anchors
    moved = replace(design, anchors=(replace(one, y=one.y + 7.0), *rest))
    assert unplaced(moved, scenes) == [f"{one.id}: no place across"]


def test_cut_numbers_of_many_narrow_pieces_do_not_touch():
    design = design_of("many-modules")
    shelf, parts = load_catalogue(), parts_to_cut(design)
    materials = tuple(dict.fromkeys(part.material for part in parts))
    stock, saw = stock_for(design.job, shelf, materials), saw_settings(design.job, shelf)
    plan = lay_out(parts, stock, saw, effort="first")
    assert max(len(layout.cuts) for layout in plan.layouts) > 60
    for layout in plan.layouts:
        use = next(u for u in plan.stock if u.sheet == layout.sheet)
        pages = layout_pages(layout, stock=use, units="mm", room=ROOM)
        clean(pages, "mm")
        assert pages[0].scale >= 1 / 20  # a long list of cuts does not shrink its sheet
        numbers = [item.text for item in pages[0].items if isinstance(item, Balloon)]
        assert numbers == [str(cut.order) for cut in layout.cuts]
        words = " ".join(i.text for page in pages for i in page.items if isinstance(i, Text))
        assert all(piece.mark in words for piece in layout.pieces)


def test_the_section_says_what_it_runs_through():
    lockers, mixed = design_of("one-locker"), design_of("tabs-separate-18")
    (block,) = lockers.blocks
    assert title_of(lockers, "section", block=block) == "Section A–A, along locker 1"
    assert title_of(lockers, "cross", block=block) == "Section B–B, across the block"
    (block,) = mixed.blocks
    drawer = next(o for o in block.openings if o.runner is not None)
    assert title_of(mixed, "section", block=block).endswith(drawer.name)
