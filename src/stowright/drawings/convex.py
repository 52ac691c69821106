"""Convex faces in bulk: clipping lines to them and telling which overlap, pair by pair.

Nearly all faces of panels are convex with few corners, and these two questions are asked of tens
of thousands of pairs; answered together for all pairs they cost a fraction of general geometry.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

__all__ = ["MOST_CORNERS", "clipped_runs", "convex_rings", "rings_overlap"]

#: Rings with more corners than this are left to general geometry.
MOST_CORNERS = 8

type Floats = NDArray[np.float64]
type Bools = NDArray[np.bool_]


def convex_rings(faces: Sequence[Sequence[Floats]]) -> tuple[Floats, Bools]:
    """Return the contours of faces as one array, and which of them are convex without holes.

    Args:
        faces: For each face its rings, contour first, n × 2 or n × 3; only x and y count.

    Returns:
        f × MOST_CORNERS × 2, counter-clockwise, last corners repeated; rows of faces that are not
        convex hold nothing of use.
    """
    rings = np.zeros((len(faces), MOST_CORNERS, 2))
    fits = np.zeros(len(faces), dtype=bool)
    for k, face in enumerate(faces):
        if len(face) == 1 and len(face[0]) <= MOST_CORNERS:
            corners = face[0][:, :2]
            rings[k, : len(corners)] = corners
            rings[k, len(corners) :] = corners[-1]
            fits[k] = True
    x, y = rings[..., 0], rings[..., 1]
    twice = (x * np.roll(y, -1, axis=1) - np.roll(x, -1, axis=1) * y).sum(axis=1)
    rings[twice < 0.0] = rings[twice < 0.0, ::-1]
    return rings, fits & _turns_left(rings)


def _turns_left(rings: Floats) -> Bools:
    """Return which rings never turn right and go round once."""
    side = np.roll(rings, -1, axis=1) - rings
    # every corner lies on the left of every side
    reach = rings[:, None, :] - rings[:, :, None]
    cross = side[:, :, None, 0] * reach[..., 1] - side[:, :, None, 1] * reach[..., 0]
    size = np.abs(side).sum(axis=2).max(axis=1)
    return np.asarray(cross.min(axis=(1, 2)) >= -1e-7 * np.maximum(size, 1.0) ** 2)


def clipped_runs(start: Floats, run: Floats, rings: Floats) -> tuple[Floats, Floats]:
    """Return the part of each line inside its ring as fractions (low, high); empty if low ≥ high.

    Args:
        start: n × 2.
        run: n × 2, from start to end.
        rings: n × MOST_CORNERS × 2, convex, counter-clockwise.
    """
    side = np.roll(rings, -1, axis=1) - rings
    offset = start[:, None] - rings
    # how far inside: positive on the left of a side; it changes by `gain` over the whole run
    inside = side[..., 0] * offset[..., 1] - side[..., 1] * offset[..., 0]
    gain = side[..., 0] * run[:, None, 1] - side[..., 1] * run[:, None, 0]
    level = np.abs(gain) < 1e-12
    at = -inside / np.where(level, 1.0, gain)
    low = np.where(~level & (gain > 0.0), at, 0.0).max(axis=1)
    high = np.where(~level & (gain < 0.0), at, 1.0).min(axis=1)
    length = np.hypot(side[..., 0], side[..., 1])
    outside = (level & (inside < -1e-9 * np.maximum(length, 1.0))).any(axis=1)
    low, high = np.maximum(low, 0.0), np.minimum(high, 1.0)
    return np.where(outside, 1.0, low), np.where(outside, 0.0, high)


def rings_overlap(one: Floats, other: Floats, *, least: float) -> Bools:
    """Return which pairs of convex rings overlap by more than ``least`` across. [mm].

    No side of either parts them: on the far side of each, the other reaches in deep enough.

    Args:
        one: n × MOST_CORNERS × 2, convex, counter-clockwise.
        other: The same.
        least: Depth that still counts as side by side. [mm]
    """
    return _reach_in(one, other, least) & _reach_in(other, one, least)


def _reach_in(rings: Floats, others: Floats, least: float) -> Bools:
    """Return whether others reach in by more than ``least`` over every side of rings."""
    side = np.roll(rings, -1, axis=1) - rings
    length = np.hypot(side[..., 0], side[..., 1])
    offset = others[:, None] - rings[:, :, None]
    depth = side[:, :, None, 0] * offset[..., 1] - side[:, :, None, 1] * offset[..., 0]
    deepest = depth.max(axis=2) / np.where(length > 0.0, length, 1.0)
    return np.asarray(((deepest > least) | (length <= 0.0)).all(axis=1))
