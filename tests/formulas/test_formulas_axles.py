"""Axle masses: case 13, the worked table of case 14 line by line, laws."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import axles
from stowright.formulas.axles import AxleMasses

L = 3200.0


def test_case_13_behind_the_rear_axle_unloads_the_front():
    got = axles.axle_change_kg(mass_kg=150.0, behind_front_mm=3600.0, wheelbase_mm=L)
    assert (got.rear_kg, got.front_kg) == pytest.approx((168.75, -18.75), rel=1e-12)


ITEMS = [
    (150.0, 1400.0, 1234.375, 915.625),
    (150.0, 2250.0, 1278.906, 1021.094),
    (60.0, 3100.0, 1280.781, 1079.219),
    (200.0, 3300.0, 1274.531, 1285.469),
    (150.0, 4500.0, 1213.594, 1496.406),
]


@pytest.mark.parametrize("count", range(1, 6))
def test_case_14_table_line_by_line(count):
    got = axles.axle_masses_kg(
        start=AxleMasses(front_kg=1150.0, rear_kg=850.0),
        items=[(mass, behind) for mass, behind, _, _ in ITEMS[:count]],
        wheelbase_mm=L,
    )
    # printed to a gram
    assert got == pytest.approx(ITEMS[count - 1][2:], abs=6e-4)


def test_case_14_total_and_what_is_left():
    got = axles.axle_masses_kg(
        start=AxleMasses(front_kg=1150.0, rear_kg=850.0),
        items=[(mass, behind) for mass, behind, _, _ in ITEMS],
        wheelbase_mm=L,
    )
    assert got.total_kg == pytest.approx(2710.0, rel=1e-12)
    assert axles.payload_left_kg(masses=got, limit_kg=2800.0) == pytest.approx(90.0)
    ball = axles.tow_ball_change_kg(ball_mass_kg=150.0, behind_rear_mm=1300.0, wheelbase_mm=L)
    assert ball == pytest.approx((-60.9375, 210.9375), rel=1e-12)


def test_two_more_worked_gains():
    # 150 kg centred 0.4 m behind the axle on 3.2 m: +169 / -19; 0.9 m behind on 2.85 m: +197 / -47
    near = axles.axle_change_kg(mass_kg=150.0, behind_front_mm=3600.0, wheelbase_mm=3200.0)
    far = axles.axle_change_kg(mass_kg=150.0, behind_front_mm=3750.0, wheelbase_mm=2850.0)
    assert near == pytest.approx((-19.0, 169.0), abs=0.5)
    assert far == pytest.approx((-47.0, 197.0), abs=0.5)


def test_centre_of_mass_and_share():
    masses = AxleMasses(front_kg=1200.0, rear_kg=800.0)
    assert axles.centre_of_mass_mm(masses=masses, wheelbase_mm=3000.0) == pytest.approx(1200.0)
    assert axles.front_share(masses=masses) == pytest.approx(0.6, rel=1e-12)


def test_brake_transfer_by_hand():
    # 2000 kg, 0.8 g, 700 high, 2800 long: 2000 * 0.8 * 700 / 2800 = 400
    got = axles.brake_transfer_kg(mass_kg=2000.0, braking=0.8, height_mm=700.0, wheelbase_mm=2800.0)
    assert got == pytest.approx(400.0, rel=1e-12)


def test_assumed_occupant():
    assert axles.OCCUPANT_KG == 75.0


def test_ball_overhang():
    got = axles.ball_overhang_ratio(ball_mass_kg=200.0, rear_gain_kg=290.0)
    assert got == pytest.approx(0.45, rel=1e-12)


masses = st.floats(-200.0, 900.0)
places = st.floats(-1500.0, 5500.0)


@given(mass=masses, place=places, base=st.floats(2000.0, 4500.0))
@settings(max_examples=40, deadline=None)
def test_both_axles_carry_the_whole_and_its_moment(mass, place, base):
    got = axles.axle_change_kg(mass_kg=mass, behind_front_mm=place, wheelbase_mm=base)
    assert got.total_kg == pytest.approx(mass, abs=1e-9)
    assert got.rear_kg * base == pytest.approx(mass * place, abs=1e-6)


@given(items=st.lists(st.tuples(masses, places), max_size=6))
@settings(max_examples=30, deadline=None)
def test_the_order_of_items_does_not_matter(items):
    start = AxleMasses(front_kg=1150.0, rear_kg=850.0)
    one = axles.axle_masses_kg(start=start, items=items, wheelbase_mm=L)
    other = axles.axle_masses_kg(start=start, items=items[::-1], wheelbase_mm=L)
    assert one == other


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(
        axles.axle_change_kg, {"mass_kg": 1.0, "behind_front_mm": 2.0, "wheelbase_mm": 3.0}
    )
    refuses_nonsense(
        axles.tow_ball_change_kg, {"ball_mass_kg": 1.0, "behind_rear_mm": 2.0, "wheelbase_mm": 3.0}
    )
    refuses_nonsense(
        axles.brake_transfer_kg,
        {"mass_kg": 1.0, "braking": 0.5, "height_mm": 2.0, "wheelbase_mm": 3.0},
    )
    refuses_nonsense(axles.ball_overhang_ratio, {"ball_mass_kg": 1.0, "rear_gain_kg": 2.0})
    nothing = AxleMasses(front_kg=5.0, rear_kg=-5.0)
    with pytest.raises(OutOfRangeError, match="total_kg"):
        axles.front_share(masses=nothing)
    with pytest.raises(OutOfRangeError, match="total_kg"):
        axles.centre_of_mass_mm(masses=nothing, wheelbase_mm=L)
    some = AxleMasses(front_kg=5.0, rear_kg=5.0)
    with pytest.raises(OutOfRangeError, match="wheelbase_mm"):
        axles.centre_of_mass_mm(masses=some, wheelbase_mm=0.0)
    with pytest.raises(OutOfRangeError, match="limit_kg"):
        axles.payload_left_kg(masses=some, limit_kg=0.0)
