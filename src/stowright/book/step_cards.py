"""The steps as cards for a telephone: large letters, figure and counts; a long step takes two."""

from __future__ import annotations

from typing import Any

from stowright.book.stamp import stamp_of
from stowright.book.step_details import step_details
from stowright.book.step_rows import step_row
from stowright.book.typeset import typeset
from stowright.drawings.linetypes import Ink
from stowright.drawings.step_figures import step_scenes
from stowright.drawings.svg import to_svg
from stowright.model.plan import Plan

__all__ = ["make_cards"]

#: What a figure may take of a card, drawn at that size so that its marks are read there. [mm]
_FIGURE = (81.0, 60.0)


def make_cards(plan: Plan, *, ink: Ink = "colour", revision: str = "", date: str = "") -> bytes:
    """Return the step cards as PDF; a page is 90 × 160 mm, the shape of a telephone held upright.

    A step takes a card, or goes on over the next where its type would be too small to read.

    Raises:
        BookError: If they do not typeset.
    """
    scenes = step_scenes(plan.design, plan.making.steps, most=_FIGURE)
    content: dict[str, Any] = {
        "title": plan.job.title,
        "ink": ink,
        "stamp": stamp_of(plan.job, revision=revision, date=date).text,
        "steps": [
            {**step_row(step, plan.job.units), **step_details(plan.design, step)}
            for step in plan.making.steps
        ],
    }
    figures = {scene.name: to_svg(scene, ink=ink) for scene in scenes}
    return typeset("cards", content, figures, inputs={})
