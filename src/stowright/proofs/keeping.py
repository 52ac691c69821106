"""What is dangerous to carry, whether contents fit in height, what must stay within reach."""

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
    """Yield findings about heights of contents, hazards and access."""
    yield from _heights(design)
    yield from _hazards(design)
    yield from _access(design)


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
