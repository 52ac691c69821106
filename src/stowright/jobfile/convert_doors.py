"""From the shape of doorways and tailgate to the model."""

from __future__ import annotations

from typing import Literal

from stowright.jobfile.scanner import Path
from stowright.jobfile.shape_bay import BayShape, OpeningShape
from stowright.jobfile.taking import NOT_SAID, USUAL, Taker
from stowright.model.bay import Opening, Tailgate

__all__ = ["openings_of", "tailgate_of"]

_HINGES: dict[str, Literal["down", "up", "side"]] = {
    "tub": "down",
    "tray": "down",
    "wagon": "up",
    "van": "side",
}


def openings_of(shape: BayShape, drop: float, taker: Taker) -> tuple[Opening, ...]:
    """Return the doorways; ``drop`` is what heights lose to be counted from the rib tops."""
    return tuple(
        _opening(each, ("bay", "opening", place), drop, taker)
        for place, each in enumerate(shape.opening or ())
    )


def _opening(shape: OpeningShape, path: Path, drop: float, taker: Taker) -> Opening:
    """A sill lower than the rib tops gives no clear height: the doorway loses what it lacks."""
    sill = taker.length((*path, "sill_rise"), shape.sill_rise, 0.0, NOT_SAID)
    below = max(drop - sill, 0.0)
    width, at = shape.width or 0.0, shape.at
    if shape.x is not None:
        at, width = shape.x[0], round(shape.x[1] - shape.x[0], 9)
    return Opening(
        face=taker.take((*path, "face"), shape.face, "tail", NOT_SAID),
        width=width,
        height=None if shape.height is None else round(shape.height - below, 9),
        sill_rise=round(max(sill - drop, 0.0), 9),
        above_ground=shape.above_ground,
        at=at,
        opens_inside=shape.opens_inside,
    )


def tailgate_of(shape: BayShape, kind: str, drop: float, taker: Taker) -> Tailgate | None:
    """Return the tailgate, if the job speaks of one."""
    gate = shape.tailgate
    if gate is None:
        return None
    path = ("bay", "tailgate")
    open_top = taker.length((*path, "open_top"), gate.open_top, drop, NOT_SAID)
    return Tailgate(
        hinge=taker.take((*path, "hinge"), gate.hinge, _HINGES[kind], USUAL),
        length=taker.length((*path, "length"), gate.length, 0.0, NOT_SAID),
        open_top=round(open_top - drop, 9),
    )
