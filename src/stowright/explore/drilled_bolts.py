"""Hold-down bolts whose holes are drilled in floors that are cut: they stay where they are."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stowright.model.design import Design
from stowright.model.geometry import Point2
from stowright.model.given import AnchorPlan, ModuleAnchors
from stowright.model.part import Feature, PlacedPart
from stowright.model.refit import Refit

__all__ = ["as_bolted"]

_PURPOSE = "hold-down bolt"


def as_bolted(design: Design, refit: Refit, anchors: AnchorPlan | None) -> AnchorPlan | None:
    """Return a plan of anchors that uses the holes of cut floors; None where all are used as it is.

    A carcass that wants more bolts than its floor has holes keeps the places of the plan.

    Args:
        design: The design with the refit, its bolts where the plan of anchors has them.
        refit: What was cut, with the new holes that it asks for.
        anchors: That plan; None for the usual bolts.
    """
    asked = {
        row.piece
        for row in refit.redrills
        if any(h.purpose.startswith(_PURPOSE) for h in row.drill)
    }
    found: dict[tuple[str, str], list[Point2]] = {}
    for piece in design.placed:
        row = next((row for row in refit.frozen if piece.id in row.pieces), None)
        if piece.role == "carcass-floor" and row is not None and row.features:
            found.setdefault((piece.block, piece.module), []).extend(_places(piece, row.features))
    moved = {(p.block, p.module) for p in design.placed if p.id in asked}
    wanted = [(anchor.block, anchor.module) for anchor in design.anchors]
    rows = {(row.block, row.module): row for row in (anchors.modules if anchors else ())}
    kept = {
        key: replace(
            rows.get(key, ModuleAnchors(block=key[0], module=key[1])), places=tuple(places)
        )
        for key, places in found.items()
        if key in moved and places and wanted.count(key) <= len(places)
    }
    if not kept:
        return None
    modules = tuple({**rows, **kept}.values())
    return AnchorPlan(modules=modules, open=anchors.open if anchors else ())


def _places(piece: PlacedPart, features: tuple[Feature, ...]) -> Iterator[Point2]:
    """Yield where the bolts of a floor stand in the bay. [mm]."""
    (u, v, _), origin = piece.axes, piece.origin
    for hole in features:
        if hole.purpose.startswith(_PURPOSE) and hole.face in {"good", "back"}:
            x, y = (origin[k] + u[k] * hole.at[0] + v[k] * hole.at[1] for k in (0, 1))
            yield (round(x, 3), round(y, 3))
