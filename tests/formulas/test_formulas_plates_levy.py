"""Levy's plate: Navier by another route, the beam limit, and finite strips across a free edge."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import plates_levy, plates_navier

SIDES = {"side_x_mm": 800.0, "side_y_mm": 550.0, "thickness_mm": 14.8}
BIRCH = SIDES | {
    "modulus_x_n_mm2": 10316.0,
    "modulus_y_n_mm2": 7184.0,
    "shear_modulus_n_mm2": 620.0,
    "poisson_xy": 0.08,
}
SPOT = {
    "load_n": 900.0,
    "patch_x_mm": 60.0,
    "patch_y_mm": 90.0,
    "centre_x_mm": 300.0,
    "centre_y_mm": 200.0,
}
POINTS = [(320.0, 270.0), (300.0, 200.0), (500.0, 90.0), (100.0, 245.0), (300.0, 155.0)]


@pytest.mark.parametrize(("x", "y"), POINTS)
@pytest.mark.parametrize("twist", [620.0, 4500.0], ids=["waving roots", "plain roots"])
def test_supported_all_round_it_is_naviers_plate(x, y, twist):
    it = plates_navier.plate(**(BIRCH | {"shear_modulus_n_mm2": twist}))
    place = {"at_x_mm": x, "at_y_mm": y}
    levy = plates_levy.patch_response(it, free_low=False, free_high=False, **SPOT, **place)
    navier = plates_navier.patch_response(it, **SPOT, **place)
    assert levy.deflection_mm == pytest.approx(navier.deflection_mm, rel=1e-6)
    # Navier's moments carry 160 waves across, Levy's all of them: 0.3 % of the largest, at the
    # patch's edge
    assert levy[1:] == pytest.approx(navier[1:], rel=3e-3, abs=0.3)


def test_even_load_supported_all_round_it_is_naviers_plate():
    it = plates_navier.plate(**BIRCH)
    place = {"pressure_n_mm2": 0.002, "at_x_mm": 200.0, "at_y_mm": 150.0}
    levy = plates_levy.uniform_response(it, free_low=False, free_high=False, **place)
    assert levy == pytest.approx(plates_navier.uniform_response(it, **place), rel=1e-5)


def test_an_isotropic_plate_has_equal_roots_and_still_an_answer():
    it = plates_navier.plate(
        **SIDES,
        modulus_x_n_mm2=9000.0,
        modulus_y_n_mm2=9000.0,
        shear_modulus_n_mm2=9000.0 / 2.6,
        poisson_xy=0.3,
    )
    levy = plates_levy.patch_response(it, free_low=False, free_high=False, **SPOT)
    navier = plates_navier.patch_response(it, **SPOT)
    assert levy.deflection_mm == pytest.approx(navier.deflection_mm, rel=1e-5)


def test_free_on_both_sides_without_sideways_contraction_it_is_a_beam():
    it = plates_navier.plate(**(BIRCH | {"poisson_xy": 0.0}))
    seen = plates_levy.uniform_response(it, free_low=True, free_high=True, pressure_n_mm2=0.002)
    beam = 5.0 * 0.002 * 800.0**4 / (384.0 * it.rigidity_x_n_mm)
    assert seen.deflection_mm == pytest.approx(beam, rel=1e-6)
    assert seen.moment_x_n == pytest.approx(0.002 * 800.0**2 / 8.0, rel=1e-4)
    assert seen.moment_y_n == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize(("x", "y"), [(300.0, 550.0), (120.0, 550.0), (410.0, 0.0)])
def test_no_moment_reaches_a_free_edge(x, y):
    it = plates_navier.plate(**BIRCH)
    seen = plates_levy.patch_response(
        it, free_low=True, free_high=True, **SPOT, at_x_mm=x, at_y_mm=y
    )
    assert seen.moment_y_n == pytest.approx(0.0, abs=1e-6)
    assert seen.deflection_mm > 0.0


def finite_strips(it, *, spot, free_low, free_high, parts=160, waves=61):
    """Return (y, w, Mx, My) along x = the patch's centre: cubics across, sine waves along."""
    h = it.side_y_mm / parts
    gauss, weights = np.polynomial.legendre.leggauss(4)
    s = (gauss + 1.0) / 2.0
    shape = np.array(
        [1 - 3 * s**2 + 2 * s**3, h * (s - 2 * s**2 + s**3), 3 * s**2 - 2 * s**3, h * (s**3 - s**2)]
    )
    slope = (
        np.array(
            [
                -6 * s + 6 * s**2,
                h * (1 - 4 * s + 3 * s**2),
                6 * s - 6 * s**2,
                h * (3 * s**2 - 2 * s),
            ]
        )
        / h
    )
    bend = np.array([-6 + 12 * s, h * (-4 + 6 * s), 6 - 12 * s, h * (6 * s - 2)]) / h**2
    part = weights * h / 2.0
    count = 2 * parts + 2
    matrices = [np.zeros((count, count)) for _ in range(4)]
    load = np.zeros(count)
    low = spot["centre_y_mm"] - spot["patch_y_mm"] / 2.0
    for number in range(parts):
        place = slice(2 * number, 2 * number + 4)
        for matrix, (one, other) in zip(
            matrices, [(shape, shape), (slope, slope), (bend, bend), (shape, bend)], strict=True
        ):
            matrix[place, place] += (one * part) @ other.T
        inside = (np.linspace(0, 1, 40, endpoint=False) + 1 / 80) * h
        for y in (
            inside[(number * h + inside > low) & (number * h + inside < low + spot["patch_y_mm"])]
            / h
        ):
            load[place] += [
                1 - 3 * y**2 + 2 * y**3,
                h * (y - 2 * y**2 + y**3),
                3 * y**2 - 2 * y**3,
                h * (y**3 - y**2),
            ]
    load /= load[::2].sum()
    mass, first, second, mixed = matrices
    held = ([] if free_low else [0]) + ([] if free_high else [count - 2])
    free = [index for index in range(count) if index not in held]
    total = np.zeros((3, parts + 1))
    for m in range(1, waves + 1):
        k = m * math.pi / it.side_x_mm
        stiff = (
            it.rigidity_x_n_mm * k**4 * mass
            + 4.0 * it.rigidity_twist_n_mm * k**2 * first
            + it.rigidity_y_n_mm * second
            - it.rigidity_cross_n_mm * k**2 * (mixed + mixed.T)
        )
        half = k * spot["patch_x_mm"] / 2.0
        q = (
            2.0
            * spot["load_n"]
            / it.side_x_mm
            * math.sin(k * spot["centre_x_mm"])
            * math.sin(half)
            / half
        )
        moved = np.zeros(count)
        moved[free] = np.linalg.solve(stiff[np.ix_(free, free)], (q * load)[free])
        w = moved[::2] * math.sin(k * spot["centre_x_mm"])
        turned = moved[1::2] * math.sin(k * spot["centre_x_mm"])
        curved = np.gradient(turned, h)
        total += (
            w,
            it.rigidity_x_n_mm * k**2 * w - it.rigidity_cross_n_mm * curved,
            it.rigidity_cross_n_mm * k**2 * w - it.rigidity_y_n_mm * curved,
        )
    return np.arange(parts + 1) * h, total


@pytest.mark.parametrize(("free_low", "free_high"), [(True, True), (False, True), (True, False)])
@pytest.mark.parametrize("place", [45.0, 300.0, 505.0])
def test_against_finite_strips(free_low, free_high, place):
    it = plates_navier.plate(**BIRCH)
    spot = SPOT | {"centre_y_mm": place}
    heights, expected = finite_strips(it, spot=spot, free_low=free_low, free_high=free_high)
    for index in (8, 60, 130, 152):
        seen = plates_levy.patch_response(
            it,
            free_low=free_low,
            free_high=free_high,
            **spot,
            at_x_mm=300.0,
            at_y_mm=float(heights[index]),
        )
        # the strips' load is sampled every 0.09 mm, so its middle may be off by a thousandth of it
        assert seen.deflection_mm == pytest.approx(expected[0, index], rel=1e-3)
        # moments of 61 waves and of elements of 3.4 mm: 1 % of the largest near it
        largest = np.abs(expected[1:]).max(axis=1)
        assert abs(seen.moment_x_n - expected[1, index]) < 0.01 * largest[0]
        assert abs(seen.moment_y_n - expected[2, index]) < 0.015 * largest[1]


@given(shift=st.floats(0.0, 1.0))
@settings(max_examples=20, deadline=None)
def test_support_never_adds_sag_and_mirrors_hold(shift):
    it = plates_navier.plate(**BIRCH)
    spot = SPOT | {"centre_y_mm": 45.0 + 460.0 * shift}
    mirrored = SPOT | {"centre_y_mm": 550.0 - spot["centre_y_mm"]}
    free = plates_levy.patch_response(it, free_low=True, free_high=True, **spot)
    one = plates_levy.patch_response(it, free_low=True, free_high=False, **spot)
    both = plates_levy.patch_response(it, free_low=False, free_high=False, **spot)
    assert free.deflection_mm >= one.deflection_mm >= both.deflection_mm > 0.0
    other = plates_levy.patch_response(it, free_low=False, free_high=True, **mirrored)
    assert one == pytest.approx(other, rel=1e-6)


def test_two_loads_add_up_across_the_patchs_edge():
    it = plates_navier.plate(**BIRCH)
    place = {"at_x_mm": 310.0, "at_y_mm": 200.0, "free_low": True, "free_high": False}
    parts = [
        plates_levy.patch_response(
            it,
            load_n=450.0,
            patch_x_mm=60.0,
            patch_y_mm=45.0,
            centre_x_mm=300.0,
            centre_y_mm=y,
            **place,
        )
        for y in (177.5, 222.5)
    ]
    whole = plates_levy.patch_response(it, **SPOT, **place)
    assert np.sum(parts, axis=0) == pytest.approx(whole, rel=1e-6)


def test_patches_that_overhang_and_nonsense_are_refused(refuses_nonsense):
    it = plates_navier.plate(**BIRCH)
    edges = {"free_low": True, "free_high": True}

    def patch(**numbers):
        return plates_levy.patch_response(it, **edges, **numbers)

    def uniform(**numbers):
        return plates_levy.uniform_response(it, **edges, **numbers)

    refuses_nonsense(patch, SPOT | {"at_x_mm": 10.0, "at_y_mm": 20.0})
    refuses_nonsense(uniform, {"pressure_n_mm2": 0.1, "at_x_mm": 10.0, "at_y_mm": 20.0})
    with pytest.raises(OutOfRangeError, match="patch_y_mm"):
        patch(**(SPOT | {"centre_y_mm": 44.9}))
    with pytest.raises(OutOfRangeError, match="patch_y_mm"):
        patch(**(SPOT | {"centre_y_mm": 505.1}))
    with pytest.raises(OutOfRangeError, match="patch_x_mm"):
        patch(**(SPOT | {"centre_x_mm": 29.9}))
    with pytest.raises(OutOfRangeError, match="patch_x_mm"):
        patch(**(SPOT | {"centre_x_mm": 770.1}))
    assert patch(**{key: SPOT[key] for key in ("load_n", "patch_x_mm", "patch_y_mm")}) == patch(
        **(SPOT | {"centre_x_mm": 400.0, "centre_y_mm": 275.0})
    )
