"""Timber blocks glued to uprights behind a box, with a rubber stop on each: what they take."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from stowright.design.back_stops import BLOCK_MM
from stowright.model.catalogue import Material
from stowright.model.finding import Finding
from stowright.proofs.basis import Load, factor_on, held
from stowright.proofs.index import Index
from stowright.proofs.judge import About
from stowright.proofs.screws import glue_capacity

__all__ = ["NOT_COUNTED", "STOP_BLOCK", "blocks_offered", "held_by_blocks"]

#: A block behind the box that takes the shut stop's shock: along, across. [mm]
STOP_BLOCK = BLOCK_MM[:2]
NOT_COUNTED = "the runner's own shut stop is not counted: nothing is stated of it, or too little"
_SIDES = 2


def blocks_offered(index: Index, walls: Sequence[Material], force: float) -> tuple[str, ...]:
    """Return the blocks that would stop a box instead, their glue tried; none without an upright.

    Args:
        index: What is proved.
        walls: The sheet they are glued to.
        force: What pushes the box to its back. [N]
    """
    if not walls:
        return ()
    area = STOP_BLOCK[0] * STOP_BLOCK[1]
    glue = glue_capacity(area_mm2=area, sheets=tuple(walls), service_class=index.service_class)
    factor = factor_on("restraint", basis=glue.basis, rules=index.rules)
    count = max(1, math.ceil(factor * force / (0.9 * glue.value)))
    share = factor * force / (count * glue.value)
    text = (
        f"{count} timber block{'s' if count > 1 else ''} {STOP_BLOCK[0]:g} x {STOP_BLOCK[1]:g} mm "
        f"glued behind the box, each with a 10 mm rubber stop, passes at {share:.2f}"
    )
    return (text,)


def held_by_blocks(
    index: Index, opening: str, walls: Sequence[Material], about: About, load: Load
) -> Finding | None:
    """Return what the blocks hold that stand behind a box, one glued to each upright.

    Args:
        index: What is proved.
        opening: The box's opening, by name.
        walls: The sheets of the uprights.
        about: What the finding is about.
        load: The push.
    """
    if not walls:
        return None
    area = _SIDES * STOP_BLOCK[0] * STOP_BLOCK[1]
    told = replace(
        about,
        title=f"Something stops {opening} towards its back",
        working=(
            *about.working,
            NOT_COUNTED,
            (
                "second line: the box stands on rubber stops, pressed when shut, on blocks glued "
                "to both uprights"
            ),
        ),
    )
    glue = glue_capacity(area_mm2=area, sheets=tuple(walls), service_class=index.service_class)
    return held(told, loads=(load,), capacity=glue, rules=index.rules)
