"""Openings for hands, latches, handles, cables and air."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import fixing_checks as check
import pytest
from fixing_pieces import SHELF, THICKNESS, panel, runner_fit, slab, worked_example

from stowright.design.build import design
from stowright.design.cut_outs import cut_outs, handle_for
from stowright.design.fixings import fix_joints
from stowright.design.pieces import with_features
from stowright.jobfile import read_job
from stowright.model.geometry import Box, Span
from stowright.model.job import Build, Fill


def fill(name="meters", kind="drawer", **changes):
    base = Fill(
        fill=kind,
        name=name,
        height=None,
        weight=1.0,
        least=None,
        door="",
        lock="",
        latch="",
        net=False,
        sides=0.0,
        cable_way=0.0,
        vent=0.0,
        build=Build(),
    )
    return replace(base, **changes)


def cut(unit=None, **asked):
    unit = unit or worked_example()
    fills = {"meters": fill(**asked), "ropes": fill("ropes")}
    return unit, cut_outs(unit.pieces, unit.blocks, fills, SHELF, THICKNESS)


def in_bay(piece, feature):
    """The box a rectangle takes up, by the piece's own axes."""
    u, v = feature.at
    du, dv = (*feature.size, feature.size[0])[:2] if len(feature.size) > 1 else (0.0, 0.0)
    corners = []
    for a, b, w in ((u, v, 0.0), (u + du, v + dv, piece.thickness)):
        corners.append(
            [
                o + a * piece.axes[0][k] + b * piece.axes[1][k] + w * piece.axes[2][k]
                for k, o in enumerate(piece.origin)
            ]
        )
    spans = [Span(low=min(p, q), high=max(p, q)) for p, q in zip(*corners, strict=True)]
    return Box(x=spans[0], y=spans[1], z=spans[2])


def only(result, piece_id, kind):
    return [f for piece, f in result.features if piece == piece_id and f.kind == kind]


def test_a_hand_hole_lies_at_one_place_in_front_and_inner_front():
    unit, result = cut()
    front, inner = (unit.piece(f"meters/{n}") for n in ("front", "inner-front"))
    (outer,), (behind,) = (only(result, p.id, "hand-hole") for p in (front, inner))
    one, two = in_bay(front, outer), in_bay(inner, behind)
    for a, b in ((one.y, two.y), (one.z, two.z)):
        assert (a.low, a.high) == pytest.approx((b.low, b.high), abs=1e-3)
    assert one.y.size == pytest.approx(100.0)
    assert one.z.size == pytest.approx(30.0)
    assert one.y.middle == pytest.approx((front.box.y.low + front.box.y.high) / 2.0)
    assert outer.through
    assert outer.radius == 15.0


def test_openings_leave_wood_to_every_edge_and_miss_the_groove():
    unit, result = cut()
    for piece in with_features(unit.pieces, result.features):
        assert check.overlapping_features(piece, piece.features) == []
        for feature in piece.features:
            if feature.kind == "hand-hole":
                (u, v), (du, dv) = feature.at, feature.size
                assert min(u, v, piece.length - u - du, piece.width - v - dv) >= 25.0 - 1e-6


def test_a_deep_latch_is_let_in_and_a_flat_one_lies_on():
    deep, result = cut(worked_example(fit=runner_fit(latch="slam-latch")))
    assert len(only(result, "meters/front", "cut-out")) == 1
    assert len(only(result, "meters/inner-front", "cut-out")) == 1
    size = only(result, "meters/inner-front", "cut-out")[0].size
    assert sorted(size) == [50.0, 60.0]
    for piece in with_features(deep.pieces, result.features):
        assert check.overlapping_features(piece, piece.features) == []
    _, flat = cut(worked_example(fit=runner_fit(latch="barrel-bolt")))
    assert not only(flat, "meters/front", "cut-out")


def with_handle(projection):
    unit = worked_example()
    build = replace(unit.openings[0].build, handle_projection=projection)
    own = tuple(replace(o, build=build) for o in unit.openings)
    return replace(unit, blocks=(replace(unit.blocks[0], openings=own),))


def test_a_handle_gets_two_level_holes_through_both():
    unit, result = cut(with_handle(35.0))
    assert handle_for(SHELF, 35.0).name == "pull-handle"
    assert not only(result, "meters/front", "hand-hole")
    for name in ("front", "inner-front"):
        one, two = only(result, f"meters/{name}", "hole")
        assert one.at[1] == two.at[1]
        assert abs(one.at[0] - two.at[0]) == pytest.approx(110.0)
    front, inner = (unit.piece(f"meters/{n}") for n in ("front", "inner-front"))
    spots = [
        sorted(p.origin[1] + f.at[0] * p.axes[0][1] for f in only(result, p.id, "hole"))
        for p in (front, inner)
    ]
    assert spots[0] == pytest.approx(spots[1], abs=1e-3)


def test_a_projection_that_no_handle_keeps_is_said():
    _, result = cut(with_handle(5.0))
    assert any("no handle in the catalogue" in text for text in result.warnings)


def test_a_cable_way_goes_through_the_back_low_at_one_side():
    unit, result = cut(cable_way=60.0)
    back = unit.piece("drawers/1/back")
    (hole,) = only(result, back.id, "hole")
    assert hole.size == (60.0,)
    assert hole.through
    u, v = hole.at
    assert v == pytest.approx(25.0 + 30.0)
    assert min(u, back.length - u) == pytest.approx(25.0 + 30.0)
    assert not only(result, "drawers/2/back", "hole")


def test_a_vent_has_the_free_area_asked_for_half_of_it_high():
    unit, result = cut(vent=120.0)
    slots = only(result, "drawers/1/back", "vent")
    each = 80.0 * 20.0 + pi * 10.0**2  # a slot 100 x 20 with round ends
    assert len(slots) * each / 100.0 >= 120.0
    assert (len(slots) - 1) * each / 100.0 < 120.0
    middle = unit.piece("drawers/1/back").width / 2.0
    high = sum(slot.at[1] > middle for slot in slots)
    assert 0 < high < len(slots)
    back = with_features((unit.piece("drawers/1/back"),), result.features)[0]
    assert check.overlapping_features(back, back.features) == []


def test_a_vent_larger_than_the_back_is_said_with_what_is_short():
    _, result = cut(vent=5000.0)
    assert any("less than asked for" in text for text in result.warnings)


def test_without_a_back_there_is_nothing_to_cut():
    unit = worked_example()
    open_back = replace(unit, pieces=tuple(p for p in unit.pieces if p.role != "carcass-back"))
    _, result = cut(open_back, vent=50.0, cable_way=40.0)
    assert any("no back panel" in note for note in result.notes)
    assert not any(f.kind == "vent" for _, f in result.features)


@pytest.mark.parametrize(("door", "high"), [("drop", True), ("lift", False)])
def test_a_doors_hand_hole_is_at_its_free_edge(door, high):
    unit = worked_example()
    leaf = panel(
        "meters/door",
        "door",
        slab((0.0, 14.6), (17.6, 532.4), (27.6, 417.4)),
        ("-y", "+z", "-x"),
        module="1",
        opening="meters",
        body="meters",
    )
    kept = [p for p in unit.pieces if p.opening != "meters"]
    opening = replace(unit.openings[0], fill="locker", runner=None, box=None)
    blocks = (replace(unit.blocks[0], openings=(opening,)),)
    locker = replace(unit, pieces=(*kept, leaf), blocks=blocks)
    _, result = cut(locker, kind="locker", door=door)
    (hole,) = only(result, "meters/door", "hand-hole")
    (latch,) = only(result, "meters/door", "cut-out")  # the door's latch, first on the shelf
    for feature in (hole, latch):
        assert (feature.at[1] > leaf.width / 2.0) == high


def test_a_front_too_low_for_a_hand_is_said():
    unit = worked_example()
    low = tuple(
        replace(p, width=70.0) if p.id in {"meters/front", "meters/inner-front"} else p
        for p in unit.pieces
    )
    _, result = cut(replace(unit, pieces=low))
    assert any("no room for a hand-hole" in text for text in result.warnings)


def test_joint_screws_keep_clear_of_a_hand_hole():
    unit, result = cut()
    pieces = with_features(unit.pieces, result.features)
    screws = fix_joints(pieces, unit.drafts, SHELF, THICKNESS)
    for piece in with_features(pieces, screws.features):
        assert check.overlapping_features(piece, piece.features) == []
        holes = [f for f in piece.features if f.kind == "hand-hole"]
        for opening in holes:
            shape = check.prism(piece, opening)[0]
            around = [check.prism(piece, f)[0] for f in piece.features if f.fixing]
            assert min(shape.distance(other) for other in around) >= 12.0


NARROW = """
format = 1
[job]
title = "invented"
[bay]
kind = "tray"
length = 900
width = {width}
rail = 500
[[block]]
name = "b"
columns = [ {{stack = [ {{fill = "drawer", name = "slim"}} ]}} ]
[build]
lever = "none"
"""


@pytest.mark.parametrize(
    ("width", "size", "purpose"),
    [
        (300, (100.0, 30.0), "hand-hole"),
        (240, (75.0, 30.0), "hand-hole"),
        (200, (35.0, 35.0), "finger hole"),
    ],
)
def test_a_front_too_narrow_for_a_hand_has_a_hole_for_fewer_fingers(width, size, purpose):
    made = design(read_job(NARROW.format(width=width)), SHELF)
    front = next(p for p in made.parts if p.role == "drawer-front")
    (hole,) = [f for f in front.features if f.kind == "hand-hole"]
    assert (hole.size, hole.radius, hole.purpose) == (size, size[1] / 2.0, purpose)
