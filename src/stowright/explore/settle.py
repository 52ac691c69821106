"""A design with what searches settle: the load packed, hold-down bolts that pass."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from stowright.design.build import design
from stowright.explore.anchors import anchored
from stowright.explore.packing import QUICK, pack_carry
from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.model.given import Given
from stowright.model.job import Job
from stowright.model.packed import PackedLoad

__all__ = ["settle", "settled"]


def settled(
    job: Job,
    catalogue: Catalogue,
    *,
    packings: int = QUICK,
    patient: bool = True,
    progress: Callable[[str], None] | None = None,
) -> Design:
    """Return the design of a job with its load packed and its hold-down bolts planned.

    Args:
        job: What is asked for.
        catalogue: The shelf to build from.
        packings: How many packings of the load are tried.
        patient: Whether more are tried when things are left out that would go in by themselves.
        progress: Told what is being done.

    Raises:
        DesignError: If no geometry can serve the job.
        UnknownNameError: If the job names something that is not on the shelf.
    """
    return settle(job, catalogue, packings=packings, patient=patient, progress=progress)[0]


def settle(
    job: Job,
    catalogue: Catalogue,
    *,
    packings: int = QUICK,
    patient: bool = True,
    progress: Callable[[str], None] | None = None,
) -> tuple[Design, Given]:
    """Return the settled design of a job, and what the searches handed back for it.

    Takes and raises what ``settled`` does.
    """
    found, given = design(job, catalogue), Given()
    if job.carry and found.blocks:
        if progress is not None:
            progress("packing what goes in")
        given = Given(packed=_packed(found, packings, patient=patient))
        found = design(job, catalogue, given)
    anchors, found = anchored(found, catalogue, given)
    if anchors.modules:
        given = replace(given, anchors=anchors)
    if anchors.open:
        found = replace(found, warnings=(*found.warnings, *anchors.open))
    return found, given


def _packed(found: Design, packings: int, *, patient: bool) -> PackedLoad:
    """Return the load packed; what is left out at first is looked for longer where that helps."""
    return pack_carry(found, budget=packings, longer=None if patient else 0)
