"""How far each piece is moved apart in an exploded view, from what it is and where it stands.

Pieces go the way they came: drawers out along their runners and apart in themselves, sides
sideways, rails up, floors and packers down, backs inwards; what lies on top rises clear. Modules
and blocks move apart. Lengths are multiples of one ``spread`` that follows from the unit's size.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from stowright.drawings.solids import frame_matrix
from stowright.model.design import BlockDesign, Design, OpeningDesign
from stowright.model.geometry import Axes3, Point3
from stowright.model.part import PlacedPart

__all__ = ["ON_TOP", "Mover", "as_point", "exploded_offsets", "piece_corners", "spread_mm"]

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
    "floor-bearer": (0.0, 0.0, -1.8),
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
_RISE_SHARE = 0.42
ON_TOP = frozenset({"deck", "wing", "wing-lid", "joint-strip", "bearer"})
_RISE: dict[str, float] = {"joint-strip": 0.6, "bearer": 0.55}
#: Pieces that belong to a block's flank, whatever module stands there.
_FLANK = ("wing", "infill", "side-packing")
_MODULES_APART = 2.9
#: Modules stand at least this many of their heights apart, middle to middle.
_SEE_PAST = 1.1
_ROWS_APART = 1.15
_COLUMNS_APART = 1.7
#: A box comes out of its carcass by its length and this many spreads.
_OUT = 1.2


def spread_mm(design: Design) -> float:
    """Return the length that exploded views count in: three tenths of the least module. [mm]."""
    sizes = [min(m.width, m.height) for b in design.blocks for m in b.modules]
    return min(max(0.3 * min(sizes, default=400.0), 80.0), 160.0)


def exploded_offsets(design: Design, *, factor: float = 1.0) -> dict[str, Point3]:
    """Return how far each placed piece is moved, by id. [mm in the bay].

    Args:
        design: The design.
        factor: How much farther than usual.
    """
    mover = Mover(design, spread_mm(design) * factor, rise=_RISE_SHARE * factor)
    moves = {placed.id: mover.exploded(placed) for placed in design.placed}
    apart = _blocks_apart(design, moves, mover.step)
    still = np.zeros(3)
    return {p.id: as_point(moves[p.id] + apart.get(p.block, still)) for p in design.placed}


class Mover:
    """Knows which way each piece of a design came to its place.

    Attributes:
        step: The length that movements count in. [mm]
    """

    def __init__(self, design: Design, step: float, *, rise: float = _RISE_SHARE) -> None:
        self.step = step
        self._blocks = {block.name: block for block in design.blocks}
        self._motions = {motion.body: motion for motion in design.motions}
        self._openings = {o.name: o for block in design.blocks for o in block.openings}
        self._middle = _middle_of(design.placed)
        self._rise = rise * _top_extent(design)

    def exploded(self, placed: PlacedPart) -> Vector:
        """Return how far a piece is moved in the exploded view of its block. [mm]."""
        move = self.by_role(placed, boxed=self._is_boxed(placed))
        if placed.role in ON_TOP:
            return move + self._vector(placed, 0.0, 0.0, self._rise * _RISE.get(placed.role, 1.0))
        return move + self._out_of_carcass(placed) + self._among_modules(placed)

    def by_role(self, placed: PlacedPart, *, boxed: bool) -> Vector:
        """Return how far a piece is moved off its own box (boxed) or carcass. [mm]."""
        table = _BOX if boxed and placed.role in _BOX else _CARCASS
        sideways, inwards, up = table.get(placed.role, (0.0, 0.0, 0.5))
        if placed.role == "tray-rail":
            sideways, inwards, up = 0.0, 0.7 * self._sign(placed, 1), 0.0
        across = sideways * self._sign(placed, 0)
        return self._vector(placed, across * self.step, inwards * self.step, up * self.step)

    def _is_boxed(self, placed: PlacedPart) -> bool:
        return placed.body in self._openings and placed.body in self._motions

    def _axes(self, placed: PlacedPart) -> Vector:
        block = self._blocks.get(placed.block)
        return np.array(_TAIL_AXES if block is None else block.axes)

    def _vector(self, placed: PlacedPart, across: float, inwards: float, up: float) -> Vector:
        return np.asarray(np.array([across, inwards, up]) @ self._axes(placed))

    def _sign(self, placed: PlacedPart, axis: int) -> float:
        """Return on which side of the middle of its box, module or block a piece stands."""
        off = self._axes(placed)[axis] @ (_middle(placed) - self._middle_about(placed))
        return 1.0 if off > 0.0 else -1.0

    def _middle_about(self, placed: PlacedPart) -> Vector:
        opening = self._openings.get(placed.body)
        if opening is not None:
            return np.array(opening.clear.centre)
        block = self._blocks.get(placed.block)
        if block is None:
            return self._middle
        module = next((m for m in block.modules if m.name == placed.module), None)
        if module is None or placed.role.startswith(_FLANK):
            return np.array(block.box.centre)
        return np.array(module.box.centre)

    def _out_of_carcass(self, placed: PlacedPart) -> Vector:
        motion, opening = self._motions.get(placed.body), self._openings.get(placed.body)
        if motion is None or opening is None or motion.kind != "slide":
            return np.zeros(3)
        length = opening.box.length if opening.box else opening.depth
        return np.asarray(np.array(motion.axis) * (length + _OUT * self.step))

    def _among_modules(self, placed: PlacedPart) -> Vector:
        """Return how a module moves among modules, and a box among the boxes of its module."""
        block = self._blocks.get(placed.block)
        if block is None:
            return np.zeros(3)
        across, up = self._module_shift(block, placed), 0.0
        opening = self._openings.get(placed.body)
        if opening is not None:
            row, column = _places_in_module(block, opening)
            up += row * _ROWS_APART * self.step
            across += column * _COLUMNS_APART * self.step
        return self._vector(placed, across, 0.0, up)

    def _module_shift(self, block: BlockDesign, placed: PlacedPart) -> float:
        names = [module.name for module in block.modules]
        if len(names) < 2:
            return 0.0
        crowded = max(_SEE_PAST * m.height - m.width for m in block.modules)
        apart = _MODULES_APART * self.step + max(crowded, 0.0)
        outer = (len(names) - 1) / 2.0
        if placed.module in names:
            return (names.index(placed.module) - outer) * apart
        if placed.role.startswith(_FLANK):
            return self._sign(placed, 0) * outer * apart
        return 0.0


def _places_in_module(block: BlockDesign, opening: OpeningDesign) -> tuple[float, float]:
    """Return an opening's row and column, counted from the middle of its module."""
    mates = [o for o in block.openings if o.module == opening.module]
    rows = sorted({o.row for o in mates if o.column == opening.column})
    columns = sorted({o.column for o in mates})
    return (
        rows.index(opening.row) - (len(rows) - 1) / 2.0,
        columns.index(opening.column) - (len(columns) - 1) / 2.0,
    )


def as_point(vector: Vector) -> Point3:
    """Return a vector as a plain point."""
    x, y, z = (float(c) + 0.0 for c in vector)
    return (x, y, z)


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
        tops = [piece_corners(p) for p in design.placed if p.role in ON_TOP]
    if not tops:
        return 0.0
    points = np.concatenate(tops)
    return float(np.ptp(points[:, 0]) + np.ptp(points[:, 1]))


def _blocks_apart(design: Design, moves: dict[str, Vector], step: float) -> dict[str, Vector]:
    """Return how far each block is moved so that no two exploded blocks run into each other."""
    boxes: dict[str, tuple[Vector, Vector, Vector]] = {}
    for block in design.blocks:
        points = [
            piece_corners(p) + moves[p.id]
            for p in design.placed
            if p.block == block.name and p.role not in ON_TOP
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
