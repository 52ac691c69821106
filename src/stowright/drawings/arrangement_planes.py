"""The cutting planes as a plan shows them, and the runners as a cross section shows them."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.drawings.arrangement import Arrangement, dot
from stowright.drawings.scene import Item, Line, Region, Symbol
from stowright.drawings.space import Space
from stowright.model.geometry import Point2

__all__ = ["cutting_planes", "runner_sections"]

#: The stroke that marks a plane's end; the line between is left to the eye. [mm]
_STROKE = 4.0
_REACHES = (5.0, 7.0, 9.0, *(float(r) for r in range(11, 200, 2)))


def cutting_planes(arrangement: Arrangement, space: Space) -> list[Item]:
    """Return the ends of both sections' planes on the plan, far enough out to be legible."""
    s = arrangement.scale
    across, inward, _ = arrangement.block.axes
    x, y = arrangement.cut_at * s, arrangement.cross_at * s
    front, back = (end * s for end in arrangement.span(inward))
    left, right = (end * s for end in arrangement.span(across))
    ends: tuple[tuple[str, Point2, Point2, float], ...] = (
        ("A", (x, back), (0.0, 1.0), 90.0),
        ("A", (x, front), (0.0, -1.0), 90.0),
        ("B", (left, y), (-1.0, 0.0), 0.0),
        ("B", (right, y), (1.0, 0.0), 0.0),
    )
    items: list[Item] = []
    for letter, edge, out, turn in ends:
        trial: tuple[Item, ...] = ()
        for reach in _REACHES:
            far = (edge[0] + reach * out[0], edge[1] + reach * out[1])
            near = (far[0] - _STROKE * out[0], far[1] - _STROKE * out[1])
            trial = (
                Line(start=near, end=far, pen="cutting"),
                Symbol(kind="section-arrow", at=far, size=4.0, turn=turn, text=letter),
            )
            if space.free_for(trial):
                break
        space.take(trial)
        items += trial
    return items


def runner_sections(arrangement: Arrangement) -> Iterator[Item]:
    """Yield each runner of the block as the rectangle that a cross section cuts."""
    across, _, up = arrangement.block.axes
    s = arrangement.scale
    for opening in arrangement.block.openings:
        fit = opening.runner
        if fit is None:
            continue
        line = dot(opening.at, up) + fit.line
        low, high = (line - fit.runner.section / 2.0) * s, (line + fit.runner.section / 2.0) * s
        left = dot(opening.at, across)
        right = left + opening.width
        for start, end in ((left, left + fit.side_space), (right - fit.side_space, right)):
            corners = ((start * s, low), (end * s, low), (end * s, high), (start * s, high))
            yield Region(outer=corners, fill="metal", pen="edge")
