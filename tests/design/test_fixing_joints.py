"""Joint screws on hand-made carcasses and drawers, and laws over generated ones.

Spacing 50 to 75 from corners and 150 to 200 between centres is common practice; 3 d to an edge is
EN 1995-1-1 8.3 for pre-drilled plywood, from memory.
"""

from __future__ import annotations

from collections import Counter

import fixing_checks as check
import pytest
from fixing_pieces import SHELF, THICKNESS, T, carcass, joint, panel, slab, worked_example
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.design.fixings import fix_joints
from stowright.design.pieces import with_features
from stowright.model.part import Feature


def fixed(pieces, drafts, thickness_of=THICKNESS):
    return fix_joints(pieces, drafts, SHELF, thickness_of)


@pytest.fixture(scope="module")
def worked():
    unit = worked_example(module_gap_joint=False)
    return unit, fixed(unit.pieces, unit.drafts)


def test_the_sides_long_meeting_with_the_floor(worked):
    _, result = worked
    screws = [f for f in result.fixings if f.joins == ("drawers/1/side-left", "drawers/1/floor")]
    assert {f.type for f in screws} == {"screw-8g-38"}
    along = sorted(f.at[0] for f in screws)
    assert along[0] == 60.0
    assert along[-1] == 1390.0
    assert {f.at[2] for f in screws} == {10.0 + T / 2.0}
    assert {f.at[1] for f in screws} == {550.0}  # heads in the outer face
    assert {f.direction for f in screws} == {(0.0, -1.0, 0.0)}


def test_each_screw_has_a_pilot_where_it_bites_and_a_hole_where_it_passes(worked):
    unit, result = worked
    screw = SHELF.screw("screw-8g-38")
    for fixing in result.fixings:
        mine = {piece: f for piece, f in result.features if f.fixing == fixing.id}
        passed, bitten = (mine[name] for name in fixing.joins)
        assert passed.through
        assert "countersunk" in passed.purpose
        assert bitten.kind == "pilot"
        if fixing.type != screw.name:
            continue
        assert bitten.size == (screw.pilot_edge,)
        assert bitten.face in {"u0", "u1", "v0", "v1"}
        assert bitten.at[1] == pytest.approx(unit.piece(fixing.joins[1]).thickness / 2.0)
        assert bitten.depth == pytest.approx(38.0 - T)


def test_a_ninety_wide_rail_gets_two(worked):
    _, result = worked
    count = Counter(f.joins for f in result.fixings)
    assert count["drawers/1/side-left", "drawers/1/rail-1"] == 2


def test_handed_pieces_come_out_alike(worked):
    _, result = worked
    left = [f for piece, f in result.features if piece == "drawers/1/side-left"]
    right = [f for piece, f in result.features if piece == "drawers/1/side-right"]
    key = [(f.kind, f.face, f.at, f.size) for f in left]
    assert sorted(key) == sorted((f.kind, f.face, f.at, f.size) for f in right)


def test_grooves_join_without_fixings(worked):
    _, result = worked
    grooves = [made for made in result.joints if made.kind == "groove"]
    assert len(grooves) == 8
    assert all(made.count == 0 and not made.fixing and made.glued for made in grooves)


def test_screws_of_a_drawer_side_miss_its_groove(worked):
    _, result = worked
    heights = [
        f.at[2] for f in result.fixings if f.joins == ("meters/side-left", "meters/inner-front")
    ]
    assert len(heights) >= 2
    assert all(not 34.6 + 10.0 - 2.0 < z < 34.6 + 22.0 + 2.0 for z in heights)


def test_a_front_is_held_from_inside_and_stays_whole(worked):
    unit, result = worked
    screws = [f for f in result.fixings if f.joins == ("meters/inner-front", "meters/front")]
    assert len(screws) >= 4
    assert {f.type for f in screws} == {"screw-8g-25"}  # 14.4 + 14.4 - 0.5 = 28.3
    assert {f.direction for f in screws} == {(-1.0, 0.0, 0.0)}
    front = with_features(unit.pieces, result.features)
    holes = next(p for p in front if p.id == "meters/front").features
    assert {f.face for f in holes} == {"back"}
    assert not any(f.through for f in holes)


def test_the_rule_that_an_edge_cannot_keep_is_said(worked):
    _, result = worked
    made = next(m for m in result.joints if m.parts[1] == "drawers/1/floor")
    assert "under 3 d" in made.note
    lines = [text for text in result.warnings if "under 3 d" in text]
    assert len(lines) == len({f.type for f in result.fixings if f.type == "screw-8g-38"})


def test_nothing_meets_anything(worked):
    unit, result = worked
    pieces = with_features(unit.pieces, result.features)
    assert check.clashing_fixings(result.fixings, SHELF) == []
    assert check.strangers(result.fixings, pieces) == []
    for piece in pieces:
        assert check.overlapping_features(piece, piece.features) == []
        assert check.outside_features(piece, piece.features) == []
    assert check.proud_points(result.fixings, pieces, THICKNESS) == []


def test_ids_run_on_without_a_gap_in_the_order_of_building(worked):
    _, result = worked
    assert [f.id for f in result.fixings] == [
        f"f{n:04d}" for n in range(1, len(result.fixings) + 1)
    ]
    steps = [f.step for f in result.fixings]
    assert steps == sorted(steps, key=["carcass", "drawer", "front"].index)


def test_the_same_pieces_give_the_same_fixings():
    unit = worked_example()
    assert fixed(unit.pieces, unit.drafts) == fixed(unit.pieces, unit.drafts)


def stacked():
    """A partition with a shelf against either face at one height."""
    upright = panel(
        "p", "partition", slab((0.0, 500.0), (-T / 2, T / 2), (0.0, 400.0)), ("+x", "+z", "-y")
    )
    one = panel(
        "one", "shelf", slab((0.0, 500.0), (T / 2, 300.0), (200.0, 214.6)), ("+x", "+y", "+z")
    )
    two = panel(
        "two", "shelf", slab((0.0, 500.0), (-300.0, -T / 2), (200.0, 214.6)), ("+x", "+y", "+z")
    )
    return upright, one, two


def test_no_head_is_driven_where_a_shelf_already_covers_the_face():
    result = fixed(stacked(), (joint("p", "one"), joint("p", "two")))
    first, second = result.joints
    assert first.count >= 2
    assert second.count == 0
    assert any("no screw can be driven" in text for text in result.warnings)


def test_a_sheet_too_thin_for_edge_screws_is_said():
    thin = panel(
        "thin",
        "shelf",
        slab((0.0, 500.0), (T / 2, 300.0), (200.0, 206.5)),
        ("+x", "+y", "+z"),
        material="ply-6",
    )
    result = fixed((stacked()[0], thin), (joint("p", "thin"),))
    assert result.fixings == ()
    assert any("no screw in the catalogue" in text for text in result.warnings)


def test_a_shaped_piece_is_drilled_only_where_it_is():
    cut = ((0.0, 0.0), (500.0, 0.0), (500.0, 300.0), (250.0, 300.0), (0.0, 100.0))
    deck = panel(
        "deck", "deck", slab((0.0, 500.0), (0.0, 300.0), (100.0, 114.6)), ("+x", "+y", "+z")
    )
    shaped = panel(
        "deck",
        "deck",
        slab((0.0, 500.0), (0.0, 300.0), (100.0, 114.6)),
        ("+x", "+y", "+z"),
        outline=cut,
    )
    rail = panel(
        "rail",
        "carcass-rail",
        slab((0.0, 500.0), (200.0, 290.0), (85.4, 100.0)),
        ("+x", "+y", "+z"),
    )
    draft = (joint("deck", "rail", "planted", "deck", glued=False),)
    whole, partly = fixed((deck, rail), draft), fixed((shaped, rail), draft)
    assert min(f.at[0] for f in whole.fixings) < 100.0
    assert partly.fixings
    for piece in with_features((shaped,), partly.features):
        assert check.outside_features(piece, piece.features) == []


def test_what_is_not_there_or_does_not_touch_is_said():
    upright, one, _ = stacked()
    apart = panel(
        "apart", "shelf", slab((900.0, 990.0), (0.0, 9.0), (0.0, 9.0)), ("+x", "+y", "+z")
    )
    result = fixed((upright, one, apart), (joint("p", "nowhere"), joint("p", "apart", glued=False)))
    assert not result.fixings
    assert [text.split(":")[0] for text in result.warnings] == ["p to nowhere", "p to apart"]


def test_a_housed_shelf_is_screwed_through_what_the_housing_leaves():
    upright, _, _ = stacked()
    housing = Feature(
        kind="slot",
        face="back",
        at=(0.0, 200.0),
        size=(500.0, T),
        depth=6.0,
        through=False,
        purpose="housing",
    )
    upright = with_features((upright,), [("p", housing)])[0]
    shelf = panel(
        "one",
        "shelf",
        slab((0.0, 500.0), (T / 2 - 6.0, 300.0), (200.0, 214.6)),
        ("+x", "+y", "+z"),
    )
    result = fixed((upright, shelf), (joint("p", "one", "housing"),))
    assert len(result.fixings) >= 2
    pieces = with_features((upright, shelf), result.features)
    assert check.overlapping_features(pieces[0], pieces[0].features) == []
    holes = [f for piece, f in result.features if piece == "p"]
    assert {f.depth for f in holes} == {T - 6.0}


SIZES = {
    "width": st.floats(180.0, 900.0),
    "height": st.floats(120.0, 600.0),
    "depth": st.floats(250.0, 1900.0),
    "rails": st.integers(0, 4),
}


@settings(max_examples=25, deadline=None)
@given(**SIZES)
def test_generated_carcasses_hold_together_and_nothing_meets(width, height, depth, rails):
    pieces, drafts = carcass(
        "1",
        left=0.0,
        width=round(width),
        height=round(height),
        depth=round(depth),
        rails=rails if depth > 95.0 * max(rails, 1) and rails != 1 else 2,
    )
    result = fixed(pieces, drafts)
    made = with_features(pieces, result.features)
    assert check.clashing_fixings(result.fixings, SHELF) == []
    assert check.strangers(result.fixings, made) == []
    for piece in made:
        assert check.overlapping_features(piece, piece.features) == []
        assert check.outside_features(piece, piece.features) == []
    assert all(room >= 5.0 - 1e-6 for _, room in check.room_before_points(result.fixings, made))
    assert all(m.count >= 2 for m in result.joints)
    count = Counter(f.joint for f in result.fixings)
    assert {m.id: m.count for m in result.joints} == count
