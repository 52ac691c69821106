"""Groups of screws against a demand: what lies outside a clause is proved to a fraction only."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from stowright.formulas.restraint import RuleSet
from stowright.model.finding import Finding
from stowright.proofs.basis import Capacity, Load, held
from stowright.proofs.judge import About, not_proved
from stowright.proofs.screws import STATED_FRACTION, ScrewHold

__all__ = ["screws_held", "times"]


def times(one: Capacity, count: int, name: str) -> Capacity:
    """Return what several like screws take together."""
    return replace(
        one,
        value=one.value * count,
        working=(
            *one.working,
            f"{count} {name} share it: {count} x {one.value:.0f} = {one.value * count:.0f} N",
        ),
    )


def screws_held(
    about: About,
    *,
    loads: Iterable[Load],
    hold: ScrewHold,
    count: int,
    name: str,
    rules: RuleSet | None = None,
) -> Finding:
    """Return the finding of loads on a group of screws.

    Screws outside a clause count to the stated fraction of it. Above that and up to the clause's
    own value the group is "not proved" (a test, glue or a bearing would prove it); above the
    clause's value it fails.
    """
    rows = tuple(loads)
    found = held(about, loads=rows, capacity=times(hold.counted, count, name), rules=rules)
    beyond = found.status == "fail" and hold.clause is not None and bool(hold.outside)
    if not beyond or hold.clause is None:
        return found
    if (found.demand or 0.0) > hold.clause.value * count:
        return found
    told = replace(
        about,
        source=found.source,
        standing=found.standing,
        working=(
            *found.working,
            (
                f"within the clause's full {hold.clause.value * count:.0f} N, beyond the "
                f"{STATED_FRACTION:g} of it that is proved outside its range"
            ),
        ),
    )
    return replace(
        not_proved(told, needs=("a test of this joint, glue in it, or a bearing under it",)),
        demand=found.demand,
        capacity=found.capacity,
        unit=found.unit,
        utilisation=found.utilisation,
        basis=found.basis,
        factor=found.factor,
        kind="ratio",
    )
