"""A runner maker's installation note and the kitchen cabinet test summary. Numbers exact to the
last digit printed.
"""

import pytest

from stowright.formulas import runners


def test_r1_side_space():
    # 12.7 mm runner: 12.9 to 13.2 a side, constant along the length
    got = runners.drawer_width_window(opening_mm=500.0, runner_thickness_mm=12.7)
    assert got.least_mm == pytest.approx(473.6, abs=1e-9)
    assert got.greatest_mm == pytest.approx(474.2, abs=1e-9)


def test_r3_kitchen_cabinet_floor_load():
    got = runners.floor_test_load_n(width_mm=600.0, length_mm=900.0)
    assert got == pytest.approx(388.0, rel=0.001)  # 387.7, printed to the newton
    assert got / 9.81 == pytest.approx(39.5, abs=0.05)


@pytest.mark.parametrize(("static", "dynamic"), [(50, 30), (75, 50), (100, 75)])
def test_woodwork_standard_classes(static, dynamic):
    share = runners.dynamic_share_of_static(static_lb=static)
    assert share * static == pytest.approx(dynamic, rel=1e-12)
    assert share == pytest.approx({50: 0.60, 75: 0.67, 100: 0.75}[static], abs=0.005)
