"""What lies where, for a screen: the rows of each opening and its plan."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from stowright.errors import UnknownNameError

if TYPE_CHECKING:
    from stowright.model.design import Design

__all__ = ["packed_openings", "packing_picture"]


def packed_openings(design: Design) -> list[dict[str, Any]]:
    """Return for each opening in use: ``name``, ``contents``, ``gross``, ``rated``, ``things``.

    ``rated`` is the rating of its pair of runners as listed, empty without runners; a thing is its
    number on the plan, name, size, place, mass and what is to be known about it, as printed.
    """
    from stowright.book.packing_sheet import packing_rows

    rated = {
        opening.name: f"{opening.runner.size.rating_kg:g} kg"
        for block in design.blocks
        for opening in block.openings
        if opening.runner is not None
    }
    return [row | {"rated": rated.get(row["name"], "")} for row in packing_rows(design)]


def packing_picture(design: Design, place: int) -> str:
    """Return the plan of an opening in use as SVG, openings counted as they are listed.

    Raises:
        UnknownNameError: If fewer are in use.
    """
    from stowright.drawings.packing_plan import packing_plan
    from stowright.drawings.svg import to_svg

    rows = packed_openings(design)
    if not 0 <= place < len(rows):
        raise UnknownNameError("packing", str(place))
    return to_svg(packing_plan(design, rows[place]["name"]))
