"""EN 1993-1-8:2005, Table 3.4: a published number sheet for M20 bolts, and M8 8.8 by hand.

M20 class 4.6, A_s 245, plate S235 f_u 360, t 8, d0 22, d_m 30. The sheet prints three decimals of a
kilonewton; 0.5 % is more than its rounding. Its bearing (33 997 N) uses the BOLT's strength: that
is a trap, not a value.
"""

import pytest

from stowright.formulas import bolts_en1993_1_8 as bolts
from stowright.formulas import iso_fasteners

CLOSE = 1e-4


def test_case_1_m20_class_4_6():
    shear = bolts.shear_n(tensile_strength_n_mm2=400.0, area_mm2=245.0, alpha_v=0.6)
    tension = bolts.tension_n(tensile_strength_n_mm2=400.0, stress_area_mm2=245.0)
    punching = bolts.punching_n(mean_diameter_mm=30.0, thickness_mm=8.0, plate_strength_n_mm2=360.0)
    assert shear == pytest.approx(47_040.0, rel=CLOSE)
    assert tension == pytest.approx(70_560.0, rel=CLOSE)
    assert punching == pytest.approx(130_288.0, rel=CLOSE)


def test_case_2_m20_class_8_8():
    shear = bolts.shear_n(
        tensile_strength_n_mm2=800.0, area_mm2=245.0, alpha_v=bolts.ALPHA_V_THREADS["8.8"]
    )
    assert shear == pytest.approx(94_080.0, rel=CLOSE)


def test_case_3_bearing_takes_the_plates_strength():
    alpha, k_1 = bolts.bearing_factors(
        end_mm=26.4,
        edge_mm=26.4,
        hole_mm=22.0,
        bolt_strength_n_mm2=400.0,
        plate_strength_n_mm2=360.0,
    )
    assert (alpha, k_1) == pytest.approx((0.4, 1.66), rel=1e-9)
    got = bolts.bearing_n(
        alpha_b=alpha, k_1=k_1, plate_strength_n_mm2=360.0, diameter_mm=20.0, thickness_mm=8.0
    )
    assert got == pytest.approx(30_597.0, rel=CLOSE)
    assert got != pytest.approx(33_997.0, rel=0.05)


def test_case_4_m8_8_8_interaction():
    area = iso_fasteners.stress_area_mm2(diameter_mm=8.0, pitch_mm=1.25)
    shear = bolts.shear_n(tensile_strength_n_mm2=800.0, area_mm2=36.6, alpha_v=0.6)
    tension = bolts.tension_n(tensile_strength_n_mm2=800.0, stress_area_mm2=36.6)
    assert area == pytest.approx(36.6, abs=0.05)
    assert (shear, tension) == pytest.approx((14_054.0, 21_082.0), rel=CLOSE)
    got = bolts.shear_tension_utilisation(
        shear_n=3000.0, shear_resistance_n=shear, tension_n=4000.0, tension_resistance_n=tension
    )
    assert got == pytest.approx(0.349, abs=0.0005)


# kN, threads in the shear plane: bolt, stress area, 8.8, 10.9, A2-70
RESISTANCES = [
    (14.2, (5.45, 8.18), (5.68, 10.22), (3.98, 7.16)),
    (20.1, (7.72, 11.58), (8.04, 14.47), (5.63, 10.13)),
    (36.6, (14.05, 21.08), (14.64, 26.35), (10.25, 18.45)),
    (58.0, (22.27, 33.41), (23.20, 41.76), (16.24, 29.23)),
    (84.3, (32.37, 48.56), (33.72, 60.70), (23.60, 42.49)),
]


@pytest.mark.parametrize(("area", "steel", "high", "stainless"), RESISTANCES)
def test_table_of_resistances(area, steel, high, stainless):
    rows = (
        (800.0, bolts.ALPHA_V_THREADS["8.8"], steel),
        (1000.0, bolts.ALPHA_V_THREADS["10.9"], high),
        (700.0, bolts.ALPHA_V_THREADS["stainless"], stainless),
    )
    for strength, alpha, (shear_kn, tension_kn) in rows:
        shear = bolts.shear_n(tensile_strength_n_mm2=strength, area_mm2=area, alpha_v=alpha)
        tension = bolts.tension_n(tensile_strength_n_mm2=strength, stress_area_mm2=area)
        # areas carry three figures and the table two decimals: 0.3 % at M5
        assert shear / 1000.0 == pytest.approx(shear_kn, rel=0.003)
        assert tension / 1000.0 == pytest.approx(tension_kn, rel=0.003)


def test_alpha_v_by_class():
    assert bolts.ALPHA_V_THREADS == {
        "4.6": 0.6,
        "5.6": 0.6,
        "8.8": 0.6,
        "4.8": 0.5,
        "5.8": 0.5,
        "6.8": 0.5,
        "10.9": 0.5,
        "stainless": 0.5,
    }
