"""How far each piece is moved apart in an exploded view, from what it is and where it stands.

Pieces go the way they came: drawers out along their runners and apart in themselves, sides
sideways, rails up, floors and packers down, backs inwards; what lies on top rises clear. Modules
and blocks move apart. Lengths are multiples of one ``spread`` that follows from the unit's size.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from stowright.drawings.solids import frame_matrix
from stowright.model.design import BlockDesign, Design, Motion, OpeningDesign
from stowright.model.geometry import Axes3, Point3
from stowright.model.part import PlacedPart

__all__ = ["exploded_offsets", "fitting_moves", "piece_corners", "spread_mm"]

type Vector = NDArray[np.float64]

#: The frame of pieces that belong to no block: across, inwards and up of a block facing the tail.
_TAIL_AXES: Axes3 = ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))

#: Where each role goes, in spreads: outwards (sideways from the middle), inwards, up.
_CARCASS: dict[str, Point3] = {
    "carcass-side": (1.0, 0.0, 0.0),
    "partition": (0.0, 0.0, 0.0),
    "carcass-floor": (0.0, 0.0, -0.9),
    "floor-rail": (0.0, 0.0, -0.9),
    "carcass-top": (0.0, 0.0, 1.2),
    "carcass-rail": (0.0, 0.0, 1.0),
    "stack-rail": (0.0, -0.7, 0.0),
    "shelf": (0.0, -0.5, 0.0),
    "carcass-back": (0.0, 1.1, 0.0),
    "back-rail": (0.0, 1.1, 0.0),
    "blank": (0.0, -1.2, 0.0),
    "door": (0.0, -1.4, 0.0),
    "infill": (0.3, -0.6, 0.0),
    "packer": (0.0, 0.0, -1.8),
    "side-packing": (1.9, 0.0, 0.0),
    "divider": (0.0, 0.0, 1.6),
    "wing": (0.9, 0.0, 0.0),
    "wing-lid": (0.9, 0.0, 0.0),
    "wing-cleat": (1.7, 0.0, 0.3),
    "wing-leg": (2.2, 0.0, -0.4),
}
_BOX: dict[str, Point3] = {
    "drawer-side": (0.75, 0.0, 0.0),
    "tray-cheek": (0.75, 0.0, 0.0),
    "drawer-inner-front": (0.0, -0.7, 0.0),
    "drawer-inner-back": (0.0, 0.7, 0.0),
    "drawer-bottom": (0.0, 0.0, -0.8),
    "tray-base": (0.0, 0.0, -0.8),
    "drawer-front": (0.0, -2.3, 0.0),
    "door": (0.0, -1.8, 0.0),
}
#: What lies on top of everything rises by this share of the deck's length and width together:
#: at 0.5 an isometric view sees the whole of what lies below.
_RISE_SHARE = 0.36
_ON_TOP = frozenset({"deck", "wing", "wing-lid", "joint-strip", "bearer"})
_RISE: dict[str, float] = {"joint-strip": 0.6, "bearer": 0.55}
_MODULES_APART = 2.9
_ROWS_APART = 1.15
_COLUMNS_APART = 1.7


def spread_mm(design: Design) -> float:
    """Return the length that exploded views count in: three tenths of the least module. [mm]."""
    sizes = [min(m.width, m.height) for b in design.blocks for m in b.modules]
    return min(max(0.3 * min(sizes, default=400.0), 80.0), 160.0)


@dataclass(frozen=True, slots=True)
class _Frame:
    """A block's axes and what its pieces are moved about."""

    axes: Vector
    middle: Vector
    module_middles: dict[str, Vector] = field(default_factory=dict)

    def vector(self, across: float, inwards: float, up: float) -> Vector:
        return np.asarray(np.array([across, inwards, up]) @ self.axes)


def exploded_offsets(design: Design, *, spread: float | None = None) -> dict[str, Point3]:
    """Return how far each placed piece is moved, by id. [mm in the bay].

    Args:
        design: The design.
        spread: The length that movements count in; None takes ``spread_mm``. [mm]
    """
    step = spread_mm(design) if spread is None else spread
    frames = {block.name: _frame(block) for block in design.blocks}
    loose = _Frame(np.array(_TAIL_AXES), _middle_of(design.placed))
    motions = {motion.body: motion for motion in design.motions}
    openings = {o.name: o for block in design.blocks for o in block.openings}
    rise = _RISE_SHARE * _top_extent(design)
    found: dict[str, Vector] = {}
    for placed in design.placed:
        frame = frames.get(placed.block, loose)
        move = _own_move(placed, frame, motions, openings, step)
        if placed.role in _ON_TOP:
            move = move + frame.vector(0.0, 0.0, rise * _RISE.get(placed.role, 1.0))
        else:
            move = move + _group_move(placed, frame, design, openings, step)
        found[placed.id] = move
    apart = _blocks_apart(design, found, step)
    return {
        placed.id: _point(found[placed.id] + apart.get(placed.block, np.zeros(3)))
        for placed in design.placed
    }


def fitting_moves(
    design: Design, new_ids: Collection[str], present_ids: Collection[str]
) -> dict[str, Point3]:
    """Return how far each new piece stands off its place in the figure of a step. [mm].

    A box of which every piece is new and whose carcass is there moves out whole; packers, and a
    first piece that has nothing to come to, stay where they are.
    """
    step = spread_mm(design)
    frames = {block.name: _frame(block) for block in design.blocks}
    loose = _Frame(np.array(_TAIL_AXES), _middle_of(design.placed))
    motions = {motion.body: motion for motion in design.motions}
    there = [p for p in design.placed if p.id in present_ids]
    found: dict[str, Point3] = {}
    for placed in design.placed:
        if placed.id not in new_ids:
            continue
        motion = motions.get(placed.body)
        moves_whole = motion is not None and motion.kind == "slide" and _is_hung(placed, there)
        if moves_whole and motion is not None:
            found[placed.id] = _point(np.array(motion.axis) * motion.travel * 0.8)
        elif placed.role == "packer" or (len(new_ids) == 1 and not there):
            found[placed.id] = (0.0, 0.0, 0.0)
        elif placed.role in _ON_TOP:
            frame = frames.get(placed.block, loose)
            found[placed.id] = _point(frame.vector(0.0, 0.0, 1.6 * step))
        else:
            frame = frames.get(placed.block, loose)
            boxed = placed.body != "fixed"
            found[placed.id] = _point(_role_move(placed, frame, step, boxed=boxed))
    return found


def _is_hung(placed: PlacedPart, there: Sequence[PlacedPart]) -> bool:
    """Whether a piece's carcass is there and none of its own box is: the box goes in whole."""
    own = any(p.body == placed.body for p in there)
    carcass = any(p.block == placed.block and p.body == "fixed" for p in there)
    return carcass and not own


def _point(vector: Vector) -> Point3:
    x, y, z = (float(c) + 0.0 for c in vector)
    return (x, y, z)


def _frame(block: BlockDesign) -> _Frame:
    box = block.box
    return _Frame(
        np.array(block.axes),
        np.array(box.centre),
        {module.name: np.array(module.box.centre) for module in block.modules},
    )


def _middle(placed: PlacedPart) -> Vector:
    half = np.array([placed.length / 2.0, placed.width / 2.0, placed.thickness / 2.0, 1.0])
    return np.asarray(frame_matrix(placed) @ half)


def _middle_of(placed: Sequence[PlacedPart]) -> Vector:
    return np.mean([_middle(p) for p in placed], axis=0) if placed else np.zeros(3)


def piece_corners(placed: PlacedPart) -> Vector:
    """Return the eight corners of a piece's box in the bay, 8 × 3. [mm]."""
    size = (placed.length, placed.width, placed.thickness)
    local = np.array([[(k >> i & 1) * size[i] for i in range(3)] for k in range(8)])
    matrix = frame_matrix(placed)
    return np.asarray(local @ matrix[:, :3].T + matrix[:, 3])


def _top_extent(design: Design) -> float:
    """Return length and width together of what lies on top. [mm]."""
    tops = [piece_corners(p) for p in design.placed if p.role == "deck"]
    if not tops:
        tops = [piece_corners(p) for p in design.placed if p.role in _ON_TOP]
    if not tops:
        return 0.0
    points = np.concatenate(tops)
    return float(np.ptp(points[:, 0]) + np.ptp(points[:, 1]))


def _role_move(placed: PlacedPart, frame: _Frame, step: float, *, boxed: bool) -> Vector:
    table = _BOX if boxed and placed.role in _BOX else _CARCASS
    sideways, inwards, up = table.get(placed.role, (0.0, 0.0, 0.5))
    if boxed and placed.role == "tray-rail":
        sideways, inwards, up = 0.0, 0.7, 0.0
    middle = frame.module_middles.get(placed.module, frame.middle)
    if placed.role.startswith(("wing", "infill", "side-packing")):
        middle = frame.middle
    off = frame.axes[0] @ (_middle(placed) - middle)
    side = 1.0 if off > 0.0 else -1.0
    return frame.vector(side * sideways * step, inwards * step, up * step)


def _own_move(
    placed: PlacedPart,
    frame: _Frame,
    motions: dict[str, Motion],
    openings: dict[str, OpeningDesign],
    step: float,
) -> Vector:
    """Return how a piece moves within its carcass or box, and its box out of the carcass."""
    opening = openings.get(placed.body)
    motion = motions.get(placed.body)
    if opening is None or motion is None:
        return _role_move(placed, frame, step, boxed=False)
    move = _role_move(placed, frame, step, boxed=True)
    if motion.kind == "slide":
        length = opening.box.length if opening.box else opening.depth
        move = move + np.array(motion.axis) * (length + 1.2 * step)
    return move


def _group_move(
    placed: PlacedPart,
    frame: _Frame,
    design: Design,
    openings: dict[str, OpeningDesign],
    step: float,
) -> Vector:
    """Return how a piece's module moves among modules and its box among the boxes of a module."""
    block = next((b for b in design.blocks if b.name == placed.block), None)
    if block is None:
        return np.zeros(3)
    across = up = 0.0
    names = [module.name for module in block.modules]
    if placed.module in names:
        across += (names.index(placed.module) - (len(names) - 1) / 2.0) * _MODULES_APART * step
    opening = openings.get(placed.body)
    if opening is not None:
        mates = [o for o in block.openings if o.module == opening.module]
        rows = sorted({o.row for o in mates if o.column == opening.column})
        columns = sorted({o.column for o in mates})
        up += (rows.index(opening.row) - (len(rows) - 1) / 2.0) * _ROWS_APART * step
        across += (columns.index(opening.column) - (len(columns) - 1) / 2.0) * _COLUMNS_APART * step
    return frame.vector(across, 0.0, up)


def _blocks_apart(design: Design, moves: dict[str, Vector], step: float) -> dict[str, Vector]:
    """Return how far each block is moved so that no two exploded blocks run into each other."""
    boxes: dict[str, tuple[Vector, Vector, Vector]] = {}
    for block in design.blocks:
        points = [
            piece_corners(p) + moves[p.id]
            for p in design.placed
            if p.block == block.name and p.role not in _ON_TOP
        ]
        if points:
            cloud = np.concatenate(points)
            boxes[block.name] = (cloud.min(axis=0), cloud.max(axis=0), np.array(block.box.centre))
    apart = {name: np.zeros(3) for name in boxes}
    names = list(boxes)
    for _ in range(12):
        shifted = False
        for i, one in enumerate(names):
            for other in names[i + 1 :]:
                push = _push(boxes[one], boxes[other], apart[one], apart[other], 0.6 * step)
                if push is not None:
                    apart[one] -= push / 2.0
                    apart[other] += push / 2.0
                    shifted = True
        if not shifted:
            break
    return apart


def _push(
    one: tuple[Vector, Vector, Vector],
    other: tuple[Vector, Vector, Vector],
    one_at: Vector,
    other_at: Vector,
    margin: float,
) -> Vector | None:
    """Return how the second box has to move away from the first; None when they are clear."""
    shared = np.minimum(one[1] + one_at, other[1] + other_at) - np.maximum(
        one[0] + one_at, other[0] + other_at
    )
    if shared.min() + margin <= 0.0:
        return None
    between = other[2] - one[2]
    axis = int(np.argmax(np.abs(between[:2]))) if np.abs(between[:2]).max() > 1.0 else 2
    push = np.zeros(3)
    push[axis] = (shared[axis] + margin) * (1.0 if between[axis] > 0.0 else -1.0)
    return push
