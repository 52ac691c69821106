"""UK HSE INDG143 / L23 filters: lifting close to the body, reductions, push and pull. Exact
numbers.
"""

import pytest

from stowright.errors import OutOfRangeError
from stowright.formulas import handling

CLOSE = {
    "above shoulder": (10.0, 7.0),
    "shoulder": (20.0, 13.0),
    "elbow": (25.0, 16.0),
    "knuckle": (20.0, 13.0),
    "lower leg": (10.0, 7.0),
}
# from memory
FAR = {
    "above shoulder": (5.0, 3.0),
    "shoulder": (10.0, 7.0),
    "elbow": (15.0, 10.0),
    "knuckle": (10.0, 7.0),
    "lower leg": (5.0, 3.0),
}


@pytest.mark.parametrize(("reach", "table"), [("close", CLOSE), ("arm's length", FAR)])
def test_lifting_filter(reach, table):
    for zone, (man, woman) in table.items():
        got = [
            handling.lift_filter_kg(zones=(zone,), reach=reach, person=person)
            for person in ("man", "woman")
        ]
        assert got == [man, woman]


def test_the_least_zone_on_the_way_counts():
    got = handling.lift_filter_kg(
        zones=("elbow", "shoulder", "above shoulder"), reach="close", person="man"
    )
    assert got == 10.0


@pytest.mark.parametrize(
    ("rate", "factor"), [(0.5, 1.0), (1.0, 0.7), (2.0, 0.7), (5.0, 0.5), (8.0, 0.5), (12.1, 0.2)]
)
def test_repeated_lifts(rate, factor):
    assert handling.lift_rate_factor(lifts_per_min=rate) == factor


@pytest.mark.parametrize(
    ("twist", "factor"), [(0.0, 1.0), (45.0, 1.0), (45.1, 0.9), (90.0, 0.9), (90.1, 0.8)]
)
def test_twisting(twist, factor):
    assert handling.twist_factor(twist_deg=twist) == factor


@pytest.mark.parametrize(
    ("person", "moving", "newtons"),
    [("man", False, 196.0), ("woman", False, 147.0), ("man", True, 98.0), ("woman", True, 69.0)],
)
def test_push_and_pull(person, moving, newtons):
    # printed to the newton
    got = handling.push_filter_n(person=person, moving=moving)
    assert got == pytest.approx(newtons, abs=0.5)


def test_a_team_lifts_less_than_its_sum():
    # HSE L23, from memory: two lift two thirds, three half of what they lift singly
    assert handling.team_filter_kg(filters_kg=(25.0,)) == 25.0
    assert handling.team_filter_kg(filters_kg=(25.0, 16.0)) == pytest.approx(41.0 * 2.0 / 3.0)
    assert handling.team_filter_kg(filters_kg=(25.0, 25.0, 16.0)) == pytest.approx(33.0)


@pytest.mark.parametrize("filters", [(), (25.0,) * 4, (25.0, 0.0), (float("nan"),)])
def test_a_team_is_one_to_three_people(filters):
    with pytest.raises(OutOfRangeError):
        handling.team_filter_kg(filters_kg=filters)
