"""Published axle examples: a textbook-style check in pounds and inches, and a trailer weighed by a
touring magazine.
"""

import pytest

from stowright.formulas import axles


def test_case_15_ten_thousand_pounds():
    # 10 000 lb at 120 in on a wheelbase of 150 in: rear +8000, front +2000; the balance has no
    # units of its own
    got = axles.axle_change_kg(mass_kg=10_000.0, behind_front_mm=120.0, wheelbase_mm=150.0)
    assert got == pytest.approx((2000.0, 8000.0), rel=1e-12)


def test_case_14_weighed_tow_ball():
    # 270 kg on the ball, rear axle 1233 -> 1650 kg; printed to three decimals
    ratio = axles.ball_overhang_ratio(ball_mass_kg=270.0, rear_gain_kg=1650.0 - 1233.0)
    assert ratio == pytest.approx(0.544, abs=0.0006)
    got = axles.tow_ball_change_kg(ball_mass_kg=270.0, behind_rear_mm=544.0, wheelbase_mm=1000.0)
    assert got.rear_kg == pytest.approx(417.0, abs=0.2)
