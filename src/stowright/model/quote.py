"""What a shop asks for a job: its figures, the lines of a quote, and what a change comes to."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = [
    "Good",
    "HoursRow",
    "Quote",
    "QuotedPart",
    "ShopFigures",
    "ShopOption",
    "Sum",
    "Variation",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopFigures:
    """A shop's own figures for its quotes; the program has no price of its own.

    Attributes:
        name: What stands at the head of a quote.
        currency: Printed before every sum.
        hour_rate: What an hour is charged at.
        variation_rate: What an hour of a change is charged at.
        sundries: Share of the goods for glue rags, blades, abrasives and the like.
        offcut_credit: Share of its sheet's price that a kept offcut is worth, by area.
        travel: To collect and deliver, for the whole job.
        markup: Share put on everything before tax.
        tax: Share put on top.
        tax_name: What the tax is called.
        round_to: The price is rounded up to a multiple of this.
        deposit: Share that is paid before the work begins.
        stages: What is paid at which stage after that: words and share; they and the deposit
            make one.
        valid_days: How long a quote stands.
        lead_weeks: Weeks from the deposit to the handover.
        includes: What is included besides what the plan says.
        excludes: What is not included.
        warranty: In the shop's words; empty for none.
        assumed: Which of these were not given, and where their value comes from.
    """

    hour_rate: float
    variation_rate: float
    sundries: float
    offcut_credit: float
    travel: float
    markup: float
    tax: float
    deposit: float
    valid_days: int
    name: str = ""
    currency: str = ""
    tax_name: str = "tax"
    round_to: float = 0.01
    stages: tuple[tuple[str, float], ...] = ()
    lead_weeks: float = 0.0
    includes: tuple[str, ...] = ()
    excludes: tuple[str, ...] = ()
    warranty: str = ""
    assumed: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Good:
    """Something that is bought for a job, or taken from the shop's own stock.

    Attributes:
        name: What it is.
        group: ``sheets``, ``screws`` …
        get: How many, in words.
        amount: How many: sheets, packs or pieces.
        price: For one; None when nobody has given one.
        total: Price times amount; None without a price.
        origin: ``buy`` or ``in hand``.
    """

    name: str
    group: str
    get: str
    amount: float
    price: float | None
    total: float | None
    origin: str = "buy"


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursRow:
    """Hours for one task.

    Attributes:
        what: The task.
        hours: How long it is expected to take. [h]
        basis: The shop's own tracked hours, or where the figure comes from.
    """

    what: str
    hours: float
    basis: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """One line of the sum that leads to the price.

    Attributes:
        what: What it is for.
        how: How it was worked out, in words.
        amount: What it comes to.
    """

    what: str
    how: str
    amount: float


@dataclass(frozen=True, slots=True, kw_only=True)
class QuotedPart:
    """A part as it stood when the quote was made, so that a change can be told later; in mm."""

    mark: str
    name: str
    material: str
    length: float
    width: float
    thickness: float
    quantity: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopOption:
    """What another form of the job would cost.

    Attributes:
        title: The other job's title.
        difference: What its price is more than this one's; negative for less.
        mass_kg: What its empty mass is more. [kg]
    """

    title: str
    difference: float
    mass_kg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Quote:
    """A fixed price for a job, and what it stands on.

    Attributes:
        job: The job's fingerprint.
        title: The job's title.
        customer: Who it is for.
        vehicle: Which vehicle, as the shop writes it.
        scope: What is built, a line each.
        goods: What is bought or taken from stock.
        hours: By task.
        sums: Goods, sundries, hours, travel, markup, tax: the price, line by line.
        price: The fixed price, tax included.
        without_price: Goods that have no price: while there are any, the price is not fixed.
        payments: What is paid when: words and amount.
        mass_kg: What the empty unit adds to the vehicle. [kg]
        axles: What it does to axles and total: name, change, margin left. [kg]
        findings: Proofs that fail or are not proved: they are told to the customer too.
        parts: The parts as they stood.
        figures: The shop's figures that were used.
        options: What other forms would cost.
    """

    job: str
    title: str
    customer: str
    vehicle: str
    scope: tuple[str, ...]
    goods: tuple[Good, ...]
    hours: tuple[HoursRow, ...]
    sums: tuple[Sum, ...]
    price: float
    without_price: tuple[str, ...]
    payments: tuple[tuple[str, float], ...]
    mass_kg: float
    axles: tuple[tuple[str, float, float | None], ...]
    findings: tuple[str, ...]
    parts: tuple[QuotedPart, ...]
    figures: ShopFigures
    options: tuple[ShopOption, ...] = ()

    @property
    def price_word(self) -> str:
        """Return what the price may be called: fixed only when everything in it has a price."""
        return "not fixed yet, without what has no price" if self.without_price else "fixed price"


@dataclass(frozen=True, slots=True, kw_only=True)
class Variation:
    """What a change to a quoted job comes to, to be signed before the work goes on.

    Attributes:
        since: Which quote it changes, in words.
        parts: Old and new of each part that differs, None where there was or is none.
        goods: Name and change of the amount bought, of each that differs.
        hours: Task and change of its hours. [h]
        mass_kg: Change of the empty mass. [kg]
        sums: The price of the change, line by line.
        price: What the change costs, tax included; negative when it saves.
        without_price: Goods of the change that have no price.
    """

    since: str
    parts: tuple[tuple[QuotedPart | None, QuotedPart | None], ...]
    goods: tuple[tuple[str, float], ...]
    hours: tuple[tuple[str, float], ...]
    mass_kg: float
    sums: tuple[Sum, ...]
    price: float
    without_price: tuple[str, ...]
