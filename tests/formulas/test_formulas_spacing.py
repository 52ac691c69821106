"""Spacings: where a rule ends, edge distances of plywood, when to pre-drill."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import ec5_spacing, friction, interpolation, screw_tests_e830


def test_five_millimetres_is_another_row():
    ec5_spacing.timber_distances(diameter_mm=4.99, angle_deg=0.0, predrilled=True)
    for diameter in (5.0, 0.0, math.nan):
        with pytest.raises(OutOfRangeError, match="diameter_mm"):
            ec5_spacing.timber_distances(diameter_mm=diameter, angle_deg=0.0, predrilled=True)


@pytest.mark.parametrize("angle", [-0.1, 90.1, math.nan])
def test_angles_are_between_0_and_90(angle):
    for call in (
        lambda: ec5_spacing.timber_distances(diameter_mm=3.0, angle_deg=angle, predrilled=True),
        lambda: ec5_spacing.cross_ply_panel_distances(diameter_mm=3.0, angle_deg=angle),
        lambda: ec5_spacing.plywood_edge_distances_mm(diameter_mm=3.0, angle_deg=angle),
    ):
        with pytest.raises(OutOfRangeError, match="angle_deg"):
            call()


def test_plywood_edges():
    got = ec5_spacing.plywood_edge_distances_mm(diameter_mm=4.0, angle_deg=90.0)
    assert got == pytest.approx((28.0, 12.0), rel=1e-12)
    along = ec5_spacing.plywood_edge_distances_mm(diameter_mm=4.0, angle_deg=0.0)
    assert along == pytest.approx((12.0, 12.0), rel=1e-12)
    assert ec5_spacing.PANEL_TO_TIMBER == 0.85


@pytest.mark.parametrize(
    ("diameter", "thickness", "density", "needed"),
    [
        (3.0, 21.0, 350.0, False),
        (3.0, 20.9, 350.0, True),
        # (13 * 6 - 30) * 450/400 = 54 > 42
        (6.0, 54.0, 450.0, False),
        (6.0, 53.9, 450.0, True),
        (3.0, 90.0, 500.0, False),
        (3.0, 90.0, 501.0, True),
    ],
)
def test_pre_drilling(diameter, thickness, density, needed):
    got = ec5_spacing.must_predrill(
        diameter_mm=diameter, thickness_mm=thickness, density_kg_m3=density
    )
    assert got is needed


def test_number_8_does_not_suit_an_18_mm_edge():
    # #8 is 4.2 mm; an 18 mm edge takes 3.0 pushed or 2.25 pulled
    for pulled in (False, True):
        limit = ec5_spacing.edge_face_greatest_diameter_mm(thickness_mm=18.0, pulled=pulled)
        assert limit < 4.2
    not_drilled = ec5_spacing.edge_face_greatest_diameter_mm(
        thickness_mm=28.0, pulled=True, predrilled=False
    )
    assert not_drilled == pytest.approx(2.0, rel=1e-12)


@given(angle=st.floats(0.0, 90.0), diameter=st.floats(1.0, 4.9))
@settings(max_examples=30, deadline=None)
def test_loaded_is_never_closer_than_free_and_pre_drilling_helps(angle, diameter):
    place = {"diameter_mm": diameter, "angle_deg": angle}
    driven = ec5_spacing.timber_distances(**place, predrilled=False)
    drilled = ec5_spacing.timber_distances(**place, predrilled=True)
    for distances in (driven, drilled):
        assert distances.loaded_end_mm >= distances.free_end_mm - 1e-9
        assert distances.loaded_edge_mm >= distances.free_edge_mm - 1e-9
    assert all(one <= other + 1e-9 for one, other in zip(drilled, driven, strict=True))


def test_reading_a_table():
    table = {"places": (0.0, 1.0, 3.0), "values": (2.0, 4.0, 3.0)}
    got = [interpolation.table_value(at=at, **table) for at in (0.0, 0.25, 1.0, 2.0, 3.0)]
    assert got == pytest.approx([2.0, 2.5, 4.0, 3.5, 3.0], rel=1e-12)
    for bad in (-0.01, 3.01, math.nan):
        with pytest.raises(OutOfRangeError):
            interpolation.table_value(at=bad, **table)


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(
        ec5_spacing.must_predrill,
        {"diameter_mm": 3.0, "thickness_mm": 12.0, "density_kg_m3": 400.0},
    )
    refuses_nonsense(ec5_spacing.panel_penetration_ok, {"diameter_mm": 3.0, "penetration_mm": 30.0})
    refuses_nonsense(ec5_spacing.axial_screw_distances, {"diameter_mm": 3.0})
    refuses_nonsense(ec5_spacing.cross_ply_panel_distances, {"diameter_mm": 3.0, "angle_deg": 30.0})
    refuses_nonsense(ec5_spacing.plywood_edge_distances_mm, {"diameter_mm": 3.0, "angle_deg": 30.0})
    refuses_nonsense(
        ec5_spacing.edge_face_greatest_diameter_mm, {"thickness_mm": 18.0, "pulled": True}
    )
    refuses_nonsense(friction.dynamic_friction, {"static": 0.3})
    refuses_nonsense(
        screw_tests_e830.steel_to_plywood_ultimate_n,
        {"kind": "wood", "gauge": 8, "penetration_mm": 12.7},
    )
    refuses_nonsense(screw_tests_e830.plywood_to_steel_ultimate_n, {"gauge": 8, "plywood_mm": 12.7})
    refuses_nonsense(screw_tests_e830.working_lateral_n, {"ultimate_n": 1.0, "divisor": 5.0})
