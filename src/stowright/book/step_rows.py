"""A step as plain data, for the book and for the cards."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from stowright.model.making import HoldPoint, Step
from stowright.units import MM_PER_INCH, Unit, format_length

__all__ = ["step_row"]


def step_row(step: Step, units: Unit, see: Sequence[str] = ()) -> dict[str, Any]:
    """Return what is printed of a step.

    Args:
        step: The step.
        units: Unit of print.
        see: Figures of other chapters that it is done from, by name.
    """
    return {
        "number": step.number,
        "stage": step.stage,
        "title": step.title,
        "text": list(step.text),
        "parts": [[p.mark, f"{p.copies} × {p.mark}"] for p in step.parts if p.first],
        "again": [[p.mark, p.mark] for p in step.parts if not p.first],
        "fixings": [f"{f.count} × {f.type}" for f in step.fixings],
        "tools": list(step.tools),
        "checks": [check.rstrip(".") for check in step.checks],
        "hold": _hold(step.hold_point, units),
        "cautions": list(step.cautions),
        "figure": step.figure,
        "see": list(see),
    }


def _hold(hold: HoldPoint | None, units: Unit) -> str:
    if hold is None:
        return ""
    what = hold.what.removesuffix(" [mm]")
    if hold.least is None or hold.most is None:
        return f"{what}. {hold.otherwise}"
    if hold.least == -hold.most:
        return f"{what}. Must agree within {_within(hold.most, units)}. {hold.otherwise}"
    return f"{what}. Must read {_range(hold.least, hold.most, units)}. {hold.otherwise}"


def _within(most: float, units: Unit) -> str:
    metric = f"{format_length(most)} mm"
    return metric if units == "mm" else f"{most / MM_PER_INCH:.3f} in ({metric})"


def _range(least: float, most: float, units: Unit) -> str:
    """Return what a reading lies between; finer than a fraction of an inch tells in an inch job."""
    metric = f"{format_length(least)} to {format_length(most)} mm"
    if units == "mm":
        return metric
    return f"{least / MM_PER_INCH:.3f} to {most / MM_PER_INCH:.3f} in ({metric})"
