"""What to buy for a plan, in packs, with the shop's own prices and what they come to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

from stowright.making.say import many

if TYPE_CHECKING:
    from collections.abc import Iterator

    from stowright.model.catalogue import Catalogue
    from stowright.model.plan import Plan

__all__ = ["BuyRow", "Buying", "articles", "buying"]


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyRow:
    """One thing to buy.

    Attributes:
        name: What it is; the shop's price is kept under it.
        group: ``sheets``, ``screws`` …
        needed: How many it takes, in words.
        get: How many are bought, in words.
        amount: How many are bought: sheets, packs, or pieces.
        unit: What one of them is.
        price: The shop's own price for one, else the catalogue's; None when there is none.
        own: Whether the price is the shop's own.
        total: Price times amount.
        used_for: Where it goes.
    """

    name: str
    group: str
    needed: str
    get: str
    amount: int
    unit: str
    price: float | None
    own: bool
    total: float | None
    used_for: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Buying:
    """Everything to buy.

    Attributes:
        total: Sum of what has a price.
        without_price: How many rows have none.
    """

    rows: tuple[BuyRow, ...]
    total: float
    without_price: int


def buying(plan: Plan, prices: Mapping[str, float]) -> Buying:
    """Return what to buy; the shop's prices are taken before those of the catalogue."""
    rows = (*_sheets(plan, prices), *_hardware(plan, prices))
    return Buying(
        rows=rows,
        total=round(sum(row.total or 0.0 for row in rows), 2),
        without_price=sum(row.total is None for row in rows),
    )


def articles(shelf: Catalogue) -> Iterator[str]:
    """Yield the name of everything that a list to buy may have, as it stands there."""
    from stowright.app.stock import sheets_on_offer
    from stowright.making.goods import sized_runner

    for material in shelf.materials:
        yield from (sheet.name for sheet in sheets_on_offer(shelf, material))
    for runner in shelf.runners:
        yield from (sized_runner(runner, size) for size in runner.sizes)
    for table in (
        shelf.screws, shelf.bolts, shelf.nuts, shelf.washers, shelf.hardware, shelf.adhesives,
        shelf.finishes,
    ):  # fmt: skip
        yield from (row.name for row in table)


def _sheets(plan: Plan, prices: Mapping[str, float]) -> list[BuyRow]:
    found = []
    for use in plan.cutting.stock:
        if use.origin != "buy" or not use.used:
            continue
        name = use.name or use.sheet
        price, own = _price(name, use.price, prices)
        found.append(
            BuyRow(
                name=name, group="sheets", needed=many(use.used, "sheet"),
                get=many(use.used, "sheet"), amount=use.used,
                unit="sheet", price=price, own=own, total=_times(price, use.used),
                used_for=(use.material,),
            )
        )  # fmt: skip
    return found


def _hardware(plan: Plan, prices: Mapping[str, float]) -> list[BuyRow]:
    found = []
    for row in plan.making.schedule:
        packs, held = row.packs
        amount = packs or ceil(row.quantity + row.spare)
        unit = f"pack of {held}" if packs else row.unit
        shown = row.price / amount if row.price is not None and amount else None
        price, own = _price(row.name, shown, prices)
        spare = f" and {row.spare:g} spare" if row.spare else ""
        found.append(
            BuyRow(
                name=row.name, group=row.kind, needed=f"{many(row.quantity, row.unit)}{spare}",
                get=f"{amount} × {unit}" if packs else many(amount, row.unit),
                amount=amount, unit=unit, price=price, own=own, total=_times(price, amount),
                used_for=row.used_for,
            )
        )  # fmt: skip
    return found


def _price(
    name: str, catalogue: float | None, prices: Mapping[str, float]
) -> tuple[float | None, bool]:
    return (prices[name], True) if name in prices else (catalogue, False)


def _times(price: float | None, amount: int) -> float | None:
    return None if price is None else round(price * amount, 2)
