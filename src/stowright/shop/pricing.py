"""From goods and hours to a fixed price, and from two quotes to the price of a change."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from itertools import zip_longest

from stowright.model.quote import Good, HoursRow, Quote, QuotedPart, ShopFigures, Sum, Variation

__all__ = ["own_hours", "payments", "price_up", "variation"]

type Size = tuple[float, float, float]

#: A change of hours below this is none. [h]
_NO_HOURS = 0.005


def price_up(
    figures: ShopFigures,
    goods: tuple[Good, ...],
    hours: tuple[HoursRow, ...],
    *,
    credit: float = 0.0,
) -> tuple[tuple[Sum, ...], float]:
    """Return the sum line by line and the price, rounded up to the shop's step.

    Args:
        figures: The shop's figures.
        goods: What is bought or taken from stock; those without a price count nothing.
        hours: Hours by task.
        credit: What the offcuts that stay are worth.
    """
    worked = sum(row.hours for row in hours)
    goods_total = sum(good.total or 0.0 for good in goods)
    rows = [
        Sum(what="goods", how="whole sheets and packs", amount=_cent(goods_total)),
        *_credit_row(credit, figures),
        *_share_row("sundries", goods_total, "of the goods", figures.sundries),
        Sum(
            what="work",
            how=f"{worked:.1f} h at {figures.hour_rate:g}",
            amount=_cent(worked * figures.hour_rate),
        ),
    ]
    if figures.travel:
        rows.append(Sum(what="collect and deliver", how="for the job", amount=figures.travel))
    return _topped(rows, figures, round_up=True)


def variation(figures: ShopFigures, old: Quote, new: Quote, *, since: str) -> Variation:
    """Return what the change from one quote to another comes to.

    Hours that a change adds are charged at the rate of a change, hours that it saves are given
    back at the hour's rate. Travel is not charged twice.

    Args:
        figures: The shop's figures as they stand now.
        old: The quote that was agreed.
        new: The job as it stands now.
        since: Which quote was agreed, in words.
    """
    goods, bought = _goods_change(old, new)
    hours = _hours_change(old, new)
    rows = [
        Sum(what="goods", how="more or less than agreed", amount=_cent(bought)),
        *_share_row("sundries", bought, "of the goods", figures.sundries),
    ]
    more = sum(hour for _, hour in hours if hour > 0.0)
    less = sum(hour for _, hour in hours if hour < 0.0)
    for worked, rate, word in (
        (more, figures.variation_rate, "added"),
        (less, figures.hour_rate, "saved"),
    ):
        if worked:
            how = f"{abs(worked):.1f} h {word} at {rate:g}"
            rows.append(Sum(what="work", how=how, amount=_cent(worked * rate)))
    sums, price = _topped(rows, figures, round_up=False)
    return Variation(
        since=since,
        parts=_parts_change(old, new),
        goods=goods,
        hours=hours,
        mass_kg=new.mass_kg - old.mass_kg,
        sums=sums,
        price=price,
        without_price=tuple(name for name, _ in goods if _price_of(name, new, old) is None),
    )


def payments(figures: ShopFigures, price: float) -> tuple[tuple[str, float], ...]:
    """Return what is paid when; the last payment takes the rounding: they make the price."""
    shares = [("before the work begins", figures.deposit)] if figures.deposit else []
    shares += list(figures.stages) or [("at handover", 1.0 - figures.deposit)]
    shares = [row for row in shares if row[1] > 0.0]
    paid = [_cent(price * share) for _, share in shares[:-1]]
    return tuple(
        zip((words for words, _ in shares), (*paid, _cent(price - sum(paid))), strict=True)
    )


def own_hours(
    estimated: Mapping[str, float], past: tuple[tuple[str, float, float], ...]
) -> dict[str, tuple[float, int]]:
    """Return the shop's own hours for the tasks that it has tracked.

    A task is scaled by the hours tracked over the hours once estimated for it, summed over the
    jobs, so that a large job counts for more than a small one.

    Args:
        estimated: Task and hours that the common ranges give for this job. [h]
        past: Task, hours estimated and hours tracked, for each finished task of each job. [h]

    Returns:
        Task, its hours, and how many jobs they come from.
    """
    found = {}
    for task, hours in estimated.items():
        rows = [(was, took) for name, was, took in past if name == task and was > 0.0]
        if rows:
            scale = sum(took for _, took in rows) / sum(was for was, _ in rows)
            found[task] = (round(hours * scale, 2), len(rows))
    return found


def _topped(
    rows: list[Sum], figures: ShopFigures, *, round_up: bool
) -> tuple[tuple[Sum, ...], float]:
    """Put markup and tax on top; a price is rounded up, a change to the cent."""
    rows = rows + _share_row("markup", _total(rows), "of the above", figures.markup)
    rows = rows + _share_row(figures.tax_name, _total(rows), "of the above", figures.tax)
    exact = _total(rows)
    price = exact
    if round_up:
        price = _cent(math.ceil(round(exact / figures.round_to, 6)) * figures.round_to)
        if price != exact:
            how = f"up to {figures.round_to:g}"
            rows = [*rows, Sum(what="rounding", how=how, amount=_cent(price - exact))]
    return tuple(rows), price


def _credit_row(credit: float, figures: ShopFigures) -> list[Sum]:
    if not credit:
        return []
    how = f"offcuts kept, at {100.0 * figures.offcut_credit:g} % of their sheets' price"
    return [Sum(what="credit", how=how, amount=-_cent(credit))]


def _share_row(what: str, of: float, words: str, share: float) -> list[Sum]:
    if not share:
        return []
    return [Sum(what=what, how=f"{100.0 * share:g} % {words}", amount=_cent(of * share))]


def _goods_change(old: Quote, new: Quote) -> tuple[tuple[tuple[str, float], ...], float]:
    """Return what is needed more or less, by name: bought or from the rack is all one here."""
    rows, money = [], 0.0
    before, now = _amounts(old), _amounts(new)
    for name in dict.fromkeys((*before, *now)):
        amount = now.get(name, 0.0) - before.get(name, 0.0)
        if amount:
            money += amount * (_price_of(name, new, old) or 0.0)
            rows.append((name, amount))
    return tuple(rows), money


def _amounts(quote: Quote) -> dict[str, float]:
    found: dict[str, float] = {}
    for good in quote.goods:
        found[good.name] = found.get(good.name, 0.0) + good.amount
    return found


def _price_of(name: str, *quotes: Quote) -> float | None:
    prices = (g.price for quote in quotes for g in quote.goods if g.name == name)
    return next((price for price in prices if price is not None), None)


def _hours_change(old: Quote, new: Quote) -> tuple[tuple[str, float], ...]:
    before = {row.what: row.hours for row in old.hours}
    now = {row.what: row.hours for row in new.hours}
    rows = (
        (what, round(now.get(what, 0.0) - before.get(what, 0.0), 2))
        for what in dict.fromkeys((*before, *now))
    )
    return tuple(row for row in rows if abs(row[1]) > _NO_HOURS)


def _parts_change(
    old: Quote, new: Quote
) -> tuple[tuple[QuotedPart | None, QuotedPart | None], ...]:
    """Return old and new of what differs.

    Marks are given anew when parts are added, so parts are told apart by what they are: a part
    that differs in size alone is told as one change, all others as gone or new.
    """
    before, now = _like_parts(old), _like_parts(new)
    rows = []
    for name in dict.fromkeys((*before, *now)):
        was, stands = before.get(name, {}), now.get(name, {})
        same = [size for size in was if size in stands]
        rows += [(was[s], stands[s]) for s in same if was[s].quantity != stands[s].quantity]
        gone = [part for size, part in was.items() if size not in stands]
        added = [part for size, part in stands.items() if size not in was]
        rows += zip_longest(gone, added)
    return tuple(rows)


def _like_parts(quote: Quote) -> dict[tuple[str, str], dict[Size, QuotedPart]]:
    """Return parts by name and material, then by size; those alike in all are counted together."""
    found: dict[tuple[str, str], dict[Size, QuotedPart]] = {}
    for part in quote.parts:
        like = found.setdefault((part.name, part.material), {})
        size = (part.length, part.width, part.thickness)
        held = like.get(size)
        like[size] = replace(part, quantity=part.quantity + (held.quantity if held else 0))
    return found


def _total(rows: list[Sum]) -> float:
    return _cent(sum(row.amount for row in rows))


def _cent(amount: float) -> float:
    return round(amount, 2) + 0.0
