"""AISI S100 pull-over as in an evaluation report: case 9 (printed to the newton)."""

import pytest

from stowright.formulas import pull_over_aisi


def test_case_9():
    numbers = {"washer_mm": 16.0, "thickness_mm": 0.8, "sheet_strength_n_mm2": 270.0}
    assert pull_over_aisi.pull_over_nominal_n(**numbers) == pytest.approx(5184.0, rel=1e-9)
    assert pull_over_aisi.pull_over_allowable_n(**numbers) == pytest.approx(1728.0, rel=1e-9)


def test_the_washer_cap_leaves_six_kilonewtons():
    # above roughly 6.2 kN nominal, 2.1 kN allowable, 0.8 mm of 270 N/mm2 is not supported by the
    # code
    numbers = {"washer_mm": 60.0, "thickness_mm": 0.8, "sheet_strength_n_mm2": 270.0}
    assert pull_over_aisi.pull_over_nominal_n(**numbers) == pytest.approx(6200.0, rel=0.005)
    assert pull_over_aisi.pull_over_allowable_n(**numbers) == pytest.approx(2063.0, rel=0.005)
