"""Strips on free edges and tips, shares by stiffness, Euler's strut, Navier cut short."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import buckling, plates_levy, plates_navier, plates_quick, strips

BIRCH_18 = {  # handbook table 1.2: 17.6 mm, E 10048 / 7452, G 620
    "thickness_mm": 17.6,
    "modulus_x_n_mm2": 10048.0,
    "modulus_y_n_mm2": 7452.0,
    "shear_modulus_n_mm2": 620.0,
}


def test_an_edge_strip_is_as_wide_as_its_beam_moment_over_the_plate_moment():
    # M = P (2 L - c) / 8 = 950 / 8 for L 500, c 50, P 1; over m 0.95 that is 125 mm
    width = strips.edge_strip_width_mm(
        patch_mm=50.0, span_mm=500.0, moment_per_load=0.95, most_mm=900.0
    )
    assert width == pytest.approx(125.0, rel=1e-12)


def test_an_edge_strip_is_never_wider_than_the_sheet():
    numbers = {"patch_mm": 50.0, "span_mm": 500.0, "moment_per_load": 0.5}
    assert strips.edge_strip_width_mm(**numbers, most_mm=160.0) == 160.0


def test_a_patch_longer_than_its_span_is_refused():
    with pytest.raises(OutOfRangeError):
        strips.edge_strip_width_mm(
            patch_mm=501.0, span_mm=500.0, moment_per_load=0.5, most_mm=160.0
        )


@pytest.mark.parametrize("span", [300.0, 500.0, 900.0])
@pytest.mark.parametrize("patch", [50.0, 100.0])
def test_an_edge_strip_gives_back_the_moment_that_levy_finds_there(span, patch):
    # another route to the same moment: the strip as a beam, its width from the plate's series
    it = plates_navier.plate(side_x_mm=span, side_y_mm=1400.0, **BIRCH_18)
    answer = plates_levy.patch_response(
        it,
        free_low=True,
        free_high=False,
        load_n=1000.0,
        patch_x_mm=patch,
        patch_y_mm=patch,
        centre_y_mm=patch / 2.0,
        at_y_mm=0.0,
    )
    width = strips.edge_strip_width_mm(
        patch_mm=patch, span_mm=span, moment_per_load=answer.moment_x_n / 1000.0, most_mm=1400.0
    )
    beam = 1000.0 * (2.0 * span - patch) / 8.0
    assert beam / width == pytest.approx(answer.moment_x_n, rel=1e-9)
    assert patch <= 1.05 * width  # a strip narrower than the foot would be no strip


def test_a_tip_spreads_by_half_its_arm_and_keeps_to_the_sheet():
    assert strips.cantilever_strip_width_mm(arm_mm=200.0, patch_mm=50.0, most_mm=900.0) == 150.0
    assert strips.cantilever_strip_width_mm(arm_mm=200.0, patch_mm=50.0, most_mm=120.0) == 120.0


@given(one=st.floats(1.0, 1e6), other=st.floats(0.0, 1e6))
@settings(max_examples=30)
def test_beams_that_bend_alike_share_all_of_a_load(one, other):
    first = strips.share_by_stiffness(stiffness=one, others=other)
    second = 1.0 - first
    assert first * other == pytest.approx(second * one, rel=1e-9, abs=1e-9)


def test_eulers_strut_by_hand():
    # pi^2 * 10000 * 25000 / 500^2 = 9869.6 N
    load = buckling.euler_load_n(modulus_n_mm2=1e4, second_moment_mm4=2.5e4, length_mm=500.0)
    assert load == pytest.approx(1000.0 * math.pi**2, rel=1e-12)


@given(factor=st.floats(0.5, 3.0))
@settings(max_examples=20)
def test_eulers_load_falls_with_the_square_of_the_length(factor):
    strut = {"modulus_n_mm2": 9e3, "second_moment_mm4": 3e4}
    short = buckling.euler_load_n(**strut, length_mm=400.0)
    long = buckling.euler_load_n(**strut, length_mm=400.0 * factor)
    assert long * factor**2 == pytest.approx(short)


@pytest.mark.parametrize(("a", "b"), [(1000.0, 600.0), (600.0, 600.0), (500.0, 1400.0)])
def test_the_short_series_is_within_two_per_cent_of_the_long_one_under_an_even_load(a, b):
    it = plates_navier.plate(side_x_mm=a, side_y_mm=b, **BIRCH_18)
    short = plates_quick.middle_under_uniform(it, pressure_n_mm2=0.002)
    long = plates_navier.uniform_response(it, pressure_n_mm2=0.002)
    assert short.deflection_mm == pytest.approx(long.deflection_mm, rel=1e-3)
    assert short[1:] == pytest.approx(long[1:], abs=0.02 * max(long[1:]))


def test_p7_by_the_short_series():
    # handbook check P7, found there by Navier's series: w 0.956, Mx 35.65, My 86.2
    it = plates_navier.plate(side_x_mm=1000.0, side_y_mm=600.0, **BIRCH_18)
    short = plates_quick.middle_under_uniform(it, pressure_n_mm2=0.002)
    assert short.deflection_mm == pytest.approx(0.956, rel=0.002)
    assert short.moment_x_n == pytest.approx(35.65, rel=0.02)
    assert short.moment_y_n == pytest.approx(86.2, rel=0.02)


@pytest.mark.parametrize(("a", "b"), [(1000.0, 600.0), (515.0, 1400.0), (400.0, 400.0)])
@pytest.mark.parametrize("patch", [50.0, 100.0])
def test_the_short_series_is_not_above_the_long_one_under_a_patch(a, b, patch):
    it = plates_navier.plate(side_x_mm=a, side_y_mm=b, **BIRCH_18)
    spot = {"load_n": 1000.0, "patch_x_mm": patch, "patch_y_mm": patch}
    short = plates_quick.middle_under_patch(it, **spot)
    long = plates_navier.patch_response(it, **spot)
    # waves left out mostly add: a quarter at most, and they take away no more than 1.5 %
    assert 0.75 * long.moment_x_n < short.moment_x_n < 1.015 * long.moment_x_n
    assert 0.75 * long.moment_y_n < short.moment_y_n < 1.015 * long.moment_y_n
    assert short.deflection_mm == pytest.approx(long.deflection_mm, rel=0.01)
