"""Layered veneer model: the birch table, lop-sided plies by hand, rolling shear by integration."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import veneer

# plies: thickness, E0, E90, f_m,0, f_m,90, f_c,0, f_c,90 (worked from the model; strengths to one
# decimal)
BIRCH = {
    3: (3.6, 16471.0, 1029.0, 65.9, 10.6, 31.8, 20.2),
    5: (6.4, 12737.0, 4763.0, 50.9, 29.0, 29.2, 22.8),
    7: (9.2, 11395.0, 6105.0, 45.6, 32.1, 28.3, 23.7),
    9: (12.0, 10719.0, 6781.0, 42.9, 33.2, 27.7, 24.3),
    11: (14.8, 10316.0, 7184.0, 41.3, 33.8, 27.4, 24.6),
    13: (17.6, 10048.0, 7452.0, 40.2, 34.1, 27.2, 24.8),
    15: (20.4, 9858.0, 7642.0, 39.4, 34.3, 27.0, 25.0),
    17: (23.2, 9717.0, 7783.0, 38.9, 34.4, 26.9, 25.1),
}


def birch(plies):
    return veneer.ply_thicknesses_mm(plies=plies, veneer_mm=1.4, sanding_mm=0.3)


@pytest.mark.parametrize("plies", BIRCH)
def test_l1_birch_table(plies):
    thickness, e_0, e_90, f_0, f_90, c_0, c_90 = BIRCH[plies]
    got = veneer.apparent_bending(
        ply_mm=birch(plies), veneer_modulus_n_mm2=17500.0, veneer_strength_n_mm2=70.0
    )
    assert got.thickness_mm == pytest.approx(thickness, rel=1e-9)
    # moduli are printed to the whole N/mm2, strengths to a tenth
    assert (got.modulus_0_n_mm2, got.modulus_90_n_mm2) == pytest.approx((e_0, e_90), abs=0.51)
    assert (got.strength_0_n_mm2, got.strength_90_n_mm2) == pytest.approx((f_0, f_90), abs=0.051)
    squeezed = veneer.apparent_compression_n_mm2(ply_mm=birch(plies), veneer_strength_n_mm2=52.0)
    assert squeezed == pytest.approx((c_0, c_90), abs=0.051)


def test_plies_of_a_sanded_board():
    assert birch(5) == pytest.approx((1.1, 1.4, 1.4, 1.4, 1.1))
    assert veneer.ply_thicknesses_mm(plies=3, veneer_mm=2.6, sanding_mm=0.0) == (2.6, 2.6, 2.6)


def test_lop_sided_plies_lie_where_they_are():
    # 1.2 / 2.6 / 1.4: faces at -2.6, -1.4, 1.2, 2.6 from the middle of 5.2
    # I = 5.2^3/12; I90 = (1.2^3 + 1.4^3)/3 = 1.490667; I0 = I - I90
    whole, along, across = veneer.second_moments_mm3(ply_mm=(1.2, 2.6, 1.4))
    assert whole == pytest.approx(11.717333, rel=1e-6)
    assert across == pytest.approx(1.490667, rel=1e-6)
    assert along == pytest.approx(10.226667, rel=1e-6)


def test_effective_section_of_lop_sided_plies():
    got = veneer.effective_section(ply_mm=(1.2, 2.6, 1.4), cross_factor=0.1)
    assert got.second_moment_0_mm3 == pytest.approx(10.226667 + 0.1490667, rel=1e-6)
    assert got.second_moment_90_mm3 == pytest.approx(1.490667 + 1.0226667, rel=1e-6)
    assert got.section_modulus_0_mm2 == pytest.approx(10.226667 / 2.6, rel=1e-6)
    # the outermost cross fibre lies 2.6 - 1.4 from the middle
    assert got.section_modulus_90_mm2 == pytest.approx(1.490667 / 1.2, rel=1e-6)
    standard = veneer.effective_section(ply_mm=(1.2, 2.6, 1.4))
    assert standard.second_moment_0_mm3 == pytest.approx(10.226667 + 0.03 * 1.490667, rel=1e-6)


def shear_by_integration(plies, *, first):
    """Return S / I of the parallel plies (every second from first) at the middle-most cross ply."""
    fine = 4000
    edges = np.concatenate([[0.0], np.cumsum(plies)])
    middles = (np.arange(fine) + 0.5) * edges[-1] / fine
    owner = np.searchsorted(edges, middles) - 1
    parallel = owner % 2 == first
    heights = middles - edges[-1] / 2.0
    weight = parallel * edges[-1] / fine
    second = np.sum(weight * heights**2)
    moments = np.cumsum(weight * -heights)
    crossing = [
        number for number in range(len(plies)) if number % 2 != first and number <= len(plies) // 2
    ]
    at = max(crossing)
    inside = (owner == at) & (heights <= 0.0)
    return np.max(moments[inside]) / second


@pytest.mark.parametrize("plies", [5, 7, 9, 13, 15])
def test_rolling_shear_by_integration(plies):
    boards = np.array(birch(plies))
    got = veneer.rolling_shear_factors(ply_mm=birch(plies))
    # 4000 slices leave below 0.2 %
    assert got.along_per_mm == pytest.approx(shear_by_integration(boards, first=0), rel=2e-3)
    assert got.across_per_mm == pytest.approx(shear_by_integration(boards, first=1), rel=2e-3)


def test_rolling_shear_of_three_and_five_plies_by_hand():
    # 3 plies of 2, 3, 2: only the faces carry along the grain: S = 2 * 2.5, I = 2 (3.5^3 - 1.5^3)/3
    three = veneer.rolling_shear_factors(ply_mm=(2.0, 3.0, 2.0))
    assert three.along_per_mm == pytest.approx(5.0 / (2.0 * (42.875 - 3.375) / 3.0), rel=1e-12)
    assert three.across_per_mm == 0.0  # one ply bends alone: no ply lies outside a cross ply
    # 5 plies of 1: across, plies two and four carry: S = 1 * 1, I = 2 (1.5^3 - 0.5^3)/3
    five = veneer.rolling_shear_factors(ply_mm=(1.0,) * 5)
    assert five.across_per_mm == pytest.approx(1.0 / (2.0 * (3.375 - 0.125) / 3.0), rel=1e-12)
    # along: faces and core: S of the face 1 * 2
    along = 2.0 * (15.625 - 3.375) / 3.0 + 1.0 / 12.0
    assert five.along_per_mm == pytest.approx(2.0 / along, rel=1e-12)


@given(plies=st.sampled_from([3, 5, 7, 9, 11, 13]), scale=st.floats(0.3, 3.0))
@settings(max_examples=30, deadline=None)
def test_moduli_do_not_depend_on_size_and_add_up(plies, scale):
    plain = veneer.apparent_bending(
        ply_mm=birch(plies), veneer_modulus_n_mm2=17500.0, veneer_strength_n_mm2=70.0
    )
    scaled = veneer.apparent_bending(
        ply_mm=tuple(scale * ply for ply in birch(plies)),
        veneer_modulus_n_mm2=17500.0,
        veneer_strength_n_mm2=70.0,
    )
    assert scaled[1:] == pytest.approx(plain[1:], rel=1e-9)
    assert plain.modulus_0_n_mm2 + plain.modulus_90_n_mm2 == pytest.approx(17500.0)
    assert plain.modulus_0_n_mm2 > plain.modulus_90_n_mm2


@pytest.mark.parametrize("plies", [1, 2, 4, 12])
def test_counts_that_cannot_alternate_are_refused(plies):
    with pytest.raises(OutOfRangeError, match="plies"):
        veneer.ply_thicknesses_mm(plies=plies, veneer_mm=1.4, sanding_mm=0.3)
    with pytest.raises(OutOfRangeError, match="plies"):
        veneer.second_moments_mm3(ply_mm=(1.4,) * plies)


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(veneer.ply_thicknesses_mm, {"plies": 5, "veneer_mm": 1.4, "sanding_mm": 0.3})
    numbers = {"ply_mm": birch(5), "veneer_modulus_n_mm2": 17500.0, "veneer_strength_n_mm2": 70.0}
    refuses_nonsense(veneer.apparent_bending, numbers)
    refuses_nonsense(
        veneer.apparent_compression_n_mm2, {"ply_mm": birch(5), "veneer_strength_n_mm2": 52.0}
    )
    refuses_nonsense(veneer.effective_section, {"ply_mm": birch(5), "cross_factor": 0.03})
    for plies in ((1.4, 0.0, 1.4), (1.4, float("nan"), 1.4)):
        with pytest.raises(OutOfRangeError, match="ply_mm"):
            veneer.rolling_shear_factors(ply_mm=plies)
    with pytest.raises(OutOfRangeError):
        veneer.ply_thicknesses_mm(plies=5, veneer_mm=1.4, sanding_mm=1.4)
    with pytest.raises(OutOfRangeError):
        veneer.effective_section(ply_mm=birch(5), cross_factor=1.01)
    assert veneer.effective_section(ply_mm=birch(5), cross_factor=1.0)
