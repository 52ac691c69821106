"""Where moving bodies stand, the ghost of the bay, and strokes that are joined."""

import itertools
from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from samples import two_drawers

from stowright.drawings.ghost import ghost_edges
from stowright.drawings.motions import body_poses, compose, motion_pose, placed_matrix, turned
from stowright.drawings.sight import Camera
from stowright.drawings.strokes import joined_strokes
from stowright.errors import OutOfRangeError
from stowright.model.design import Motion


def test_a_slide_moves_along_its_axis_by_its_share():
    poses = body_poses(two_drawers(), {"meters": 0.5})
    assert poses["meters"][:, 3] == pytest.approx([-675.0, 0.0, 0.0])
    assert poses["ropes"][:, 3] == pytest.approx([0.0, 0.0, 0.0])


@pytest.mark.parametrize("share", [-0.1, 1.01, float("nan")])
def test_a_share_outside_its_range_is_refused(share):
    with pytest.raises(OutOfRangeError):
        body_poses(two_drawers(), share)


def test_a_swing_turns_about_its_hinge():
    lid = Motion(
        body="lid",
        kind="swing",
        axis=(0.0, 1.0, 0.0),
        travel=90.0,
        pivot=(100.0, 0.0, 400.0),
        droop=0.0,
    )
    pose = motion_pose(lid, share=1.0)
    # right-handed about y: what lies towards x goes down
    assert pose @ (300.0, 50.0, 400.0, 1.0) == pytest.approx([100.0, 50.0, 200.0])
    assert pose @ (100.0, 7.0, 400.0, 1.0) == pytest.approx([100.0, 7.0, 400.0])


@given(st.floats(-pi, pi), st.tuples(*[st.floats(-1.0, 1.0)] * 3))
def test_a_turn_keeps_lengths_and_hands(angle, axis):
    if np.linalg.norm(axis) < 1e-3:
        return
    matrix = turned(axis=axis, pivot=(1.0, 2.0, 3.0), angle=angle)[:, :3]
    assert matrix @ matrix.T == pytest.approx(np.eye(3), abs=1e-9)
    assert np.linalg.det(matrix) == pytest.approx(1.0)


def test_composed_matrices_apply_the_inner_one_first():
    shift = np.column_stack([np.eye(3), [10.0, 0.0, 0.0]])
    turn = turned(axis=(0.0, 0.0, 1.0), pivot=(0.0, 0.0, 0.0), angle=pi / 2.0)
    assert compose(turn, shift) @ (0.0, 0.0, 0.0, 1.0) == pytest.approx([0.0, 10.0, 0.0])
    assert compose(shift, turn) @ (1.0, 0.0, 0.0, 1.0) == pytest.approx([10.0, 1.0, 0.0])


def test_a_fixed_piece_stays_and_a_drawer_piece_goes():
    design = two_drawers()
    poses = body_poses(design, 1.0)
    rest, moved = ({p.id: placed_matrix(p, which) for p in design.placed} for which in ({}, poses))
    assert (rest["drawers/1/floor"] == moved["drawers/1/floor"]).all()
    assert moved["ropes/front"][:, 3] - rest["ropes/front"][:, 3] == pytest.approx([-1350, 0, 0])


def test_the_ghost_holds_floor_arches_and_the_far_walls_only():
    bay = two_drawers().job.bay
    edges = ghost_edges(bay, Camera(turn=225.0))
    points = edges.reshape(-1, 3)
    assert points.min(axis=0) == pytest.approx([0.0, -700.0, 0.0])
    assert points.max(axis=0) == pytest.approx([1500.0, 700.0, 500.0])
    # seen from the right: the wall that rises is the left one, and the headboard
    tall = points[points[:, 2] > 499.0]
    assert not ((tall[:, 1] < -699.0) & (tall[:, 0] < 1.0)).any()
    from_left = ghost_edges(bay, Camera(turn=135.0)).reshape(-1, 3)
    tall = from_left[from_left[:, 2] > 499.0]
    assert not ((tall[:, 1] > 699.0) & (tall[:, 0] < 1.0)).any()


def length(runs):
    return sum(
        np.hypot(b[0] - a[0], b[1] - a[1]) for run in runs for a, b in itertools.pairwise(run)
    )


grid = st.tuples(st.integers(0, 6).map(float), st.integers(0, 6).map(float))


@given(st.lists(st.tuples(grid, grid), max_size=25))
def test_joined_strokes_draw_each_line_once(lines):
    once = {tuple(sorted(line)) for line in lines if line[0] != line[1]}
    runs = joined_strokes(lines)
    drawn = [tuple(sorted(pair)) for run in runs for pair in itertools.pairwise(run)]
    assert sorted(drawn) == sorted(once)
    assert length(runs) == pytest.approx(length([list(line) for line in once]))


def test_a_square_is_one_run():
    corners = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]
    sides = list(zip(corners, [*corners[1:], corners[0]], strict=True))
    (run,) = joined_strokes(sides)
    assert run[0] == run[-1]
    assert len(run) == 5
