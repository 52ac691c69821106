"""Sharing a length: fixed parts first, the rest by weight, none below its least."""

from __future__ import annotations

from dataclasses import dataclass

from stowright.errors import DesignError
from stowright.units import snap_down

__all__ = ["Want", "share_out"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Want:
    """What one part of a row or stack wants. ``fixed`` is None for a share."""

    name: str
    fixed: float | None
    weight: float
    least: float | None


def share_out(
    total: float, wants: tuple[Want, ...], *, grid: float, about: str
) -> tuple[float, ...]:
    """Return what each gets, shares snapped down so that equal shares are alike.

    Args:
        total: What there is. [mm]
        wants: In order.
        grid: The cut grid. [mm]
        about: Named in the refusal.

    Raises:
        DesignError: When fixed and least sizes do not go in, with how much is missing.
    """
    given: dict[int, float] = {i: w.fixed for i, w in enumerate(wants) if w.fixed is not None}
    while True:
        left = total - sum(given.values())
        open_ones = [(i, w) for i, w in enumerate(wants) if i not in given]
        weight = sum(w.weight for _, w in open_ones)
        short = [
            (i, w.least)
            for i, w in open_ones
            if w.least is not None and left * w.weight / weight < w.least
        ]
        if not short:
            break
        given.update(short)
    if not total > 0.0:
        raise DesignError(
            about,
            f"uprights, partings and gaps alone take {-total:.1f} mm more than there is",
            "fewer columns or fills, or more room for the block",
        )
    if left < -1.0e-6 or (open_ones and not left > 0.0):
        raise DesignError(
            about,
            f"what is asked for needs {total - left:.1f} mm, there are {total:.1f} mm",
            f"take {-left:.1f} mm off the fixed sizes or make one of them a share",
        )
    shared = {i: snap_down(left * w.weight / weight, grid) for i, w in open_ones}
    return tuple(given.get(i, shared.get(i, 0.0)) for i in range(len(wants)))
