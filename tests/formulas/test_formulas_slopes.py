"""Drawers on slopes and people's lifts: case 16 by hand, zones, laws."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import handling, slopes

CLOSE = 0.005


def test_case_16_drawer_of_40_kg():
    grade = slopes.grade_angle_deg(grade_percent=20.0)
    smooth = {"mass_kg": 40.0, "friction": 0.0}
    assert slopes.push_uphill_n(**smooth, angle_deg=grade) == pytest.approx(76.96, rel=1e-4)
    assert slopes.push_uphill_n(**smooth, angle_deg=10.0) == pytest.approx(68.14, rel=1e-4)
    assert slopes.push_uphill_n(mass_kg=40.0, angle_deg=10.0) == pytest.approx(72.00, rel=1e-3)
    assert slopes.latch_demand_n(mass_kg=40.0, fraction=0.5) == pytest.approx(196.2, rel=1e-9)
    assert slopes.latch_demand_n(mass_kg=40.0, fraction=0.8) == pytest.approx(313.9, rel=1e-3)


def test_running_away_by_hand():
    # 40 * 9.81 (sin 10 - 0.01 cos 10) = 392.4 (0.1736482 - 0.0098481)
    got = slopes.run_away_force_n(mass_kg=40.0, angle_deg=10.0)
    assert got == pytest.approx(392.4 * 0.1638001, rel=1e-6)
    assert slopes.run_away_force_n(mass_kg=40.0, angle_deg=0.5) == 0.0
    assert slopes.run_away_force_n(mass_kg=40.0, angle_deg=0.6) > 0.0


def test_roll_out_angle():
    # 0.6 to 1.5 degrees for 0.01 to 0.025
    assert slopes.roll_out_angle_deg() == pytest.approx(0.573, abs=0.0005)
    assert slopes.roll_out_angle_deg(friction=0.025) == pytest.approx(1.432, abs=0.0005)
    assert slopes.ROLLING_FRICTION == 0.01
    assert slopes.WORST_PARKED_GRADE_PERCENT == 20.0


def test_latch_on_a_slope_by_hand():
    # 392.4 (0.5 + sin 30)
    got = slopes.latch_demand_n(mass_kg=40.0, fraction=0.5, angle_deg=30.0)
    assert got == pytest.approx(392.4, rel=1e-12)
    assert slopes.grade_angle_deg(grade_percent=100.0) == pytest.approx(45.0, rel=1e-12)


@given(angle=st.floats(0.0, 90.0), friction=st.floats(0.0, 0.05))
@settings(max_examples=30, deadline=None)
def test_friction_helps_on_the_way_down_and_hinders_on_the_way_up(angle, friction):
    drawer = {"mass_kg": 40.0, "angle_deg": angle, "friction": friction}
    weight_along = 392.4 * math.sin(math.radians(angle))
    assert slopes.push_uphill_n(**drawer) >= weight_along - 1e-9
    assert slopes.run_away_force_n(**drawer) <= weight_along + 1e-9
    if slopes.roll_out_angle_deg(friction=friction) > angle + 1e-6:
        assert slopes.run_away_force_n(**drawer) == 0.0


def test_angles_past_upright_are_refused():
    for angle in (-0.1, 90.1, math.nan):
        for call in (
            lambda a: slopes.push_uphill_n(mass_kg=1.0, angle_deg=a),
            lambda a: slopes.run_away_force_n(mass_kg=1.0, angle_deg=a),
            lambda a: slopes.latch_demand_n(mass_kg=1.0, fraction=0.5, angle_deg=a),
        ):
            with pytest.raises(OutOfRangeError, match="angle_deg"):
                call(angle)
    slopes.push_uphill_n(mass_kg=1.0, angle_deg=90.0)
    slopes.run_away_force_n(mass_kg=1.0, angle_deg=90.0)
    slopes.latch_demand_n(mass_kg=1.0, fraction=0.5, angle_deg=90.0)


@pytest.mark.parametrize(
    ("height", "zone"),
    [
        (0.0, "lower leg"),
        (399.0, "lower leg"),
        (400.0, "knuckle"),
        (749.0, "knuckle"),
        (750.0, "elbow"),
        (1049.0, "elbow"),
        (1050.0, "shoulder"),
        (1399.0, "shoulder"),
        (1400.0, "above shoulder"),
    ],
)
def test_zones_by_height(height, zone):
    assert handling.zone_at_height(height_mm=height) == zone


@pytest.mark.parametrize(
    ("rate", "factor"), [(0.99, 1.0), (2.01, 0.5), (8.0, 0.5), (8.01, 0.2), (12.0, 0.2)]
)
def test_between_the_stated_bands_the_lower_value(rate, factor):
    assert handling.lift_rate_factor(lifts_per_min=rate) == factor


def test_nonsense_is_refused(refuses_nonsense):
    drawer = {"mass_kg": 40.0, "angle_deg": 10.0, "friction": 0.01}
    refuses_nonsense(slopes.push_uphill_n, drawer)
    refuses_nonsense(slopes.run_away_force_n, drawer)
    refuses_nonsense(slopes.roll_out_angle_deg, {"friction": 0.01})
    refuses_nonsense(slopes.grade_angle_deg, {"grade_percent": 20.0})
    refuses_nonsense(slopes.latch_demand_n, {"mass_kg": 40.0, "fraction": 0.5, "angle_deg": 10.0})
    refuses_nonsense(handling.zone_at_height, {"height_mm": 900.0})
    refuses_nonsense(handling.lift_rate_factor, {"lifts_per_min": 1.0})
    refuses_nonsense(handling.twist_factor, {"twist_deg": 20.0})
