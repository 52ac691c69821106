"""Words that several steps share: lengths in the job's own unit, cautions, the order of screws."""

from __future__ import annotations

from collections import Counter
from typing import Literal

from stowright.model.design import Design, OpeningDesign
from stowright.units import format_length

__all__ = ["DUST", "SAW", "round_holes", "say", "slots_first"]

SAW = (
    "Eye and hearing protection and a dust mask rated for wood; let the blade stop before "
    "reaching in."
)
DUST = "Wood dust harms lungs: extract at the tool and wear a mask; follow the local limits."


def say(design: Design, mm: float) -> str:
    """Return a length as the job prints it."""
    return format_length(mm, design.job.units, with_unit=True)


def _screws(
    design: Design, opening: OpeningDesign, member: Literal["cabinet", "drawer"]
) -> tuple[int, int]:
    """Return a member's screws a side in slots and in round holes; (0, 0) where they differ.

    What is placed governs: a hole that meets another fixing may have been left out.
    """
    fit = opening.runner
    if fit is None:
        return 0, 0
    kinds = Counter(hole.kind for hole in fit.size.holes if hole.member == member)
    own = {piece.id for piece in design.placed if piece.opening == opening.name}
    runner = f"{opening.name}/runner-"
    placed = sum(
        any(j.startswith(runner) for j in fixing.joins)
        and bool(own.intersection(fixing.joins)) == (member == "drawer")
        for fixing in design.fixings
    )
    whole = placed == 2 * (kinds["slot"] + kinds["round"])
    return (kinds["slot"], kinds["round"]) if whole else (0, 0)


def slots_first(
    design: Design, opening: OpeningDesign, member: Literal["cabinet", "drawer"]
) -> str:
    """Return how many of a member's screws go in now, and how many wait."""
    slots, rounds = _screws(design, opening, member)
    if not slots:
        return "Slot screws first, at mid height; the round holes wait for the run test."
    now = f"Drive the {slots} slot screws a side, at mid height"
    return f"{now}; the {rounds} of the round holes wait for the run test." if rounds else f"{now}."


def round_holes(design: Design, opening: OpeningDesign) -> int:
    """Return how many round-hole screws an opening's runners take together, both members."""
    return 2 * sum(_screws(design, opening, member)[1] for member in ("cabinet", "drawer"))
