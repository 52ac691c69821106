"""The path from a hold-down bolt into the carcass: wood under its shank and head, floor, joint."""

from __future__ import annotations

from math import pi

from stowright.formulas.anchor_path import (
    angle_pull_n,
    bolt_across_gap_n,
    panel_pull_n,
    strip_width_mm,
)
from stowright.formulas.ec5_axial import head_pull_through_n
from stowright.formulas.ec5_design import design_strength_n_mm2, k_mod, partial_factor
from stowright.formulas.ec5_lateral import (
    bolt_yield_moment_n_mm,
    embedment_bolted_plywood_n_mm2,
    embedment_plywood_n_mm2,
    steel_plate_shear,
)
from stowright.formulas.glue import GLUE_LINE_N_MM2, glue_line_n
from stowright.model.catalogue import Material
from stowright.proofs.anchor_holds import Hold
from stowright.proofs.anchor_strengths import PLATE_YIELD, Link, LinkName, Open, strength_of
from stowright.proofs.judge import weakest

__all__ = ["path_links", "washer_on_panel_n"]

_INF = float("inf")
_MOD = k_mod(service_class=2, duration="instantaneous")
_CONNECTION, _PANEL = partial_factor(what="connection"), partial_factor(what="plywood")
#: Screws that hold an angle to the upright: how many, diameter [mm], strength of their steel.
ANGLE_SCREWS, ANGLE_SCREW_MM, ANGLE_SCREW_N_MM2 = 4, 4.2, 600.0


def path_links(hold: Hold) -> tuple[Link | Open, ...]:
    """Return what the wood from bolt to upright can take."""
    panel = hold.panel
    if panel is None or panel.basis != "characteristic":
        return (
            Open(
                name="floor",
                needs="characteristic strengths of the carcass floor's sheet",
                why="the catalogue states them on another basis",
            ),
        )
    across = min(hold.arm_mm, hold.span_mm / 2.0)
    width = strip_width_mm(
        washer_mm=hold.washer_mm,
        arm_mm=across,
        to_end_mm=hold.ends_mm[0],
        to_other_end_mm=hold.ends_mm[1],
    )
    return (
        _sideways(hold, panel),
        _washer(hold, panel),
        *((_angled(hold, panel),) if hold.angle else _bare(hold, panel, width)),
    )


def _bare(hold: Hold, panel: Material, width: float) -> tuple[Link | Open, ...]:
    return _floor(hold, panel, width), _joint(hold, width)


def _link(
    name: LinkName, *, shear: float, pull: float, source: str, panel: Material, lines: list[str]
) -> Link:
    return Link(
        name=name,
        shear=shear,
        pull=pull,
        alone=pull,
        basis="characteristic",
        source=source,
        standing=weakest("from memory", panel.origin.standing),
        lines=tuple(lines),
    )


def _connection(value: float) -> float:
    return design_strength_n_mm2(
        characteristic_n_mm2=value, strength_factor=_MOD, material_factor=_CONNECTION
    )


def _sideways(hold: Hold, panel: Material) -> Link:
    bolt = hold.bolt
    f_h = embedment_bolted_plywood_n_mm2(
        diameter_mm=bolt.diameter, density_kg_m3=panel.density_char
    )
    tensile = strength_of(bolt.grade)[0]
    moment = bolt_yield_moment_n_mm(diameter_mm=bolt.diameter, tensile_strength_n_mm2=tensile)
    thick = hold.floor_mm + hold.packer_mm
    value = bolt_across_gap_n(
        embedment_n_mm2=f_h,
        thickness_mm=thick,
        diameter_mm=bolt.diameter,
        yield_moment_n_mm=moment,
        gap_mm=hold.gap_mm,
    )
    limit = _connection(value)
    return _link(
        "wood",
        shear=limit,
        pull=_INF,
        source="EN 1995-1-1, 8.5 and (8.36), yield model with a gap",
        panel=panel,
        lines=[
            "V <= k_mod R_k/1.3, R_k the lesser of tilting and bending",
            "tilting f_h d t [sqrt(a^2 + 1) - a], a = 1 + 2 g/t",
            "bending f_h d [sqrt(g^2 + 2 M_y/(f_h d)) - g]",
            (
                f"f_h = 0.11 (1 - 0.01 x {bolt.diameter:g}) x {panel.density_char:g} = {f_h:.1f} "
                f"N/mm2, M_y = 0.3 x {tensile:g} x {bolt.diameter:g}^2.6 = {moment:.0f} N mm"
            ),
            (
                f"t = floor {hold.floor_mm:g} + packer {hold.packer_mm:g} mm, gap g = "
                f"{hold.gap_mm:g} mm: R_k = {value:.0f} N, R_d = {_MOD:g} R_k/1.3 = {limit:.0f} N"
            ),
        ],
    )


def washer_on_panel_n(panel: Material, *, washer_mm: float, thickness_mm: float) -> float:
    """Return the design resistance of a panel against a washer or head pulled through. [N].

    k_mod/1.3 x the lesser of f_head d_w^2 (rho_k/350)^0.8 and pi d_w t f_v. The 400 N cap on panels
    under 12 mm is for screw heads; a washer is scaled by thickness instead.
    """
    return _connection(min(_through_n(panel, washer_mm, thickness_mm)))


def _through_n(panel: Material, washer_mm: float, thickness_mm: float) -> tuple[float, float]:
    pulled = head_pull_through_n(
        head_diameter_mm=washer_mm,
        panel_thickness_mm=max(thickness_mm, 12.0),
        density_kg_m3=panel.density_char,
    ) * min(1.0, thickness_mm / 12.0)
    return pulled, pi * washer_mm * thickness_mm * panel.f_panel_shear


def _washer(hold: Hold, panel: Material) -> Link:
    d, t = hold.washer_mm, hold.floor_mm
    pulled, punched = _through_n(panel, d, t)
    limit = washer_on_panel_n(panel, washer_mm=d, thickness_mm=t)
    return _link(
        "washer",
        shear=_INF,
        pull=limit,
        source="head pull-through in panels (European screw assessments) taken for a washer, and "
        "panel shear round it",
        panel=panel,
        lines=[
            "T <= k_mod/1.3 x the lesser of f_head d_w^2 (rho_k/350)^0.8 and pi d_w t f_v",
            (
                f"d_w {d:g} mm, t {t:g} mm, rho_k {panel.density_char:g}: {pulled:.0f} N and "
                f"{punched:.0f} N -> {limit:.0f} N"
            ),
        ],
    )


def _floor(hold: Hold, panel: Material, width: float) -> Link:
    strength = design_strength_n_mm2(
        characteristic_n_mm2=hold.bending_n_mm2, strength_factor=_MOD, material_factor=_PANEL
    )
    value = panel_pull_n(
        strength_n_mm2=strength,
        width_mm=width,
        thickness_mm=hold.floor_mm,
        arm_mm=hold.arm_mm,
        span_mm=hold.span_mm,
    )
    return _link(
        "floor",
        shear=_INF,
        pull=value,
        source="strip between uprights; load spread at 45 degrees, a judgement",
        panel=panel,
        lines=[
            "M = T a (L - a)/L, sigma = 6 M/(b t^2) <= k_mod f_m/1.2",
            (
                f"a {hold.arm_mm:.0f}, L {hold.span_mm:.0f}, b {width:.0f}, t {hold.floor_mm:g}, "
                f"f_m,d = {_MOD:g} x {hold.bending_n_mm2:g} / 1.2 = {strength:.2f} N/mm2 -> "
                f"T {value:.0f} N"
            ),
        ],
    )


def _joint(hold: Hold, width: float) -> Link | Open:
    if not hold.glued or not hold.joint_mm > 0.0:
        return Open(
            name="joint",
            needs="a glued joint of carcass floor to upright, or an angle at the bolt",
            why="screws into a panel's edge are outside their clause and are not counted",
        )
    share = (hold.span_mm - hold.arm_mm) / hold.span_mm
    value = glue_line_n(area_mm2=width * hold.joint_mm) / share
    return Link(
        name="joint",
        shear=_INF,
        pull=value,
        alone=value,
        basis="characteristic",
        source="glue line held to 0.5 N/mm2, below the ply's rolling shear; screws are its clamps",
        standing="assumed",
        lines=(
            "T (L - a)/L <= f b t, f the glue line's design shear",
            (
                f"{GLUE_LINE_N_MM2:g} x {width:.0f} x {hold.joint_mm:g} mm = {value * share:.0f} N "
                f"on the near upright -> T {value:.0f} N"
            ),
        ),
    )


def _angled(hold: Hold, panel: Material) -> Link | Open:
    angle = hold.angle
    if angle is None:
        message = "an angled link is asked only of a hold with an angle"
        raise ValueError(message)
    leg, wide, thick = angle.size[0], angle.size[1], angle.size[2]
    if hold.arm_mm + hold.bolt.diameter > leg:
        return Open(
            name="joint",
            needs=f"an angle whose leg reaches the bolt, {hold.arm_mm:.0f} mm from the upright",
            why=f"{angle.name} has a leg of {leg:g} mm",
        )
    screw = steel_plate_shear(
        embedment_n_mm2=embedment_plywood_n_mm2(
            diameter_mm=ANGLE_SCREW_MM, density_kg_m3=panel.density_char
        ),
        thickness_mm=hold.joint_mm or hold.floor_mm,
        plate_mm=thick,
        diameter_mm=ANGLE_SCREW_MM,
        yield_moment_n_mm=bolt_yield_moment_n_mm(
            diameter_mm=ANGLE_SCREW_MM, tensile_strength_n_mm2=ANGLE_SCREW_N_MM2
        ),
    )
    one = _connection(screw.resistance_n)
    value = angle_pull_n(
        leg_thickness_mm=thick,
        leg_width_mm=wide,
        arm_mm=hold.arm_mm,
        yield_n_mm2=PLATE_YIELD,
        screws=ANGLE_SCREWS,
        screw_n=one,
    )
    return _link(
        "joint",
        shear=_INF,
        pull=value,
        source="angle in bending; screws by EN 1995-1-1, (8.9) and (8.10)",
        panel=panel,
        lines=[
            "T <= the lesser of f_y b t^2/(4 a) and the screws together",
            (
                f"{angle.name}: 235 x {wide:g} x {thick:g}^2 / (4 x {hold.arm_mm:.0f}), "
                f"{ANGLE_SCREWS} screws of {one:.0f} N -> {value:.0f} N"
            ),
        ],
    )
