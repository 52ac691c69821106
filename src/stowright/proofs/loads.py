"""Runners, latches and drawer bottoms under what they carry."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stowright.formulas.ec5_design import (
    design_strength_n_mm2,
    final_deflection_mm,
    k_def,
    k_mod,
    partial_factor,
)
from stowright.formulas.plates_navier import bending_stress_n_mm2, plate, uniform_response
from stowright.formulas.restraint import rule_set
from stowright.formulas.runners import FLAT_MOUNTED, VEHICLE_USE, derated_kg, width_factor
from stowright.model.catalogue import Catalogue, Standing
from stowright.model.design import BlockDesign, Design, OpeningDesign, RunnerFit
from stowright.model.finding import Finding
from stowright.model.part import Part
from stowright.proofs.judge import About, clearance, not_proved, ratio, weakest

__all__ = ["load_findings"]

G = 9.81
#: Vertical shock on contents and floors, as a multiple of g (judgement).
ROAD = {"sealed": 2.0, "rough": 3.0}
#: A closed vehicle with wet gear (judgement).
SERVICE_CLASS = 2
NO_CARRY = "carry: what goes in, with its mass"


def load_findings(design: Design, catalogue: Catalogue) -> Iterator[Finding]:
    """Yield findings about everything that carries a drawer's load."""
    for block in design.blocks:
        for opening in block.openings:
            fit = opening.runner
            if fit is not None:
                yield _runner(design, opening, fit)
                yield _latch(design, catalogue, block, opening, fit)
                yield from _bottom(design, catalogue, opening)


def _runner(design: Design, opening: OpeningDesign, fit: RunnerFit) -> Finding:
    width = opening.box.width if opening.box else opening.width
    factors = {"width": width_factor(length_mm=fit.size.length, width_mm=width)}
    if not fit.runner.vehicle_rated:
        factors["vehicle"] = VEHICLE_USE
    if fit.runner.mount == "flat":
        factors["flat"] = FLAT_MOUNTED
    allowed = derated_kg(rating_kg=fit.size.rating_kg, factors=factors)
    said = " x ".join(f"{name} {value:g}" for name, value in factors.items())
    about = About(
        id=f"RUNNER:{opening.name}",
        title=f"Runners of {opening.name} carry its gross mass",
        about=opening.name,
        family=4,
        source=f"{fit.runner.origin.source}; factors: a runner maker's notes, from memory",
        standing=weakest(fit.runner.origin.standing, "from memory"),
        load_case="on the road, fully loaded",
        working=(
            "allowed = rating x factors",
            f"{fit.size.rating_kg:g} kg per pair x {said} = {allowed:.1f} kg",
            f"basis of the rating: {fit.runner.basis}",
            (
                f"gross = moving parts {opening.gross_kg - opening.contents_kg:.1f} kg + contents "
                f"{opening.contents_kg:.1f} kg = {opening.gross_kg:.1f} kg"
            ),
        ),
    )
    if not design.job.carry:
        left = allowed - opening.gross_kg
        return not_proved(
            about, needs=(NO_CARRY,), advice=(f"it may carry {left:.0f} kg of contents",)
        )
    over = opening.gross_kg - 0.9 * allowed
    return ratio(
        about,
        demand=opening.gross_kg,
        capacity=allowed,
        unit="kg",
        basis="allowable",
        factor=1.0,
        advice=(f"take {over:.0f} kg of contents out of it", "or split it into two drawers"),
    )


def _latch(
    design: Design,
    catalogue: Catalogue,
    block: BlockDesign,
    opening: OpeningDesign,
    fit: RunnerFit,
) -> Finding:
    rules = rule_set(design.job.rules)
    share = rules.rear if block.face == "tail" else rules.side
    held, name, standing = _holding(catalogue, fit)
    demand = share * opening.gross_kg * G
    about = About(
        id=f"LATCH:{opening.name}",
        title=f"{opening.name} stays shut on the road",
        about=opening.name,
        family=10,
        source=f"{rules.title}; {rules.source.text}",
        standing=weakest("from memory", standing),
        load_case=f"{rules.name}: {share:g} g towards its opening side",
        working=(
            "F = a m g",
            f"{share:g} x {opening.gross_kg:.1f} kg x 9.81 = {demand:.0f} N",
            f"held by {name or 'nothing'}; one of a pair counted",
        ),
    )
    if not name:
        return not_proved(about, needs=("a latch or a locking runner",))
    if held is None:
        return not_proved(about, needs=(f"holding force of {name}",))
    return ratio(
        about,
        demand=demand,
        capacity=held,
        unit="N",
        basis="allowable",
        factor=1.0,
        advice=("a second positive latch", "or less in the drawer"),
    )


def _holding(catalogue: Catalogue, fit: RunnerFit) -> tuple[float | None, str, Standing]:
    if fit.latch:
        item = catalogue.item(fit.latch)
        return item.capacity_n, item.name, item.origin.standing
    if fit.runner.lock_in:
        return fit.runner.lock_n, f"the lock of {fit.runner.name}", fit.runner.origin.standing
    return None, "", "assumed"


def _bottom(design: Design, catalogue: Catalogue, opening: OpeningDesign) -> Iterator[Finding]:
    piece = next(
        (
            p
            for p in design.placed
            if p.opening == opening.name and p.role in {"drawer-bottom", "tray-base"}
        ),
        None,
    )
    if piece is None:
        return
    part = design.part(piece.mark)
    material = catalogue.material(part.material)
    shock = ROAD[design.job.road]
    inside = opening.usable
    area = inside.x.size * inside.y.size
    about = About(
        id=f"BOTTOM-STRESS:{opening.name}",
        title=f"Bottom of {opening.name} under a road shock",
        about=part.mark,
        family=5,
        source="orthotropic plate, simply supported (Timoshenko & Woinowsky-Krieger, ch. 11); "
        f"strength: {material.origin.source}",
        standing=weakest("from memory", material.origin.standing),
        load_case=f"road {design.job.road}: {shock:g} g on contents spread over the bottom",
    )
    if not design.job.carry:
        yield not_proved(about, needs=(NO_CARRY,))
        return
    pressure = opening.contents_kg * G / area
    yield _stress(about, part, design, catalogue, inside_size=_sides(part), pressure=pressure)
    yield _sag(design, catalogue, opening, part, pressure=pressure)


def _sides(part: Part) -> tuple[float, float]:
    """Return the bottom's sides along and across its grain. [mm]."""
    return part.length, part.width


def _stress(
    about: About,
    part: Part,
    design: Design,
    catalogue: Catalogue,
    *,
    inside_size: tuple[float, float],
    pressure: float,
) -> Finding:
    material = catalogue.material(part.material)
    shock = ROAD[design.job.road]
    along, across = inside_size
    sheet = plate(
        side_x_mm=along,
        side_y_mm=across,
        thickness_mm=part.thickness,
        modulus_x_n_mm2=material.e_along,
        modulus_y_n_mm2=material.e_across,
        shear_modulus_n_mm2=material.g_panel,
    )
    factor = 1.5
    answer = uniform_response(sheet, pressure_n_mm2=pressure * shock * factor)
    mod = k_mod(service_class=SERVICE_CLASS, duration="instantaneous")
    gamma = partial_factor(what="plywood")
    worst = demand = 0.0
    lines = [
        f"q = 1.5 x {shock:g} x {pressure * 1e6:.0f} = {factor * shock * pressure * 1e6:.0f} Pa"
    ]
    capacity = 0.0
    for word, moment, strength in (
        ("along", answer.moment_x_n, material.f_along),
        ("across", answer.moment_y_n, material.f_across),
    ):
        sigma = bending_stress_n_mm2(moment_n=abs(moment), thickness_mm=part.thickness)
        limit = design_strength_n_mm2(
            characteristic_n_mm2=strength, strength_factor=mod, material_factor=gamma
        )
        lines.append(
            f"{word} the grain: 6 M / t² = {sigma:.2f} N/mm², f_d = {mod:g} x {strength:g} / "
            f"{gamma:g} = {limit:.2f} N/mm²"
        )
        if sigma / limit >= worst:
            worst, demand, capacity = sigma / limit, sigma, limit
    return ratio(
        replace(about, working=tuple(lines)),
        demand=demand,
        capacity=capacity,
        unit="N/mm²",
        basis="characteristic",
        factor=factor,
        advice=("a thicker bottom, or a narrower drawer",),
    )


def _sag(
    design: Design, catalogue: Catalogue, opening: OpeningDesign, part: Part, *, pressure: float
) -> Finding:
    material = catalogue.material(part.material)
    along, across = _sides(part)
    sheet = plate(
        side_x_mm=along,
        side_y_mm=across,
        thickness_mm=part.thickness,
        modulus_x_n_mm2=material.e_along,
        modulus_y_n_mm2=material.e_across,
        shear_modulus_n_mm2=material.g_panel,
    )
    own = part.thickness * material.density * 1.0e-9 * G
    instant = uniform_response(sheet, pressure_n_mm2=pressure).deflection_mm
    dead = uniform_response(sheet, pressure_n_mm2=own).deflection_mm
    creep = k_def(service_class=SERVICE_CLASS)
    # Kit that lives in a drawer rests on it for years: all of it counts as staying.
    final = final_deflection_mm(
        permanent_mm=dead, variable_mm=instant, creep=creep, quasi_permanent=1.0
    )
    piece = next(p for p in design.placed if p.mark == part.mark and p.opening == opening.name)
    gap = opening.build.under_gap
    if opening.build.bottom_fit == "grooved" and part.role == "drawer-bottom":
        gap += opening.build.groove_up
    if part.role == "tray-base":
        gap += opening.runner.runner.section if opening.runner else 0.0
    return clearance(
        About(
            id=f"BOTTOM-SAG:{opening.name}",
            title=f"Bottom of {opening.name} does not sag onto what is under it",
            about=part.mark,
            family=5,
            source="orthotropic plate (Timoshenko & Woinowsky-Krieger, ch. 11); creep EN 1995-1-1 "
            "2.2.3, from memory",
            standing=weakest("from memory", material.origin.standing),
            load_case="at rest, for years",
            working=(
                f"instant sag {instant:.2f} mm from contents, {dead:.2f} mm from its own mass",
                f"final = (w_G + w_Q) (1 + {creep:g}) = {final:.2f} mm",
                f"gap under it {gap:g} mm, of which 2 mm stay free",
                f"piece {piece.id}",
            ),
        ),
        needed=final,
        available=gap - 2.0,
        reading_error=0.0,
        advice=('a thicker bottom, or its grain across the drawer (grain = "strongest")',),
    )
