"""A design with what searches settle: the load packed, hold-down bolts that pass."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from stowright.design.build import design
from stowright.explore.anchors import anchored
from stowright.explore.packing import QUICK, WOULD_FIT, pack_carry
from stowright.explore.packing_search import patience
from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.model.given import Given
from stowright.model.job import Job
from stowright.model.packed import PackedLoad

__all__ = ["settle", "settled"]

#: A load above this share of the room is not packed again: hardly any goes in so tightly.
FULLEST = 0.97


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
    """Return the load packed; where room may be left for what is left out, after a longer look."""
    load = pack_carry(found, budget=packings, longer=0)
    if not patient or not any(left.why.startswith(WOULD_FIT) for left in load.left_out):
        return load
    if not _has_room(found):
        return load
    things = sum(item.quantity for item in found.job.carry if not item.on)
    again = pack_carry(found, budget=packings, longer=patience(things))
    return again if _left(again) < _left(load) else load


def _has_room(found: Design) -> bool:
    """Tell whether all of the load is less than most of what can be filled."""
    load = sum(
        item.size[0] * item.size[1] * (item.size[2] + item.clear_above) * item.quantity
        for item in found.job.carry
        if not item.on
    )
    openings = [opening for block in found.blocks for opening in block.openings]
    return load < FULLEST * 1.0e6 * sum(opening.usable.litres for opening in openings)


def _left(load: PackedLoad) -> int:
    return sum(left.copies for left in load.left_out)
