"""What is printed at full size: set-out rods and drilling templates, across pages where long."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal

from stowright.book.runner_sheets import runner_groups
from stowright.book.typeset import typeset
from stowright.drawings.linetypes import Ink
from stowright.drawings.rods import RodAxis
from stowright.drawings.runner_places import drawn_members
from stowright.drawings.runner_template import runner_templates
from stowright.drawings.scene import Scene
from stowright.drawings.set_out_pages import set_out_pages
from stowright.drawings.sheet_frame import PAPERS, Paper
from stowright.drawings.svg import to_svg
from stowright.model.plan import Plan

__all__ = ["full_size_scenes", "make_full_size"]

_RODS: tuple[RodAxis, ...] = ("up", "across")


def full_size_scenes(plan: Plan, paper: Paper) -> tuple[Scene, ...]:
    """Return the pages: the rods of each drawer and tray, then the templates of their runners."""
    return (*_rods(plan, paper), *_templates(plan, paper))


def _rods(plan: Plan, paper: Paper) -> Iterator[Scene]:
    for block in plan.design.blocks:
        for opening in block.openings:
            if opening.box is None:
                continue
            for axis in _RODS:
                yield from set_out_pages(
                    plan.design, opening.name, units=plan.job.units, paper=paper, axis=axis
                )


def _templates(plan: Plan, paper: Paper) -> Iterator[Scene]:
    for opening, names in runner_groups(plan):
        for member in drawn_members(plan.design, opening):
            if member.screws:
                yield from runner_templates(
                    member, units=plan.job.units, paper=paper, title=", ".join(names)
                )


def make_full_size(
    plan: Plan, *, paper: Literal["a4", "letter"] = "a4", ink: Ink = "colour"
) -> bytes:
    """Return rods and templates as PDF, each page at 1:1 with its bar of 100 mm.

    Raises:
        BookError: If they do not typeset.
    """
    scenes = full_size_scenes(plan, PAPERS["A4" if paper == "a4" else "ANSI A"])
    content: dict[str, Any] = {
        "title": plan.job.title,
        "pages": [[f"page-{n}", scene.title] for n, scene in enumerate(scenes, start=1)],
    }
    figures = {f"page-{n}": to_svg(scene, ink=ink) for n, scene in enumerate(scenes, start=1)}
    return typeset("pages", content, figures, inputs={"paper": paper})
