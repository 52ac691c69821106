"""How much a carcass may carry until what holds it down is used up: told where nothing is said."""

from __future__ import annotations

from dataclasses import replace

from stowright.formulas.restraint import RuleSet
from stowright.model.geometry import Point3
from stowright.proofs.restraint_bodies import StandingBody, Weight, total_of
from stowright.proofs.restraint_check import Held, greatest_use

__all__ = ["contents_kg"]

#: Proved up to this utilisation; more than this is not looked for.
_PASS, _MOST_KG, _ROUNDS, _STEP_KG = 0.90, 2000.0, 9, 5.0


def contents_kg(held: Held, rules: RuleSet) -> float:
    """Return what a carcass may carry and still pass, in the middle of its openings. [kg].

    Rounded down to 5 kg; 0 when it does not pass empty.
    """
    centre = _middle(held.body)
    low, high = 0.0, _MOST_KG
    if centre is None or _use(held, rules, centre, 0.0) > _PASS:
        return 0.0
    for _ in range(_ROUNDS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if _use(held, rules, centre, middle) <= _PASS else (low, middle)
    return low // _STEP_KG * _STEP_KG


def _middle(body: StandingBody) -> Point3 | None:
    """Return the middle of all that can be filled in a carcass, by volume."""
    rooms = [
        Weight(mass=o.usable.litres, centre=o.usable.centre)
        for o in body.block.openings
        if o.module == body.module.name and o.usable.litres > 0.0
    ]
    return total_of(rooms).centre if rooms else None


def _use(held: Held, rules: RuleSet, centre: Point3, mass: float) -> float:
    body = held.body
    loaded = total_of((body.empty, Weight(mass=mass, centre=centre)))
    return greatest_use(held.with_body(replace(body, loaded=loaded)), rules)
