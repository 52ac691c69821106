"""A quote, or a change to one, as a page that a customer signs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal

from stowright.book.typeset import typeset
from stowright.drawings.isometric import assembled
from stowright.drawings.svg import to_svg
from stowright.units import Unit, format_length

if TYPE_CHECKING:
    from stowright.model.design import Design
    from stowright.model.quote import Quote, QuotedPart, ShopFigures, Sum, Variation

__all__ = ["make_quote_sheet", "make_variation_sheet", "money"]

_SIGN = ("agreed: customer, date", "for the shop, date")
_NO_CLAIM = (
    "The plan's proofs hold within their stated limits; they are no crash test, no approval and no "
    "statement of roadworthiness. Local codes and licensed practice come first."
)


def make_quote_sheet(
    quote: Quote,
    design: Design,
    *,
    number: int | None = None,
    date: str = "",
    paper: Literal["a4", "letter"] = "a4",
    ink: Literal["colour", "black"] = "colour",
) -> bytes:
    """Return a quote as PDF. The same quote gives the same bytes.

    Args:
        quote: The quote.
        design: What it offers, for the picture.
        number: The quote's number within the job; None for a draft.
        date: Printed when given; nothing here knows the date.
        paper: The page.
        ink: Colour or plain black.

    Raises:
        BookError: If the page does not typeset.
    """
    figures = quote.figures
    content = _shared(quote, number=number, date=date, ink=ink, units=design.job.units) | {
        "heading": f"Quote {number}" if number else "Quote (draft)",
        "figure": True,
        "sections": [
            ["What you get", list(quote.scope)],
            ["Also included", list(figures.includes)],
            ["Not included", list(figures.excludes)],
            ["Mass", _masses(quote)],
        ],
        "price_head": "Price",
        "sums": _customer_sums(quote),
        "price": [quote.price_word, money(quote.price, figures)],
        "options": [
            [row.title, _more(row.difference, figures), f"{row.mass_kg:+.1f} kg"]
            for row in quote.options
        ],
        "payments": [[words, money(amount, figures)] for words, amount in quote.payments],
        "terms": _terms(quote),
        "sign": list(_SIGN),
        "parts": [],
    }
    picture = assembled(design, open_by=0.35, width_mm=174.0, height_mm=92.0, name="unit")
    figure = {"unit": to_svg(picture, ink=ink)}
    return typeset("quote", content, figure, inputs={"paper": paper})


def make_variation_sheet(
    change: Variation,
    quote: Quote,
    *,
    units: Unit,
    date: str = "",
    paper: Literal["a4", "letter"] = "a4",
    ink: Literal["colour", "black"] = "colour",
) -> bytes:
    """Return a change to a quote as PDF: parts, hours, mass and price, to be signed.

    Args:
        change: The change.
        quote: The job as it stands now.
        units: Unit of lengths.
        date: Printed when given.
        paper: The page.
        ink: Colour or plain black.

    Raises:
        BookError: If the page does not typeset.
    """
    figures = quote.figures
    content = _shared(quote, number=None, date=date, ink=ink, units=units) | {
        "heading": "Change to the work",
        "figure": False,
        "without_price": list(change.without_price),
        "sections": [
            ["Materials", [f"{name}: {amount:+g}" for name, amount in change.goods]],
            ["Hours", [f"{task}: {hours:+.1f} h" for task, hours in change.hours]],
            ["Mass", [f"empty unit {change.mass_kg:+.1f} kg"]],
        ],
        "parts": [_part_row(old, new, units) for old, new in change.parts],
        "price_head": f"Price of the change since {change.since}",
        "sums": [_sum_row(row, figures) for row in change.sums],
        "price": ["this change", _more(change.price, figures)],
        "options": [],
        "payments": [],
        "terms": [
            f"Hours that a change adds are charged at {money(figures.variation_rate, figures)}.",
            "The work goes on when this page is signed.",
            _NO_CLAIM,
        ],
        "sign": list(_SIGN),
    }
    return typeset("quote", content, {}, inputs={"paper": paper})


def money(amount: float, figures: ShopFigures) -> str:
    """Return an amount with the shop's currency, thousands set apart."""
    number = f"{abs(amount):,.2f}".replace(",", "\N{NO-BREAK SPACE}")
    sign = "\N{MINUS SIGN}" if amount < 0.0 else ""
    return f"{sign}{figures.currency}\N{NO-BREAK SPACE}{number}".strip("\N{NO-BREAK SPACE}")


def _shared(
    quote: Quote, *, number: int | None, date: str, ink: str, units: Unit
) -> dict[str, Any]:
    named = (
        ("for", quote.customer),
        ("vehicle", quote.vehicle),
        ("work", quote.title),
        ("date", date),
    )
    stamp = (quote.job, f"quote {number}" if number else "", date)
    return {
        "title": quote.title,
        "units": units,
        "ink": ink,
        "shop": quote.figures.name,
        "stamp": " · ".join(word for word in stamp if word),
        "head": [[name, value] for name, value in named if value],
        "without_price": list(quote.without_price),
        "findings": list(quote.findings),
    }


def _customer_sums(quote: Quote) -> list[list[str]]:
    """Return the sum as the customer sees it: without the rates, tax apart."""
    figures = quote.figures
    goods = {"goods", "credit", "sundries"}
    shown = {
        "materials, runners and fixings": sum(r.amount for r in quote.sums if r.what in goods),
        f"work, {round(sum(row.hours for row in quote.hours), 1):g} h": sum(
            r.amount for r in quote.sums if r.what == "work"
        ),
        "collect and deliver": sum(r.amount for r in quote.sums if r.what == "collect and deliver"),
    }
    tax = sum(r.amount for r in quote.sums if r.what == figures.tax_name)
    overhead = quote.price - tax - sum(shown.values())
    rows = [[what, money(amount, figures)] for what, amount in shown.items() if amount]
    rows += [["overheads", money(overhead, figures)]] if round(overhead, 2) else []
    rows += [[f"{figures.tax_name}, {100.0 * figures.tax:g} %", money(tax, figures)]] if tax else []
    return rows


def _sum_row(row: Sum, figures: ShopFigures) -> list[str]:
    return [f"{row.what}: {row.how}", money(row.amount, figures)]


def _masses(quote: Quote) -> list[str]:
    rows = [f"The empty unit adds {quote.mass_kg:.1f} kg to the vehicle."]
    for words, change, margin in quote.axles:
        left = "no limit is stated"
        if margin is not None:
            least = f"{margin:.0f} kg left in the worst case as listed"
            left = least if margin >= 0.0 else f"{-margin:.0f} kg over the limit in the worst case"
        rows.append(f"{words}: {change:+.1f} kg; {left}.")
    return rows


def _terms(quote: Quote) -> list[str]:
    figures = quote.figures
    rows = [f"This quote stands for {figures.valid_days} days from its date."]
    if figures.lead_weeks:
        rows.append(f"Handover {figures.lead_weeks:g} weeks after the first payment.")
    rows += [
        (
            "A change is priced on a page of its own and signed before the work goes on; hours it "
            f"adds are charged at {money(figures.variation_rate, figures)}."
        ),
        "Sizes are taken from the vehicle before cutting; parts of release B after the carcass.",
        *((figures.warranty,) if figures.warranty else ()),
        _NO_CLAIM,
    ]
    return rows


def _part_row(old: QuotedPart | None, new: QuotedPart | None, units: Unit) -> list[str]:
    name = "".join(dict.fromkeys(part.name for part in (old, new) if part is not None))
    return [name, _size(old, units), _size(new, units)]


def _size(part: QuotedPart | None, units: Unit) -> str:
    if part is None:
        return "none"
    sides = " × ".join(format_length(side, units) for side in (part.length, part.width))
    return f"{part.quantity} of {sides}, {part.material}"


def _more(amount: float, figures: ShopFigures) -> str:
    return f"+{money(amount, figures)}" if amount > 0.0 else money(amount, figures)
