"""Arrangements made from a bay: each one is a job that a job file can hold, and that plans."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from small_bays import ALL, VAN, WAGON, judge_of

from stowright.app.loading import load_catalogue, load_job
from stowright.design.bodies import bodies
from stowright.errors import DesignError
from stowright.explore.arranged import arranged
from stowright.explore.arrangement import (
    by_chance,
    chosen,
    crossed,
    everything,
    neighbours,
    normal,
    space_of,
    usual,
)
from stowright.explore.dice import Dice
from stowright.explore.from_bay import heights_of
from stowright.explore.mending import mended
from stowright.jobfile import dump_job

SHELF = load_catalogue()
SPACES = {name: space_of(load_job(text), SHELF) for name, text in ALL.items()}


def settled(job):
    """A job without what a file does not hold."""
    return replace(job, assumed=(), warnings=())


@settings(max_examples=40, deadline=None)
@given(st.sampled_from(sorted(SPACES)), st.integers(0, 10_000))
def test_any_arrangement_comes_back_from_its_job_file(name, seed):
    job = arranged(SPACES[name], by_chance(SPACES[name], Dice(seed)))
    assert settled(load_job(dump_job(job))) == settled(job)


@settings(max_examples=40, deadline=None)
@given(st.sampled_from(sorted(SPACES)), st.integers(0, 10_000))
def test_what_makes_no_difference_is_put_in_order_once(name, seed):
    space = SPACES[name]
    choice = by_chance(space, Dice(seed))
    assert normal(space, choice) == choice
    for near in neighbours(space, choice)[:20]:
        assert normal(space, near) == near
        assert near != choice


@settings(max_examples=30, deadline=None)
@given(st.sampled_from(sorted(SPACES)), st.integers(0, 10_000))
def test_a_child_is_an_arrangement_too(name, seed):
    space, dice = SPACES[name], Dice(seed)
    one, two = by_chance(space, dice), by_chance(space, dice)
    child = crossed(space, one, two, dice)
    assert normal(space, child) == child
    arranged(space, child)


@pytest.mark.parametrize("name", sorted(SPACES))
def test_a_bay_alone_gives_units_that_can_be_made(name):
    space = SPACES[name]
    made = 0
    for choice in usual(space):
        try:
            design = bodies(arranged(space, choice), SHELF)
        except DesignError:
            continue
        made += 1
        assert design.parts
    assert made > len(usual(space)) // 2


def test_a_side_doorway_is_used():
    space = SPACES["van"]
    assert "tail and left" in space.questions[space.place("layout")].answers
    choice = next(c for c in usual(space) if chosen(space, c)["layout"] == "tail and left")
    faces = {block.face for block in arranged(space, choice).blocks}
    assert faces == {"tail", "left"}
    assert "[[bay.opening]]" in VAN


@pytest.mark.parametrize(("columns", "fill"), [((1, 2), "drawers"), ((1,), "through")])
def test_an_empty_box_as_wide_as_the_bay_is_a_space_for_long_things_only_in_a_narrow_one(
    columns, fill
):
    space = SPACES["tub"].only(columns=columns)
    first = tuple(0 for _ in space.questions)
    place = space.place("fills")
    through = space.questions[place].answers.index("through")
    choice = normal(space, (*first[:place], through, *first[place + 1 :]))
    assert chosen(space, choice)["fills"] == fill


def test_blocks_of_the_job_are_not_looked_at():
    text = WAGON.replace(
        "[build]", '[[block]]\nname = "boot"\n[[deck]]\nover = ["boot"]\ntop = 400\n[build]'
    )
    space = space_of(load_job(text), SHELF)
    assert not space.job.blocks
    assert space.questions[space.place("height")].answers[0] == 400.0


def test_things_that_named_one_opening_stay_together():
    text = WAGON.replace("mass = 7", 'mass = 7\ngoes_in = "a"').replace(
        "mass = 6", 'mass = 6\ngoes_in = "a"'
    )
    text = text.replace(
        "[build]", '[[block]]\ncolumns = [{stack = [{fill = "drawer", name = "a"}]}]\n[build]'
    )
    job = space_of(load_job(text), SHELF).job
    assert [item.goes_in for item in job.carry] == ["", ""]
    assert job.carry[0].goes_with == ("stands",)


def test_everything_lists_each_unit_once():
    judge = judge_of(WAGON, height=(400.0,), depth=(0.0,), carcass=("birch-15",))
    small = judge.space.only(
        drawer=("birch-12",),
        drawer_bottom=("birch-9",),
        front_sheet=("birch-15",),
        deck_sheet=("birch-18",),
        back=("block",),
        widths=("even",),
    )
    rows = list(everything(small))
    assert len(rows) == len(set(rows)) < small.size


@pytest.mark.parametrize("seed", range(4))
def test_a_mended_arrangement_has_thicker_sheets_and_nothing_else_new(seed):
    space = SPACES["wagon"]
    choice = by_chance(space, Dice(seed))
    before = chosen(space, choice)
    sheets = {"carcass", "drawer", "drawer_bottom", "front_sheet", "deck_sheet"}
    for other in mended(space, SHELF, choice):
        after = chosen(space, other)
        changed = {key for key in after if after[key] != before[key]}
        assert changed
        assert changed <= sheets
        for key in changed:
            old, new = (SHELF.material(str(x[key])).thickness for x in (before, after))
            assert new > old


FRIDGE = """
[[carry]]
what = "fridge"
size = [600, 380, 460]
mass = 20
keep_upright = true
clear_above = 60
"""


@pytest.mark.parametrize("name", ["wagon", "tray", "van", "tub"])
def test_the_usual_height_holds_the_tallest_thing(name):
    """It stands 460 and wants 60 above its lid; floor, bottom and top come to some 100 mm."""
    heights = heights_of(load_job(ALL[name] + FRIDGE))
    assert heights[0] >= 460 + 60 + 100
    assert any(z < heights[0] for z in heights)


def test_a_unit_on_an_open_tray_may_stand_above_its_rail():
    heights = heights_of(load_job(ALL["tray"]))
    assert any(z > 600 for z in heights)
    assert all(z <= 700 for z in heights)


def test_no_height_is_above_the_roof():
    low = ALL["wagon"].replace("clear_height = 780", "clear_height = 500") + FRIDGE
    assert max(heights_of(load_job(low))) < 500
