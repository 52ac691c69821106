"""What has to go in: it has a place, it fits under what is above it, its lid opens."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.model.design import Design, OpeningDesign
from stowright.model.finding import Finding
from stowright.model.job import CarryItem
from stowright.proofs.judge import About, clearance, complete

__all__ = ["contents_findings"]


def contents_findings(design: Design) -> Iterator[Finding]:
    """Yield findings about places and heights of what is carried."""
    if design.job.carry:
        yield _stowed(design)
    for block in design.blocks:
        for opening in block.openings:
            yield from _height(design, opening)


def _stowed(design: Design) -> Finding:
    count: dict[str, int] = {}
    for block in design.blocks:
        for opening in block.openings:
            for what, number in opening.carried:
                count[what] = count.get(what, 0) + number
    lacking = [
        f"{item.quantity - count.get(item.what, 0)} x {item.what} "
        f"({' x '.join(f'{s:g}' for s in item.size)} mm, {item.mass:g} kg)"
        for item in design.job.carry
        if count.get(item.what, 0) < item.quantity
    ]
    return complete(
        About(
            id="STOWED:carry",
            title="Everything on the carry list has a place",
            about="carry",
            family=2,
            source="geometry: it goes into the inside of an opening, turned where it may be",
            standing="published",
            load_case="stowed",
            working=tuple(
                f"{item.what}: {count.get(item.what, 0)} of {item.quantity} placed"
                for item in design.job.carry
            ),
        ),
        missing=tuple(f"no opening takes {line}" for line in lacking),
        advice=(
            "a wider, deeper or higher opening for it, or runners that carry more",
            "or leave it out of the list",
        ),
    )


def _stands(item: CarryItem) -> float:
    return item.size[2] if item.keep_upright else min(item.size)


def _height(design: Design, opening: OpeningDesign) -> Iterator[Finding]:
    names = {what for what, _ in opening.carried} | {
        item.what for item in design.job.carry if item.goes_in == opening.name
    }
    held = [item for item in design.job.carry if item.what in names]
    if not held:
        return
    tallest = max(held, key=lambda item: (_stands(item) + item.clear_above, item.what))
    needed = _stands(tallest) + tallest.clear_above
    room = opening.clear.z.high - opening.usable.z.low
    advice = [f"an opening {needed - room:.0f} mm higher, or another place for it"]
    others = [
        other.name
        for block in design.blocks
        for other in block.openings
        if other.name != opening.name and other.clear.z.high - other.usable.z.low >= needed
    ]
    advice += [f"it fits in {name}" for name in others]
    slides = opening.runner is not None and _stands(tallest) <= room
    if (
        slides
        and opening.runner is not None
        and opening.runner.size.travel >= min(tallest.size[:2])
    ):
        advice.append(
            "it stands under it shut: clear_above = 0 if its lid is only opened when slid out"
        )
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
                (
                    f"{_stands(tallest):.0f} + {tallest.clear_above:.0f} = {needed:.0f} mm needed, "
                    f"{room:.0f} mm from its floor to what is above"
                ),
            ),
        ),
        needed=needed,
        available=room,
        reading_error=design.job.bay.reading_error,
        advice=tuple(advice),
    )
