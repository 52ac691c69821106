"""Where a moving body stands when it is open by a fraction of its travel."""

from __future__ import annotations

from collections.abc import Mapping
from math import asin, hypot, radians

import numpy as np
from numpy.typing import NDArray

from stowright.drawings.solids import Matrix, frame_matrix
from stowright.errors import OutOfRangeError
from stowright.model.design import Design, Motion
from stowright.model.geometry import Point3
from stowright.model.part import PlacedPart

__all__ = [
    "Open",
    "body_poses",
    "compose",
    "drooped",
    "motion_pose",
    "placed_matrix",
    "turned",
]

#: How far bodies are open: one fraction of travel for all, or one for each named body.
type Open = float | Mapping[str, float]


def body_poses(design: Design, open_by: Open) -> dict[str, Matrix]:
    """Return the 3 × 4 matrix of every moving body, by its name.

    Args:
        design: The design.
        open_by: Fraction of the travel, 0 shut to 1 open; bodies left out of a mapping are shut.

    Raises:
        OutOfRangeError: When a fraction is not within 0 and 1.
    """
    poses = {}
    for motion in design.motions:
        share = open_by.get(motion.body, 0.0) if isinstance(open_by, Mapping) else open_by
        poses[motion.body] = motion_pose(motion, share=share)
    return poses


def motion_pose(motion: Motion, *, share: float) -> Matrix:
    """Return the 3 × 4 matrix of a body moved by a share of its travel.

    Raises:
        OutOfRangeError: When the share is not within 0 and 1.
    """
    if not 0.0 <= share <= 1.0:
        raise OutOfRangeError("share", share, "between 0 and 1")
    if motion.kind == "slide":
        shift = np.array(motion.axis) * motion.travel * share
        return np.column_stack([np.eye(3), shift])
    pivot = motion.pivot or (0.0, 0.0, 0.0)
    return turned(axis=motion.axis, pivot=pivot, angle=radians(motion.travel * share))


def turned(*, axis: Point3, pivot: Point3, angle: float) -> Matrix:
    """Return the 3 × 4 matrix of a turn about a line, right-handed about the axis. [rad]."""
    k = np.array(axis, dtype=float)
    k /= np.linalg.norm(k)
    cross = np.array([[0.0, -k[2], k[1]], [k[2], 0.0, -k[0]], [-k[1], k[0], 0.0]])
    turn = np.eye(3) + np.sin(angle) * cross + (1.0 - np.cos(angle)) * (cross @ cross)
    p = np.array(pivot, dtype=float)
    return np.column_stack([turn, p - turn @ p])


def drooped(motion: Motion, *, share: float, inner_end: Point3, length: float) -> Matrix:
    """Return a slide's matrix with its far end dropped in proportion to how far it is out.

    The body turns about a level line through its inner end, which the runner still holds.

    Args:
        motion: A slide.
        share: Fraction of the travel.
        inner_end: A point of the body's inner end, shut.
        length: Of the body along the slide. [mm]
    """
    out = motion_pose(motion, share=share)
    ax, ay, _ = motion.axis
    level = hypot(ax, ay)
    if not motion.droop > 0.0 or not share > 0.0 or not level > 0.0:
        return out
    angle = asin(min(motion.droop * share / length, 1.0))
    held = out @ np.array([*inner_end, 1.0])
    about = (-ay / level, ax / level, 0.0)
    return compose(turned(axis=about, pivot=(held[0], held[1], held[2]), angle=angle), out)


def compose(outer: Matrix, inner: Matrix) -> Matrix:
    """Return the 3 × 4 matrix that applies ``inner`` first, then ``outer``."""
    turn: NDArray[np.float64] = outer[:, :3] @ inner[:, :3]
    return np.column_stack([turn, outer[:, :3] @ inner[:, 3] + outer[:, 3]])


def placed_matrix(placed: PlacedPart, poses: Mapping[str, Matrix]) -> Matrix:
    """Return the 3 × 4 matrix of a piece in the bay with its body moved."""
    frame = frame_matrix(placed)
    pose = poses.get(placed.body)
    return frame if pose is None else compose(pose, frame)
