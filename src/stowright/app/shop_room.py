"""The shop around the jobs of a folder: its rack, prices, tracked hours and quotes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from difflib import get_close_matches
from typing import TYPE_CHECKING

from stowright.app.bench import RECORDS, now_text
from stowright.app.buying import articles
from stowright.app.plain import plain
from stowright.app.quoting import quote_of, sheet_prices
from stowright.errors import JobError, Mistake, OutOfRangeError, UnknownNameError
from stowright.model.job import SheetInHand
from stowright.shop.figures import SHOP_FILE, read_figures
from stowright.shop.ledger import Ledger
from stowright.shop.pricing import variation
from stowright.shop.records import Records
from stowright.shop.stockroom import ON_RACK, Draw, Rack, Stockroom, draw_of

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from stowright.model.catalogue import Catalogue
    from stowright.model.job import Job
    from stowright.model.plan import Plan
    from stowright.model.quote import Quote, ShopFigures, ShopOption, Variation
    from stowright.shop.ledger import Worked

__all__ = ["JobLine", "ShopRoom"]

#: No sheet is larger than this, nor are there more of one size. [mm]
_LONGEST = 10_000.0
_MOST_COPIES = 10_000


@dataclass(frozen=True, slots=True, kw_only=True)
class JobLine:
    """A job as the shop knows it.

    Attributes:
        name: Name of its file.
        quotes: How many quotes went out.
        price: The last one's price; None without a quote.
        quoted: The last quote's hours for the tasks tracked so far. [h]
        took: Hours tracked. [h]
    """

    name: str
    quotes: int
    price: float | None
    quoted: float
    took: float


def _article(name: str, known: Sequence[str], *, gone: bool) -> str:
    """Return an article as it is called.

    Raises:
        JobError: If none is called so, with the nearest names.
    """
    for called in (name, name.replace(" x ", " × ")):
        if called in known:
            return called
    near = get_close_matches(called.lower(), known, n=3, cutoff=0.5)
    allowed = (
        "an article whose price is kept; `stowright shop price` lists them"
        if gone
        else "an article as a list to buy names it, or --own for one of the shop's own"
    )
    hint = " or ".join(repr(one) for one in near)
    mistake = Mistake(field="article", found=repr(name), allowed=allowed, nearest=hint)
    raise JobError((mistake,))


class ShopRoom:
    """The records of one jobs folder, for as long as they are looked at."""

    def __init__(self, folder: Path, *, clock: Callable[[], str] = now_text) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        self.folder = folder
        self._clock = clock
        self._records = Records(folder / RECORDS)
        self.rack = Stockroom(self._records)
        self.ledger = Ledger(self._records)

    def close(self) -> None:
        """Let go of the records."""
        self._records.close()

    def figures(self) -> ShopFigures:
        """Return the shop's figures.

        Raises:
            JobError: With every mistake in the file, or where it should stand.
        """
        path = self.folder / SHOP_FILE
        if not path.is_file():
            allowed = f"{SHOP_FILE} beside the jobs; `stowright shop figures` writes one to fill in"
            raise JobError((Mistake(field=str(path), found="no such file", allowed=allowed),))
        return read_figures(path.read_bytes())

    def prices(self) -> dict[str, float]:
        """Return the shop's own prices by name."""
        return self._records.prices()

    def keep_price(self, name: str, price: float | None, *, shelf: Catalogue | None = None) -> None:
        """Keep a price, or take it away with None.

        Args:
            name: What costs it, as the list to buy names it; ``x`` between sizes serves for ``×``.
            price: Of one of it.
            shelf: The catalogue whose articles it may be; None keeps any name as the shop's own.

        Raises:
            OutOfRangeError: If it is negative or no number.
            JobError: If no list to buy has it, or no such price is kept.
        """
        if price is not None and not 0.0 <= price <= 1.0e9:
            raise OutOfRangeError("price", price, "0 to 1e9")
        if price is None:
            name = _article(name, tuple(self.prices()), gone=True)
        elif shelf is not None:
            name = _article(name, (*self.prices(), *articles(shelf)), gone=False)
        self._records.keep_price(name, price)

    def put(
        self, shelf: Catalogue, material: str, size: tuple[float, float], *, copies: int = 1,
        price: float | None = None, offcut: bool = False,
    ) -> Rack:  # fmt: skip
        """Put sheets on the rack and return them as they stand there.

        Args:
            shelf: The catalogue that knows the materials.
            material: Its name.
            size: Along the face grain, across it. [mm]
            copies: How many.
            price: What one is worth; None when nobody said.
            offcut: Whether it is an offcut.

        Raises:
            UnknownNameError: If no such material is on the shelf.
            OutOfRangeError: If a size, a count or a price is none.
        """
        shelf.material(material)
        for name, side in zip(("length", "width"), size, strict=True):
            if not 0.0 < side <= _LONGEST:
                raise OutOfRangeError(name, side, f"above 0 and at most {_LONGEST:g} mm")
        if not 1 <= copies <= _MOST_COPIES:
            raise OutOfRangeError("count", copies, f"1 to {_MOST_COPIES}")
        if price is not None and not 0.0 <= price <= 1.0e9:
            raise OutOfRangeError("price", price, "0 to 1e9")
        sheet = Rack(
            id="", material=material, length=size[0], width=size[1], copies=copies, price=price,
            offcut=offcut,
        )  # fmt: skip
        return self.rack.put((sheet,))[0]

    def on_rack(self, job: Job) -> Job:
        """Return the job with the sheets of the rack beside its own."""
        held = tuple(
            SheetInHand(
                id=f"{ON_RACK}{row.id}",
                material=row.material,
                length=row.length,
                width=row.width,
                thickness=(),
                defects=(),
                count=row.copies,
                price=row.price,
                offcut=row.offcut,
                only_in_hand=False,
            )
            for row in self.rack.rows()
        )
        return replace(job, sheets=(*job.sheets, *held))

    def draw(self, plan: Plan, *, name: str, credit: float = 0.0) -> Draw:
        """Return what a plan takes from the rack, and which offcuts come back."""
        prices = sheet_prices(plan, self.prices())
        return draw_of(plan.cutting, job=name, credit=credit, prices=prices)

    def quote(
        self, plan: Plan, *, name: str, customer: str = "", vehicle: str = "",
        options: tuple[ShopOption, ...] = (),
    ) -> Quote:  # fmt: skip
        """Return the quote for a plan at the shop's figures, prices and hours.

        The hours tracked on the job itself do not count: a quote stays what it was.
        """
        past = tuple(
            (row.task, row.estimated, row.took) for row in self.ledger.worked() if row.job != name
        )
        return quote_of(
            plan, self.figures(), prices=self.prices(), past=past, customer=customer,
            vehicle=vehicle, options=options,
        )  # fmt: skip

    def keep(self, quote: Quote, *, name: str) -> int:
        """Keep a quote as it goes out and return its number within the job."""
        return self.ledger.keep_quote(name, plain(quote), made=self._clock())

    def variation(self, quote: Quote, *, name: str, number: int) -> Variation:
        """Return what the job as it stands costs more than a quote that went out.

        Raises:
            UnknownNameError: If the job has no quote of that number.
        """
        kept = self.ledger.quote(name, number)
        since = f"quote {number} of {kept.made}"
        return variation(self.figures(), kept.quote, quote, since=since)

    def keep_hours(self, plan: Plan, task: str, took: float, *, name: str) -> None:
        """Keep what a task of a job took.

        Raises:
            UnknownNameError: If the job has no such task.
            OutOfRangeError: If the hours are negative.
        """
        tasks = {row.what: row.hours_shop for row in plan.making.tasks}
        if task not in tasks:
            raise UnknownNameError("task of this job", task, tuple(tasks))
        self.ledger.keep_hours(name, task, estimated=tasks[task], took=took)

    def jobs(self) -> tuple[JobLine, ...]:
        """Return the jobs of which there are quotes or hours, by name."""
        worked = self.ledger.worked()
        names = {row.job for row in worked} | self.ledger.jobs()
        return tuple(self._line(name, worked) for name in sorted(names))

    def _line(self, name: str, worked: tuple[Worked, ...]) -> JobLine:
        quotes = self.ledger.quotes(name)
        mine = [row for row in worked if row.job == name]
        tasks = {row.task for row in mine}
        hours = quotes[-1].quote.hours if quotes else ()
        return JobLine(
            name=name,
            quotes=len(quotes),
            price=quotes[-1].quote.price if quotes else None,
            quoted=sum(row.hours for row in hours if row.what in tasks),
            took=sum(row.took for row in mine),
        )
