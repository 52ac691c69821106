"""The sums of a refit by hand: how far a frame leans, what shims make up for, limits as told."""

import math

import pytest
from refit_jobs import BASE, CATALOGUE, SIZES, done, job, reading, refitted

from stowright.design.build import design
from stowright.explore.as_built import as_built, three
from stowright.proofs.tolerance_terms import fit_of

BLOCK, LEFT = BASE.blocks[0], BASE.opening("left")


def built(*texts):
    unit = design(job(), CATALOGUE)
    told = design(job(*texts), CATALOGUE)
    return as_built(told, unit.blocks[0], LEFT)


def test_how_far_a_frame_leans_is_what_its_diagonals_say():
    """A parallelogram 518 wide and 385 high, its top 6 mm aside (Pythagoras, both diagonals)."""
    wide, high, lean = LEFT.width, 385.0, 6.0
    one, two = (math.hypot(wide + way * lean, high) for way in (1.0, -1.0))
    assert built(reading("diagonals", one, two)).lean == pytest.approx(lean, rel=1e-6)
    box = LEFT.box
    one, two = (math.hypot(box.width + way * 2.0, box.length) for way in (1.0, -1.0))
    assert built(reading("box-diagonals", one, two)).box_run_out == pytest.approx(2.0, rel=1e-6)


def test_between_the_runners_the_opening_is_wider_by_both_of_them():
    found = built(reading("between-runners", 480.0, 479.0), reading("runner-thickness", 18.5, 18.7))
    assert found.room == pytest.approx(tuple(value + 2 * 18.7 for value in (480.0, 479.5, 479.0)))
    assert three((4.0, 2.0)) == (4.0, 3.0, 2.0)


def test_shims_make_up_for_half_of_what_is_above_the_aim_where_the_screw_stands():
    """Inner parts are cut: play is the opening as it reads less the box, shared by two sides."""
    ends = [p.mark for p in BASE.placed if p.opening == "left" and "inner" in p.role]
    read = (520.5, 519.5, 518.0)
    unit, found = refitted(done(*((mark, SIZES[mark]) for mark in ends)), reading("width", *read))
    fit = fit_of(unit, CATALOGUE, unit.blocks[0], unit.opening("left"))
    aim = (fit.low + fit.high) / 2.0
    play = [value - LEFT.box.width for value in read]
    assert found.shims
    for pack in found.shims:
        share = (LEFT.runner.set_back + pack.at) / LEFT.depth
        near, far = (play[0], play[1]) if share <= 0.5 else (play[1], play[2])
        along = near + (far - near) * (share - (0.0 if share <= 0.5 else 0.5)) / 0.5
        assert pack.wanted == pytest.approx((along - aim) / 2.0, abs=1e-3)


def test_a_box_cut_down_gets_the_aim_of_its_runners_again():
    ends = [p.mark for p in BASE.placed if p.opening == "left" and "inner" in p.role]
    unit, found = refitted(done(*((mark, SIZES[mark]) for mark in ends)), reading("width", 515.0))
    space = LEFT.runner.runner.side_space
    runner = unit.opening("left").runner
    for row in found.no_longer:
        # cut to the grid of 0.5: the aim, and less than a step of it on both sides together
        both = 515.0 - (LEFT.box.width - SIZES[row.mark][0] + row.size[0])
        assert 2.0 * space.aim - 1e-9 <= both < 2.0 * space.aim + 0.5
    assert runner.side_space >= space.least


def test_the_limit_of_diagonals_is_a_millimetre_for_each_metre():
    wide, deep = BLOCK.box.y.size, BLOCK.box.x.size
    limit = math.hypot(wide, deep) / 1000.0
    for apart, told in ((limit - 0.02, False), (limit + 0.02, True)):
        _, found = refitted(reading("diagonals", 1800.0 + apart, 1800.0, block="unit"))
        assert any(f"{limit:.1f} is the limit" in line for line in found.open) == told


def cut(*roles):
    marks = {p.mark for p in BASE.placed if p.opening == "left" and p.role in roles}
    return done(*((mark, SIZES[mark]) for mark in sorted(marks)))


ENDS = cut("drawer-inner-front", "drawer-inner-back")
SPACE = LEFT.runner.runner.side_space
#: What the box leaves both runners beyond the least that they need, as planned. [mm]
SPARE = LEFT.width - LEFT.box.width - 2.0 * SPACE.least


@pytest.mark.parametrize(("over", "told"), [(-0.002, False), (0.002, True)])
def test_a_cut_box_serves_to_the_least_that_its_runners_need(over, told):
    _, found = refitted(ENDS, reading("width", LEFT.width - SPARE - over))
    assert bool(found.no_longer) == told
    thick = LEFT.runner.runner.thickness + (SPARE + over) / 2.0
    _, found = refitted(ENDS, reading("runner-thickness", thick))
    assert bool(found.no_longer) == told


def test_a_box_loses_both_runners_and_a_front_both_sides():
    _, found = refitted(reading("runner-thickness", LEFT.runner.runner.thickness + 0.45))
    assert found.of_opening("left").box_across.by == pytest.approx(-0.9)
    one, two = (math.hypot(LEFT.width + way * 6.0, 385.0) for way in (1.0, -1.0))
    _, found = refitted(reading("diagonals", one, two))
    # 1 mm is to be left of a gap of 3 that loses half of 6: 1 mm short on either side
    assert found.of_opening("left").front_across.by == pytest.approx(-2.0, abs=1e-4)


@pytest.mark.parametrize(("over", "told"), [(-0.02, False), (0.02, True)])
def test_a_cut_box_serves_to_two_millimetres_under_what_is_over_it(over, told):
    box = LEFT.box
    room = LEFT.height - LEFT.build.under_gap - box.height
    _, found = refitted(cut("drawer-side"), reading("height", LEFT.height - room + 2.0 - over))
    assert bool(found.no_longer) == told


def test_a_cut_front_is_cut_down_to_its_gaps():
    read = LEFT.height - 2.85
    _, found = refitted(cut("drawer-front"), reading("height", read))
    (row,) = found.no_longer
    left = read - 2.0 * LEFT.build.front_gap - row.size[1]
    assert 0.0 <= left < 0.5
