"""What has to go in: it has a place, it fits under what is above it, its lid opens."""

from __future__ import annotations

import math
from collections.abc import Iterator

from stowright.design.runner_choice import allowed_kg, rating_factors
from stowright.model.catalogue import Catalogue
from stowright.model.design import Design, OpeningDesign
from stowright.model.finding import Finding
from stowright.model.job import CarryItem
from stowright.proofs.axle_cases import placed_number
from stowright.proofs.judge import About, clearance, complete, ratio, weakest

__all__ = ["contents_findings", "high_enough", "lacks_shut", "opens_slid_out", "tallest_in"]


def contents_findings(design: Design, catalogue: Catalogue) -> Iterator[Finding]:
    """Yield findings about places, heights and masses of what is to be carried."""
    if design.job.carry:
        yield _stowed(design)
    for block in design.blocks:
        for opening in block.openings:
            yield from _height(design, opening)
            yield from _asked_of_runner(design, catalogue, opening)


def _lacking(design: Design, opening: OpeningDesign) -> float:
    """Return the mass that is to live in an opening and found no place there. [kg]."""
    placed = dict(opening.carried)
    return sum(
        item.mass * max(0, item.quantity - placed.get(item.what, 0))
        for item in design.job.carry
        if item.goes_in == opening.name
    )


def _asked_of_runner(
    design: Design, catalogue: Catalogue, opening: OpeningDesign
) -> Iterator[Finding]:
    """Whether a drawer's runners would carry all that is to live in it."""
    fit, lacking = opening.runner, _lacking(design, opening)
    if fit is None or not lacking:
        return
    width = opening.box.width if opening.box else opening.width
    table = opening.build.runner_factors
    factors = rating_factors(fit.runner, fit.size, box_width=width, table=table)
    allowed = allowed_kg(fit.runner, fit.size, box_width=width, table=table)
    asked = opening.gross_kg + lacking
    said = " x ".join(f"{name} {value:.3g}" for name, value in factors.items())
    room = 0.9 * allowed - (opening.gross_kg - opening.contents_kg)
    yield ratio(
        About(
            id=f"RUNNER-ASKED:{opening.name}",
            title=f"Runners of {opening.name} would carry all that is to live in it",
            about=opening.name,
            family=4,
            source=f"{fit.runner.origin.source}; factors: a runner maker's notes, from memory",
            standing=weakest(fit.runner.origin.standing, "from memory"),
            load_case="on the road, with everything that names it as its place",
            working=(
                "allowed = label x factors; gross = moving parts + contents",
                f"label {fit.size.rating_kg:g} kg per pair x {said} = {allowed:.1f} kg",
                (
                    f"placed {opening.gross_kg:.1f} kg gross + {lacking:.1f} kg without a place "
                    f"= {asked:.1f} kg"
                ),
            ),
        ),
        demand=asked,
        capacity=allowed,
        unit="kg",
        basis="allowable",
        factor=1.0,
        advice=(
            *_stronger(catalogue, opening, width, asked),
            (
                f"{max(0, math.floor(room))} kg of contents may stay, "
                f"{math.ceil(asked - 0.9 * allowed)} kg may not"
            ),
        ),
    )


def _stronger(
    catalogue: Catalogue, opening: OpeningDesign, width: float, asked: float
) -> tuple[str, ...]:
    """Return the weakest runner of the same length and room that carries it, if there is one."""
    fit, table = opening.runner, opening.build.runner_factors
    if fit is None:
        return ()
    found = [
        (allowed_kg(runner, size, box_width=width, table=table), runner.name)
        for runner in catalogue.runners
        for size in runner.sizes
        if size.length == fit.size.length
        and runner.side_space.aim == fit.runner.side_space.aim
        and asked <= 0.9 * allowed_kg(runner, size, box_width=width, table=table)
    ]
    return tuple(f'runner = "{name}": {kg:.0f} kg allowed' for kg, name in sorted(found)[:1])


def _stowed(design: Design) -> Finding:
    count, wanted = placed_number(design), dict[str, int]()
    for item in design.job.carry:
        wanted[item.what] = wanted.get(item.what, 0) + item.quantity
    first = {item.what: item for item in reversed(design.job.carry)}
    lacking = [
        f"{_nowhere(first[what])} {number - count.get(what, 0)} x {what} "
        f"({' x '.join(f'{s:g}' for s in first[what].size)} mm, {first[what].mass:g} kg)"
        for what, number in wanted.items()
        if count.get(what, 0) < number
    ]
    why = [line for line in design.warnings if lacking and line.startswith("carry: ")]
    about = About(
        id="STOWED:carry",
        title="Everything on the carry list has a place",
        about="carry",
        family=2,
        source="geometry: into the inside of an opening, turned where it may be, or by itself on a "
        "deck",
        standing="published",
        load_case="stowed",
        working=tuple(f"{what}: {count.get(what, 0)} of {n} placed" for what, n in wanted.items()),
    )
    advice = (
        "a wider, deeper or higher opening for it, or runners that carry more",
        "or leave it out of the list",
    )
    return complete(about, missing=(*lacking, *why), advice=advice)


def _nowhere(item: CarryItem) -> str:
    return f"{item.on} has no free place for" if item.on else "no opening takes"


def _stands(item: CarryItem) -> float:
    return item.size[2] if item.stays_upright else min(item.size)


def tallest_in(design: Design, opening: OpeningDesign) -> CarryItem | None:
    """Return what wants most height of all that lives in an opening, None where nothing does."""
    names = {what for what, _ in opening.carried} | {
        item.what for item in design.job.carry if item.goes_in == opening.name
    }
    held = [item for item in design.job.carry if item.what in names]
    return max(held, key=lambda item: (_stands(item) + item.clear_above, item.what), default=None)


def opens_slid_out(opening: OpeningDesign, item: CarryItem) -> bool:
    """Tell whether a thing with a lid comes out from under what is above it."""
    travel = opening.runner.size.travel if opening.runner else 0.0
    return item.clear_above > 0.0 and travel >= min(item.size[:2])


def lacks_shut(opening: OpeningDesign, item: CarryItem) -> float:
    """Return what an opening lacks for a thing to stand in it, its lid shut. [mm]."""
    return max(0.0, _stands(item) - _room(opening))


def _height(design: Design, opening: OpeningDesign) -> Iterator[Finding]:
    tallest = tallest_in(design, opening)
    if tallest is None:
        return
    tall = _stands(tallest)
    needed = tall + tallest.clear_above
    room = _room(opening)
    yield clearance(
        About(
            id=f"CONTENTS-HEIGHT:{opening.name}",
            title=f"What lives in {opening.name} fits under what is above it",
            about=opening.name,
            family=2,
            source="geometry",
            standing="published",
            load_case=f"{tallest.what}, with {tallest.clear_above:g} mm above it",
            working=(
                "needed = how high it stands + what it wants above it",
                (
                    f"{tall:g} + {tallest.clear_above:g} = {needed:g}; there are {room:g} mm, the "
                    "gap over it kept free"
                ),
                *_what_is_above(design, opening),
            ),
        ),
        needed=needed,
        available=room,
        reading_error=0.0,  # inside the unit, which is cut to size
        advice=tuple(_other_rooms(design, opening, tallest, needed)),
    )


def _what_is_above(design: Design, opening: OpeningDesign) -> Iterator[str]:
    names = {part.mark: part.name for part in design.parts}
    for placed in design.placed:
        if placed.id == opening.bounds[3]:
            yield f"above it: {names[placed.mark]}"
    roof = _under_roof(design, opening)
    if roof is not None:
        yield f"{_roof(design)}: {roof:g} mm above where it stands, a reading error taken off"


def _roof(design: Design) -> str:
    return "roof" if design.job.bay.kind in {"van", "wagon"} else "canopy"


def _under_roof(design: Design, opening: OpeningDesign) -> float | None:
    """Return the height from where things stand to the roof or canopy; None under the sky. [mm]."""
    bay = design.job.bay
    if bay.clear_height is None:
        return None
    return round(bay.clear_height - bay.reading_error - opening.usable.z.low, 3)


def _room(opening: OpeningDesign) -> float:
    """Return the height that is filled with things: what is above keeps its gap free. [mm]."""
    return opening.usable.z.size


def _other_rooms(
    design: Design, opening: OpeningDesign, item: CarryItem, needed: float
) -> Iterator[str]:
    room = _room(opening)
    lacking = math.ceil(needed - room)
    roof = _under_roof(design, opening)
    if roof is None or needed <= roof:
        yield f"an opening {lacking} mm higher, or another place for it"
    else:
        what = f"the lid of {item.what}" if item.clear_above > 0.0 else item.what
        yield (
            f"in {opening.name} {what} would hit the {_roof(design)}: {roof:g} mm over where it "
            f"stands, {needed:g} mm wanted"
        )
        yield _lower(opening, needed, roof)
    yield from (f"it is high enough in {name}" for name in high_enough(design, opening, needed))
    if opens_slid_out(opening, item) and not lacks_shut(opening, item):
        yield "it stands under it shut: clear_above = 0 if its lid is only opened when slid out"


def _lower(opening: OpeningDesign, needed: float, roof: float) -> str:
    """Say how much lower a thing has to stand, or that the load floor is not low enough."""
    whole = roof + opening.usable.z.low
    if needed > whole:
        return (
            f"the bay is {whole:g} mm high from its floor, a reading error taken off: no lower "
            "place helps, only a lower thing or one that is opened outside"
        )
    return f"stand it {math.ceil(needed - roof)} mm lower in a higher opening, or elsewhere"


def high_enough(design: Design, opening: OpeningDesign, needed: float) -> tuple[str, ...]:
    """Return the openings that are high enough."""
    return tuple(
        other.name
        for block in design.blocks
        for other in block.openings
        if other.name != opening.name and _room(other) >= needed
    )
