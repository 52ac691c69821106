"""Eurocode 5 pull-out and pull-through: by hand, ranges at their ends, laws."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import ec5_axial

SCREW = {"diameter_mm": 7.0, "penetration_mm": 60.0, "density_kg_m3": 430.0}


def test_withdrawal_strength_by_hand():
    # the powers: 7 to -0.5, 60 to -0.1, 430 to 0.8
    got = ec5_axial.screw_withdrawal_strength_n_mm2(**SCREW)
    assert got == pytest.approx(0.52 * 0.3779645 * 0.6640257 * 127.8718, rel=1e-5)


def test_withdrawal_by_hand():
    strength = ec5_axial.screw_withdrawal_strength_n_mm2(**SCREW)
    # k_d = 7/8, n_ef = 4^0.9 = 3.482202; at 45 degrees 1.2/2 + 1/2 = 1.1
    got = ec5_axial.screw_withdrawal_n(**SCREW, angle_deg=45.0, screws=4)
    assert got == pytest.approx(3.482202 * strength * 420.0 * 0.875 / 1.1, rel=1e-6)
    assert ec5_axial.effective_number(screws=4) == pytest.approx(3.482202, rel=1e-6)
    assert ec5_axial.effective_number(screws=1) == 1.0
    straight = ec5_axial.screw_withdrawal_n(**SCREW)
    assert straight == pytest.approx(strength * 420.0 * 0.875, rel=1e-9)
    # from 8 mm up k_d stays 1
    thick = SCREW | {"diameter_mm": 9.0}
    assert ec5_axial.screw_withdrawal_n(**thick) == pytest.approx(
        ec5_axial.screw_withdrawal_strength_n_mm2(**thick) * 540.0, rel=1e-9
    )


def test_range_of_the_clause():
    inside = {"diameter_mm": 6.0, "penetration_mm": 36.0, "member_thickness_mm": 72.0}
    assert ec5_axial.screw_in_clause_range(**inside)
    for change in (
        {"diameter_mm": 5.95},
        {"penetration_mm": 35.9},
        {"member_thickness_mm": 71.9},
    ):
        assert not ec5_axial.screw_in_clause_range(**(inside | change))
    thick = {"diameter_mm": 12.0, "penetration_mm": 200.0, "member_thickness_mm": 200.0}
    assert ec5_axial.screw_in_clause_range(**thick)
    assert not ec5_axial.screw_in_clause_range(**(thick | {"diameter_mm": 12.1}))


@pytest.mark.parametrize(
    "change",
    [
        {"diameter_mm": 5.95},
        {"diameter_mm": 12.1, "penetration_mm": 100.0},
        {"penetration_mm": 41.9},
        {"density_kg_m3": 0.0},
    ],
)
def test_strength_outside_the_range_is_refused(change):
    with pytest.raises(OutOfRangeError):
        ec5_axial.screw_withdrawal_strength_n_mm2(**(SCREW | change))


def test_strength_at_the_ends_of_the_range():
    for diameter, penetration in ((6.0, 36.0), (12.0, 72.0)):
        assert ec5_axial.screw_withdrawal_strength_n_mm2(
            diameter_mm=diameter, penetration_mm=penetration, density_kg_m3=430.0
        )
    for angle in (30.0, 90.0):
        assert ec5_axial.screw_withdrawal_n(**SCREW, angle_deg=angle)
    for angle in (29.9, 90.1):
        with pytest.raises(OutOfRangeError, match="angle_deg"):
            ec5_axial.screw_withdrawal_n(**SCREW, angle_deg=angle)
    with pytest.raises(OutOfRangeError, match="screws"):
        ec5_axial.screw_withdrawal_n(**SCREW, screws=0)


def test_nails_by_hand():
    # 20e-6 * 430^2 = 3.698; 70e-6 * 430^2 = 12.943
    assert ec5_axial.nail_withdrawal_strength_n_mm2(density_kg_m3=430.0) == pytest.approx(
        3.698, rel=1e-9
    )
    assert ec5_axial.nail_head_strength_n_mm2(density_kg_m3=430.0) == pytest.approx(
        12.943, rel=1e-9
    )


@pytest.mark.parametrize(
    ("ratio", "profiled", "factor"),
    [
        (13.0, False, 1.0),
        (12.0, False, 1.0),
        (11.0, False, 0.75),
        (8.4, False, 0.1),
        (8.0, False, 0.0),
        (7.0, False, 0.0),
        (9.0, True, 1.0),
        (8.0, True, 1.0),
        (7.5, True, 0.75),
        (6.2, True, 0.1),
        (6.0, True, 0.0),
    ],
)
def test_penetration_earns_strength(ratio, profiled, factor):
    got = ec5_axial.nail_penetration_factor(
        diameter_mm=3.0, penetration_mm=3.0 * ratio, profiled=profiled
    )
    assert got == pytest.approx(factor, abs=1e-9)


def test_a_thin_head_side_pulls_the_head_through():
    # head side 6 mm of 350: 2.45 * 2.8 * 6 + 8.575 * 5^2 = 41.16 + 214.375; point side 2.45 * 2.8 *
    # 60
    got = ec5_axial.nail_withdrawal_n(
        diameter_mm=2.8,
        head_diameter_mm=5.0,
        penetration_mm=60.0,
        head_side_mm=6.0,
        point_density_kg_m3=350.0,
        head_density_kg_m3=350.0,
    )
    assert got == pytest.approx(255.535, rel=1e-6)


def test_hardwood_screw_by_hand():
    # l_ef = 40 - 6.6 = 33.4; 7e-4 * 650^1.6 (31647.5) * 6^-0.34 (0.543804) = 12.0470; pi * 6 * 33.4
    screw = {"diameter_mm": 6.0, "length_mm": 40.0, "density_kg_m3": 650.0}
    full = 7e-4 * 650.0**1.6 * 6.0**-0.34 * math.pi * 6.0 * 33.4
    assert ec5_axial.hardwood_screw_withdrawal_n(**screw) == pytest.approx(full, rel=1e-9)
    assert full == pytest.approx(7590.0, rel=0.01)
    for angle, share in ((90.0, 1.0), (30.0, 1.0), (15.0, 0.85), (0.0, 0.7)):
        got = ec5_axial.hardwood_screw_withdrawal_n(**screw, angle_deg=angle)
        assert got == pytest.approx(share * full, rel=1e-9)
    for diameter in (4.0, 20.0):
        assert ec5_axial.hardwood_screw_withdrawal_n(**(screw | {"diameter_mm": diameter})) > 0.0
    for change in (
        {"diameter_mm": 3.95},
        {"diameter_mm": 20.1},
        {"length_mm": 6.6},
        {"angle_deg": 90.1},
        {"angle_deg": -0.1},
    ):
        with pytest.raises(OutOfRangeError):
            ec5_axial.hardwood_screw_withdrawal_n(**(screw | change))


@pytest.mark.parametrize(("thickness", "strength"), [(11.9, 8.0), (20.0, 8.0), (20.1, 10.0)])
def test_pull_through_strength(thickness, strength):
    assert ec5_axial.head_pull_through_strength_n_mm2(panel_thickness_mm=thickness) == strength


@pytest.mark.parametrize(
    ("head", "thickness", "density", "force"),
    [
        (8.0, 15.0, 350.0, 512.0),
        (8.0, 24.0, 350.0, 640.0),
        (8.0, 12.0, 350.0, 512.0),
        (8.0, 11.9, 350.0, 400.0),
        (6.0, 9.0, 350.0, 288.0),
        (8.0, 15.0, 700.0, 891.444),  # 2^0.8 = 1.741101
    ],
)
def test_head_pull_through(head, thickness, density, force):
    got = ec5_axial.head_pull_through_n(
        head_diameter_mm=head, panel_thickness_mm=thickness, density_kg_m3=density
    )
    assert got == pytest.approx(force, rel=1e-6)


def test_washer_on_wood_by_hand():
    # 3 * 24.3 * pi/4 * (24^2 - 9^2) = 72.9 * 388.772
    got = ec5_axial.washer_bearing_n(washer_mm=24.0, bolt_mm=8.0, compression_strength_n_mm2=24.3)
    assert got == pytest.approx(72.9 * math.pi / 4.0 * 495.0, rel=1e-9)
    with pytest.raises(OutOfRangeError, match="washer_mm"):
        ec5_axial.washer_bearing_n(washer_mm=8.9, bolt_mm=8.0, compression_strength_n_mm2=24.3)
    # a washer no larger than its hole bears on nothing
    assert ec5_axial.washer_bearing_n(
        washer_mm=9.0, bolt_mm=8.0, compression_strength_n_mm2=24.3
    ) == pytest.approx(0.0, abs=1e-9)


@given(density=st.floats(300.0, 800.0), factor=st.floats(1.001, 1.5))
@settings(max_examples=25, deadline=None)
def test_denser_wood_and_deeper_screws_hold_more(density, factor):
    screw = SCREW | {"density_kg_m3": density}
    base = ec5_axial.screw_withdrawal_n(**screw)
    assert ec5_axial.screw_withdrawal_n(**(screw | {"density_kg_m3": density * factor})) > base
    assert ec5_axial.screw_withdrawal_n(**(screw | {"penetration_mm": 60.0 * factor})) > base


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(ec5_axial.screw_withdrawal_n, SCREW | {"angle_deg": 60.0})
    refuses_nonsense(
        ec5_axial.screw_in_clause_range,
        {"diameter_mm": 6.0, "penetration_mm": 36.0, "member_thickness_mm": 72.0},
    )
    refuses_nonsense(ec5_axial.nail_withdrawal_strength_n_mm2, {"density_kg_m3": 400.0})
    refuses_nonsense(ec5_axial.nail_head_strength_n_mm2, {"density_kg_m3": 400.0})
    refuses_nonsense(
        ec5_axial.nail_penetration_factor,
        {"diameter_mm": 3.0, "penetration_mm": 30.0, "profiled": False},
    )
    refuses_nonsense(
        ec5_axial.nail_withdrawal_n,
        {
            "diameter_mm": 2.8,
            "head_diameter_mm": 5.0,
            "penetration_mm": 60.0,
            "head_side_mm": 6.0,
            "point_density_kg_m3": 350.0,
            "head_density_kg_m3": 350.0,
        },
    )
    refuses_nonsense(
        ec5_axial.hardwood_screw_withdrawal_n,
        {"diameter_mm": 6.0, "length_mm": 40.0, "density_kg_m3": 650.0, "angle_deg": 90.0},
    )
    refuses_nonsense(
        ec5_axial.head_pull_through_n,
        {"head_diameter_mm": 8.0, "panel_thickness_mm": 15.0, "density_kg_m3": 650.0},
    )
    refuses_nonsense(
        ec5_axial.washer_bearing_n,
        {"washer_mm": 24.0, "bolt_mm": 8.0, "compression_strength_n_mm2": 24.3},
    )
