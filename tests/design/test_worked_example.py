"""The worked example of the geometry page: both columns, to the digit.

Its numbers were worked by hand, apart from any program; the runner line (40 and 50 mm for an 80 mm
runner over a 10 mm gap), 50 mm at the face and the deck 50 mm under the rail are common practice.
"""

from dataclasses import replace

import pytest

from stowright.catalogue import load_catalogue
from stowright.design.build import design
from stowright.jobfile import read_job

JOB = """
[job]
title = "Worked example"
cut_grid = 0

[bay]
kind = "tub"
length = 1500
width = 1392
rail = 500
reading_error = {error}
between = [ {{at = 750, height = 0, width = 1100}} ]
arches = [ {{side = "left", start = 400, end = 1100, height = 230, reach = 146}},
           {{side = "right", start = 400, end = 1100, height = 230, reach = 146}} ]

[[block]]
name = "drawers"
clear_at_face = 50
columns = [ {{stack = [ {{fill = "drawer", name = "one"}} ]}},
            {{stack = [ {{fill = "drawer", name = "two"}} ]}} ]

[[deck]]
over = ["drawers"]
below_rail = 50
back = "block"

[build]
deck_sheet = "ply-18"
runner = "heavy-80"
front_gap = 3
under_gap = 10
over_gap = 10
side_clear = {side}
end_clear = {end}
back_room = {room}
module_gap = 0
bottom_fit = "{fit}"
packers = {{how = "on-ribs", sheet = "ply-9"}}
measured_thickness = {{ply-15 = [14.6], ply-12 = [12.0], ply-9 = [10.0], ply-18 = [15.0]}}
"""
PLAIN = {"error": 0, "side": 0, "end": 0, "room": 15}
CAREFUL = {"error": 2, "side": 5, "end": 10, "room": 8}


def made(fit="grooved", **allowances):
    return design(read_job(JOB.format(fit=fit, **allowances)), load_catalogue())


def size(unit, role):
    part = next(p for p in unit.parts if p.role == role)
    return part.length, part.width


@pytest.mark.parametrize(
    ("allowances", "module", "opening", "box", "front"),
    [
        pytest.param(
            PLAIN,
            (550, 425, 1450),
            (520.8, 395.8, 1435.4),
            (482.0, 375.8, 1400),
            (514.8, 389.8),
            id="no allowances",
        ),
        pytest.param(
            CAREFUL,
            (544, 425, 1438),
            (514.8, 395.8, 1423.4),
            (476.0, 375.8, 1400),
            (508.8, 389.8),
            id="with allowances",
        ),
    ],
)
def test_module_opening_box_and_front(allowances, module, opening, box, front):
    block = made(**allowances).blocks[0]
    for one in block.modules:
        assert (one.width, one.height, one.depth) == pytest.approx(module, abs=1e-9)
    for one in block.openings:
        assert (one.width, one.height, one.depth) == pytest.approx(opening, abs=1e-9)
        assert (one.box.width, one.box.height, one.box.length) == pytest.approx(box, abs=1e-9)
        assert one.front == pytest.approx(front, abs=1e-9)
        assert one.runner.size.length == 1400


@pytest.mark.parametrize(
    ("allowances", "floor", "back", "inner", "bottom"),
    [
        (PLAIN, (1450, 520.8), (520.8, 395.8), (452.8, 375.8), (1382.8, 464.8)),
        (CAREFUL, (1438, 514.8), (514.8, 395.8), (446.8, 375.8), (1382.8, 458.8)),
    ],
    ids=["no allowances", "with allowances"],
)
def test_part_sizes_with_a_grooved_bottom(allowances, floor, back, inner, bottom):
    unit = made(**allowances)
    assert size(unit, "carcass-floor") == pytest.approx(floor, abs=1e-9)
    assert size(unit, "carcass-back") == pytest.approx(back, abs=1e-9)
    assert size(unit, "drawer-inner-front") == pytest.approx(inner, abs=1e-9)
    assert size(unit, "drawer-inner-back") == pytest.approx(inner, abs=1e-9)
    assert size(unit, "drawer-bottom") == pytest.approx(bottom, abs=1e-9)


@pytest.mark.parametrize(
    ("allowances", "bottom"),
    [(PLAIN, (1400, 482)), (CAREFUL, (1400, 476))],
    ids=["no allowances", "with allowances"],
)
def test_a_planted_bottom_lowers_the_sides_and_lifts_the_runner(allowances, bottom):
    unit = made(fit="planted", **allowances)
    assert size(unit, "drawer-bottom") == pytest.approx(bottom, abs=1e-9)
    assert size(unit, "drawer-side")[1] == pytest.approx(363.8, abs=1e-9)
    opening = unit.blocks[0].openings[0]
    # the box is as high as its sides; the bottom comes under them
    assert opening.box.height == pytest.approx(363.8, abs=1e-9)
    # above the load floor: packer 10, carcass floor 14.6, then the line of the opening
    assert 10 + 14.6 + opening.runner.line == pytest.approx(86.6, abs=1e-9)


def test_a_back_room_of_15_takes_the_next_shorter_runner():
    unit = made(**(CAREFUL | {"room": 15}))
    assert {o.runner.size.length for o in unit.blocks[0].openings} == {1350}
    text = unit.blocks[0].openings[0].runner.next_size
    assert text == "6.2 mm more depth would take the next length (1400)"


def heights(unit, role):
    piece = next(p for p in unit.placed if p.role == role)
    one = piece.point(0, 0, 0)[2]
    two = piece.point(piece.length, piece.width, piece.thickness)[2]
    return min(one, two), max(one, two)


@pytest.mark.parametrize(
    ("role", "low", "high"),
    [
        ("packer", 0, 10),
        ("carcass-floor", 10, 24.6),
        ("drawer-front", 27.6, 417.4),
        ("drawer-side", 34.6, 410.4),
        ("carcass-rail", 420.4, 435),
        ("deck", 435, 450),
    ],
)
def test_heights_above_the_load_floor(role, low, high):
    assert heights(made(**PLAIN), role) == pytest.approx((low, high), abs=1e-6)


def test_the_runner_line_is_50_over_the_floor_and_40_over_the_side():
    fit = made(**PLAIN).blocks[0].openings[0].runner
    assert (fit.line, fit.line_in_drawer) == (50, 40)
    assert 10 + 14.6 + fit.line == pytest.approx(74.6)


@pytest.mark.parametrize(
    ("runner", "under", "line", "in_drawer"),
    [("heavy-76", 8, 46, 38), ("medium-53", 6, 32.5, 26.5), ("slim-45", 12, 34.5, 22.5)],
)
def test_other_sections_and_gaps(runner, under, line, in_drawer):
    text = JOB.format(fit="grooved", **PLAIN)
    text = text.replace('runner = "heavy-80"', f'runner = "{runner}"')
    unit = design(
        read_job(text.replace("under_gap = 10", f"under_gap = {under}")), load_catalogue()
    )
    fit = unit.blocks[0].openings[0].runner
    assert (fit.line, fit.line_in_drawer) == (line, in_drawer)


def test_the_walls_add_up_across_and_up():
    unit = made(**PLAIN)
    opening = unit.blocks[0].openings[0]
    space = opening.runner.side_space
    assert 14.6 + space + opening.box.width + space + 14.6 == pytest.approx(550)
    assert 3 + opening.front[1] + 3 == pytest.approx(395.8)
    block = unit.blocks[0]
    assert block.packer_height + block.modules[0].height + 15 + 50 == pytest.approx(500)


def test_thickness_follows_the_caliper():
    thin = made(**CAREFUL)
    job = replace(
        thin.job,
        measured_thickness=(
            ("ply-15", (15.0,)),
            ("ply-12", (12.0,)),
            ("ply-9", (10.0,)),
            ("ply-18", (15.0,)),
        ),
    )
    thick = design(job, load_catalogue())
    # each of the two uprights of a module takes 0.4 mm more of the 544 that it has
    assert thin.blocks[0].openings[0].width - thick.blocks[0].openings[0].width == pytest.approx(
        0.8
    )
    assert thick.blocks[0].modules[0].width == pytest.approx(544)
