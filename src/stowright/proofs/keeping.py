"""What stays loose, what is dangerous to carry, what must stay within reach."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.proofs.judge import About, clearance, complete, not_proved

__all__ = ["keeping_findings"]

_ASKED = {
    "gas": "a sealed locker vented to the outside at its lowest point, away from heat",
    "fuel": "an approved can, vented outside, away from living space and sparks",
    "battery": "ventilation, a fuse at the terminal, a fixed hold",
    "aerosol": "away from the sun and heat",
}


def keeping_findings(design: Design) -> Iterator[Finding]:
    """Yield findings about loose things, heights of contents, hazards, people, and access."""
    yield from _loose(design)
    yield from _heights(design)
    yield from _hazards(design)
    yield from _people(design)
    yield from _access(design)


def _loose(design: Design) -> Iterator[Finding]:
    for thing in design.loose:
        about = About(
            id=f"LOOSE:{thing.what}",
            title=f"{thing.what} in {thing.where} has a positive hold",
            about=thing.where,
            family=9,
            source="common practice: everything that can move is held",
            standing="common practice",
            load_case="on the road",
            working=(f"held by {thing.held_by or 'nothing'}", f"{thing.mass_kg:.1f} kg"),
        )
        missing = () if thing.held_by else (f"nothing holds {thing.what}",)
        yield complete(
            about,
            missing=missing,
            advice=("a strap or net to an anchor, or a drawer it fits into",),
        )


def _heights(design: Design) -> Iterator[Finding]:
    items = {item.what: item for item in design.job.carry}
    for block in design.blocks:
        for opening in block.openings:
            held = [items[what] for what, _ in opening.carried if what in items]
            if not held:
                continue
            tallest = max(
                held, key=lambda i: _height(i.size, upright=i.keep_upright) + i.clear_above
            )
            needed = _height(tallest.size, upright=tallest.keep_upright) + tallest.clear_above
            room = opening.clear.z.high - opening.usable.z.low
            yield clearance(
                About(
                    id=f"CONTENTS-HEIGHT:{opening.name}",
                    title=f"What lives in {opening.name} fits under what is above it",
                    about=opening.name,
                    family=2,
                    source="geometry",
                    standing="published",
                    load_case=f"{tallest.what}, with {tallest.clear_above:g} mm above it",
                    working=(f"needs {needed:.0f} mm, there are {room:.0f} mm",),
                ),
                needed=needed,
                available=room,
                reading_error=design.job.bay.reading_error,
                advice=(f"an opening {needed - room:.0f} mm higher, or another place for it",),
            )


def _height(size: tuple[float, float, float], *, upright: bool) -> float:
    return size[2] if upright else min(size)


def _hazards(design: Design) -> Iterator[Finding]:
    for item in design.job.carry:
        if item.hazard:
            yield not_proved(
                About(
                    id=f"HAZARD:{item.what}",
                    title=f"{item.what} ({item.hazard}) in a closed box",
                    about=item.goes_in or item.what,
                    family=13,
                    source="usual caution; the local code governs",
                    standing="common practice",
                    load_case="stowed",
                ),
                needs=("what the local code asks for",),
                advice=(_ASKED[item.hazard],),
            )


def _people(design: Design) -> Iterator[Finding]:
    space = design.job.bay.people_space
    if space is not None and space.barrier == "none":
        yield not_proved(
            About(
                id="BARRIER",
                title="People share the space with the load",
                about="vehicle",
                family=9,
                source="usual caution: restraint figures are driving level, not a crash",
                standing="common practice",
                load_case="a crash; no calculation here can show it",
            ),
            needs=("a rated barrier between load and people",),
            advice=("fit a rated barrier or bulkhead before anybody rides with the load",),
        )


def _access(design: Design) -> Iterator[Finding]:
    for access in design.job.bay.access:
        over = [
            block.name
            for block in design.blocks
            if min(block.box.x.high, access.x[1]) > max(block.box.x.low, access.x[0])
            and min(block.box.y.high, access.y[1]) > max(block.box.y.low, access.y[0])
        ]
        yield complete(
            About(
                id=f"ACCESS:{access.what}",
                title=f"{access.what} can be reached",
                about=access.what,
                family=15,
                source="common practice: jack, spare, hatches and anchorages stay reachable",
                standing="common practice",
                load_case="unit in place",
            ),
            missing=tuple(f"{name} stands over it" for name in over if not access.lift_out),
            advice=("leave a hatch over it, or make that module lift out",),
        )
