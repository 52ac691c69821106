"""People: what they lift, push and carry, and how they lie, sit up and get out.

The handling filters say when an assessment is called for; they are not limits of strength or law.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from stowright.formulas.gravity import GRAVITY_M_S2
from stowright.formulas.handling import (
    Reach,
    Zone,
    lift_filter_kg,
    push_filter_n,
    team_filter_kg,
    zone_at_height,
)
from stowright.formulas.slopes import (
    ROLLING_FRICTION,
    WORST_PARKED_GRADE_PERCENT,
    grade_angle_deg,
    push_uphill_n,
)
from stowright.model.catalogue import Catalogue
from stowright.model.design import BlockDesign, Design, ModuleDesign, OpeningDesign
from stowright.model.finding import Finding
from stowright.model.job import CarryItem
from stowright.model.part import PlacedPart
from stowright.proofs.judge import About, clearance, not_proved, ratio

__all__ = ["people_findings"]

#: What one person carries in, and two together (common practice). [kg]
ONE_CARRIES, TWO_CARRY = 25.0, 50.0
#: How far an arm reaches into a space (common practice). [mm]
ARM = 600.0
#: How much of a thing a hand has to get hold of (common practice). [mm]
GRIP = 100.0
_FILTER = "HSE lifting filter (INDG143 / L23): an assessment is called for above it; not a limit"
_ABOVE_GROUND = "bay.opening.above_ground: height of the sill above the ground"


def people_findings(design: Design, catalogue: Catalogue) -> Iterator[Finding]:
    """Yield findings about carrying in, lifting, pushing and reaching."""
    for block in design.blocks:
        for module in block.modules:
            yield _carry_in(design, catalogue, block, module)
        for opening in block.openings:
            if opening.runner is not None:
                yield _push(opening)
            if opening.carried:
                yield _lift(design, block, opening)
                yield from _reach(design, opening)
    yield from _lift_out(design)


def _fixed_pieces(design: Design, block: str, module: str) -> list[PlacedPart]:
    return [
        piece
        for piece in design.placed
        if piece.block == block and piece.module == module and piece.body == "fixed"
    ]


def _carry_in(
    design: Design, catalogue: Catalogue, block: BlockDesign, module: ModuleDesign
) -> Finding:
    masses = {part.mark: part.mass_kg for part in design.parts}
    pieces = [masses[piece.mark] for piece in _fixed_pieces(design, block.name, module.name)]
    inside = module.doorway is not None and module.doorway.way == "assemble inside"
    heaviest = max(pieces, default=0.0)
    carried = heaviest if inside else sum(pieces)
    people = max(1, math.ceil(carried / ONE_CARRIES - 1.0e-9))
    about = About(
        id=f"CARRY-IN:{block.name}/{module.name}",
        title=f"{block.name}, module {module.name}, can be carried in and out",
        about=block.name,
        family=13,
        source="common practice: 25 kg one person, 50 kg two",
        standing="common practice",
        load_case="carried in pieces" if inside else "carcass without its drawers",
        working=(
            "m = sum of the parts that are carried at once; 25 kg each, two people",
            f"carcass {sum(pieces):.1f} kg, with its drawers {module.mass_kg:.1f} kg",
            f"carried at once {carried:.1f} kg: {people} {'person' if people == 1 else 'people'}",
            f"{carried / min(people, 2):.1f} kg each",
        ),
    )
    panels = f"or carried in as panels and assembled inside: its heaviest part is {heaviest:.0f} kg"
    advice = (*_lighter(catalogue, design, block, module, carried), panels)
    return _handled(about, carried, TWO_CARRY, advice)


def _lighter(
    catalogue: Catalogue, design: Design, block: BlockDesign, module: ModuleDesign, mass: float
) -> Iterator[str]:
    """Yield what was tried and makes a carcass light enough."""
    columns = len({o.column for o in block.openings if o.module == module.name})
    if columns > 1 and mass / columns <= 0.9 * TWO_CARRY:
        yield f'modules = "separate": about {mass / columns:.0f} kg each'
    material = catalogue.material(
        design.part(_fixed_pieces(design, block.name, module.name)[0].mark).material
    )
    for other in sorted(catalogue.materials, key=lambda row: row.density):
        reached = mass * other.density / material.density
        if other.nominal == material.nominal and reached <= 0.9 * TWO_CARRY:
            yield f'carcass = "{other.name}": about {reached:.0f} kg'
            break
    floor = [
        piece
        for piece in _fixed_pieces(design, block.name, module.name)
        if piece.role == "carcass-floor"
    ]
    without = mass - sum(design.part(piece.mark).mass_kg for piece in floor)
    if floor and without <= 0.9 * TWO_CARRY:
        yield f'carcass_kind = "frame": rails instead of its floor, about {without:.0f} kg'


def _sill_above_ground(design: Design, face: str) -> float | None:
    """Return how high the load floor is above the ground at a doorway. [mm]."""
    bay = design.job.bay
    doorway = bay.opening(face) or bay.opening("tail") or next(iter(bay.openings), None)
    if doorway is None or doorway.above_ground is None:
        return None
    return doorway.above_ground - doorway.sill_rise


def _zones(low: float, high: float) -> tuple[Zone, ...]:
    """Return the zones that hands pass from one height to another. [mm]."""
    heights = (low, *(h for h in (400.0, 750.0, 1050.0, 1400.0) if low < h < high), high)
    return tuple(dict.fromkeys(zone_at_height(height_mm=max(0.0, h)) for h in heights))


def _team(mass: float, zones: tuple[Zone, ...], reach: Reach) -> tuple[int, float, str]:
    """Return how many men it takes, their filter together, and the same for women in words."""
    men = lift_filter_kg(zones=zones, reach=reach, person="man")
    women = lift_filter_kg(zones=zones, reach=reach, person="woman")
    count = next((n for n in (1, 2, 3) if mass <= 0.9 * team_filter_kg(filters_kg=(men,) * n)), 3)
    needed = next((n for n in (1, 2, 3) if mass <= team_filter_kg(filters_kg=(women,) * n)), 0)
    said = f"{needed}" if needed else "more than 3"
    together = team_filter_kg(filters_kg=(men,) * count)
    return (
        count,
        together,
        f"filter {men:g} kg for a man, {women:g} kg for a woman ({said} of them)",
    )


def _lift(design: Design, block: BlockDesign, opening: OpeningDesign) -> Finding:
    names = {what for what, _ in opening.carried}
    item = max((i for i in design.job.carry if i.what in names), key=lambda i: (i.mass, i.what))
    reach: Reach = "close" if opening.runner is not None else "arm's length"
    about = About(
        id=f"LIFT:{opening.name}",
        title=f"The heaviest thing in {opening.name} can be lifted out",
        about=opening.name,
        family=13,
        source=_FILTER,
        standing="from memory",
        load_case=f"{item.what}, {reach}",
    )
    ground = _sill_above_ground(design, block.face)
    if ground is None:
        return not_proved(about, needs=(_ABOVE_GROUND,))
    # Hands hold it at half its height and lift it over the side of what it stands in.
    low = ground + opening.usable.z.low + item.size[2] / 2.0
    high = low + (opening.box.height if opening.runner and opening.box else 0.0)
    advice = tuple(_easier(design, item, opening, ground))
    return _lifted(about, item, low=low, high=high, reach=reach, advice=advice)


def _lifted(
    about: About,
    item: CarryItem,
    *,
    low: float,
    high: float,
    reach: Reach,
    advice: tuple[str, ...],
) -> Finding:
    """Judge a lift between two heights by as many people as it takes, three at most."""
    zones = _zones(low, high)
    people, together, said = _team(item.mass, zones, reach)
    about = replace(
        about,
        load_case=f"{item.what}, {reach}, by {people}",
        working=(
            "filter = least of the zones that the hands pass x people x their share",
            f"hands {low:.0f} to {high:.0f} mm above the ground: {', '.join(zones)}",
            said,
            f"{people} together: {together:.1f} kg (two lift 2/3, three 1/2 of their sum)",
        ),
    )
    if item.mass > together:
        needs = (f"a handling assessment: {item.mass:g} kg is above the filter of three",)
        return not_proved(about, needs=needs, advice=advice)
    return _handled(about, item.mass, together, advice)


def _handled(about: About, mass: float, limit: float, advice: tuple[str, ...]) -> Finding:
    """Hold a mass against what people handle; common practice, so no factor. [kg]."""
    return ratio(
        about,
        demand=mass,
        capacity=limit,
        unit="kg",
        basis="common practice",
        factor=1.0,
        advice=advice,
    )


def _easier(
    design: Design, item: CarryItem, opening: OpeningDesign, ground: float
) -> Iterator[str]:
    """Yield other openings in which the thing would be within the filter."""
    for block in design.blocks:
        for other in block.openings:
            if other.name == opening.name or min(item.size) > other.usable.z.size:
                continue
            reach: Reach = "close" if other.runner is not None else "arm's length"
            low = ground + other.usable.z.low + item.size[2] / 2.0
            _, together, _ = _team(item.mass, _zones(low, low), reach)
            if item.mass <= 0.9 * together:
                yield f"carry it in {other.name}: passes at {item.mass / together:.2f}"
    zones = _zones(ground + opening.usable.z.low, ground + opening.usable.z.low)
    here: Reach = "close" if opening.runner is not None else "arm's length"
    _, together, _ = _team(item.mass, zones, here)
    for parts in (2, 3, 4):
        if item.mass / parts <= 0.9 * together:
            yield (
                f"split into {parts} parts of {item.mass / parts:.1f} kg: each passes at "
                f"{item.mass / parts / together:.2f}"
            )
            return


def _push(opening: OpeningDesign) -> Finding:
    angle = grade_angle_deg(grade_percent=WORST_PARKED_GRADE_PERCENT)
    level = opening.gross_kg * GRAVITY_M_S2 * ROLLING_FRICTION
    force = push_uphill_n(mass_kg=opening.gross_kg, angle_deg=angle)
    limit = push_filter_n(person="woman", moving=False)
    men = push_filter_n(person="man", moving=False)
    most = 0.9 * limit / (force / opening.gross_kg) if opening.gross_kg > 0.0 else 0.0
    return ratio(
        About(
            id=f"PUSH:{opening.name}",
            title=f"{opening.name} can be pushed shut and pulled open",
            about=opening.name,
            family=13,
            source="HSE push and pull filter, older edition; statics; rolling 0.01 from memory",
            standing="from memory",
            load_case=f"parked on a {WORST_PARKED_GRADE_PERCENT:g} % slope, uphill",
            working=(
                "F = m g (sin a + mu cos a)",
                (
                    f"{opening.gross_kg:.1f} kg x 9.81 x (sin {angle:.1f} + 0.01 cos {angle:.1f}) "
                    f"= {force:.0f} N; on the level {level:.0f} N"
                ),
                f"to start {limit:.0f} N for a woman, {men:.0f} N for a man",
            ),
        ),
        demand=force,
        capacity=limit,
        unit="N",
        basis="common practice",
        factor=1.0,
        advice=(
            (
                f"up to {math.floor(most)} kg in all: "
                f"take {math.ceil(opening.gross_kg - most)} kg out of it"
            ),
            f"or park level before it is opened: then {level:.0f} N, at {level / limit:.2f}",
        ),
    )


def _reach(design: Design, opening: OpeningDesign) -> Iterator[Finding]:
    """Whether a hand gets to what is used daily in a space that does not slide out."""
    if opening.runner is not None or opening.fill not in {"open", "locker", "through"}:
        return
    names = {what for what, _ in opening.carried}
    daily = [i.what for i in design.job.carry if i.what in names and i.used == "daily"]
    if not daily:
        return
    depth = _deep(design, opening, daily)
    yield clearance(
        About(
            id=f"REACH:{opening.name}",
            title=f"What is used daily in {opening.name} is within reach",
            about=opening.name,
            family=2,
            source="common practice: daily things within 600 mm of the opening",
            standing="common practice",
            load_case=", ".join(daily),
            working=(
                f"needed = to get hold of the farthest of them: {depth:.0f} mm",
                f"the space is {opening.depth:.0f} mm deep, an arm reaches {ARM:.0f} mm",
            ),
        ),
        needed=depth,
        available=ARM,
        reading_error=0.0,
        advice=("a drawer or tray there", "or keep the daily things in a drawer"),
    )


def _deep(design: Design, opening: OpeningDesign, daily: list[str]) -> float:
    """Return how far in the farthest daily thing is got hold of; the whole depth when unknown."""
    whole = opening.depth / 2.0 if opening.fill == "through" else opening.depth
    if design.packed is None:
        return whole
    reaches = [
        thing.at[1] + min(thing.size[1], GRIP)
        for thing in design.packed.things
        if thing.opening == opening.name and thing.what in daily
    ]
    if opening.fill == "through":
        reaches = [min(reach, opening.depth - reach + GRIP) for reach in reaches]
    return max(reaches, default=whole)


def _lift_out(design: Design) -> Iterator[Finding]:
    """Whether one person lifts each lift-out piece of a deck."""
    names = {deck.name for deck in design.job.decks if deck.kind == "lift-out"}
    ground = _sill_above_ground(design, "tail")
    for piece in design.placed:
        if piece.role == "deck" and piece.block in names:
            yield _lift_piece(design, piece, ground)


def _lift_piece(design: Design, piece: PlacedPart, ground: float | None) -> Finding:
    mass = design.part(piece.mark).mass_kg
    about = About(
        id=f"LIFT-OUT:{piece.id}",
        title=f"Lift-out piece {piece.mark} can be lifted",
        about=piece.mark,
        family=13,
        source=_FILTER,
        standing="from memory",
        load_case="lifted out at arm's length by one",
    )
    if ground is None:
        return not_proved(about, needs=(_ABOVE_GROUND,))
    top = ground + piece.point(0.0, 0.0, piece.thickness)[2]
    zone = zone_at_height(height_mm=max(0.0, top))
    limit = lift_filter_kg(zones=(zone,), reach="arm's length", person="man")
    own = lift_filter_kg(zones=(zone,), reach="arm's length", person="woman")
    pieces = math.ceil(mass / (0.9 * limit))
    lines = (
        f"filter = that of the zone at arm's length; top {top:.0f} mm up: {zone}",
        f"filter at arm's length {limit:g} kg for a man, {own:g} kg for a woman",
    )
    advice = (f"in {pieces} pieces of {mass / pieces:.1f} kg",)
    return _handled(replace(about, working=lines), mass, limit, advice)
