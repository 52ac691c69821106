"""Movement of plywood: a plywood association's figure for damp, a published one for heat. Exact
arithmetic.
"""

import pytest

from stowright.formulas import movement


def test_m1_damp():
    got = movement.damp_change_mm(length_mm=1200.0, humidity_from=40.0, humidity_to=80.0)
    assert got == pytest.approx(0.96, rel=1e-12)


def test_heat():
    # 0.49 mm over 2 m for 40 K, printed to two figures
    assert movement.heat_change_mm(length_mm=2000.0, kelvin=40.0) == pytest.approx(0.488, rel=1e-9)


def test_heat_in_fahrenheit():
    # the source prints 3.4e-6 per degree F too
    assert movement.heat_change_mm(length_mm=1.0, kelvin=1.0 / 1.8) == pytest.approx(
        3.4e-6, rel=0.005
    )
