"""How far screws in wood stand from each other and from edges, one finding a screw type."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from math import dist

from stowright.formulas.ec5_spacing import cross_ply_panel_distances
from stowright.model.finding import Finding
from stowright.model.part import Joint, PlacedFixing, PlacedPart
from stowright.proofs.index import Index
from stowright.proofs.joint_holds import let_in
from stowright.proofs.judge import About, clearance, not_proved
from stowright.proofs.screws import STATED_FRACTION

__all__ = ["distance_findings"]

#: Joints of wood on wood; the holes of runners, hinges and catches lie as their maker put them.
WOOD = frozenset({"butt", "rebate", "housing", "tab-and-slot", "groove", "planted", "cleat"})
SOURCE = "LVL Handbook (2025), Table 5.1, wide face of cross-bonded LVL, taken for plywood"


def distance_findings(index: Index) -> Iterator[Finding]:
    """Yield, for each screw type in wood, the least spacing and the least edge distance."""
    rows: dict[str, list[tuple[Joint, list[PlacedFixing]]]] = {}
    for joint in index.design.joints:
        screws = [each for each in index.fixings.get(joint.id, []) if each.kind == "screw"]
        if screws and joint.kind in WOOD:
            rows.setdefault(screws[0].type, []).append((joint, screws))
    for name in sorted(rows):
        found = _spacing(index, name, rows[name])
        if found is not None:
            yield found
        carrying = [(j, s) for j, s in rows[name] if not j.glued and not let_in(j)]
        if carrying:
            yield _edge(index, name, carrying)


def _named(joint: Joint) -> str:
    return " – ".join(joint.parts)


def _spacing(
    index: Index, name: str, rows: list[tuple[Joint, list[PlacedFixing]]]
) -> Finding | None:
    """Return the finding about the two screws of a joint that stand closest."""
    pairs = [
        (dist(one.at, two.at), _named(joint))
        for joint, screws in rows
        for one, two in combinations(screws, 2)
    ]
    if not pairs:
        return None
    gap, where = min(pairs)
    screw = index.catalogue.screw(name)
    needed = cross_ply_panel_distances(diameter_mm=screw.diameter, angle_deg=0.0).along_mm
    return clearance(
        About(
            id=f"SCREW-SPACING:{name}",
            title=f"{name} stand far enough apart",
            about=name,
            family=7,
            source=SOURCE,
            standing="published",
            load_case=f"closest pair: {where}",
            working=(
                f"a1 = (5 + 2 cos) d = {needed:.1f} mm at most, d {screw.diameter:.2f} mm",
                f"closest two: {gap:.1f} mm",
            ),
        ),
        needed=needed,
        available=gap,
        reading_error=0.0,
        advice=("fewer screws in that joint, or thinner ones",),
    )


def _edge(index: Index, name: str, rows: list[tuple[Joint, list[PlacedFixing]]]) -> Finding:
    """Return the finding about the screw that stands nearest an edge of what it goes through.

    Joints that are glued or let in are left out: their screws only clamp. Nearer than 3 d is
    outside the rule, and the joint's own proof counts a fraction of the clause's value.
    """
    screw = index.catalogue.screw(name)
    least, where = min(
        (
            (_to_edge(index.pieces[fixing.joins[0]], fixing), _named(joint))
            for joint, screws in rows
            for fixing in screws
            if fixing.joins[0] in index.pieces
        ),
        default=(float("inf"), ""),
    )
    needed = cross_ply_panel_distances(diameter_mm=screw.diameter, angle_deg=0.0).free_edge_mm
    about = About(
        id=f"SCREW-EDGE:{name}",
        title=f"{name} keep their distance from edges",
        about=name,
        family=7,
        source=SOURCE,
        standing="published",
        load_case=f"nearest an edge: {where}",
        working=(
            f"a4c = 3 d = {needed:.1f} mm, d {screw.diameter:.2f} mm",
            f"nearest: {least:.1f} mm",
        ),
    )
    if least >= needed - 0.05:
        return clearance(about, needed=needed, available=least, reading_error=0.0)
    told = not_proved(
        about,
        needs=(
            (
                "a test of the joint, glue in it, or a bearing under it; or catalogue screws: one "
                f"of at most {max(least, 0.0) / 3.0:.1f} mm diameter"
            ),
        ),
        advice=(f"drill pilots; its own proof counts {STATED_FRACTION:g} of the clause's value",),
    )
    return replace(
        told, kind="clearance", demand=round(needed, 4), capacity=round(least, 4), unit="mm"
    )


def _to_edge(piece: PlacedPart, fixing: PlacedFixing) -> float:
    """Return how far a screw's head stands from the nearest edge of the piece under it. [mm]."""
    u, v = (
        sum((a - o) * b for a, o, b in zip(fixing.at, piece.origin, axis, strict=True))
        for axis in piece.axes[:2]
    )
    return min(u, piece.length - u, v, piece.width - v)
