"""Wings and infills, as the gaps beside the installed unit read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from stowright.explore.as_built import latest, three
from stowright.model.design import BlockDesign, Design, WingDesign
from stowright.model.geometry import Point2
from stowright.model.refit import FrozenPart, WingRefit
from stowright.units import Unit, format_length

__all__ = ["WingReadings", "wing_refits"]

type Side = Literal["left", "right"]

_GAPS: tuple[tuple[Side, str], ...] = (("left", "gap-left"), ("right", "gap-right"))


@dataclass(frozen=True, slots=True, kw_only=True)
class WingReadings:
    """What gaps to the walls change."""

    rows: tuple[WingRefit, ...]
    reasons: tuple[str, ...]
    open: tuple[str, ...]


def wing_refits(design: Design, cut: Mapping[str, FrozenPart]) -> WingReadings:
    """Return how the outer edges of wings move, for each gap that was read.

    A gap is from the side of the carcasses to the wall at the height of the wing, at face, middle
    and back of the block.
    """
    rows: list[WingRefit] = []
    reasons: list[str] = []
    open_: list[str] = []
    for block in design.blocks:
        for side, what in _GAPS:
            values = latest(design.job.readings, what, block=block.name)
            if not values:
                continue
            wing = next((w for w in design.wings if (w.block, w.side) == (block.name, side)), None)
            if wing is None or block.face != "tail":
                open_.append(f"{block.name}: {what} is kept; no wing on that side waits for it")
                continue
            row = _row(block, wing, values, design.job.units)
            if row is None:
                continue
            if f"{block.name}/wing-{side}" in cut:
                continue
            rows.append(row)
            reasons.append(f"{block.name} wing, {side}: {row.why}")
    return WingReadings(rows=tuple(rows), reasons=tuple(reasons), open=tuple(open_))


def _row(
    block: BlockDesign, wing: WingDesign, values: tuple[float, ...], units: Unit
) -> WingRefit | None:
    side = block.box.y.high if wing.side == "left" else -block.box.y.low
    ends = (block.box.x.low, block.box.x.middle, block.box.x.high)
    read = three(values)
    shifts = tuple(
        (x, round(gap - (_at(wing.offsets, x) + wing.scribe_gap - side), 6))
        for x, gap in zip(ends, read, strict=True)
    )
    if all(abs(by) < 1.0e-6 for _, by in shifts):
        return None
    said = ", ".join(_shift(by, units) for _, by in shifts)
    told = " / ".join(format_length(gap, units) for gap in read)
    unit = "" if units == "mm" else " in"
    return WingRefit(
        block=wing.block,
        side=wing.side,
        shifts=shifts,
        why=f"outer edge {said} {units} at face, middle and back: gap to the wall reads "
        f"{told}{unit}",
    )


def _shift(by: float, units: Unit) -> str:
    """Return how far an edge moves, with its sign."""
    if units == "mm":
        return f"{by:+.1f}"
    return f"{'-' if by < 0.0 else '+'}{format_length(abs(by), units)}"


def _at(offsets: tuple[Point2, ...], x: float) -> float:
    """Return an outline's offset at a place: linear between its points. [mm]."""
    before = max((p for p in offsets if p[0] <= x), key=lambda p: p[0], default=offsets[0])
    after = min((p for p in offsets if p[0] >= x), key=lambda p: p[0], default=offsets[-1])
    if after[0] <= before[0]:
        return before[1]
    return before[1] + (after[1] - before[1]) * (x - before[0]) / (after[0] - before[0])
