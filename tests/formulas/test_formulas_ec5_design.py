"""Design values and creep: by hand, and every class that does not exist."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import ec5_design


def test_design_strength_by_hand():
    got = ec5_design.design_strength_n_mm2(
        characteristic_n_mm2=40.2, strength_factor=0.9, material_factor=1.2
    )
    assert got == pytest.approx(30.15, rel=1e-12)


def test_final_deflection_by_hand():
    # 2 (1 + 0.8) + 3 (1 + 0.3 * 0.8) = 3.6 + 3.72
    got = ec5_design.final_deflection_mm(
        permanent_mm=2.0, variable_mm=3.0, creep=0.8, quasi_permanent=0.3
    )
    assert got == pytest.approx(7.32, rel=1e-12)
    full = ec5_design.final_deflection_mm(
        permanent_mm=0.0, variable_mm=3.0, creep=0.8, quasi_permanent=1.0
    )
    assert full == pytest.approx(5.4, rel=1e-12)


def test_joint_creep():
    assert ec5_design.joint_creep(creep_1=0.8, creep_2=0.8) == pytest.approx(1.6, rel=1e-12)
    assert ec5_design.joint_creep(creep_1=0.8, creep_2=1.25) == pytest.approx(2.0, rel=1e-12)


def test_limits_that_practice_asks_for():
    assert ec5_design.SPAN_OVER_SAG == {"platform": 200.0, "drawer base": 150.0, "shelf": 200.0}


@pytest.mark.parametrize("number", [0, 4, -1])
def test_service_classes_that_do_not_exist(number):
    with pytest.raises(OutOfRangeError, match="service_class must be 1, 2 or 3"):
        ec5_design.k_mod(service_class=number, duration="short")
    with pytest.raises(OutOfRangeError, match="service_class must be 1, 2 or 3"):
        ec5_design.k_def(service_class=number)


@given(service_class=st.sampled_from([1, 2, 3]))
@settings(max_examples=6, deadline=None)
def test_shorter_loads_and_drier_places_are_never_weaker(service_class):
    factors = [
        ec5_design.k_mod(service_class=service_class, duration=duration)
        for duration in ec5_design.DURATIONS
    ]
    assert factors == sorted(factors)
    if service_class > 1:
        for duration in ec5_design.DURATIONS:
            drier = ec5_design.k_mod(service_class=service_class - 1, duration=duration)
            assert ec5_design.k_mod(service_class=service_class, duration=duration) <= drier


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(
        ec5_design.design_strength_n_mm2,
        {"characteristic_n_mm2": 40.0, "strength_factor": 0.9, "material_factor": 1.2},
    )
    numbers = {"permanent_mm": 1.0, "variable_mm": 1.0, "creep": 0.8, "quasi_permanent": 0.3}
    refuses_nonsense(ec5_design.final_deflection_mm, numbers)
    for bad in (1.01, -0.01, math.nan):
        with pytest.raises(OutOfRangeError, match="quasi_permanent"):
            ec5_design.final_deflection_mm(**(numbers | {"quasi_permanent": bad}))
    refuses_nonsense(ec5_design.joint_creep, {"creep_1": 0.8, "creep_2": 1.0})
