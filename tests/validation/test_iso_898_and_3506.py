"""ISO 898-1:2013 and ISO 3506-1 strengths, stress areas and a machine manual's torques, as
restated publicly.
"""

import pytest

from stowright.formulas import iso_fasteners

AREAS = [
    (5, 0.8, 14.2),
    (6, 1.0, 20.1),
    (8, 1.25, 36.6),
    (10, 1.5, 58.0),
    (12, 1.75, 84.3),
]


@pytest.mark.parametrize(("size", "pitch", "area"), AREAS)
def test_tabulated_stress_areas(size, pitch, area):
    assert iso_fasteners.coarse_pitch_mm(size=size) == pitch
    got = iso_fasteners.stress_area_mm2(diameter_mm=float(size), pitch_mm=pitch)
    assert got == pytest.approx(area, abs=0.05)  # printed to three figures


@pytest.mark.parametrize(
    ("d", "pitch", "area"), [(8.0, 1.25, 36.61), (10.0, 1.5, 57.99), (12.0, 1.75, 84.27)]
)
def test_case_6_stress_areas(d, pitch, area):
    got = iso_fasteners.stress_area_mm2(diameter_mm=d, pitch_mm=pitch)
    assert got == pytest.approx(area, abs=0.006)  # printed to two decimals


def test_property_classes():
    assert iso_fasteners.BOLT_CLASSES == {
        "4.6": (240.0, 400.0, 0.0),
        "8.8": (640.0, 800.0, 580.0),
        "10.9": (900.0, 1000.0, 830.0),
    }
    assert iso_fasteners.STAINLESS_CLASSES == {
        "50": (210.0, 500.0, 0.0),
        "70": (450.0, 700.0, 0.0),
        "80": (600.0, 800.0, 0.0),
    }


def test_tightening_torques():
    assert iso_fasteners.TIGHTENING_N_M == {
        "8.8": {5: 5.9, 6: 10.0, 8: 25.0, 10: 49.0, 12: 85.0},
        "10.9": {5: 8.7, 6: 15.0, 8: 36.0, 10: 72.0, 12: 125.0},
    }


def test_case_18_torque_by_the_formula_agrees_with_the_table():
    preload = iso_fasteners.preload_n(proof_n_mm2=580.0, stress_area_mm2=36.6)
    assert preload == pytest.approx(15_920.0, rel=1e-3)
    torque = iso_fasteners.tightening_torque_n_mm(preload_n=preload, diameter_mm=8.0)
    assert torque / 1000.0 == pytest.approx(25.5, abs=0.05)
    assert torque / 1000.0 == pytest.approx(iso_fasteners.TIGHTENING_N_M["8.8"][8], rel=0.03)
