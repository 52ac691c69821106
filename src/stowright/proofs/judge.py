"""The frame of every proof: how demand and capacity become a status.

Ratio: pass up to 0.90, warn up to 1.00, fail above. Clearance: pass when what is there is at least
what is needed, warn when short by no more than the reading error, else fail. Chance: pass from
0.95, warn from 0.80. Complete: pass or fail. "Pass" means within the stated limit, never "safe".
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from stowright.errors import BasisMixError
from stowright.model.catalogue import Basis, Standing
from stowright.model.finding import Finding, Kind, Status

__all__ = ["About", "chance", "clearance", "complete", "not_proved", "ratio", "weakest"]

PASS_UP_TO, WARN_UP_TO = 0.90, 1.00
LIKELY, DOUBTFUL = 0.95, 0.80

_ORDER: tuple[Standing, ...] = ("published", "common practice", "from memory", "assumed")

#: Which demands may be held against which capacities; anything else is refused.
_FACTORS: dict[str, tuple[float, ...]] = {
    "characteristic": (1.0, 1.35, 1.5),
    "allowable": (1.0,),
    "mean ultimate": (5.0,),
    "common practice": (1.0,),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What a proof is about and where its numbers come from."""

    id: str
    title: str
    about: str
    family: int
    source: str
    standing: Standing
    load_case: str = ""
    working: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()


def weakest(*standings: Standing) -> Standing:
    """Return the weakest of several standings."""
    return max(standings, key=_ORDER.index)


def ratio(
    about: About,
    *,
    demand: float,
    capacity: float,
    unit: str,
    basis: Basis,
    factor: float,
    advice: tuple[str, ...] = (),
) -> Finding:
    """Return a ratio finding; ``demand`` is already factored.

    Raises:
        BasisMixError: When the factor does not belong to the capacity's basis.
    """
    if factor not in _FACTORS[basis]:
        raise BasisMixError(f"factored by {factor:g}", basis)
    utilisation = demand / capacity if capacity > 0.0 else float("inf")
    status: Status = "fail"
    if utilisation <= PASS_UP_TO + 1.0e-9:
        status = "pass"
    elif utilisation <= WARN_UP_TO + 1.0e-9:
        status = "warn"
    return _finding(
        about,
        "ratio",
        status,
        advice,
        demand=round(demand, 4),
        capacity=round(capacity, 4),
        unit=unit,
        utilisation=round(utilisation, 4) if capacity > 0.0 else None,
        basis=basis,
        factor=factor,
    )


def clearance(
    about: About,
    *,
    needed: float,
    available: float,
    reading_error: float,
    unit: str = "mm",
    advice: tuple[str, ...] = (),
) -> Finding:
    """Return a clearance finding."""
    status: Status = "fail"
    if available >= needed - 1.0e-6:
        status = "pass"
    elif available >= needed - reading_error - 1.0e-6:
        status = "warn"
    return _finding(
        about,
        "clearance",
        status,
        advice,
        demand=round(needed, 4),
        capacity=round(available, 4),
        unit=unit,
        utilisation=round(needed / available, 4) if available > 0.0 else None,
    )


def chance(about: About, *, probability: float, advice: tuple[str, ...] = ()) -> Finding:
    """Return a chance finding: how likely it is that a build comes out right.

    Demand is the chance that passes, capacity the one found; there is no utilisation.
    """
    status: Status = "fail"
    if probability >= LIKELY - 1.0e-9:
        status = "pass"
    elif probability >= DOUBTFUL - 1.0e-9:
        status = "warn"
    return replace(
        _finding(about, "chance", status, advice),
        demand=LIKELY,
        capacity=round(probability, 4),
        unit="chance",
    )


def complete(about: About, *, missing: tuple[str, ...], advice: tuple[str, ...] = ()) -> Finding:
    """Return a complete-or-not finding: it passes when nothing is missing."""
    found = _finding(about, "complete", "fail" if missing else "pass", advice)
    return replace(found, working=(*about.working, *missing))


def not_proved(about: About, *, needs: tuple[str, ...], advice: tuple[str, ...] = ()) -> Finding:
    """Return a finding that lacks an input, naming it."""
    return replace(_finding(about, "complete", "not proved", advice), needs=needs)


def _finding(
    about: About,
    kind: Kind,
    status: Status,
    advice: tuple[str, ...],
    *,
    demand: float | None = None,
    capacity: float | None = None,
    unit: str = "",
    utilisation: float | None = None,
    basis: Basis | Literal[""] = "",
    factor: float = 1.0,
) -> Finding:
    """Return a finding; advice is given where there is something to mend."""
    return Finding(
        id=about.id,
        title=about.title,
        about=about.about,
        family=about.family,
        kind=kind,
        status=status,
        demand=demand,
        capacity=capacity,
        unit=unit,
        utilisation=utilisation,
        basis=basis,
        factor=factor,
        load_case=about.load_case,
        source=about.source,
        standing=about.standing,
        working=about.working,
        advice=advice if status != "pass" else (),
        assumed=about.assumed,
    )
