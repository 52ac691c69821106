"""Bolts near every corner: one at least on each side of the centre of gravity, along and across."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.model.finding import Finding
from stowright.proofs.judge import About, complete, not_proved
from stowright.proofs.restraint_bodies import total_of
from stowright.proofs.restraint_check import Held, Study, spread
from stowright.proofs.restraint_joined import together_of

__all__ = ["spread_findings"]


def spread_findings(study: Study) -> Iterator[Finding]:
    """Yield one finding for each body, or bodies bolted together, that has bolts."""
    done: set[str] = set()
    for held in study.held:
        if held.body.id in done or not held.holds:
            continue
        names = together_of(study.survey, held.body)
        group = [each for each in study.held if each.body.id in names]
        done |= names
        yield _spread(held, group)


def _spread(held: Held, group: list[Held]) -> Finding:
    holds = [hold for each in group for hold in each.holds]
    bodies = [each.body for each in group]
    x, y, _ = total_of(body.loaded for body in bodies).centre
    bare = spread(holds, bodies)
    about = About(
        id=f"RESTRAINT-SPREAD:{held.body.id}",
        title=f"{', '.join(body.name for body in bodies)}: bolts on all sides of the centre",
        about=held.body.block.name,
        family=8,
        source="a bolt near each corner, one at least each side of the centre of gravity "
        "(common practice)",
        standing="common practice",
        load_case="empty and loaded",
        working=(
            f"centre of gravity, loaded: x {x:.0f}, y {y:.0f}",
            "bolts: " + ", ".join(f"{hold.id} ({hold.x:.0f}, {hold.y:.0f})" for hold in holds),
        ),
    )
    if not bare:
        return complete(about, missing=())
    if all(hold.existing is not None for hold in holds) and len(holds) > 1:
        return complete(about, missing=())  # the vehicle's maker placed them
    return not_proved(
        about,
        needs=(
            (
                f"a bolt {bare} of its centre: bay.anchors there (x, y, thread, tension and shear "
                "in N), or bay.no_drill, bay.belts or bay.access that leave a place there"
            ),
        ),
        advice=(
            (
                "move the block so that its centre lies between the places that may be drilled, or "
                f"carry less {bare}"
            ),
        ),
    )
