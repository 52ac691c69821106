"""Refit: the plan of a job with what was cut and read, and what changed since the plan before."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from statistics import fmean
from typing import TYPE_CHECKING

from stowright.app.plain import plain
from stowright.app.plan_before import Before, before_from, shape_of, size_of, so_far_of
from stowright.app.record_checks import (
    refused_by_reading,
    require_marks,
    require_plausible,
    unused_readings,
    whole_sheets,
)
from stowright.app.stock import parts_to_cut, saw_settings
from stowright.errors import DesignError
from stowright.units import in_job_unit

if TYPE_CHECKING:
    from stowright.app.planning import Progress
    from stowright.explore.refit_chances import RefitSample
    from stowright.model.catalogue import Catalogue
    from stowright.model.design import Design
    from stowright.model.given import Given
    from stowright.model.job import Job
    from stowright.model.layout import CutPart, CuttingPlan, StockSheet
    from stowright.model.plan import Plan
    from stowright.model.refit import PartChange, Refit

__all__ = [
    "Before",
    "Refitted",
    "before_from",
    "changes_between",
    "cut_what_is_left",
    "drawer_chances",
    "has_record",
    "refit_design",
    "refit_plan",
]

type Size = tuple[float, float, float]
_EXACT = 0.01
type ToCut = tuple[tuple[CutPart, ...], tuple[StockSheet, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Refitted:
    """A plan after the work so far.

    Attributes:
        plan: The plan; its cutting holds only what is still to be cut.
        refit: What was settled; None when nothing was cut or read.
        changes: Each part that differs from the plan before.
        chances: For each drawer, how many of 500 builds run: as first cut, recut to the readings,
            recut and shimmed.
    """

    plan: Plan
    refit: Refit | None
    changes: tuple[PartChange, ...]
    chances: tuple[tuple[str, RefitSample], ...] = ()


def has_record(job: Job) -> bool:
    """Whether a job says anything of the build: parts done or spoiled, readings."""
    return bool(job.done or job.spoiled or job.readings)


def refit_design(
    job: Job, shelf: Catalogue, *, before: Before | None = None
) -> tuple[Design, Refit | None, Before]:
    """Return the design of a job with what was cut and read, that refit, and the plan before.

    Args:
        job: The job with its record of the build.
        shelf: The shelf to build from.
        before: The plan that the parts were cut from; None takes the job as it was planned.

    Raises:
        JobError: If a mark is not in the plan, or the size of a cut part is not known.
        DesignError: If no geometry can serve the job.
        UnknownNameError: If the job names something that is not on the shelf.
    """
    from stowright.app.left_over import leftovers
    from stowright.explore.drilling import drilling_words
    from stowright.explore.recut import as_made
    from stowright.explore.refit import Asked, as_planned, find_refit

    base, given = _settled(as_planned(job), shelf)
    old = before or _as_it_was(job, shelf, base, given)
    require_marks(job, old, told=before is not None)
    require_plausible(job, base, old)
    then = old.as_cut(job)
    asked = Asked(
        sizes=old.sizes(),
        marks=old.marks,
        leftovers=leftovers(job, old),
        shapes={str(part["mark"]): shape_of(part) for part in then},
        cut={str(part["mark"]): size_of(part) for part in then},
        covers=dict(old.so_far.covers),
    )
    refit = find_refit(base, job, shelf, asked)
    if refit is None:
        return base, None, old
    given, (made, refit) = _bolted(job, shelf, base, given, refit)
    lost = {row.piece: " and ".join(row.lost) for row in refit.redrills if row.lost}
    if lost:
        again = find_refit(base, job, shelf, replace(asked, lost=lost))
        made, refit = _built(job, shelf, given, again or refit)
    refit = as_made(made, refit, asked.leftovers)
    refit = replace(refit, reasons=(*refit.reasons, *drilling_words(refit, job.units)))
    whole = () if before else whole_sheets(job)
    unused = (*unused_readings(replace(base, job=job)), *whole)
    within = shelf.saw(job.build.saw).tolerance
    differs = any(row.differs for row in refit.frozen)
    meeting = dict.fromkeys(_in_the_way(base, made, within)) if differs else ()
    refit = replace(refit, open=(*refit.open, *unused, *meeting))
    made = replace(made, refit=refit)
    open_ = (*(given.anchors.open if given.anchors else ()), *refit.open)
    return replace(made, warnings=(*made.warnings, *open_)), refit, old


@lru_cache(maxsize=4)
def _settled(job: Job, shelf: Catalogue) -> tuple[Design, Given]:
    """Return a job as planned. Remembered: readings come one by one, the plan under them stays."""
    from stowright.explore.settle import settle

    return settle(job, shelf)


def _built(job: Job, shelf: Catalogue, given: Given, refit: Refit) -> tuple[Design, Refit]:
    """Return the design after a refit, and that refit with what its cut parts need."""
    from stowright.design.build import design

    try:
        made = design(job, shelf, replace(given, refit=refit))
    except DesignError as error:
        refused = refused_by_reading(error, job)
        if refused is None:
            raise
        raise refused from error
    return made, made.refit or refit


def _bolted(
    job: Job, shelf: Catalogue, base: Design, given: Given, refit: Refit
) -> tuple[Given, tuple[Design, Refit]]:
    """Return the design after a refit with its bolts where cut floors are drilled for them already.

    A batch a little thicker, or a drawer a little heavier, may give the planner of bolts other
    places; holes that are there are not worth less for it. Where floors have moved with what is
    beside them, the holes are looked up once more where they came to lie.
    """
    from stowright.explore.drilled_bolts import as_bolted, asks_for_bolts

    anchors = as_bolted(base, refit, given.anchors)
    given = given if anchors is None else replace(given, anchors=anchors)
    made, found = _built(job, shelf, given, refit)
    anchors = (
        as_bolted(made, found, given.anchors, within=_EXACT) if asks_for_bolts(found) else None
    )
    if anchors is None:
        return given, (made, found)
    given = replace(given, anchors=anchors)
    return given, _built(job, shelf, given, refit)


def _in_the_way(base: Design, made: Design, tolerance: float) -> Iterator[str]:
    """Yield parts that meet as they are cut and did not as planned: what has to come off.

    No deeper than a cut size may be out is no more than cutting to the plan may give. [mm]
    """
    from stowright.drawings.clashes import interpenetrations

    known = {(one, two) for one, two, _ in interpenetrations(base)}
    named = {p.id: f"{p.mark} {made.part(p.mark).name}" for p in made.placed}
    for one, two, deep in interpenetrations(made, eps=tolerance):
        if (one, two) not in known:
            met = f"{named[one]} and {named[two]} meet by {deep:.1f} mm as they are cut"
            yield in_job_unit(f"{met}: take that off", made.job.units)


def changes_between(one: Job, two: Job, shelf: Catalogue) -> tuple[PartChange, ...]:
    """Return each part that differs between the plans of two jobs, neither begun.

    Raises:
        DesignError: If no geometry can serve one of them.
    """
    from stowright.app.changes import changes_since
    from stowright.design.build import design
    from stowright.explore.refit import as_planned

    first, second = (design(as_planned(job), shelf) for job in (one, two))
    return changes_since(tuple(plain(first.parts)), second, None)


def _as_it_was(job: Job, shelf: Catalogue, base: Design, given: Given) -> Before:
    """Return the plan that parts were cut from: with the thickness that cut parts have."""
    from stowright.design.build import design
    from stowright.explore.refit import as_planned

    materials = {part.mark: part.material for part in base.parts}
    cut: dict[str, list[float]] = {}
    for stage in job.done:
        for part in stage.parts:
            if part.size is not None and part.mark in materials:
                cut.setdefault(materials[part.mark], []).append(part.size[2])
    then = {
        name: (fmean(found),)
        for name, found in cut.items()
        if abs(fmean(found) - base.thickness(name).t) > 1.0e-6
    }
    if then:
        measured = dict(job.measured_thickness) | then
        earlier = replace(as_planned(job), measured_thickness=tuple(measured.items()))
        base = design(earlier, shelf, given)
    return Before(
        parts=tuple(plain(base.parts)), marks={piece.id: piece.mark for piece in base.placed}
    )


def refit_plan(
    job: Job,
    *,
    catalogue: Catalogue | None = None,
    before: Before | None = None,
    progress: Progress | None = None,
) -> Refitted:
    """Return the plan of a job after what was cut and read, and what changed since the plan before.

    Only what is still to be cut is laid out, on the sheets that are really left.

    Args:
        job: The job with its record of the build.
        catalogue: The shelf to build from; None for the shipped one.
        before: The plan that the parts were cut from; None takes the job as it was planned.
        progress: Told what is being done.

    Raises:
        JobError: If a mark is not in the plan, or the size of a cut part is not known.
        DesignError: If no geometry can serve the job.
        CuttingError: If a part fits on no sheet or the stock is short.
    """
    from stowright.app.changes import changes_since
    from stowright.app.loading import load_catalogue
    from stowright.app.planning import plan_of, prove_design

    shelf = catalogue or load_catalogue()
    say = progress or (lambda _: None)
    say("fitting what is still to be cut")
    design, refit, old = refit_design(job, shelf, before=before)
    say("proving")
    findings = prove_design(design, catalogue=shelf)
    say("laying out what is left")
    cutting, left = cut_what_is_left(design, shelf, refit, old)
    changes = changes_since(old.parts, design, refit)
    made = plan_of(job, shelf, design, findings, cutting, left=left)
    made = replace(made, changes=changes, so_far=so_far_of(job, old, design))
    return Refitted(
        plan=made,
        refit=refit,
        changes=changes,
        chances=drawer_chances(design, shelf),
    )


def drawer_chances(design: Design, shelf: Catalogue) -> tuple[tuple[str, RefitSample], ...]:
    """Return for each drawer on runners how many of 500 builds run.

    A box that is cut to a reading is not as much narrower as the cut grid made that of the plan.

    Args:
        design: The design, with its sums.
        shelf: The shelf it is built from.
    """
    from stowright.explore.refit_chances import refit_chances
    from stowright.proofs.tolerance_terms import fit_of

    grid = design.job.cut_grid
    taken = {s.size_of: max(0.0, s.exact - s.result) for s in design.sums}
    return tuple(
        (
            opening.name,
            refit_chances(
                fit_of(design, shelf, block, opening),
                grid=grid,
                taken=taken.get(f"{opening.name}: inner front and back", 0.0),
            ),
        )
        for block in design.blocks
        for opening in block.openings
        if opening.runner is not None
    )


def cut_what_is_left(
    design: Design, shelf: Catalogue, refit: Refit | None, old: Before
) -> tuple[CuttingPlan, ToCut]:
    """Return how what is still to be cut is laid out on the sheets that are really left, and both.

    Raises:
        CuttingError: If a part fits on no sheet or the stock is short.
    """
    from stowright.app.left_over import sheets_left
    from stowright.cutting import lay_out
    from stowright.explore.build_record import still_to_cut

    parts = parts_to_cut(design)
    pieces = [(piece.mark, old.marks.get(piece.id, piece.mark)) for piece in design.placed]
    recut = [row for row in refit.no_longer if row.way == "recut"] if refit else []
    gone = {name for row in recut if not row.source for name in row.pieces}
    anew = {place for place, piece in enumerate(design.placed) if piece.id in gone}
    left = still_to_cut(design.job, pieces, dict(old.so_far.covers), anew=anew)
    wanted = tuple(
        replace(part, quantity=left[part.mark]) for part in parts if left.get(part.mark, 0) > 0
    )
    materials = tuple(dict.fromkeys(part.material for part in wanted))
    spent = {row.source for row in recut}
    stock = sheets_left(design.job, shelf, materials, old, spent)
    return lay_out(wanted, stock, saw_settings(design.job, shelf)), (wanted, stock)
