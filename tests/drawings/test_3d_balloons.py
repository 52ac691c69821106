"""Balloons: shared out with the shortest leaders, none over another. Outside check: scipy."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from stowright.drawings.assignment import cheapest_places
from stowright.drawings.balloons import Spot, balloon_faults, balloon_radius, place_balloons
from stowright.drawings.scene import Balloon
from stowright.errors import OutOfRangeError

ROOM = shapely.box(-40.0, -40.0, 160.0, 160.0)


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 20), st.integers(0, 20), st.integers(0, 10_000))
def test_places_cost_no_more_than_scipy_finds(things, spare, seed):
    cost = np.random.default_rng(seed).uniform(0.0, 100.0, (things, things + spare))
    places = cheapest_places(cost)
    assert len(set(places)) == things
    rows, columns = linear_sum_assignment(cost)
    assert cost[range(things), places].sum() == pytest.approx(cost[rows, columns].sum())


def test_more_things_than_places_are_refused():
    with pytest.raises(OutOfRangeError):
        cheapest_places(np.ones((3, 2)))


def strewn(count, seed, *, each=4):
    random = np.random.default_rng(seed)
    spots = {}
    for k in range(count):
        near = random.uniform(0.0, 110.0, 2)
        spots[f"A{k + 1}"] = [Spot(tuple(near + random.uniform(0.0, 10.0, 2))) for _ in range(each)]
    return spots, shapely.MultiPoint([s.at for row in spots.values() for s in row]).convex_hull


@pytest.mark.parametrize("count", [1, 2, 8, 25, 40])
@pytest.mark.parametrize("seed", range(4))
def test_no_ring_on_another_and_no_leader_across_another(count, seed):
    spots, figure = strewn(count, seed)
    balloons = place_balloons(spots, figure, ROOM)
    assert [b.text for b in balloons] == sorted(spots)
    assert balloon_faults(balloons) == []
    for balloon in balloons:
        assert balloon.target in [s.at for s in spots[balloon.text]]
        ring = shapely.Point(balloon.centre).buffer(balloon.radius)
        assert not ring.intersects(figure)
        assert ROOM.covers(ring)


def test_when_the_curve_is_too_short_they_stand_along_the_paper():
    spots, figure = strewn(40, 1)
    small = {
        text: [Spot((s.at[0] * 0.2, s.at[1] * 0.2)) for s in row] for text, row in spots.items()
    }
    figure = shapely.transform(figure, lambda xy: xy * 0.2)
    balloons = place_balloons(small, figure, ROOM)
    assert len(balloons) == 40
    rings = shapely.union_all([shapely.Point(b.centre).buffer(b.radius) for b in balloons])
    assert ROOM.covers(rings)
    assert not [f for f in balloon_faults(balloons) if f[2] in {"rings overlap", "leaders cross"}]


def test_too_many_for_the_paper_still_do_not_overlap():
    spots, figure = strewn(60, 2)
    tight = shapely.box(-5.0, -5.0, 125.0, 125.0)
    balloons = place_balloons(spots, figure, tight)
    assert len(balloons) == 60
    assert not [f for f in balloon_faults(balloons) if f[2] == "rings overlap"]


def test_rings_keep_off_what_is_taken():
    spots, figure = strewn(10, 3)
    title = shapely.box(-40.0, 50.0, 0.0, 160.0)
    for balloon in place_balloons(spots, figure, ROOM, taken=[title]):
        assert not shapely.Point(balloon.centre).buffer(balloon.radius).intersects(title)


def test_a_spot_with_a_penalty_is_taken_only_when_it_saves_more():
    figure = shapely.box(0.0, 0.0, 50.0, 50.0)
    near_rim, middle = Spot((2.0, 25.0), penalty=50.0), Spot((25.0, 25.0))
    (balloon,) = place_balloons({"A1": [near_rim, middle]}, figure, ROOM)
    assert balloon.target == middle.at


def test_a_ring_holds_its_text():
    assert balloon_radius(["A1"]) < balloon_radius(["A1", "W12"])


@pytest.mark.parametrize(
    ("one", "other", "what"),
    [
        (((0, 0), (50, 0)), ((5, 0), (5, 40)), "rings overlap"),
        (((0, 0), (50, 50)), ((50, 0), (0, 50)), "leaders cross"),
        (((0, 0), (50, 0)), ((25, 2), (25, 40)), "leader on a ring"),
        (((0, 0), (50, 0)), ((25, 40), (25, 0.2)), "leader on a dot"),
    ],
)
def test_faults_are_told(one, other, what):
    balloons = [
        Balloon(centre=centre, text=text, target=target)
        for text, (centre, target) in (("A", one), ("B", other))
    ]
    assert what in {fault[2] for fault in balloon_faults(balloons)}


def test_nothing_to_label():
    assert place_balloons({}, shapely.box(0, 0, 1, 1), ROOM) == ()
