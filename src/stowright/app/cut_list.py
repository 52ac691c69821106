"""A list of parts laid out on stock given in words: ``2440x1220:price=58:count=3``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from stowright.app.cutting_csv import rows_from_csv
from stowright.errors import CuttingError, JobError, Mistake
from stowright.model.layout import SawSettings, StockSheet

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from stowright.cutting.effort import Progress
    from stowright.model.layout import CutPart, CuttingPlan, Method

__all__ = ["SHEET_WORDS", "SHEET_WORDS_HELP", "ListOptions", "cut_list", "stock_from_words"]

#: How one size of sheet is written.
SHEET_WORDS = "LxW[:price=P][:count=N]"
SHEET_WORDS_HELP = "length x width in mm, as 2440x1220 or 2440x1220:price=58:count=3"

_SIZE = re.compile(r"\s*(\d+(?:\.\d+)?)\s*[xX×*]\s*(\d+(?:\.\d+)?)\s*")
_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_MATERIAL = "sheet"


@dataclass(frozen=True, slots=True, kw_only=True)
class ListOptions:
    """How a list of parts is cut.

    Attributes:
        sheets: The sizes on offer, in words; see ``SHEET_WORDS_HELP``.
        kerf: Width lost to the blade, or the cutter's diameter. [mm]
        trim: Taken off each edge of a sheet, or the clamp margin. [mm]
        method: ``hand``, ``panel`` or ``cnc``.
        effort: ``quick``, ``normal`` or ``long``.
        time_limit_s: Ends the search early; None without limit. [s]
    """

    sheets: tuple[str, ...] = ("2440x1220",)
    kerf: float = 3.0
    trim: float = 10.0
    method: Method = "hand"
    effort: str = "quick"
    time_limit_s: float | None = None


def cut_list(
    text: str, options: ListOptions, *, progress: Callable[[Progress], None] | None = None
) -> CuttingPlan:
    """Return how a list of parts is cut.

    Args:
        text: The list, comma-separated, with the columns mark, length, width, quantity, grain.
        options: Stock, saw and effort.
        progress: Told how the search goes.

    Raises:
        JobError: If the stock or a column is written wrong.
        CuttingError: With a line for each row that cannot be cut and what would help.
    """
    from stowright.cutting import lay_out

    stock = stock_from_words(options.sheets)
    saw = SawSettings(method=options.method, kerf=options.kerf, trim=options.trim)
    rows, mistakes = rows_from_csv(text, material=_MATERIAL)
    _refuse_mistakes(rows, mistakes, stock, saw)
    return lay_out(
        (part for _, part in rows),
        stock,
        saw,
        effort=options.effort,
        time_limit_s=options.time_limit_s,
        progress=progress,
    )


def _refuse_mistakes(
    rows: list[tuple[int, CutPart]],
    mistakes: list[Mistake],
    stock: tuple[StockSheet, ...],
    saw: SawSettings,
) -> None:
    """Tell everything that is wrong with a list at once, in the order of its lines."""
    from stowright.cutting import why_not

    told = [(mistake.line, str(mistake)) for mistake in mistakes]
    for line, part in rows:
        told += [(line, f"line {line}: {reason}") for reason in why_not(part, stock, saw)]
    if told:
        raise CuttingError("\n".join(text for _, text in sorted(told, key=lambda entry: entry[0])))


def stock_from_words(words: Sequence[str]) -> tuple[StockSheet, ...]:
    """Return the stock for sizes in words.

    Raises:
        JobError: With a line for each that is written wrong, and when only some have a price.
    """
    mistakes: list[Mistake] = []
    stock = [
        sheet for text in dict.fromkeys(words) if (sheet := _sheet(text, mistakes)) is not None
    ]
    priced = [sheet.price is not None for sheet in stock]
    if any(priced) and not all(priced):
        found = ", ".join(sheet.id for sheet in stock if sheet.price is None)
        mistakes.append(_wrong(f"no price for {found}", "a price for every size, or for none"))
    ids = [sheet.id for sheet in stock]
    twice = sorted({name for name in ids if ids.count(name) > 1})
    mistakes += [_wrong(f"{name} twice", "each size once, with its count") for name in twice]
    if mistakes:
        raise JobError(tuple(mistakes))
    return tuple(stock)


def _sheet(text: str, mistakes: list[Mistake]) -> StockSheet | None:
    """Return one size of sheet; what is wrong with it goes to the mistakes."""
    size, *extras = text.split(":")
    match = _SIZE.fullmatch(size)
    if match is None or not (float(match[1]) > 0.0 and float(match[2]) > 0.0):
        mistakes.append(_wrong(text, SHEET_WORDS_HELP))
        return None
    length, width = float(match[1]), float(match[2])
    given = dict(_extras(extras, text, mistakes))
    price, count = given.get("price"), given.get("count")
    return StockSheet(
        id=f"{length:g} × {width:g}",
        material=_MATERIAL,
        length=length,
        width=width,
        price=price,
        copies=None if count is None else int(count),
    )


def _extras(
    extras: Sequence[str], text: str, mistakes: list[Mistake]
) -> Iterator[tuple[str, float]]:
    """Yield the price and the count that stand after a size."""
    for extra in extras:
        name, _, value = (cell.strip() for cell in extra.partition("="))
        if name not in {"price", "count"} or _NUMBER.fullmatch(value) is None:
            mistakes.append(_wrong(text, SHEET_WORDS_HELP))
        elif name == "count" and (not float(value).is_integer() or not float(value) >= 1.0):
            mistakes.append(_wrong(f"count={value} in {text}", "a whole number from 1"))
        else:
            yield name, float(value)


def _wrong(found: str, allowed: str) -> Mistake:
    return Mistake(field="--sheet", found=found, allowed=allowed)
