"""No screw comes through on the worst sheet, and every one holds in something."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.model.part import PlacedFixing, PlacedPart
from stowright.proofs.judge import About, clearance

__all__ = ["fixing_findings"]

#: Wood left in front of a screw's point. [mm]
LEFT = 0.5


def fixing_findings(design: Design) -> Iterator[Finding]:
    """Yield one finding per screw type: the copy with least wood before its point."""
    by_id = {piece.id: piece for piece in design.placed}
    flange = {
        o.name: o.runner.runner.flange
        for block in design.blocks
        for o in block.openings
        if o.runner is not None
    }
    worst: dict[str, tuple[float, PlacedFixing, tuple[str, ...]]] = {}
    for fixing in design.fixings:
        if fixing.kind != "screw":
            continue
        left, lines = _left(design, fixing, by_id, max(flange.values(), default=0.0))
        if fixing.type not in worst or left < worst[fixing.type][0]:
            worst[fixing.type] = (left, fixing, lines)
    for name in sorted(worst):
        left, fixing, lines = worst[name]
        yield clearance(
            About(
                id=f"SCREW-LENGTH:{name}",
                title=f"{name} does not come through on the thinnest sheet",
                about=name,
                family=14,
                source="common practice: length up to what it passes + least thickness - 0.5",
                standing="common practice",
                load_case=f"{fixing.id}: {', '.join(fixing.joins)}",
                working=lines,
            ),
            needed=LEFT,
            available=left,
            reading_error=0.0,
            advice=("a shorter screw",),
        )


def _left(
    design: Design, fixing: PlacedFixing, by_id: dict[str, PlacedPart], flange: float
) -> tuple[float, tuple[str, ...]]:
    """Return the wood before the point, and the sum."""
    total = 0.0
    lines = []
    for joined in fixing.joins:
        piece = by_id.get(joined)
        if piece is None:
            total += flange
            lines.append(f"runner flange {flange:g} mm")
            continue
        deep, face = _depth(piece, fixing)
        if face:
            row = design.thickness(design.part(piece.mark).material)
            deep = min(deep, row.t_min)
            lines.append(f"{joined}: least thickness {deep:g} mm")
        else:
            lines.append(f"{joined}: into the edge, {deep:g} mm deep")
        total += deep
    lines.append(f"length {fixing.length:g} mm; left {total - fixing.length:.2f} mm")
    return total - fixing.length, tuple(lines)


def _depth(piece: PlacedPart, fixing: PlacedFixing) -> tuple[float, bool]:
    """Return how deep a piece is along a fixing, and whether that is its thickness."""
    sizes = (piece.length, piece.width, piece.thickness)
    along = [
        abs(sum(a * d for a, d in zip(axis, fixing.direction, strict=True))) for axis in piece.axes
    ]
    k = along.index(max(along))
    return sizes[k], k == 2
