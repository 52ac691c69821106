"""What would bring an axle back inside its limit: moves and removals that were tried."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import replace

from stowright.model.design import Design
from stowright.proofs.axle_cases import AxleCase, Item, Scales
from stowright.proofs.judge import PASS_UP_TO

__all__ = ["moves"]

#: Steps in which a move is told. [mm, kg]
DISTANCE, MASS = 100.0, 5.0

type Read = Callable[[AxleCase], float]


def moves(
    design: Design, scales: Scales, case: AxleCase, *, read: Read, limit: float, forward: bool
) -> Iterator[str]:
    """Yield what was tried and brings ``read`` of a case to 90 % of its limit.

    Args:
        design: What is built and carried.
        scales: The vehicle.
        case: The case that is too heavy.
        read: Which of its masses is limited. [kg]
        limit: The limit. [kg]
        forward: Whether moving towards the cab lightens it; moving does nothing for a total.
    """
    aim = PASS_UP_TO * limit
    before = read(case)
    contents = [item for item in case.items if item.kind == "contents"]
    yield from _one_move(design, scales, case, contents, read=read, aim=aim, forward=forward)
    taken = _take_out(scales, case, contents, read=read, aim=aim)
    if taken is not None:
        mass, reached = taken
        yield f"take {mass:g} kg out: {before:.0f} kg becomes {reached:.0f} kg"
        return
    empty = scales.case(case.name, tuple(i for i in case.items if i.kind != "contents"))
    yield (
        f"even with nothing in the unit it is {read(empty):.0f} kg of {limit:.0f} kg: a lighter "
        "unit, fewer extras, or a vehicle that may carry more"
    )


def _one_move(
    design: Design,
    scales: Scales,
    case: AxleCase,
    contents: list[Item],
    *,
    read: Read,
    aim: float,
    forward: bool,
) -> Iterator[str]:
    """Try to move part of one opening's contents as far as the bay goes, least moment first."""
    reach = design.job.bay.length
    for item in sorted(contents, key=lambda i: (-i.mass, i.what)):
        room = (reach - item.x) if forward else item.x
        steps = math.floor(max(0.0, room) / DISTANCE)
        for n in range(1, steps + 1):
            far = n * DISTANCE if forward else -n * DISTANCE
            mass = _least_mass(scales, case, item, far, read=read, aim=aim)
            if mass is not None:
                reached = read(_moved(scales, case, item, mass, far))
                word = "forward" if forward else "back"
                yield f"move {mass:g} kg {item.what} {abs(far):g} mm {word}: {reached:.0f} kg"
                return


def _least_mass(
    scales: Scales, case: AxleCase, item: Item, far: float, *, read: Read, aim: float
) -> float | None:
    """Return the least mass, in steps, that does it at one distance; None when all is too little.

    What moving does is proportional to the mass, so one trial tells how much it takes; that is
    then tried again.
    """
    whole = read(_moved(scales, case, item, item.mass, far))
    gain = read(case) - whole
    if not gain > 0.0 or whole > aim:
        return None
    mass = min(item.mass, MASS * math.ceil((read(case) - aim) / gain * item.mass / MASS - 1.0e-9))
    return mass if read(_moved(scales, case, item, mass, far)) <= aim + 1.0e-9 else None


def _moved(scales: Scales, case: AxleCase, item: Item, mass: float, far: float) -> AxleCase:
    rest = [other for other in case.items if other is not item]
    stays = replace(item, mass=item.mass - mass)
    goes = replace(item, mass=mass, x=item.x + far)
    return scales.case(case.name, (*rest, stays, goes))


def _take_out(
    scales: Scales, case: AxleCase, contents: list[Item], *, read: Read, aim: float
) -> tuple[float, float] | None:
    """Return how much has to come out, alike from everything carried, and what is reached."""
    carried = sum(item.mass for item in contents)
    others = tuple(item for item in case.items if item.kind != "contents")

    def reached(out: float) -> float:
        share = 1.0 - out / carried
        less = tuple(replace(item, mass=item.mass * share) for item in contents)
        return read(scales.case(case.name, (*others, *less)))

    if not carried > 0.0 or reached(carried) > aim:
        return None
    gain = (read(case) - reached(carried)) / carried
    out = min(carried, math.ceil((read(case) - aim) / gain - 1.0e-9))
    return out, reached(out)
