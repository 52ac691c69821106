"""Readings taken while building, as the openings and gaps that they speak of."""

from __future__ import annotations

from stowright.model.design import BlockDesign, Design, OpeningDesign
from stowright.model.job import Reading
from stowright.model.refit import AsBuilt

__all__ = ["PLACES", "as_built", "latest", "three", "where_least"]

type Three = tuple[float, float, float]

PLACES = ("face", "middle", "back")


def three(values: tuple[float, ...]) -> Three:
    """Return values at face, middle and back: one stands for all, two are face and back."""
    if len(values) == 1:
        return (values[0],) * 3
    if len(values) == 2:
        return (values[0], (values[0] + values[1]) / 2.0, values[1])
    return (values[0], values[1], values[2])


def where_least(values: Three) -> str:
    """Return where the least of three stands, in words that follow "reads 541.5"."""
    least = min(values)
    places = [place for place, value in zip(PLACES, values, strict=True) if value == least]
    return "" if len(places) == 3 else f" at the {' and '.join(places)}"


def latest(
    readings: tuple[Reading, ...], what: str, *, opening: str = "", block: str = ""
) -> tuple[float, ...] | None:
    """Return what was read last of something; None when nothing was."""
    found = None
    for row in readings:
        same = row.opening == opening if opening else row.block == block and not row.opening
        if same and row.what == what and row.values:
            found = row.values
    return found


def as_built(design: Design, block: BlockDesign, opening: OpeningDesign) -> AsBuilt | None:
    """Return an opening as the job's readings have it; None when it has none."""
    rows = design.job.readings
    if not any(row.opening == opening.name for row in rows):
        return None
    name = opening.name
    width = latest(rows, "width", opening=name)
    between = latest(rows, "between-runners", opening=name)
    thick = latest(rows, "runner-thickness", opening=name)
    box = latest(rows, "box-width", opening=name)
    runner = max(thick) if thick else None
    room = three(width) if width else None
    face = room[0] if room else None
    if between and opening.runner is not None:
        closed = runner if runner is not None else opening.runner.runner.thickness
        both = 2.0 * (closed + opening.build.lining.carcass)
        front, middle, back = three(between)
        room = (front + both, middle + both, back + both)
    return AsBuilt(
        opening=name,
        room=room,
        box=three(box) if box else None,
        face=face,
        runner=runner,
        rise=_rise(latest(rows, "height", opening=name), opening.height),
        lean=_lean(latest(rows, "diagonals", opening=name), opening.width),
        box_run_out=_lean(
            latest(rows, "box-diagonals", opening=name),
            opening.box.width if opening.box else block.box.y.size,
        ),
    )


def _rise(heights: tuple[float, ...] | None, planned: float) -> tuple[float, float]:
    """Return how much higher an opening reads than planned: at the face, and at its least. [mm]."""
    if not heights:
        return (0.0, 0.0)
    return (round(heights[0] - planned, 6), round(min(heights) - planned, 6))


def _lean(diagonals: tuple[float, ...] | None, width: float) -> float:
    """Return how far one end of a frame stands sideways of the other: (d1² - d2²) / 4 W. [mm]."""
    if not diagonals or len(diagonals) < 2:
        return 0.0
    one, two = diagonals[0], diagonals[1]
    return abs((one - two) * (one + two)) / (4.0 * width)
