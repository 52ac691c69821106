"""A design with what searches settle: the load packed, hold-down bolts that pass."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import partial

from stowright.design.build import design
from stowright.explore.anchors import anchored
from stowright.explore.packing import QUICK, left_to_carry, pack_carry, with_reasons
from stowright.model.catalogue import Catalogue
from stowright.model.design import Design, OpeningDesign
from stowright.model.geometry import Box
from stowright.model.given import Given
from stowright.model.job import Job
from stowright.model.packed import PackedLoad

__all__ = ["settle", "settled"]

#: Packings of a load in boxes that it changes.
ROUNDS = 3
CLOSE = 0.05


def settled(
    job: Job,
    catalogue: Catalogue,
    *,
    packings: int | None = None,
    patient: bool = True,
    progress: Callable[[str], None] | None = None,
) -> Design:
    """Return the design of a job with its load packed and its hold-down bolts planned.

    Args:
        job: What is asked for.
        catalogue: The shelf to build from.
        packings: How many packings of the load are tried; as many as please unless told.
        patient: Whether to take that time, and more for what is left out; else a quick look.
        progress: Told what is being done, with the share done where that is known.

    Raises:
        DesignError: If no geometry can serve the job.
        UnknownNameError: If the job names something that is not on the shelf.
    """
    return settle(job, catalogue, packings=packings, patient=patient, progress=progress)[0]


def settle(
    job: Job,
    catalogue: Catalogue,
    *,
    packings: int | None = None,
    patient: bool = True,
    progress: Callable[[str], None] | None = None,
) -> tuple[Design, Given]:
    """Return the settled design of a job, and what the searches handed back for it.

    Takes and raises what ``settled`` does.
    """
    found, given = design(job, catalogue), Given()
    if job.carry and found.blocks:
        told = _teller(progress) if progress is not None else None
        found, given = _stowed(found, catalogue, packings, patient=patient, told=told)
    if progress is not None:
        progress("planning the hold-down bolts")
    anchors, found = anchored(found, catalogue, given)
    if anchors.modules:
        given = replace(given, anchors=anchors)
    if anchors.open:
        found = replace(found, warnings=(*found.warnings, *anchors.open))
    return found, given


def _teller(progress: Callable[[str], None]) -> Callable[[int, str, float], None]:
    """Return what tells in words how far the packing is, each tenth of it once."""
    last = [""]

    def told(round_: int, stage: str, share: float) -> None:
        tenth = math.floor(10.0 * share) * 10
        again = f" again, in the drawers that it asks for ({round_})" if round_ > 1 else ""
        words = f"packing the load{again}: {stage}, {tenth} %"
        if words != last[0]:
            last[0] = words
            progress(words)

    return told


def _stowed(
    found: Design,
    catalogue: Catalogue,
    packings: int | None,
    *,
    patient: bool,
    told: Callable[[int, str, float], None] | None,
) -> tuple[Design, Given]:
    """Return a design with its load packed, and the packing.

    Masses choose runners, and runners the boxes' depths and what may lie in them: where a packing
    changes what can be filled, or runners turn out to be rated less than what was packed for them,
    the load is packed anew in that. Kept is what sticks out nowhere, is too heavy for no runners,
    and leaves least out.
    """
    tries: list[tuple[Design, PackedLoad]] = []
    before = found
    for round_ in range(1, 1 + (ROUNDS if patient else 1)):
        tell = partial(told, round_) if told is not None else None
        load = _packed(before, packings, patient=patient, progress=tell)
        after = design(found.job, catalogue, Given(packed=load))
        tries.append((after, load))
        if not _worth_another(before, after, load):
            break
        before = after
    after, load = min(tries, key=lambda t: (_sticking_out(*t), _too_heavy(t[0]), _left(t[1])))
    load = with_reasons(after, load)
    return replace(after, packed=load), Given(packed=load)


def _worth_another(before: Design, after: Design, load: PackedLoad) -> bool:
    """Tell whether a packing changed what can be filled or carried, and lacks something."""
    if _too_heavy(after) > 0.0:
        return True
    changed = [o.usable for o in _openings(before)] != [o.usable for o in _openings(after)]
    return changed and bool(load.left_out or _sticking_out(after, load))


def _too_heavy(found: Design) -> float:
    """Return by how much what moves is heavier than its runners may carry, all added. [kg]."""
    return round(sum(max(0.0, -left_to_carry(o)) for o in _openings(found)), 3)


def _sticking_out(found: Design, load: PackedLoad) -> int:
    """Return how many things do not lie in what can be filled."""
    usable = {opening.name: opening.usable for opening in _openings(found)}
    return sum(not _inside(thing.box, usable[thing.opening]) for thing in load.things)


def _inside(box: Box, room: Box) -> bool:
    return all(
        inner.low >= outer.low - CLOSE and inner.high <= outer.high + CLOSE
        for inner, outer in zip((box.x, box.y, box.z), (room.x, room.y, room.z), strict=True)
    )


def _openings(found: Design) -> tuple[OpeningDesign, ...]:
    return tuple(opening for block in found.blocks for opening in block.openings)


def _left(load: PackedLoad) -> int:
    return sum(left.copies for left in load.left_out)


def _packed(
    found: Design,
    packings: int | None,
    *,
    patient: bool,
    progress: Callable[[str, float], None] | None,
) -> PackedLoad:
    """Return the load packed; what is left out at first is looked for longer where that helps."""
    if patient:
        return pack_carry(found, budget=packings, progress=progress)
    return pack_carry(found, budget=packings or QUICK, longer=0, progress=progress)
