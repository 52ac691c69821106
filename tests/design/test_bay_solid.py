"""The bay as a solid: interpolation, arches, cove, tail face, outline."""

from math import sqrt

import bay_model
import numpy as np
import pytest
from bays import arch, between, lean, length, make_bay, tub, van, width
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from stowright.design.bay_solid import (
    bay_solid,
    coverage_warnings,
    governing_reading,
    headboard_x,
    inner_y,
    outline_at,
    tail_lean_over,
    tail_x,
    wall_y,
)
from stowright.design.bay_surface import (
    Station,
    cuts_at,
    fillet_intrusion,
    least_net,
    surface_from,
    value_at,
)
from stowright.model.geometry import Span


def test_width_is_linear_along_a_level_then_between_levels():
    solid = bay_solid(
        make_bay(
            widths=(
                width(0.0, 0.0, left=700.0, right=690.0),
                width(1000.0, 0.0, left=680.0, right=690.0),
                width(0.0, 400.0, left=720.0, right=700.0),
                width(1000.0, 400.0, left=740.0, right=700.0),
            )
        )
    )
    # at x 250: floor 695, level 400: 725; a quarter of the way up 702.5
    assert wall_y(solid, side="left", x=250.0, z=100.0) == pytest.approx(702.5, abs=1e-9)
    assert wall_y(solid, side="right", x=250.0, z=100.0) == pytest.approx(692.5, abs=1e-9)


def test_a_level_with_one_station_takes_the_shape_of_the_level_below():
    solid = bay_solid(
        make_bay(
            widths=(
                width(0.0, 0.0, 1400.0),
                width(1000.0, 0.0, 1360.0),
                width(500.0, 400.0, 1410.0),
            )
        )
    )
    # the floor is 1380 wide at 500: the level above is 30 wider everywhere
    assert wall_y(solid, side="left", x=0.0, z=400.0) == pytest.approx(715.0, abs=1e-9)
    assert wall_y(solid, side="left", x=1000.0, z=400.0) == pytest.approx(695.0, abs=1e-9)


def test_outside_the_stations_the_nearest_value_holds_and_is_warned_of():
    bay = make_bay(widths=(width(300.0, 0.0, 1400.0), width(900.0, 0.0, 1360.0)))
    solid = bay_solid(bay)
    assert wall_y(solid, side="left", x=0.0, z=0.0) == 700.0
    assert wall_y(solid, side="left", x=1500.0, z=0.0) == 680.0
    assert wall_y(solid, side="left", x=300.0, z=900.0) == 700.0
    warnings = coverage_warnings(solid, z=Span(low=10.0, high=430.0))
    assert any("near one end" in text for text in warnings)
    assert any("no width was read above bay.widths[1]" in text for text in warnings)


def test_the_shorthand_width_holds_at_the_floor_when_only_higher_widths_were_read():
    solid = bay_solid(make_bay(width=1392.0, widths=(width(740.0, 400.0, 1421.0),)))
    assert wall_y(solid, side="left", x=700.0, z=0.0) == 696.0
    assert wall_y(solid, side="left", x=700.0, z=400.0) == 710.5
    assert governing_reading(solid.left, u=0.0, z=0.0) == "bay.width"


def test_lengths_are_linear_across_then_up():
    solid = bay_solid(
        make_bay(
            lengths=(
                length(0.0, -600.0, 1500.0),
                length(0.0, 600.0, 1488.0),
                length(400.0, 0.0, 1474.0),
            )
        )
    )
    assert headboard_x(solid, y=0.0, z=0.0) == pytest.approx(1494.0, abs=1e-9)
    # the level above is 20 shorter everywhere; half way up 10
    assert headboard_x(solid, y=600.0, z=200.0) == pytest.approx(1478.0, abs=1e-9)


def test_the_tail_face_leans_linearly_from_the_floor():
    solid = bay_solid(make_bay(tail_lean=(lean(300.0, 30.0), lean(700.0, 210.0))))
    assert tail_x(solid, z=0.0) == 0.0
    assert tail_x(solid, z=150.0) == pytest.approx(15.0, abs=1e-9)
    assert tail_x(solid, z=500.0) == pytest.approx(120.0, abs=1e-9)
    assert tail_x(solid, z=900.0) == 210.0
    assert tail_lean_over(solid, z=Span(low=10.0, high=500.0)) == (
        pytest.approx(120.0, abs=1e-9),
        "bay.tail_lean[2]",
    )


def test_a_face_that_leans_out_gives_no_room_beyond_the_floor():
    solid = bay_solid(make_bay(tail_lean=(lean(400.0, -30.0),)))
    assert tail_lean_over(solid, z=Span(low=10.0, high=400.0)) == (0.0, "")


def test_between_governs_over_reach_and_keeps_the_middle_that_the_reaches_give():
    solid = bay_solid(tub())
    left = inner_y(solid, side="left", x=740.0, z=0.0)
    right = inner_y(solid, side="right", x=740.0, z=0.0)
    # between 1106 at 500 and 1104 at 1000: 1105.04 at 740
    assert left + right == pytest.approx(1105.04, abs=1e-9)
    # 694 - 141 = 553 against 695 - 139 = 556
    assert right - left == pytest.approx(3.0, abs=1e-9)


def test_reach_counts_from_the_wall_at_the_floor_when_no_between_was_read():
    solid = bay_solid(van())
    assert inner_y(solid, side="left", x=310.0, z=200.0) == pytest.approx(
        wall_y(solid, side="left", x=310.0, z=0.0) - 214.0, abs=1e-9
    )
    assert inner_y(solid, side="left", x=310.0, z=263.0) == wall_y(
        solid, side="left", x=310.0, z=263.0
    )


def test_a_lone_arch_is_placed_from_the_opposite_wall():
    solid = bay_solid(
        make_bay(
            arches=(arch("left", 400.0, 1100.0, 230.0, 140.0),),
            between=(between(700.0, 0.0, 1250.0),),
        )
    )
    assert inner_y(solid, side="left", x=700.0, z=0.0) == pytest.approx(550.0, abs=1e-9)
    assert inner_y(solid, side="right", x=700.0, z=0.0) == 700.0


def test_a_fillet_is_a_quarter_circle():
    # 3-4-5: radius 25, 10 above the floor: 15 below the centre, 20 across
    assert fillet_intrusion(radius=25.0, z=10.0) == pytest.approx(5.0, abs=1e-12)
    assert fillet_intrusion(radius=20.0, z=0.0) == 20.0
    assert fillet_intrusion(radius=20.0, z=20.0) == 0.0
    assert fillet_intrusion(radius=0.0, z=0.0) == 0.0
    assert fillet_intrusion(radius=20.0, z=12.0) == pytest.approx(20.0 - sqrt(336.0), abs=1e-12)


STATIONS = st.lists(
    st.tuples(
        st.integers(0, 30).map(lambda k: 50.0 * k),
        st.sampled_from([0.0, 150.0, 420.0]),
        st.floats(550.0, 850.0),
    ),
    min_size=1,
    max_size=9,
    unique_by=lambda row: row[:2],
)


@settings(max_examples=40, deadline=None)
@given(
    rows=STATIONS,
    x=st.tuples(st.floats(-100.0, 1600.0), st.floats(0.0, 1500.0)),
    z=st.tuples(st.floats(0.0, 500.0), st.floats(0.0, 500.0)),
    radius=st.floats(0.0, 40.0),
)
def test_the_least_value_is_reached_and_no_sample_lies_below_it(rows, x, z, radius):
    surface = surface_from(
        Station(u=u, z=height, value=value, error=0.0, field="") for u, height, value in rows
    )
    x_high, z_high = x[0] + x[1], z[0] + z[1]
    cuts = cuts_at(surface, z=Span(low=z[0], high=z_high), fillet=radius)
    least = least_net(cuts, low=x[0], high=x_high)
    us = {*np.linspace(x[0], x_high, 15), *(r[0] for r in rows if x[0] <= r[0] <= x_high)}
    heights = {*np.linspace(z[0], z_high, 15)}
    heights.update(h for h in (0.0, 150.0, 420.0, radius) if z[0] <= h <= z_high)
    lowest = min(
        value_at(surface, u=u, z=height) - fillet_intrusion(radius=radius, z=height)
        for u in us
        for height in heights
    )
    assert lowest == pytest.approx(least, abs=1e-9)  # rounding only


def test_errors_are_ruled_like_the_values_they_belong_to():
    whole_then_halves = make_bay(
        reading_error=2.0,
        widths=(width(0.0, 0.0, 1400.0), width(1000.0, 0.0, left=700.0, right=700.0)),
    )
    cuts = cuts_at(bay_solid(whole_then_halves).left, z=Span(low=0.0, high=100.0))
    # half of 2 at the whole width, 2 at the half width, between them 1.5
    assert least_net(cuts, low=0.0, high=0.0) == 699.0
    assert least_net(cuts, low=500.0, high=500.0) == 698.5
    assert least_net(cuts, low=0.0, high=1000.0) == 698.0


@pytest.mark.parametrize("make", [tub, van], ids=["tub", "van"])
@pytest.mark.parametrize("z", [0.0, 15.0, 220.0, 300.0, 435.0])
def test_the_outline_is_the_polygon_of_an_independent_model(make, z):
    bay = make(keep_out=())
    outline = Polygon(outline_at(bay_solid(bay), z=z))
    model = bay_model.polygon_at(bay, z)
    assert outline.is_valid
    # the model rules its curves every 20 mm: corners where wall and headboard meet may differ
    assert outline.symmetric_difference(model).area < 1.0e-5 * model.area


def test_a_reading_is_named_by_its_field():
    solid = bay_solid(tub())
    assert governing_reading(solid.left, u=740.0, z=0.0) == "bay.widths[2].left"
    assert governing_reading(solid.left, u=0.0, z=0.0) == "bay.widths[1]"
    assert governing_reading(solid.left, u=900.0, z=0.0) == (
        "between bay.widths[2].left and bay.widths[3]"
    )
    assert governing_reading(solid.headboard, u=0.0, z=450.0) == "bay.lengths[3]"
