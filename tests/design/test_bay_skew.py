"""Out of square: diagonals against exact corners, and the handbook's squareness relation."""

from math import dist, sqrt

import pytest
from bays import length, make_bay, tub, width
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from stowright.design.skew import skew_of, skew_words


def diagonals(tail_right, tail_left, cab_right, cab_left):
    return dist(tail_right, cab_left), dist(tail_left, cab_right)


def both_sides(left, right, at=600.0):
    return (length(0.0, -at, right), length(0.0, at, left))


@settings(max_examples=50, deadline=None)
@given(
    long=st.floats(900.0, 3000.0),
    tail=st.floats(1000.0, 1800.0),
    cab=st.floats(1000.0, 1800.0),
    lean=st.floats(-30.0, 30.0),
)
def test_side_walls_that_lean_are_found_exactly_in_any_taper(long, tail, cab, lean):
    corners = (
        (0.0, -tail / 2.0),
        (0.0, tail / 2.0),
        (long, lean - cab / 2.0),
        (long, lean + cab / 2.0),
    )
    bay = make_bay(
        length=long,
        widths=(width(0.0, 0.0, tail), width(long, 0.0, cab)),
        lengths=both_sides(long, long),
        diagonals=diagonals(*corners),
    )
    found = skew_of(bay)
    assume(not 0.04 < abs(lean) < 0.06)  # where "square" begins
    # which diagonal comes first is the builder's choice: the size of the lean is what holds
    assert abs(found.lean) == pytest.approx(abs(lean), abs=1e-6)  # squares of metres in doubles
    assert found.cause == ("side lean" if abs(lean) > 0.05 else "square")


@settings(max_examples=50, deadline=None)
@given(long=st.floats(900.0, 3000.0), wide=st.floats(1000.0, 1800.0), out=st.floats(1.0, 40.0))
@pytest.mark.parametrize("longer", ["left", "right"])
@pytest.mark.parametrize("order", [1, -1], ids=["as written", "other way round"])
def test_a_turned_headboard_is_told_from_leaning_walls_by_the_lengths(
    longer, order, long, wide, out
):
    left, right = (long + out, long) if longer == "left" else (long, long + out)
    half = wide / 2.0
    pair = diagonals((0.0, -half), (0.0, half), (right, -half), (left, half))
    at = 500.0
    middle, slope = (left + right) / 2.0, (left - right) / wide
    bay = make_bay(
        length=middle,
        width=wide,
        lengths=both_sides(middle + slope * at, middle - slope * at, at),
        diagonals=pair[::order],
    )
    found = skew_of(bay)
    assert found.cause == "headboard"
    assert found.lean == pytest.approx(0.0, abs=1e-6)
    # the same diagonals without the lengths: not known which, taken whole
    unknown = skew_of(make_bay(length=middle, width=wide, diagonals=pair[::order]))
    assert unknown.cause == "not known which"
    # 4 W s = l^2 - r^2
    assert abs(unknown.lean) == pytest.approx(out * (left + right) / (4.0 * wide), abs=1e-6)


def test_what_the_headboard_leaves_is_the_walls_lean():
    left, right, half, lean = 1510.0, 1494.0, 700.0, 6.0
    pair = diagonals((0.0, -half), (0.0, half), (right, lean - half), (left, lean + half))
    bay = make_bay(length=1502.0, lengths=both_sides(left, right, 700.0), diagonals=pair)
    found = skew_of(bay)
    # 16 of headboard give 16 x 3004 / 5600 = 8.58 of apparent lean: more than the 6 of the walls
    assert found.cause == "headboard"
    assert found.lean == pytest.approx(6.0, abs=1e-6)


def test_the_range_comes_from_the_reading_error():
    found = skew_of(tub())
    # (2041^2 - 2035^2) / (4 x 1388) = 24456 / 5552; W the mean of 1392 and 1384
    assert found.lean == pytest.approx(24456.0 / 5552.0, abs=1e-9)
    # either diagonal 2 out, against each other: 2 x 2 x 4076 / 5552
    assert found.high - found.lean == pytest.approx(16304.0 / 5552.0, abs=1e-9)
    assert found.lean - found.low == pytest.approx(16304.0 / 5552.0, abs=1e-9)
    # one length in the middle and one at a side do not tell
    assert found.cause == "not known which"


def test_the_lengths_errors_widen_the_range():
    bay = make_bay(
        reading_error=2.0, lengths=both_sides(1500.0, 1500.0), diagonals=(2055.0, 2049.0)
    )
    found = skew_of(bay)
    # diagonals 2 x 2 x 4104; lengths 2 x 2 / 1200 x 1400 x 3000; over 4 x 1400
    assert found.high - found.lean == pytest.approx((16416.0 + 14000.0) / 5600.0, abs=1e-9)


def test_a_headboard_that_explains_less_than_half_leaves_leaning_walls():
    # 24624 of difference; the headboard's 2 x 3000 = 6000 of it leave 18624
    bay = make_bay(lengths=both_sides(1501.0, 1499.0, 700.0), diagonals=(2055.0, 2049.0))
    found = skew_of(bay)
    assert found.cause == "side lean"
    assert found.lean == pytest.approx(18624.0 / 5600.0, abs=1e-9)


def test_without_diagonals_nothing_is_known():
    found = skew_of(make_bay())
    assert (found.lean, found.low, found.high, found.cause) == (0.0, 0.0, 0.0, "not measured")


def test_equal_diagonals_are_square_within_their_reading_error():
    found = skew_of(make_bay(diagonals=(2050.0, 2050.0), reading_error=2.0))
    assert found.cause == "square"
    assert found.lean == 0.0
    assert found.low < 0.0 < found.high


@pytest.mark.parametrize(
    ("wide", "long", "difference", "lean_per_m"),
    [
        # handbook, check case Q1: 1200 x 900, lean 1 mm/m gives 1.44; 2 mm gives 1.389 mm/m
        pytest.param(1200.0, 900.0, 1.44, 1.0, id="Q1 1200 x 900, 1 mm/m"),
        pytest.param(1200.0, 900.0, 2.0, 1.389, id="Q1 1200 x 900, 2 mm"),
        # check case Q2: 800 x 400, 1 mm/m gives 0.7155
        pytest.param(800.0, 400.0, 0.7155, 1.0, id="Q2 800 x 400, 1 mm/m"),
    ],
)
def test_the_handbooks_squareness_relation(wide, long, difference, lean_per_m):
    diagonal = sqrt(wide * wide + long * long)
    pair = (diagonal + difference / 2.0, diagonal - difference / 2.0)
    found = skew_of(make_bay(length=long, width=wide, diagonals=pair))
    # printed to four figures
    assert found.lean / long * 1000.0 == pytest.approx(lean_per_m, rel=5e-4)


def test_a_skew_reads_as_a_sentence():
    assert skew_words(skew_of(make_bay()), shown="0 mm") == "not known: no diagonals were read"
    assert "not known which: taken as 4.4 mm" in skew_words(skew_of(tub()), shown="4.4 mm")
    square = skew_of(make_bay(diagonals=(2000.0, 2000.0)))
    assert skew_words(square, shown="0 mm") == "square by its diagonals"
    leaning = make_bay(diagonals=(2055.0, 2049.0), lengths=both_sides(1500.0, 1500.0))
    assert skew_words(skew_of(leaning), shown="4 mm").startswith("the side walls lean")
    turned = make_bay(diagonals=(2055.0, 2049.0), lengths=both_sides(1503.5, 1496.5))
    assert skew_words(skew_of(turned), shown="0.1 mm").startswith("the headboard")
