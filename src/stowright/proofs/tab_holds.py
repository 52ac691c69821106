"""What tabs in their slots carry when two parts are pushed along each other, and how they fit.

Only shear is counted: nothing but glue or screws keeps a tab from being drawn out again. Of three
ways for a tab to give, the weakest counts, whichever way the push goes: the slot's wall crushed in
the plane of its sheet, the tab's end crushed in its own plane, and the tab's plies slid over one
another at its root, 3 V / (2 l t) as in a short beam.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from stowright.design.tab_joints import TAB_AND_SLOT, allowance_of, builds_with_tabs
from stowright.formulas.ec5_design import Duration
from stowright.formulas.short_tabs import root_shear_n, wall_bearing_n
from stowright.model.design import Design, ThicknessInUse
from stowright.model.finding import Finding
from stowright.model.geometry import Box, Point3
from stowright.model.part import Joint, Part, PlacedPart, Tab
from stowright.proofs.basis import Capacity, sheet_strength
from stowright.proofs.index import Index
from stowright.proofs.judge import About, clearance, not_proved

__all__ = ["TAB_AND_SLOT", "tab_capacity", "tab_fit_findings", "tab_root_mm2", "tabs_in"]

_NEAR = 1.0
_UNMEASURED = (
    "measured, its slots are cut to it; now they take the thickest sheet that EN 315 allows and "
    "hold a thinner one loosely"
)


def tabs_in(index: Index, joint: Joint) -> tuple[Tab, ...]:
    """Return the tabs of the second part of a joint that stand in slots of its first."""
    if joint.kind != TAB_AND_SLOT:
        return ()
    receiver, entering = (index.pieces.get(name) for name in joint.parts)
    if receiver is None or entering is None:
        return ()
    part, box = index.part(entering), index.boxes[receiver.id]
    return tuple(tab for tab in part.tabs if _within(_middle(part, entering, tab), box))


def _middle(part: Part, piece: PlacedPart, tab: Tab) -> Point3:
    """Return the middle of a tab in the bay; the piece is taken from shoulder to shoulder."""
    u0 = max((t.reach for t in part.tabs if t.edge == "u0"), default=0.0)
    v0 = max((t.reach for t in part.tabs if t.edge == "v0"), default=0.0)
    across = (tab.start + tab.end) / 2.0
    out = tab.reach / 2.0
    match tab.edge:
        case "u0":
            u, v = -out, across - v0
        case "u1":
            u, v = piece.length + out, across - v0
        case "v0":
            u, v = across - u0, -out
        case _:
            u, v = across - u0, piece.width + out
    return piece.point(u, v, piece.thickness / 2.0)


def _within(point: Point3, box: Box) -> bool:
    spans = (box.x, box.y, box.z)
    return all(
        span.low - _NEAR <= at <= span.high + _NEAR for at, span in zip(point, spans, strict=True)
    )


def tab_root_mm2(index: Index, joint: Joint) -> float:
    """Return the area that a joint's tabs take out of the shoulder. [mm2]."""
    piece = index.pieces.get(joint.parts[1])
    if piece is None:
        return 0.0
    return sum((tab.end - tab.start) * piece.thickness for tab in tabs_in(index, joint))


def tab_capacity(
    index: Index, joints: Iterable[Joint], *, duration: Duration = "instantaneous"
) -> Capacity | None:
    """Return what the tabs of like joints carry together in shear, None without tabs. [N].

    Each joint counts with the least of its three ways to give; the sum is over the joints.
    """
    rows = [
        (weakest, count)
        for joint in joints
        if (weakest := _one(index, joint, duration)) is not None
        and (count := len(tabs_in(index, joint)))
    ]
    if not rows:
        return None
    least = min(rows, key=lambda row: row[0].value)[0]
    total = sum(row.value for row, _ in rows)
    count = sum(each for _, each in rows)
    return replace(
        least,
        value=total,
        working=(
            *least.working,
            f"{count} tabs in {len(rows)} joints: R = {total:.0f} N, shear only",
        ),
    )


def _one(index: Index, joint: Joint, duration: Duration) -> Capacity | None:
    """Return what the tabs of one joint carry by the way that gives first. [N]."""
    tabs = tabs_in(index, joint)
    if not tabs:
        return None
    receiver, entering = (index.pieces[name] for name in joint.parts)
    long = sum(tab.end - tab.start for tab in tabs)
    t, reach = entering.thickness, min(tab.reach for tab in tabs)
    wall = _strength(index, receiver, "f_compression", duration)
    end = _strength(index, entering, "f_compression", duration)
    plies = _strength(index, entering, "f_rolling", duration)
    ways = (
        (
            wall,
            wall_bearing_n(length_mm=long, depth_mm=reach, strength_n_mm2=wall.value),
            f"slot wall: R = l h f_c = {long:.0f} x {reach:.1f} x {wall.value:.2f}",
        ),
        (
            end,
            wall_bearing_n(length_mm=len(tabs) * t, depth_mm=reach, strength_n_mm2=end.value),
            f"tab ends: R = n t h f_c = {len(tabs)} x {t:.1f} x {reach:.1f} x {end.value:.2f}",
        ),
        (
            plies,
            root_shear_n(length_mm=long, thickness_mm=t, strength_n_mm2=plies.value),
            f"tab roots: R = 2/3 l t f_r = 2/3 x {long:.0f} x {t:.1f} x {plies.value:.2f}",
        ),
    )
    source, value, words = min(ways, key=lambda way: way[1])
    return replace(
        source, value=value, unit="N", working=(*source.working, f"{words} = {value:.0f} N")
    )


def _strength(index: Index, piece: PlacedPart, name: str, duration: Duration) -> Capacity:
    row = index.material(piece)
    strength = row.f_compression if name == "f_compression" else row.f_rolling
    return sheet_strength(
        row, strength=strength, duration=duration, service_class=index.service_class
    )


def tab_fit_findings(design: Design) -> Iterator[Finding]:
    """Yield, for each sheet with tabs, whether its thickest place goes into their slots."""
    materials = dict.fromkeys(part.material for part in design.parts if part.tabs)
    for name in materials:
        yield _fits(design, design.thickness(name))


def _fits(design: Design, sheet: ThicknessInUse) -> Finding:
    allowance = min(allowance_of(build) for build in builds_with_tabs(design.job))
    wide = sheet.t_max + allowance
    about = About(
        id=f"TAB-FIT:{sheet.material}",
        title=f"Tabs of {sheet.material} go into their slots",
        about=sheet.material,
        family=3,
        source="slot = thickest place of the sheet and the fit allowance (judgement)",
        standing="common practice",
        working=(
            f"slot = {sheet.t_max:.2f} + {allowance:.2f} = {wide:.2f} mm",
            f"play on the mean sheet {wide - sheet.t:.2f} mm",
            f"play on the thinnest sheet {wide - sheet.t_min:.2f} mm",
        ),
    )
    if sheet.source == "catalogue":
        return not_proved(
            about,
            needs=(f"caliper readings of {sheet.material}",),
            advice=(_UNMEASURED,),
        )
    return clearance(about, needed=sheet.t_max, available=wide, reading_error=0.0)
