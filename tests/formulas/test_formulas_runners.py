"""Runners: the width window, end reactions by hand (R2), factors with names, laws."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import runners


def test_r2_end_reactions():
    got = runners.end_reactions_n(load_n=300.0, arm_mm=350.0, overlap_mm=250.0)
    assert got == pytest.approx((720.0, 420.0), rel=1e-12)


@given(load=st.floats(0.0, 2000.0), arm=st.floats(-600.0, 900.0), overlap=st.floats(60.0, 900.0))
@settings(max_examples=40, deadline=None)
def test_reactions_balance(load, arm, overlap):
    got = runners.end_reactions_n(load_n=load, arm_mm=arm, overlap_mm=overlap)
    assert got.front_up_n - got.rear_down_n == pytest.approx(load, abs=1e-6)
    # moments about the front bearing
    assert got.rear_down_n * overlap == pytest.approx(load * arm, abs=1e-4)


def test_shut_both_ends_carry():
    # the load amid a closed runner of 500: both ends carry half of it
    got = runners.end_reactions_n(load_n=300.0, arm_mm=-250.0, overlap_mm=500.0)
    assert (got.front_up_n, -got.rear_down_n) == pytest.approx((150.0, 150.0))


def test_window_with_other_play():
    got = runners.drawer_width_window(
        opening_mm=520.8, runner_thickness_mm=19.1, play_least_mm=0.0, play_greatest_mm=0.75
    )
    assert got == pytest.approx((481.1, 482.6), rel=1e-12)
    # the worked example's box of 482.0 aims at 0.3 a side: 520.8 - 2 * 19.4
    aim = runners.drawer_width_window(
        opening_mm=520.8, runner_thickness_mm=19.1, play_least_mm=0.3, play_greatest_mm=0.3
    )
    assert aim == pytest.approx((482.0, 482.0), rel=1e-12)


def test_the_window_is_six_tenths_wide():
    got = runners.drawer_width_window(opening_mm=500.0, runner_thickness_mm=12.7)
    assert got.greatest_mm - got.least_mm == pytest.approx(0.6, rel=1e-9)
    assert (runners.SIDE_PLAY_LEAST_MM, runners.SIDE_PLAY_GREATEST_MM) == (0.2, 0.5)


def test_width_factor():
    assert runners.width_factor(length_mm=600.0, width_mm=800.0) == pytest.approx(0.75)
    assert runners.width_factor(length_mm=600.0, width_mm=600.0) == 1.0
    assert runners.width_factor(length_mm=900.0, width_mm=600.0) == 1.0


def test_derating_names_every_factor():
    factors = {"vehicle": runners.VEHICLE_USE, "flat": runners.FLAT_MOUNTED, "width": 0.8}
    assert runners.derated_kg(rating_kg=100.0, factors=factors) == pytest.approx(10.0)
    assert runners.derated_kg(rating_kg=100.0, factors={}) == 100.0
    assert (runners.VEHICLE_USE, runners.FLAT_MOUNTED) == (0.5, 0.25)
    for bad in (0.0, 1.01, float("nan")):
        with pytest.raises(OutOfRangeError, match="vehicle"):
            runners.derated_kg(rating_kg=100.0, factors={"vehicle": bad})


def test_kitchen_floor_load():
    assert pytest.approx(718e-6, rel=1e-12) == runners.KITCHEN_FLOOR_LOAD_N_MM2
    assert runners.floor_test_load_n(width_mm=500.0, length_mm=400.0) == pytest.approx(143.6)


def test_other_classes_are_refused():
    with pytest.raises(OutOfRangeError, match="50, 75 or 100"):
        runners.dynamic_share_of_static(static_lb=60)


def test_nonsense_is_refused(refuses_nonsense):
    window = {
        "opening_mm": 500.0,
        "runner_thickness_mm": 12.7,
        "play_least_mm": 0.2,
        "play_greatest_mm": 0.5,
    }
    refuses_nonsense(runners.drawer_width_window, window)
    with pytest.raises(OutOfRangeError, match="play_greatest_mm"):
        runners.drawer_width_window(**(window | {"play_greatest_mm": 0.1}))
    with pytest.raises(OutOfRangeError, match="least_width_mm"):
        runners.drawer_width_window(**(window | {"opening_mm": 26.4}))
    refuses_nonsense(runners.end_reactions_n, {"load_n": 1.0, "arm_mm": 2.0, "overlap_mm": 3.0})
    refuses_nonsense(runners.width_factor, {"length_mm": 1.0, "width_mm": 2.0})
    refuses_nonsense(runners.derated_kg, {"rating_kg": 1.0, "factors": {}})
    refuses_nonsense(runners.floor_test_load_n, {"length_mm": 1.0, "width_mm": 2.0})


def test_a_rating_for_another_length_falls_with_the_length_and_never_rises():
    assert runners.length_factor(length_mm=900.0, basis_length_mm=450.0) == pytest.approx(0.5)
    assert runners.length_factor(length_mm=300.0, basis_length_mm=450.0) == 1.0
