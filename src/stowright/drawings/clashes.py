"""Pieces that run into each other, at rest and while they move.

First the pieces' boxes, then one closed look at whether a groove, rebate or notch takes in all
that two boxes share, and only then the solids themselves.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

import manifold3d as m3
import numpy as np
from numpy.typing import NDArray

from stowright.drawings.motions import drooped, placed_matrix
from stowright.drawings.solids import Matrix, frame_matrix, part_solid
from stowright.model.design import Design, Motion
from stowright.model.geometry import Point3
from stowright.model.part import Part, PlacedPart
from stowright.model.part_area import Pocket, pockets_of

__all__ = ["Clash", "interpenetrations", "moving_clashes"]

#: Depth under which two pieces count as touching, not as overlapping. [mm]
DEFAULT_EPS = 0.01

type Clash = tuple[str, str, float]
type Vector = NDArray[np.float64]


@dataclass(frozen=True)
class _Stock:
    """A part's solid and pockets, made when first asked for and shared by its copies."""

    part: Part

    @cached_property
    def solid(self) -> m3.Manifold:
        return part_solid(self.part)

    @cached_property
    def pockets(self) -> list[Pocket]:
        """Return the square pockets: those that can take in a whole corner of another piece."""
        return [p for p in pockets_of(self.part) if p.radius <= 0.0]


@dataclass(frozen=True, slots=True)
class _Body:
    """A piece where it stands: its matrix and its box in the bay."""

    placed: PlacedPart
    stock: _Stock
    matrix: Matrix
    low: Vector
    high: Vector


def interpenetrations(design: Design, *, eps: float = DEFAULT_EPS) -> list[Clash]:
    """Return every pair of pieces that run into each other at rest.

    Args:
        design: The design.
        eps: Depth that still counts as touching. [mm]

    Returns:
        (id, id, depth): ids in the order of ``design.placed``; the depth is the least extent,
        along the bay's axes, of the thickest lump that the two share. [mm]
    """
    stocks = {part.mark: _Stock(part) for part in design.parts}
    bodies = [_body(p, stocks[p.mark], frame_matrix(p)) for p in design.placed]
    return [
        (bodies[i].placed.id, bodies[j].placed.id, depth)
        for i, j in _touching(bodies, eps)
        if (depth := _depth(bodies[i], bodies[j], eps)) > eps
    ]


def moving_clashes(
    design: Design, *, steps: int = 24, eps: float = DEFAULT_EPS, droop: bool = True
) -> list[tuple[str, str, float, float]]:
    """Return where a moving body runs into anything that does not move with it.

    Every body goes through its whole travel, alone, all other bodies shut.

    Args:
        design: The design.
        steps: Places tried along each travel, its two ends included.
        eps: Depth that still counts as touching. [mm]
        droop: Whether a slide's far end drops on its way out.

    Returns:
        (moving id, other id, depth, share): the deepest place of each pair, share being the
        fraction of the travel there.
    """
    stocks = {part.mark: _Stock(part) for part in design.parts}
    rest = [_body(p, stocks[p.mark], frame_matrix(p)) for p in design.placed]
    worst: dict[tuple[str, str], tuple[float, float]] = {}
    for motion in design.motions:
        others = [b for b in rest if b.placed.body != motion.body]
        mine = [b for b in rest if b.placed.body == motion.body]
        for share in np.linspace(0.0, 1.0, max(steps, 2)):
            poses = {motion.body: _pose(motion, mine, float(share), droop=droop)}
            for one, other, depth in _moved_clashes(mine, others, poses, eps):
                if depth > worst.get((one, other), (0.0, 0.0))[0]:
                    worst[one, other] = (depth, float(share))
    return [(one, other, depth, share) for (one, other), (depth, share) in worst.items()]


def _pose(motion: Motion, bodies: list[_Body], share: float, *, droop: bool) -> Matrix:
    low = np.min([b.low for b in bodies], axis=0) if bodies else np.zeros(3)
    high = np.max([b.high for b in bodies], axis=0) if bodies else np.zeros(3)
    axis = np.array(motion.axis)
    inner = np.where(axis < 0.0, high, low)
    inner[2] = (low[2] + high[2]) / 2.0
    end: Point3 = (float(inner[0]), float(inner[1]), float(inner[2]))
    length = float(np.abs(axis) @ (high - low)) or 1.0
    if not droop:
        length = float("inf")
    return drooped(motion, share=share, inner_end=end, length=length)


def _moved_clashes(
    mine: list[_Body], others: list[_Body], poses: Mapping[str, Matrix], eps: float
) -> Iterator[Clash]:
    lows, highs = np.array([b.low for b in others]), np.array([b.high for b in others])
    for body in mine:
        moved = _body(body.placed, body.stock, placed_matrix(body.placed, poses))
        shared = np.minimum(highs, moved.high) - np.maximum(lows, moved.low)
        for k in np.flatnonzero(shared.min(axis=1) > eps):
            depth = _depth(moved, others[k], eps)
            if depth > eps:
                yield (body.placed.id, others[k].placed.id, depth)


def _body(placed: PlacedPart, stock: _Stock, matrix: Matrix) -> _Body:
    part = stock.part
    corners = np.array(
        [(u, v, w) for u, v in part.outline for w in (0.0, part.thickness)], dtype=float
    )
    points = corners @ matrix[:, :3].T + matrix[:, 3]
    return _Body(placed, stock, matrix, points.min(axis=0), points.max(axis=0))


def _touching(bodies: list[_Body], eps: float) -> list[tuple[int, int]]:
    """Return the index pairs whose boxes overlap by more than eps on every axis."""
    if not bodies:
        return []
    lows, highs = np.array([b.low for b in bodies]), np.array([b.high for b in bodies])
    shared = np.minimum(highs[:, None], highs[None]) - np.maximum(lows[:, None], lows[None])
    first, second = np.nonzero(np.triu(shared.min(axis=2) > eps, k=1))
    return list(zip(first.tolist(), second.tolist(), strict=True))


def _depth(one: _Body, other: _Body, eps: float) -> float:
    """Return how deep two bodies run into each other; 0 when they only touch. [mm]."""
    low, high = np.maximum(one.low, other.low), np.minimum(one.high, other.high)
    if _takes_in(one, low, high, eps) or _takes_in(other, low, high, eps):
        return 0.0
    common = one.stock.solid.transform(one.matrix) ^ other.stock.solid.transform(other.matrix)
    if common.is_empty():
        return 0.0
    return max(_least_extent(lump) for lump in common.decompose())


def _least_extent(lump: m3.Manifold) -> float:
    x0, y0, z0, x1, y1, z1 = lump.bounding_box()
    return float(min(x1 - x0, y1 - y0, z1 - z0))


def _takes_in(body: _Body, low: Vector, high: Vector, eps: float) -> bool:
    """Whether one square pocket of the body holds the whole box, but for less than eps."""
    pockets = body.stock.pockets
    if not pockets:
        return False
    turn, shift = body.matrix[:, :3], body.matrix[:, 3]
    if np.abs(np.abs(turn).max(axis=0) - 1.0).max() > 1e-9:
        return False
    corners = np.array([low, high]) - shift
    local = np.sort(corners @ turn, axis=0)
    (u0, v0, w0), (u1, v1, w1) = local
    slack = eps / 2.0
    return any(
        p.u0 - slack <= u0
        and u1 <= p.u1 + slack
        and p.v0 - slack <= v0
        and v1 <= p.v1 + slack
        and p.w0 - slack <= w0
        and w1 <= p.w1 + slack
        for p in pockets
    )
