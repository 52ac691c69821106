"""The fewest of a carcass's bolts that pass: every hole less is one less to drill and to seal.

Four points or more hold a unit (common practice). Carcasses that are bolted together share them,
with two or more each; a carcass by itself keeps four. Each is still proved alone, and bolts that
stood on all sides of its centre of gravity still do.
"""

from __future__ import annotations

from itertools import combinations

from stowright.formulas.restraint import RuleSet
from stowright.model.given import ModuleAnchors
from stowright.proofs.restraint_check import Held, Study, greatest_use, spread
from stowright.proofs.restraint_joined import together_of
from stowright.proofs.tipping import use_when_out

__all__ = ["fewest"]

_PASS = 0.90
_ALONE, _JOINED = 4, 2


def fewest(held: Held, study: Study, rules: RuleSet) -> ModuleAnchors | None:
    """Return the fewest of a carcass's bolts that pass; None where it keeps them all.

    Factory anchors are kept before new holes. All bolts are kept where an input lacks, where the
    job does not say what stands in one of its spaces, and where a neighbour is not held by its own.
    """
    if held.open or not _loads_known(held, study):
        return None
    group = together_of(study.survey, held.body)
    others = [other for other in study.held if other.body.id in group]
    if any(other.open or _use(other, rules) > _PASS for other in others):
        return None  # a neighbour may have to hang on these bolts
    least = _JOINED if len(group) > 1 else _ALONE
    wide = not spread(held.holds, (held.body,))
    for count in range(least, len(held.holds)):
        rows = [
            (-sum(1 for n in chosen if held.holds[n].existing), round(use, 6), chosen)
            for chosen in combinations(range(len(held.holds)), count)
            if not (wide and spread((held.holds[n] for n in chosen), (held.body,)))
            and (use := _use(held.only(chosen), rules)) <= _PASS
        ]
        if rows:
            _, use, chosen = min(rows)
            return ModuleAnchors(
                block=held.body.block.name,
                module=held.body.module.name,
                places=tuple((held.holds[n].x, held.holds[n].y) for n in chosen),
                count=count,
                use=round(use, 4),
                why=f"{count} of {len(held.holds)} usual places pass at {use:.2f}",
            )
    return None


def _loads_known(held: Held, study: Study) -> bool:
    body = held.body
    mine = [o for o in body.block.openings if o.module == body.module.name]
    return bool(study.survey.of.job.carry) and not any(
        o.fill in {"open", "through", "tray"} and not o.carried for o in mine
    )


def _use(held: Held, rules: RuleSet) -> float:
    return max(greatest_use(held, rules), use_when_out(held))
