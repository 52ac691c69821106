"""Wood Handbook formulas: numbers by hand, exponents by scaling, reductions, lead holes."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import wood_handbook as wood

SCREW = {"specific_gravity": 0.62, "diameter_mm": 4.83, "penetration_mm": 15.0}


def test_by_hand():
    # 0.62^2 = 0.3844; 0.62^2.5 = 0.302677; 0.62^1.5 = 0.488190; 4.83^0.75 = 3.258091
    assert wood.screw_withdrawal_n(**SCREW) == pytest.approx(108.25 * 0.3844 * 72.45, rel=1e-9)
    assert wood.screw_withdrawal_allowable_n(**SCREW) == pytest.approx(
        19.65 * 0.3844 * 72.45, rel=1e-9
    )
    assert wood.nail_withdrawal_n(**SCREW) == pytest.approx(54.12 * 0.302677 * 72.45, rel=1e-5)
    lag = 125.4 * 0.488190 * 3.258091 * 15.0
    assert wood.lag_screw_withdrawal_n(**SCREW) == pytest.approx(lag, rel=1e-4)
    assert wood.lag_screw_withdrawal_n(**SCREW, end_grain=True) == pytest.approx(
        0.75 * lag, rel=1e-4
    )


def test_reductions_for_plywood():
    face = wood.plywood_screw_withdrawal_n(**SCREW, into_edge=False)
    assert face == pytest.approx(0.7 * wood.screw_withdrawal_n(**SCREW), rel=1e-12)
    edge = wood.plywood_screw_withdrawal_n(**SCREW, into_edge=True)
    assert edge == pytest.approx(0.75 * face, rel=1e-12)
    assert wood.PLYWOOD_FACE_FACTOR == 0.7
    assert wood.EDGE_OF_FACE == 0.75


@pytest.mark.parametrize(("ring", "gravity"), [(False, 0.40), (True, 0.70)])
def test_nails_in_plywood_have_an_equivalent_gravity(ring, gravity):
    nail = {"diameter_mm": 2.87, "penetration_mm": 12.0}
    dry = wood.plywood_nail_withdrawal_n(**nail, ring_shank=ring, wet_service=False)
    assert dry == pytest.approx(wood.nail_withdrawal_n(specific_gravity=gravity, **nail), rel=1e-12)
    wet = wood.plywood_nail_withdrawal_n(**nail, ring_shank=ring, wet_service=True)
    assert wet == pytest.approx(0.75 * dry, rel=1e-12)


@given(factor=st.floats(0.3, 2.0))
@settings(max_examples=25, deadline=None)
def test_exponents(factor):
    for function, powers in (
        (wood.screw_withdrawal_n, (2.0, 1.0, 1.0)),
        (wood.screw_withdrawal_allowable_n, (2.0, 1.0, 1.0)),
        (wood.nail_withdrawal_n, (2.5, 1.0, 1.0)),
        (wood.lag_screw_withdrawal_n, (1.5, 0.75, 1.0)),
    ):
        base = function(**SCREW)
        for name, power in zip(SCREW, powers, strict=True):
            scaled = function(**(SCREW | {name: SCREW[name] * factor}))
            assert scaled == pytest.approx(base * factor**power)


@pytest.mark.parametrize(
    ("gravity", "share"), [(0.45, 0.0), (0.5, 0.0), (0.505, 0.7), (0.6, 0.7), (0.605, 0.9)]
)
def test_lead_holes_for_withdrawal(gravity, share):
    got = wood.withdrawal_lead_hole_mm(specific_gravity=gravity, root_diameter_mm=3.33)
    assert got == pytest.approx(share * 3.33, rel=1e-12)


@pytest.mark.parametrize(("gravity", "share"), [(0.45, 0.875), (0.6, 0.875), (0.605, 1.0)])
def test_lead_holes_for_shear(gravity, share):
    got = wood.lateral_lead_hole_mm(
        specific_gravity=gravity, root_diameter_mm=3.33, shank_diameter_mm=4.17
    )
    assert got == pytest.approx((share * 3.33, share * 4.17), rel=1e-12)


def test_staple_leg():
    assert wood.staple_leg_mm(nail_diameter_mm=3.0) == pytest.approx(2.0, rel=1e-12)


def test_nonsense_is_refused(refuses_nonsense):
    for function in (
        wood.screw_withdrawal_n,
        wood.screw_withdrawal_allowable_n,
        wood.nail_withdrawal_n,
        wood.lag_screw_withdrawal_n,
    ):
        refuses_nonsense(function, SCREW)
        function(**(SCREW | {"specific_gravity": 1.3}))
        with pytest.raises(OutOfRangeError, match="specific_gravity"):
            function(**(SCREW | {"specific_gravity": 1.31}))
        for name in SCREW:
            with pytest.raises(OutOfRangeError, match=name):
                function(**(SCREW | {name: 0.0}))
    refuses_nonsense(wood.plywood_screw_withdrawal_n, SCREW | {"into_edge": True})
    refuses_nonsense(
        wood.plywood_nail_withdrawal_n,
        {"diameter_mm": 2.8, "penetration_mm": 12.0, "ring_shank": True, "wet_service": True},
    )
    root = {"specific_gravity": 0.62, "root_diameter_mm": 3.3}
    refuses_nonsense(wood.withdrawal_lead_hole_mm, root)
    refuses_nonsense(wood.lateral_lead_hole_mm, root | {"shank_diameter_mm": 4.2})
    refuses_nonsense(wood.staple_leg_mm, {"nail_diameter_mm": 2.8})
