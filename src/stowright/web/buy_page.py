"""Buy: what to get, in packs, with own prices and what it comes to."""

from __future__ import annotations

import math
from itertools import groupby
from textwrap import shorten

from stowright.app.buying import Buying, BuyRow, buying
from stowright.web.fields import tick
from stowright.web.markup import Markup, h
from stowright.web.visitor import Event, Notice, Visitor
from stowright.web.work_parts import downloads, needed_plan

__all__ = ["ACTS", "buy_page"]


def buy_page(visitor: Visitor) -> Markup:
    """Return the page."""
    plan = needed_plan(visitor, "Buy")
    if isinstance(plan, Markup):
        return plan
    records = visitor.house.benches.records
    bought = buying(plan, records.prices())
    got = records.ticks(visitor.job)
    groups = [(name, list(rows)) for name, rows in groupby(bought.rows, key=lambda row: row.group)]
    return h(
        "div.form",
        h("h2", "Buy"),
        h("p.lead", "Quantities are what is placed in the unit, spares on top. Type your own "
          "prices; they are kept for this shop."),
        _total(bought),
        [_group(visitor, name, rows, got) for name, rows in groups],
        downloads(visitor, "book.pdf", "plan.json"),
    )  # fmt: skip


#: The columns; the wide ones are left out where the page is narrow: the sum stands on top.
_HEADS = (
    ("What", ""),
    ("It takes", "wide"),
    ("Get", ""),
    ("Price of one", ""),
    ("Total", "wide"),
    ("Got", ""),
)


def _total(bought: Buying) -> Markup:
    lacking = f" {bought.without_price} things have no price yet." if bought.without_price else ""
    return h("p.total", h("strong", f"Together {bought.total:.2f}."), lacking)


def _group(visitor: Visitor, name: str, rows: list[BuyRow], got: frozenset[str]) -> Markup:
    return h(
        "section",
        h("h3", name),
        h(
            "div.scroll",
            h(
                "table.buy",
                h("thead", h("tr", [h(f"th.{kind}" if kind else "th", each, scope="col")
                                    for each, kind in _HEADS])),
                h("tbody", [_row(visitor, row, got) for row in rows]),
            ),
            tabindex="0",
            role="region",
            aria_label=f"{name}: what to get",
        ),
    )  # fmt: skip


def _row(visitor: Visitor, row: BuyRow, got: frozenset[str]) -> Markup:
    key = f"buy:{row.name}"
    price = "" if row.price is None else f"{row.price:.2f}"
    used_for = shorten(", ".join(row.used_for), 90, placeholder=" …")
    standing = "" if row.own or row.price is None else "from the catalogue"
    return h(
        "tr",
        h("th", row.name, h("span.small", " ", used_for), scope="row"),
        h("td.wide", row.needed),
        h("td", row.get),
        h(
            "td",
            h("input.price", type="text", inputmode="decimal", value=price, data_act="price",
              data_name=row.name, data_key=f"price-{row.name}", autocomplete="off",
              aria_label=f"Price of one {row.unit} of {row.name}", disabled=not visitor.can_edit),
            h("span.small", standing),
        ),
        h("td.n.wide", "" if row.total is None else f"{row.total:.2f}"),
        h("td", tick("got", on=key in got, act="got", what=key, enabled=visitor.can_edit)),
        data_key=key,
    )  # fmt: skip


async def _price(visitor: Visitor, event: Event) -> None:
    if not visitor.can_edit:
        return
    said = event.value.strip().replace(",", ".")
    try:
        price = float(said) if said else None
    except ValueError:
        price = math.nan
    if price is not None and not 0.0 <= price < 1.0e7:
        visitor.notice = Notice(text=f"{event.value[:40]} is no price.", kind="wrong")
        return
    visitor.house.benches.records.keep_price(event.data["name"], price)
    visitor.notice = None
    await visitor.house.tell(visitor.job)


async def _got(visitor: Visitor, event: Event) -> None:
    if visitor.can_edit:
        visitor.house.benches.records.tick(visitor.job, event.data["what"], on=bool(event.value))
        await visitor.house.tell(visitor.job)


ACTS = {"price": _price, "got": _got}
