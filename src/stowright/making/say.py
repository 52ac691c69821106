"""Lengths in the words of a step: in the job's own unit, with the unit."""

from __future__ import annotations

from stowright.model.design import Design
from stowright.units import format_length

__all__ = ["say"]


def say(design: Design, mm: float) -> str:
    """Return a length as the job prints it."""
    return format_length(mm, design.job.units, with_unit=True)
