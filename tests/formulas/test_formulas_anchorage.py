"""Rigid-body anchorage: worked examples A, B, C by hand, cases 11, 12 and 19, and laws."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas import anchorage

# A: a tall cabinet of 80 kg, 450 deep; B: a low drawer unit of 150 kg
CABINET = {"mass_kg": 80.0, "push": 0.8, "height_mm": 550.0, "arm_mm": 225.0}
HALF_PERCENT = 0.005


def test_case_11_cabinet():
    assert anchorage.overturning_moment_n_mm(
        mass_kg=80.0, push=0.8, height_mm=550.0
    ) == pytest.approx(345_312.0, rel=1e-9)
    assert anchorage.restoring_moment_n_mm(mass_kg=80.0, arm_mm=225.0) == pytest.approx(
        176_580.0, rel=1e-9
    )
    moment = anchorage.net_overturning_moment_n_mm(**CABINET)
    assert moment == pytest.approx(168_732.0, rel=1e-9)
    assert anchorage.tip_threshold(arm_mm=225.0, height_mm=550.0) == pytest.approx(0.4091, abs=5e-5)
    far = anchorage.far_row_tension_n(moment_n_mm=moment, bolts=2, distance_mm=400.0)
    assert far == pytest.approx(210.9, rel=HALF_PERCENT)
    assert far == pytest.approx(168_732.0 / 800.0, rel=1e-12)
    tensions = anchorage.elastic_bolt_tensions_n(
        moment_n_mm=moment, distances_mm=(50.0, 50.0, 400.0, 400.0)
    )
    assert tensions == pytest.approx((25.96, 25.96, 207.7, 207.7), rel=HALF_PERCENT)
    shear = anchorage.sliding_force_n(mass_kg=80.0, push=0.8) / 4.0
    assert shear == pytest.approx(156.96, rel=1e-9)


def test_case_11_cabinet_lifted():
    moment = anchorage.net_overturning_moment_n_mm(**CABINET, lift=0.2)
    assert moment == pytest.approx(204_048.0, rel=1e-9)
    far = anchorage.far_row_tension_n(moment_n_mm=moment, bolts=2, distance_mm=400.0)
    assert far == pytest.approx(255.1, rel=HALF_PERCENT)


def test_crash_level_is_information():
    crash = CABINET | {"push": 20.0}
    moment = anchorage.net_overturning_moment_n_mm(**crash)
    far = anchorage.far_row_tension_n(moment_n_mm=moment, bolts=2, distance_mm=400.0)
    assert far == pytest.approx(10_570.0, rel=HALF_PERCENT)
    assert anchorage.sliding_force_n(mass_kg=80.0, push=20.0) == pytest.approx(15_696.0)


def test_case_12_low_unit():
    unit = {"mass_kg": 150.0, "push": 0.8, "height_mm": 300.0, "arm_mm": 500.0, "lift": 0.2}
    assert anchorage.net_overturning_moment_n_mm(**unit) == 0.0
    assert anchorage.restoring_moment_n_mm(mass_kg=150.0, arm_mm=500.0, lift=0.2) == pytest.approx(
        588_600.0, rel=1e-9
    )
    assert anchorage.sliding_force_n(mass_kg=150.0, push=0.8) / 4.0 == pytest.approx(
        294.3, rel=1e-9
    )


SQUARE = ((-400.0, -300.0), (-400.0, 300.0), (400.0, -300.0), (400.0, 300.0))


def test_case_12_torsion():
    shears = anchorage.bolt_group_shears_n(
        bolts_mm=SQUARE, force_x_n=0.0, force_y_n=735.75, at_x_mm=100.0, at_y_mm=0.0
    )
    worst = max(shears, key=lambda shear: shear.resultant_n)
    assert worst.resultant_n == pytest.approx(214.5, rel=HALF_PERCENT)
    assert worst.along_y_n == pytest.approx(213.37, rel=1e-4)
    assert abs(worst.along_x_n) == pytest.approx(22.07, rel=1e-3)


def test_lop_sided_bolts_turn_about_their_own_centroid():
    # three bolts with centroid (100, 50): arms (-100, -50), (200, -50), (-100, 100); J = 75 000
    # M = 600 * (130 - 100) - 90 * (20 - 50) = 20 700; M/J = 0.276
    shears = anchorage.bolt_group_shears_n(
        bolts_mm=((0.0, 0.0), (300.0, 0.0), (0.0, 150.0)),
        force_x_n=90.0,
        force_y_n=600.0,
        at_x_mm=130.0,
        at_y_mm=20.0,
    )
    expected = [
        (30.0 + 13.8, 200.0 - 27.6),
        (30.0 + 13.8, 200.0 + 55.2),
        (30.0 - 27.6, 200.0 - 27.6),
    ]
    for shear, (x, y) in zip(shears, expected, strict=True):
        assert (shear.along_x_n, shear.along_y_n) == pytest.approx((x, y), rel=1e-9)
        assert shear.resultant_n == pytest.approx(math.hypot(x, y), rel=1e-9)


def test_clearance_holes_let_half_the_bolts_share():
    push = {"force_x_n": 0.0, "force_y_n": 735.75, "at_x_mm": 100.0, "at_y_mm": 0.0}
    all_of_them = anchorage.bolt_group_shears_n(bolts_mm=SQUARE, **push)
    half = anchorage.bolt_group_shears_n(bolts_mm=SQUARE, **push, sharing=0.5)
    for one, other in zip(all_of_them, half, strict=True):
        assert tuple(other) == pytest.approx(tuple(2.0 * part for part in one), rel=1e-12)
    for bad in (0.0, 1.01, math.nan):
        with pytest.raises(OutOfRangeError, match="sharing"):
            anchorage.bolt_group_shears_n(bolts_mm=SQUARE, **push, sharing=bad)


@given(
    x=st.floats(-500.0, 500.0),
    y=st.floats(-500.0, 500.0),
    f_x=st.floats(-900.0, 900.0),
    f_y=st.floats(-900.0, 900.0),
)
@settings(max_examples=30, deadline=None)
def test_a_bolt_group_is_in_balance(x, y, f_x, f_y):
    bolts = ((0.0, 10.0), (310.0, -20.0), (40.0, 250.0), (280.0, 190.0))
    shears = anchorage.bolt_group_shears_n(
        bolts_mm=bolts, force_x_n=f_x, force_y_n=f_y, at_x_mm=x, at_y_mm=y
    )
    assert sum(shear.along_x_n for shear in shears) == pytest.approx(f_x, abs=1e-6)
    assert sum(shear.along_y_n for shear in shears) == pytest.approx(f_y, abs=1e-6)
    moment = sum(
        shear.along_y_n * bolt[0] - shear.along_x_n * bolt[1]
        for shear, bolt in zip(shears, bolts, strict=True)
    )
    assert moment == pytest.approx(f_y * x - f_x * y, abs=1e-3)


def test_one_bolt_resists_a_central_push_only():
    push = {"force_x_n": 30.0, "force_y_n": 40.0, "at_y_mm": 5.0}
    (shear,) = anchorage.bolt_group_shears_n(bolts_mm=((7.0, 5.0),), **push, at_x_mm=7.0)
    assert tuple(shear) == (30.0, 40.0, 50.0)
    with pytest.raises(OutOfRangeError, match="bolts"):
        anchorage.bolt_group_shears_n(bolts_mm=((7.0, 5.0),), **push, at_x_mm=8.0)
    with pytest.raises(OutOfRangeError, match="bolts"):
        anchorage.bolt_group_shears_n(bolts_mm=(), **push, at_x_mm=8.0)


def test_case_19_friction():
    left = anchorage.sliding_force_n(mass_kg=100.0, push=0.8, friction=0.2, lift=0.2)
    assert left == pytest.approx(627.84, rel=1e-9)
    assert anchorage.sliding_force_n(mass_kg=100.0, push=0.1, friction=0.2) == 0.0
    # lifted by more than its weight it has no friction left, and never a negative one
    floating = anchorage.sliding_force_n(mass_kg=100.0, push=0.8, friction=0.5, lift=1.5)
    assert floating == pytest.approx(784.8, rel=1e-9)


def test_uplift_beyond_the_weight():
    assert anchorage.uplift_per_bolt_n(mass_kg=100.0, lift=1.0, bolts=4) == 0.0
    assert anchorage.uplift_per_bolt_n(mass_kg=100.0, lift=1.4, bolts=4) == pytest.approx(98.1)


@given(lift=st.floats(0.0, 0.9), height=st.floats(100.0, 900.0), more=st.floats(1.0, 2.0))
@settings(max_examples=30, deadline=None)
def test_more_mass_height_or_lift_never_helps(lift, height, more):
    body = {"mass_kg": 80.0, "push": 0.8, "height_mm": height, "arm_mm": 225.0, "lift": lift}
    base = anchorage.net_overturning_moment_n_mm(**body)
    for name in ("mass_kg", "push", "height_mm"):
        assert anchorage.net_overturning_moment_n_mm(**(body | {name: body[name] * more})) >= base
    assert anchorage.net_overturning_moment_n_mm(**(body | {"lift": lift + 0.1})) >= base
    assert anchorage.net_overturning_moment_n_mm(**(body | {"arm_mm": 225.0 * more})) <= base


@given(moment=st.floats(0.0, 1e6), y_1=st.floats(0.0, 500.0), y_2=st.floats(1.0, 500.0))
@settings(max_examples=30, deadline=None)
def test_elastic_tensions_hold_the_moment(moment, y_1, y_2):
    tensions = anchorage.elastic_bolt_tensions_n(moment_n_mm=moment, distances_mm=(y_1, y_2))
    assert tensions[0] * y_1 + tensions[1] * y_2 == pytest.approx(moment, abs=1e-6)


def test_it_tips_where_the_threshold_says():
    threshold = anchorage.tip_threshold(arm_mm=225.0, height_mm=550.0)
    below = CABINET | {"push": threshold * 0.999}
    above = CABINET | {"push": threshold * 1.001}
    assert anchorage.net_overturning_moment_n_mm(**below) == 0.0
    assert anchorage.net_overturning_moment_n_mm(**above) > 0.0


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(
        anchorage.sliding_force_n, {"mass_kg": 9.0, "push": 0.8, "friction": 0.1, "lift": 0.2}
    )
    refuses_nonsense(anchorage.net_overturning_moment_n_mm, CABINET | {"lift": 0.1})
    refuses_nonsense(anchorage.tip_threshold, {"arm_mm": 225.0, "height_mm": 550.0})
    refuses_nonsense(
        anchorage.far_row_tension_n, {"moment_n_mm": 1.0, "bolts": 2, "distance_mm": 4.0}
    )
    refuses_nonsense(
        anchorage.elastic_bolt_tensions_n, {"moment_n_mm": 1.0, "distances_mm": (4.0,)}
    )
    for distances in ((0.0, 0.0), (), (4.0, -1.0), (math.nan,)):
        with pytest.raises(OutOfRangeError):
            anchorage.elastic_bolt_tensions_n(moment_n_mm=1.0, distances_mm=distances)
    refuses_nonsense(anchorage.uplift_per_bolt_n, {"mass_kg": 9.0, "lift": 1.2, "bolts": 4})
    with pytest.raises(OutOfRangeError):
        anchorage.uplift_per_bolt_n(mass_kg=9.0, lift=1.2, bolts=0)
    refuses_nonsense(
        anchorage.bolt_group_shears_n,
        {
            "bolts_mm": SQUARE,
            "force_x_n": 1.0,
            "force_y_n": 2.0,
            "at_x_mm": 3.0,
            "at_y_mm": 4.0,
            "sharing": 0.5,
        },
    )


FACE = [(0.0, 0.0), (400.0, 0.0), (0.0, 200.0), (400.0, 200.0)]


def test_pull_off_a_face_by_hand():
    # 1000 N pulled 100 mm off the middle along x: 250 N each and 100 000 N mm over 4 x 200^2
    got = anchorage.bolt_group_pulls_n(bolts_mm=FACE, force_n=1000.0, at_x_mm=300.0, at_y_mm=100.0)
    assert got == pytest.approx((125.0, 375.0, 125.0, 375.0), rel=1e-12)


@settings(max_examples=30, deadline=None)
@given(st.floats(-200.0, 600.0), st.floats(-300.0, 500.0))
def test_pulls_off_a_face_are_in_equilibrium(x, y):
    spots = [(0.0, 0.0), (400.0, 30.0), (50.0, 200.0), (380.0, 260.0), (200.0, 90.0)]
    got = anchorage.bolt_group_pulls_n(bolts_mm=spots, force_n=700.0, at_x_mm=x, at_y_mm=y)
    assert math.fsum(got) == pytest.approx(700.0, rel=1e-9)
    for axis, at in ((0, x), (1, y)):
        moment = math.fsum(pull * spot[axis] for pull, spot in zip(got, spots, strict=True))
        assert moment == pytest.approx(700.0 * at, rel=1e-9, abs=1e-6)


def test_bolts_in_a_line_do_not_hold_a_pull_off_it():
    line = [(0.0, 0.0), (400.0, 0.0)]
    with pytest.raises(OutOfRangeError, match="bolts"):
        anchorage.bolt_group_pulls_n(bolts_mm=line, force_n=1.0, at_x_mm=0.0, at_y_mm=9.0)
    straight = anchorage.bolt_group_pulls_n(bolts_mm=line, force_n=2.0, at_x_mm=200.0, at_y_mm=0.0)
    assert straight == (1.0, 1.0)
