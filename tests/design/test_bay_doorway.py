"""Getting in: straight, tilted, from above, inside; and drawers inside their doorway."""

from math import hypot, pi

import bay_model
import numpy as np
import pytest
from bays import arch, box, make_bay, opening, tray, tub, van, wagon
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from stowright.design.doorway import doorway_check, travel_inside_doorway
from stowright.design.swings import rolled_fit, swing_extents
from stowright.errors import OutOfRangeError
from stowright.model.geometry import Span


def check(bay, module, face="tail", **changes):
    values = {"bay": bay, "block": "drawers", "module": "1", "face": face, "module_box": module}
    return doorway_check(**(values | changes))


def hard(**changes):
    """A bay with a roof and one doorway at the tail, 1200 x 800."""
    values = {"clear_height": 1000.0, "openings": (opening("tail", 1200.0, 800.0),)} | changes
    return make_bay(**values)


def test_straight_with_the_least_room_named():
    found = check(hard(reading_error=2.0), box((50.0, 1450.0), (-550.0, 550.0), (10.0, 435.0)))
    assert found.way == "straight"
    assert (found.needed, found.available, found.room) == (1100.0, 1198.0, 98.0)
    assert "width of the doorway" in found.why
    assert found.order == ()


def test_over_a_sill_the_roof_behind_counts():
    module = box((50.0, 700.0), (-300.0, 300.0), (10.0, 790.0))
    level = check(hard(clear_height=800.0), module)
    assert (level.way, level.room) == ("straight", 20.0)
    stepped = check(
        hard(clear_height=800.0, openings=(opening("tail", 1200.0, 800.0, sill_rise=30.0),)), module
    )
    assert stepped.way != "straight"


def test_too_wide_by_a_little_goes_in_rolled_when_there_is_room_behind():
    # 1210 x 60 through 1200 x 800: rolled until it is 1200 wide
    module = box((50.0, 900.0), (-605.0, 605.0), (10.0, 70.0))
    found = check(hard(), module)
    assert found.way == "tilted"
    assert found.why.startswith("rolled by")
    # between walls of 1205 it could not be set upright again, and 1210 would not go in at all
    assert check(hard(width=1205.0, clear_height=850.0), module).way == "assemble inside"


def test_a_tall_one_goes_in_on_its_back_and_is_stood_up():
    # 900 high, 400 deep through 800: its diagonal 985 passes under 1000
    module = box((50.0, 450.0), (-550.0, 550.0), (10.0, 910.0))
    found = check(hard(), module)
    assert found.way == "tilted"
    assert found.why.startswith("on its back")
    assert (found.needed, found.available) == (pytest.approx(hypot(900.0, 400.0)), 1000.0)
    assert check(hard(clear_height=980.0), module).way == "assemble inside"


def test_a_wide_one_is_turned_a_quarter_and_turned_back_inside():
    # 1250 wide and 500 deep through 1200: its diagonal 1346 passes the width of 1400
    module = box((50.0, 550.0), (-625.0, 625.0), (10.0, 710.0))
    found = check(hard(), module)
    assert found.way == "tilted"
    assert found.why.startswith("turned a quarter")
    assert check(hard(width=1340.0), module).way == "assemble inside"


def test_what_passes_no_way_is_built_inside_in_a_stated_order():
    module = box((50.0, 1450.0), (-650.0, 650.0), (10.0, 710.0))
    found = check(hard(), module)
    assert found.way == "assemble inside"
    assert (found.needed, found.available, found.room) == (1300.0, 1200.0, -100.0)
    assert found.order[0].startswith("carry the parts in")
    assert "does not go for the width of the doorway" in found.why
    mine = ("floor", "sides")
    assert check(hard(), module, order=mine).order == mine


def test_an_open_tub_is_loaded_from_above_between_its_rails():
    bay = tub(clear_height=None, openings=(opening("tail", 1328.0),))
    found = check(bay, box((70.0, 1460.0), (-544.0, 0.0), (10.0, 435.0)))
    assert found.way == "from above"


def test_an_open_tub_with_a_low_doorway_is_still_open_above():
    bay = tub(clear_height=None)
    module = box((70.0, 1450.0), (-672.0, 672.0), (250.0, 435.0))  # wider than the tail doorway
    assert check(bay, module).way == "from above"


def test_a_roof_over_an_opening_without_a_height_stands_for_it():
    bay = make_bay(clear_height=500.0, openings=(opening("tail", 1300.0),))
    module = box((50.0, 1450.0), (-500.0, 500.0), (10.0, 490.0))
    found = check(bay, module)
    assert (found.way, found.available) == ("straight", 500.0)


def test_no_doorway_measured_is_not_known_under_a_roof_and_from_above_without():
    module = box((50.0, 1450.0), (-500.0, 500.0), (10.0, 400.0))
    assert check(make_bay(clear_height=900.0), module).way == "not known"
    assert check(make_bay(), module).way == "from above"


def test_the_larger_side_door_is_used():
    bay = make_bay(
        length=2600.0,
        width=1700.0,
        clear_height=1400.0,
        openings=(
            opening("tail", 900.0, 900.0),
            opening("left", 1100.0, 1250.0, at=1400.0),
        ),
    )
    found = check(bay, box((1420.0, 2400.0), (-845.0, 300.0), (10.0, 710.0)), face="left")
    assert found.way == "straight"
    assert "the left doorway (bay.opening[2])" in found.why
    assert (found.needed, found.available) == (980.0, 1100.0)


def test_of_two_doors_that_pass_the_larger_is_used():
    doors = (opening("tail", 1200.0, 1000.0), opening("right", 1100.0, 1250.0, at=1400.0))
    bay = make_bay(length=2600.0, width=1700.0, clear_height=1400.0, openings=doors)
    module = box((1500.0, 2400.0), (-500.0, 500.0), (10.0, 710.0))
    assert "the right doorway (bay.opening[2])" in check(bay, module).why
    assert (
        "the tail doorway (bay.opening[1])"
        in check(
            make_bay(
                length=2600.0,
                width=1700.0,
                clear_height=1400.0,
                openings=(opening("tail", 1400.0, 1000.0), doors[1]),
            ),
            module,
        ).why
    )


def test_size_as_carried_governs_over_the_box():
    module = box((50.0, 1450.0), (-550.0, 550.0), (10.0, 435.0))
    found = check(hard(), module, size=(1190.0, 425.0, 1400.0))
    assert (found.needed, found.room) == (1190.0, 10.0)
    sideways = check(hard(), module, face="left", size=(1400.0, 425.0, 1190.0))
    assert sideways.needed == 1190.0


def test_behind_the_arches_it_goes_over_them_when_the_height_allows():
    arches = (arch("left", 300.0, 900.0, 230.0, 200.0), arch("right", 300.0, 900.0, 230.0, 200.0))
    bay = hard(length=2000.0, arches=arches)
    module = box((950.0, 1950.0), (-580.0, 580.0), (10.0, 500.0))
    # 1160 between arches of 1000: raised 230, 490 high, under 800
    assert check(bay, module).way == "straight"
    tall = box((950.0, 1950.0), (-580.0, 580.0), (10.0, 600.0))
    assert check(bay, tall).way == "assemble inside"


def test_a_wagons_drawer_module_passes_its_tail_doorway():
    found = check(wagon(), box((100.0, 1100.0), (-520.0, 520.0), (12.0, 350.0)))
    assert found.way == "straight"


def test_a_module_without_size_is_refused():
    with pytest.raises(OutOfRangeError, match="module_y_mm"):
        check(hard(), box((50.0, 1450.0), (0.0, 0.0), (10.0, 435.0)))


# --- turned rectangles against a sampler ---------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(
    p=st.floats(50.0, 1500.0),
    q=st.floats(50.0, 1500.0),
    wide=st.floats(300.0, 1500.0),
    high=st.floats(300.0, 1500.0),
)
def test_the_best_roll_beats_every_sampled_angle(p, q, wide, high):
    roll = rolled_fit(width_mm=p, height_mm=q, opening_width_mm=wide, opening_height_mm=high)
    rooms = []
    for angle in np.linspace(0.0, pi / 2.0, 181):
        low_x, low_y, high_x, high_y = bay_model.rotated(p, q, angle).bounds
        rooms.append(min(wide - (high_x - low_x), high - (high_y - low_y)))
    assert roll.room >= max(rooms) - 1e-6
    assert roll.room <= max(rooms) + hypot(p, q) * (pi / 360.0)  # half a step of the sampler
    low_x, low_y, high_x, high_y = bay_model.rotated(p, q, roll.angle).bounds
    assert roll.width == pytest.approx(high_x - low_x, abs=1e-6)
    assert roll.height == pytest.approx(high_y - low_y, abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(p=st.floats(50.0, 1500.0), q=st.floats(50.0, 1500.0), angle=st.floats(0.0, pi / 2.0))
def test_a_swing_takes_what_the_sampled_swing_takes(p, q, angle):
    wide, high = swing_extents(p, q, angle)
    widths, heights = [], []
    for step in np.linspace(0.0, angle, 400):
        low_x, low_y, high_x, high_y = bay_model.rotated(p, q, step).bounds
        widths.append(high_x - low_x)
        heights.append(high_y - low_y)
    # 400 steps of a quarter turn: a top is missed by less than R (pi / 1600)^2 / 2
    assert wide == pytest.approx(max(widths), abs=0.01)
    assert high == pytest.approx(max(heights), abs=0.01)


def sweep(section, from_angle):
    """The positions of a rectangle rolled about its lowest corner from an angle to upright."""
    for angle in np.linspace(from_angle, 0.0, 120):
        turned = bay_model.rotated(*section, angle)
        low_x, low_y, high_x, _ = turned.bounds
        yield [(x - (low_x + high_x) / 2.0, y - low_y) for x, y in turned.exterior.coords]


@settings(max_examples=60, deadline=None)
@given(
    excess=st.floats(1.0, 120.0),
    tall=st.floats(60.0, 330.0),
    door=st.tuples(st.floats(700.0, 1270.0), st.floats(500.0, 900.0)),
    roof=st.floats(1250.0, 1500.0),
)
def test_a_rolled_module_never_touches_doorway_roof_or_walls(excess, tall, door, roof):
    across = door[0] + excess
    bay = make_bay(clear_height=roof, openings=(opening("tail", *door),))
    module = box((50.0, 1450.0), (-across / 2.0, across / 2.0), (0.0, tall))
    found = check(bay, module)
    assume(found.why.startswith("rolled"))
    roll = rolled_fit(
        width_mm=across, height_mm=tall, opening_width_mm=door[0], opening_height_mm=door[1]
    )
    room = Polygon([(-700.0, 0.0), (700.0, 0.0), (700.0, roof), (-700.0, roof)]).buffer(1e-6)
    gate = Polygon(
        [(-door[0] / 2, 0.0), (door[0] / 2, 0.0), (door[0] / 2, door[1]), (-door[0] / 2, door[1])]
    ).buffer(1e-6)
    positions = list(sweep((across, tall), roll.angle))
    assert gate.contains(Polygon(positions[0]))
    assert all(room.contains(Polygon(position)) for position in positions)


# --- the travel of drawers -----------------------------------------------------------------------


def test_a_side_drawer_travels_between_the_jambs_and_over_the_step():
    bay = van()
    room = travel_inside_doorway(
        bay=bay, face="left", across=Span(low=1450.0, high=2400.0), z=Span(low=40.0, high=600.0)
    )
    # jambs at 1420 and 2460: 2 for at, 2 more for the width; sill 30 and lintel 1270, 2 each
    assert room.at_low_jamb == 28.0
    assert room.at_high_jamb == 56.0
    assert room.over_sill == 8.0
    assert room.under_lintel == 668.0
    assert (room.across, room.upright, room.fits) == (28.0, 8.0, True)
    assert room.why == "the sill governs"


def test_a_drawer_below_the_step_or_past_a_jamb_does_not_fit():
    low = travel_inside_doorway(
        bay=van(), face="left", across=Span(low=1450.0, high=2400.0), z=Span(low=20.0, high=600.0)
    )
    assert (low.upright, low.fits) == (-12.0, False)
    past = travel_inside_doorway(
        bay=van(), face="left", across=Span(low=1400.0, high=2400.0), z=Span(low=40.0, high=600.0)
    )
    assert (past.across, past.fits) == (-22.0, False)


def test_the_tail_doorway_is_centred_and_may_be_open_above():
    bay = make_bay(reading_error=2.0, openings=(opening("tail", 1302.0),))
    room = travel_inside_doorway(
        bay=bay, face="tail", across=Span(low=-600.0, high=640.0), z=Span(low=30.0, high=400.0)
    )
    assert (room.at_low_jamb, room.at_high_jamb) == (50.0, 10.0)
    assert room.under_lintel is None
    assert room.upright == 30.0  # a step that was not measured is none


def test_a_doorway_without_a_place_is_not_known():
    bay = tray(openings=(opening("left", 1600.0, 840.0),))
    span = Span(low=100.0, high=1500.0)
    room = travel_inside_doorway(bay=bay, face="left", across=span, z=Span(low=30.0, high=400.0))
    assert (room.known, room.fits) == (False, False)
    assert travel_inside_doorway(bay=bay, face="right", across=span, z=span) is None
