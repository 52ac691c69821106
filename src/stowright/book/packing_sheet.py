"""The packing sheet: what lies where in each drawer, what it comes to, and a label to stick on."""

from __future__ import annotations

from typing import Any, Literal

from stowright.book.stamp import stamp_of
from stowright.book.typeset import typeset
from stowright.drawings.packing_plan import (
    Board,
    Numbered,
    boards_in,
    numbered,
    packing_plans,
)
from stowright.drawings.svg import to_svg
from stowright.model.design import Design, OpeningDesign
from stowright.model.plan import Plan
from stowright.units import format_length

__all__ = ["make_packing_sheet", "packing_rows"]

#: Below this share of its base a thing needs packing under it.
FULL = 0.999


def make_packing_sheet(
    plan: Plan,
    *,
    paper: Literal["a4", "letter"] = "a4",
    ink: Literal["colour", "black"] = "colour",
    revision: str = "",
    date: str = "",
) -> bytes:
    """Return the packing sheet as PDF. The same plan gives the same bytes.

    Args:
        plan: A plan; without a packed load the sheet says so.
        paper: The page.
        ink: Colour or plain black.
        revision: Printed when given.
        date: The same.

    Raises:
        BookError: If the sheet does not typeset.
    """
    scenes = packing_plans(plan.design)
    drawn = {scene.name.removeprefix("packing-"): scene for scene in scenes}
    rows = packing_rows(plan.design)
    content = {
        "title": plan.job.title,
        "units": plan.job.units,
        "ink": ink,
        "stamp": stamp_of(plan.job, revision=revision, date=date).text,
        "openings": [row | {"figure": f"packing-{k}"} for k, row in enumerate(rows, start=1)],
        "left_out": _left_out(plan.design),
    }
    figures = {
        f"packing-{k}": to_svg(drawn[row["name"]], ink=ink) for k, row in enumerate(rows, start=1)
    }
    return typeset("packing", content, figures, inputs={"paper": paper})


def packing_rows(design: Design) -> list[dict[str, Any]]:
    """Return for each opening in use what lies in it, its masses, and what its label says."""
    return [
        _row(design, opening)
        for block in design.blocks
        for opening in block.openings
        if numbered(design, opening.name)
    ]


def _row(design: Design, opening: OpeningDesign) -> dict[str, Any]:
    rows = numbered(design, opening.name)
    counts: dict[str, int] = {}
    for row in rows:
        counts[row.thing.what] = counts.get(row.thing.what, 0) + 1
    label = [what if count == 1 else f"{count} × {what}" for what, count in counts.items()]
    own = opening.gross_kg - opening.contents_kg
    return {
        "name": opening.name,
        "fill": opening.fill,
        "contents": f"{sum(row.thing.mass_kg for row in rows):.1f} kg",
        "gross": f"{own + sum(row.thing.mass_kg for row in rows):.1f} kg",
        "things": [_thing(design, row) for row in rows],
        "boards": [_board(design, board) for board in boards_in(design, opening.name)],
        "label": label,
    }


def _thing(design: Design, row: Numbered) -> list[str]:
    thing = row.thing
    units = design.job.units
    size = " × ".join(format_length(side, units) for side in thing.size)
    at = " / ".join(format_length(side, units) for side in thing.at)
    notes = [] if thing.used == "trip" else [thing.used]
    if thing.stands < FULL:
        notes.append(f"{100.0 * thing.stands:.0f} % of its base stands: pack under it")
    return [str(row.number), thing.what, size, at, f"{thing.mass_kg:g} kg", ", ".join(notes)]


def _board(design: Design, board: Board) -> list[str]:
    units = design.job.units
    size = " × ".join(
        format_length(side, units) for side in (board.length, board.thickness, board.height)
    )
    return [board.mark, "divider", size, f"at {format_length(board.depth, units)}", "", ""]


def _left_out(design: Design) -> list[str]:
    if design.packed is None:
        return ["The load was not packed: no carry list, or no openings."]
    return [f"{left.copies} × {left.what}: {left.why}" for left in design.packed.left_out]
