"""Labels for every piece: mark, name, size, grain, edges, where it goes, and a code of the mark."""

from __future__ import annotations

from typing import Any, Literal

import segno

from stowright.book.label_grids import LabelGrid, grid_for
from stowright.book.stamp import stamp_of
from stowright.book.typeset import typeset
from stowright.drawings.board import EDGES, edge_name
from stowright.model.part import Part, PlacedPart
from stowright.model.plan import Plan
from stowright.units import format_length

__all__ = ["code_svg", "label_rows", "make_labels"]

#: White modules round a code (ISO/IEC 18004 asks for four).
_QUIET = 4


def make_labels(
    plan: Plan,
    *,
    paper: Literal["a4", "letter"] = "a4",
    grid: LabelGrid | None = None,
    skip: int = 0,
    outlines: bool = True,
    revision: str = "",
    date: str = "",
) -> bytes:
    """Return a sheet of labels, one for each piece, as PDF.

    Args:
        plan: The plan.
        paper: The page.
        grid: How labels lie on it; the page's usual grid when None.
        skip: Labels already used on the first sheet.
        outlines: Whether each label's edge is drawn, thin.
        revision: Printed when given.
        date: The same.

    Raises:
        BookError: If the labels do not typeset.
    """
    lies = grid or grid_for(paper)
    rows = label_rows(plan)
    stamp = stamp_of(plan.job, revision=revision, date=date)
    content = {
        "title": plan.job.title,
        "stamp": stamp.text,
        "grid": {
            "columns": lies.columns,
            "rows": lies.rows,
            "width": lies.width,
            "height": lies.height,
            "left": lies.left,
            "top": lies.top,
            "pitch_x": lies.pitch_x,
            "pitch_y": lies.pitch_y,
        },
        "skip": skip % lies.count,
        "outlines": outlines,
        "labels": rows,
    }
    codes = {f"code-{row['mark']}": code_svg(row["mark"]) for row in rows}
    return typeset("labels", content, codes, inputs={"paper": lies.page})


def label_rows(plan: Plan) -> list[dict[str, Any]]:
    """Return what stands on each label, in the order of the cutting list."""
    rows = []
    for part in plan.design.parts:
        pieces = [p for p in plan.design.placed if p.mark == part.mark]
        for number, piece in enumerate(pieces, start=1):
            rows.append(_label(plan, part, piece, number))
    return rows


def _label(plan: Plan, part: Part, piece: PlacedPart, number: int) -> dict[str, Any]:
    def length(mm: float) -> str:
        return format_length(mm, plan.job.units)

    unit = "" if plan.job.units == "in" else " mm"
    sizes = " × ".join(length(v) for v in (part.length, part.width, part.thickness))
    sealed = [edge_name(part, edge) for edge in EDGES if edge in part.edges]
    front = f"{_side(part)} to the face" if part.front_edge else "no front edge"
    return {
        "mark": part.mark,
        "name": part.name,
        "copy": f"{number} of {part.quantity}" if part.quantity > 1 else "",
        "size": f"{sizes}{unit}",
        "material": part.material,
        "grain": "grain along the length" if part.grain == "long" else "grain free",
        "long_grain": part.grain == "long",
        "edge": front,
        "seal": f"seal: {', '.join(sealed)}" if sealed else "",
        "where": _where(piece),
        "release": part.release,
    }


def _side(part: Part) -> str:
    names = {"u0": "datum end", "u1": "far end", "v0": "lower edge", "v1": "upper edge"}
    return names[part.front_edge] if part.front_edge else ""


def _where(piece: PlacedPart) -> str:
    """Return where a piece goes: block, module, opening."""
    words = [piece.block]
    words += [f"module {piece.module}"] if piece.module else []
    words += [piece.opening] if piece.opening else []
    return ", ".join(words)


def code_svg(text: str) -> str:
    """Return a QR code (ISO/IEC 18004) of a text as SVG, its quiet zone included.

    One path of whole modules, no more: a code that a page scales stays crisp.
    """
    modules = segno.make(text, micro=False, error="m", boost_error=False).matrix
    size = len(modules) + 2 * _QUIET
    runs = "".join(
        f"M{_QUIET + x} {_QUIET + y}h1v1h-1z"
        for y, row in enumerate(modules)
        for x, dark in enumerate(row)
        if dark
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size}mm" height="{size}mm" '
        f'viewBox="0 0 {size} {size}"><title>{text}</title>'
        f'<path fill="#ffffff" d="M0 0h{size}v{size}h-{size}z"/>'
        f'<path fill="#000000" d="{runs}"/></svg>\n'
    )
