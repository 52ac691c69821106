"""The drawings of a plan as files: parts, views of the unit, sheet layouts."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from stowright.drawings.cnc_dxf import sheet_cnc
from stowright.drawings.dxf import to_dxf
from stowright.drawings.isometric import assembled, exploded_set
from stowright.drawings.layout_drawing import layout_drawing
from stowright.drawings.part_drawing import part_drawing
from stowright.drawings.rods import RodAxis
from stowright.drawings.set_out_pages import set_out_pages
from stowright.drawings.sheet_frame import PAPERS, Paper, TitleBlock, drawing_room, framed
from stowright.drawings.svg import to_svg

if TYPE_CHECKING:
    from stowright.drawings.scene import Scene
    from stowright.model.layout import Layout
    from stowright.model.plan import Plan

__all__ = ["drawing_files"]

type PaperSize = Literal["a4", "letter"]
_RODS: tuple[RodAxis, ...] = ("up", "across")
type Ink = Literal["colour", "black"]


def drawing_files(plan: Plan, *, paper: PaperSize, ink: Ink) -> dict[str, bytes]:
    """Return every drawing by its path within the folder, each as SVG and as DXF.

    Args:
        plan: The plan.
        paper: The sheets that drawings are framed for.
        ink: Whether colour may be used.
    """
    sheet = PAPERS["A4" if paper == "a4" else "ANSI A"]
    files: dict[str, bytes] = {}
    for scene in (*_unit_scenes(plan, sheet), *_part_scenes(plan, sheet)):
        files |= _both(f"drawings/{_file_name(scene)}", scene, plan, ink)
    for scene in _set_out_scenes(plan, sheet):
        files[f"drawings/{_file_name(scene)}.svg"] = to_svg(scene, ink=ink).encode()
    for layout in plan.cutting.layouts:
        files |= _layout_files(layout, plan, sheet, ink)
    return files


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


def _part_scenes(plan: Plan, sheet: Paper) -> tuple[Scene, ...]:
    room, units = drawing_room(sheet), plan.job.units
    parts = plan.design.parts
    return tuple(
        _framed(
            part_drawing(part, units=units, room=room),
            plan,
            sheet,
            _Title(kind="part drawing", number=part.mark, sheet=place, sheets=len(parts)),
        )
        for place, part in enumerate(parts, start=1)
    )


def _set_out_scenes(plan: Plan, sheet: Paper) -> tuple[Scene, ...]:
    """Return the rods of each drawer and tray at full size, to print and lay end on end."""
    units = plan.job.units
    openings = [opening for block in plan.design.blocks for opening in block.openings]
    return tuple(
        page
        for opening in openings
        if opening.box is not None
        for axis in _RODS
        for page in set_out_pages(plan.design, opening.name, units=units, paper=sheet, axis=axis)
    )


def _layout_files(layout: Layout, plan: Plan, sheet: Paper, ink: Ink) -> dict[str, bytes]:
    """Return a layout's drawing; a routed sheet's DXF is the one for the machine."""
    stock = next(
        use
        for use in plan.cutting.stock
        if (use.sheet, use.material) == (layout.sheet, layout.material)
    )
    releases = {part.mark: part.release for part in plan.design.parts}
    scene = _framed(
        layout_drawing(
            layout, stock=stock, units=plan.job.units, room=drawing_room(sheet), releases=releases
        ),
        plan,
        sheet,
        _Title(
            kind="sheet layout",
            number=str(layout.number),
            sheet=layout.number,
            sheets=len(plan.cutting.layouts),
        ),
    )
    files = _both(f"layouts/{scene.name}", scene, plan, ink)
    if plan.cutting.method == "cnc":
        routed = sheet_cnc(layout, plan.design.parts, stock=stock, units=plan.job.units)
        files[f"layouts/{scene.name}.dxf"] = routed
    return files


@dataclass(frozen=True, slots=True, kw_only=True)
class _Title:
    """What of a title block differs from sheet to sheet."""

    kind: str
    number: str
    sheet: int
    sheets: int


def _framed(scene: Scene, plan: Plan, paper: Paper, title: _Title) -> Scene:
    block = TitleBlock(
        owner=plan.job.client,
        number=title.number,
        title=plan.job.title,
        more=scene.title,
        issued="",
        creator="stowright",
        approval="",
        document_type=title.kind,
        sheet=title.sheet,
        sheets=title.sheets,
    )
    return framed(scene, paper=paper, block=block, units=plan.job.units)
