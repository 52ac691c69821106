"""Hold-down bolts whose holes are drilled in floors that are cut: they stay where they are."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import dist

from stowright.design.as_drilled import BY_HAND
from stowright.model.design import Design
from stowright.model.geometry import Point2
from stowright.model.given import AnchorPlan, ModuleAnchors
from stowright.model.part import Feature, PlacedPart
from stowright.model.refit import Refit

__all__ = ["as_bolted", "asks_for_bolts"]

_PURPOSE = "hold-down bolt"


def asks_for_bolts(refit: Refit) -> bool:
    """Tell whether a cut part would be drilled again for a hold-down bolt."""
    return any(hole.purpose.startswith(_PURPOSE) for row in refit.redrills for hole in row.drill)


def as_bolted(
    design: Design, refit: Refit, anchors: AnchorPlan | None, *, within: float = BY_HAND
) -> AnchorPlan | None:
    """Return a plan of anchors that uses the holes of cut floors; None where all are used as it is.

    A carcass that wants more bolts than its floor has holes keeps the places of the plan.

    Args:
        design: The design, its bolts where the plan of anchors has them.
        refit: What was cut.
        anchors: That plan; None for the usual bolts.
        within: How far a bolt may stand from its hole. [mm]
    """
    frozen = {name: row for row in refit.frozen for name in row.pieces}
    holes: dict[tuple[str, str], list[Point2]] = {}
    for piece in design.placed:
        row = frozen.get(piece.id)
        if piece.role == "carcass-floor" and row is not None and row.features:
            holes.setdefault((piece.block, piece.module), []).extend(_places(piece, row.features))
    wanted: dict[tuple[str, str], list[Point2]] = {}
    for anchor in design.anchors:
        wanted.setdefault((anchor.block, anchor.module), []).append((anchor.x, anchor.y))
    rows = {(row.block, row.module): row for row in (anchors.modules if anchors else ())}
    kept = {
        key: replace(
            rows.get(key, ModuleAnchors(block=key[0], module=key[1])), places=tuple(places)
        )
        for key, places in holes.items()
        if places and _moved(wanted.get(key, []), places, within)
    }
    if not kept:
        return None
    modules = tuple({**rows, **kept}.values())
    return AnchorPlan(modules=modules, open=anchors.open if anchors else ())


def _moved(wanted: list[Point2], holes: list[Point2], within: float) -> bool:
    """Whether bolts, no more than there are holes, stand elsewhere than in them."""
    if not wanted or len(wanted) > len(holes):
        return False
    return any(min(dist(spot, hole) for hole in holes) > within for spot in wanted)


def _places(piece: PlacedPart, features: tuple[Feature, ...]) -> Iterator[Point2]:
    """Yield where the bolts of a floor stand in the bay. [mm]."""
    (u, v, _), origin = piece.axes, piece.origin
    for hole in features:
        if hole.purpose.startswith(_PURPOSE) and hole.face in {"good", "back"}:
            x, y = (origin[k] + u[k] * hole.at[0] + v[k] * hole.at[1] for k in (0, 1))
            yield (round(x, 3), round(y, 3))
