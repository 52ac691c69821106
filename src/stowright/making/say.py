"""Words that several steps share: lengths in the job's own unit, cautions, the order of screws."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import Literal

from stowright.model.design import Design, OpeningDesign
from stowright.units import format_length

__all__ = ["DUST", "ROUTER", "SAW", "all_of", "many", "round_holes", "say", "slots_first"]

SAW = (
    "Eye and hearing protection and a dust mask rated for wood; let the blade stop before "
    "reaching in."
)
ROUTER = (
    "Eye and hearing protection; nobody reaches in while the spindle turns; a part that comes loose "
    "is thrown: stop the machine first."
)
DUST = "Wood dust harms lungs: extract at the tool and wear a mask; follow the local limits."


#: Units of goods that take an s; kilograms and metres are written short.
_COUNTED = frozenset({"sheet", "piece", "pair", "litre"})


def many(count: float, unit: str) -> str:
    """Return a count with its unit: ``1 pair``, ``4 pieces``, ``0.1 kg``."""
    return f"{count:g} {unit}{'s' if count != 1 and unit in _COUNTED else ''}"


def all_of(words: Iterable[str]) -> str:
    """Return words in a row: ``A1, A2 and A3``."""
    rows = list(words)
    return rows[0] if len(rows) == 1 else f"{', '.join(rows[:-1])} and {rows[-1]}"


def say(design: Design, mm: float) -> str:
    """Return a length as the job prints it."""
    return format_length(mm, design.job.units, with_unit=True)


def _screws(
    design: Design, opening: OpeningDesign, member: Literal["cabinet", "drawer"]
) -> dict[str, Counter[str]]:
    """Return a member's screws in slots and in round holes, by the mark they go into.

    What is placed governs: a hole that meets another fixing may have been left out.
    """
    fit = opening.runner
    if fit is None:
        return {}
    holes = [hole for hole in fit.size.holes if hole.member == member]
    inwards = next(b for b in design.blocks if b.name == opening.block).axes[1]
    own = {piece.id: piece.mark for piece in design.placed if piece.opening == opening.name}
    marks = {piece.id: piece.mark for piece in design.placed}
    runner = f"{opening.name}/runner-"
    found: dict[str, Counter[str]] = {}
    for fixing in design.fixings:
        into = [j for j in fixing.joins if j in marks]
        if not into or not any(j.startswith(runner) for j in fixing.joins):
            continue
        if (into[0] in own) == (member == "drawer") and holes:
            off = (a - b for a, b in zip(fixing.at, opening.at, strict=True))
            along = sum(a * b for a, b in zip(off, inwards, strict=True)) - fit.set_back
            near = min(holes, key=lambda hole: abs(hole.at - along))
            found.setdefault(marks[into[0]], Counter())[near.kind] += 1
    return found


def slots_first(
    design: Design, opening: OpeningDesign, member: Literal["cabinet", "drawer"]
) -> str:
    """Return how many of a member's screws go in now, and how many wait."""
    screws = _screws(design, opening, member)
    slots, rounds = (_each(screws, kind) for kind in ("slot", "round"))
    if not slots:
        return "Slot screws first, at mid height; the round holes wait for the run test."
    now = f"Drive the {slots.format('slot screws')}, at mid height"
    if not rounds:
        return f"{now}."
    return f"{now}; the {rounds.format('of the round holes')} wait for the run test."


def _each(screws: dict[str, Counter[str]], kind: str) -> str:
    """Return a count of screws with a place for what they are: a side, or in which part how many."""
    counts = {mark: count[kind] for mark, count in screws.items() if count[kind]}
    total = sum(counts.values())
    if not total:
        return ""
    if len(counts) == len(screws) and len(set(counts.values())) == 1:
        return f"{total // 2} {{}} a side"
    return f"{total} {{}} ({', '.join(f'{n} in {mark}' for mark, n in counts.items())})"


def round_holes(design: Design, opening: OpeningDesign) -> int:
    """Return how many round-hole screws an opening's runners take together, both members."""
    members: tuple[Literal["cabinet", "drawer"], ...] = ("cabinet", "drawer")
    rows = (row for member in members for row in _screws(design, opening, member).values())
    return sum(row["round"] for row in rows)
