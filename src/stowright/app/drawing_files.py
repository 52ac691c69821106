"""The drawings of a plan as files: parts, views of the unit, rods, runner sheets, sheet layouts."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import partial
from typing import TYPE_CHECKING, Literal

from stowright.app.cnc_files import cnc_files, sheet_dxf
from stowright.book.full_size import full_size_scenes
from stowright.book.stamp import stamp_of
from stowright.drawings.arrangement_sheets import Issue, arrangement_sheets
from stowright.drawings.details import detail_figures
from stowright.drawings.dxf import to_dxf
from stowright.drawings.isometric import assembled, exploded_set
from stowright.drawings.layout_drawing import layout_pages
from stowright.drawings.packing_plan import packing_plans
from stowright.drawings.part_drawing import part_drawing, shown_beside
from stowright.drawings.placing_plan import placing_figures
from stowright.drawings.runner_places import drawn_members
from stowright.drawings.runner_sheet import runner_figure
from stowright.drawings.scene import Scene
from stowright.drawings.sheet_frame import PAPERS, Paper, drawing_room, framed
from stowright.drawings.svg import to_svg
from stowright.errors import OutOfRangeError

if TYPE_CHECKING:
    from stowright.model.design import OpeningDesign
    from stowright.model.layout import Layout
    from stowright.model.part import Part
    from stowright.model.plan import Plan
    from stowright.units import Unit

__all__ = ["drawing_files"]

#: A part stands on the small sheet at this scale or a larger one.
_READABLE = 0.1

type PaperSize = Literal["a4", "letter"]
type Ink = Literal["colour", "black"]


def drawing_files(
    plan: Plan,
    *,
    paper: PaperSize,
    ink: Ink,
    projection: Literal["first", "third"] = "first",
    revision: str = "",
    date: str = "",
) -> dict[str, bytes]:
    """Return every drawing by its path within the folder, each as SVG and as DXF.

    Args:
        plan: The plan.
        paper: The sheets that drawings are framed for; the general arrangement takes the next
            larger ones.
        ink: Whether colour may be used.
        projection: How the general arrangement's views stand.
        revision: For the title blocks, when given.
        date: The same.
    """
    sheet = PAPERS["A4" if paper == "a4" else "ANSI A"]
    large = PAPERS["A3" if paper == "a4" else "ANSI B"]
    issue = Issue(
        owner=plan.job.client,
        title=plan.job.title,
        job=stamp_of(plan.job).job,
        revision=revision,
        date=date,
    )
    arranged = arrangement_sheets(
        plan.design, projection=projection, paper=large, units=plan.job.units, issue=issue
    )
    files: dict[str, bytes] = {}
    for scene in (
        *_unit_scenes(plan, sheet),
        *packing_plans(plan.design, room=drawing_room(sheet)),
        *arranged,
        *_part_scenes(plan, sheet, large, issue),
        *_details(plan, sheet, issue),
        *_places(plan, sheet, issue),
        *_runner_scenes(plan, sheet, issue),
    ):
        files |= _both(f"drawings/{_file_name(scene)}", scene, plan, ink)
    for scene in full_size_scenes(plan, sheet):
        files[f"drawings/{_file_name(scene)}.svg"] = to_svg(scene, ink=ink).encode()
    for layout in plan.cutting.layouts:
        files |= _layout_files(layout, plan, sheet, ink, issue)
    return files | cnc_files(plan)


def _file_name(scene: Scene) -> str:
    """Return a drawing's name without anything that means something in a path.

    An opening has its name from the job; it may hold spaces or strokes.
    """
    return re.sub(r"[^\w-]+", "-", scene.name).strip("-")


def _both(path: str, scene: Scene, plan: Plan, ink: Ink) -> dict[str, bytes]:
    return {
        f"{path}.svg": to_svg(scene, ink=ink).encode(),
        f"{path}.dxf": to_dxf(scene, units=plan.job.units),
    }


def _unit_scenes(plan: Plan, sheet: Paper) -> tuple[Scene, ...]:
    """Return the pictures of the unit; they are at no scale and stand without a frame."""
    width, height = drawing_room(sheet)
    unit = assembled(plan.design, open_by=0.35, bay=True, width_mm=width, height_mm=height)
    return (unit, *exploded_set(plan.design, width_mm=width, height_mm=height))


def _part_scenes(plan: Plan, sheet: Paper, large: Paper, issue: Issue) -> Iterator[Scene]:
    """Yield each part on its sheet."""
    units, parts = plan.job.units, plan.design.parts
    for place, part in enumerate(parts, start=1):
        scene, paper = _part_scene(part, parts, units, (sheet, large))
        block = issue.block(
            number=part.mark,
            more=scene.title,
            kind="part drawing",
            sheet=place,
            sheets=len(parts),
        )
        yield framed(scene, paper=paper, block=block, units=units)


def _part_scene(
    part: Part, parts: Sequence[Part], units: Unit, sheets: tuple[Paper, Paper]
) -> tuple[Scene, Paper]:
    """Return a part's drawing, on the larger sheet where that has it at 1:10 and the first not."""
    draw = partial(part_drawing, part, units=units, pair=shown_beside(part, parts))
    for paper in sheets:
        try:
            return draw(room=drawing_room(paper), smallest=_READABLE, legible=True), paper
        except OutOfRangeError:
            continue
    return draw(room=drawing_room(sheets[0])), sheets[0]


def _details(plan: Plan, sheet: Paper, issue: Issue) -> Iterator[Scene]:
    scenes = detail_figures(
        plan.design, plan.catalogue, units=plan.job.units, room=drawing_room(sheet)
    )
    for place, scene in enumerate(scenes, start=1):
        block = issue.block(
            number=f"D{place}",
            more=scene.title,
            kind="detail",
            sheet=place,
            sheets=len(scenes),
        )
        yield framed(scene, paper=sheet, block=block, units=plan.job.units)


def _places(plan: Plan, sheet: Paper, issue: Issue) -> Iterator[Scene]:
    """Yield where loose pieces and anchors go, on the load floor and under the deck."""
    scenes = placing_figures(plan.design, units=plan.job.units, room=drawing_room(sheet))
    for place, scene in enumerate(scenes, start=1):
        block = issue.block(
            number=f"S{place}",
            more=scene.title,
            kind="setting-out plan",
            sheet=place,
            sheets=len(scenes),
        )
        yield framed(scene, paper=sheet, block=block, units=plan.job.units)


def _openings(plan: Plan) -> Iterator[OpeningDesign]:
    for block in plan.design.blocks:
        yield from block.openings


def _runner_scenes(plan: Plan, sheet: Paper, issue: Issue) -> Iterator[Scene]:
    """Yield the runner sheet of each drawer and tray."""
    moving = [o for o in _openings(plan) if drawn_members(plan.design, o)]
    for place, opening in enumerate(moving, start=1):
        members = drawn_members(plan.design, opening)
        scene = runner_figure(
            members,
            units=plan.job.units,
            room=drawing_room(sheet),
            name=f"runners-{opening.name}",
            paper=sheet,
        )
        block = issue.block(
            number=f"R{place}",
            more=f"Runners of {opening.name}",
            kind="runner sheet",
            sheet=place,
            sheets=len(moving),
        )
        yield framed(scene, paper=sheet, block=block, units=plan.job.units)


def _layout_files(
    layout: Layout, plan: Plan, sheet: Paper, ink: Ink, issue: Issue
) -> dict[str, bytes]:
    """Return a layout's drawing; a routed sheet's DXF is the one for the machine.

    A long list of cuts follows on sheets of its own.
    """
    stock = next(
        use
        for use in plan.cutting.stock
        if (use.sheet, use.material) == (layout.sheet, layout.material)
    )
    releases = {part.mark: part.release for part in plan.design.parts}
    units = plan.job.units
    pages = layout_pages(
        layout, stock=stock, units=units, room=drawing_room(sheet), releases=releases
    )
    files: dict[str, bytes] = {}
    for k, drawn in enumerate(pages):
        block = issue.block(
            number=f"L{layout.number}" + (f".{k}" if k else ""),
            more=drawn.title,
            kind="sheet layout",
            sheet=layout.number,
            sheets=len(plan.cutting.layouts),
        )
        scene = framed(drawn, paper=sheet, block=block, units=units)
        files |= _both(f"layouts/{scene.name}", scene, plan, ink)
    if plan.cutting.method == "cnc":
        files[f"layouts/{pages[0].name}.dxf"] = sheet_dxf(layout, plan, stock)
    return files
