"""Published worked example of floor-mounted equipment (ASCE 7-22 ch. 13 method), in pounds and
inches.

3000 lb, 18 in high, 4 anchors, rows 24 in apart, 1800 lb sideways, 600 lb up: 675 lb from
overturning, 375 net. The formula has no units of its own, so pounds and inches go straight in;
exact.
"""

import pytest

from stowright.formulas import equipment_anchors_asce7 as asce

EXAMPLE = {
    "push_n": 1800.0,
    "height_mm": 18.0,
    "tension_anchors": 2,
    "row_spacing_mm": 24.0,
}


def test_case_10():
    assert asce.overturning_tension_n(**EXAMPLE) == pytest.approx(675.0, rel=1e-12)
    net = asce.net_anchor_tension_n(**EXAMPLE, uplift_n=600.0, weight_n=3000.0, anchors=4)
    assert net == pytest.approx(375.0, rel=1e-12)


def test_a_heavy_box_pulls_on_nothing():
    assert asce.net_anchor_tension_n(**EXAMPLE, uplift_n=0.0, weight_n=9000.0, anchors=4) == 0.0
