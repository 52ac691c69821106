"""Runner sheets: lines as the handbook has them, holes as the catalogue has them."""

import re

import pytest

from stowright.app.planning import plan
from stowright.book.runner_sheets import runner_groups, runner_sheets
from stowright.drawings.dimension_check import false_dimensions
from stowright.drawings.overlap import overlaps
from stowright.drawings.runner_places import drawn_members, members_of
from stowright.drawings.runner_sheet import runner_figure
from stowright.drawings.runner_template import runner_templates, template_fits
from stowright.drawings.scene import Text
from stowright.drawings.sheet_frame import PAPERS
from stowright.jobfile import read_job

SHORT = """
[job]
title = "A short drawer"
[bay]
kind = "wagon"
length = 420
width = 900
clear_height = 700
[[block]]
name = "box"
columns = [ {stack = [ {fill = "drawer", name = "odds", height = 120} ]} ]
[build]
runner = "auto"
under_gap = 10
"""


def left(design, opening):
    return [m for m in members_of(design, opening) if m.side == "left"]


def test_lines_are_those_of_the_fit(pickup):
    for block in pickup.design.blocks:
        for opening in block.openings:
            for member in members_of(pickup.design, opening):
                fit = opening.runner
                line = fit.line if member.member == "cabinet" else fit.line_in_drawer
                assert member.line == pytest.approx(line)
                assert all(screw.up == pytest.approx(line) for screw in member.screws)


def test_a_side_that_shares_its_holes_with_a_partition_is_drawn_for_itself():
    """Two runners stagger on a partition: the side opposite has more holes, so each is shown."""
    two = '{stack = [{fill = "drawer", name = "%s", height = 120}]}'
    text = SHORT.replace("420", "900").replace('name = "box"', 'name = "box"\nmodules = "shared"')
    text = re.sub(r"columns = .*", f"columns = [{two % 'odds'}, {two % 'ends'}]", text)
    made = plan(read_job(text))
    sheets = {name: row for row in runner_sheets(made) for name in row["names"]}
    for name, partition in (("odds", "right"), ("ends", "left")):
        opening = made.design.opening(name)
        places = {(m.side, m.member): m for m in members_of(made.design, opening)}
        shown = drawn_members(made.design, opening)
        cabinet = {m.side: m for m in shown if m.member == "cabinet"}
        assert set(cabinet) == {"left", "right"}
        assert len([m for m in shown if m.member == "drawer"]) == 1
        assert all(m.screws == places[side, "cabinet"].screws for side, m in cabinet.items())
        other = "left" if partition == "right" else "right"
        assert len(cabinet[partition].screws) < len(cabinet[other].screws)
        said = dict(sheets[name]["rows"])
        assert said["Screws, cabinet member, left"] != said["Screws, cabinet member, right"]
        assert "Screws, drawer member, each side" in said
        slots = {f"{r.along:g}" for m in cabinet.values() for r in m.screws if r.kind == "slot"}
        assert set(sheets[name]["packers"]) == slots
        figure = runner_figure(shown, units="mm", room=(174.0, 222.0), name="r")
        assert overlaps(figure) == []
        assert false_dimensions(figure, units="mm") == []
        assert len({view.name for view in figure.views}) == 3
        for member in cabinet.values():
            pages = runner_templates(member, units="mm", paper=PAPERS["A4"], title=name)
            words = " ".join(i.text for i in pages[0].items if isinstance(i, Text))
            assert "Turn it" not in words
            assert f"for the {member.side} side alone" in words
            assert all(overlaps(page) == [] for page in pages)


def test_an_80_mm_runner_over_10_mm_lies_at_50_and_40():
    """Common practice, and the geometry page: 50 above the floor, 40 above the side's edge."""
    made = plan(
        read_job(SHORT.replace('runner = "auto"', 'runner = "heavy-80"').replace("420", "900"))
    )
    opening = made.design.opening("odds")
    lines = {m.member: m.line for m in left(made.design, opening)}
    assert lines["cabinet"] == pytest.approx(50.0)
    assert lines["drawer"] == pytest.approx(40.0)


def test_every_hole_of_the_runner_has_its_screw(pickup):
    opening = pickup.design.opening("tools")
    holes = opening.runner.size.holes
    for member in left(pickup.design, opening):
        wanted = sorted((h.at, h.kind) for h in holes if h.member == member.member)
        found = sorted((round(r.along - member.start, 1), r.kind) for r in member.screws)
        assert [kind for _, kind in found] == [kind for _, kind in wanted]
        assert [at for at, _ in found] == pytest.approx([at for at, _ in wanted], abs=1.0)  # grid


def test_slots_come_first(pickup):
    for member in left(pickup.design, pickup.design.opening("tools")):
        kinds = [screw.kind for screw in member.screws]
        assert kinds == sorted(kinds, key=lambda kind: kind != "slot")


def test_alike_drawers_share_a_sheet(pickup):
    assert [names for _, names in runner_groups(pickup)] == [["tools", "stores"]]
    sheet = runner_sheets(pickup)[0]
    assert sheet["figure"] == "runner-1"
    assert len(sheet["packers"]) == 7  # the cabinet member's slots, one below the other


def test_the_drawing_states_what_it_shows(pickup):
    scene = runner_figure(
        left(pickup.design, pickup.design.opening("tools")), units="mm", room=(174, 160), name="r"
    )
    assert false_dimensions(scene, units="mm") == []
    assert overlaps(scene) == []


def test_a_template_is_true_size_where_it_fits_a_page(pickup):
    sheet = PAPERS["A4"]
    long_ones = left(pickup.design, pickup.design.opening("tools"))
    assert not any(template_fits(m, sheet) for m in long_ones)
    made = plan(read_job(SHORT.replace("420", "360")))
    members = [m for m in left(made.design, made.design.opening("odds")) if template_fits(m, sheet)]
    assert members
    for member in members:
        (scene,) = runner_templates(member, units="mm", paper=sheet, title="odds")
        view = scene.view("template")
        assert view.scale == 1.0
        assert overlaps(scene) == []
        rings = [i.centre for i in view.items if type(i).__name__ == "Circle"]
        for screw in member.screws:
            at = view.paper((screw.up, screw.along))
            assert any(c == pytest.approx(at) for c in rings)
