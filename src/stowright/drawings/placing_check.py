"""Whether every loose piece and every anchor has its place in the plans of places.

An outside look at finished drawings: it reads the running dimensions and the table of hold-downs,
not how they were made.
"""

from __future__ import annotations

from collections.abc import Iterable

from stowright.drawings.hold_down_plan import written
from stowright.drawings.placing_plan import LOOSE_ROLES, extent
from stowright.drawings.scene import Running, Scene, Text
from stowright.model.design import AnchorPoint, Design

__all__ = ["unplaced"]

#: Rounding of a place. [mm]
_NEAR = 0.06


def unplaced(design: Design, plans: Iterable[Scene]) -> list[str]:
    """Return each piece and anchor that is not dimensioned along and across, a line each.

    Args:
        design: The design.
        plans: The plans of places.
    """
    given: dict[str, set[float]] = {"x": {0.0}, "y": {0.0}}
    listed: dict[str, str] = {}
    for scene in plans:
        for item in scene.items:
            if isinstance(item, Running):
                given[item.axis] |= set(item.values)
            elif isinstance(item, Text) and item.about:
                listed[item.about] = item.text
    missing = []
    for piece in design.placed:
        if piece.role in LOOSE_ROLES:
            (x, _), across, _ = extent(piece)
            missing += _missing(f"{piece.mark} ({piece.id})", x, across, given)
    for anchor in design.anchors:
        if anchor.surface == "floor" and f"{anchor.id} along" in listed:
            missing += _misprinted(anchor, listed, design)
        elif anchor.surface == "floor":
            missing += _missing(anchor.id, anchor.x, (anchor.y, anchor.y), given)
    return missing


def _misprinted(anchor: AnchorPoint, listed: dict[str, str], design: Design) -> list[str]:
    """Return which of a hold-down's places the table does not give."""
    axes = zip(("along", "across"), written(anchor, design.job.units), strict=True)
    return [
        f"{anchor.id}: no place {axis}"
        for axis, words in axes
        if listed.get(f"{anchor.id} {axis}") != words
    ]


def _missing(
    name: str, along: float, across: tuple[float, float], given: dict[str, set[float]]
) -> list[str]:
    """Return what is not given: on paper the bay's length runs upwards, its width across."""
    found = [] if _is_given(along, given["y"]) else [f"{name}: no place along"]
    if not all(_is_given(value, given["x"]) for value in across):
        found.append(f"{name}: no place across")
    return found


def _is_given(value: float, values: set[float]) -> bool:
    return any(abs(value - other) <= _NEAR for other in values)
