"""Where two pieces touch, and which of their faces meet."""

from __future__ import annotations

import pytest
from fixing_pieces import T, panel, slab
from hypothesis import given
from hypothesis import strategies as st

from stowright.design.contacts import contact_of
from stowright.design.fixing_space import body_of, feature_solid
from stowright.model.part import Feature

SIDE = panel(
    "side",
    "carcass-side",
    slab((0.0, 1450.0), (535.4, 550.0), (10.0, 435.0)),
    ("+x", "+z", "-y"),
)
FLOOR = panel(
    "floor", "carcass-floor", slab((0.0, 1450.0), (14.6, 535.4), (10.0, 24.6)), ("+x", "+y", "+z")
)


def test_a_side_and_a_floor_share_the_floors_edge():
    contact = contact_of(body_of(SIDE), body_of(FLOOR))
    assert contact is not None
    assert contact.into_edge
    assert contact.axis == 1
    assert contact.sign == -1.0
    assert contact.passes == pytest.approx(T)
    assert contact.bite_room == pytest.approx(520.8)
    assert contact.span(0).size == pytest.approx(1450.0)
    assert contact.span(2).size == pytest.approx(14.6)
    assert contact.head_face == "back"  # the good face looks inside, the head sits outside
    assert contact.bitten_face == "v1"  # the floor's v runs to the left


def test_a_piece_that_touches_with_its_edge_changes_places():
    turned = contact_of(body_of(FLOOR), body_of(SIDE))
    assert turned is not None
    assert turned.receiver.id == "side"


def test_a_let_in_floor_leaves_less_wood_to_pass():
    let_in = panel(
        "floor",
        "carcass-floor",
        slab((0.0, 1450.0), (8.6, 541.4), (10.0, 24.6)),
        ("+x", "+y", "+z"),
    )
    contact = contact_of(body_of(SIDE), body_of(let_in))
    assert contact is not None
    assert contact.passes == pytest.approx(T - 6.0)


def test_face_on_face_is_not_an_edge():
    other = panel(
        "other",
        "carcass-side",
        slab((0.0, 1450.0), (520.8, 535.4), (10.0, 435.0)),
        ("+x", "+z", "-y"),
    )
    contact = contact_of(body_of(SIDE), body_of(other))
    assert contact is not None
    assert not contact.into_edge


@pytest.mark.parametrize(
    "box",
    [
        slab((0.0, 1450.0), (14.6, 530.0), (10.0, 24.6)),  # 5.4 apart
        slab((0.0, 1450.0), (14.6, 535.4), (435.0, 449.6)),  # corner to corner
        slab((1450.0, 1500.0), (500.0, 535.4), (10.0, 24.6)),  # along one line only
    ],
    ids=["apart", "corner", "line"],
)
def test_pieces_that_do_not_share_a_face_have_no_contact(box):
    other = panel("other", "shelf", box, ("+x", "+y", "+z"))
    assert contact_of(body_of(SIDE), body_of(other)) is None


def test_two_edges_take_no_screw():
    strip = panel(
        "strip", "deck", slab((1450.0, 1600.0), (14.6, 535.4), (10.0, 24.6)), ("+x", "+y", "+z")
    )
    assert contact_of(body_of(FLOOR), body_of(strip)) is None


LIES = [("+x", "+z", "-y"), ("+x", "+z", "+y"), ("-y", "+z", "-x"), ("+y", "-x", "+z")]


@given(
    lie=st.sampled_from(LIES),
    u=st.floats(0.0, 80.0),
    v=st.floats(0.0, 80.0),
    w=st.floats(0.0, 15.0),
)
def test_a_point_goes_to_the_piece_and_back(lie, u, v, w):
    box = {"x": (3.0, 103.0), "y": (-40.0, 60.0), "z": (7.0, 107.0)}
    box[lie[2][1]] = (5.0, 20.0)
    piece = panel("piece", "shelf", slab(box["x"], box["y"], box["z"]), lie)
    body = body_of(piece)
    point = tuple(
        o + sum(c * axis[k] for c, axis in zip((u, v, w), piece.axes, strict=True))
        for k, o in enumerate(piece.origin)
    )
    # 0.0001 is what features are rounded to
    assert body.uvw(point) == pytest.approx((u, v, w), abs=1e-4)
    assert piece.to_local(point) == pytest.approx((u, v, w), abs=1e-9)


@pytest.mark.parametrize(
    ("face", "expected"),
    [
        ("u0", (0.0, 20.0, 28.0, 32.0, 5.0, 9.0)),
        ("v1", (28.0, 32.0, 80.0, 100.0, 5.0, 9.0)),
        ("good", (28.0, 32.0, 5.0, 9.0, -5.0, 15.0)),
    ],
)
def test_a_hole_takes_up_the_wood_it_is_drilled_from(face, expected):
    piece = panel("p", "shelf", slab((0.0, 100.0), (0.0, 100.0), (0.0, 15.0)), ("+x", "+y", "+z"))
    hole = Feature(
        kind="pilot",
        face=face,
        at=(30.0, 7.0),
        size=(4.0,),
        depth=20.0,
        through=False,
        purpose="",
    )
    assert feature_solid(body_of(piece), hole) == pytest.approx(expected)
