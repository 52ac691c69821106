"""Porteous & Kermani, Structural Timber Design to Eurocode 5 (2007), as seen in public excerpts
and transcriptions.

Tables 2.3, 2.4 (factors of EN 1995-1-1), 10.5 (yield moments) and the birch values quoted from
Table 1.9. The book prints one decimal of a strength, so half of it is the tolerance there; factors
are exact.
"""

import pytest

from stowright.formulas import ec5_design, ec5_lateral, sections, veneer


def birch(plies):
    return veneer.ply_thicknesses_mm(plies=plies, veneer_mm=1.4, sanding_mm=0.3)


@pytest.mark.parametrize(
    ("plies", "along", "across"), [(9, 27.7, 24.3), (17, None, 25.1)], ids=["12 mm", "24 mm"]
)
def test_l2_birch_compression_in_table_1_9(plies, along, across):
    got = veneer.apparent_compression_n_mm2(ply_mm=birch(plies), veneer_strength_n_mm2=52.0)
    assert got[1] == pytest.approx(across, abs=0.05)
    if along is not None:
        assert got[0] == pytest.approx(along, abs=0.05)


K_MOD = {
    1: (0.60, 0.70, 0.80, 0.90, 1.10),
    2: (0.60, 0.70, 0.80, 0.90, 1.10),
    3: (0.50, 0.55, 0.65, 0.70, 0.90),
}


@pytest.mark.parametrize("service_class", [1, 2, 3])
def test_table_2_4_k_mod_of_plywood(service_class):
    got = tuple(
        ec5_design.k_mod(service_class=service_class, duration=duration)
        for duration in ("permanent", "long", "medium", "short", "instantaneous")
    )
    assert got == K_MOD[service_class]
    assert ec5_design.DURATIONS == ("permanent", "long", "medium", "short", "instantaneous")


def test_k_def_and_gamma_m_of_plywood():
    assert [ec5_design.k_def(service_class=number) for number in (1, 2, 3)] == [0.80, 1.00, 2.50]
    assert ec5_design.partial_factor(what="plywood") == 1.2
    assert ec5_design.partial_factor(what="connection") == 1.3
    assert ec5_design.partial_factor(what="accidental") == 1.0
    assert ec5_design.partial_factor(what="serviceability") == 1.0


def test_b3_softwood_strip_with_the_textbook_strengths():
    # Swedish P30, 12 mm: f_m,0,k 23.0, E 9200; 2 kPa on 500 mm; 0.5 % for the printed figures
    short = ec5_design.design_strength_n_mm2(
        characteristic_n_mm2=23.0,
        strength_factor=ec5_design.k_mod(service_class=2, duration="short"),
        material_factor=ec5_design.partial_factor(what="plywood"),
    )
    permanent = ec5_design.design_strength_n_mm2(
        characteristic_n_mm2=23.0,
        strength_factor=ec5_design.k_mod(service_class=2, duration="permanent"),
        material_factor=ec5_design.partial_factor(what="plywood"),
    )
    assert (short, permanent) == pytest.approx((17.25, 11.5), rel=1e-12)
    modulus = sections.rectangle_section_modulus_mm3(width_mm=1.0, depth_mm=12.0)
    stress = sections.bending_stress_n_mm2(
        moment_n_mm=0.002 * 500.0**2 / 8.0, section_modulus_mm3=modulus
    )
    assert stress == pytest.approx(2.604, rel=0.005)


def test_table_10_5_yield_moments():
    # 3 mm round nail of 600 N/mm2: 0.3 * 600 * 3^2.6 (3^2.6 = 17.3986)
    assert ec5_lateral.bolt_yield_moment_n_mm(
        diameter_mm=3.0, tensile_strength_n_mm2=600.0
    ) == pytest.approx(3131.7, rel=1e-4)
    assert ec5_lateral.square_nail_yield_moment_n_mm(
        side_mm=3.0, tensile_strength_n_mm2=600.0
    ) == pytest.approx(4697.6, rel=1e-4)
    # staple 1.2 x 1.6: root of the product 1.385641, to the 2.6 = 2.33504
    assert ec5_lateral.staple_yield_moment_n_mm(
        leg_width_mm=1.6, leg_thickness_mm=1.2
    ) == pytest.approx(560.41, rel=1e-3)
