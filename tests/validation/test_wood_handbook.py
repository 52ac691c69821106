"""USDA Wood Handbook (FPL-GTR-190, ch. 8), by its constants, and examples on pages that restate it.

Inch and pound examples are converted here (25.4 mm, 4.44822 N). Mean ultimate loads; 0.5 % for the
rounding of the printed results and of the metric constants (108.25 for 108.248).
"""

import pytest

from stowright.formulas import wood_handbook

LB, INCH = 4.4482216, 25.4
CLOSE = 0.005


@pytest.mark.parametrize(
    ("gravity", "diameter", "length", "force"),
    [(0.50, 4.17, 20.0, 2257.0), (0.45, 3.51, 12.0, 923.0), (0.62, 4.83, 15.0, 3015.0)],
    ids=["S1", "S2", "S3"],
)
def test_screw_withdrawal(gravity, diameter, length, force):
    assert wood_handbook.screw_withdrawal_n(
        specific_gravity=gravity, diameter_mm=diameter, penetration_mm=length
    ) == pytest.approx(force, rel=CLOSE)


def test_s4_restated_worked_example_in_pounds():
    got = wood_handbook.screw_withdrawal_n(
        specific_gravity=0.70, diameter_mm=0.164 * INCH, penetration_mm=INCH
    )
    assert got == pytest.approx(1262.0 * LB, rel=CLOSE)
    assert got == pytest.approx(5612.0, rel=CLOSE)


def test_s5_allowable_per_inch():
    got = wood_handbook.screw_withdrawal_allowable_n(
        specific_gravity=0.45, diameter_mm=0.190 * INCH, penetration_mm=INCH
    )
    assert got == pytest.approx(109.7 * LB, rel=CLOSE)  # the page prints 109


def test_the_allowable_is_the_ultimate_over_five_and_a_half():
    numbers = {"specific_gravity": 0.5, "diameter_mm": 4.0, "penetration_mm": 20.0}
    ratio = wood_handbook.screw_withdrawal_n(
        **numbers
    ) / wood_handbook.screw_withdrawal_allowable_n(**numbers)
    assert ratio == pytest.approx(5.5, rel=0.003)  # 15700 / 2850 = 5.509


def test_n1_nail():
    assert wood_handbook.nail_withdrawal_n(
        specific_gravity=0.5, diameter_mm=2.87, penetration_mm=25.0
    ) == pytest.approx(686.0, rel=CLOSE)


@pytest.mark.parametrize(
    ("imperial", "metric"), [(15700.0, 108.25), (7850.0, 54.12), (2850.0, 19.65)]
)
def test_metric_constants_are_the_imperial_ones(imperial, metric):
    # lb/in2 to N/mm2; the metric ones carry four figures
    assert imperial * LB / INCH**2 == pytest.approx(metric, rel=3e-4)


def test_lag_screw_constant():
    # 8100 lb with D^(3/4) L in inches: 8100 * 4.44822 / 25.4^1.75 = 125.4
    got = wood_handbook.lag_screw_withdrawal_n(
        specific_gravity=1.0, diameter_mm=1.0, penetration_mm=1.0
    )
    assert got == pytest.approx(8100.0 * LB / INCH**1.75, rel=1e-3)
