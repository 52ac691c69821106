"""Dimensions, leaders, hatching as marks; placing of texts."""

from itertools import pairwise
from math import cos, radians, sin

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.drawings.dimensioning import linear, running, spread
from stowright.drawings.extent import bounds, moved
from stowright.drawings.figures import arrowhead, hatch_lines, marks_of
from stowright.drawings.scene import (
    Arc,
    Arrow,
    Balloon,
    Circle,
    Dimension,
    Hatch,
    Leader,
    Line,
    Polyline,
    Region,
    Running,
    Symbol,
    Text,
)
from stowright.drawings.symbols import symbol_marks

PLACES = st.lists(st.floats(0, 200), min_size=1, max_size=25).map(sorted)


@given(PLACES, st.floats(0.5, 8.0))
@settings(max_examples=80, deadline=None)
def test_spread_keeps_order_and_distance_and_centre(places, gap):
    found = spread(places, gap=gap)
    assert all(b - a >= gap - 1e-6 for a, b in pairwise(found))
    # Least squares with one common shift per cluster keeps the mean.
    assert sum(found) / len(found) == pytest.approx(sum(places) / len(places), abs=1e-6)


@given(PLACES, st.floats(0.5, 8.0))
@settings(max_examples=40, deadline=None)
def test_spread_leaves_alone_what_is_far_enough_apart(places, gap):
    apart = [place + 2.0 * gap * k for k, place in enumerate(places)]
    assert spread(apart, gap=gap) == pytest.approx(apart)


def test_a_dimension_with_room_has_its_text_in_the_middle_and_arrows_inside():
    d = linear((0, 0), (50, 0), axis="x", line_at=8, value=500, units="mm")
    assert (d.text, d.text_at, d.arrows_out) == ("500", None, False)
    text = next(m for m in marks_of(d) if isinstance(m, Text))
    assert text.at[0] == 25
    assert text.at[1] > 8  # above its line, nothing through it


def test_a_tight_dimension_turns_its_arrows_and_moves_its_text_out():
    d = linear((0, 0), (0, 1.5), axis="y", line_at=-5, value=14.6, units="mm")
    assert d.arrows_out
    text = next(m for m in marks_of(d) if isinstance(m, Text))
    line = max((m for m in marks_of(d) if isinstance(m, Line)), key=lambda m: m.end[1] - m.start[1])
    assert text.at[1] > 1.5
    assert line.end[1] >= bounds((text,)).top - 1e-6  # the line runs out under its text


def test_dimensions_read_from_below_and_from_the_right():
    # ISO 129-1 (from memory): texts of upright dimensions are read from the right.
    upright = linear((0, 0), (0, 50), axis="y", line_at=-5, value=500, units="mm")
    assert next(m for m in marks_of(upright) if isinstance(m, Text)).turn == 90


def test_inches_are_printed_as_fractions():
    assert (
        linear((0, 0), (50, 0), axis="x", line_at=8, value=25.4 * 20.25, units="in").text
        == "20 1/4"
    )


def test_running_dimensions_start_at_a_ring_on_the_datum_and_point_away_from_it():
    run = running(
        (0, 0), [((30, 0), 300), ((60, 0), 600)], axis="x", line_at=-6, units="mm", side=-1
    )
    marks = marks_of(run)
    rings = [m for m in marks if isinstance(m, Circle)]
    assert [r.centre for r in rings] == [(0, -6)]
    tips = [m.outer[0] for m in marks if isinstance(m, Region)]
    assert tips == [(30, -6), (60, -6)]
    assert all(m.outer[1][0] < m.outer[0][0] for m in marks if isinstance(m, Region))
    assert run.texts == ("0", "300", "600")


def test_running_dimensions_of_a_mirrored_part_point_left():
    run = running((0, 0), [((-30, 0), 300)], axis="x", line_at=-6, units="mm", side=-1)
    head = next(m for m in marks_of(run) if isinstance(m, Region))
    assert head.outer[0] == (-30, -6)
    assert head.outer[1][0] > -30


def test_places_too_near_for_arrows_get_dots():
    run = running(
        (0, 0), [((30, 0), 300), ((31, 0), 310)], axis="x", line_at=-6, units="mm", side=-1
    )
    dots = [m for m in marks_of(run) if isinstance(m, Circle) and m.fill == "ink"]
    assert [d.centre for d in dots] == [(31, -6)]


def test_one_place_is_dimensioned_once_from_the_nearest_point():
    run = running(
        (0, 0), [((30, 40), 300), ((30, 5), 300.01)], axis="x", line_at=-6, units="mm", side=-1
    )
    assert run.points == ((30, 5),)
    assert len(run.values) == 1


def test_nothing_to_locate_is_no_dimension():
    assert running((0, 0), [((0, 3), 0.0)], axis="x", line_at=-6, units="mm", side=-1) is None


def test_texts_keep_clear_of_lines_that_run_through_them():
    points = [((1, 0), 10), ((2, 0), 20), ((99, 0), 990)]
    run = running((0, 0), points, axis="x", line_at=6, units="mm", side=1, bars=(0.0, 100.0))
    for text in (m for m in marks_of(run) if isinstance(m, Text)):
        box = bounds((text,))
        assert not any(box.left < bar < box.right for bar in (0.0, 100.0)), text


@given(st.floats(0, 180), st.floats(0.8, 4.0))
@settings(max_examples=40, deadline=None)
def test_hatching_stays_inside_and_covers_evenly(angle, spacing):
    outer = ((0, 0), (60, 0), (60, 40), (0, 40))
    hole = ((20, 10), (40, 10), (40, 30), (20, 30))
    shape = shapely.Polygon(outer, [hole]).buffer(1e-6)
    lines = hatch_lines(Hatch(outer=outer, holes=(hole,), angle=angle, spacing=spacing))
    total = 0.0
    for line in lines:
        drawn = shapely.LineString((line.start, line.end))
        assert shape.covers(drawn)
        total += drawn.length
    # Cavalieri: length of equidistant chords times their distance is the area, up to one line.
    assert total * spacing == pytest.approx(2400 - 400, abs=75 * spacing)


def test_hatch_lines_run_at_their_angle():
    line = hatch_lines(Hatch(outer=((0, 0), (30, 0), (30, 30), (0, 30)), angle=30))[3]
    dx, dy = line.end[0] - line.start[0], line.end[1] - line.start[1]
    assert dx * sin(radians(30)) == pytest.approx(dy * cos(radians(30)), abs=1e-9)


def test_an_arrowhead_points_where_it_says():
    head = arrowhead((10, 5), angle=0.0, size=2.0)
    assert head.outer[0] == (10, 5)
    assert {round(p[0], 9) for p in head.outer[1:]} == {8.0}


def test_projection_symbols_are_mirror_arrangements():
    # ISO 5456-2 (from memory): the same cone, small end to the left; its end view (seen from the
    # left) on the right in first angle, on the left in third.
    for kind, side in (("first-angle", 1), ("third-angle", -1)):
        marks = symbol_marks(Symbol(kind=kind, at=(0, 0), size=10))
        cone = next(m for m in marks if isinstance(m, Polyline))
        rings = [m for m in marks if isinstance(m, Circle)]
        left, right = min(p[0] for p in cone.points), max(p[0] for p in cone.points)

        def height(x, points=cone.points):
            ys = [p[1] for p in points if abs(p[0] - x) < 1e-9]
            return max(ys) - min(ys)

        assert height(left) == height(right) / 2
        assert all(ring.centre[0] * side > 0 for ring in rings)
        assert sorted(ring.radius for ring in rings) == [2.5, 5.0]


ITEMS = [
    Line(start=(1, 2), end=(3, 4)),
    Polyline(points=((0, 0), (5, 1))),
    Region(outer=((0, 0), (9, 0), (9, 9)), holes=(((5, 1), (6, 1), (6, 2)),)),
    Arc(centre=(5, 5), radius=3, start=10, end=200),
    Circle(centre=(5, 5), radius=3),
    Text(text="abc", at=(3, 3)),
    Dimension(start=(0, 0), end=(9, 0), axis="x", line_at=5, value=9, text="9", text_at=20),
    Running(
        datum=(0, 0), points=((0, 9),), axis="y", line_at=-5, texts_at=(0, 10), values=(9,),
        texts=("0", "9"),
    ),
    Leader(points=((1, 1), (9, 9)), lines=("a", "b")),
    Hatch(outer=((0, 0), (9, 0), (9, 9))),
    Balloon(centre=(5, 5), text="A1", target=(9, 20)),
    Arrow(tail=(0, 0), tip=(9, 3), style="double"),
    Symbol(kind="datum", at=(3, 3), text="A"),
]  # fmt: skip


@pytest.mark.parametrize("item", ITEMS, ids=lambda item: type(item).__name__)
def test_moving_an_item_moves_all_of_it(item):
    # Hatch lines keep their common grid, so only their extent moves, by at most one spacing.
    before, after = bounds((item,)), bounds(moved((item,), x=7, y=-3))
    slack = 3.0 if isinstance(item, Hatch) else 1e-9
    assert after.left == pytest.approx(before.left + 7, abs=slack)
    assert after.bottom == pytest.approx(before.bottom - 3, abs=slack)
    assert after.right == pytest.approx(before.right + 7, abs=slack)
    assert after.top == pytest.approx(before.top - 3, abs=slack)


def test_bounds_of_an_arc_hold_the_quarter_points_that_it_passes():
    box = bounds((Arc(centre=(0, 0), radius=10, start=45, end=200),))
    assert (box.left, box.top) == pytest.approx((-10, 10))
    assert box.right == pytest.approx(10 * cos(radians(45)))
    assert box.bottom == pytest.approx(10 * sin(radians(200)))
