"""The book's drawings as SVG: name, title, text."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from stowright.drawings.arrangement import ViewName
from stowright.drawings.general_arrangement import arrangement_figure
from stowright.drawings.isometric import assembled, exploded_set
from stowright.drawings.layout_drawing import layout_drawing
from stowright.drawings.part_drawing import part_drawing
from stowright.drawings.scene import Scene
from stowright.drawings.set_out import set_out_strip
from stowright.drawings.step_figures import step_scenes
from stowright.drawings.svg import to_svg
from stowright.errors import OutOfRangeError
from stowright.model.layout import Layout, StockUse
from stowright.model.part import Part
from stowright.model.plan import Plan
from stowright.units import Unit

__all__ = ["book_figures"]

#: Rooms for a part drawing: two on a page where that is large enough, else a page of its own. [mm]
HALF_PAGE, WHOLE_PAGE = (174.0, 118.0), (174.0, 228.0)


def book_figures(
    plan: Plan, *, ink: Literal["colour", "black"], projection: Literal["first", "third"]
) -> dict[str, tuple[str, str]]:
    """Return every drawing of the book by name, with its title.

    Args:
        plan: The plan.
        ink: Colour or plain black.
        projection: First or third angle, for drawings of several views.
    """
    scenes = {
        "cover": (
            plan.job.title,
            assembled(plan.design, open_by=0.35, width_mm=174.0, height_mm=98.0, name="cover"),
        ),
        **_views(plan, projection),
        **_exploded(plan),
        **_layouts(plan),
        **_rods(plan),
        **_steps(plan),
        **{
            f"part-{part.mark}": (f"{part.mark} {part.name}", _part(part, plan.job.units))
            for part in plan.design.parts
        },
    }
    return {name: (title, to_svg(scene, ink=ink)) for name, (title, scene) in scenes.items()}


def _views(plan: Plan, projection: Literal["first", "third"]) -> dict[str, tuple[str, Scene]]:
    """Return plan, elevation and section, a figure each, for each block's face.

    First angle shows the elevation before the plan, third angle the plan first.
    """
    order: tuple[ViewName, ...] = ("elevation", "plan", "section")
    if projection == "third":
        order = ("plan", "elevation", "section")
    scenes: list[tuple[str, Scene]] = []
    for n, block in enumerate(plan.design.blocks):
        for view in order:
            if view == "plan" and n:
                continue
            scene = arrangement_figure(
                plan.design, view, units=plan.job.units, block=block.name, room=(174.0, 205.0)
            )
            scenes.append((f"{view.capitalize()}, {block.name}", scene))
    return {f"view-{n}": pair for n, pair in enumerate(scenes, start=1)}


def _exploded(plan: Plan) -> dict[str, tuple[str, Scene]]:
    scenes = exploded_set(plan.design, width_mm=172.0, height_mm=205.0)
    return {
        f"exploded-{n}": (f"Exploded, with marks ({n} of {len(scenes)})", scene)
        for n, scene in enumerate(scenes, start=1)
    }


def _layouts(plan: Plan) -> dict[str, tuple[str, Scene]]:
    stock = {use.sheet: use for use in plan.cutting.stock}
    releases = {part.mark: part.release for part in plan.design.parts}
    return {
        f"layout-{layout.number}": (
            f"Sheet layout {layout.number}",
            _layout(layout, stock[layout.sheet], plan.job.units, releases),
        )
        for layout in plan.cutting.layouts
    }


def _rods(plan: Plan) -> dict[str, tuple[str, Scene]]:
    """Return a set-out figure of the first opening of every kind and size."""
    seen: set[tuple[object, ...]] = set()
    found: dict[str, tuple[str, Scene]] = {}
    for block in plan.design.blocks:
        for opening in block.openings:
            alike = (opening.fill, opening.width, opening.height, opening.depth, opening.box)
            if opening.runner is None or alike in seen:
                continue
            seen.add(alike)
            scene = set_out_strip(
                plan.design, opening.name, units=plan.job.units, room=(174.0, 205.0)
            )
            found[f"rod-{opening.name}"] = (f"Rods of {opening.name}", scene)
    return {f"rod-{n}": value for n, value in enumerate(found.values(), start=1)}


def _layout(layout: Layout, stock: StockUse, units: Unit, releases: Mapping[str, str]) -> Scene:
    """Return a layout's drawing on a page of its own, taller only where its cuts are many."""
    tall = WHOLE_PAGE
    try:
        return layout_drawing(layout, stock=stock, units=units, room=tall, releases=releases)
    except OutOfRangeError:
        tall = (WHOLE_PAGE[0], 2.0 * WHOLE_PAGE[1])
    return layout_drawing(layout, stock=stock, units=units, room=tall, releases=releases)


def _steps(plan: Plan) -> dict[str, tuple[str, Scene]]:
    named = [step for step in plan.making.steps if step.figure]
    scenes = step_scenes(plan.design, plan.making.steps)
    return {step.figure: (step.title, scene) for step, scene in zip(named, scenes, strict=False)}


def _part(part: Part, units: Unit) -> Scene:
    """Return a part's drawing: on half a page where that keeps it legible, else on a whole one."""
    for room, smallest in ((HALF_PAGE, 0.1), (WHOLE_PAGE, 0.05)):
        try:
            return part_drawing(part, units=units, room=room, smallest=smallest)
        except OutOfRangeError:
            continue
    return part_drawing(part, units=units, room=(WHOLE_PAGE[0], 2.0 * WHOLE_PAGE[1]))
