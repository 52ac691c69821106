"""From bolt to wood by hand: bolt across a gap, floor strip, angle; laws and ends of ranges."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import anchor_path, ec5_lateral, spreader_plate

BOLT = {
    "embedment_n_mm2": 40.0,
    "thickness_mm": 15.0,
    "diameter_mm": 8.0,
    "yield_moment_n_mm": 53_000.0,
}


def test_without_a_gap_it_is_the_thin_plate_of_eurocode_5():
    # EN 1995-1-1 (8.9): 0.4 f t d; the exact tilting value is 0.414 (sqrt 2 - 1)
    got = anchor_path.bolt_across_gap_n(**BOLT, gap_mm=0.0)
    assert got == pytest.approx((math.sqrt(2.0) - 1.0) * 40.0 * 15.0 * 8.0, rel=1e-12)
    code = ec5_lateral.steel_plate_shear(
        embedment_n_mm2=40.0,
        thickness_mm=15.0,
        diameter_mm=8.0,
        yield_moment_n_mm=53_000.0,
        plate_mm=1.0,
    )
    # the clause rounds 0.414 to 0.4
    assert got == pytest.approx(code.resistance_n, rel=0.04)


def test_a_bolt_that_bends_by_hand():
    weak = BOLT | {"yield_moment_n_mm": 2_000.0}
    per_mm = 320.0
    expected = per_mm * (math.sqrt(10.0**2 + 2.0 * 2_000.0 / per_mm) - 10.0)
    assert anchor_path.bolt_across_gap_n(**weak, gap_mm=10.0) == pytest.approx(expected, rel=1e-12)


def test_a_bolt_that_tilts_is_in_equilibrium():
    # a rod bearing up on one part of the wood and down on the rest: forces and moments balance
    gap, per_mm, thick = 9.0, 320.0, 15.0
    force = anchor_path.bolt_across_gap_n(**BOLT, gap_mm=gap)
    # pressure one way over z, the other way over t - z, counted from the steel's side
    z = (thick + force / per_mm) / 2.0
    first, second = per_mm * z, per_mm * (thick - z)
    assert first - second == pytest.approx(force, rel=1e-9)
    moment = first * (gap + z / 2.0) - second * (gap + z + (thick - z) / 2.0)
    assert moment == pytest.approx(0.0, abs=1e-6 * first * thick)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.0, 40.0), st.floats(0.1, 20.0))
def test_a_wider_gap_never_holds_more(gap, more):
    one = anchor_path.bolt_across_gap_n(**BOLT, gap_mm=gap)
    two = anchor_path.bolt_across_gap_n(**BOLT, gap_mm=gap + more)
    assert two <= one * (1.0 + 1e-12)


def test_strip_by_hand_and_cut_off_at_the_panels_end():
    width = anchor_path.strip_width_mm(
        washer_mm=28.0, arm_mm=30.0, to_end_mm=500.0, to_other_end_mm=20.0
    )
    assert width == pytest.approx(44.0 + 20.0)


def test_floor_by_hand():
    # M = T 30 (500 - 30)/500 = 28.2 T; W = 88 x 15^2/6 = 3300; f = 10
    got = anchor_path.panel_pull_n(
        strength_n_mm2=10.0, width_mm=88.0, thickness_mm=15.0, arm_mm=30.0, span_mm=500.0
    )
    assert got == pytest.approx(10.0 * 3300.0 / 28.2, rel=1e-12)
    with pytest.raises(OutOfRangeError, match="arm_mm"):
        anchor_path.panel_pull_n(
            strength_n_mm2=10.0, width_mm=88.0, thickness_mm=15.0, arm_mm=500.0, span_mm=500.0
        )


@settings(max_examples=40, deadline=None)
@given(st.floats(6.0, 24.0), st.floats(1.05, 2.0))
def test_floor_strength_grows_with_the_square_of_its_thickness(thick, times):
    place = {"strength_n_mm2": 12.0, "width_mm": 80.0, "arm_mm": 25.0, "span_mm": 400.0}
    one = anchor_path.panel_pull_n(**place, thickness_mm=thick)
    two = anchor_path.panel_pull_n(**place, thickness_mm=thick * times)
    assert two / one == pytest.approx(times**2, rel=1e-9)


def test_angle_by_hand():
    angle = {"leg_thickness_mm": 4.0, "leg_width_mm": 60.0, "arm_mm": 40.0, "yield_n_mm2": 235.0}
    # 235 x 60 x 16/4 / 40 = 1410
    assert anchor_path.angle_pull_n(**angle, screws=4, screw_n=500.0) == pytest.approx(1410.0)
    assert anchor_path.angle_pull_n(**angle, screws=2, screw_n=500.0) == pytest.approx(1000.0)


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(anchor_path.bolt_across_gap_n, BOLT | {"gap_mm": 5.0})
    refuses_nonsense(
        anchor_path.strip_width_mm,
        {"washer_mm": 28.0, "arm_mm": 30.0, "to_end_mm": 40.0, "to_other_end_mm": 40.0},
    )
    for zero in ("washer_mm",):
        with pytest.raises(OutOfRangeError, match=zero):
            anchor_path.strip_width_mm(
                washer_mm=0.0, arm_mm=30.0, to_end_mm=40.0, to_other_end_mm=40.0
            )
    with pytest.raises(OutOfRangeError, match="screws"):
        anchor_path.angle_pull_n(
            leg_thickness_mm=4.0,
            leg_width_mm=60.0,
            arm_mm=40.0,
            yield_n_mm2=235.0,
            screws=0,
            screw_n=500.0,
        )


def test_plate_is_rigid_up_to_its_yield():
    plate = {"side_mm": 60.0, "thickness_mm": 3.0, "washer_mm": 16.0}
    limit = spreader_plate.rigid_up_to_n(**plate, yield_n_mm2=235.0)
    # handbook case 18: 89.6 N/mm2 at 2000 N, so 235 at 5246
    assert limit == pytest.approx(2000.0 * 235.0 / 89.63, rel=1e-3)
    assert spreader_plate.counts_as_rigid(**plate, tension_n=limit * 0.999, yield_n_mm2=235.0)
    assert not spreader_plate.counts_as_rigid(**plate, tension_n=limit * 1.001, yield_n_mm2=235.0)
    whole = spreader_plate.rigid_up_to_n(
        side_mm=16.0, thickness_mm=3.0, washer_mm=16.0, yield_n_mm2=235.0
    )
    assert whole == math.inf
    with pytest.raises(OutOfRangeError, match="yield_n_mm2"):
        spreader_plate.rigid_up_to_n(**plate, yield_n_mm2=0.0)
