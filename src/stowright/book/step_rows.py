"""A step as plain data, for the book and for the cards."""

from __future__ import annotations

from typing import Any

from stowright.model.making import HoldPoint, Step

__all__ = ["step_row"]


def step_row(step: Step) -> dict[str, Any]:
    """Return what is printed of a step."""
    return {
        "number": step.number,
        "stage": step.stage,
        "title": step.title,
        "text": list(step.text),
        "parts": [[p.mark, f"{p.copies} × {p.mark}"] for p in step.parts if p.first],
        "again": [[p.mark, p.mark] for p in step.parts if not p.first],
        "fixings": [f"{f.count} × {f.type}" for f in step.fixings],
        "tools": list(step.tools),
        "checks": list(step.checks),
        "hold": _hold(step.hold_point),
        "cautions": list(step.cautions),
        "figure": step.figure,
    }


def _hold(hold: HoldPoint | None) -> str:
    if hold is None:
        return ""
    between = ""
    if hold.least is not None and hold.most is not None:
        between = f" Must read {hold.least:g} to {hold.most:g}."
    return f"{hold.what}.{between} {hold.otherwise}"
