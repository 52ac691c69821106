"""ASME B18.6.1: screw gauges. G1: #6, #8, #10 are 3.505, 4.166 and 4.826 mm (rounded to a
micrometre).
"""

import pytest

from stowright.formulas import iso_fasteners


@pytest.mark.parametrize(
    ("gauge", "diameter"),
    [(4, 2.84), (6, 3.51), (8, 4.17), (10, 4.83), (12, 5.49), (14, 6.15)],
)
def test_table_of_gauges(gauge, diameter):
    assert iso_fasteners.gauge_diameter_mm(gauge=gauge) == pytest.approx(diameter, abs=0.006)


@pytest.mark.parametrize(("gauge", "diameter"), [(6, 3.505), (8, 4.166), (10, 4.826)])
def test_g1(gauge, diameter):
    assert iso_fasteners.gauge_diameter_mm(gauge=gauge) == pytest.approx(diameter, abs=0.0006)
    least, greatest = iso_fasteners.gauge_diameter_range_mm(gauge=gauge)
    assert least == pytest.approx(diameter - 0.18, abs=0.0006)
    assert greatest == pytest.approx(diameter + 0.10, abs=0.0006)
