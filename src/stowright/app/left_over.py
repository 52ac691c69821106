"""What is really left of the sheets: what is cut out of them already is no longer there.

A plan of a begun job remembers the sheets that its parts came from, so that the next refit can go
on from it: what was cut since comes out of that plan's layouts, what was cut before stays gone.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from stowright.app.stock import stock_for
from stowright.explore.build_record import pieces_cut
from stowright.explore.recut import Leftover
from stowright.model.layout import StockSheet
from stowright.model.refit import BegunSheet

if TYPE_CHECKING:
    from stowright.app.plan_before import Before
    from stowright.model.catalogue import Catalogue
    from stowright.model.job import Job

__all__ = ["begun_sheets", "called_begun", "leftovers", "sheets_left"]

type Rect = tuple[float, float, float, float]
type Offcut = tuple[str, float, float, float, float]

_SAME = 1.0e-6
_OFFCUT = "offcut "
_BEGUN = ", begun "


def sheets_left(
    job: Job,
    shelf: Catalogue,
    materials: tuple[str, ...],
    old: Before,
    spent: Collection[str] = (),
) -> tuple[StockSheet, ...]:
    """Return the sheets that may be cut up: those begun first, then whole ones, then what is sold.

    A sheet that parts were cut from already is there with those parts as places that are gone. Only
    the plan before tells which sheet a part came from; without it sheets count as the job has them.
    A sheet of the job that bears the name of a begun one tells the damage of that one.

    Args:
        job: The job, with what is done and the sheets in hand.
        shelf: What can be bought.
        materials: The materials of what is still to be cut.
        old: The plan that the parts were cut from.
        spent: Names of offcuts and remnants that cut parts are made new from.
    """
    stock = stock_for(job, shelf, materials)
    begun = begun_sheets(job, old)
    in_hand = {sheet.id: sheet for sheet in stock if sheet.in_hand}
    rows = [_row(row, in_hand, spent) for row in begun if row.material in materials]
    used = Counter(row.sheet for row in begun) + Counter(spent)
    named = {row.id for row in begun}
    whole = (_less(sheet, used[sheet.id]) for sheet in stock if sheet.id not in named)
    return (*rows, *(sheet for sheet in whole if sheet is not None))


def _row(
    begun: BegunSheet, in_hand: Mapping[str, StockSheet], spent: Collection[str]
) -> StockSheet:
    own = in_hand.get(begun.id) or in_hand.get(begun.sheet)
    gone = [o[1:] for o in begun.offcuts if f"{_OFFCUT}{o[0]}" in spent]
    made = own or StockSheet(
        id=begun.id, material=begun.material, length=begun.length, width=begun.width
    )
    return replace(
        made,
        id=begun.id,
        name=begun.id,
        copies=1,
        cost=0.0,
        in_hand=True,
        defects=(*made.defects, *begun.gone, *gone),
    )


def _less(sheet: StockSheet, used: int) -> StockSheet | None:
    """Return what is left whole of a row of stock."""
    if not sheet.in_hand or sheet.copies is None or not used:
        return sheet
    return replace(sheet, copies=sheet.copies - used) if sheet.copies > used else None


def begun_sheets(job: Job, old: Before) -> tuple[BegunSheet, ...]:
    """Return each sheet that something was cut from, in the order they were begun.

    Args:
        job: The job, with what is done and spoiled.
        old: The plan that it was cut from, and what that remembers of those before it.
    """
    before = dict(old.so_far.pieces)
    now = pieces_cut(job, old.known())
    left = Counter({mark: count - before.get(mark, 0) for mark, count in now.items()})
    found = {row.id: row for row in old.so_far.sheets}
    for layout in old.layouts:
        for _ in range(int(layout.get("copies") or 1)):
            gone = tuple(_taken(layout, left))
            row = found.get(str(layout["sheet"])) or _begun(layout, old, len(found) + 1)
            if gone and row is not None:
                kept = tuple(_kept(layout))
                found[row.id] = replace(row, gone=(*row.gone, *gone), offcuts=kept)
    for name in _made_since(job, old):
        found = {key: _without(row, name) for key, row in found.items()}
    return tuple(found.values())


def called_begun(name: str) -> bool:
    """Whether a sheet is called as begun ones are: ``S1, begun 1``."""
    return name.rpartition(_BEGUN)[2].isdecimal() and _BEGUN in name


def _taken(layout: Mapping[str, Any], left: Counter[str]) -> Iterator[Rect]:
    """Yield the places of pieces that are cut, and count them off."""
    for piece in layout.get("pieces") or ():
        if left[str(piece["mark"])] > 0:
            left[str(piece["mark"])] -= 1
            yield _gone(piece, float(layout.get("kerf") or 0.0))


def _gone(piece: Mapping[str, Any], kerf: float) -> Rect:
    """Return what a piece took of its sheet: itself and the saw's kerf round it."""
    x, y = max(0.0, float(piece["x"]) - kerf), max(0.0, float(piece["y"]) - kerf)
    high_x, high_y = (
        float(piece["x"]) + float(piece["along"]) + kerf,
        float(piece["y"]) + float(piece["across"]) + kerf,
    )
    return (x, y, high_x - x, high_y - y)


def _kept(layout: Mapping[str, Any]) -> Iterator[Offcut]:
    for offcut in layout.get("offcuts") or ():
        if offcut.get("keep"):
            x, y, along, across = (float(offcut[key]) for key in ("x", "y", "along", "across"))
            yield (str(offcut["name"]), x, y, along, across)


def _begun(layout: Mapping[str, Any], old: Before, number: int) -> BegunSheet | None:
    """Return the sheet of a layout, nothing gone from it yet."""
    name, material = str(layout["sheet"]), layout.get("material")
    rows = (s for s in old.stock if s["sheet"] == name and s.get("material") == material)
    row = next(rows, None)
    if row is None:
        return None
    return BegunSheet(
        id=f"{name}{_BEGUN}{number}",
        sheet=name,
        material=str(material),
        length=float(row["length"]),
        width=float(row["width"]),
        gone=(),
    )


def _made_since(job: Job, old: Before) -> Iterator[str]:
    """Yield the offcuts that parts were made new from since the plan before."""
    since = old.done_since(job)
    return (src.removeprefix(_OFFCUT) for mark, src in old.salvaged.items() if mark in since)


def _without(row: BegunSheet, name: str) -> BegunSheet:
    gone = tuple(offcut[1:] for offcut in row.offcuts if offcut[0] == name)
    if not gone:
        return row
    kept = tuple(offcut for offcut in row.offcuts if offcut[0] != name)
    return replace(row, gone=(*row.gone, *gone), offcuts=kept)


def leftovers(job: Job, old: Before) -> tuple[Leftover, ...]:
    """Return what cut parts can be made new from: offcuts of begun sheets, remnants in hand.

    A remnant that the plan before meant for something else is not among them, nor is an offcut
    that turned out damaged.
    """
    defects = {sheet.id: sheet.defects for sheet in job.sheets}
    meant = {str(layout["sheet"]) for layout in old.layouts} - set(old.salvaged.values())
    found = [
        Leftover(name=f"{_OFFCUT}{name}", material=row.material, length=along, width=across)
        for row in begun_sheets(job, old)
        for name, x, y, along, across in row.offcuts
        if not any(
            _meet((x, y, along, across), bad)
            for bad in defects.get(row.id) or defects.get(row.sheet) or ()
        )
    ]
    found += [
        Leftover(name=sheet.id, material=sheet.material, length=sheet.length, width=sheet.width)
        for sheet in job.sheets
        if sheet.offcut and not sheet.defects and sheet.id not in meant
    ]
    return tuple(found)


def _meet(one: Rect, two: Rect) -> bool:
    return all(
        one[k] < two[k] + two[k + 2] - _SAME and two[k] < one[k] + one[k + 2] - _SAME
        for k in (0, 1)
    )
