"""Tipping over an edge: by hand, on a slope, against statics worked another way; laws."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas.gravity import GRAVITY_M_S2
from stowright.formulas.tipping import MassAt, counterweight_kg, moments_n_mm

FRAME = MassAt(mass_kg=30.0, at_mm=400.0, up_mm=200.0)
DRAWER = MassAt(mass_kg=15.0, at_mm=-500.0, up_mm=150.0)


def test_level_by_hand():
    got = moments_n_mm([FRAME, DRAWER])
    assert got.back_n_mm == pytest.approx(30.0 * 9.81 * 400.0, rel=1e-3)
    assert got.over_n_mm == pytest.approx(15.0 * 9.81 * 500.0, rel=1e-3)


def test_on_a_slope_gravity_turns():
    angle = math.radians(11.31)
    down = np.array([-math.sin(angle), -math.cos(angle)]) * GRAVITY_M_S2
    total = sum(m.mass_kg * (m.at_mm * -down[1] - m.up_mm * -down[0]) for m in (FRAME, DRAWER))
    got = moments_n_mm([FRAME, DRAWER], angle_deg=11.31)
    assert got.back_n_mm - got.over_n_mm == pytest.approx(total, rel=1e-9)


def test_free_block_tips_at_the_slope_of_its_centre():
    # a body tips over when the slope reaches x/h: 100/200 is 26.565 degrees
    block = [MassAt(mass_kg=10.0, at_mm=100.0, up_mm=200.0)]
    limit = math.degrees(math.atan(0.5))
    assert moments_n_mm(block, angle_deg=limit - 0.01).over_n_mm == 0.0
    assert moments_n_mm(block, angle_deg=limit + 0.01).over_n_mm > 0.0


@settings(max_examples=40, deadline=None)
@given(st.floats(0.0, 40.0), st.floats(0.01, 5.0))
def test_a_steeper_slope_never_helps(angle, more):
    one = moments_n_mm([FRAME, DRAWER], angle_deg=angle)
    two = moments_n_mm([FRAME, DRAWER], angle_deg=angle + more)
    assert two.over_n_mm - two.back_n_mm >= one.over_n_mm - one.back_n_mm


def test_counterweight_balances():
    moments = moments_n_mm([FRAME._replace(mass_kg=10.0), DRAWER])
    short = moments.over_n_mm - moments.back_n_mm
    weight = counterweight_kg(moment_n_mm=short, arm_mm=700.0)
    again = moments_n_mm(
        [FRAME._replace(mass_kg=10.0), DRAWER, MassAt(mass_kg=weight, at_mm=700.0, up_mm=0.0)]
    )
    assert again.over_n_mm == pytest.approx(again.back_n_mm, rel=1e-12)


def test_nonsense_is_refused():
    with pytest.raises(OutOfRangeError, match="angle_deg"):
        moments_n_mm([FRAME], angle_deg=45.1)
    with pytest.raises(OutOfRangeError, match="mass_kg"):
        moments_n_mm([FRAME._replace(mass_kg=-1.0)])
    with pytest.raises(OutOfRangeError, match="at_mm"):
        moments_n_mm([FRAME._replace(at_mm=math.nan)])
    with pytest.raises(OutOfRangeError, match="arm_mm"):
        counterweight_kg(moment_n_mm=1.0, arm_mm=0.0)
