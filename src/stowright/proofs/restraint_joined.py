"""A carcass that its own bolts do not hold, held by what it is bolted to.

It counts only where the joining bolts are proved: they carry all of the carcass, along the vehicle
and up and down in shear, across it as a pull off the joined faces; and the joined body has to stay
put on the bolts of all its carcasses.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from stowright.errors import OutOfRangeError
from stowright.formulas.anchorage import bolt_group_pulls_n, bolt_group_shears_n
from stowright.formulas.ec5_design import design_strength_n_mm2, k_mod, partial_factor
from stowright.formulas.ec5_lateral import (
    bolt_yield_moment_n_mm,
    embedment_bolted_plywood_n_mm2,
    single_shear,
)
from stowright.formulas.gravity import GRAVITY_M_S2
from stowright.formulas.restraint import RuleSet
from stowright.model.catalogue import Bolt, Catalogue, Material
from stowright.model.geometry import Point2, Span
from stowright.model.part import Joint, PlacedFixing
from stowright.proofs.anchor_path import washer_on_panel_n
from stowright.proofs.anchor_strengths import steel_of, strength_of
from stowright.proofs.restraint_bodies import StandingBody, Survey, total_of
from stowright.proofs.restraint_check import Held, Study, greatest_use, held_by, terms_of
from stowright.proofs.restraint_forces import SHARING

__all__ = ["Joined", "joined_of", "together_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined:
    """A carcass with those that it is bolted to.

    Attributes:
        held: All of them as one body on all their bolts.
        names: The carcasses, the one asked about first.
        use: Worst use of the joining bolts.
        lines: Their working.
    """

    held: Held
    names: tuple[str, ...]
    use: float
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seam:
    """The bolts that join one carcass to the rest, on the plane of depth and height."""

    spots: tuple[Point2, ...]
    bolt: Bolt
    panels: tuple[Material, float, float]
    washer_mm: float


def joined_of(study: Study, held: Held, rules: RuleSet, catalogue: Catalogue) -> Joined | None:
    """Return a carcass with what it is bolted to; None where nothing joins it, or not enough."""
    survey = study.survey
    group = together_of(survey, held.body)
    others = [h for h in study.held if h.body.id in group]
    weak = [h.body for h in others if greatest_use(h, rules) > 1.0]
    seam = _seam(survey, {body.id for body in weak}, held.body, catalogue)
    if len(weak) == len(others) or seam is None:
        return None
    whole = _as_one(held.body, others)
    together = held_by(
        whole, [hold for other in others for hold in other.holds], survey.of.job.bay.floor
    )
    if together.group is None or together.open:
        return None
    found = _seam_use(replace(held.body, loaded=total_of(b.loaded for b in weak)), seam, rules)
    if found is None:
        return None
    return Joined(
        held=together,
        names=(held.body.id, *sorted(group - {held.body.id})),
        use=max(found[0], greatest_use(together, rules)),
        lines=found[1],
    )


def _module_of(survey: Survey, piece: str) -> str:
    placed = survey.pieces.get(piece)
    return f"{placed.block}/{placed.module}" if placed else ""


def _joints(survey: Survey) -> list[tuple[Joint, str, str]]:
    rows = [
        (j, _module_of(survey, j.parts[0]), _module_of(survey, j.parts[1]))
        for j in survey.of.joints
        if j.kind == "bolted"
    ]
    return [(j, a, b) for j, a, b in rows if a and b and a != b]


def together_of(survey: Survey, body: StandingBody) -> set[str]:
    """Return the ids of all carcasses that bolts join to one, itself included."""
    found = {body.id}
    rows = _joints(survey)
    while True:
        more = {x for _, a, b in rows if (a in found) != (b in found) for x in (a, b)}
        if more <= found:
            return found
        found |= more


def _as_one(body: StandingBody, others: list[Held]) -> StandingBody:
    bodies = [held.body for held in others]
    return replace(
        body,
        x=Span(low=min(b.x.low for b in bodies), high=max(b.x.high for b in bodies)),
        y=Span(low=min(b.y.low for b in bodies), high=max(b.y.high for b in bodies)),
        own=total_of(b.own for b in bodies),
        empty=total_of(b.empty for b in bodies),
        loaded=total_of(b.loaded for b in bodies),
    )


def _seam(survey: Survey, weak: set[str], body: StandingBody, catalogue: Catalogue) -> _Seam | None:
    """Return the bolts between those that cannot stand alone and those that can."""
    mine = [j for j, a, b in _joints(survey) if (a in weak) != (b in weak)]
    ids = {joint.id for joint in mine}
    bolts = [f for f in survey.of.fixings if f.kind == "bolt" and f.joint in ids]
    if not bolts:
        return None
    depth = 0 if body.block.face == "tail" else 1
    parts = [survey.parts[survey.pieces[p].mark] for p in mine[0].parts]
    return _Seam(
        spots=tuple((f.at[depth], f.at[2]) for f in bolts),
        bolt=catalogue.bolt(bolts[0].type),
        panels=(
            min((catalogue.material(p.material) for p in parts), key=lambda m: m.density_char),
            parts[0].thickness,
            parts[1].thickness,
        ),
        washer_mm=_washer(survey.of.fixings, bolts[0], catalogue),
    )


def _washer(fixings: tuple[PlacedFixing, ...], bolt: PlacedFixing, catalogue: Catalogue) -> float:
    sizes = [
        catalogue.washer(f.type).outside for f in fixings if f.set == bolt.id and f.kind == "washer"
    ]
    return min(sizes, default=catalogue.bolt(bolt.type).across_flats)


def _seam_use(
    body: StandingBody, seam: _Seam, rules: RuleSet
) -> tuple[float, tuple[str, ...]] | None:
    """Return the worst use of the joining bolts and its working; None where they cannot hold it."""
    depth = 0 if body.block.face == "tail" else 1
    centre = body.loaded.centre
    at = (centre[depth], centre[2])
    factor, divisor = terms_of(rules, "characteristic")
    weight = body.loaded.mass * GRAVITY_M_S2 * factor
    ways = (rules.forward, rules.side) if depth == 0 else (rules.side, rules.forward)
    along, across = weight * max(ways[0], rules.rear), weight * max(ways[1], rules.rear)
    try:
        shears = bolt_group_shears_n(
            bolts_mm=seam.spots,
            force_x_n=along,
            force_y_n=weight * rules.up,
            at_x_mm=at[0],
            at_y_mm=at[1],
            sharing=SHARING,
        )
        pulls = bolt_group_pulls_n(
            bolts_mm=seam.spots, force_n=across, at_x_mm=at[0], at_y_mm=at[1]
        )
    except OutOfRangeError:
        return None
    shear, pull = max(row.resultant_n for row in shears), max(0.0, *pulls)
    wood, washer = (
        _wood_n(seam),
        washer_on_panel_n(
            seam.panels[0], washer_mm=seam.washer_mm, thickness_mm=min(seam.panels[1:])
        ),
    )
    steel_v, steel_t = steel_of(seam.bolt)
    use = divisor * max(shear / wood, shear / steel_v, pull / washer, pull / steel_t)
    figures = f", figures / {divisor:g} as working loads" if divisor > 1.0 else ""
    return use, (
        (
            f"joining bolts: {len(seam.spots)} x {seam.bolt.name} carry all that does not stand "
            f"alone, {body.loaded.mass:.1f} kg, f = {factor:g}: use {use:.2f}{figures}"
        ),
        (
            f"in shear {along:.0f} N at its centre: worst bolt V {shear:.0f} N, against wood "
            f"{wood:.0f} and steel {steel_v:.0f} N, EN 1995-1-1 (8.6), EN 1993-1-8"
        ),
        (
            f"pulled off {across:.0f} N: worst bolt T {pull:.0f} N, against washer {washer:.0f} "
            f"and steel {steel_t:.0f} N"
        ),
    )


def _wood_n(seam: _Seam) -> float:
    panel, one, two = seam.panels
    d = seam.bolt.diameter
    f_h = embedment_bolted_plywood_n_mm2(diameter_mm=d, density_kg_m3=panel.density_char)
    resistance = single_shear(
        embedment_1_n_mm2=f_h,
        embedment_2_n_mm2=f_h,
        thickness_1_mm=one,
        penetration_2_mm=two,
        diameter_mm=d,
        yield_moment_n_mm=bolt_yield_moment_n_mm(
            diameter_mm=d, tensile_strength_n_mm2=strength_of(seam.bolt.grade)[0]
        ),
    )
    return design_strength_n_mm2(
        characteristic_n_mm2=resistance.resistance_n,
        strength_factor=k_mod(service_class=2, duration="instantaneous"),
        material_factor=partial_factor(what="connection"),
    )
