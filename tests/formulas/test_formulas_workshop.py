"""Strips, noise, movement, glue, racking: by hand and by laws."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import cutting_practice, glue, movement, racking


@pytest.mark.parametrize(
    ("strip", "kerf", "count"), [(300.0, 3.2, 4), (400.0, 3.2, 3), (401.0, 2.2, 3)]
)
def test_c1_strips(strip, kerf, count):
    got = cutting_practice.strips_per_width(
        sheet_mm=1220.0, strip_mm=strip, kerf_mm=kerf, trim_mm=5.0
    )
    # worked: (1220 - 10 + k) / (w + k) rounded down: 4.002, 3.009, 3.007
    assert got == count


def test_strips_that_just_fit_and_just_do_not():
    sheet = {"sheet_mm": 1220.0, "kerf_mm": 3.2, "trim_mm": 5.0}
    exact = (1210.0 - 3 * 3.2) / 4.0
    assert cutting_practice.strips_per_width(**sheet, strip_mm=exact) == 4
    assert cutting_practice.strips_per_width(**sheet, strip_mm=exact + 0.01) == 3
    assert cutting_practice.strips_per_width(**sheet, strip_mm=1210.0) == 1
    assert cutting_practice.strips_per_width(**sheet, strip_mm=1210.1) == 0
    tiny = {"sheet_mm": 9.0, "kerf_mm": 3.0, "trim_mm": 10.0, "strip_mm": 5.0}
    assert cutting_practice.strips_per_width(**tiny) == 0


@given(strip=st.floats(20.0, 600.0), kerf=st.floats(0.0, 5.0), trim=st.floats(0.0, 15.0))
@settings(max_examples=60, deadline=None)
def test_the_strips_fit_and_one_more_does_not(strip, kerf, trim):
    count = cutting_practice.strips_per_width(
        sheet_mm=1220.0, strip_mm=strip, kerf_mm=kerf, trim_mm=trim
    )
    room = 1220.0 - 2.0 * trim
    assert count * strip + max(0, count - 1) * kerf <= room + 1e-5
    assert (count + 1) * strip + count * kerf > room - 1e-5


def test_noise_both_ways():
    hours = cutting_practice.noise_time_h(level_dba=95.0, limit_dba=85.0)
    assert hours == pytest.approx(0.8, rel=1e-12)
    assert cutting_practice.daily_noise_exposure_dba(level_dba=95.0, hours=hours) == pytest.approx(
        85.0, rel=1e-12
    )
    assert cutting_practice.noise_time_h(level_dba=90.0) == pytest.approx(0.8, rel=1e-12)


def test_movement_by_hand():
    # 3 % of moisture in 15 mm at 0.4 % each
    assert movement.thickness_change_mm(
        thickness_mm=15.0, moisture_change_percent=3.0
    ) == pytest.approx(0.18, rel=1e-12)
    assert movement.thickness_change_mm(
        thickness_mm=15.0, moisture_change_percent=-3.0
    ) == pytest.approx(-0.18, rel=1e-12)
    assert movement.heat_change_mm(length_mm=1000.0, kelvin=-10.0) == pytest.approx(-0.061)
    drying = movement.damp_change_mm(length_mm=1000.0, humidity_from=70.0, humidity_to=40.0)
    assert drying == pytest.approx(-0.6, rel=1e-12)
    movement.damp_change_mm(length_mm=1000.0, humidity_from=0.0, humidity_to=100.0)
    for bad in ((-0.1, 50.0), (50.0, 100.1)):
        with pytest.raises(OutOfRangeError):
            movement.damp_change_mm(length_mm=1.0, humidity_from=bad[0], humidity_to=bad[1])


def test_glue():
    assert glue.glue_line_n(area_mm2=2000.0) == pytest.approx(1000.0)
    assert glue.glue_line_n(area_mm2=2000.0, strength_n_mm2=0.8) == pytest.approx(1600.0)
    assert list(glue.USE_CLASSES) == ["D1", "D2", "D3", "D4"]


def test_racking_by_hand():
    push = {"push_n": 900.0}
    back = {"width_mm": 500.0, "thickness_mm": 9.0}
    assert racking.back_shear_stress_n_mm2(**push, **back) == pytest.approx(0.2)
    assert racking.back_fastener_force_n(**push, width_mm=500.0, spacing_mm=150.0) == pytest.approx(
        270.0
    )
    # 900 * 400 / (620 * 500 * 9) = 0.129032
    assert racking.back_drift_mm(
        **push, **back, height_mm=400.0, shear_modulus_n_mm2=620.0
    ) == pytest.approx(0.1290323, rel=1e-6)
    assert racking.corner_moment_n_mm(**push, height_mm=400.0) == pytest.approx(90_000.0)
    assert racking.corner_moment_n_mm(**push, height_mm=400.0, corners=6) == pytest.approx(60_000.0)
    assert racking.screw_pair_moment_n_mm(resistance_n=700.0, lever_mm=60.0) == 42_000.0


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(
        cutting_practice.strips_per_width,
        {"sheet_mm": 1220.0, "strip_mm": 300.0, "kerf_mm": 3.0, "trim_mm": 5.0},
    )
    refuses_nonsense(cutting_practice.daily_noise_exposure_dba, {"level_dba": 95.0, "hours": 1.0})
    refuses_nonsense(cutting_practice.noise_time_h, {"level_dba": 95.0, "limit_dba": 80.0})
    refuses_nonsense(
        movement.damp_change_mm, {"length_mm": 1.0, "humidity_from": 40.0, "humidity_to": 80.0}
    )
    refuses_nonsense(movement.heat_change_mm, {"length_mm": 1.0, "kelvin": 40.0})
    refuses_nonsense(
        movement.thickness_change_mm, {"thickness_mm": 1.0, "moisture_change_percent": 4.0}
    )
    refuses_nonsense(glue.glue_line_n, {"area_mm2": 1.0, "strength_n_mm2": 0.5})
    numbers = {
        "push_n": 900.0,
        "width_mm": 500.0,
        "thickness_mm": 9.0,
        "height_mm": 400.0,
        "spacing_mm": 150.0,
        "shear_modulus_n_mm2": 620.0,
        "resistance_n": 700.0,
        "lever_mm": 60.0,
    }
    for name in racking.__all__:
        if name.islower():
            function = getattr(racking, name)
            arguments = {key: numbers[key] for key in function.__annotations__ if key in numbers}
            refuses_nonsense(function, arguments)
    assert math.isfinite(racking.corner_moment_n_mm(push_n=0.0, height_mm=1.0))
