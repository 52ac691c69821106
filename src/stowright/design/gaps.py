"""The named gaps of an opening and a block, between the pieces they lie between."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from stowright.design.fills import FillPieces, FillQuestion
from stowright.design.frame import BlockFrame
from stowright.design.pieces import Piece
from stowright.model.design import Gap, RunnerFit
from stowright.model.geometry import Box, Span

__all__ = ["gap_between", "opening_gaps"]

#: A front gap closer than this rubs when the weather is damp (common practice). [mm]
LEAST_FRONT_GAP = 1.0
#: Least air under and over a box (common practice). [mm]
LEAST_VERTICAL_GAP = 2.0

type AxisName = Literal["x", "y", "z"]


def _axis(frame: BlockFrame, letter: str) -> AxisName:
    vector = frame.axes["adh".index(letter)]
    return "x" if vector[0] else "y" if vector[1] else "z"


def _span(box: Box, axis: AxisName) -> Span:
    return {"x": box.x, "y": box.y, "z": box.z}[axis]


def gap_between(name: str, one: Piece, two: Piece, axis: AxisName, *, least: float) -> Gap:
    """Return the gap between two pieces as it is in the model, under its name."""
    apart = -_span(one.box, axis).overlap(_span(two.box, axis))
    return Gap(
        name=name, between=(one.id, two.id), axis=axis, sum=round(apart, 6) + 0.0, least=least
    )


def opening_gaps(
    ask: FillQuestion, made: FillPieces, by_id: Mapping[str, Piece]
) -> tuple[Gap, ...]:
    """Return every gap around an opening's moving parts.

    Args:
        ask: The opening.
        made: What fills it.
        by_id: The fixed pieces around it.
    """
    found = [*_front_gaps(ask, made, by_id)]
    if made.runner is not None:
        found += _box_gaps(ask, made, made.runner, by_id)
    return tuple(found)


def _box_gaps(
    ask: FillQuestion, made: FillPieces, fit: RunnerFit, by_id: Mapping[str, Piece]
) -> list[Gap]:
    name, across, up = ask.name, _axis(ask.frame, "a"), _axis(ask.frame, "h")
    moving = {piece.role + piece.hand: piece for piece in made.pieces}
    left = moving.get("drawer-sideleft") or moving["tray-cheekleft"]
    right = moving.get("drawer-sideright") or moving["tray-cheekright"]
    refit = ask.context.refit_of(name)
    # The model shows the opening as planned; where it reads wider the box has that much more room.
    roomier = refit.roomier / 2.0 if refit else 0.0
    least = fit.runner.side_space.least + ask.lining - max(0.0, roomier)
    found = [
        gap_between(
            f"{name}: runner space, left", by_id[ask.bounds.left], left, across, least=least
        ),
        gap_between(
            f"{name}: runner space, right", right, by_id[ask.bounds.right], across, least=least
        ),
    ]
    solids = [p for p in made.pieces if p.role != "drawer-front"]
    lowest = min(solids, key=lambda p: p.box.z.low)
    highest = max(solids, key=lambda p: p.box.z.high)
    if ask.bounds.below in by_id:
        found.append(
            gap_between(
                f"{name}: under the box",
                by_id[ask.bounds.below],
                lowest,
                up,
                least=LEAST_VERTICAL_GAP,
            )
        )
    if ask.bounds.above in by_id:
        found.append(
            gap_between(
                f"{name}: over the box",
                highest,
                by_id[ask.bounds.above],
                up,
                least=LEAST_VERTICAL_GAP,
            )
        )
    if ask.back in by_id:
        deep = _axis(ask.frame, "d")
        found.append(gap_between(f"{name}: behind the box", left, by_id[ask.back], deep, least=0.0))
    return found


def _front_gaps(ask: FillQuestion, made: FillPieces, by_id: Mapping[str, Piece]) -> list[Gap]:
    face = made.front_plan
    if face is None or face.depth.low < 0.0 or ask.opening.fill.fill == "blank":
        return []
    front = next(p for p in made.pieces if p.role in {"drawer-front", "door"})
    across, up = _axis(ask.frame, "a"), _axis(ask.frame, "h")
    sides = (
        ("left", ask.bounds.left, across),
        ("right", ask.bounds.right, across),
        ("below", ask.bounds.below, up),
        ("above", ask.bounds.above, up),
    )
    return [
        gap_between(
            f"{ask.name}: front gap, {word}", by_id[other], front, axis, least=LEAST_FRONT_GAP
        )
        for word, other, axis in sides
        if other in by_id
    ]
