"""The detail of a latch that is screwed on: its body in or on the panel, its keeper, its place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stowright.drawings.detail_plan import Detail, block_of, scaled, sight_of
from stowright.drawings.extent import Bounds
from stowright.drawings.ortho import Sight
from stowright.drawings.scene import Item, Region
from stowright.model.catalogue import Catalogue, Hardware
from stowright.model.design import Design
from stowright.model.geometry import Point2, Point3
from stowright.model.part import PlacedFixing, PlacedPart

__all__ = ["latch_detail"]

type Vector = NDArray[np.float64]

#: How far the detail reaches around the latch and its keeper. [mm]
_AROUND = 30.0
#: A latch's flange and its keeper's leg are about this thick. [mm, common practice]
_LEG = 2.0
_KEEPER_WIDE = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Latch:
    """A latch with what it is made of. Boxes are (low, high) corners in the bay. [mm]."""

    fixing: PlacedFixing
    piece: PlacedPart
    body: tuple[Vector, Vector]
    flange: tuple[Vector, Vector]
    keepers: tuple[tuple[Vector, Vector], ...]


def latch_detail(design: Design, catalogue: Catalogue) -> Detail | None:
    """Return the section through the first latch that is screwed on; None without one.

    Args:
        design: The design.
        catalogue: Sizes of latches.
    """
    latch = _latch(design, catalogue)
    block = block_of(design, latch.piece.block) if latch is not None else None
    if latch is None or block is None:
        return None
    sight = sight_of(block, along=True)
    body, flange = _flat(latch.body, sight), _flat(latch.flange, sight)
    keepers = [_flat(keeper, sight) for keeper in latch.keepers]
    shapes = [body, flange, *keepers]

    def drawn(scale: float) -> Iterator[Item]:
        for box in shapes:
            yield Region(outer=scaled(box.corners, scale), fill="metal", pen="outline")

    window = Bounds(
        left=min(b.left for b in shapes) - _AROUND,
        right=max(b.right for b in shapes) + _AROUND,
        bottom=min(b.bottom for b in shapes) - _AROUND,
        top=max(b.top for b in shapes) + _AROUND,
    )
    return Detail(
        name="detail-latch",
        title=f"Where the {latch.fixing.type} sits",
        sight=sight,
        depth=sight.depth(latch.fixing.at),
        window=window,
        over=drawn,
        sizes=_sizes(latch, body, sight),
        notes=(
            (_middle(body), latch.fixing.type),
            *((_middle(keeper), "its keeper") for keeper in keepers[:1]),
        ),
    )


def _latch(design: Design, catalogue: Catalogue) -> _Latch | None:
    fixing = next((f for f in design.fixings if f.kind == "latch" and f.joins), None)
    row = next((h for h in catalogue.hardware if fixing and h.name == fixing.type), None)
    piece = next((p for p in design.placed if fixing and p.id == fixing.joins[0]), None)
    if fixing is None or row is None or piece is None:
        return None
    mine = [f for f in design.fixings if f.set == fixing.id]
    held = [f for f in mine if piece.id in f.joins]
    if not held:
        return None
    into = np.array(held[0].direction)
    ends = np.array([held[0].at, held[-1].at])
    run = ends[1] - ends[0]
    reach = float(np.linalg.norm(run))
    along = run / reach if reach > 0.0 else np.cross(into, (0.0, 0.0, 1.0))
    across = np.cross(into, along)
    middle = ends.mean(axis=0)
    sunk = any(
        feature.kind == "cut-out" and fixing.type in feature.purpose
        for feature in design.part(piece.mark).features
    )
    low, high = (0.0, row.size[2]) if sunk else (-row.size[2], 0.0)
    return _Latch(
        fixing=fixing,
        piece=piece,
        body=_box(middle, (along, across, into), _half(row), (low, high)),
        flange=_box(
            middle,
            (along, across, into),
            (reach / 2.0 + 8.0, row.size[1] / 2.0 + 4.0),
            (-_LEG, 0.0),
        )
        if sunk
        else _box(middle, (along, across, into), _half(row), (-_LEG, 0.0)),
        keepers=tuple(_keepers([f for f in mine if piece.id not in f.joins])),
    )


def _half(row: Hardware) -> Point2:
    return (row.size[0] / 2.0, row.size[1] / 2.0)


def _box(
    middle: Vector, axes: tuple[Vector, Vector, Vector], half: Point2, depth: Point2
) -> tuple[Vector, Vector]:
    along, across, into = axes
    corners = [
        middle + sx * half[0] * along + sy * half[1] * across + d * into
        for sx in (-1.0, 1.0)
        for sy in (-1.0, 1.0)
        for d in depth
    ]
    return np.min(corners, axis=0), np.max(corners, axis=0)


def _keepers(screws: list[PlacedFixing]) -> Iterator[tuple[Vector, Vector]]:
    """Yield the leg of the keeper: it lies under the heads of its screws."""
    if screws:
        points = np.array([f.at for f in screws])
        into = np.abs(np.array(screws[0].direction))
        under = points - np.array(screws[0].direction) * _LEG
        spread = (1.0 - into) * _KEEPER_WIDE / 2.0
        both = np.concatenate([points, under])
        yield both.min(axis=0) - spread, both.max(axis=0) + spread


def _flat(box: tuple[Vector, Vector], sight: Sight) -> Bounds:
    ends = [sight.flat(_point(corner)) for corner in box]
    xs, ys = [x for x, _ in ends], [y for _, y in ends]
    return Bounds(left=min(xs), right=max(xs), bottom=min(ys), top=max(ys))


def _middle(box: Bounds) -> Point2:
    return ((box.left + box.right) / 2.0, (box.bottom + box.top) / 2.0)


def _sizes(latch: _Latch, body: Bounds, sight: Sight) -> tuple[tuple[str, Point2, Point2], ...]:
    """Return how far the latch's middle lies from the nearest edge of its panel, in its plane."""
    corners = [
        sight.flat(latch.piece.point(u, v, w))
        for u in (0.0, latch.piece.length)
        for v in (0.0, latch.piece.width)
        for w in (0.0, latch.piece.thickness)
    ]
    x, y = _middle(body)
    normal = sight.flat(latch.piece.axes[2])
    if abs(normal[0]) > abs(normal[1]):
        edge = min((cy for _, cy in corners), key=lambda cy: abs(cy - y))
        return (("y", (body.right, edge), (body.right, y)),)
    edge = min((cx for cx, _ in corners), key=lambda cx: abs(cx - x))
    return (("x", (edge, body.top), (x, body.top)),)


def _point(vector: Vector) -> Point3:
    x, y, z = vector.tolist()
    return (x, y, z)
