"""The shop's hours as tracked, and the quotes that went out."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from stowright.errors import UnknownNameError, require_not_negative
from stowright.model.quote import Good, HoursRow, Quote, QuotedPart, ShopFigures, ShopOption, Sum

if TYPE_CHECKING:
    from stowright.shop.records import Records

__all__ = ["KeptQuote", "Ledger", "Worked", "quote_from"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """Hours of one task of one job: what was expected and what it took, in h."""

    job: str
    task: str
    estimated: float
    took: float


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptQuote:
    """A quote as it went out.

    Attributes:
        number: From 1 within the job.
        made: When, as the caller told it.
        quote: The quote.
    """

    number: int
    made: str
    quote: Quote


class Ledger:
    """Tracked hours and quotes of a jobs folder."""

    def __init__(self, records: Records) -> None:
        self._records = records

    def worked(self) -> tuple[Worked, ...]:
        """Return all tracked hours, by job and task."""
        found = self._records.rows(
            "select job, task, estimated, took from worked order by job, task"
        )
        return tuple(
            Worked(job=job, task=task, estimated=estimated, took=took)
            for job, task, estimated, took in found
        )

    def keep_hours(self, job: str, task: str, *, estimated: float, took: float) -> None:
        """Keep what a task took; told again, the newer figure stands.

        Raises:
            OutOfRangeError: If the hours are negative.
        """
        require_not_negative(took_h=took)
        with self._records.writing() as base:
            base.execute(
                "insert or replace into worked values (?, ?, ?, ?)", (job, task, estimated, took)
            )

    def quotes(self, job: str) -> tuple[KeptQuote, ...]:
        """Return the quotes of a job, the first one first."""
        found = self._records.rows(
            "select number, made, data from quote where job = ? order by number", (job,)
        )
        return tuple(
            KeptQuote(number=number, made=made, quote=quote_from(json.loads(data)))
            for number, made, data in found
        )

    def jobs(self) -> frozenset[str]:
        """Return the names of the jobs that were quoted."""
        return frozenset(str(row[0]) for row in self._records.rows("select job from quote"))

    def quote(self, job: str, number: int) -> KeptQuote:
        """Return one quote of a job.

        Raises:
            UnknownNameError: If it has no quote of that number.
        """
        kept = {each.number: each for each in self.quotes(job)}
        if number not in kept:
            raise UnknownNameError(f"quote of {job}", str(number), tuple(map(str, kept)))
        return kept[number]

    def keep_quote(self, job: str, data: Mapping[str, Any], *, made: str) -> int:
        """Keep a quote, as plain data, and return its number."""
        with self._records.writing() as base:
            last = base.execute("select max(number) from quote where job = ?", (job,)).fetchone()
            number = int(last[0] or 0) + 1
            text = json.dumps(data, ensure_ascii=False, sort_keys=True)
            base.execute("insert into quote values (?, ?, ?, ?)", (job, number, made, text))
        return number


def quote_from(data: Mapping[str, Any]) -> Quote:
    """Return a quote from its plain data."""
    figures = dict(data["figures"])
    for key in ("includes", "excludes"):
        figures[key] = tuple(figures[key])
    for key in ("stages", "assumed"):
        figures[key] = tuple(tuple(row) for row in figures[key])
    rest = {key: tuple(data[key]) for key in ("scope", "without_price", "findings")} | {
        key: data[key] for key in ("job", "title", "customer", "vehicle", "price", "mass_kg")
    }
    return Quote(
        **rest,
        goods=tuple(Good(**row) for row in data["goods"]),
        hours=tuple(HoursRow(**row) for row in data["hours"]),
        sums=tuple(Sum(**row) for row in data["sums"]),
        payments=tuple((what, amount) for what, amount in data["payments"]),
        axles=tuple((what, change, margin) for what, change, margin in data["axles"]),
        parts=tuple(QuotedPart(**row) for row in data["parts"]),
        options=tuple(ShopOption(**row) for row in data["options"]),
        figures=ShopFigures(**figures),
    )
