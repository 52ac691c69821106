"""What each link from a hold-down bolt to the vehicle and to the carcass can take.

A link holds a sideways force V and a pull T as long as V/shear + T/pull <= 1 and T/alone <= 1; an
infinite figure means that the link does not see that force. Every figure is a design value on the
basis that the link states; the demand is factored to suit.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from stowright.design.anchor_rules import valley_of
from stowright.formulas import bolts_en1993_1_8 as steel
from stowright.formulas import thin_sheet_en1993_1_3 as sheet
from stowright.formulas.iso_fasteners import (
    BOLT_CLASSES,
    STAINLESS_CLASSES,
    stress_area_mm2,
)
from stowright.formulas.pull_over_aisi import (
    SAFETY_FACTOR,
    WASHER_CAP_MM,
    combined_utilisation,
    pull_over_nominal_n,
)
from stowright.formulas.spreader_plate import rigid_up_to_n
from stowright.model.bay import Floor
from stowright.model.catalogue import Bolt, Standing
from stowright.proofs.anchor_holds import Hold

__all__ = [
    "LINKS",
    "Link",
    "LinkName",
    "Open",
    "bolt_link",
    "factory_link",
    "sheet_links",
    "steel_of",
    "strength_of",
]

type LinkName = Literal["bolt", "sheet", "factory", "wood", "washer", "floor", "joint"]

#: The links in the order that the force takes, with what a finding calls them.
LINKS: dict[LinkName, str] = {
    "bolt": "hold-down bolts",
    "sheet": "load floor round the bolts",
    "factory": "factory anchors",
    "wood": "bolts sideways in floor and packers",
    "washer": "bolt heads and washers on the carcass floor",
    "floor": "carcass floor beside the uprights",
    "joint": "joint of floor to uprights",
}

_INF = float("inf")
_FLOOR = 'bay.floor: {material = "steel" | "aluminium", thickness, rib_depth, rib_pitch, ribs_run}'
#: Least tensile strength of what a load floor is made of, with source and standing. [N/mm2]
SHEETS: dict[str, tuple[float, str, Standing]] = {
    "steel": (sheet.BODY_SHEET_N_MM2, "f_u 270, EN 10130 cold-rolled body sheet", "published"),
    "aluminium": (190.0, "f_u 190, EN AW-5754 in its softest state", "from memory"),
}
#: Yield strength of spreader plates and angles, S235. [N/mm2]
PLATE_YIELD = 235.0
#: Below the range of a clause, this share of what it would give may be used (judgement).
OUTSIDE_SHARE = 0.5
#: Tensile strength of class 4.8, EN 1993-1-8 Table 3.1 (from memory). [N/mm2]
_CLASS_4_8 = 400.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """What one link can take: see the module's own words.

    Attributes:
        basis: ``characteristic`` for design values after Eurocode factors, ``allowable`` for
            working loads.
        lines: Formula and numbers, a line each.
    """

    name: LinkName
    shear: float
    pull: float
    alone: float
    basis: Literal["characteristic", "allowable"]
    source: str
    standing: Standing
    lines: tuple[str, ...]

    def use(self, shear_n: float, pull_n: float) -> float:
        """Return the utilisation under a sideways force and a pull."""
        return max(shear_n / self.shear + pull_n / self.pull, pull_n / self.alone)


@dataclass(frozen=True, slots=True, kw_only=True)
class Open:
    """A link that cannot be reckoned, and the input it lacks."""

    name: LinkName
    needs: str
    why: str


def strength_of(grade: str) -> tuple[float, float, Standing]:
    """Return tensile strength and alpha_v (threads in the plane) of a bolt's grade, its standing.

    An unknown grade counts as 4.8.
    """
    if grade in BOLT_CLASSES:
        return BOLT_CLASSES[grade].tensile_n_mm2, steel.ALPHA_V_THREADS[grade], "published"
    if grade.startswith("A") and grade[3:] in STAINLESS_CLASSES:
        tensile = STAINLESS_CLASSES[grade[3:]].tensile_n_mm2
        return tensile, steel.ALPHA_V_THREADS["stainless"], "from memory"
    return _CLASS_4_8, steel.ALPHA_V_THREADS["4.8"], "from memory"


def bolt_link(hold: Hold) -> Link:
    """Return what the bolt itself can take, threads in the shear plane."""
    bolt = hold.bolt
    tensile, alpha, standing = strength_of(bolt.grade)
    area = stress_area_mm2(diameter_mm=bolt.diameter, pitch_mm=bolt.pitch)
    sunk = bolt.head == "countersunk"
    shear, pull = steel_of(bolt)
    return Link(
        name="bolt",
        shear=shear,
        pull=1.4 * pull,
        alone=pull,
        basis="characteristic",
        source="EN 1993-1-8, Table 3.4"
        + (", stainless as EN 1993-1-4" if bolt.grade.startswith("A") else ""),
        standing=standing,
        lines=(
            "F_v/F_v,Rd + F_t/(1.4 F_t,Rd) <= 1 and F_t <= F_t,Rd",
            f"{bolt.name}: F_v,Rd = {alpha:g} x {tensile:g} x {area:.1f} / 1.25 = {shear:.0f} N",
            (
                f"F_t,Rd = {0.63 if sunk else 0.9:g} x {tensile:g} x {area:.1f} / 1.25 = "
                f"{pull:.0f} N"
            ),
        ),
    )


def steel_of(bolt: Bolt) -> tuple[float, float]:
    """Return what a bolt itself takes in shear, threads in the plane, and as a pull. [N]."""
    tensile, alpha, _ = strength_of(bolt.grade)
    area = stress_area_mm2(diameter_mm=bolt.diameter, pitch_mm=bolt.pitch)
    return (
        steel.shear_n(tensile_strength_n_mm2=tensile, area_mm2=area, alpha_v=alpha),
        steel.tension_n(
            tensile_strength_n_mm2=tensile,
            stress_area_mm2=area,
            countersunk=bolt.head == "countersunk",
        ),
    )


def factory_link(hold: Hold) -> Link | Open:
    """Return what the factory anchor is stated to take."""
    anchor = hold.existing
    if anchor is None:
        message = "a factory link is asked only of a hold in a factory anchor"
        raise ValueError(message)
    lacks = [n for n, v in (("tension", anchor.tension), ("shear", anchor.shear)) if not v]
    if not anchor.tension or not anchor.shear:
        return Open(
            name="factory",
            needs=f"bay.anchors: {' and '.join(lacks)} of {anchor.what} at "
            f"({anchor.x:g}, {anchor.y:g}), each in N",
            why="a factory anchor is worth what its maker states",
        )
    return Link(
        name="factory",
        shear=anchor.shear,
        pull=anchor.tension,
        alone=anchor.tension,
        basis="allowable",
        source=f"stated in the job for {anchor.what}; linear interaction, a cautious choice",
        standing="assumed",
        lines=(
            "F_v/V + F_t/T <= 1, both as stated, taken as working loads",
            f"{anchor.what}: V = {anchor.shear:g} N, T = {anchor.tension:g} N",
        ),
    )


def sheet_links(hold: Hold, floor: Floor | None) -> tuple[Link | Open, ...]:
    """Return what the load floor can take round a bolt through it: bearing, pull-through, both."""
    if floor is None:
        return (Open(name="sheet", needs=_FLOOR, why="material and thickness of the floor"),)
    row = SHEETS.get(floor.material)
    if row is None:
        return (
            Open(
                name="sheet",
                needs="bay.floor.material: "
                f"{' or '.join(f'"{name}"' for name in SHEETS)}, not {floor.material or 'unsaid'}",
                why=f"known here: {', '.join(SHEETS)}",
            ),
        )
    if not floor.thickness >= 0.5:
        return (
            Open(
                name="sheet",
                needs="bay.floor.thickness: 0.5 mm or more, or a bolt to a member under it",
                why=f"{floor.thickness:g} mm lies below every rule for sheet",
            ),
        )
    found = [_bearing(hold, floor, row), _pull_through(hold, floor, row)]
    if floor.material == "steel" and floor.thickness < 3.0:
        found.append(_pull_over(hold, floor, row[0]))
    return tuple(found)


def _bearing(hold: Hold, floor: Floor, row: tuple[float, str, Standing]) -> Link:
    strength, text, standing = row
    d, t = hold.bolt.diameter, floor.thickness
    tensile = strength_of(hold.bolt.grade)[0]
    source = f"EN 1993-1-3, Table 8.4; {text}"
    if t >= 3.0:
        alpha = min(1.0, tensile / strength)
        value = steel.bearing_n(
            alpha_b=alpha, k_1=2.5, plate_strength_n_mm2=strength, diameter_mm=d, thickness_mm=t
        )
        line = f"F_b,Rd = k1 alpha_b f_u d t/1.25 = 2.5 x {alpha:g} x {strength:g} x {d:g} x {t:g}"
        source = f"EN 1993-1-8, Table 3.4; {text}"
    else:
        counted = max(t, 0.75)
        share = 1.0 if t >= 0.75 else OUTSIDE_SHARE * t / 0.75
        k_t = sheet.thickness_factor(thickness_mm=counted)
        value = share * sheet.bearing_n(
            sheet_strength_n_mm2=strength, diameter_mm=d, thickness_mm=counted, end_mm=3.0 * d
        )
        line = f"F_b,Rd = 2.5 k_t f_u d t/1.25 = 2.5 x {k_t:.3f} x {strength:g} x {d:g} x {t:g}"
        if share < 1.0:
            standing = "assumed"
            line += f", and half of it: {t:g} mm is under the table's 0.75"
        if d < 6.0:
            standing = "assumed"
            line += "; below M6 the table is indicative"
    return Link(
        name="sheet",
        shear=value,
        pull=_INF,
        alone=_INF,
        basis="characteristic",
        source=source,
        standing=standing,
        lines=("bearing: V <= F_b,Rd, hole far from any edge", f"{line} -> {value:.0f} N"),
    )


def spreads(hold: Hold) -> tuple[float, float, float]:
    """Return what presses on the sheet from below: nut's size, plate's side, its rigid pull.

    Without a plate the side is the washer's or nut's own and the rigid pull is infinite.
    """
    if hold.plate is None:
        flats = hold.nut.across_flats if hold.nut else hold.bolt.across_flats
        return flats, flats, _INF
    inner = hold.nut.across_flats if hold.nut else hold.bolt.across_flats
    rigid = rigid_up_to_n(
        side_mm=hold.plate.outside,
        thickness_mm=hold.plate.thickness,
        washer_mm=min(inner, hold.plate.outside),
        yield_n_mm2=PLATE_YIELD,
    )
    return inner, hold.plate.outside, rigid


def _pull_through(hold: Hold, floor: Floor, row: tuple[float, str, Standing]) -> Link:
    strength, text, standing = row
    t = floor.thickness
    inner, side, rigid = spreads(hold)
    valley = valley_of(floor)
    flat = side if valley is None else max(inner, min(side, valley))
    lines: tuple[str, ...]
    if t >= 3.0:
        value = steel.punching_n(
            mean_diameter_mm=inner * 1.077, thickness_mm=t, plate_strength_n_mm2=strength
        )
        lines = (
            "punching: T <= B_p,Rd = 0.6 pi d_m t f_u/1.25, d_m of the nut",
            f"0.6 pi {inner * 1.077:.1f} x {t:g} x {strength:g} / 1.25 = {value:.0f} N",
        )
        source = f"EN 1993-1-8, Table 3.4; {text}"
    else:
        small, large = (_through(w, t, strength) for w in (inner, flat))
        value = max(small, min(large, rigid))
        lines = (
            "pull-through, repeated: T <= F_p,Rd = 0.5 d_w t f_u/1.25",
            _plate_line(hold, rigid),
            f"d_w {flat:g} mm: {large:.0f} N; d_w {inner:g} mm: {small:.0f} N; used {value:.0f} N",
        )
        if flat < side:
            standing = "assumed"
            lines += (
                (
                    f"ribs every {floor.rib_pitch:g} mm: of the plate's {side:g} mm the {flat:g} "
                    "mm that lie flat in a valley count, half of the pitch (assumed)"
                ),
            )
        source = f"EN 1993-1-3, Table 8.2 (screws, taken for a washer); {text}"
    return Link(
        name="sheet",
        shear=_INF,
        pull=value,
        alone=value,
        basis="characteristic",
        source=source,
        standing="from memory" if standing == "published" else standing,
        lines=lines,
    )


def _through(washer: float, t: float, strength: float) -> float:
    return sheet.pull_through_n(
        washer_mm=washer,
        thickness_mm=min(t, 1.5),
        sheet_strength_n_mm2=strength,
        repeated=True,
    )


def _plate_line(hold: Hold, rigid: float) -> str:
    if hold.plate is None:
        return "no spreader plate: only the nut presses"
    b, t = hold.plate.outside, hold.plate.thickness
    return (
        f"plate {b:g} x {b:g} x {t:g}: sigma = 3 p c^2/t^2 reaches 235 N/mm2 at {rigid:.0f} N; "
        "up to that it counts as rigid"
    )


def _pull_over(hold: Hold, floor: Floor, strength: float) -> Link:
    """Return the second opinion for steel sheet, which also covers both forces together."""
    _, side, _ = spreads(hold)
    washer = max(min(side, WASHER_CAP_MM), 7.94)
    nominal = pull_over_nominal_n(
        washer_mm=washer, thickness_mm=floor.thickness, sheet_strength_n_mm2=strength
    )

    def use(shear: float, pull: float) -> float:
        return combined_utilisation(
            shear_n=shear,
            tension_n=pull,
            diameter_mm=hold.bolt.diameter,
            washer_mm=washer,
            thickness_mm=floor.thickness,
            sheet_strength_n_mm2=strength,
        )

    shear, pull, alone = 1.0 / use(1.0, 0.0), 1.0 / use(0.0, 1.0), nominal / SAFETY_FACTOR
    return Link(
        name="sheet",
        shear=shear,
        pull=pull,
        alone=alone,
        basis="allowable",
        source="AISI S100 pull-over and its interaction with shear; washer cap from memory",
        standing="from memory",
        lines=(
            "[Q/(2.7 t d F_u) + 0.71 T/(1.5 t d_w F_u)] 2.35/1.1 <= 1 and T <= 1.5 t d_w F_u/3",
            (
                f"d_w {washer:g} mm (19.1 at most): Q {shear:.0f} N, T {pull:.0f} N, T alone "
                f"{alone:.0f} N"
            ),
        ),
    )
