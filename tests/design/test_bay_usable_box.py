"""The usable box: the worked example, allowances, arches, ranges, and an independent model."""

from dataclasses import replace

import bay_model
import numpy as np
import pytest
from bays import (
    FILL,
    SQUARE,
    arch,
    between,
    box,
    inch_pickup,
    keep_out,
    lean,
    length,
    make_bay,
    opening,
    place,
    tray,
    tub,
    van,
    wagon,
    width,
)
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import box as boxes
from shapely import contains, prepare
from shapely.geometry import box as rectangle

from stowright.design.bay_solid import bay_solid
from stowright.design.bay_view import Ask, view_of
from stowright.design.box_limits import Domain, limits_of, plain_mm
from stowright.design.usable_box import _plans, usable_box
from stowright.errors import DesignError
from stowright.model.design import Skew
from stowright.model.geometry import Span

FACES = ("tail", "left", "right")
BARE = {"side_clear": 0.0, "end_clear": 0.0, "clear_at_face": 0.0, "lining": 0.0}


def ask(bay, **changes):
    """The usable box of a block that faces the tail, 10 to 435 high, as the contract's defaults."""
    values = {
        "bay": bay,
        "skew": SQUARE,
        "block": "drawers",
        "face": "tail",
        "place": FILL,
        "z": Span(low=10.0, high=435.0),
        "side_clear": 5.0,
        "end_clear": 10.0,
        "clear_at_face": 50.0,
        "lining": 0.0,
    } | changes
    return usable_box(**values)


def sides(found):
    return {limit.side: limit for limit in found.limits}


EXAMPLES = [
    pytest.param(
        {"between": (between(600.0, 0.0, 1100.0),), "width": 1400.0}, id="no arches given"
    ),
    pytest.param({"width": 1100.0}, id="that is the width"),
    pytest.param(
        {
            "between": (between(600.0, 0.0, 1100.0),),
            "arches": (
                arch("left", 350.0, 1100.0, 230.0, 150.0),
                arch("right", 350.0, 1100.0, 230.0, 150.0),
            ),
        },
        id="arches",
    ),
]


@pytest.mark.parametrize("bay", EXAMPLES)
def test_the_worked_example_without_allowances(bay):
    found = ask(make_bay(**bay), side_clear=0.0, end_clear=0.0)
    # 1100 between the arches; 1500 less 50 at the face
    assert found.box == box((50.0, 1500.0), (-550.0, 550.0), (10.0, 435.0))


@pytest.mark.parametrize("bay", EXAMPLES)
def test_the_worked_example_with_allowances(bay):
    found = ask(make_bay(**bay, reading_error=2.0))
    # 1100 - 2 - 2 x 5 = 1088; 50 to 1500 - 2 - 10 = 1488
    assert found.box == box((50.0, 1488.0), (-544.0, 544.0), (10.0, 435.0))


def test_two_half_widths_are_a_reading_each():
    halves = make_bay(reading_error=2.0, widths=(width(0.0, 0.0, left=700.0, right=690.0),))
    found = ask(halves)
    assert (found.box.y.low, found.box.y.high) == (-683.0, 693.0)


def test_reach_and_width_are_a_reading_each():
    found = ask(
        make_bay(reading_error=2.0, arches=(arch("left", 300.0, 1400.0, 230.0, 140.0),)),
    )
    # 700 - 140, half of 2 for the whole width, 2 for the reach, 5 clear
    assert found.box.y.high == pytest.approx(552.0, abs=1e-9)
    assert found.box.y.low == -694.0


def test_lining_is_taken_at_walls_and_headboard_and_not_at_the_tail():
    plain, lined = ask(make_bay()), ask(make_bay(), lining=4.0)
    assert lined.box.y.size == plain.box.y.size - 8.0
    assert lined.box.x.high == plain.box.x.high - 4.0
    assert lined.box.x.low == plain.box.x.low


def test_a_leaning_tail_face_counts_at_the_top_of_the_block_with_its_error():
    found = ask(make_bay(reading_error=2.0, tail_lean=(lean(500.0, 50.0),)))
    # 43.5 at 435, 2 error, 50 clear
    assert found.box.x.low == pytest.approx(95.5, abs=1e-9)
    assert sides(found)["tail"].governed_by == "tail face leaning in: bay.tail_lean[1]"


def test_the_cove_counts_at_the_underside():
    found = ask(make_bay(cove=25.0), z=Span(low=10.0, high=400.0), **BARE)
    # 3-4-5: 25 - 20 = 5 each side and at the headboard
    assert found.box.x.size == pytest.approx(1495.0, abs=1e-9)
    assert found.box.y.size == pytest.approx(1390.0, abs=1e-9)
    above = ask(make_bay(cove=25.0), z=Span(low=25.0, high=400.0), **BARE)
    assert above.box.y.size == 1400.0


def test_the_cove_stands_before_an_arch_too():
    bay = make_bay(
        cove=25.0,
        length=2000.0,
        arches=(
            arch("left", 1500.0, 1900.0, 230.0, 300.0),
            arch("right", 1500.0, 1900.0, 230.0, 300.0),
        ),
    )
    found = ask(bay, z=Span(low=10.0, high=400.0), **BARE)
    assert found.box.x.high == pytest.approx(1495.0, abs=1e-9)  # 3-4-5: 5 of fillet at 10 high
    names = [line.what for line in sides(found)["cab"].allowances]
    assert names == ["cove at the underside"]


def test_a_headboard_that_steps_steeply_is_cut_at_its_stations():
    bay = make_bay(
        lengths=(
            length(0.0, -700.0, 1500.0),
            length(0.0, 300.0, 1500.0),
            length(0.0, 320.0, 700.0),
            length(0.0, 700.0, 700.0),
        )
    )
    # 1500 x 1000 beside the step, 700 x 1400 before it
    found = ask(bay, **BARE)
    assert found.box == box((0.0, 1500.0), (-700.0, 300.0), (10.0, 435.0))


def test_a_wall_that_leans_in_may_govern_at_the_top_though_the_cove_stands_in_at_the_floor():
    bay = make_bay(cove=25.0, widths=(width(0.0, 0.0, 1400.0), width(0.0, 400.0, 1300.0)))
    found = ask(bay, z=Span(low=10.0, high=400.0), **BARE)
    assert found.box.y.size == pytest.approx(1300.0, abs=1e-9)


def test_before_the_arches_at_full_width_when_that_is_more():
    bay = make_bay(
        length=2000.0,
        arches=(
            arch("left", 1500.0, 1900.0, 230.0, 300.0),
            arch("right", 1500.0, 1900.0, 230.0, 300.0),
        ),
    )
    # 1500 x 1400 = 2.10 m2 before the arches, 2000 x 800 = 1.60 m2 between them
    found = ask(bay, **BARE)
    assert found.box == box((0.0, 1500.0), (-700.0, 700.0), (10.0, 435.0))
    assert sides(found)["cab"].governed_by == "left arch: bay.arches[1].start"
    assert "bay.arches[2].start governs alike" in sides(found)["cab"].next


def test_behind_the_arches_a_drawer_to_the_tail_could_not_come_out():
    arches = (
        arch("left", 0.0, 400.0, 230.0, 250.0),
        arch("right", 0.0, 400.0, 230.0, 250.0),
    )
    bay = make_bay(length=2000.0, arches=arches)
    # behind: 1600 x 1400 = 2.24 m2, but barred; between: 2000 x 900 = 1.80 m2
    assert ask(bay, **BARE).box == box((0.0, 2000.0), (-450.0, 450.0), (10.0, 435.0))
    # asked for by its range it is what was asked for
    asked = ask(bay, place=place(x=(400.0, 2000.0)), **BARE)
    assert asked.box == box((400.0, 2000.0), (-700.0, 700.0), (10.0, 435.0))


def test_over_the_arches_at_full_width_with_their_clearance():
    arches = (arch("left", 300.0, 900.0, 230.0, 140.0), arch("right", 300.0, 900.0, 230.0, 140.0))
    bay = make_bay(arches=arches, reading_error=2.0)
    over = ask(bay, z=Span(low=247.0, high=435.0), over_arches=True)
    assert over.box.y.size == 1400.0 - 2.0 - 10.0  # one reading, 5 a side
    # 230 + 2 + 15 is the least underside of a body over the arches
    low = ask(bay, z=Span(low=246.9, high=435.0), over_arches=True)
    assert low.box.y.size < 1130.0
    # any other block keeps 10 above them
    assert ask(bay, z=Span(low=242.0, high=435.0)).box.y.size == over.box.y.size
    assert ask(bay, z=Span(low=241.9, high=435.0)).box.y.size < 1130.0


def test_a_lower_block_of_such_a_pair_stays_10_clear_of_the_arch():
    bay = make_bay(between=(between(600.0, 0.0, 1100.0),))
    assert ask(bay, over_arches=True).box.y.size == 1080.0
    assert ask(bay, over_arches=True, side_clear=12.0).box.y.size == 1076.0


def test_a_keep_out_is_kept_clear_and_read_with_an_error():
    bay = make_bay(
        reading_error=2.0,
        keep_out=(keep_out("lamp housing", (0.0, 120.0), (590.0, 720.0), (180.0, 420.0)),),
    )
    found = ask(bay)
    limit = sides(found)["left"]
    # 590 - 2 - 5: full length beside it is more than all the width behind it
    assert found.box.y.high == 583.0
    assert limit.governed_by == "lamp housing (bay.keep_out[1])"
    assert [(line.what, line.value) for line in limit.allowances] == [
        ("reading error", -2.0),
        ("side clear", -5.0),
    ]
    low = ask(bay, z=Span(low=10.0, high=178.0))  # ends where the housing less its error begins
    assert low.box.y.high == 694.0


def test_a_keep_out_in_the_middle_leaves_the_better_side():
    bay = make_bay(keep_out=(keep_out("hatch", (300.0, 1200.0), (-100.0, 0.0), (0.0, 500.0)),))
    found = ask(bay, **BARE)
    assert found.box == box((0.0, 1500.0), (0.0, 700.0), (10.0, 435.0))
    left, right = (ask(bay, place=place(word=w), **BARE) for w in ("left", "right"))
    assert (left.box.y.low, left.hugs) == (0.0, "left")
    assert (right.box.y.high, right.hugs) == (-100.0, "right")


def test_asked_ranges_bound_the_box_and_say_so():
    found = ask(
        make_bay(), place=place(x=(200.0, 900.0), y=(-300.0, 1000.0), z=(0.0, 300.0)), **BARE
    )
    assert found.box == box((200.0, 900.0), (-300.0, 700.0), (10.0, 300.0))
    limits = sides(found)
    assert limits["cab"].governed_by == "the asked range (block.place.x)"
    assert limits["cab"].next == "600.0 mm more is free beyond it, up to headboard: bay.length"
    assert limits["right"].governed_by == "the asked range (block.place.y)"
    assert limits["left"].governed_by == "left wall: bay.width"


def test_what_stands_beside_the_box_does_not_count_before_it():
    bay = make_bay(keep_out=(keep_out("hatch", (1000.0, 1100.0), (600.0, 700.0), (0.0, 500.0)),))
    asked = place(x=(0.0, 900.0), y=(-300.0, 300.0))
    found = ask(bay, place=asked, **BARE)
    assert (
        sides(found)["cab"].next == "600.0 mm more is free beyond it, up to headboard: bay.length"
    )


@pytest.mark.parametrize("make", [tub, van, wagon, tray, inch_pickup])
@pytest.mark.parametrize("low", [1.0, 12.0, 250.0])
def test_the_search_and_the_limits_speak_of_the_same_box(make, low):
    solid = bay_solid(make())
    for face in FACES:
        asked = Ask(
            block="b",
            face=face,
            z=Span(low=low, high=low + 400.0),
            side_clear=5.0,
            end_clear=10.0,
            clear_at_face=45.0,
            lining=3.0,
            over_arches=False,
            obstacles=(),
        )
        view = view_of(solid=solid, skew=SQUARE, ask=asked)
        domain = Domain.whole(hugs="")
        for plan, _ in _plans(view, domain):
            solid_box, _ = limits_of(view=view, plan=plan, domain=domain, shown=plain_mm)
            ends = (*(solid_box.x.low, solid_box.x.high), *(solid_box.y.low, solid_box.y.high))
            assert all(abs(a - b) < 1e-6 for a, b in zip(ends, plan, strict=True)), (face, plan)


def test_blocks_stand_one_behind_the_other_at_tail_and_cab():
    first = ask(make_bay(length=2600.0), place=place(word="tail"), **BARE)
    assert first.hugs == "tail"
    standing = replace(first.box, x=Span(low=0.0, high=700.0))
    second = ask(
        make_bay(length=2600.0), place=place(word="cab"), obstacles=(standing,), face="left", **BARE
    )
    assert second.box == box((700.0, 2600.0), (-700.0, 700.0), (10.0, 435.0))
    assert sides(second)["tail"].governed_by == "a block that stands already"


def test_beside_another_block_on_its_freer_side():
    standing = box((0.0, 1500.0), (200.0, 700.0), (10.0, 435.0))
    found = ask(make_bay(), place=place(beside="fridge"), beside=standing, **BARE)
    assert found.box == box((0.0, 1500.0), (-700.0, 200.0), (10.0, 435.0))
    assert found.hugs == "left"
    assert sides(found)["left"].governed_by == "block 'fridge' beside it"


def test_beside_means_facing_it_and_not_across_a_corner():
    standing = box((0.0, 400.0), (0.0, 700.0), (10.0, 435.0))
    hatch = keep_out("hatch", (0.0, 700.0), (-600.0, 0.0), (0.0, 500.0))
    found = ask(make_bay(keep_out=(hatch,)), place=place(beside="fridge"), beside=standing, **BARE)
    # right of it stands the hatch: what is free beyond that is not beside it; before its cab end is
    assert found.box == box((400.0, 1500.0), (0.0, 700.0), (10.0, 435.0))
    assert found.hugs == "tail"


def test_beside_a_block_that_fills_the_width_is_behind_it():
    standing = box((0.0, 700.0), (-700.0, 700.0), (10.0, 435.0))
    found = ask(make_bay(), place=place(beside="fridge"), beside=standing, **BARE)
    assert found.box == box((700.0, 1500.0), (-700.0, 700.0), (10.0, 435.0))
    assert found.hugs == "tail"


def test_a_side_facing_block_keeps_the_face_clearance_at_its_wall():
    found = ask(tray(), face="left")
    # 905 - 1 - 50 on the left, 905 - 1 - 5 on the right; side clear at the tail
    assert (found.box.y.low, found.box.y.high) == (-899.0, 854.0)
    # it fills its doorway: 90 to 1690
    assert (found.box.x.low, found.box.x.high) == (90.0, 1690.0)
    assert sides(found)["tail"].governed_by == "the left doorway (bay.opening[2])"
    ranged = ask(tray(), face="left", place=place(x=(0.0, 2000.0)))
    assert (ranged.box.x.low, ranged.box.x.high) == (5.0, 1768.0)


def test_a_side_facing_block_in_a_van_stands_where_its_doorway_is_free():
    found = ask(van(), face="left")
    assert found.box.x.low == 1420.0
    assert found.box.y.size > 1550.0  # no arch there


def test_a_block_as_long_as_the_bay_loses_the_whole_lean_a_shorter_one_its_share():
    leaning = Skew(lean=-6.0, low=-8.0, high=-4.0, cause="side lean")
    whole = ask(make_bay(), skew=leaning, **BARE)
    assert whole.box.y.size == pytest.approx(1394.0, abs=1e-9)
    half = ask(make_bay(), skew=leaning, place=place(x=(0.0, 750.0)), **BARE)
    assert half.box.y.size == pytest.approx(1397.0, abs=1e-9)
    names = [line.what for line in sides(whole)["left"].allowances]
    assert names == ["lean of the side walls, half its share"]


def test_lean_that_the_half_widths_show_is_not_taken_twice():
    leaning = Skew(lean=6.0, low=4.0, high=8.0, cause="side lean")
    bay = make_bay(
        widths=(
            width(0.0, 0.0, left=700.0, right=700.0),
            width(1500.0, 0.0, left=706.0, right=694.0),
        )
    )
    found = ask(bay, skew=leaning, **BARE)
    assert (found.box.y.low, found.box.y.high) == (-694.0, 700.0)


def test_a_headboard_that_may_be_out_of_square_counts_beyond_the_end_clearance():
    unknown = Skew(lean=6.0, low=4.0, high=8.0, cause="not known which")
    # at 700 off the centre line a corner may stand 2 x 6 / 1500 x 697 = 5.576 nearer
    assert ask(make_bay(), skew=unknown).box.x.high == 1490.0
    bare = ask(make_bay(), skew=unknown, **BARE)
    assert bare.box.x.high == pytest.approx(1500.0 - 5.576, abs=0.01)  # the box's own length counts


def test_no_room_is_refused_with_the_block_named():
    with pytest.raises(DesignError, match="drawers: no room"):
        ask(make_bay(), place=place(x=(1600.0, 1800.0)))
    with pytest.raises(DesignError, match="no height is left"):
        ask(make_bay(), place=place(z=(500.0, 800.0)))


def test_too_high_for_the_roof_is_told_and_not_refused():
    found = ask(make_bay(clear_height=430.0, reading_error=2.0))
    assert sides(found)["top"].next.startswith("stands 7.0 mm above bay.clear_height")


def test_lengths_in_the_limits_are_printed_as_asked():
    found = ask(
        make_bay(), place=place(x=(0.0, 900.0)), shown=lambda length: f"{length / 25.4:.2f} in"
    )
    assert "23.23 in more is free" in sides(found)["cab"].next  # 590 mm


def test_walls_that_narrow_steeply_are_followed_to_the_greatest_volume():
    bay = make_bay(
        length=1400.0,
        widths=(width(0.0, 0.0, 1400.0), width(700.0, 0.0, 1400.0), width(1400.0, 0.0, 600.0)),
    )
    found = ask(bay, **BARE)
    # (700 + t)(1400 - 8t/7) is greatest at t = 262.5: 962.5 x 1100
    assert found.box.x.high == pytest.approx(962.5, abs=0.01)
    assert found.box.y.size == pytest.approx(1100.0, abs=0.02)
    assert "greatest volume" in sides(found)["cab"].governed_by


@pytest.mark.parametrize("make", [tub, van, wagon, tray, inch_pickup])
def test_each_limit_adds_up_to_its_side(make):
    unknown = Skew(lean=4.4, low=1.5, high=7.3, cause="not known which")
    found = ask(make(), skew=unknown, lining=3.0)
    ends = {
        "tail": found.box.x.low,
        "cab": found.box.x.high,
        "left": found.box.y.high,
        "right": found.box.y.low,
        "floor": found.box.z.low,
        "top": found.box.z.high,
    }
    assert {limit.side for limit in found.limits} == set(ends)
    for limit in found.limits:
        total = limit.at + sum(line.value for line in limit.allowances)
        assert total == pytest.approx(ends[limit.side], abs=1e-9), limit.side  # rounding only
        assert limit.governed_by
        assert limit.next


# --- against an independent model ----------------------------------------------------------------


@st.composite
def bays(draw):
    """A bay with taper, leaning walls, arches, a leaning tail and headboard, and a keep-out."""
    long = draw(st.floats(1000.0, 2600.0))
    wide = draw(st.floats(1200.0, 1700.0))
    near = st.floats(-12.0, 12.0)
    widths = [
        width(0.0, 0.0, left=wide / 2.0 + draw(near), right=wide / 2.0 + draw(near)),
        width(long, 0.0, left=wide / 2.0 + draw(near), right=wide / 2.0 + draw(near)),
    ]
    if draw(st.booleans()):
        widths.append(width(long / 2.0, 300.0, wide + draw(st.floats(-60.0, 60.0))))
    lengths = [
        length(0.0, -500.0, long + draw(near)),
        length(0.0, 500.0, long + draw(near)),
        length(400.0, 0.0, long + draw(near)),
    ]
    arches, clear = (), ()
    if draw(st.booleans()):
        start = draw(st.floats(0.05, 0.5)) * long
        end = start + draw(st.floats(0.2, 0.45)) * long
        height = draw(st.floats(100.0, 300.0))
        arches = tuple(
            arch(side, start + draw(near), end + draw(near), height, draw(st.floats(80.0, 240.0)))
            for side in ("left", "right")
        )
        if draw(st.booleans()):
            reaches = sum(a.reach for a in arches)
            clear = (between((start + end) / 2.0, 0.0, wide - reaches + draw(near)),)
    keep = ()
    if draw(st.booleans()):
        at = draw(st.floats(0.0, 0.8)) * long
        keep = (keep_out("box", (at, at + 150.0), (wide / 2.0 - 120.0, wide), (100.0, 300.0)),)
    return make_bay(
        length=long,
        width=wide,
        widths=tuple(widths),
        lengths=tuple(lengths),
        arches=arches,
        between=clear,
        keep_out=keep,
        tail_lean=draw(st.sampled_from([(), (lean(400.0, 40.0),)])),
        cove=draw(st.sampled_from([0.0, 25.0])),
    )


def heights_of(bay, z):
    """Heights at which the bay changes, and a few more."""
    marks = {z.low, z.high, 25.0, 300.0, 400.0, *np.linspace(z.low, z.high, 5)}
    marks.update(a.height for a in bay.arches)
    return sorted(h for h in marks if z.low <= h <= z.high)


def fillet(bay, z):
    return bay.cove - np.sqrt(bay.cove**2 - (bay.cove - z) ** 2) if z < bay.cove else 0.0


#: The model rules its curves every 20 mm and moves a fillet square to a slanted wall, we along y.
MODEL_MM = 0.02


@settings(max_examples=60, deadline=None)
@given(bay=bays(), low=st.floats(1.0, 320.0), tall=st.floats(60.0, 400.0))
def test_the_box_lies_in_the_bay_and_a_millimetre_more_would_not(bay, low, tall):
    # nothing is taken off above an arch in the model: keep out of that strip
    assume(all(not a.height < low < a.height + 10.0 for a in bay.arches))
    z = Span(low=low, high=low + tall)
    found = ask(bay, z=z, **BARE).box
    free = [bay_model.polygon_at(bay, h, cove=fillet(bay, h)) for h in heights_of(bay, z)]
    rect = bay_model.in_plan(found).buffer(-MODEL_MM, join_style="mitre")
    assert all(area.contains(rect) for area in free)
    x, y = found.x, found.y
    grown = {
        "tail": rectangle(x.low - 1.0, y.low, x.high, y.high),
        "cab": rectangle(x.low, y.low, x.high + 1.0, y.high),
        "right": rectangle(x.low, y.low - 1.0, x.high, y.high),
        "left": rectangle(x.low, y.low, x.high, y.high + 1.0),
    }
    outside = {
        side for side, rect in grown.items() if any(rect.difference(a).area > 1e-3 for a in free)
    }
    assert outside == set(grown)


@settings(max_examples=25, deadline=None)
@given(bay=bays(), low=st.floats(1.0, 320.0))
def test_no_box_of_a_brute_search_is_larger(bay, low):
    assume(all(not a.height < low < a.height + 10.0 for a in bay.arches))
    z = Span(low=low, high=low + 120.0)
    # a barred face counts half: take the greatest box of the three faces
    best = max(
        found.x.size * found.y.size
        for found in (ask(bay, z=z, face=face, **BARE).box for face in FACES)
    )
    free = [bay_model.polygon_at(bay, h, cove=fillet(bay, h)) for h in heights_of(bay, z)]
    area = free[0]
    for other in free[1:]:
        area = area.intersection(other)
    assert brute(area) <= best * 1.001  # the grid's own step is far coarser


def brute(area):
    """The largest rectangle in a polygon with its ends on a 40 mm grid and at the corners' x."""
    low_x, low_y, high_x, high_y = area.bounds
    xs = np.linspace(low_x, high_x, 40)
    ys = np.linspace(low_y, high_y, 160)
    low_corners = np.meshgrid(xs[:-1], ys[:-1], indexing="ij")
    high_corners = np.meshgrid(xs[1:], ys[1:], indexing="ij")
    prepare(area)
    inside = contains(area, boxes(*low_corners, *high_corners))
    best = 0.0
    for i in range(len(xs) - 1):
        rows = np.ones(len(ys) - 1, dtype=bool)
        for k in range(i, len(xs) - 1):
            rows &= inside[k]
            run = longest = 0
            for free in rows:
                run = run + 1 if free else 0
                longest = max(longest, run)
            best = max(best, (xs[k + 1] - xs[i]) * longest * (ys[1] - ys[0]))
    return best


def test_a_block_facing_the_tail_of_a_wagon_keeps_clear_of_its_opening_glass():
    found = ask(wagon(), z=Span(low=12.0, high=600.0))
    # 30 + (210 - 30) x 300 / 400 = 165 at 600; 3 error, 50 clear
    assert found.box.x.low == pytest.approx(218.0, abs=1e-9)


def test_warnings_name_what_was_not_read():
    assert ask(make_bay()).warnings == ()  # one length and one width: an assumption
    floor = make_bay(widths=(width(0.0, 0.0, 1400.0), width(1500.0, 0.0, 1400.0)))
    assert any("no width was read above" in text for text in ask(floor).warnings)
    assert any("no length was read above" in text for text in ask(floor).warnings)
    bay = make_bay(
        widths=(width(0.0, 0.0, 1400.0), width(0.0, 420.0, 1410.0)),
        lengths=(length(0.0, 0.0, 1500.0), length(430.0, 0.0, 1490.0)),
        openings=(opening("tail", 1300.0),),
    )
    assert ask(bay).warnings == ()
