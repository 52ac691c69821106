"""Bolts and screws: torque, washers, pilots by hand; ranges at their ends."""

import pytest

from stowright.errors import OutOfRangeError
from stowright.formulas import iso_fasteners as iso


def test_gauges_at_the_ends():
    assert iso.gauge_diameter_mm(gauge=0) == pytest.approx(1.524, rel=1e-12)
    assert iso.gauge_diameter_mm(gauge=24) == pytest.approx(9.4488, rel=1e-12)
    for gauge in (-1, 24.1, 25):
        with pytest.raises(OutOfRangeError, match="gauge"):
            iso.gauge_diameter_mm(gauge=gauge)


def test_tolerance_of_a_gauge():
    low, high = iso.gauge_diameter_range_mm(gauge=0)
    assert (low, high) == pytest.approx((1.344, 1.624), rel=1e-12)


def test_other_threads_are_refused():
    with pytest.raises(OutOfRangeError, match="5, 6, 8, 10 or 12"):
        iso.coarse_pitch_mm(size=14)


def test_stress_area_by_hand():
    # M16 x 2: (16 - 1.8764)^2 pi/4 = 156.67
    assert iso.stress_area_mm2(diameter_mm=16.0, pitch_mm=2.0) == pytest.approx(156.67, abs=0.01)
    with pytest.raises(OutOfRangeError, match="core_mm"):
        iso.stress_area_mm2(diameter_mm=0.93, pitch_mm=1.0)


def test_torque_by_hand():
    assert iso.preload_n(proof_n_mm2=600.0, stress_area_mm2=20.0) == pytest.approx(9000.0)
    got = iso.tightening_torque_n_mm(preload_n=9000.0, diameter_mm=6.0)
    assert got == pytest.approx(10_800.0, rel=1e-12)
    greased = iso.tightening_torque_n_mm(preload_n=9000.0, diameter_mm=6.0, nut_factor=0.15)
    assert greased == pytest.approx(8100.0, rel=1e-12)


def test_pilot_and_washers():
    assert iso.pilot_mm(shank_mm=4.2) == pytest.approx(2.8, rel=1e-12)
    assert iso.washer_least_diameter_mm(bolt_mm=8.0) == pytest.approx(24.0, rel=1e-12)
    assert iso.washer_least_thickness_mm(bolt_mm=8.0) == pytest.approx(2.4, rel=1e-12)


def test_thread_past_an_insert_nut():
    assert iso.insert_nut_protrusion_mm(pitch_mm=1.25) == 1.25
    assert iso.insert_nut_protrusion_mm(pitch_mm=1.25, threads=3.0) == 3.75
    with pytest.raises(OutOfRangeError, match="threads"):
        iso.insert_nut_protrusion_mm(pitch_mm=1.25, threads=0.99)


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(iso.stress_area_mm2, {"diameter_mm": 8.0, "pitch_mm": 1.25})
    refuses_nonsense(iso.preload_n, {"proof_n_mm2": 580.0, "stress_area_mm2": 36.6})
    refuses_nonsense(
        iso.tightening_torque_n_mm, {"preload_n": 9.0, "diameter_mm": 8.0, "nut_factor": 0.2}
    )
    refuses_nonsense(iso.pilot_mm, {"shank_mm": 4.2})
    refuses_nonsense(iso.washer_least_diameter_mm, {"bolt_mm": 8.0})
    refuses_nonsense(iso.washer_least_thickness_mm, {"bolt_mm": 8.0})
    refuses_nonsense(iso.insert_nut_protrusion_mm, {"pitch_mm": 1.25, "threads": 1.0})
