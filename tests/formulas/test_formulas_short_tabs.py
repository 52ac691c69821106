"""Short tongues in slots: bearing of a wall, shear at the root, against a beam's own formula."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.errors import OutOfRangeError
from stowright.formulas.sections import rectangle_shear_stress_n_mm2
from stowright.formulas.short_tabs import root_shear_n, wall_bearing_n

SIZE = st.floats(1.0, 500.0)


def test_a_wall_of_a_slot_by_hand():
    # 60 mm of wall, 12 mm deep, 20 N/mm2: 60 x 12 x 20 = 14400 N
    assert wall_bearing_n(length_mm=60.0, depth_mm=12.0, strength_n_mm2=20.0) == 14400.0


def test_a_root_by_hand():
    # 90 x 12 mm at 1.5 N/mm2: an even stress would carry 1620 N, the peak is half as much again
    found = root_shear_n(length_mm=90.0, thickness_mm=12.0, strength_n_mm2=1.5)
    assert found == pytest.approx(1080.0, rel=1e-12)


@given(length=SIZE, thick=st.floats(3.0, 40.0), strength=st.floats(0.1, 10.0))
@settings(max_examples=30)
def test_what_a_root_carries_is_where_a_rectangle_reaches_its_shear_strength(
    length, thick, strength
):
    # the same peak by the section's own formula, tau = 3 V / (2 b h), which other tests hold
    force = root_shear_n(length_mm=length, thickness_mm=thick, strength_n_mm2=strength)
    stress = rectangle_shear_stress_n_mm2(shear_n=force, width_mm=length, depth_mm=thick)
    assert stress == pytest.approx(strength, rel=1e-9)


@given(length=SIZE, depth=SIZE, factor=st.floats(0.2, 5.0))
@settings(max_examples=30)
def test_bearing_grows_with_each_side_of_its_wall(length, depth, factor):
    plain = wall_bearing_n(length_mm=length, depth_mm=depth, strength_n_mm2=15.0)
    longer = wall_bearing_n(length_mm=factor * length, depth_mm=depth, strength_n_mm2=15.0)
    deeper = wall_bearing_n(length_mm=length, depth_mm=factor * depth, strength_n_mm2=15.0)
    assert longer == pytest.approx(factor * plain)
    assert deeper == pytest.approx(factor * plain)


@pytest.mark.parametrize("name", ["length_mm", "depth_mm", "strength_n_mm2"])
def test_nothing_bears_without_a_size(name):
    sizes = {"length_mm": 60.0, "depth_mm": 12.0, "strength_n_mm2": 20.0}
    with pytest.raises(OutOfRangeError, match=name):
        wall_bearing_n(**sizes | {name: 0.0})


@pytest.mark.parametrize("name", ["length_mm", "thickness_mm", "strength_n_mm2"])
def test_nothing_carries_at_a_root_without_a_size(name):
    sizes = {"length_mm": 60.0, "thickness_mm": 12.0, "strength_n_mm2": 1.5}
    with pytest.raises(OutOfRangeError, match=name):
        root_shear_n(**sizes | {name: float("nan")})
