"""The book's drawings as SVG: name, title, text."""

from __future__ import annotations

from typing import Literal

from stowright.drawings.part_drawing import part_drawing
from stowright.drawings.svg import to_svg
from stowright.model.plan import Plan

__all__ = ["book_figures"]

#: Room for a part drawing: two fit a page. [mm]
PART_ROOM = (174.0, 112.0)


def book_figures(
    plan: Plan, *, ink: Literal["colour", "black"], projection: Literal["first", "third"]
) -> dict[str, tuple[str, str]]:
    """Return every drawing of the book by name, with its title.

    Args:
        plan: The plan.
        ink: Colour or plain black.
        projection: First or third angle.
    """
    units = plan.job.units
    figures: dict[str, tuple[str, str]] = {}
    for part in plan.design.parts:
        scene = part_drawing(part, units=units, room=PART_ROOM)
        figures[f"part-{part.mark}"] = (f"{part.mark} {part.name}", to_svg(scene, ink=ink))
    _ = projection
    return figures
