"""Drawer bottoms and tray bases: bending, rolling shear and sag under what they carry."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from stowright.formulas.actions_en1990 import road_shock
from stowright.formulas.ec5_design import SPAN_OVER_SAG, Duration, final_deflection_mm, k_def
from stowright.formulas.plates_navier import PlateResponse
from stowright.model.design import BlockDesign, OpeningDesign
from stowright.model.finding import Finding
from stowright.model.part import PlacedPart
from stowright.proofs.basis import LoadKind, held_or_told, worst
from stowright.proofs.edges import joined_edges, sides_along
from stowright.proofs.index import NO_CARRY, G, Index
from stowright.proofs.judge import About, clearance, not_proved, weakest
from stowright.proofs.sheets import (
    PLATE,
    Sheet,
    bending_held,
    rolling_held,
    self_weight_n_mm2,
    sheet_trials,
)
from stowright.proofs.supported import Field, held_well
from stowright.proofs.tried import Trial, advised

__all__ = [
    "Laid",
    "bottom_findings",
    "laid_on",
    "sag_finding",
    "shear_finding",
    "stress_finding",
]

#: What has to stay free under a sagging bottom. [mm]
LEFT_FREE = 2.0
CREEP = "creep: EN 1995-1-1 2.2.3, from memory"


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """What lies on a sheet: all of it, and the heaviest single thing on its own footprint.

    Attributes:
        mass_kg: Everything.
        patch_kg: The heaviest thing; 0 when nothing is known of single things.
        patch: Its footprint, the longer side first. [mm]
        what: The heaviest thing in words.
    """

    mass_kg: float
    patch_kg: float = 0.0
    patch: tuple[float, float] = (0.0, 0.0)
    what: str = ""

    def share(self, part: float) -> Laid:
        """Return a part of it, what lies on the patch no heavier than that."""
        mass = part * self.mass_kg
        return replace(self, mass_kg=mass, patch_kg=min(self.patch_kg, mass))


def laid_on(index: Index, opening: OpeningDesign) -> Laid:
    """Return what lies in an opening."""
    packed = index.design.packed
    things = [t for t in packed.things if t.opening == opening.name] if packed else []
    if things:
        thing = max(things, key=lambda each: (each.mass_kg, each.what))
        return Laid(
            mass_kg=opening.contents_kg,
            patch_kg=min(thing.mass_kg, opening.contents_kg),
            patch=(max(thing.size[:2]), min(thing.size[:2])),
            what=thing.what,
        )
    items = {item.what: item for item in index.design.job.carry}
    held = [items[what] for what, _ in opening.carried if what in items]
    if not held:
        return Laid(mass_kg=opening.contents_kg)
    heavy = max(held, key=lambda item: (item.mass, item.what))
    return Laid(
        mass_kg=opening.contents_kg,
        patch_kg=min(heavy.mass, opening.contents_kg),
        patch=(max(heavy.size[:2]), min(heavy.size[:2])),
        what=heavy.what,
    )


def bottom_findings(index: Index) -> Iterator[Finding]:
    """Yield findings about every bottom that moves with a drawer or tray."""
    for block, opening in index.openings():
        for piece in index.in_drawer(opening, "drawer-bottom", "tray-base")[:1]:
            yield from _bottom(index, block, opening, piece)


def _bottom(
    index: Index, block: BlockDesign, opening: OpeningDesign, piece: PlacedPart
) -> Iterator[Finding]:
    part = index.part(piece)
    edges = joined_edges(index, piece, depth_axis=block.axes[1])
    sheet = Sheet(
        material=index.material(piece),
        thickness=part.thickness,
        grain_1=None if part.grain == "free" else True,
    )
    field = Field(sheet=sheet, side_1=piece.length, side_2=piece.width, edges=edges)
    about = About(
        id=f"BOTTOM-STRESS:{opening.name}",
        title=f"Bottom of {opening.name} under a road shock",
        about=part.mark,
        family=5,
        source=PLATE,
        standing="from memory",
        working=(
            (
                f"{piece.length:.0f} mm along the grain, {piece.width:.0f} mm across, "
                f"{len(edges)} edges held"
            ),
        ),
    )
    if not held_well(edges):
        yield not_proved(about, needs=("two opposite edges of the bottom held by joints",))
        return
    laid = laid_on(index, opening)
    if not index.design.job.carry:
        yield not_proved(about, needs=(NO_CARRY,), advice=_may_carry(index, about, field))
        return
    gap = index.boxes[piece.id].z.low - opening.clear.z.low
    across_2 = sides_along(piece, block.axes[1]) == 1
    yield from _loaded(index, opening, about, field, laid, gap=gap, across_2=across_2)


def _loaded(
    index: Index,
    opening: OpeningDesign,
    about: About,
    field: Field,
    laid: Laid,
    *,
    gap: float,
    across_2: bool,
) -> Iterator[Finding]:
    """Yield bending, rolling shear and sag of a bottom under what lies on it.

    ``across_2`` says that direction 2 lies across the drawer.
    """
    sheet = field.sheet
    find = partial(stress_finding, index, about, field, laid)
    yield held_or_told(
        about,
        lambda: advised(
            find(sheet),
            *sheet_trials(index, sheet, find),
            last=_less(
                field,
                laid,
                lambda other, less: stress_finding(index, about, other, less, sheet),
                across_2=across_2,
            ),
        ),
    )
    rolls = partial(
        shear_finding,
        index,
        replace(
            about,
            id=f"BOTTOM-SHEAR:{opening.name}",
            title=f"Plies of the bottom of {opening.name} do not roll at its edges",
        ),
        field,
        laid,
    )
    yield advised(rolls(sheet), *sheet_trials(index, sheet, rolls))
    sags = replace(
        about,
        id=f"BOTTOM-SAG:{opening.name}",
        title=f"Bottom of {opening.name} does not sag onto what is under it",
    )
    sag = partial(sag_finding, index, sags, field, laid, gap)
    yield advised(
        sag(sheet),
        *sheet_trials(index, sheet, sag),
        last=_less(
            field,
            laid,
            lambda other, less: sag_finding(index, sags, other, less, gap, sheet),
            across_2=across_2,
        ),
    )


def _less(
    field: Field, laid: Laid, find: Callable[[Field, Laid], Finding], *, across_2: bool
) -> Iterator[Trial]:
    """Yield trials with two drawers instead of one, and with less in it."""
    narrow = replace(field, side_2=field.side_2 / 2.0)
    if not across_2:
        narrow = replace(field, side_1=field.side_1 / 2.0)
    yield Trial(
        words="split into two drawers of half the width and half the contents, each",
        find=partial(find, narrow, laid.share(0.5)),
    )
    for share in (0.75, 0.5, 0.25):
        less = laid.share(share)
        yield Trial(
            words=f"{laid.mass_kg - less.mass_kg:.0f} kg taken out of it",
            find=partial(find, field, less),
        )


def _answers(
    field: Field, laid: Laid, *, shock: float
) -> tuple[tuple[LoadKind, PlateResponse], ...]:
    """Return the plate's answers to contents and own mass, each at a multiple of g."""
    area = field.side_1 * field.side_2
    rest = (laid.mass_kg - laid.patch_kg) * G * shock
    spread = field.uniform(pressure_n_mm2=rest / area)
    if laid.patch_kg > 0.0:
        patch = field.patch(
            load_n=laid.patch_kg * G * shock, patch_1_mm=laid.patch[0], patch_2_mm=laid.patch[1]
        )
        spread = PlateResponse(*(a + b for a, b in zip(spread, patch, strict=True)))
    own = field.uniform(pressure_n_mm2=self_weight_n_mm2(field.sheet) * shock)
    return ("contents", spread), ("own mass", own)


def stress_finding(index: Index, about: About, field: Field, laid: Laid, sheet: Sheet) -> Finding:
    """Return the bending finding of a bottom or shelf: shock on the road, and rest for years."""
    here = replace(field, sheet=sheet)
    road = index.design.job.road
    shock = road_shock(road=road)
    known = f", {laid.what} {laid.patch_kg:g} kg on its footprint amid" if laid.what else ""
    cases: tuple[tuple[str, float, Duration], ...] = (
        (f"road {road}: {shock:g} g on contents{known}, instantaneous", shock, "instantaneous"),
        (f"at rest, for years: 1 g on contents{known}", 1.0, "long"),
    )
    return worst(
        bending_held(
            replace(
                about,
                load_case=case,
                working=(
                    *about.working,
                    (
                        f"q = {times:g} x {laid.mass_kg:.1f} kg x g / area = "
                        f"{times * laid.mass_kg * G / (field.side_1 * field.side_2) * 1e6:.0f} Pa"
                    ),
                ),
            ),
            sheet=sheet,
            parts=_answers(here, laid, shock=times),
            duration=duration,
            service_class=index.service_class,
        )
        for case, times, duration in cases
    )


def shear_finding(index: Index, about: About, field: Field, laid: Laid, sheet: Sheet) -> Finding:
    """Return the rolling-shear finding of a bottom or shelf at its edges under a shock."""
    road = index.design.job.road
    shock = road_shock(road=road)
    here = replace(field, sheet=sheet)
    pressure = laid.mass_kg * G * shock / (field.side_1 * field.side_2)
    return rolling_held(
        replace(about, load_case=f"road {road}: {shock:g} g on contents, instantaneous"),
        sheet=sheet,
        parts=(
            ("contents", here.shear(pressure_n_mm2=pressure)),
            ("own mass", here.shear(pressure_n_mm2=self_weight_n_mm2(sheet) * shock)),
        ),
        duration="instantaneous",
        service_class=index.service_class,
    )


def sag_finding(
    index: Index, about: About, field: Field, laid: Laid, gap: float, sheet: Sheet
) -> Finding:
    """Return the clearance finding of a sheet's final sag against the gap that it would eat."""
    (_, contents), (_, own) = _answers(replace(field, sheet=sheet), laid, shock=1.0)
    creep = k_def(service_class=index.service_class)
    # Kit that lives in a drawer rests on it for years: all of it counts as staying.
    final = final_deflection_mm(
        permanent_mm=own.deflection_mm,
        variable_mm=contents.deflection_mm,
        creep=creep,
        quasi_permanent=1.0,
    )
    span = field.span
    told = replace(
        about,
        source=f"{PLATE}; {CREEP}",
        standing=weakest("from memory", sheet.material.origin.standing),
        load_case="at rest, for years",
        working=(
            *about.working,
            (
                f"instant sag {contents.deflection_mm:.2f} mm from contents, "
                f"{own.deflection_mm:.2f} mm from its own mass"
            ),
            (
                f"final = (w_G + w_Q) (1 + k_def), k_def {creep:g} (service class "
                f"{index.service_class}) = {final:.2f} mm"
            ),
            f"gap under it {gap:.1f} mm, of which {LEFT_FREE:g} mm stay free",
            (
                f"for comparison: span / {SPAN_OVER_SAG['drawer base']:g} = "
                f"{span / SPAN_OVER_SAG['drawer base']:.1f} mm (practice, at once)"
            ),
        ),
    )
    return clearance(told, needed=final, available=gap - LEFT_FREE, reading_error=0.0)


def _may_carry(index: Index, about: About, field: Field) -> tuple[str, ...]:
    """Return what a bottom may carry, from the stress under a unit mass."""
    one, two = (
        stress_finding(index, about, field, Laid(mass_kg=mass), field.sheet)
        for mass in (10.0, 20.0)
    )
    if one.utilisation is None or two.utilisation is None:
        return ()
    each = (two.utilisation - one.utilisation) / 10.0
    most = (0.9 - (one.utilisation - 10.0 * each)) / each if each > 0.0 else 0.0
    return (f"it may carry {max(most, 0.0):.0f} kg spread over it",)
