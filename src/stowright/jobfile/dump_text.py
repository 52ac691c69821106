"""Plain TOML text for tables of values; lengths go out in the job's own unit."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from stowright.units import MM_PER_INCH, Unit, parse_length

__all__ = ["Length", "Table", "key_text", "length_text", "number_text", "table_text", "value_text"]

#: Keys and values of one table; a value of None is left out.
type Table = Mapping[str, Any]

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_INCH_PARTS = 256  # finer than any rule; a power of two, so the decimal inches are exact
_ESCAPES = {
    "\\": "\\\\", '"': '\\"', "\b": "\\b", "\t": "\\t", "\n": "\\n", "\f": "\\f", "\r": "\\r",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Length:
    """A length in millimetres, to be written in the job's unit."""

    mm: float


def table_text(header: str, table: Table, units: Unit) -> str:
    """Return a table under its header, a key to a line."""
    lines = [header] if header else []
    for key, value in table.items():
        if value is not None:
            lines.append(f"{key_text(key)} = {value_text(value, units)}")
    return "\n".join(lines) + "\n"


def key_text(key: str) -> str:
    """Return a key, quoted only where it must be."""
    return key if _BARE.fullmatch(key) else _text(key)


def value_text(value: Any, units: Unit) -> str:
    """Return a value as TOML, lists and tables on one line."""
    match value:
        case Length():
            text = length_text(value.mm, units)
        case bool():
            text = "true" if value else "false"
        case str():
            text = _text(value)
        case float():
            text = number_text(value)
        case Mapping():
            given = {key: each for key, each in value.items() if each is not None}
            pairs = (f"{key_text(key)} = {value_text(each, units)}" for key, each in given.items())
            text = f"{{{', '.join(pairs)}}}"
        case list() | tuple():
            text = f"[{', '.join(value_text(each, units) for each in value)}]"
        case _:
            text = str(value)
    return text


def length_text(mm: float, units: Unit) -> str:
    """Return a length that reads back to the same millimetres.

    In an inch job that is a plain number of inches where the length lies on a 1/256 of an inch,
    else a text in millimetres.
    """
    if units == "mm":
        return number_text(mm)
    inches = round(mm / MM_PER_INCH * _INCH_PARTS) / _INCH_PARTS
    if parse_length(inches, units="in") == mm:
        return number_text(inches)
    return f'"{number_text(mm)} mm"'


def number_text(value: float) -> str:
    """Return a number without an exponent and without a trailing ``.0``."""
    text = repr(float(value))
    if "e" in text:
        text = f"{value:.12f}".rstrip("0")
    text = text.removesuffix(".0").removesuffix(".")
    return "0" if text == "-0" else text


def _text(value: str) -> str:
    escaped = "".join(_ESCAPES.get(sign, sign) for sign in value)
    return (
        '"'
        + "".join(
            sign if sign.isprintable() or sign >= "\u00a0" else f"\\u{ord(sign):04x}"
            for sign in escaped
        )
        + '"'
    )
