"""How far new pieces stand off their place in the figure of a step, so that arrows show the way."""

from __future__ import annotations

from collections.abc import Collection, Sequence

import numpy as np

from stowright.drawings.explode import ON_TOP, Mover, as_point, piece_corners
from stowright.model.design import Design
from stowright.model.geometry import Point3
from stowright.model.part import PlacedPart

__all__ = ["fitting_moves"]

#: Share of the figure's diagonal that a piece stands off, and its bounds. [mm]
_STAND_OFF = 0.11
_LEAST, _MOST = 90.0, 260.0
#: A box that goes into its carcass whole stands out by this share of its travel.
_OUT = 0.8
_STAY = frozenset({"packer"})
#: Stood in from above between what is there; apart from it they would not move at all.
_FROM_ABOVE = frozenset({"partition"})


def fitting_moves(
    design: Design, new_ids: Collection[str], present_ids: Collection[str]
) -> dict[str, Point3]:
    """Return how far each new piece stands off its place. [mm in the bay].

    A box of which nothing is there yet, but its carcass is, moves out whole. Packers, and a first
    piece that has nothing to come to, stay where they are.

    Args:
        design: The design.
        new_ids: Pieces that come on.
        present_ids: Pieces that are there.
    """
    new = [p for p in design.placed if p.id in new_ids]
    there = [p for p in design.placed if p.id in present_ids and p.id not in new_ids]
    mover = Mover(design, _step((*new, *there)))
    motions = {motion.body: motion for motion in design.motions}
    found: dict[str, Point3] = {}
    for placed in new:
        motion = motions.get(placed.body)
        if motion is not None and motion.kind == "slide" and _is_hung(placed, there):
            found[placed.id] = as_point(np.array(motion.axis) * motion.travel * _OUT)
        elif placed.role in _STAY or (len(new) == 1 and not there):
            found[placed.id] = (0.0, 0.0, 0.0)
        elif placed.role in ON_TOP or placed.role in _FROM_ABOVE:
            found[placed.id] = (0.0, 0.0, 1.6 * mover.step)
        else:
            found[placed.id] = as_point(mover.by_role(placed, boxed=placed.body != "fixed"))
    return found


def _step(pieces: Sequence[PlacedPart]) -> float:
    if not pieces:
        return _LEAST
    points = np.concatenate([piece_corners(p) for p in pieces])
    diagonal = float(np.linalg.norm(np.ptp(points, axis=0)))
    return min(max(_STAND_OFF * diagonal, _LEAST), _MOST)


def _is_hung(placed: PlacedPart, there: Sequence[PlacedPart]) -> bool:
    """Whether a piece's carcass is there and nothing of its own box: the box goes in whole."""
    own = any(p.body == placed.body for p in there)
    carcass = any(p.block == placed.block and p.body == "fixed" for p in there)
    return carcass and not own
