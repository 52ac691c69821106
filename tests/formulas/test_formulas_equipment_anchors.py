"""The evenly spread method of ASCE 7: dead load share, guards. The worked example is under
validation.
"""

import pytest

from stowright.errors import OutOfRangeError
from stowright.formulas import equipment_anchors_asce7 as asce

BOX = {"push_n": 900.0, "height_mm": 500.0, "tension_anchors": 3, "row_spacing_mm": 400.0}


def test_by_hand():
    assert asce.overturning_tension_n(**BOX) == pytest.approx(375.0, rel=1e-12)
    # 375 + (300 - 0.6 * 800)/6 = 345
    net = asce.net_anchor_tension_n(**BOX, uplift_n=300.0, weight_n=800.0, anchors=6)
    assert net == pytest.approx(345.0, rel=1e-12)


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(asce.overturning_tension_n, BOX)
    refuses_nonsense(
        asce.net_anchor_tension_n, BOX | {"uplift_n": 1.0, "weight_n": 2.0, "anchors": 4}
    )
    for name in ("tension_anchors", "anchors"):
        numbers = BOX | {"uplift_n": 1.0, "weight_n": 2.0, "anchors": 4} | {name: 0}
        with pytest.raises(OutOfRangeError, match=name):
            asce.net_anchor_tension_n(**numbers)
