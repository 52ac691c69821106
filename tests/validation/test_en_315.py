"""EN 315 / ISO 1954 thickness limits of sanded plywood, by the formula in GB/T 9846 and one mill's
table.

The formula's values are exact; the mill cuts them off after one decimal.
"""

import math

import pytest

from stowright.formulas import panel_tolerances


@pytest.mark.parametrize(("nominal", "over", "under"), [(12.0, 0.56, 0.76), (18.0, 0.74, 0.94)])
def test_e1_formula(nominal, over, under):
    got = panel_tolerances.sanded_thickness_limits(nominal_mm=nominal)
    assert got.greatest_mm - nominal == pytest.approx(over, rel=1e-9)
    assert nominal - got.least_mm == pytest.approx(under, rel=1e-9)


@pytest.mark.parametrize(
    ("nominal", "over", "under"),
    [(12.0, 0.5, 0.7), (15.0, 0.6, 0.8), (18.0, 0.7, 0.9), (21.0, 0.8, 1.0)],
)
def test_mill_table_cut_off(nominal, over, under):
    got = panel_tolerances.sanded_thickness_limits(nominal_mm=nominal)
    assert math.floor((got.greatest_mm - nominal) * 10.0 + 1e-9) / 10.0 == over
    assert math.floor((nominal - got.least_mm) * 10.0 + 1e-9) / 10.0 == under


@pytest.mark.parametrize(("nominal", "over", "under"), [(12.0, 1.1, 0.6), (18.0, 1.3, 0.8)])
def test_unsanded_mill_table(nominal, over, under):
    # the formula gives 1.16 and 1.34 over (cut off in the table); under, the wider 0.4 + 0.03 t is
    # taken
    got = panel_tolerances.unsanded_thickness_limits(nominal_mm=nominal)
    assert got.greatest_mm - nominal == pytest.approx(0.8 + 0.03 * nominal, rel=1e-9)
    assert math.floor((got.greatest_mm - nominal) * 10.0) / 10.0 == over
    assert nominal - got.least_mm == pytest.approx(0.4 + 0.03 * nominal, rel=1e-9)
    assert nominal - got.least_mm >= under


def test_us_sheet_diagonals():
    # US PS 1-09: 8 ft sheet, diagonals within 3.17 mm = 1.3 mm/m x 2438.4
    assert panel_tolerances.diagonal_allowance_mm(longest_edge_mm=2438.4) == pytest.approx(
        3.17, abs=0.005
    )
