"""A quick look that decides whether a design is worth proving: for trying thousands of them.

It looks at what decides most often: room in the bay, runner ratings, bottoms under a shock, decks
under a foot, axle limits. Whatever it refuses, the whole set of proofs fails under the same code;
what it lets through is not proved by it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from stowright.design.deck_spans import spans_under
from stowright.design.runner_choice import allowed_kg
from stowright.formulas.actions_en1990 import road_shock
from stowright.formulas.ec5_design import Duration, k_mod, partial_factor
from stowright.formulas.plates_navier import PlateResponse, SimplySupportedPlate, plate
from stowright.formulas.plates_quick import middle_under_patch, middle_under_uniform
from stowright.formulas.platform_loads import PATCHES
from stowright.model.catalogue import Catalogue, Material
from stowright.model.design import Design, OpeningDesign
from stowright.model.part import Part, PlacedPart
from stowright.proofs.axle_cases import axle_cases
from stowright.proofs.index import G, Index, fixed_index

__all__ = ["QuickReason", "QuickVerdict", "feasible"]

#: The short series may be this much too high; only what is above it is refused.
SURE = 1.02
#: A moment under this share of the other one is not looked at: the short series misses it.
LEAST_SHARE = 0.2


@dataclass(frozen=True, slots=True, kw_only=True)
class QuickReason:
    """Why a design will not do: the code of the finding that fails, demand and capacity."""

    code: str
    demand: float
    capacity: float
    unit: str

    @property
    def utilisation(self) -> float:
        """Demand over capacity; infinite without capacity. [-]."""
        return self.demand / self.capacity if self.capacity > 0.0 else float("inf")


@dataclass(frozen=True, slots=True, kw_only=True)
class QuickVerdict:
    """Whether a design is worth proving, and every reason found why not, worst first."""

    reasons: tuple[QuickReason, ...]

    @property
    def feasible(self) -> bool:
        """Whether nothing was found against it."""
        return not self.reasons


def feasible(design: Design, catalogue: Catalogue) -> QuickVerdict:
    """Return the quick verdict on a design; it proves nothing."""
    design = design.from_shoulders()
    found = [
        *_room(design),
        *_runners(design),
        *_sheets(design, catalogue),
        *_axles(design),
    ]
    return QuickVerdict(reasons=tuple(sorted(found, key=lambda each: -each.utilisation)))


def _room(design: Design) -> Iterator[QuickReason]:
    error = design.job.bay.reading_error
    for block in design.blocks:
        for axis, need, have in (
            ("LENGTH", block.box.x.size, block.usable.box.x.size),
            ("WIDTH", block.box.y.size, block.usable.box.y.size),
        ):
            if have < need - error - 1.0e-6:
                yield QuickReason(
                    code=f"FITS-{axis}:{block.name}", demand=need, capacity=have, unit="mm"
                )


def _runners(design: Design) -> Iterator[QuickReason]:
    if not design.job.carry:
        return
    for block in design.blocks:
        for opening in block.openings:
            fit = opening.runner
            if fit is None:
                continue
            allowed = allowed_kg(
                fit.runner,
                fit.size,
                box_width=opening.box.width if opening.box else opening.width,
                table=opening.build.runner_factors,
            )
            if opening.gross_kg > allowed * (1.0 + 1.0e-9):
                yield QuickReason(
                    code=f"RUNNER:{opening.name}",
                    demand=opening.gross_kg,
                    capacity=allowed,
                    unit="kg",
                )


def _axles(design: Design) -> Iterator[QuickReason]:
    vehicle = design.job.vehicle
    cases = axle_cases(design)
    if vehicle is None or not cases:
        return
    for word, limit, most in (
        ("FRONT", vehicle.limits.front_axle, max(case.front for case in cases)),
        ("REAR", vehicle.limits.rear_axle, max(case.rear for case in cases)),
        ("TOTAL", vehicle.limits.total, max(case.total for case in cases)),
    ):
        if limit is not None and most > limit * (1.0 + 1.0e-9):
            yield QuickReason(code=f"VEHICLE-{word}", demand=most, capacity=limit, unit="kg")


def _sheets(design: Design, catalogue: Catalogue) -> Iterator[QuickReason]:
    parts = {part.mark: part for part in design.parts}
    shelf = {row.name: row for row in catalogue.materials}
    openings = {o.name: o for block in design.blocks for o in block.openings}
    decked = any(p.role == "deck" for p in design.placed)
    index = fixed_index(design, catalogue) if decked else None
    doubled = any(piece.role == "carcass-top" for piece in design.placed)
    for piece in design.placed:
        part = parts[piece.mark]
        row = shelf[part.material]
        if row.basis != "characteristic" or part.grain == "free":
            continue
        if piece.role == "drawer-bottom" and piece.opening in openings and design.job.carry:
            yield from _bottom(design, openings[piece.opening], piece, part, row)
        elif piece.role == "deck" and index is not None and not doubled:
            yield from _deck(index, piece, part, row)


def _plate(part: Part, row: Material, *, along: float, across: float) -> SimplySupportedPlate:
    return plate(
        side_x_mm=along,
        side_y_mm=across,
        thickness_mm=part.thickness,
        modulus_x_n_mm2=row.e_along,
        modulus_y_n_mm2=row.e_across,
        shear_modulus_n_mm2=row.g_panel,
    )


def _limits(row: Material, duration: Duration, service_class: int) -> tuple[float, float]:
    """Return the design strengths of a sheet along and across its grain. [N/mm2]."""
    mod = k_mod(service_class=service_class, duration=duration)
    gamma = partial_factor(what="plywood")
    return mod * row.f_along / gamma, mod * row.f_across / gamma


def _stressed(
    code: str, part: Part, answer: PlateResponse, limits: tuple[float, float]
) -> Iterator[QuickReason]:
    """Yield a reason for each direction in which factored moments are surely too great."""
    moments = abs(answer.moment_x_n), abs(answer.moment_y_n)
    greater = max(moments)
    for moment, limit in zip(moments, limits, strict=True):
        if moment < LEAST_SHARE * greater:
            continue
        stress = 6.0 * moment / part.thickness**2
        if stress > SURE * limit:
            yield QuickReason(code=code, demand=stress, capacity=limit, unit="N/mm²")


def _bottom(
    design: Design, opening: OpeningDesign, piece: PlacedPart, part: Part, row: Material
) -> Iterator[QuickReason]:
    """Yield whether a bottom on four edges bears its contents spread out, under a shock."""
    area = piece.length * piece.width
    pressure = 1.5 * road_shock(road=design.job.road) * opening.contents_kg * G / area
    answer = middle_under_uniform(
        _plate(part, row, along=piece.length, across=piece.width), pressure_n_mm2=pressure
    )
    yield from _stressed(
        f"BOTTOM-STRESS:{opening.name}",
        part,
        answer,
        _limits(row, "instantaneous", design.job.service_class),
    )


@lru_cache(maxsize=4096)
def _under_foot(it: SimplySupportedPlate, load_n: float, side_mm: float) -> PlateResponse:
    """Return the answer of a plate to a foot amid it; like spans are worked out once."""
    return middle_under_patch(it, load_n=load_n, patch_x_mm=side_mm, patch_y_mm=side_mm)


def _deck(index: Index, piece: PlacedPart, part: Part, row: Material) -> Iterator[QuickReason]:
    """Yield whether a deck bears a foot amid each span under it, were that held all round."""
    grain_x = abs(piece.axes[0][0]) > 0.5
    foot = PATCHES[1]
    limits = _limits(row, "short", index.service_class)
    seen: set[tuple[float, float]] = set()
    for span in spans_under(index, piece):
        opposite = {"low x", "high x"} <= span.held or {"low y", "high y"} <= span.held
        along, across = span.x.size, span.y.size
        if not opposite or min(along, across) <= foot.side_mm:
            continue
        if not grain_x:
            along, across = across, along
        if (along, across) in seen:
            continue
        seen.add((along, across))
        answer = _under_foot(
            _plate(part, row, along=along, across=across), 1.5 * foot.load_n, foot.side_mm
        )
        yield from _stressed(f"DECK-STRESS:{piece.id}", part, answer, limits)
