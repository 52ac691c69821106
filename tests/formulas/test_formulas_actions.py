"""Factors on loads, road shock, platform loads: the plan's own numbers, and bases that may not be
mixed.
"""

import pytest

from stowright.errors import BasisMixError
from stowright.formulas import actions_en1990, platform_loads


@pytest.mark.parametrize(
    ("load", "factor"), [("own mass", 1.35), ("people", 1.5), ("contents", 1.5)]
)
def test_factors(load, factor):
    got = actions_en1990.load_factor(load=load, capacity_basis="characteristic")
    assert got == factor
    assert actions_en1990.load_factor(load=load, capacity_basis="working load") == 1.0
    with pytest.raises(BasisMixError):
        actions_en1990.load_factor(load=load, capacity_basis="mean ultimate")


def test_road_shock():
    assert actions_en1990.road_shock(road="sealed") == 2.0
    assert actions_en1990.road_shock(road="rough") == 3.0


def test_working_load():
    assert actions_en1990.working_load_n(mean_ultimate_n=2257.0) == pytest.approx(451.4)
    assert actions_en1990.working_load_n(mean_ultimate_n=2257.0, divisor=1.0) == 2257.0


def test_nonsense_is_refused(refuses_nonsense):
    refuses_nonsense(actions_en1990.working_load_n, {"mean_ultimate_n": 2257.0, "divisor": 5.0})
    with pytest.raises(ValueError, match="divisor"):
        actions_en1990.working_load_n(mean_ultimate_n=2257.0, divisor=0.99)


def test_people_on_decks():
    knee, foot = platform_loads.PATCHES
    assert (knee.load_n, knee.side_mm) == (1000.0, 50.0)
    assert (foot.load_n, foot.side_mm) == (1500.0, 100.0)
    assert platform_loads.LYING.pressure_n_mm2 == 0.002
    spread, worst = platform_loads.WORKING_PLATFORM
    assert spread.pressure_n_mm2 == 0.002
    assert (worst.load_n, worst.side_mm) == (1500.0, 200.0)
