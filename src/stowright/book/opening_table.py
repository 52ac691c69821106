"""What changes when an opening reads a little less or more than the plan: sizes, gaps, packers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

from stowright.model.design import Design, OpeningDesign
from stowright.model.geometry import Point3
from stowright.model.part import Part, PlacedPart
from stowright.model.plan import Plan
from stowright.units import MM_PER_INCH, format_length, snap_down

__all__ = ["Change", "changed_parts", "opening_tables", "steps_of"]

type Across = Literal["width", "height"]
_METRIC = (-3.0, -2.0, -1.0, 1.0, 2.0, 3.0)
#: Nearest sizes of a rule for one, two and three millimetres.
_INCH = tuple(k * MM_PER_INCH / 32.0 for k in (-4, -2, -1, 1, 2, 4))
_FRONTS = frozenset({"drawer-front", "door", "blank"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A part's size that follows an opening's reading.

    Attributes:
        part: The part.
        what: ``length`` or ``width`` of the part.
        size: As drawn. [mm]
        front: Whether it closes the opening (gaps all round) or belongs to the box.
    """

    part: Part
    what: Literal["length", "width"]
    size: float
    front: bool

    def at(self, difference: float, grid: float) -> float:
        """Return the size for a reading that differs, down to the cut grid. [mm]."""
        return snap_down(self.size + difference, grid)


def steps_of(units: str) -> tuple[float, ...]:
    """Return the differences that the table lists: 1, 2, 3 mm, or a rule's nearest. [mm]."""
    return _INCH if units == "in" else _METRIC


def changed_parts(design: Design, opening: OpeningDesign, across: Across) -> tuple[Change, ...]:
    """Return the parts whose size follows an opening's width or height, each mark once."""
    block = next(b for b in design.blocks if b.name == opening.block)
    direction = block.axes[0] if across == "width" else block.axes[2]
    found: dict[tuple[str, str], Change] = {}
    for piece in design.placed:
        if piece.opening != opening.name:
            continue
        change = _change(design.part(piece.mark), piece, direction)
        if change is not None and _follows(piece, across):
            found.setdefault((change.part.mark, change.what), change)
    return tuple(found.values())


def _follows(piece: PlacedPart, across: Across) -> bool:
    """Return whether a piece's extent is worked out from the opening.

    Heights of a box are set by its runner and may stay; only what closes the opening follows.
    """
    fronts = piece.role in _FRONTS
    return fronts or (across == "width" and piece.body == piece.opening)


def _change(part: Part, piece: PlacedPart, direction: Point3) -> Change | None:
    for axis, what, size in (
        (piece.axes[0], "length", part.length),
        (piece.axes[1], "width", part.width),
    ):
        if abs(sum(a * b for a, b in zip(axis, direction, strict=True))) > 0.9:
            return Change(
                part=part,
                what="length" if what == "length" else "width",
                size=size,
                front=piece.role in _FRONTS,
            )
    return None


def opening_tables(plan: Plan) -> list[dict[str, Any]]:
    """Return a table for the width and height of each different opening."""
    seen: dict[tuple[object, ...], dict[str, Any]] = {}
    for block in plan.design.blocks:
        for opening in block.openings:
            for table in _tables(plan, opening):
                key = (table["what"], table["reads"], str(table["rows"]))
                if key in seen:
                    seen[key]["names"].append(opening.name)
                else:
                    seen[key] = table
    return list(seen.values())


def _tables(plan: Plan, opening: OpeningDesign) -> Iterator[dict[str, Any]]:
    ways: tuple[Across, Across] = ("width", "height")
    for across in ways:
        changes = changed_parts(plan.design, opening, across)
        if changes:
            yield _table(plan, opening, across, changes)


def _table(
    plan: Plan, opening: OpeningDesign, across: Across, changes: tuple[Change, ...]
) -> dict[str, Any]:
    units, grid = plan.job.units, plan.job.cut_grid
    planned = opening.width if across == "width" else opening.height

    def said(value: float) -> str:
        return format_length(value, units)

    boxed = any(not change.front for change in changes)
    head = ["Reads"]
    head += ["Space each side, box as drawn", "If the box is already cut"] if boxed else []
    head += [f"{c.part.mark} {c.part.name}: {c.what}" for c in changes]
    rows = []
    for difference in (0.0, *steps_of(units)):
        row = [said(planned + difference)]
        row += _box_cells(opening, difference, said) if boxed else []
        row += [
            said(change.at(difference, grid) if difference else change.size) for change in changes
        ]
        rows.append(row)
    rows.sort(key=lambda row: row[0] != said(planned))
    return {
        "names": [opening.name],
        "what": across,
        "reads": said(planned),
        "head": head,
        "rows": rows,
    }


def _box_cells(opening: OpeningDesign, difference: float, said: Any) -> list[str]:
    """Return the space beside a box that is already cut, and what that means for its runner."""
    fit = opening.runner
    if fit is None:
        return ["", ""]
    space = fit.side_space + difference / 2.0
    window = fit.runner.side_space
    if space > window.most + 1e-6:
        words = f"pack {said(space - window.aim)} behind each runner"
    elif space < window.least - 1e-6:
        words = "too wide: cut inner front, inner back and bottom again"
    else:
        words = "runs as it is"
    return [said(space), words]
