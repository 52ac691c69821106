"""From a design to what the saw needs: parts to cut, sheets to cut from, kerf and trim."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from stowright.model.layout import CutPart, SawSettings, StockSheet

if TYPE_CHECKING:
    from stowright.model.catalogue import Catalogue, Material, Saw
    from stowright.model.design import Design
    from stowright.model.job import Job, SheetInHand

__all__ = ["parts_to_cut", "saw_settings", "sheets_on_offer", "stock_for"]


def parts_to_cut(design: Design) -> tuple[CutPart, ...]:
    """Return every part of a design as a row of the list to cut, in the order of the design."""
    return tuple(
        CutPart(
            mark=part.mark,
            name=part.name,
            length=part.length,
            width=part.width,
            thickness=part.thickness,
            quantity=part.quantity,
            material=part.material,
            grain=part.grain == "long",
            release=part.release,
        )
        for part in design.parts
    )


def stock_for(job: Job, catalogue: Catalogue, materials: tuple[str, ...]) -> tuple[StockSheet, ...]:
    """Return the sheets that may be cut up: those in hand first, then what can be bought.

    A sheet in hand counts for nothing in the search. Of a material that has a sheet in hand with
    ``only_in_hand`` nothing is bought.

    Args:
        job: The job, with its sheets in hand.
        catalogue: The shelf, with the sizes on offer and their prices.
        materials: The materials that the parts are made of.

    Raises:
        UnknownNameError: If a material is not on the shelf.
    """
    in_hand = [_in_hand(sheet) for sheet in job.sheets if sheet.material in materials]
    closed = {sheet.material for sheet in job.sheets if sheet.only_in_hand}
    taken = {sheet.id for sheet in in_hand}
    bought = [
        sheet
        for name in materials
        if name not in closed
        for sheet in _on_offer(catalogue, catalogue.material(name), taken)
    ]
    return (*in_hand, *bought)


def saw_settings(job: Job, catalogue: Catalogue) -> SawSettings:
    """Return the saw's kerf, trim and rules for a job's method.

    A job that names a method but no saw gets the first saw of that method on the shelf.

    Raises:
        UnknownNameError: If the saw is not on the shelf.
    """
    saw = catalogue.saw(job.build.saw)
    if saw.method != job.build.method and _saw_was_assumed(job):
        saw = next((s for s in catalogue.saws if s.method == job.build.method), saw)
    return _settings(job, saw)


def _settings(job: Job, saw: Saw) -> SawSettings:
    return SawSettings(
        method=job.build.method,
        kerf=saw.kerf,
        trim=saw.trim,
        good_face_down=saw.good_face_down,
    )


def _saw_was_assumed(job: Job) -> bool:
    return any(row.field == "build.saw" for row in job.assumed)


def _in_hand(sheet: SheetInHand) -> StockSheet:
    return StockSheet(
        id=sheet.id,
        material=sheet.material,
        length=sheet.length,
        width=sheet.width,
        name=f"{sheet.id}, in hand",
        copies=sheet.count,
        price=sheet.price,
        cost=0.0,
        in_hand=True,
        offcut=sheet.offcut,
        defects=sheet.defects,
    )


def _on_offer(catalogue: Catalogue, material: Material, taken: set[str]) -> list[StockSheet]:
    return [
        replace(sheet, id=_free_id(sheet.id, taken))
        for sheet in sheets_on_offer(catalogue, material)
    ]


def sheets_on_offer(catalogue: Catalogue, material: Material) -> list[StockSheet]:
    """Return the sizes that a material can be bought in."""
    from stowright.catalogue import stock_sizes_of

    return [
        StockSheet(
            id=f"{material.name} {size.length:g} × {size.width:g}",
            material=material.name,
            length=size.length,
            width=size.width,
            name=f"{material.name}, {size.length:g} × {size.width:g}",
            price=size.price,
            mass=size.length * size.width * material.thickness * material.density / 1.0e9,
        )
        for size in stock_sizes_of(catalogue.stock_sizes, material)
    ]


def _free_id(name: str, taken: set[str]) -> str:
    """Return a name that no sheet in hand has."""
    while name in taken:
        name += ", bought"
    taken.add(name)
    return name
