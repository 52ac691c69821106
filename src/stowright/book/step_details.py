"""A step's fixings by the parts they join, and how each of its new pieces lies."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import Any

from stowright.making.places import Lie, lies_of
from stowright.model.design import Design
from stowright.model.making import Step
from stowright.model.part import PlacedFixing
from stowright.units import Unit, format_length, in_job_unit

__all__ = ["long_name", "step_details"]

_WITH_THEIR_BOLT = frozenset({"nut", "washer", "plate", "insert"})


def step_details(design: Design, step: Step) -> dict[str, Any]:
    """Return a step's fixings in words, what it takes up again and how its new pieces lie."""
    units = design.job.units
    lies = lies_of(design, step)
    return {
        "fixings": _fixings(design, step, units),
        "again": [[mark, mark] for mark in _returning(design, step)],
        "lies": [_lie(lie, units) for lie in lies],
        "placed": any(lie.away for lie in lies),
        **(_anchors(design, units) if step.kind == "install" else {"anchors": []}),
    }


def _anchors(design: Design, units: Unit) -> dict[str, Any]:
    """Return the anchors as rows, to be ticked off one by one; they stand for the step's checks.

    Id, how far from the tail and from the centre line, how high where it is not in the floor, its
    bolt, and what that goes into.
    """
    rows = [
        [
            a.id,
            format_length(a.x, units),
            format_length(a.y, units),
            a.surface if a.surface == "floor" else f"{a.surface}, {format_length(a.z, units)} up",
            a.bolt,
            a.existing or f"new hole{', plate below' if a.plate else ''}",
        ]
        for a in design.anchors
    ]
    return {"anchors": rows, "checks": []} if rows else {"anchors": []}


def _returning(design: Design, step: Step) -> list[str]:
    """Return the marks of what a step takes up again, and of what its fixings go into, in order."""
    new = {piece for part in step.parts if part.first for piece in part.placed}
    back = {piece for part in step.parts if not part.first for piece in part.placed}
    used = {i for row in step.fixings for i in row.ids}
    joined = {j for fixing in design.fixings if fixing.id in used for j in fixing.joins}
    found = {piece.mark for piece in design.placed if piece.id in (back | joined) - new}
    return [part.mark for part in design.parts if part.mark in found]


def _fixings(design: Design, step: Step, units: Unit) -> list[str]:
    """Return the fixings by count and type, with how many go through which part into which."""
    by_id = {fixing.id: fixing for fixing in design.fixings}
    marks = {piece.id: piece.mark for piece in design.placed}
    rows: list[str] = []
    for row in step.fixings:
        joined = Counter(_joined(by_id[i], marks) for i in row.ids)
        told = "; ".join(_shared(joined))
        rows.append(f"{row.count} × {long_name(row.type, units)}" + (f": {told}" if told else ""))
    return rows


def _shared(joined: Counter[tuple[str, str, str]]) -> Iterator[str]:
    """Yield how many join what; those through one part, as many each, in one."""
    ends: dict[tuple[str, str, int], list[str]] = {}
    for (through, word, end), count in joined.items():
        if through or end:
            ends.setdefault((through, word, count), []).append(end)
    alone = len(joined) == 1
    for (through, word, count), into in ends.items():
        each = f"{count} each " if len(into) > 1 else "" if alone else f"{count} "
        last = into[0] if len(into) == 1 else f"{', '.join(into[:-1])} and {into[-1]}"
        yield f"{each}{through}{word}{last}"


def long_name(name: str, units: Unit) -> str:
    """Return a name of the schedule; a runner's length in the job's unit too."""
    if units == "mm" or not name.endswith(" long"):
        return name
    return in_job_unit(f"{name.removesuffix(' long')} mm long", units)


def _joined(fixing: PlacedFixing, marks: dict[str, str]) -> tuple[str, str, str]:
    """Return what a fixing goes through, how that is said, and what it ends in; empty for none."""
    if fixing.kind in _WITH_THEIR_BOLT or fixing.set:
        return "", "", ""
    names = [marks.get(j, "vehicle" if j == "vehicle" else "") for j in fixing.joins]
    told = [name for name in names if name]
    if fixing.kind == "screw":
        word = " into " if len(told) > 1 else "into " if told else ""
    else:
        word = " and " if len(told) > 1 else ""
    return ", ".join(told[:-1]), word, told[-1] if told else ""


def _lie(lie: Lie, units: Unit) -> list[str]:
    away = [", ".join(format_length(v, units) for v in values) for values in lie.away]
    away = [*away[1:], *away[:1]]
    return [
        lie.mark,
        f"{lie.copies} × {lie.mark}",
        lie.good_face,
        f"{lie.corner[0]}, {lie.corner[1]}",
        *(away or ["", "", ""]),
    ]
