"""Pieces that run into each other are found to a hundredth of a millimetre, and no others."""

from dataclasses import replace

import pytest
from samples import shifted, two_drawers

from stowright.drawings.clashes import interpenetrations, moving_clashes
from stowright.drawings.motions import drooped
from stowright.model.design import Motion


def test_the_sample_unit_has_none():
    assert interpenetrations(two_drawers()) == []
    assert moving_clashes(two_drawers()) == []


@pytest.mark.parametrize(
    ("piece", "by", "other"),
    [
        ("drawers/1/rail-1", (0.0, 0.02, 0.0), "drawers/1/side-left"),
        ("drawers/1/rail-1", (0.0, -0.02, 0.0), "drawers/1/side-right"),
        ("deck/1", (0.0, 0.0, -0.02), "drawers/1/side-left"),
        ("meters/box-bottom", (0.0, 0.0, 0.02), "meters/box-side-left"),
        ("meters/box-bottom", (0.0, 0.02, 0.0), "meters/box-side-left"),
        ("meters/box-front", (0.0, 0.0, 0.02), "meters/box-bottom"),
    ],
)
def test_two_hundredths_are_a_clash_and_nine_thousandths_are_not(piece, by, other):
    found = interpenetrations(shifted(two_drawers(), piece, by))
    depths = {frozenset(pair): depth for *pair, depth in found}
    assert depths[frozenset((piece, other))] == pytest.approx(0.02, abs=1e-6)
    touching = tuple(step * 0.45 for step in by)
    assert interpenetrations(shifted(two_drawers(), piece, touching)) == []


def test_a_finer_eps_finds_what_a_coarser_one_lets_pass():
    moved = shifted(two_drawers(), "deck/1", (0.0, 0.0, -0.005))
    assert interpenetrations(moved) == []
    assert interpenetrations(moved, eps=0.001)


def test_the_depth_is_how_far_one_would_have_to_move():
    found = interpenetrations(shifted(two_drawers(), "deck/1", (0.0, 0.0, -5.0)))
    assert [depth for *_, depth in found] == pytest.approx([5.0] * len(found))
    assert {one for one, _, _ in found} >= {"drawers/1/side-left", "drawers/2/side-right"}


def test_a_panel_over_a_finger_hole_still_clashes():
    """Only square pockets may take a piece in."""
    found = interpenetrations(shifted(two_drawers(), "deck/2", (-50.0, 0.0, 0.0)))
    assert [pair[:2] for pair in found] == [("deck/1", "deck/2")]
    assert found[0][2] == pytest.approx(14.6)


def test_a_drawer_that_meets_a_rail_on_its_way_out_is_found():
    design = shifted(two_drawers(), "drawers/1/rail-1", (0.0, 0.0, -20.0))
    found = moving_clashes(design)
    pairs = {(one, other) for one, other, _, _ in found}
    assert ("meters/box-back", "drawers/1/rail-1") in pairs
    assert not any(one.startswith("ropes") for one, _ in pairs)
    for _, _, depth, share in found:
        assert depth > 0.01
        assert 0.0 <= share <= 1.0


def test_a_swinging_lid_is_followed():
    design = two_drawers()
    lid = "wing-left"
    # hinged along the edge at the block's side, up: clear; hinged low: into the side
    swing = Motion(
        body="lid",
        kind="swing",
        axis=(1.0, 0.0, 0.0),
        travel=90.0,
        pivot=(0.0, 544.5, 449.6),
        droop=0.0,
    )
    placed = tuple(replace(p, body="lid") if p.id == lid else p for p in design.placed)
    up = replace(design, placed=placed, motions=(*design.motions, swing))
    assert moving_clashes(up) == []
    low_hinge = replace(up, motions=(replace(swing, pivot=(0.0, 544.5, 300.0)),))
    assert {other for _, other, _, _ in moving_clashes(low_hinge)} >= {"drawers/1/side-left"}


def test_droop_drops_the_far_end_by_its_share():
    motion = Motion(
        body="d", kind="slide", axis=(-1.0, 0.0, 0.0), travel=1350.0, pivot=None, droop=10.0
    )
    half = drooped(motion, share=0.5, inner_end=(1364.6, 0.0, 200.0), length=1350.0)
    far = half @ (14.6, 0.0, 200.0, 1.0)
    # 5 mm down; out by half the travel, less the second order of the turn
    assert far[2] == pytest.approx(200.0 - 5.0)
    assert far[0] == pytest.approx(14.6 - 675.0, abs=0.02)
