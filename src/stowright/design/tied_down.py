"""What holds things that stand in the open: nets across spaces, straps on what rides on a tray."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil

from stowright.design.nets import net_goods, nets_asked
from stowright.design.ring_bolts import RING
from stowright.design.stowing import Stowing
from stowright.formulas.restraint import restraint_force_n, rule_set
from stowright.model.catalogue import Catalogue
from stowright.model.design import LooseThing, OpeningDesign
from stowright.model.job import Job

__all__ = ["held_things"]

_STRAP = "cam-strap-25"
#: A hold is used up to this share of its working load; one more is fitted than is counted.
_SHARE = 0.9
_MOST = 4

type _Row = tuple[str, int, str]


def held_things(
    job: Job, catalogue: Catalogue, stowing: Stowing, openings: Iterable[OpeningDesign]
) -> tuple[tuple[LooseThing, ...], tuple[_Row, ...]]:
    """Return what is not held by itself with what holds it, and what is bought for that.

    A net, where the job asks for one, holds all that stands behind it. What rides on a tray gets
    straps to rings bolted through the tray; what stands in an open space without a net, and what
    found no place, has nothing.
    """
    openings = tuple(openings)
    nets = nets_asked(job)
    masses = {item.what: item.mass for item in job.carry}
    things: list[LooseThing] = []
    bought: list[_Row] = [*net_goods(job, catalogue, openings)]
    for opening in openings:
        if opening.fill not in {"open", "through", "tray"} or not opening.carried:
            continue
        if opening.name in nets:
            things.append(_behind_net(opening))
            continue
        for what, count in opening.carried:
            mass = masses.get(what, 0.0) * count
            straps = _straps(job, catalogue, mass) if opening.fill == "tray" else 0
            things.append(
                LooseThing(
                    what=what,
                    where=opening.name,
                    mass_kg=mass,
                    held_by=f"{_STRAP}, {straps}" if straps else "",
                )
            )
            if straps:
                bought.append((RING, 2 * straps, f"{opening.name}: two for each strap over {what}"))
                bought.append((_STRAP, straps, f"{opening.name}: over {what}, ring to ring"))
    things += [
        LooseThing(what=item.what, where="no opening", mass_kg=item.mass * count, held_by="")
        for item, count in stowing.left_over
    ]
    return tuple(things), tuple(bought)


def _behind_net(opening: OpeningDesign) -> LooseThing:
    return LooseThing(
        what=", ".join(what for what, _ in opening.carried),
        where=opening.name,
        mass_kg=opening.contents_kg,
        held_by="net",
    )


def _straps(job: Job, catalogue: Catalogue, mass: float) -> int:
    """Return how many straps hold a mass any way, one more than is counted; 0 where none can."""
    rows = {row.name: row.capacity_n for row in catalogue.hardware}
    holds = [value for value in (rows.get(_STRAP), rows.get(RING)) if value]
    if len(holds) < 2:
        return 0
    rules = rule_set(job.rules)
    force = restraint_force_n(
        mass_kg=mass, fraction=max(rules.forward, rules.rear, rules.side, rules.up)
    )
    count = max(1, ceil(force / (_SHARE * min(holds)))) + 1
    return count if count <= _MOST else 0
