"""What one screw can take in plywood: sideways, pulled, and pulled through; and what glue can.

Each capacity says which clauses the screw lies outside of. Thin panels put most screws outside
EN 1995-1-1: then the published test values stand in, divided by five, or where no test comes near,
a stated fraction of the clause's value is all that is proved.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from stowright.errors import OutOfRangeError
from stowright.formulas import ec5_axial, ec5_lateral, ec5_spacing, screw_tests_e830, wood_handbook
from stowright.formulas.ec5_design import Duration
from stowright.formulas.glue import GLUE_LINE_N_MM2, SOURCES, glue_line_n
from stowright.model.catalogue import Material, Screw, Standing
from stowright.proofs.basis import Capacity, design_resistance, sheet_strength, working

__all__ = [
    "STATED_FRACTION",
    "ScrewHold",
    "glue_capacity",
    "pull_through",
    "pulled",
    "sideways",
    "sideways_on_steel",
]

#: How much of a clause's value is counted where a screw lies outside the clause (judgement).
STATED_FRACTION = 0.5
#: Tensile strength of screw wire, from memory. [N/mm2]
WIRE_N_MM2 = 600.0
#: Least threaded penetration for sideways load, in diameters, EN 1995-1-1 8.3.1.2, from memory.
PENETRATION_D = 6.0
#: Mean density at 12 % moisture over oven-dry specific gravity (12 % of water on the same volume).
WET_OVER_DRY = 1120.0
#: Density of the plywood in the association's tests, dense softwood (assumed). [kg/m3]
TESTED_DENSITY = 500.0
_MM_PER_IN = 25.4

_EC5 = "EN 1995-1-1 section 8, restated by a public library; screw wire 600 N/mm² from memory"
_E830 = "association Technical Note E830 (2011), Tables 1 and 2"


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewHold:
    """What one screw can take.

    Attributes:
        clause: The clause's own value, before the fraction; None where tests stand in.
        counted: What is counted: the clause's value, a fraction of it, or the tested value. [N]
        outside: Which rules the screw lies outside of, a line each; empty when within all.
    """

    clause: Capacity | None
    counted: Capacity
    outside: tuple[str, ...]


def _gauge(diameter_mm: float) -> int:
    """Return the inch gauge that is no thicker than a screw (ASME B18.6.1 formula)."""
    return int((diameter_mm / _MM_PER_IN - 0.060) / 0.013 + 1.0e-3)


def _standing(*materials: Material) -> Standing:
    """Return the standing of a screw's value: its density or the screw's own remembered sizes."""
    assumed = any(row.origin.standing == "assumed" for row in materials)
    return "assumed" if assumed else "from memory"


def sideways(
    screw: Screw,
    *,
    head: Material,
    head_mm: float,
    point: Material,
    point_mm: float,
    into_edge: bool,
    service_class: int,
    duration: Duration = "instantaneous",
    edge_mm: float | None = None,
) -> ScrewHold:
    """Return what a screw takes sideways, ply on ply. [N].

    Args:
        screw: The screw.
        head: Sheet under its head, ``head_mm`` thick.
        point: Sheet that its point is in.
        head_mm: What it passes through on the head side.
        point_mm: How deep its point goes.
        into_edge: Whether the point is in an edge.
        service_class: Service class of EN 1995-1-1.
        duration: How long the load lasts.
        edge_mm: Distance to the nearest edge of the point side, None for well away.
    """
    d_mm = ec5_lateral.effective_diameter_mm(
        shank_mm=screw.diameter,
        root_mm=screw.root,
        smooth_shank_into_point_side_mm=max(0.0, screw.length - screw.thread - head_mm),
    )
    moment = ec5_lateral.bolt_yield_moment_n_mm(diameter_mm=d_mm, tensile_strength_n_mm2=WIRE_N_MM2)
    bearing = [
        ec5_lateral.embedment_plywood_n_mm2(diameter_mm=d_mm, density_kg_m3=row.density_char)
        for row in (head, point)
    ]
    found = ec5_lateral.single_shear(
        embedment_1_n_mm2=bearing[0],
        embedment_2_n_mm2=bearing[1],
        thickness_1_mm=head_mm,
        penetration_2_mm=max(point_mm, 0.1),
        diameter_mm=d_mm,
        yield_moment_n_mm=moment,
    )
    modes = ", ".join(f"{mode} {value:.0f}" for mode, value in found.modes_n.items())
    capacity = Capacity(
        value=found.resistance_n,
        unit="N",
        basis="characteristic",
        source=f"{_EC5}; embedment (8.20) from memory",
        standing=_standing(head, point),
        working=(
            (
                f"{screw.name}: d_ef {d_mm:.2f} mm, M_y,k = 0.3 f_u d^2.6 = {moment:.0f} N mm, "
                f"f_h,k = 0.11 rho_k d^-0.3 = {bearing[0]:.1f} and {bearing[1]:.1f} N/mm²"
            ),
            (
                f"t1 {head_mm:.1f}, t2 {point_mm:.1f} mm; (8.6) modes [N]: {modes}; "
                f"{found.mode} governs, no rope effect counted"
            ),
        ),
    )
    outside = _outside_sideways(screw, point_mm, edge_mm, point, into_edge=into_edge)
    return _counted(capacity, outside, service_class, duration)


def _outside_sideways(
    screw: Screw, point_mm: float, edge_mm: float | None, point: Material, *, into_edge: bool
) -> tuple[str, ...]:
    said = []
    if point_mm < PENETRATION_D * screw.diameter:
        said.append(
            f"point side {point_mm:.1f} mm is under {PENETRATION_D:g} d = "
            f"{PENETRATION_D * screw.diameter:.1f} mm"
        )
    most = ec5_spacing.edge_face_greatest_diameter_mm(thickness_mm=point.thickness, pulled=False)
    if into_edge and screw.diameter > most:
        said.append(
            f"in an edge of {point.thickness:g} mm 3 d each side allows {most:.1f} mm, the screw "
            f"has {screw.diameter:.1f} mm: pre-drilled, and to be proven by a test"
        )
    if edge_mm is not None and not into_edge and edge_mm < 3.0 * screw.diameter - 0.05:
        said.append(f"{edge_mm:.1f} mm to the edge is under 3 d = {3.0 * screw.diameter:.1f} mm")
    return tuple(said)


def _counted(
    capacity: Capacity, outside: tuple[str, ...], service_class: int, duration: Duration
) -> ScrewHold:
    """Take the design value, and the stated fraction of it where the screw is outside a rule."""
    design = design_resistance(
        capacity, duration=duration, service_class=service_class, what="joint"
    )
    if not outside:
        return ScrewHold(clause=design, counted=design, outside=())
    line = (
        f"outside the clause ({'; '.join(outside)}): {STATED_FRACTION:g} of it is counted = "
        f"{STATED_FRACTION * design.value:.0f} N"
    )
    counted = replace(
        design,
        value=STATED_FRACTION * design.value,
        standing="assumed",
        working=(*design.working, line),
    )
    return ScrewHold(clause=design, counted=counted, outside=outside)


def sideways_on_steel(
    screw: Screw,
    *,
    sheet: Material,
    sheet_mm: float,
    steel_mm: float,
    service_class: int,
    duration: Duration = "instantaneous",
) -> ScrewHold:
    """Return what a screw takes sideways that holds a steel member to the face of a sheet. [N].

    Within the clause (8.2.3) by it; else by the association's tests of screws through steel into
    plywood, divided by five and lessened with the density; below the least tested size by the
    stated fraction of the clause.
    """
    point_mm = min(screw.length - steel_mm, sheet_mm)
    outside = _outside_sideways(screw, point_mm, None, sheet, into_edge=False)
    d_mm = 1.1 * screw.root
    moment = ec5_lateral.bolt_yield_moment_n_mm(diameter_mm=d_mm, tensile_strength_n_mm2=WIRE_N_MM2)
    bearing = ec5_lateral.embedment_plywood_n_mm2(
        diameter_mm=d_mm, density_kg_m3=sheet.density_char
    )
    found = ec5_lateral.steel_plate_shear(
        embedment_n_mm2=bearing,
        thickness_mm=max(point_mm, 0.1),
        diameter_mm=d_mm,
        yield_moment_n_mm=moment,
        plate_mm=max(steel_mm, 0.1),
    )
    modes = ", ".join(f"{mode} {value:.0f}" for mode, value in found.modes_n.items())
    clause = Capacity(
        value=found.resistance_n,
        unit="N",
        basis="characteristic",
        source=f"{_EC5}; (8.9), (8.10)",
        standing=_standing(sheet),
        working=(f"{screw.name}: steel {steel_mm:g} mm on {point_mm:.1f} mm, modes [N]: {modes}",),
    )
    if outside:
        tested = _tested_on_steel(screw, sheet, point_mm, outside)
        if tested is not None:
            return ScrewHold(clause=None, counted=tested, outside=outside)
    return _counted(clause, outside, service_class, duration)


def _tested_on_steel(
    screw: Screw, sheet: Material, point_mm: float, outside: tuple[str, ...]
) -> Capacity | None:
    """Return the tested value as a working load, or None below the least that was tested."""
    try:
        ultimate = screw_tests_e830.steel_to_plywood_ultimate_n(
            kind="tapping", gauge=_gauge(screw.diameter), penetration_mm=point_mm
        )
    except OutOfRangeError:
        return None
    lighter = min(1.0, sheet.density / TESTED_DENSITY)
    return working(
        Capacity(
            value=ultimate * lighter,
            unit="N",
            basis="mean ultimate",
            source=_E830,
            standing="published",
            working=(
                f"outside EN 1995-1-1 ({'; '.join(outside)}): the published test stands in",
                (
                    f"{screw.name}: F_u = {ultimate:.0f} N at the row at or below #"
                    f"{_gauge(screw.diameter)} and {point_mm:.1f} mm, x density {lighter:.2f}"
                ),
            ),
        )
    )


def pulled(
    screw: Screw,
    *,
    sheet: Material,
    point_mm: float,
    into_edge: bool,
    service_class: int,
    duration: Duration = "instantaneous",
) -> ScrewHold:
    """Return what a screw takes before its thread pulls out of a sheet. [N].

    Within clause 8.7.2 by it; else by the Wood Handbook's ultimate with the reductions for
    plywood, divided by five.
    """
    member = sheet.thickness if not into_edge else 10.0 * sheet.thickness
    thread_mm = min(screw.thread, max(point_mm, 0.1))
    within = ec5_axial.screw_in_clause_range(
        diameter_mm=screw.diameter, penetration_mm=thread_mm, member_thickness_mm=member
    )
    if within and not into_edge:
        clause = Capacity(
            value=ec5_axial.screw_withdrawal_n(
                diameter_mm=screw.diameter,
                penetration_mm=thread_mm,
                density_kg_m3=sheet.density_char,
            ),
            unit="N",
            basis="characteristic",
            source=f"{_EC5}; (8.38)",
            standing=_standing(sheet),
            working=(f"{screw.name}: F_ax,k by (8.38), {thread_mm:.1f} mm of thread",),
        )
        return _counted(clause, (), service_class, duration)
    gravity = sheet.density / WET_OVER_DRY
    ultimate = wood_handbook.plywood_screw_withdrawal_n(
        specific_gravity=gravity,
        diameter_mm=screw.diameter,
        penetration_mm=thread_mm,
        into_edge=into_edge,
    )
    outside = (
        (
            f"{screw.diameter:.1f} mm screw in {sheet.thickness:g} mm: 8.7.2 asks for 6 to 12 "
            "mm, 6 d of thread and 12 d of wood"
        ),
    )
    where = "edge, 0.75 of a face" if into_edge else "face"
    tested = Capacity(
        value=ultimate,
        unit="N",
        basis="mean ultimate",
        source=wood_handbook.SOURCES["plywood_screw_withdrawal_n"].text,
        standing="assumed",
        working=(
            f"outside EN 1995-1-1 ({outside[0]}): the Wood Handbook's ultimate stands in",
            (
                f"p = 0.7 x 108.25 G² D L ({where}) = {ultimate:.0f} N, "
                f"G {gravity:.2f}, "
                f"D {screw.diameter:.2f}, L {thread_mm:.1f} mm"
            ),
        ),
    )
    return ScrewHold(clause=None, counted=working(tested), outside=outside)


def pull_through(
    screw: Screw,
    *,
    sheet: Material,
    sheet_mm: float,
    service_class: int,
    duration: Duration = "instantaneous",
) -> Capacity:
    """Return what a screw's head takes before it pulls through a sheet. [N]."""
    value = ec5_axial.head_pull_through_n(
        head_diameter_mm=screw.head, panel_thickness_mm=sheet_mm, density_kg_m3=sheet.density_char
    )
    return design_resistance(
        Capacity(
            value=value,
            unit="N",
            basis="characteristic",
            source=ec5_axial.SOURCES["head_pull_through_n"].text,
            standing=_standing(sheet),
            working=(
                (
                    f"F_head,k = f_head d_h² (rho_k / 350)^0.8 = {value:.0f} N, "
                    f"d_h {screw.head:g}, sheet {sheet_mm:g} mm, rho_k {sheet.density_char:g}"
                ),
            ),
        ),
        duration=duration,
        service_class=service_class,
        what="joint",
    )


def glue_capacity(*, area_mm2: float, sheets: tuple[Material, ...], service_class: int) -> Capacity:
    """Return what a glued area takes in shear: the glue line, or the ply that rolls under it. [N].

    Screws in the same joint are clamps and are never added.
    """
    rolling = min(
        sheet_strength(
            row, strength=row.f_rolling, duration="instantaneous", service_class=service_class
        ).value
        for row in sheets
    )
    strength = min(GLUE_LINE_N_MM2, rolling)
    value = glue_line_n(area_mm2=area_mm2, strength_n_mm2=strength)
    return Capacity(
        value=value,
        unit="N",
        basis="characteristic",
        source=SOURCES["glue_line_n"].text,
        standing="assumed",
        working=(
            (
                f"glue line: A f = {area_mm2:.0f} x {strength:.2f} = {value:.0f} N (0.5 N/mm², or "
                "rolling shear of the ply where that is less); screws in it are clamps, not added"
            ),
        ),
    )
