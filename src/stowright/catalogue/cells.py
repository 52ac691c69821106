"""What a catalogue cell may hold, and how it is read."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any, Final, NoReturn

__all__ = [
    "COUNT",
    "FLAG",
    "FLAT_NAME",
    "NAME",
    "NOT_NEGATIVE",
    "PAIR",
    "PLACES",
    "POSITIVE",
    "POSITIVES",
    "TEXT",
    "TRIPLE",
    "Cell",
    "RefusedError",
    "nearest",
    "shown",
    "words",
]

_LARGEST: Final = 1.0e6
_NAME: Final = re.compile(r"[A-Za-z0-9][A-Za-z0-9 .x/-]{0,59}")
_FLAT_NAME: Final = re.compile(r"[a-z0-9][a-z0-9-]{0,59}")


class RefusedError(ValueError):
    """A cell's value is not one that its column takes; caught by whoever reads the row."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """What one column takes.

    Attributes:
        allowed: What is allowed, in words, for the one-line message.
        read: Turns the TOML value into the model's; raises ``RefusedError``.
        choices: The words that are allowed, for the nearest-name hint.
    """

    allowed: str
    read: Callable[[object], Any]
    choices: tuple[str, ...] = ()


def nearest(name: str, known: tuple[str, ...]) -> str:
    """Return the known name nearest to a misspelt one, or an empty text."""
    found = get_close_matches(name, known, n=1, cutoff=0.6)
    return found[0] if found else ""


def shown(value: object) -> str:
    """Return a value as it is printed in a message, cut to a line's length."""
    text = repr(value)
    return text if len(text) <= 60 else f"{text[:57]}..."


def _refuse(value: object) -> NoReturn:
    raise RefusedError(shown(value))


def _number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        _refuse(value)
    if not math.isfinite(value) or not abs(value) <= _LARGEST:
        _refuse(value)
    return float(value)


def _positive(value: object) -> float:
    number = _number(value)
    if not number > 0.0:
        _refuse(value)
    return number


def _not_negative(value: object) -> float:
    number = _number(value)
    if not number >= 0.0:
        _refuse(value)
    return number


def _count(value: object) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= _LARGEST:
        _refuse(value)
    return value


def _flag(value: object) -> bool:
    if not isinstance(value, bool):
        _refuse(value)
    return value


def _text(value: object) -> str:
    if not isinstance(value, str) or not value.strip() or len(value) > 600:
        _refuse(value)
    return value.strip()


def _name(value: object) -> str:
    if not isinstance(value, str) or not _NAME.fullmatch(value):
        _refuse(value)
    return value


def _flat_name(value: object) -> str:
    if not isinstance(value, str) or not _FLAT_NAME.fullmatch(value):
        _refuse(value)
    return value


def _positives(value: object) -> tuple[float, ...]:
    if not isinstance(value, list):
        _refuse(value)
    return tuple(_positive(item) for item in value)


def _several(count: int) -> Callable[[object], tuple[float, ...]]:
    def read(value: object) -> tuple[float, ...]:
        if not isinstance(value, list) or len(value) != count:
            _refuse(value)
        return tuple(_not_negative(item) for item in value)

    return read


def _places(value: object) -> tuple[tuple[float, float], ...]:
    if not isinstance(value, list):
        _refuse(value)
    found: list[tuple[float, float]] = []
    for item in value:
        if not isinstance(item, list) or len(item) != 2:
            _refuse(value)
        one, two = (_number(number) for number in item)
        found.append((one, two))
    return tuple(found)


def words(*choices: str) -> Cell:
    """Return a cell that takes one of a few words."""

    def read(value: object) -> str:
        if not isinstance(value, str) or value not in choices:
            _refuse(value)
        return value

    return Cell(allowed=" | ".join(choices), read=read, choices=choices)


POSITIVE: Final = Cell(allowed="a number above 0 (mm, kg, N)", read=_positive)
NOT_NEGATIVE: Final = Cell(allowed="a number, 0 or more (mm, kg, N)", read=_not_negative)
COUNT: Final = Cell(allowed="a whole number, 0 or more", read=_count)
FLAG: Final = Cell(allowed="true | false", read=_flag)
TEXT: Final = Cell(allowed="a text of up to 600 characters", read=_text)
NAME: Final = Cell(allowed="a name of letters, digits, spaces, - . / (60 at most)", read=_name)
FLAT_NAME: Final = Cell(
    allowed="a name of small letters, digits and - (60 at most, no dot)", read=_flat_name
)
POSITIVES: Final = Cell(allowed="a list of numbers above 0, or an empty list", read=_positives)
PAIR: Final = Cell(allowed="two numbers, 0 or more", read=_several(2))
TRIPLE: Final = Cell(allowed="three numbers, 0 or more", read=_several(3))
PLACES: Final = Cell(allowed="a list of places [along, across] in mm", read=_places)
