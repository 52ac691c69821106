"""EN 1995-1-1:2004, section 8, by clause as restated by a public library and a textbook.

The cases S6, S7, N2, N3 and J1 to J6 were worked from the clauses apart from this code; they are
given to whole newtons or four figures, so 0.5 % is the tolerance unless a line says otherwise.
"""

import pytest

from stowright.errors import OutOfRangeError
from stowright.formulas import ec5_axial, ec5_lateral

CLOSE = 0.005


@pytest.mark.parametrize(
    ("d", "penetration", "density", "strength", "force"),
    [(6.0, 36.0, 350.0, 16.09, 2607.0), (8.0, 50.0, 410.0, 15.30, 6121.0)],
    ids=["S6", "S7"],
)
def test_screw_withdrawal_8_38(d, penetration, density, strength, force):
    numbers = {"diameter_mm": d, "penetration_mm": penetration, "density_kg_m3": density}
    assert ec5_axial.screw_withdrawal_strength_n_mm2(**numbers) == pytest.approx(
        strength, rel=CLOSE
    )
    assert ec5_axial.screw_withdrawal_n(**numbers) == pytest.approx(force, rel=CLOSE)


def test_n2_smooth_nail():
    nail = {"diameter_mm": 2.8, "head_diameter_mm": 7.0, "head_side_mm": 40.0}
    wood = {"point_density_kg_m3": 350.0, "head_density_kg_m3": 350.0}
    assert ec5_axial.nail_withdrawal_n(**nail, **wood, penetration_mm=34.0) == pytest.approx(
        233.0, rel=CLOSE
    )
    assert ec5_axial.nail_penetration_factor(
        diameter_mm=2.8, penetration_mm=28.0, profiled=False
    ) == pytest.approx(0.5)
    assert ec5_axial.nail_withdrawal_n(**nail, **wood, penetration_mm=28.0) == pytest.approx(
        96.0, abs=0.5
    )  # printed to the whole newton, 1 % of it: 2.45 * 2.8 * 28 / 2 = 96.04


@pytest.mark.parametrize(("density", "strength"), [(350.0, 8.575), (410.0, 11.767)])
def test_n3_nail_head(density, strength):
    assert ec5_axial.nail_head_strength_n_mm2(density_kg_m3=density) == pytest.approx(
        strength, rel=1e-4
    )


def test_j1_nail_through_plywood_into_timber():
    moment = ec5_lateral.bolt_yield_moment_n_mm(diameter_mm=3.0, tensile_strength_n_mm2=600.0)
    ply = ec5_lateral.embedment_plywood_n_mm2(diameter_mm=3.0, density_kg_m3=630.0)
    timber = ec5_lateral.embedment_timber_n_mm2(
        diameter_mm=3.0, density_kg_m3=320.0, predrilled=False
    )
    assert (moment, ply, timber) == pytest.approx((3132.0, 49.84, 18.87), rel=CLOSE)
    got = ec5_lateral.single_shear(
        embedment_1_n_mm2=ply,
        embedment_2_n_mm2=timber,
        thickness_1_mm=12.0,
        penetration_2_mm=38.0,
        diameter_mm=3.0,
        yield_moment_n_mm=moment,
    )
    expected = {"a": 1794.0, "b": 2152.0, "c": 855.0, "d": 692.0, "e": 951.0, "f": 825.0}
    assert got.modes_n == pytest.approx(expected, rel=CLOSE)
    assert (got.resistance_n, got.mode) == (pytest.approx(692.0, rel=CLOSE), "d")


def ply_on_ply(axial, limit):
    embedment = ec5_lateral.embedment_plywood_n_mm2(diameter_mm=2.86, density_kg_m3=410.0)
    return ec5_lateral.single_shear(
        embedment_1_n_mm2=embedment,
        embedment_2_n_mm2=embedment,
        thickness_1_mm=12.0,
        penetration_2_mm=18.0,
        diameter_mm=2.86,
        yield_moment_n_mm=ec5_lateral.bolt_yield_moment_n_mm(
            diameter_mm=2.86, tensile_strength_n_mm2=600.0
        ),
        axial_n=axial,
        rope_limit=limit,
    )


def test_j2_screw_plywood_on_plywood():
    got = ply_on_ply(0.0, 0.0)
    expected = {"a": 1129.0, "b": 1694.0, "c": 605.0, "d": 609.0, "e": 745.0, "f": 830.0}
    assert got.modes_n == pytest.approx(expected, rel=CLOSE)
    assert (got.resistance_n, got.mode) == (pytest.approx(605.0, rel=CLOSE), "c")


def test_j3_the_same_with_the_rope_effect():
    got = ply_on_ply(400.0, ec5_lateral.ROPE_LIMIT["screw"])
    assert got.modes_n["c"] == pytest.approx(705.0, rel=CLOSE)
    assert got.modes_n["d"] == pytest.approx(709.0, rel=CLOSE)
    assert got.modes_n["a"] == pytest.approx(1129.0, rel=CLOSE)  # bearing gains nothing
    assert got.resistance_n == pytest.approx(705.0, rel=CLOSE)


@pytest.mark.parametrize(("density", "force"), [(630.0, 636.0), (410.0, 414.0)])
def test_j4_thin_steel_runner_on_plywood(density, force):
    got = ec5_lateral.steel_plate_shear(
        embedment_n_mm2=ec5_lateral.embedment_plywood_n_mm2(
            diameter_mm=2.86, density_kg_m3=density
        ),
        thickness_mm=11.0,
        diameter_mm=2.86,
        yield_moment_n_mm=2766.0,
        plate_mm=1.4,
    )
    assert (got.resistance_n, got.mode) == (pytest.approx(force, rel=CLOSE), "a")


@pytest.mark.parametrize(
    ("density", "embedment", "full", "thin", "thick"),
    [(630.0, 65.1, 5863.0, 2345.0, 4545.0), (410.0, 42.4, 3815.0, 1526.0, 3592.0)],
    ids=["J5", "J6"],
)
def test_j5_and_j6_m6_bolt_in_plywood_on_steel(density, embedment, full, thin, thick):
    strength = ec5_lateral.embedment_bolted_plywood_n_mm2(diameter_mm=6.0, density_kg_m3=density)
    moment = ec5_lateral.bolt_yield_moment_n_mm(diameter_mm=6.0, tensile_strength_n_mm2=800.0)
    assert strength == pytest.approx(embedment, rel=CLOSE)
    assert moment == pytest.approx(25317.0, rel=CLOSE)
    joint = {
        "embedment_n_mm2": strength,
        "thickness_mm": 15.0,
        "diameter_mm": 6.0,
        "yield_moment_n_mm": moment,
    }
    under = ec5_lateral.steel_plate_shear(**joint, plate_mm=3.0)
    over = ec5_lateral.steel_plate_shear(**joint, plate_mm=6.0)
    assert under.resistance_n == pytest.approx(thin, rel=CLOSE)
    assert over.resistance_n == pytest.approx(thick, rel=CLOSE)
    assert over.modes_n["c"] == pytest.approx(full, rel=CLOSE)


def test_thin_panels_are_outside_the_clause():
    # a 4 mm screw "needs" 48 mm of thread-side member, and 6 mm is the least diameter
    assert not ec5_axial.screw_in_clause_range(
        diameter_mm=4.0, penetration_mm=24.0, member_thickness_mm=48.0
    )
    with pytest.raises(OutOfRangeError):
        ec5_axial.screw_withdrawal_n(diameter_mm=4.0, penetration_mm=24.0, density_kg_m3=630.0)
