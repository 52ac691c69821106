"""Decks and shelves: a knee, a foot, somebody lying on it; spans between uprights."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stowright.formulas.ec5_design import design_strength_n_mm2, k_mod, partial_factor
from stowright.formulas.plates_navier import bending_stress_n_mm2, patch_response, plate
from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.model.part import Part, PlacedPart
from stowright.proofs.judge import About, clearance, not_proved, ratio, weakest

__all__ = ["platform_findings"]

SERVICE_CLASS = 2
#: Knee and foot: load [N] on a square patch [mm] (a suggestion; no published kneeling load found).
PEOPLE = (("knee", 1000.0, 50.0), ("foot", 1500.0, 100.0))
#: A platform may sag this share of its span for a moment (from memory).
SAG_SHARE = 1.0 / 150.0


def platform_findings(design: Design, catalogue: Catalogue) -> Iterator[Finding]:
    """Yield findings about every deck piece."""
    for piece in design.placed:
        if piece.role == "deck":
            part = design.part(piece.mark)
            span = _span(design, piece)
            if span is None:
                yield not_proved(
                    _about(piece, part, "", ()), needs=("uprights or bearers under the deck",)
                )
                continue
            yield _strength(catalogue, piece, part, span)
            yield _sag(catalogue, piece, part, span)


def _about(piece: PlacedPart, part: Part, case: str, working: tuple[str, ...]) -> About:
    return About(
        id=f"DECK-STRESS:{piece.id}",
        title=f"{part.name} carries a person kneeling and stepping on it",
        about=part.mark,
        family=5,
        source="orthotropic plate, simply supported (Timoshenko & Woinowsky-Krieger, ch. 11); "
        "loads: 1.0 kN on 50 x 50 and 1.5 kN on 100 x 100 mm (EN ISO 14122 and judgement)",
        standing="from memory",
        load_case=case,
        working=working,
    )


def _span(design: Design, piece: PlacedPart) -> tuple[float, float, bool] | None:
    """Return the widest span under a deck piece between uprights, its length along them.

    The third value tells whether the span runs across the vehicle (y).
    """
    one, two = piece.point(0, 0, 0), piece.point(piece.length, piece.width, piece.thickness)
    x = (min(one[0], two[0]), max(one[0], two[0]))
    y = (min(one[1], two[1]), max(one[1], two[1]))
    below = min(one[2], two[2])
    best: tuple[float, float, bool] | None = None
    for block in design.blocks:
        if abs(block.box.z.high - below) > 1.0:
            continue
        across_y = block.face == "tail"
        for module in block.modules:
            for opening in (o for o in block.openings if o.module == module.name):
                clear = opening.clear
                if across_y:
                    length = min(clear.x.high, x[1]) - max(clear.x.low, x[0])
                    found = (clear.y.size, length, True)
                else:
                    length = min(clear.y.high, y[1]) - max(clear.y.low, y[0])
                    found = (clear.x.size, length, False)
                if length > 0.0 and (best is None or found[0] > best[0]):
                    best = found
    return best


def _moduli(
    catalogue: Catalogue, piece: PlacedPart, part: Part, *, span_is_y: bool
) -> tuple[float, float, float, float]:
    """Return E and f across the span and along the uprights, by the way the grain lies."""
    row = catalogue.material(part.material)
    grain_is_y = abs(piece.axes[0][1]) > 0.5
    if grain_is_y == span_is_y:
        return row.e_along, row.e_across, row.f_along, row.f_across
    return row.e_across, row.e_along, row.f_across, row.f_along


def _strength(
    catalogue: Catalogue,
    piece: PlacedPart,
    part: Part,
    span: tuple[float, float, bool],
) -> Finding:
    row = catalogue.material(part.material)
    e_span, e_long, f_span, f_long = _moduli(catalogue, piece, part, span_is_y=span[2])
    sheet = plate(
        side_x_mm=span[0],
        side_y_mm=max(span[1], 50.0),
        thickness_mm=part.thickness,
        modulus_x_n_mm2=e_span,
        modulus_y_n_mm2=e_long,
        shear_modulus_n_mm2=row.g_panel,
    )
    mod, gamma = (
        k_mod(service_class=SERVICE_CLASS, duration="short"),
        partial_factor(what="plywood"),
    )
    worst, demand, capacity, case = 0.0, 0.0, 1.0, ""
    lines = [f"span {span[0]:.0f} mm between uprights, {span[1]:.0f} mm along them"]
    for word, load, patch in PEOPLE:
        answer = patch_response(sheet, load_n=1.5 * load, patch_x_mm=patch, patch_y_mm=patch)
        for way, moment, strength in (
            ("across the span", answer.moment_x_n, f_span),
            ("along the uprights", answer.moment_y_n, f_long),
        ):
            sigma = bending_stress_n_mm2(moment_n=abs(moment), thickness_mm=part.thickness)
            limit = design_strength_n_mm2(
                characteristic_n_mm2=strength, strength_factor=mod, material_factor=gamma
            )
            lines.append(f"{word}, 1.5 x {load:g} N, {way}: {sigma:.2f} against {limit:.2f} N/mm²")
            if sigma / limit > worst:
                worst, demand, capacity = sigma / limit, sigma, limit
                case = f"parked: {word}, {load:g} N on {patch:g} x {patch:g} mm"
    about = _about(piece, part, case, tuple(lines))
    return ratio(
        replace(about, standing=weakest(about.standing, row.origin.standing)),
        demand=demand,
        capacity=capacity,
        unit="N/mm²",
        basis="characteristic",
        factor=1.5,
        advice=("a thicker deck, its grain across the uprights, or a narrower span",),
    )


def _sag(
    catalogue: Catalogue, piece: PlacedPart, part: Part, span: tuple[float, float, bool]
) -> Finding:
    row = catalogue.material(part.material)
    e_span, e_long, _, _ = _moduli(catalogue, piece, part, span_is_y=span[2])
    sheet = plate(
        side_x_mm=span[0],
        side_y_mm=max(span[1], 50.0),
        thickness_mm=part.thickness,
        modulus_x_n_mm2=e_span,
        modulus_y_n_mm2=e_long,
        shear_modulus_n_mm2=row.g_panel,
    )
    _, load, patch = PEOPLE[0]
    sag = patch_response(sheet, load_n=load, patch_x_mm=patch, patch_y_mm=patch).deflection_mm
    limit = span[0] * SAG_SHARE
    return clearance(
        About(
            id=f"DECK-SAG:{piece.id}",
            title=f"{part.name} stays stiff under a knee",
            about=part.mark,
            family=5,
            source="orthotropic plate (Timoshenko & Woinowsky-Krieger, ch. 11); span / 150, from "
            "memory",
            standing=weakest("from memory", row.origin.standing),
            load_case=f"parked: knee, {load:g} N on {patch:g} x {patch:g} mm",
            working=(
                f"sag {sag:.2f} mm over a span of {span[0]:.0f} mm; span / 150 = {limit:.2f} mm",
            ),
        ),
        needed=sag,
        available=limit,
        reading_error=0.0,
        advice=("a thicker deck, or its grain across the uprights",),
    )
