"""Plane areas and volumes of parts. Outside checks: shapely's areas of fine polygons."""

from dataclasses import replace
from itertools import pairwise
from math import pi

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.model.part import Feature, Part
from stowright.model.part_area import face_area_mm2, polygon_area_mm2, volume_mm3

L, W, T = 400.0, 300.0, 15.0


def feature(at, size, *, face="good", depth=T, through=False, radius=0.0, kind="hole"):
    return Feature(
        kind=kind,
        face=face,
        at=at,
        size=size,
        depth=depth,
        through=through,
        purpose="test",
        radius=radius,
    )


def panel(*features, outline=((0, 0), (L, 0), (L, W), (0, W))):
    return Part(
        mark="A1",
        name="panel",
        role="panel",
        block="b",
        module="1",
        material="ply-15",
        length=L,
        width=W,
        thickness=T,
        outline=outline,
        quantity=1,
        grain="long",
        hand="",
        mirrored=False,
        release="A",
        waits_for="",
        edges=(),
        front_edge="",
        features=features,
        mass_kg=0.0,
        origin_note="",
    )


def test_a_plain_panel_is_length_by_width_by_thickness():
    assert volume_mm3(panel()) == pytest.approx(L * W * T)
    assert face_area_mm2(panel()) == pytest.approx(L * W)


def test_a_round_hole_takes_pi_r_squared_times_its_depth():
    shallow = panel(feature((100, 100), (35.0,), depth=12.0))
    assert volume_mm3(shallow) == pytest.approx(L * W * T - pi * 17.5**2 * 12.0)
    assert face_area_mm2(shallow) == pytest.approx(L * W)
    through = panel(feature((100, 100), (35.0,), through=True))
    assert face_area_mm2(through) == pytest.approx(L * W - pi * 17.5**2)


def test_a_depth_beyond_the_thickness_is_through_and_no_more():
    deep = panel(feature((100, 100), (10.0,), depth=80.0, face="back"))
    assert volume_mm3(deep) == pytest.approx((L * W - pi * 25.0) * T)


def test_a_groove_that_runs_into_a_rebate_is_counted_once():
    groove = feature((0, 10), (L, 12), depth=6.0, kind="groove")
    rebate = feature((0, 0), (15, W), depth=9.0, kind="rebate")
    # rebate 15 × 300 × 9, groove 385 × 12 × 6 beside it
    assert volume_mm3(panel(groove, rebate)) == pytest.approx(
        L * W * T - 15 * 300 * 9 - 385 * 12 * 6
    )


def test_grooves_on_opposite_faces_are_both_counted():
    one = feature((50, 0), (10, W), depth=5.0, kind="groove")
    other = feature((50, 0), (10, W), depth=5.0, kind="groove", face="back")
    assert volume_mm3(panel(one, other)) == pytest.approx(L * W * T - 2 * 10 * W * 5)


def test_a_through_hole_in_a_groove_takes_only_what_the_groove_left():
    groove = feature((0, 50), (L, 40), depth=6.0, kind="groove")
    hole = feature((200, 70), (10.0,), through=True)
    assert volume_mm3(panel(groove, hole)) == pytest.approx(
        L * W * T - L * 40 * 6 - pi * 25.0 * 9.0
    )


def test_a_notch_that_the_outline_already_shows_is_not_taken_twice():
    outline = ((0, 0), (L, 0), (L, W), (250, W), (250, W - 40), (150, W - 40), (150, W), (0, W))
    notch = feature((150, W - 40), (100, 40), through=True, kind="notch")
    assert volume_mm3(panel(notch, outline=outline)) == pytest.approx((L * W - 100 * 40) * T)
    assert face_area_mm2(panel(notch, outline=outline)) == pytest.approx(L * W - 100 * 40)


def test_a_hole_half_over_the_edge_takes_half_of_itself():
    assert volume_mm3(panel(feature((200, 0), (60.0,), through=True))) == pytest.approx(
        (L * W - pi * 900.0 / 2.0) * T
    )


def test_a_hole_drilled_into_an_edge():
    for face, along in (("u0", 150.0), ("u1", 150.0), ("v0", 200.0), ("v1", 200.0)):
        pilot = feature((along, T / 2), (3.0,), face=face, depth=40.0, kind="pilot")
        assert volume_mm3(panel(pilot)) == pytest.approx(L * W * T - pi * 2.25 * 40.0)


def test_a_hole_into_a_rebated_edge_counts_from_the_rebate():
    rebate = feature((0, 0), (15, W), depth=9.0, kind="rebate")
    pilot = feature((150, 9.0), (3.0,), face="u0", depth=40.0, kind="pilot")
    assert volume_mm3(panel(rebate, pilot)) == pytest.approx(
        L * W * T - 15 * W * 9 - pi * 2.25 * 25.0
    )


def test_a_hole_into_the_edge_of_a_notch_counts_only_the_wood():
    outline = ((0, 0), (L, 0), (L, W), (250, W), (250, W - 40), (150, W - 40), (150, W), (0, W))
    pilot = feature((200, 7.5), (3.0,), face="v1", depth=60.0, kind="pilot")
    assert volume_mm3(panel(pilot, outline=outline)) == pytest.approx(
        (L * W - 100 * 40) * T - pi * 2.25 * 20.0
    )


def test_a_tongue_made_from_an_edge_is_a_rectangle_over_its_height():
    cut = feature((0, 9), (W, 6), face="u1", depth=10.0, kind="rebate")
    assert volume_mm3(panel(cut)) == pytest.approx(L * W * T - W * 6 * 10)


def test_a_hand_hole_with_round_ends():
    hole = feature((100, 100), (100, 35), through=True, radius=17.5, kind="hand-hole")
    assert face_area_mm2(panel(hole)) == pytest.approx(L * W - 65 * 35 - pi * 17.5**2)


def test_the_sign_of_a_polygon_area_is_its_sense():
    assert polygon_area_mm2(((0, 0), (2, 0), (2, 3), (0, 3))) == 6.0
    assert polygon_area_mm2(((0, 3), (2, 3), (2, 0), (0, 0))) == -6.0


WING = ((0, 20), (120, 0), (260, 35), (L, 10), (L, W), (210, W), (190, 220), (0, W))


@st.composite
def pockets(draw):
    u, v = draw(st.floats(-30, L)), draw(st.floats(-30, W))
    depth = draw(st.sampled_from((4.0, 6.0, 9.0, T)))
    face = draw(st.sampled_from(("good", "back")))
    if draw(st.booleans()):
        return feature((u, v), (draw(st.floats(2.0, 120.0)),), depth=depth, face=face)
    size = (draw(st.floats(2.0, 300.0)), draw(st.floats(2.0, 200.0)))
    return feature((u, v), size, depth=depth, face=face, radius=draw(st.floats(0.0, 25.0)))


def fine_polygon(f):
    if len(f.size) == 1:
        return shapely.Point(f.at).buffer(f.size[0] / 2.0, quad_segs=400)
    (u, v), (along, across) = f.at, f.size
    r = min(f.radius, along / 2.0, across / 2.0)
    if r <= 1e-3:
        return shapely.box(u, v, u + along, v + across)
    if min(along, across) - 2.0 * r < 1e-6:
        r -= 1e-6
    return shapely.box(u + r, v + r, u + along - r, v + across - r).buffer(r, quad_segs=400)


@settings(max_examples=60, deadline=None)
@given(st.lists(pockets(), max_size=6))
def test_any_heap_of_features_agrees_with_fine_polygons(features):
    """shapely, circles as 1600-gons: each is short by 2.6e-6 of its area, hence 1e-5 of the sum."""
    outline = shapely.Polygon(WING)
    expected = 0.0
    levels = sorted({0.0, T, 4.0, 6.0, 9.0, T - 4.0, T - 6.0, T - 9.0})
    for low, high in pairwise(levels):
        middle = (low + high) / 2.0
        active = [
            fine_polygon(f)
            for f in features
            if (middle > T - f.depth if f.face == "good" else middle < f.depth)
        ]
        expected += outline.difference(shapely.union_all(active)).area * (high - low)
    assert volume_mm3(panel(*features, outline=WING)) == pytest.approx(
        expected, rel=1e-5, abs=outline.area * T * 1e-5
    )


@given(shift=st.floats(0.0, 90.0))
def test_volume_does_not_depend_on_where_a_feature_stands(shift):
    part = panel(feature((100.0 + shift, 150.0), (40.0,), depth=7.0))
    assert volume_mm3(part) == pytest.approx(volume_mm3(replace(part, mirrored=True)))
    assert volume_mm3(part) == pytest.approx(L * W * T - pi * 400.0 * 7.0)
