"""The one way through: job → design → proofs → cutting → making → plan."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from stowright.app.cut_finding import cut_finding
from stowright.app.stock import parts_to_cut, saw_settings, stock_for
from stowright.errors import CuttingError, StoppedError
from stowright.model.plan import Plan
from stowright.units import in_job_unit

if TYPE_CHECKING:
    from stowright.model.catalogue import Catalogue
    from stowright.model.design import Design
    from stowright.model.finding import Finding
    from stowright.model.job import Job
    from stowright.model.layout import CutPart, CuttingPlan, StockSheet

__all__ = [
    "InUse",
    "Progress",
    "ShouldStop",
    "cut_design",
    "design_job",
    "plan",
    "plan_of",
    "prove_design",
]

#: Called with what is being done now, in words.
type Progress = Callable[[str], None]
#: Asked between stages; True ends the work with a ``StoppedError``.
type ShouldStop = Callable[[], bool]
#: Waits for the findings in use that are worked out somewhere else; None when they are not.
type InUse = Callable[[], tuple[Finding, ...] | None]

_WORST_FIRST = ("fail", "not proved", "warn", "pass")


def plan(
    job: Job,
    *,
    catalogue: Catalogue | None = None,
    progress: Progress | None = None,
    should_stop: ShouldStop | None = None,
) -> Plan:
    """Return the whole plan of a job; of one that is begun, what is still to be cut.

    Args:
        job: What is asked for.
        catalogue: The shelf to build from; None for the shipped one.
        progress: Told what is being done.
        should_stop: Asked between stages whether to go on.

    Raises:
        JobError: If what the job says was cut is not in its plan.
        DesignError: If no geometry can serve the job.
        UnknownNameError: If the job names something that is not on the shelf.
        CuttingError: If a part fits on no sheet or the stock is short.
        StoppedError: If ``should_stop`` said so.
    """
    from stowright.app.refitting import has_record, refit_plan

    step = _stepper(progress, should_stop)
    shelf = catalogue or _shipped()
    if has_record(job):
        return refit_plan(job, catalogue=shelf, progress=step).plan
    step("fitting the parts into the bay")
    design = design_job(job, catalogue=shelf, progress=step)
    step("proving")
    findings = prove_design(design, catalogue=shelf)
    step("laying the parts out on sheets")
    cutting = cut_design(design, catalogue=shelf)
    step("writing the steps of the work")
    return plan_of(job, shelf, design, findings, cutting)


def plan_of(
    job: Job,
    shelf: Catalogue,
    design: Design,
    findings: tuple[Finding, ...],
    cutting: CuttingPlan,
    left: tuple[tuple[CutPart, ...], tuple[StockSheet, ...]] | None = None,
) -> Plan:
    """Return a plan from what was worked out, with its steps, schedule and what they prove.

    Takes the job, the shelf, its design, the proofs of that, and how it is cut; of a job that is
    begun also the parts that are left to cut and the sheets that are left.
    """
    from stowright.book import book_findings
    from stowright.making import make

    made = Plan(
        job=job,
        catalogue=shelf,
        design=design,
        findings=findings,
        cutting=cutting,
        making=make(design, shelf, cutting),
    )
    judged = (*findings, cut_finding(design, shelf, cutting, left), *book_findings(made))
    return replace(made, findings=_worst_first(judged))


def design_job(
    job: Job,
    *,
    catalogue: Catalogue | None = None,
    settle: bool = True,
    progress: Progress | None = None,
) -> Design:
    """Return the design of a job: everything that the geometry decides.

    Args:
        job: What is asked for.
        catalogue: The shelf to build from; None for the shipped one.
        settle: Whether the load is packed and the hold-down bolts are planned so that they pass;
            without it loads are shared out by volume and every carcass has the usual four bolts.
        progress: Told what is being done, the packing by stages and tenths.

    Raises:
        JobError: If what the job says was cut is not in its plan.
        DesignError: If no geometry can serve the job.
        UnknownNameError: If the job names something that is not on the shelf.
    """
    from stowright.app.refitting import has_record, refit_design
    from stowright.design.build import design
    from stowright.explore.settle import settled

    shelf = catalogue or _shipped()
    if settle and has_record(job):
        return refit_design(job, shelf)[0]
    return settled(job, shelf, progress=progress) if settle else design(job, shelf)


def prove_design(
    design: Design,
    *,
    catalogue: Catalogue | None = None,
    in_use: InUse | None = None,
    advise: bool = True,
) -> tuple[Finding, ...]:
    """Return every finding about a design, passes included, worst first.

    Args:
        design: The design.
        catalogue: The shelf it is built from; None for the shipped one.
        in_use: Waits for the half of the findings that is worked out elsewhere at the same time;
            they are the same without it.
        advise: Whether advice that changes the whole unit is tried on it, which takes longer.
    """
    from stowright.proofs.prove import (
        findings_in_strength,
        findings_in_use,
        ranked,
        with_tried_advice,
    )

    shelf = catalogue or _shipped()
    strength = findings_in_strength(design, shelf)
    use = in_use() if in_use is not None else None
    if use is None:
        use = findings_in_use(design, shelf)
    found = _worst_first(ranked((*use, *strength)))
    return with_tried_advice(found, design, shelf) if advise else found


def cut_design(design: Design, *, catalogue: Catalogue | None = None) -> CuttingPlan:
    """Return how the parts of a design are cut from the job's sheets and what can be bought.

    Raises:
        CuttingError: If a part fits on no sheet or the stock is short.
    """
    from stowright.cutting import lay_out

    shelf = catalogue or _shipped()
    parts = parts_to_cut(design)
    materials = tuple(dict.fromkeys(part.material for part in parts))
    job = design.job
    try:
        return lay_out(parts, stock_for(job, shelf, materials), saw_settings(job, shelf))
    except CuttingError as error:
        raise CuttingError(in_job_unit(str(error), job.units)) from error


def _worst_first(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    return tuple(
        sorted(
            findings,
            key=lambda found: (
                _WORST_FIRST.index(found.status),
                -(found.utilisation or 0.0),
                found.family,
            ),
        )
    )


def _shipped() -> Catalogue:
    from stowright.app.loading import load_catalogue

    return load_catalogue()


def _stepper(progress: Progress | None, should_stop: ShouldStop | None) -> Progress:
    def step(what: str) -> None:
        if should_stop is not None and should_stop():
            raise StoppedError(f"stopped before {what}")
        if progress is not None:
            progress(what)

    return step
