"""Rectangles and stresses by hand: b 100, h 18."""

import pytest

from stowright.errors import OutOfRangeError
from stowright.formulas import beams, ec5_design, sections


def test_by_hand():
    size = {"width_mm": 100.0, "depth_mm": 18.0}
    assert sections.rectangle_second_moment_mm4(**size) == pytest.approx(48_600.0, rel=1e-12)
    assert sections.rectangle_section_modulus_mm3(**size) == pytest.approx(5400.0, rel=1e-12)
    assert sections.rectangle_shear_stress_n_mm2(shear_n=1200.0, **size) == pytest.approx(1.0)
    assert sections.bending_stress_n_mm2(
        moment_n_mm=10_800.0, section_modulus_mm3=5400.0
    ) == pytest.approx(2.0, rel=1e-12)
    assert sections.rolling_shear_stress_n_mm2(
        shear_n=900.0, width_mm=100.0, shear_factor_per_mm=0.07
    ) == pytest.approx(0.63, rel=1e-12)


def test_rolling_shear_never_exceeds_the_solid_rectangle_that_bounds_it():
    # a solid section has S / I = 1.5 / h at its middle
    solid = sections.rectangle_shear_stress_n_mm2(shear_n=900.0, width_mm=100.0, depth_mm=18.0)
    assert sections.rolling_shear_stress_n_mm2(
        shear_n=900.0, width_mm=100.0, shear_factor_per_mm=1.5 / 18.0
    ) == pytest.approx(solid)


def test_b1_beam_three_ways():
    beam = {"span_mm": 600.0, "modulus_n_mm2": 9000.0, "second_moment_mm4": 48_600.0}
    assert beams.pinned_point_sag_mm(load_n=200.0, at_mm=300.0, **beam) == pytest.approx(
        2.058, rel=0.005
    )
    assert beams.fixed_point_sag_under_load_mm(load_n=200.0, at_mm=300.0, **beam) == pytest.approx(
        0.514, rel=0.005
    )
    assert beams.cantilever_point_sag_mm(load_n=200.0, at_mm=600.0, **beam) == pytest.approx(
        32.92, rel=0.005
    )


def test_b2_and_b3_strips():
    # 1 m of 17.6 birch, E 10048, 800 mm, 1 kPa; 12 mm softwood, E 9200, 500 mm, 2 kPa
    birch = beams.pinned_uniform_sag_mm(
        line_load_n_mm=1.0,
        span_mm=800.0,
        modulus_n_mm2=10048.0,
        second_moment_mm4=sections.rectangle_second_moment_mm4(width_mm=1000.0, depth_mm=17.6),
    )
    assert birch == pytest.approx(1.168, rel=0.005)
    assert 800.0 / birch == pytest.approx(685.0, rel=0.005)
    final = ec5_design.final_deflection_mm(
        permanent_mm=birch,
        variable_mm=0.0,
        creep=ec5_design.k_def(service_class=2),
        quasi_permanent=0.0,
    )
    assert final == pytest.approx(2.337, rel=0.005)
    softwood = beams.pinned_uniform_sag_mm(
        line_load_n_mm=2.0,
        span_mm=500.0,
        modulus_n_mm2=9200.0,
        second_moment_mm4=sections.rectangle_second_moment_mm4(width_mm=1000.0, depth_mm=12.0),
    )
    assert softwood == pytest.approx(1.229, rel=0.005)


NUMBERS = {
    "width_mm": 100.0,
    "depth_mm": 18.0,
    "shear_n": 900.0,
    "shear_factor_per_mm": 0.07,
    "moment_n_mm": 10_800.0,
    "section_modulus_mm3": 5400.0,
}


@pytest.mark.parametrize("name", [name for name in sections.__all__ if name.islower()])
def test_nonsense_is_refused(name, refuses_nonsense):
    function = getattr(sections, name)
    arguments = {key: NUMBERS[key] for key in function.__annotations__ if key in NUMBERS}
    refuses_nonsense(function, arguments)
    for key in arguments:
        with pytest.raises(OutOfRangeError, match=key):
            function(**(arguments | {key: -1.0}))
