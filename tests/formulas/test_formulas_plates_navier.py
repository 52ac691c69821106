"""Navier's plate: cases worked apart from this code, limits, and laws that hold for any plate."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import plates_navier
from stowright.formulas.plates_navier import patch_response, plate, uniform_response

HALF_PERCENT = 0.005
BIRCH = {
    "side_x_mm": 1000.0,
    "side_y_mm": 600.0,
    "thickness_mm": 17.6,
    "modulus_x_n_mm2": 10048.0,
    "modulus_y_n_mm2": 7452.0,
    "shear_modulus_n_mm2": 620.0,
}


def test_p7_birch_under_an_even_load():
    seen = uniform_response(plate(**BIRCH), pressure_n_mm2=0.002)
    assert seen == pytest.approx((0.956, 35.65, 86.2), rel=HALF_PERCENT)
    stress = plates_navier.bending_stress_n_mm2(moment_n=seen.moment_y_n, thickness_mm=17.6)
    assert stress == pytest.approx(1.670, rel=HALF_PERCENT)


def test_p8_birch_under_a_patch():
    seen = patch_response(plate(**BIRCH), load_n=1000.0, patch_x_mm=100.0, patch_y_mm=100.0)
    assert seen.deflection_mm == pytest.approx(2.253, rel=HALF_PERCENT)
    stress = [
        plates_navier.bending_stress_n_mm2(moment_n=moment, thickness_mm=17.6)
        for moment in seen[1:]
    ]
    assert stress == pytest.approx([4.88, 5.69], rel=HALF_PERCENT)


def test_p9_softwood_square():
    soft = plate(
        side_x_mm=800.0,
        side_y_mm=800.0,
        thickness_mm=12.0,
        modulus_x_n_mm2=9200.0,
        modulus_y_n_mm2=4600.0,
        shear_modulus_n_mm2=500.0,
    )
    seen = uniform_response(soft, pressure_n_mm2=0.001)
    assert seen == pytest.approx((2.943, 57.8, 27.6), rel=HALF_PERCENT)


def test_p10_a_long_plate_is_a_beam():
    strip = plate(
        side_x_mm=600.0,
        side_y_mm=6000.0,
        thickness_mm=18.0,
        modulus_x_n_mm2=9000.0,
        modulus_y_n_mm2=10.0,
        shear_modulus_n_mm2=1.0,
    )
    seen = uniform_response(strip, pressure_n_mm2=0.005)
    beam = 5.0 * 0.005 * 600.0**4 / (384.0 * 9000.0 * 486.0)
    assert beam == pytest.approx(1.9290, rel=1e-4)
    assert seen.deflection_mm == pytest.approx(beam, rel=1e-3)
    assert seen.moment_x_n == pytest.approx(0.005 * 600.0**2 / 8.0, rel=1e-3)


def test_rigidities_by_hand():
    # nu_xy 0.08, nu_yx = 0.08 * 7452/10048 = 0.0593312; 1 - product = 0.99525350; t^3/12 =
    # 454.314667
    seen = plate(**BIRCH, poisson_xy=0.08)
    assert seen.rigidity_x_n_mm == pytest.approx(10048.0 * 454.3146667 / 0.9952535, rel=1e-6)
    assert seen.rigidity_y_n_mm == pytest.approx(7452.0 * 454.3146667 / 0.9952535, rel=1e-6)
    assert seen.rigidity_cross_n_mm == pytest.approx(0.0593312 * seen.rigidity_x_n_mm, rel=1e-6)
    assert seen.rigidity_twist_n_mm == pytest.approx(620.0 * 454.3146667, rel=1e-9)


def plain_series(it, *, orders, at, coefficient):
    """Sum w, Mx, My term by term in plain loops: slow and independent of the matrices."""
    total = np.zeros(3)
    a, b = it.side_x_mm, it.side_y_mm
    for m in range(1, orders + 1):
        for n in range(1, orders + 1):
            k_x, k_y = m * math.pi / a, n * math.pi / b
            mixed = it.rigidity_cross_n_mm + 2.0 * it.rigidity_twist_n_mm
            whole = (
                it.rigidity_x_n_mm * k_x**4
                + 2.0 * mixed * k_x**2 * k_y**2
                + it.rigidity_y_n_mm * k_y**4
            )
            w = coefficient(m, n) / whole * math.sin(k_x * at[0]) * math.sin(k_y * at[1])
            total += (
                w,
                (it.rigidity_x_n_mm * k_x**2 + it.rigidity_cross_n_mm * k_y**2) * w,
                (it.rigidity_y_n_mm * k_y**2 + it.rigidity_cross_n_mm * k_x**2) * w,
            )
    return total


def test_patch_anywhere_equals_the_written_series():
    it = plate(**BIRCH, poisson_xy=0.08)
    u, v, x, y = 70.0, 120.0, 280.0, 410.0

    def coefficient(m, n):
        return (
            16.0
            * 800.0
            / (math.pi**2 * m * n * u * v)
            * math.sin(m * math.pi * x / 1000.0)
            * math.sin(n * math.pi * y / 600.0)
            * math.sin(m * math.pi * u / 2000.0)
            * math.sin(n * math.pi * v / 1200.0)
        )

    written = plain_series(it, orders=160, at=(330.0, 350.0), coefficient=coefficient)
    seen = patch_response(
        it,
        load_n=800.0,
        patch_x_mm=u,
        patch_y_mm=v,
        centre_x_mm=x,
        centre_y_mm=y,
        at_x_mm=330.0,
        at_y_mm=350.0,
    )
    assert seen == pytest.approx(written, rel=1e-9)


def test_the_series_has_converged():
    # twice the waves changes the moment under a patch of a thirtieth of the side by less than 0.3 %
    it = plate(**BIRCH)
    seen = patch_response(it, load_n=1000.0, patch_x_mm=33.0, patch_y_mm=20.0)
    orders = np.arange(1.0, 1201.0)
    k_x, k_y = orders * np.pi / 1000.0, orders * np.pi / 600.0
    row_x = np.sin(k_x * 500.0) ** 2 * np.sin(k_x * 16.5) / (orders * 33.0)
    row_y = np.sin(k_y * 300.0) ** 2 * np.sin(k_y * 10.0) / (orders * 20.0)
    square_x, square_y = (k_x**2)[:, None], (k_y**2)[None, :]
    whole = (
        it.rigidity_x_n_mm * square_x**2
        + 4.0 * it.rigidity_twist_n_mm * square_x * square_y
        + it.rigidity_y_n_mm * square_y**2
    )
    scale = 16.0 * 1000.0 / np.pi**2
    assert seen.deflection_mm == pytest.approx(scale * (row_x @ (1.0 / whole) @ row_y), rel=1e-6)
    moment = scale * (row_x @ (it.rigidity_x_n_mm * square_x / whole) @ row_y)
    assert seen.moment_x_n == pytest.approx(moment, rel=3e-3)


def test_four_quarter_patches_make_an_even_load():
    it = plate(**BIRCH)
    point = {"at_x_mm": 350.0, "at_y_mm": 220.0}
    quarters = [
        patch_response(
            it,
            load_n=0.002 * 500.0 * 300.0,
            patch_x_mm=500.0,
            patch_y_mm=300.0,
            centre_x_mm=x,
            centre_y_mm=y,
            **point,
        )
        for x in (250.0, 750.0)
        for y in (150.0, 450.0)
    ]
    whole = uniform_response(it, pressure_n_mm2=0.002, **point)
    # the moments of the slowly converging patches are off by 1e-4
    assert np.sum(quarters, axis=0) == pytest.approx(whole, rel=2e-4)


sides = st.floats(250.0, 1600.0)
moduli = st.floats(1000.0, 16000.0)


@given(a=sides, b=sides, e_x=moduli, e_y=moduli, thickness=st.floats(4.0, 30.0))
@settings(max_examples=25, deadline=None)
def test_turning_the_plate_turns_the_answer(a, b, e_x, e_y, thickness):
    lying = plate(
        side_x_mm=a,
        side_y_mm=b,
        thickness_mm=thickness,
        modulus_x_n_mm2=e_x,
        modulus_y_n_mm2=e_y,
        shear_modulus_n_mm2=600.0,
    )
    stood = plate(
        side_x_mm=b,
        side_y_mm=a,
        thickness_mm=thickness,
        modulus_x_n_mm2=e_y,
        modulus_y_n_mm2=e_x,
        shear_modulus_n_mm2=600.0,
    )
    one = patch_response(
        lying,
        load_n=500.0,
        patch_x_mm=80.0,
        patch_y_mm=50.0,
        centre_x_mm=a / 3.0,
        centre_y_mm=b / 2.5,
    )
    other = patch_response(
        stood,
        load_n=500.0,
        patch_x_mm=50.0,
        patch_y_mm=80.0,
        centre_x_mm=b / 2.5,
        centre_y_mm=a / 3.0,
    )
    assert one == pytest.approx((other.deflection_mm, other.moment_y_n, other.moment_x_n), rel=1e-9)


@given(factor=st.floats(0.4, 2.5))
@settings(max_examples=25, deadline=None)
def test_scaling(factor):
    base = uniform_response(plate(**BIRCH), pressure_n_mm2=0.002)
    larger = BIRCH | {
        "side_x_mm": 1000.0 * factor,
        "side_y_mm": 600.0 * factor,
    }
    seen = uniform_response(plate(**larger), pressure_n_mm2=0.002)
    assert seen.deflection_mm == pytest.approx(base.deflection_mm * factor**4)
    assert seen.moment_x_n == pytest.approx(base.moment_x_n * factor**2)
    thicker = uniform_response(
        plate(**(BIRCH | {"thickness_mm": 17.6 * factor})), pressure_n_mm2=0.002
    )
    assert thicker.deflection_mm == pytest.approx(base.deflection_mm / factor**3)
    assert thicker.moment_y_n == pytest.approx(base.moment_y_n)
    heavier = uniform_response(plate(**BIRCH), pressure_n_mm2=0.002 * factor)
    assert heavier.deflection_mm == pytest.approx(base.deflection_mm * factor)


@given(x=st.floats(60.0, 940.0), y=st.floats(60.0, 540.0), at_x=st.floats(60.0, 940.0))
@settings(max_examples=25, deadline=None)
def test_load_and_place_may_be_exchanged(x, y, at_x):
    # Maxwell: nearly points, so two 1 mm patches; 1e-3 for their size
    it = plate(**BIRCH)
    spot = {"load_n": 100.0, "patch_x_mm": 1.0, "patch_y_mm": 1.0}
    here = patch_response(it, **spot, centre_x_mm=x, centre_y_mm=y, at_x_mm=at_x, at_y_mm=200.0)
    there = patch_response(it, **spot, centre_x_mm=at_x, centre_y_mm=200.0, at_x_mm=x, at_y_mm=y)
    assert here.deflection_mm == pytest.approx(there.deflection_mm, rel=1e-6)


@given(share=st.floats(0.05, 0.95))
@settings(max_examples=20, deadline=None)
def test_mirrored_loads_give_mirrored_answers(share):
    it = plate(**BIRCH)
    spot = {"load_n": 100.0, "patch_x_mm": 40.0, "patch_y_mm": 40.0, "centre_y_mm": 200.0}
    left = patch_response(it, **spot, centre_x_mm=20.0 + 960.0 * share)
    right = patch_response(it, **spot, centre_x_mm=1000.0 - (20.0 + 960.0 * share))
    assert left == pytest.approx(right, rel=1e-9)


def test_a_small_patch_sags_like_a_point():
    it = plate(**BIRCH)
    point = plates_navier.point_deflection_mm(
        it, load_n=700.0, centre_x_mm=300.0, centre_y_mm=250.0
    )
    patch = patch_response(
        it, load_n=700.0, patch_x_mm=2.0, patch_y_mm=2.0, centre_x_mm=300.0, centre_y_mm=250.0
    )
    assert patch.deflection_mm == pytest.approx(point, rel=1e-4)


def test_edge_reactions_of_a_long_plate_are_those_of_a_beam():
    it = plate(**(BIRCH | {"side_x_mm": 400.0, "side_y_mm": 8000.0}))
    along_long, _ = plates_navier.edge_reactions_uniform_n_mm(it, pressure_n_mm2=0.003)
    assert along_long == pytest.approx(0.003 * 400.0 / 2.0, rel=0.002)


def test_edge_reactions_against_the_slow_series():
    it = plate(**BIRCH, poisson_xy=0.08)
    orders = np.arange(1.0, 4001.0, 2.0)
    k_x, k_y = orders * np.pi / 1000.0, orders * np.pi / 600.0
    swing = np.where(orders % 4 == 1, 1.0, -1.0) / orders
    square_x, square_y = (k_x**2)[:, None], (k_y**2)[None, :]
    mixed = it.rigidity_cross_n_mm + 2.0 * it.rigidity_twist_n_mm
    whole = (
        it.rigidity_x_n_mm * square_x**2
        + 2.0 * mixed * square_x * square_y
        + it.rigidity_y_n_mm * square_y**2
    )
    edge = mixed + 2.0 * it.rigidity_twist_n_mm
    load = 16.0 * 0.003 / np.pi**2
    at_x = load * (
        (k_x / orders) @ ((it.rigidity_x_n_mm * square_x + edge * square_y) / whole) @ swing
    )
    at_y = load * (
        swing @ ((it.rigidity_y_n_mm * square_y + edge * square_x) / whole) @ (k_y / orders)
    )
    seen = plates_navier.edge_reactions_uniform_n_mm(it, pressure_n_mm2=0.003)
    # 2000 odd waves leave 0.05 % of the slow series
    assert seen == pytest.approx((at_x, at_y), rel=1e-3)


def test_edges_and_corners():
    it = plate(**BIRCH)
    edge = uniform_response(it, pressure_n_mm2=0.002, at_x_mm=0.0, at_y_mm=300.0)
    assert edge == pytest.approx((0.0, 0.0, 0.0), abs=1e-9)
    inside = patch_response(
        it, load_n=1.0, patch_x_mm=100.0, patch_y_mm=40.0, centre_x_mm=50.0, centre_y_mm=580.0
    )
    assert inside.deflection_mm > 0.0


def test_a_patch_that_overhangs_is_refused():
    it = plate(**BIRCH)
    spot = {"load_n": 1.0, "patch_x_mm": 100.0, "patch_y_mm": 40.0}
    with pytest.raises(OutOfRangeError, match="patch_x_mm"):
        patch_response(it, **spot, centre_x_mm=49.9)
    with pytest.raises(OutOfRangeError, match="patch_x_mm"):
        patch_response(it, **spot, centre_x_mm=950.1)
    with pytest.raises(OutOfRangeError, match="patch_y_mm"):
        patch_response(it, **spot, centre_y_mm=580.1)
    with pytest.raises(OutOfRangeError, match="at_x_mm"):
        patch_response(it, **spot, at_x_mm=1000.1)
    with pytest.raises(OutOfRangeError, match="at_y_mm"):
        uniform_response(it, pressure_n_mm2=0.1, at_y_mm=-0.1)


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(plate, BIRCH | {"poisson_xy": 0.1})
    with pytest.raises(OutOfRangeError):
        plate(**BIRCH, poisson_xy=1.2)
    it = plate(**BIRCH)

    def uniform(**numbers):
        return uniform_response(it, **numbers)

    def patch(**numbers):
        return patch_response(it, **numbers)

    def point(**numbers):
        return plates_navier.point_deflection_mm(it, **numbers)

    refuses_nonsense(uniform, {"pressure_n_mm2": 0.1, "at_x_mm": 300.0, "at_y_mm": 200.0})
    places = {"centre_x_mm": 400.0, "centre_y_mm": 300.0}
    refuses_nonsense(
        patch,
        places
        | {"load_n": 1.0, "patch_x_mm": 50.0, "patch_y_mm": 60.0, "at_x_mm": 1.0, "at_y_mm": 2.0},
    )
    refuses_nonsense(point, places | {"load_n": 1.0})
    refuses_nonsense(plates_navier.bending_stress_n_mm2, {"moment_n": 30.0, "thickness_mm": 12.0})
    with pytest.raises(OutOfRangeError):
        plates_navier.edge_reactions_uniform_n_mm(it, pressure_n_mm2=math.nan)
