"""European yield model: every mode by plastic equilibrium, switches between modes, plates, laws."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import ec5_lateral

JOINT = {
    "embedment_1_n_mm2": 45.0,
    "embedment_2_n_mm2": 21.0,
    "thickness_1_mm": 14.0,
    "penetration_2_mm": 33.0,
    "diameter_mm": 3.2,
    "yield_moment_n_mm": 3700.0,
}


def equilibrium_modes(j):
    """Return modes a to f without the code's calibration factors, from plastic equilibrium.

    The joint's force F is the shear in the fastener at the joint. In side i it crushes wood at q_i
    = f_i d. Mode c: each side crushes both ways over its thickness; mode d: a hinge in side 2; e: a
    hinge in side 1; f: a hinge in both. F is found by bisection on moment balance instead of by the
    closed forms.
    """
    q1 = j["embedment_1_n_mm2"] * j["diameter_mm"]
    q2 = j["embedment_2_n_mm2"] * j["diameter_mm"]
    t1, t2, m = j["thickness_1_mm"], j["penetration_2_mm"], j["yield_moment_n_mm"]

    def rigid(q, t, force):
        # moment at the joint that a side crushing one way over x and back over the rest can hold
        x = (t + force / q) / 2.0
        return q * x**2 / 2.0 - q * (t - x) * (x + (t - x) / 2.0)

    def hinged(q, force):
        # moment at the joint: the hinge lies force/q deep
        return force**2 / (2.0 * q) - m

    def balance(side_1, side_2, top):
        low, high = 0.0, top
        for _ in range(200):
            middle = (low + high) / 2.0
            if side_1(middle) + side_2(middle) < 0.0:
                low = middle
            else:
                high = middle
        return (low + high) / 2.0

    def rigid_1(force):
        return rigid(q1, t1, force)

    def rigid_2(force):
        return rigid(q2, t2, force)

    def hinged_1(force):
        return hinged(q1, force)

    def hinged_2(force):
        return hinged(q2, force)

    top = 1e6
    return {
        "a": q1 * t1,
        "b": q2 * t2,
        "c": balance(rigid_1, rigid_2, top),
        "d": balance(rigid_1, hinged_2, top),
        "e": balance(hinged_1, rigid_2, top),
        "f": balance(hinged_1, hinged_2, top),
    }


# EN 1995-1-1 puts 1.05 on d and e and 1.15 on f
CODE = {"a": 1.0, "b": 1.0, "c": 1.0, "d": 1.05, "e": 1.05, "f": 1.15}


def test_modes_by_equilibrium():
    got = ec5_lateral.single_shear(**JOINT)
    for mode, force in equilibrium_modes(JOINT).items():
        assert got.modes_n[mode] == pytest.approx(CODE[mode] * force, rel=1e-6), mode


@given(
    f_1=st.floats(15.0, 70.0),
    f_2=st.floats(15.0, 70.0),
    t_1=st.floats(6.0, 30.0),
    t_2=st.floats(8.0, 60.0),
    moment=st.floats(800.0, 12_000.0),
)
@settings(max_examples=30, deadline=None)
def test_any_joint_by_equilibrium(f_1, f_2, t_1, t_2, moment):
    joint = {
        "embedment_1_n_mm2": f_1,
        "embedment_2_n_mm2": f_2,
        "thickness_1_mm": t_1,
        "penetration_2_mm": t_2,
        "diameter_mm": 3.2,
        "yield_moment_n_mm": moment,
    }
    got = ec5_lateral.single_shear(**joint)
    expected = {mode: CODE[mode] * force for mode, force in equilibrium_modes(joint).items()}
    assert got.modes_n == pytest.approx(expected, rel=1e-6)
    assert got.resistance_n == min(got.modes_n.values())
    assert got.modes_n[got.mode] == got.resistance_n


def test_the_two_sides_may_be_exchanged():
    mirrored = JOINT | {
        "embedment_1_n_mm2": JOINT["embedment_2_n_mm2"],
        "embedment_2_n_mm2": JOINT["embedment_1_n_mm2"],
        "thickness_1_mm": JOINT["penetration_2_mm"],
        "penetration_2_mm": JOINT["thickness_1_mm"],
    }
    one = ec5_lateral.single_shear(**JOINT).modes_n
    other = ec5_lateral.single_shear(**mirrored).modes_n
    for here, there in zip("abcdef", "bacedf", strict=True):
        assert one[here] == pytest.approx(other[there], rel=1e-9)


def test_rope_effect_by_hand():
    plain = ec5_lateral.single_shear(**JOINT).modes_n
    # a quarter of 400 N is 100 N
    roped = ec5_lateral.single_shear(**JOINT, axial_n=400.0, rope_limit=1.0).modes_n
    for mode in "cdef":
        assert roped[mode] == pytest.approx(plain[mode] + 100.0, rel=1e-12)
    for mode in "ab":
        assert roped[mode] == plain[mode]
    # a bolt gains no more than a quarter of the Johansen part
    strong = ec5_lateral.single_shear(**JOINT, axial_n=1e6, rope_limit=0.25).modes_n
    for mode in "cdef":
        assert strong[mode] == pytest.approx(1.25 * plain[mode], rel=1e-12)


def test_rope_limits():
    assert ec5_lateral.ROPE_LIMIT == {
        "screw": 1.0,
        "bolt": 0.25,
        "square nail": 0.25,
        "dowel": 0.0,
        "round nail": 0.15,
        "other nail": 0.5,
        "none": 0.0,
    }


PLATE = {
    "embedment_n_mm2": 45.0,
    "thickness_mm": 14.0,
    "diameter_mm": 5.0,
    "yield_moment_n_mm": 12_000.0,
}


def test_thin_and_thick_plates_by_hand():
    # q = 225 N/mm, bearing 3150; thin: 1260 and 1.15 sqrt(2 * 12000 * 225) = 2672.36
    thin = ec5_lateral.steel_plate_shear(**PLATE, plate_mm=2.5)
    assert thin.modes_n == pytest.approx({"a": 1260.0, "b": 2672.3585}, rel=1e-6)
    assert (thin.resistance_n, thin.mode) == (pytest.approx(1260.0), "a")
    # thick: 3150; 3150 (sqrt(2 + 48000 / (225 * 196)) - 1) = 2385.61; 2.3 sqrt(12000 * 225) =
    # 3779.3
    thick = ec5_lateral.steel_plate_shear(**PLATE, plate_mm=5.0)
    root = math.sqrt(2.0 + 48_000.0 / 44_100.0) - 1.0
    expected = {"c": 3150.0, "d": 3150.0 * root, "e": 3779.3}
    assert thick.modes_n == pytest.approx(expected, rel=1e-5)
    assert (thick.resistance_n, thick.mode) == (pytest.approx(3150.0 * root), "d")


def test_between_thin_and_thick_is_a_straight_line():
    thin = ec5_lateral.steel_plate_shear(**PLATE, plate_mm=2.5).resistance_n
    thick = ec5_lateral.steel_plate_shear(**PLATE, plate_mm=5.0).resistance_n
    for plate, share in ((2.55, 0.02), (3.0, 0.2), (4.0, 0.6), (4.9, 0.96)):
        got = ec5_lateral.steel_plate_shear(**PLATE, plate_mm=plate)
        assert got.resistance_n == pytest.approx(thin + share * (thick - thin), rel=1e-9)
        assert got.mode == "thin-thick"
        assert set(got.modes_n) == {"a", "b", "c", "d", "e", "thin-thick"}
    for plate in (0.8, 2.4):
        assert ec5_lateral.steel_plate_shear(**PLATE, plate_mm=plate).resistance_n == thin
    for plate in (5.1, 8.0):
        assert ec5_lateral.steel_plate_shear(**PLATE, plate_mm=plate).resistance_n == thick


def test_rope_effect_on_steel():
    plain = ec5_lateral.steel_plate_shear(**PLATE, plate_mm=5.0).modes_n
    roped = ec5_lateral.steel_plate_shear(
        **PLATE, plate_mm=5.0, axial_n=800.0, rope_limit=1.0
    ).modes_n
    assert roped == pytest.approx(
        {"c": plain["c"], "d": plain["d"] + 200.0, "e": plain["e"] + 200.0}, rel=1e-12
    )
    thin = ec5_lateral.steel_plate_shear(
        **PLATE, plate_mm=1.0, axial_n=800.0, rope_limit=1.0
    ).modes_n
    assert thin == pytest.approx({"a": 1260.0, "b": 2872.3585}, rel=1e-6)


@given(plate=st.floats(0.5, 9.0), step=st.floats(0.001, 0.05))
@settings(max_examples=40, deadline=None)
def test_resistance_is_continuous_and_grows_with_the_plate(plate, step):
    here = ec5_lateral.steel_plate_shear(**PLATE, plate_mm=plate).resistance_n
    there = ec5_lateral.steel_plate_shear(**PLATE, plate_mm=plate + step).resistance_n
    assert there >= here * (1.0 - 1e-12)
    # thin to thick climbs by 1126 N over 2.5 mm
    assert there - here <= 451.0 * step


@given(factor=st.floats(1.0, 1.6))
@settings(max_examples=25, deadline=None)
def test_no_joint_is_weaker_for_stronger_parts(factor):
    base = ec5_lateral.single_shear(**JOINT).resistance_n
    for name, value in JOINT.items():
        stronger = ec5_lateral.single_shear(**(JOINT | {name: value * factor}))
        assert stronger.resistance_n >= base * (1.0 - 1e-12)


def test_embedments_by_hand():
    # 3.2^-0.3 = 0.705427
    assert ec5_lateral.embedment_timber_n_mm2(
        diameter_mm=3.2, density_kg_m3=350.0, predrilled=False
    ) == pytest.approx(0.082 * 350.0 * 3.2**-0.3, rel=1e-12)
    assert pytest.approx(0.70543, rel=1e-4) == 3.2**-0.3
    assert ec5_lateral.embedment_timber_n_mm2(
        diameter_mm=3.2, density_kg_m3=350.0, predrilled=True
    ) == pytest.approx(27.7816, rel=1e-9)
    assert ec5_lateral.embedment_plywood_n_mm2(
        diameter_mm=3.2, density_kg_m3=630.0
    ) == pytest.approx(69.3 * 3.2**-0.3, rel=1e-12)
    assert ec5_lateral.embedment_bolted_plywood_n_mm2(
        diameter_mm=8.0, density_kg_m3=630.0
    ) == pytest.approx(63.756, rel=1e-9)


def test_embedment_ranges():
    at_8 = {"diameter_mm": 8.0, "density_kg_m3": 350.0}
    over_8 = {"diameter_mm": 8.1, "density_kg_m3": 350.0}
    ec5_lateral.embedment_timber_n_mm2(**at_8, predrilled=False)
    ec5_lateral.embedment_plywood_n_mm2(**at_8)
    for call in (
        lambda: ec5_lateral.embedment_timber_n_mm2(**over_8, predrilled=False),
        lambda: ec5_lateral.embedment_plywood_n_mm2(**over_8),
    ):
        with pytest.raises(OutOfRangeError, match="diameter_mm"):
            call()
    at_30 = {"diameter_mm": 30.0, "density_kg_m3": 350.0}
    over_30 = {"diameter_mm": 30.1, "density_kg_m3": 350.0}
    ec5_lateral.embedment_timber_n_mm2(**at_30, predrilled=True)
    ec5_lateral.embedment_bolted_plywood_n_mm2(**at_30)
    for call in (
        lambda: ec5_lateral.embedment_timber_n_mm2(**over_30, predrilled=True),
        lambda: ec5_lateral.embedment_bolted_plywood_n_mm2(**over_30),
    ):
        with pytest.raises(OutOfRangeError, match="diameter_mm"):
            call()


def test_effective_diameter():
    screw = {"shank_mm": 4.0, "root_mm": 2.6}
    assert ec5_lateral.effective_diameter_mm(**screw, smooth_shank_into_point_side_mm=16.0) == 4.0
    assert ec5_lateral.effective_diameter_mm(
        **screw, smooth_shank_into_point_side_mm=15.9
    ) == pytest.approx(2.86, rel=1e-12)


def test_slip_modulus_by_hand():
    # 460^1.5 = 9866.03; 4 mm
    numbers = {"diameter_mm": 4.0, "density_kg_m3": 460.0}
    screw = ec5_lateral.slip_modulus_n_mm(**numbers, nailed=False, on_steel=False)
    assert screw == pytest.approx(460.0**1.5 * 4.0 / 23.0, rel=1e-12)
    assert screw == pytest.approx(1715.8, rel=1e-3)
    nail = ec5_lateral.slip_modulus_n_mm(**numbers, nailed=True, on_steel=False)
    assert nail == pytest.approx(460.0**1.5 * 4.0**0.8 / 30.0, rel=1e-12)
    on_steel = ec5_lateral.slip_modulus_n_mm(**numbers, nailed=False, on_steel=True)
    assert on_steel == pytest.approx(2.0 * screw, rel=1e-12)


def test_rows_of_bolts():
    # 3^0.9 (40 / 78)^0.25 = 2.687800 * 0.846232
    got = ec5_lateral.effective_number_bolts(bolts=3, spacing_mm=40.0, diameter_mm=6.0)
    assert got == pytest.approx(3.0**0.9 * (40.0 / 78.0) ** 0.25, rel=1e-12)
    assert got == pytest.approx(2.2746, rel=1e-3)
    far = ec5_lateral.effective_number_bolts(bolts=3, spacing_mm=4000.0, diameter_mm=6.0)
    assert far == 3.0
    with pytest.raises(OutOfRangeError, match="bolts"):
        ec5_lateral.effective_number_bolts(bolts=0, spacing_mm=40.0, diameter_mm=6.0)
    assert ec5_lateral.effective_number_bolts(bolts=1, spacing_mm=78.0, diameter_mm=6.0) == 1.0


def test_pull_and_shear_together():
    loads = {
        "axial_n": 300.0,
        "axial_resistance_n": 500.0,
        "lateral_n": 400.0,
        "lateral_resistance_n": 1000.0,
    }
    screw = ec5_lateral.axial_lateral_utilisation(**loads, smooth_nail=False)
    assert screw == pytest.approx(0.36 + 0.16, rel=1e-12)
    nail = ec5_lateral.axial_lateral_utilisation(**loads, smooth_nail=True)
    assert nail == pytest.approx(0.6 + 0.4, rel=1e-12)


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(ec5_lateral.single_shear, JOINT | {"axial_n": 10.0, "rope_limit": 0.25})
    refuses_nonsense(
        ec5_lateral.steel_plate_shear,
        PLATE | {"plate_mm": 3.0, "axial_n": 10.0, "rope_limit": 0.25},
    )
    refuses_nonsense(
        ec5_lateral.effective_diameter_mm,
        {"shank_mm": 4.0, "root_mm": 2.6, "smooth_shank_into_point_side_mm": 3.0},
    )
    wood = {"diameter_mm": 4.0, "density_kg_m3": 400.0}
    refuses_nonsense(ec5_lateral.embedment_timber_n_mm2, wood | {"predrilled": True})
    refuses_nonsense(ec5_lateral.embedment_timber_n_mm2, wood | {"predrilled": False})
    refuses_nonsense(ec5_lateral.embedment_plywood_n_mm2, wood)
    refuses_nonsense(ec5_lateral.embedment_bolted_plywood_n_mm2, wood)
    refuses_nonsense(ec5_lateral.slip_modulus_n_mm, wood | {"nailed": True, "on_steel": True})
    steel = {"tensile_strength_n_mm2": 600.0}
    refuses_nonsense(ec5_lateral.bolt_yield_moment_n_mm, steel | {"diameter_mm": 4.0})
    refuses_nonsense(ec5_lateral.square_nail_yield_moment_n_mm, steel | {"side_mm": 4.0})
    refuses_nonsense(
        ec5_lateral.staple_yield_moment_n_mm, {"leg_width_mm": 1.6, "leg_thickness_mm": 1.2}
    )
    refuses_nonsense(
        ec5_lateral.effective_number_bolts, {"bolts": 3, "spacing_mm": 40.0, "diameter_mm": 6.0}
    )
    refuses_nonsense(
        ec5_lateral.axial_lateral_utilisation,
        {
            "axial_n": 300.0,
            "axial_resistance_n": 500.0,
            "lateral_n": 400.0,
            "lateral_resistance_n": 1000.0,
            "smooth_nail": True,
        },
    )
    assert np.isfinite(ec5_lateral.single_shear(**JOINT).resistance_n)
