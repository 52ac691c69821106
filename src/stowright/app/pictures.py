"""Drawings of a plan one by one, for a screen: sheet layouts, figures of steps, parts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stowright.errors import UnknownNameError

if TYPE_CHECKING:
    from stowright.model.plan import Plan

__all__ = ["by_itself", "layout_picture", "part_picture", "step_pictures"]


#: Room for a layout with its list of cuts. [mm]
_TALL = (176.0, 480.0)


def layout_picture(plan: Plan, number: int) -> str:
    """Return a sheet layout as SVG.

    Raises:
        UnknownNameError: If the plan has no layout of that number.
    """
    from stowright.drawings.layout_drawing import layout_drawing
    from stowright.drawings.svg import to_svg

    layout = next((each for each in plan.cutting.layouts if each.number == number), None)
    if layout is None:
        raise UnknownNameError("layout", str(number))
    stock = next(
        use
        for use in plan.cutting.stock
        if (use.sheet, use.material) == (layout.sheet, layout.material)
    )
    releases = {part.mark: part.release for part in plan.design.parts}
    return to_svg(
        layout_drawing(layout, stock=stock, units=plan.job.units, room=_TALL, releases=releases)
    )


def step_pictures(plan: Plan) -> dict[int, str]:
    """Return the figures of the steps as SVG, by the step's number."""
    from stowright.drawings.step_figures import step_scenes
    from stowright.drawings.svg import to_svg

    numbers = {step.figure: step.number for step in plan.making.steps if step.figure}
    scenes = step_scenes(plan.design, plan.making.steps)
    return {numbers[scene.name]: to_svg(scene) for scene in scenes if scene.name in numbers}


def part_picture(plan: Plan, mark: str) -> str:
    """Return the drawing of a part as SVG.

    Raises:
        UnknownNameError: If the plan has no such part.
    """
    from stowright.drawings.part_drawing import part_drawing
    from stowright.drawings.svg import to_svg

    part = next((each for each in plan.design.parts if each.mark == mark), None)
    if part is None:
        raise UnknownNameError("part", mark)
    return to_svg(part_drawing(part, units=plan.job.units))


def by_itself(svg: str) -> str:
    """Return a drawing with its lettering inside it, to be shown as an image of a page."""
    from stowright.drawings.embedded_font import with_own_lettering

    return with_own_lettering(svg)
