"""The book's drawings as SVG: name, title, text."""

from __future__ import annotations

from typing import Literal

from stowright.drawings.isometric import assembled, exploded_set
from stowright.drawings.part_drawing import part_drawing
from stowright.drawings.scene import Scene
from stowright.drawings.svg import to_svg
from stowright.errors import OutOfRangeError
from stowright.model.part import Part
from stowright.model.plan import Plan
from stowright.units import Unit

__all__ = ["book_figures"]

#: Rooms for a part drawing: two on a page where that is large enough, else a page of its own. [mm]
HALF_PAGE, WHOLE_PAGE = (174.0, 118.0), (174.0, 236.0)


def book_figures(
    plan: Plan, *, ink: Literal["colour", "black"], projection: Literal["first", "third"]
) -> dict[str, tuple[str, str]]:
    """Return every drawing of the book by name, with its title.

    Args:
        plan: The plan.
        ink: Colour or plain black.
        projection: First or third angle.
    """
    figures: dict[str, tuple[str, str]] = {}
    design = plan.design

    def add(name: str, title: str, scene: Scene) -> None:
        figures[name] = (title, to_svg(scene, ink=ink))

    cover = assembled(design, open_by=0.35, width_mm=174.0, height_mm=98.0, name="cover")
    add("cover", plan.job.title, cover)
    for n, scene in enumerate(exploded_set(design, width_mm=172.0, height_mm=205.0), start=1):
        add(f"exploded-{n}", f"Exploded, with marks ({n})", scene)
    for part in design.parts:
        add(f"part-{part.mark}", f"{part.mark} {part.name}", _part(part, plan.job.units))
    _ = projection
    return figures


def _part(part: Part, units: Unit) -> Scene:
    for room in (HALF_PAGE, WHOLE_PAGE):
        try:
            return part_drawing(part, units=units, room=room)
        except OutOfRangeError:
            continue
    return part_drawing(part, units=units, room=(WHOLE_PAGE[0], 2.0 * WHOLE_PAGE[1]))
