"""What is really left of the sheets: what is cut out of them already is no longer there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from stowright.app.stock import stock_for
from stowright.explore.frozen import stem_of
from stowright.model.layout import StockSheet

if TYPE_CHECKING:
    from stowright.app.refitting import Before
    from stowright.model.catalogue import Catalogue
    from stowright.model.job import Job

__all__ = ["sheets_left"]

type Rect = tuple[float, float, float, float]


def sheets_left(
    job: Job, shelf: Catalogue, materials: tuple[str, ...], old: Before
) -> tuple[StockSheet, ...]:
    """Return the sheets that may be cut up: those begun first, then whole ones, then what is sold.

    A sheet that parts were cut from already is there with those parts as places that are gone. Only
    the plan before tells which sheet a part came from; without it sheets count as the job has them.

    Args:
        job: The job, with what is done and the sheets in hand.
        shelf: What can be bought.
        materials: The materials of what is still to be cut.
        old: The plan that the parts were cut from.
    """
    stock = stock_for(job, shelf, materials)
    begun = _begun(job, old)
    used = Counter(sheet for sheet, _, _ in begun)
    in_hand = {sheet.id: sheet for sheet in stock if sheet.in_hand}
    rows = []
    for n, (sheet, layout, gone) in enumerate(begun, start=1):
        row = in_hand.get(sheet) or _bought(layout, old)
        if row is not None and row.material in materials:
            rows.append(
                replace(
                    row,
                    id=f"{row.id}, begun {n}",
                    name=f"{row.id}, begun",
                    copies=1,
                    cost=0.0,
                    in_hand=True,
                    defects=(*row.defects, *gone),
                )
            )
    whole = (_less(sheet, used[sheet.id]) for sheet in stock)
    return (*rows, *(sheet for sheet in whole if sheet is not None))


def _less(sheet: StockSheet, used: int) -> StockSheet | None:
    """Return what is left whole of a row of stock."""
    if not sheet.in_hand or sheet.copies is None or not used:
        return sheet
    return replace(sheet, copies=sheet.copies - used) if sheet.copies > used else None


def _begun(job: Job, old: Before) -> list[tuple[str, Mapping[str, Any], tuple[Rect, ...]]]:
    """Return each sheet that something was cut from: its id, its layout, what is gone of it."""
    left = Counter[str]()
    quantities = {str(part["mark"]): int(part["quantity"]) for part in old.parts}
    entries = Counter(stem_of(p.mark, quantities) for stage in job.done for p in stage.parts)
    for mark, times in entries.items():
        left[mark] = quantities.get(mark, 0) if times == 1 else times
    found = []
    for layout in old.layouts:
        for _ in range(int(layout.get("copies") or 1)):
            gone = []
            for piece in layout.get("pieces") or ():
                if left[str(piece["mark"])] > 0:
                    left[str(piece["mark"])] -= 1
                    gone.append(_gone(piece, float(layout.get("kerf") or 0.0)))
            if gone:
                found.append((str(layout["sheet"]), layout, tuple(gone)))
    return found


def _gone(piece: Mapping[str, Any], kerf: float) -> Rect:
    """Return what a piece took of its sheet: itself and the saw's kerf round it."""
    x, y = max(0.0, float(piece["x"]) - kerf), max(0.0, float(piece["y"]) - kerf)
    high_x, high_y = (
        float(piece["x"]) + float(piece["along"]) + kerf,
        float(piece["y"]) + float(piece["across"]) + kerf,
    )
    return (x, y, high_x - x, high_y - y)


def _bought(layout: Mapping[str, Any], old: Before) -> StockSheet | None:
    """Return the sheet that was bought for a layout."""
    name = str(layout["sheet"])
    row = next(
        (
            s
            for s in old.stock
            if s["sheet"] == name and s.get("material") == layout.get("material")
        ),
        None,
    )
    if row is None:
        return None
    return StockSheet(
        id=name,
        material=str(row["material"]),
        length=float(row["length"]),
        width=float(row["width"]),
    )
