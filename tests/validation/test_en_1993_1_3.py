"""EN 1993-1-3:2006, Tables 8.2 and 8.4 as transcribed: cases 7 and 8 (0.5 %, printed to the
newton).
"""

import pytest

from stowright.formulas import thin_sheet_en1993_1_3 as sheet

CLOSE = 0.0005


@pytest.mark.parametrize(("t", "k_t", "force"), [(0.8, 0.856, 2958.0), (1.0, 0.92, 3974.0)])
def test_case_7_bearing_of_m8(t, k_t, force):
    assert sheet.thickness_factor(thickness_mm=t) == pytest.approx(k_t, rel=1e-9)
    got = sheet.bearing_n(sheet_strength_n_mm2=270.0, diameter_mm=8.0, thickness_mm=t, end_mm=24.0)
    assert got == pytest.approx(force, rel=CLOSE)


@pytest.mark.parametrize(
    ("washer", "static", "repeated"), [(16.0, 2765.0, 1382.0), (24.0, 4147.0, 2074.0)]
)
def test_case_8_pull_through(washer, static, repeated):
    numbers = {"washer_mm": washer, "thickness_mm": 0.8, "sheet_strength_n_mm2": 270.0}
    assert sheet.pull_through_n(**numbers, repeated=False) == pytest.approx(static, rel=CLOSE)
    assert sheet.pull_through_n(**numbers, repeated=True) == pytest.approx(repeated, rel=CLOSE)


def test_a_thin_floor_skin_is_just_outside():
    place = {
        "bolt_mm": 8.0,
        "hole_mm": 9.0,
        "sheet_strength_n_mm2": 270.0,
        "end_mm": 24.0,
        "edge_mm": 24.0,
    }
    assert not sheet.in_table_8_4(**place, thickness_mm=0.70)
    assert sheet.in_table_8_4(**place, thickness_mm=0.75)
    assert sheet.BODY_SHEET_N_MM2 == 270.0
