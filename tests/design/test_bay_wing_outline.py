"""Wings: offsets from the centre line, steps, and the void under them."""

import bay_model
import numpy as np
import pytest
from bays import arch, between, keep_out, make_bay, tub, van, wagon, width

from stowright.design.wing_outline import wing_outline
from stowright.errors import OutOfRangeError
from stowright.model.geometry import Span


@pytest.mark.parametrize("side", ["left", "right"])
def test_offsets_every_100_follow_the_wall_as_read_less_the_scribe_gap(side):
    bay = tub()
    found = wing_outline(bay=bay, side=side, x=Span(low=70.0, high=1460.0), z=441.0, inner_y=545.0)
    xs = [x for x, _ in found.offsets]
    assert xs == [*(70.0 + 100.0 * k for k in range(14)), 1460.0]
    walls = bay_model.half_width(bay, side, xs, 441.0)
    assert [y for _, y in found.offsets] == pytest.approx(list(walls - 6.0), abs=1e-9)
    assert found.scribe_gap == 6.0


def test_left_and_right_are_apart():
    bay = make_bay(widths=(width(0.0, 440.0, left=705.0, right=690.0),))
    span = Span(low=0.0, high=500.0)
    left, right = (
        wing_outline(bay=bay, side=side, x=span, z=440.0, inner_y=545.0, scribe_gap=5.0)
        for side in ("left", "right")
    )
    assert {y for _, y in left.offsets} == {700.0}
    assert {y for _, y in right.offsets} == {685.0}


@pytest.mark.parametrize(
    ("read_at", "measured"), [(400.0, True), (390.9, False), (491.0, True), (0.0, False)]
)
def test_a_wing_waits_where_no_width_was_read_near_its_height(read_at, measured):
    bay = make_bay(widths=(width(700.0, read_at, 1400.0),))
    span = Span(low=0.0, high=500.0)
    found = wing_outline(bay=bay, side="left", x=span, z=441.0, inner_y=545.0)
    assert found.measured is measured


def test_it_steps_round_an_arch_only_where_the_arch_crosses_its_sheet():
    bay = wagon()  # arches 315 high from 140 to 980, reach 132
    span = Span(low=40.0, high=1100.0)
    low = wing_outline(bay=bay, side="left", x=span, z=300.0, inner_y=520.0)
    assert [(x, y) for x, y in low.offsets if x in {140.0, 980.0}] == [
        (140.0, 664.0),
        (140.0, 532.0),
        (980.0, 532.0),
        (980.0, 664.0),
    ]
    above = wing_outline(bay=bay, side="left", x=span, z=330.0, inner_y=520.0)
    assert {y for _, y in above.offsets} == {664.0}
    thick = wing_outline(bay=bay, side="left", x=span, z=325.0, inner_y=520.0, thickness=12.0)
    assert 532.0 in {y for _, y in thick.offsets}


def test_it_steps_round_a_keep_out_on_its_own_side():
    bay = make_bay(
        keep_out=(keep_out("lamp housing", (0.0, 120.0), (590.0, 700.0), (180.0, 460.0)),)
    )
    span = Span(low=50.0, high=450.0)
    left, right = (
        wing_outline(bay=bay, side=side, x=span, z=441.0, inner_y=545.0)
        for side in ("left", "right")
    )
    assert left.offsets == (
        (50.0, 584.0),
        (120.0, 584.0),
        (120.0, 694.0),
        (150.0, 694.0),
        (250.0, 694.0),
        (350.0, 694.0),
        (450.0, 694.0),
    )
    assert {y for _, y in right.offsets} == {694.0}


def test_the_void_over_an_arch_by_hand():
    bay = make_bay(arches=(arch("left", 300.0, 900.0, 200.0, 100.0),))
    span = Span(low=0.0, high=1000.0)
    found = wing_outline(bay=bay, side="left", x=span, z=400.0, inner_y=550.0)
    # 1000 x 150 x 400 less 600 x 100 x 200
    assert found.void_litres == pytest.approx(60.0 - 12.0, abs=1e-9)
    sheet = wing_outline(bay=bay, side="left", x=span, z=400.0, inner_y=550.0, thickness=12.0)
    assert sheet.void_litres == pytest.approx(60.0 - 12.0 - 1.8, abs=1e-9)
    kept = make_bay(keep_out=(keep_out("box", (100.0, 200.0), (600.0, 900.0), (100.0, 200.0)),))
    lamp = wing_outline(bay=kept, side="left", x=span, z=400.0, inner_y=550.0)
    assert lamp.void_litres == pytest.approx(60.0 - 1.0, abs=1e-9)


@pytest.mark.parametrize("make", [tub, van], ids=["tub", "van"])
def test_the_void_against_numerical_integration(make):
    bay = make(keep_out=())
    span, top, inner = Span(low=60.0, high=1300.0), 430.0, 545.0
    found = wing_outline(bay=bay, side="left", x=span, z=top, inner_y=inner)

    xs = np.arange(span.low + 5.0, span.high, 10.0)
    total = 0.0
    for z in np.arange(2.5, top, 5.0):
        near = bay_model.half_width(bay, "left", xs, z)
        for one in bay.arches:
            if one.side == "left" and z < one.height:
                inner_y = bay_model.arch_inner(bay, one, xs, z)
                near = np.where((xs > one.start) & (xs < one.end), inner_y, near)
        total += np.clip(near - inner, 0.0, None).sum() * 10.0 * 5.0 / 1.0e6
    # midpoint rule; at an arch's edges it is out by half a cell of one face
    assert found.void_litres == pytest.approx(total, rel=0.01)


def test_an_arch_known_by_a_reading_between_only_steps_nothing_and_gives_no_void():
    bay = make_bay(between=(between(700.0, 0.0, 1100.0),))
    span = Span(low=0.0, high=500.0)
    found = wing_outline(bay=bay, side="left", x=span, z=440.0, inner_y=550.0)
    assert {y for _, y in found.offsets} == {694.0}
    assert found.void_litres == 0.0


def test_an_empty_range_is_refused():
    with pytest.raises(OutOfRangeError, match="wing_length"):
        wing_outline(bay=make_bay(), side="left", x=Span(low=5.0, high=5.0), z=400.0, inner_y=550.0)
