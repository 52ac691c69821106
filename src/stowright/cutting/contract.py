"""The plan as the ``cutting`` object of ``plan.json``."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from stowright.model.layout import CuttingPlan

__all__ = ["cutting_to_dict"]


def cutting_to_dict(plan: CuttingPlan) -> dict[str, Any]:
    """Return the plan with the contract's keys, and those that were added to it.

    Lengths are in millimetres from the corner of the whole sheet, ``x`` along its length. Areas
    are in square metres, metres of cut in metres. Sheets and lines count copies. Every key is
    the name of the model value's field; tuples become lists when it is written as JSON.
    """
    return {key: _plain(value) for key, value in asdict(plan).items()}


def _plain(value: Any) -> Any:
    """Return a value with lists for tuples, as JSON reads it back."""
    if isinstance(value, dict):
        return {key: _plain(entry) for key, entry in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(entry) for entry in value]
    return value
