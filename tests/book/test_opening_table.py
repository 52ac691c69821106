"""What an opening's reading changes, against the two columns of the worked example.

The geometry page works the same unit twice by hand, its openings 520.8 and 514.8 wide: what differs
between the columns is what a reading 6 mm less has to give.
"""

import pytest

from stowright.app.planning import plan
from stowright.book.opening_table import changed_parts, opening_tables, steps_of
from stowright.jobfile import read_job
from stowright.units import format_length

JOB = """
[job]
title = "One of two"
cut_grid = 0
[bay]
kind = "tub"
length = 1500
width = 1392
rail = 500
reading_error = 0
between = [ {at = 750, height = 0, width = 1100} ]
[[block]]
name = "drawers"
clear_at_face = 50
columns = [ {stack = [ {fill = "drawer", name = "one"} ]},
            {stack = [ {fill = "drawer", name = "two"} ]} ]
[build]
runner = "heavy-80"
under_gap = 10
side_clear = 0
end_clear = 0
back_room = 15
module_gap = 0
packers = {how = "on-ribs", sheet = "ply-9"}
measured_thickness = {ply-15 = [14.6], ply-12 = [12.0], ply-9 = [10.0]}
"""


@pytest.fixture(scope="module")
def worked():
    return plan(read_job(JOB))


def sizes(plan, across, difference):
    opening = plan.design.opening("one")
    return {
        change.part.role: change.at(difference, 0.0)
        for change in changed_parts(plan.design, opening, across)
    }


def test_an_opening_six_less_gives_the_second_column(worked):
    assert worked.design.opening("one").width == pytest.approx(520.8)
    plain = sizes(worked, "width", 0.0)
    less = sizes(worked, "width", -6.0)
    wanted = {  # inner front, inner back, bottom grooved 6, front: both columns of the page
        "drawer-inner-front": (452.8, 446.8),
        "drawer-inner-back": (452.8, 446.8),
        "drawer-bottom": (464.8, 458.8),
        "drawer-front": (514.8, 508.8),
    }
    assert set(plain) == set(wanted)
    for role, (one, other) in wanted.items():
        assert plain[role] == pytest.approx(one)
        assert less[role] == pytest.approx(other)


def test_only_the_front_follows_the_height(worked):
    assert set(sizes(worked, "height", 0.0)) == {"drawer-front"}


def test_the_table_says_when_a_cut_box_still_runs(worked):
    """19.1 runners with play 0.3: 19.4 aimed for, 19.3 to 19.6 in the shipped row."""
    table = next(t for t in opening_tables(worked) if t["what"] == "width")
    rows = {row[0]: row for row in table["rows"]}
    assert table["names"] == ["one", "two"]
    assert rows["520.8"][1:3] == ["19.4", "runs as it is"]
    assert rows["519.8"][1] == "18.9"
    assert rows["519.8"][2].startswith("too wide")
    assert rows["522.8"][1:3] == ["20.4", "pack 1 behind each runner"]


def test_the_plan_stands_first_and_three_steps_to_each_side(worked, pickup):
    for made in (worked, pickup):
        for table in opening_tables(made):
            assert table["rows"][0][0] == table["reads"]
            assert len(table["rows"]) == 7
            assert all(len(row) == len(table["head"]) for row in table["rows"])
    assert steps_of("mm") == (-3.0, -2.0, -1.0, 1.0, 2.0, 3.0)
    assert [format_length(v, "in") for v in steps_of("in")[3:]] == ["1/32", "1/16", "1/8"]


def test_sizes_stay_on_the_cut_grid(pickup):
    opening = pickup.design.opening("tools")
    grid = pickup.job.cut_grid
    for change in changed_parts(pickup.design, opening, "width"):
        size = change.at(-1.3, grid)
        assert size / grid == pytest.approx(round(size / grid))
        assert change.size - 1.3 - grid < size <= change.size - 1.3 + 1e-9
