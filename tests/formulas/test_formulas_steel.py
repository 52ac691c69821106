"""Bolts in steel, thin sheet, washers, spreader plates: by hand, ranges at their ends, laws."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import bolts_en1993_1_8 as bolts
from stowright.formulas import pull_over_aisi, spreader_plate
from stowright.formulas import thin_sheet_en1993_1_3 as sheet


def test_countersunk_heads_hold_less():
    got = bolts.tension_n(tensile_strength_n_mm2=800.0, stress_area_mm2=36.6, countersunk=True)
    assert got == pytest.approx(0.63 * 800.0 * 36.6 / 1.25, rel=1e-12)
    other = bolts.tension_n(tensile_strength_n_mm2=800.0, stress_area_mm2=36.6, material_factor=1.0)
    assert other == pytest.approx(0.9 * 800.0 * 36.6, rel=1e-12)


PLACE = {
    "end_mm": 30.0,
    "edge_mm": 16.0,
    "hole_mm": 9.0,
    "bolt_strength_n_mm2": 800.0,
    "plate_strength_n_mm2": 360.0,
}


def test_bearing_factors_by_hand():
    # e1/(3 d0) = 1.111 -> 1; k1 = 2.8 * 16/9 - 1.7 = 3.2778 -> 2.5
    assert bolts.bearing_factors(**PLACE) == pytest.approx((1.0, 2.5), rel=1e-12)
    near = bolts.bearing_factors(**(PLACE | {"end_mm": 20.0, "edge_mm": 11.0}))
    assert near == pytest.approx((20.0 / 27.0, 2.8 * 11.0 / 9.0 - 1.7), rel=1e-12)
    inner = bolts.bearing_factors(**PLACE, pitch_mm=25.0, gauge_mm=24.0)
    assert inner == pytest.approx((25.0 / 27.0 - 0.25, 1.4 * 24.0 / 9.0 - 1.7), rel=1e-12)
    # an outer bolt far from the next one is judged by its end alone
    far = bolts.bearing_factors(**PLACE, pitch_mm=200.0, gauge_mm=200.0)
    assert far == pytest.approx((1.0, 2.5), rel=1e-12)
    soft = bolts.bearing_factors(**(PLACE | {"bolt_strength_n_mm2": 240.0}))
    assert soft[0] == pytest.approx(240.0 / 360.0, rel=1e-12)


@pytest.mark.parametrize("change", [{"edge_mm": 5.4}, {"pitch_mm": 6.7}, {"gauge_mm": 10.9}])
def test_distances_that_leave_nothing_are_refused(change):
    with pytest.raises(OutOfRangeError, match="hole_mm"):
        bolts.bearing_factors(**(PLACE | change))


def test_thin_plates_are_another_standard():
    plate = {"alpha_b": 0.5, "k_1": 2.5, "plate_strength_n_mm2": 360.0, "diameter_mm": 8.0}
    assert bolts.bearing_n(**plate, thickness_mm=3.0) == pytest.approx(
        2.5 * 0.5 * 360.0 * 24.0 / 1.25, rel=1e-12
    )
    with pytest.raises(OutOfRangeError, match="thickness_mm"):
        bolts.bearing_n(**plate, thickness_mm=2.99)


def test_heads():
    assert bolts.mean_head_diameter_mm(
        across_flats_mm=13.0, across_corners_mm=15.0
    ) == pytest.approx(14.0)
    with pytest.raises(OutOfRangeError, match="across_corners_mm"):
        bolts.mean_head_diameter_mm(across_flats_mm=13.0, across_corners_mm=12.9)
    punched = bolts.punching_n(mean_diameter_mm=14.0, thickness_mm=3.0, plate_strength_n_mm2=360.0)
    assert punched == pytest.approx(0.6 * math.pi * 42.0 * 360.0 / 1.25, rel=1e-12)


def test_tension_alone_governs_where_shear_is_small():
    limits = {"shear_resistance_n": 1000.0, "tension_resistance_n": 1000.0}
    assert bolts.shear_tension_utilisation(
        **limits, shear_n=100.0, tension_n=900.0
    ) == pytest.approx(0.9, rel=1e-12)
    assert bolts.shear_tension_utilisation(
        **limits, shear_n=500.0, tension_n=700.0
    ) == pytest.approx(1.0, rel=1e-12)


def test_thin_sheet_factor_is_continuous():
    assert sheet.thickness_factor(thickness_mm=1.25) == pytest.approx(1.0, rel=1e-12)
    assert sheet.thickness_factor(thickness_mm=1.2) == pytest.approx(0.984, rel=1e-12)
    assert sheet.thickness_factor(thickness_mm=2.0) == 1.0
    assert sheet.thickness_factor(thickness_mm=0.75) == pytest.approx(0.84, rel=1e-12)
    assert sheet.thickness_factor(thickness_mm=2.99) == 1.0
    for thickness in (0.74, 3.0, math.nan):
        with pytest.raises(OutOfRangeError, match="thickness_mm"):
            sheet.thickness_factor(thickness_mm=thickness)


def test_thin_sheet_bearing_by_hand():
    # e1 12 < 3 d: alpha 0.5; k_t 0.984; 2.5 * 0.5 * 0.984 * 350 * 8 * 1.2 / 1.25
    far = {"sheet_strength_n_mm2": 350.0, "diameter_mm": 8.0, "thickness_mm": 1.2}
    assert sheet.bearing_n(**far, end_mm=60.0) == pytest.approx(
        2.0 * 0.984 * 350.0 * 9.6, rel=1e-12
    )  # a far edge adds nothing
    got = sheet.bearing_n(
        sheet_strength_n_mm2=350.0, diameter_mm=8.0, thickness_mm=1.2, end_mm=12.0
    )
    assert got == pytest.approx(0.984 * 350.0 * 9.6, rel=1e-12)
    strong = {"diameter_mm": 8.0, "thickness_mm": 1.2, "end_mm": 12.0}
    sheet.bearing_n(**strong, sheet_strength_n_mm2=550.0)
    with pytest.raises(OutOfRangeError, match="sheet_strength_n_mm2"):
        sheet.bearing_n(**strong, sheet_strength_n_mm2=551.0)


NET = {
    "net_area_mm2": 40.0,
    "sheet_strength_n_mm2": 300.0,
    "hole_mm": 9.0,
    "edge_mm": 25.0,
    "pitch_mm": 60.0,
    "bolts_in_section": 1,
    "bolts_in_joint": 2,
}


def test_net_section_by_hand():
    # u = 50, r = 0.5: 1 + 1.5 (0.18 - 0.3) = 0.82
    assert sheet.net_section_n(**NET) == pytest.approx(0.82 * 40.0 * 300.0 / 1.25, rel=1e-12)
    # the pitch governs: u = 40: 1 + 1.5 (0.225 - 0.3) = 0.8875
    close = sheet.net_section_n(**(NET | {"pitch_mm": 40.0}))
    assert close == pytest.approx(0.8875 * 9600.0, rel=1e-12)
    # a large hole: never above the plain net section
    assert sheet.net_section_n(**(NET | {"hole_mm": 30.0})) == pytest.approx(9600.0)
    with pytest.raises(OutOfRangeError, match="share_in_section"):
        sheet.net_section_n(**(NET | {"bolts_in_section": 101, "bolts_in_joint": 100}))
    assert sheet.net_section_n(**(NET | {"bolts_in_section": 2})) == pytest.approx(
        0.64 * 9600.0, rel=1e-12
    )


@pytest.mark.parametrize(
    ("change", "inside"),
    [
        ({}, True),
        ({"bolt_mm": 5.9}, False),
        ({"thickness_mm": 0.74}, False),
        ({"thickness_mm": 3.0}, False),
        ({"thickness_mm": 2.99}, True),
        ({"sheet_strength_n_mm2": 550.0}, True),
        ({"sheet_strength_n_mm2": 551.0}, False),
        ({"end_mm": 6.6}, True),
        ({"end_mm": 6.59}, False),
        ({"edge_mm": 9.9}, True),
        ({"edge_mm": 9.89}, False),
        ({"least_pitch_mm": 19.8}, True),
        ({"least_pitch_mm": 19.79}, False),
    ],
)
def test_range_of_table_8_4(change, inside):
    place = {
        "bolt_mm": 6.0,
        "hole_mm": 6.6,
        "thickness_mm": 0.75,
        "sheet_strength_n_mm2": 270.0,
        "end_mm": 24.0,
        "edge_mm": 24.0,
    }
    assert sheet.in_table_8_4(**(place | change)) is inside


def test_pull_through_range():
    washer = {"washer_mm": 16.0, "sheet_strength_n_mm2": 270.0, "repeated": False}
    for thickness in (0.5, 1.5):
        assert sheet.pull_through_n(**washer, thickness_mm=thickness) == pytest.approx(
            16.0 * 270.0 * thickness / 1.25, rel=1e-12
        )
    for thickness in (0.49, 1.51):
        with pytest.raises(OutOfRangeError, match="thickness_mm"):
            sheet.pull_through_n(**washer, thickness_mm=thickness)


def test_pull_over_cap_and_least_head():
    skin = {"thickness_mm": 0.8, "sheet_strength_n_mm2": 270.0}
    cap = pull_over_aisi.pull_over_nominal_n(washer_mm=19.1, **skin)
    assert cap == pytest.approx(1.5 * 0.8 * 19.1 * 270.0, rel=1e-12)
    assert pull_over_aisi.pull_over_nominal_n(washer_mm=19.2, **skin) == cap
    assert pull_over_aisi.pull_over_nominal_n(washer_mm=7.94, **skin) > 0.0
    with pytest.raises(OutOfRangeError, match="washer_mm"):
        pull_over_aisi.pull_over_nominal_n(washer_mm=7.93, **skin)
    assert (pull_over_aisi.SAFETY_FACTOR, pull_over_aisi.WASHER_CAP_MM) == (3.0, 19.1)


def test_pull_over_with_shear_by_hand():
    # bearing 2.7 * 0.8 * 8 * 270 = 4665.6; over 5184: (500/4665.6 + 0.71 * 700/5184) * 2.35/1.1
    got = pull_over_aisi.combined_utilisation(
        shear_n=500.0,
        tension_n=700.0,
        diameter_mm=8.0,
        washer_mm=16.0,
        thickness_mm=0.8,
        sheet_strength_n_mm2=270.0,
    )
    assert got == pytest.approx((0.1071674 + 0.0958719) * 2.1363636, rel=1e-5)


PLATE = {"tension_n": 2000.0, "side_mm": 60.0, "thickness_mm": 3.0, "washer_mm": 16.0}


def test_case_18_spreader_plate():
    assert spreader_plate.bending_stress_n_mm2(**PLATE) == pytest.approx(89.6, rel=0.0005)
    # p = 2000/3600, c = 22
    assert spreader_plate.bending_stress_n_mm2(**PLATE) == pytest.approx(
        3.0 * 2000.0 / 3600.0 * 484.0 / 9.0, rel=1e-12
    )


def test_a_plate_that_yields_does_not_count():
    stress = spreader_plate.bending_stress_n_mm2(**PLATE)
    assert spreader_plate.counts_as_rigid(**PLATE, yield_n_mm2=stress)
    assert not spreader_plate.counts_as_rigid(**PLATE, yield_n_mm2=stress * 0.999)
    with pytest.raises(OutOfRangeError, match="washer_mm"):
        spreader_plate.bending_stress_n_mm2(**(PLATE | {"washer_mm": 60.1}))
    assert spreader_plate.bending_stress_n_mm2(**(PLATE | {"washer_mm": 60.0})) == 0.0
    assert spreader_plate.SEAT_PLATE_AREA_MM2 == 4000.0
    assert spreader_plate.SEAT_PLATE_STEEL_MM == 3.0


@given(factor=st.floats(1.0, 3.0))
@settings(max_examples=20, deadline=None)
def test_thicker_plates_and_larger_washers_are_never_worse(factor):
    base = spreader_plate.bending_stress_n_mm2(**PLATE)
    thicker = PLATE | {"thickness_mm": 3.0 * factor}
    assert spreader_plate.bending_stress_n_mm2(**thicker) == pytest.approx(base / factor**2)
    wider = PLATE | {"washer_mm": 16.0 * factor}
    assert spreader_plate.bending_stress_n_mm2(**wider) <= base


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(
        bolts.shear_n,
        {
            "tensile_strength_n_mm2": 800.0,
            "area_mm2": 36.6,
            "alpha_v": 0.6,
            "material_factor": 1.25,
        },
    )
    refuses_nonsense(
        bolts.tension_n,
        {"tensile_strength_n_mm2": 800.0, "stress_area_mm2": 36.6, "material_factor": 1.25},
    )
    refuses_nonsense(bolts.bearing_factors, PLACE | {"pitch_mm": 30.0, "gauge_mm": 30.0})
    refuses_nonsense(
        bolts.bearing_n,
        {
            "alpha_b": 0.5,
            "k_1": 2.5,
            "plate_strength_n_mm2": 360.0,
            "diameter_mm": 8.0,
            "thickness_mm": 3.0,
            "material_factor": 1.25,
        },
    )
    refuses_nonsense(
        bolts.mean_head_diameter_mm, {"across_flats_mm": 13.0, "across_corners_mm": 15.0}
    )
    refuses_nonsense(
        bolts.punching_n,
        {
            "mean_diameter_mm": 14.0,
            "thickness_mm": 3.0,
            "plate_strength_n_mm2": 360.0,
            "material_factor": 1.25,
        },
    )
    refuses_nonsense(
        bolts.shear_tension_utilisation,
        {
            "shear_n": 1.0,
            "shear_resistance_n": 2.0,
            "tension_n": 1.0,
            "tension_resistance_n": 2.0,
        },
    )
    refuses_nonsense(
        sheet.bearing_n,
        {
            "sheet_strength_n_mm2": 350.0,
            "diameter_mm": 8.0,
            "thickness_mm": 1.2,
            "end_mm": 12.0,
            "material_factor": 1.25,
        },
    )
    refuses_nonsense(sheet.net_section_n, NET | {"material_factor": 1.25})
    refuses_nonsense(
        sheet.pull_through_n,
        {
            "washer_mm": 16.0,
            "thickness_mm": 0.8,
            "sheet_strength_n_mm2": 270.0,
            "repeated": True,
            "material_factor": 1.25,
        },
    )
    refuses_nonsense(
        sheet.in_table_8_4,
        {
            "bolt_mm": 6.0,
            "hole_mm": 6.6,
            "thickness_mm": 0.8,
            "sheet_strength_n_mm2": 270.0,
            "end_mm": 24.0,
            "edge_mm": 24.0,
        },
    )
    skin = {"washer_mm": 16.0, "thickness_mm": 0.8, "sheet_strength_n_mm2": 270.0}
    refuses_nonsense(pull_over_aisi.pull_over_nominal_n, skin)
    refuses_nonsense(pull_over_aisi.pull_over_allowable_n, skin)
    refuses_nonsense(
        pull_over_aisi.combined_utilisation,
        skin | {"shear_n": 1.0, "tension_n": 1.0, "diameter_mm": 8.0},
    )
    refuses_nonsense(spreader_plate.bending_stress_n_mm2, PLATE)
    refuses_nonsense(spreader_plate.counts_as_rigid, PLATE | {"yield_n_mm2": 235.0})
