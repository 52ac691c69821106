"""Things that burn, leak or explode, and people in the same space: at best "not proved".

No calculation here shows that such a thing is carried safely. The finding says what is usually
asked, so that nobody takes a plan without a red line for a permission; the local code governs and
licensed practice does the work.
"""

from __future__ import annotations

from collections.abc import Iterator

from stowright.model.design import Design, OpeningDesign
from stowright.model.finding import Finding
from stowright.model.job import CarryItem
from stowright.proofs.judge import About, not_proved

__all__ = ["danger_findings"]

_ASKED: dict[str, tuple[str, ...]] = {
    "gas": (
        "vent: vented to the outside at its lowest point, never into the vehicle",
        "seal it from living space: a gas-tight locker that opens to the outside only",
        "away from heat, sparks and switches; cylinder upright and held; valve shut on the road",
        "pipe and appliance work by a licensed gas fitter",
    ),
    "fuel": (
        "vent: an approved can, its locker vented to the outside",
        "seal it from living space: never in a space where people ride or sleep",
        "away from heat, sparks, the exhaust and the sun; filled outside the vehicle",
    ),
    "battery": (
        "vent: hydrogen from lead-acid cells to the outside; lithium as its maker says",
        "seal it from living space where it can gas",
        "away from heat and metal tools; a fuse at the terminal, terminals covered, a fixed hold",
        "wiring by a licensed electrician where the local code asks for one",
    ),
    "aerosol": (
        "vent: not in a sealed box where a leak can gather",
        "seal it from living space, or carry what one day needs",
        "away from heat: below 50 C as its label says; a parked vehicle gets hotter",
    ),
}
_BOXED = {"drawer", "locker", "blank"}


def danger_findings(design: Design) -> Iterator[Finding]:
    """Yield one finding per dangerous thing, and one more where people share its space."""
    homes = {
        what: opening
        for block in design.blocks
        for opening in block.openings
        for what, _ in opening.carried
    }
    for item in design.job.carry:
        if item.hazard:
            home = homes.get(item.what)
            yield _boxed(design, item, home)
            yield from _with_people(design, item)


def _boxed(design: Design, item: CarryItem, home: OpeningDesign | None) -> Finding:
    closed = home is not None and home.fill in _BOXED
    where = f"in {home.name}, a {home.fill}" if home else "nowhere that is planned"
    if item.on:
        where = f"on {item.on}, in the open space of the bay"
    vent = _vent(design, home)
    return not_proved(
        About(
            id=f"HAZARD:{item.what}",
            title=f"{item.what} ({item.hazard}) in a closed box"
            if closed or (home is None and not item.on)
            else f"{item.what} ({item.hazard}) in the vehicle",
            about=item.goes_in or item.on or (home.name if home else item.what),
            family=13,
            source="usual caution; the local code governs",
            standing="common practice",
            load_case="stowed, on the road and parked in the sun",
            working=(f"it stands {where}", f"vent asked for there: {vent}"),
        ),
        needs=(
            "what the local code asks for: vent, seal from living space, distance from heat",
            "somebody licensed who has looked at it",
        ),
        advice=_ASKED[item.hazard],
    )


def _vent(design: Design, home: OpeningDesign | None) -> str:
    if home is None:
        return "none"
    asked = next(
        (
            fill.vent
            for block in design.job.blocks
            for column in block.columns
            for fill in column.stack
            if fill.name == home.name
        ),
        0.0,
    )
    if asked:
        return f"{asked:g} cm2, which by itself proves nothing"
    return "none" if home.fill in _BOXED else "the space is open, which is no vent to the outside"


def _with_people(design: Design, item: CarryItem) -> Iterator[Finding]:
    space = design.job.bay.people_space
    shared = space is not None and space.barrier != "bulkhead"
    sleepers = [deck.name for deck in design.job.decks if deck.sleeper > 0.0]
    if not shared and not sleepers:
        return
    who = "people ride in the same space" if shared else f"somebody sleeps on {sleepers[0]}"
    yield not_proved(
        About(
            id=f"HAZARD-PEOPLE:{item.what}",
            title=f"{item.what} ({item.hazard}) where people ride or sleep",
            about=item.what,
            family=13,
            source="usual caution; the local code governs",
            standing="common practice",
            load_case=who,
        ),
        needs=("a gas-tight wall between it and the people, or another place for it",),
        advice=(
            "carry it outside the space where people ride or sleep",
            "take it out before anybody sleeps in the vehicle; carry a gas alarm where gas is used",
        ),
    )
