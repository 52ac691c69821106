"""A plan: the job, its design, what was proved, how it is cut and made."""

from __future__ import annotations

from dataclasses import dataclass

from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.model.job import Job
from stowright.model.layout import CuttingPlan
from stowright.model.making import Making
from stowright.model.refit import PartChange, SoFar

__all__ = ["Plan"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Everything that came out for a job. Every interface shows this and computes nothing.

    Attributes:
        findings: From proofs, cutting and book, passes included, worst first.
        catalogue: The shelf the plan was made with.
        changes: Parts that differ from the plan that the work was begun from.
        so_far: What the next refit has to know of what was cut; None before the work begins.
    """

    job: Job
    catalogue: Catalogue
    design: Design
    findings: tuple[Finding, ...]
    cutting: CuttingPlan
    making: Making
    changes: tuple[PartChange, ...] = ()
    so_far: SoFar | None = None
