"""The shop's own figures, ``shop.toml`` beside its jobs: rates, shares and terms of a quote.

Money is the shop's own input: nothing but its shares has a default, and each default is told.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from difflib import get_close_matches
from typing import Any, Final

from stowright.errors import JobError, Mistake
from stowright.jobfile.source import Source, read_source
from stowright.model.quote import ShopFigures

__all__ = ["SHOP_FILE", "STARTER", "read_figures"]

#: Stands beside the jobs of a shop.
SHOP_FILE: Final = "shop.toml"

#: Shares that a shop has not set itself, and where they come from.
_USUAL: Final[Mapping[str, tuple[float, str]]] = {
    "sundries": (0.15, "10 to 20 % of the goods (a cabinet pricing guide); the middle"),
    "deposit": (0.5, "half before the work begins (a dealer's sale guide)"),
    "valid_days": (30, "common practice"),
    "offcut_credit": (0.0, "no credit: whole sheets are charged (a cabinet pricing guide)"),
    "markup": (0.0, "none"),
    "tax": (0.0, "none"),
    "travel": (0.0, "none"),
}

_LONGEST = 400
_MOST_TEXTS = 40

type _Check = Callable[[Any], str]


def read_figures(text: str | bytes) -> ShopFigures:
    """Read a shop's figures.

    Args:
        text: TOML: the keys of ``ShopFigures``, ``hour_rate`` at the least; ``stages`` is a list
            of tables with ``when`` and ``share``.

    Raises:
        JobError: With every mistake, each with its line.
    """
    source = read_source(text)
    mistakes = _mistakes(source)
    if mistakes:
        raise JobError(tuple(mistakes))
    given = {key: value for key, value in source.tables.items() if key != "format"}
    assumed = tuple(
        (f"{key} = {default:g}", why) for key, (default, why) in _USUAL.items() if key not in given
    )
    return ShopFigures(
        **{
            "variation_rate": float(str(given["hour_rate"])),
            **{
                key: int(value) if key == "valid_days" else value
                for key, (value, _) in _USUAL.items()
            },
            **{key: _value(key, value) for key, value in given.items()},
        },
        assumed=assumed,
    )


def _value(key: str, value: Any) -> Any:
    if key == "stages":
        return tuple((str(row["when"]), float(row["share"])) for row in value)
    if isinstance(value, list):
        return tuple(value)
    if key == "valid_days":
        return int(value)
    return value if isinstance(value, str) else float(value)


def _mistakes(source: Source) -> list[Mistake]:
    found = []
    for key, value in source.tables.items():
        if key not in _KEYS:
            found.append(_unknown(source, key))
        elif said := _KEYS[key](value):
            found.append(_at(source, key, _found(value), said))
    if "hour_rate" not in source.tables:
        allowed = "what an hour is charged at, above 0"
        found.append(Mistake(field="hour_rate", found="nothing", allowed=allowed))
    found += [] if found else _shares(source)
    return sorted(found, key=lambda each: (each.line or 10**9, each.column))


def _shares(source: Source) -> list[Mistake]:
    """Deposit and stages are the whole price."""
    stages = source.tables.get("stages")
    if not isinstance(stages, list) or not stages:
        return []
    deposit = source.tables.get("deposit", _USUAL["deposit"][0])
    whole = float(str(deposit)) + sum(float(row["share"]) for row in stages)
    if abs(whole - 1.0) <= 1.0e-6:
        return []
    return [_at(source, "stages", f"shares that make {whole:g} with the deposit", "1 in all")]


def _unknown(source: Source, key: str) -> Mistake:
    line, column = source.positions.of_key((key,))
    near = get_close_matches(key, _KEYS, n=1)
    return Mistake(
        field=key[:60],
        found="a key that no shop file has",
        allowed=", ".join(k for k in _KEYS if k != "format"),
        line=line,
        column=column,
        nearest=near[0] if near else "",
    )


def _at(source: Source, key: str, found: str, allowed: str) -> Mistake:
    line, column = source.positions.of_value((key,))
    return Mistake(field=key, found=found, allowed=allowed, line=line, column=column)


def _found(value: object) -> str:
    if isinstance(value, dict | list):
        return "a table" if isinstance(value, dict) else f"a list of {len(value)}"
    text = f'"{value}"' if isinstance(value, str) else str(value).lower()
    return text if len(text) <= 60 else f"{text[:57]}…"


def _text(value: Any) -> str:
    good = isinstance(value, str) and len(value) <= _LONGEST
    return "" if good else f"a text of at most {_LONGEST} characters"


def _texts(value: Any) -> str:
    good = isinstance(value, list) and len(value) <= _MOST_TEXTS and not any(map(_text, value))
    return "" if good else f"a list of at most {_MOST_TEXTS} texts"


def _number(low: float, high: float, *, above: bool = False) -> _Check:
    least = f"above {low:g} and at most" if above else f"from {low:g} to"
    allowed = f"a number {least} {high:g}"

    def check(value: Any) -> str:
        if isinstance(value, bool) or not isinstance(value, int | float):
            return allowed
        number = float(value) if abs(value) < 1e300 else math.inf
        good = low <= number <= high and (number > low or not above)
        return "" if good else allowed

    return check


def _whole(low: int, high: int) -> _Check:
    def check(value: Any) -> str:
        good = isinstance(value, int) and not isinstance(value, bool) and low <= value <= high
        return "" if good else f"a whole number from {low} to {high}"

    return check


def _stages(value: Any) -> str:
    share = _number(0.0, 1.0)
    good = (
        isinstance(value, list)
        and len(value) <= _MOST_TEXTS
        and all(
            isinstance(row, dict)
            and row.keys() == {"when", "share"}
            and not _text(row["when"])
            and not share(row["share"])
            for row in value
        )
    )
    return "" if good else 'a list of { when = "in words", share = 0 to 1 }'


_MOST_MONEY = 1.0e9
_KEYS: Final[Mapping[str, _Check]] = {
    "format": _whole(1, 1),
    "name": _text,
    "currency": _text,
    "hour_rate": _number(0.0, _MOST_MONEY, above=True),
    "variation_rate": _number(0.0, _MOST_MONEY, above=True),
    "sundries": _number(0.0, 1.0),
    "offcut_credit": _number(0.0, 1.0),
    "travel": _number(0.0, _MOST_MONEY),
    "markup": _number(0.0, 5.0),
    "tax": _number(0.0, 1.0),
    "tax_name": _text,
    "round_to": _number(0.0, 10_000.0, above=True),
    "deposit": _number(0.0, 1.0),
    "stages": _stages,
    "valid_days": _whole(1, 3650),
    "lead_weeks": _number(0.0, 520.0),
    "includes": _texts,
    "excludes": _texts,
    "warranty": _text,
}

STARTER: Final = """\
# The shop's own figures: quotes are made from these. Every amount of money is yours to give;
# a share that is left out is told with where its usual value comes from.
format = 1
name = ""                  # stands at the head of a quote
currency = ""              # printed before each sum
hour_rate = 0              # what an hour is charged at
# variation_rate = 0       # an hour of a change; else the hour's rate
# sundries = 0.15          # share of the goods: blades, abrasives, rags, tape
# offcut_credit = 0.0      # share of its sheet's price that a kept offcut is worth
# travel = 0               # to collect and deliver, for the job
# markup = 0.0             # share put on everything
# tax = 0.0                # share put on top
# tax_name = "tax"
# round_to = 1             # the price is rounded up to a multiple of this
# deposit = 0.5            # before the work begins
# stages = [{ when = "at handover", share = 0.5 }]
# valid_days = 30
# lead_weeks = 0
# includes = []
# excludes = []
# warranty = ""
"""
