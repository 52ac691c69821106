"""Lengths and masses at the edges: read from text, printed for people, snapped to a saw's grid.

Inside the program a length is a float in millimetres and a mass a float in kilograms. Text is read
in exact fractions (1 in = 25.4 mm exactly, the international yard and pound agreement of 1959), so
that ``47 1/16 in`` is 1195.3875 and nothing else.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from stowright.errors import JobError, Mistake, OutOfRangeError

__all__ = [
    "LENGTH_FORMS",
    "MASS_FORMS",
    "MM_PER_INCH",
    "Unit",
    "format_length",
    "format_mass",
    "in_job_unit",
    "inch_parts",
    "parse_length",
    "parse_length_exact",
    "parse_mass",
    "snap_down",
    "snap_nearest",
    "snap_up",
    "tidy",
]

#: The two units that a job can be written and printed in.
type Unit = Literal["mm", "in"]

MM_PER_INCH = 25.4
#: What a length may look like; used in refusals.
LENGTH_FORMS = (
    'a number in the job\'s unit, or a text with a unit: "1195 mm", "119.5 cm", "1.195 m", '
    '"47 1/16 in", "3\' 11 1/16\\""'
)
MASS_FORMS = 'a number of kilograms, or a text with a unit: "9.5 kg", "21 lb"'

_INCH = Fraction(254, 10)
#: Avoirdupois pound, exact by the same agreement. [kg]
_POUND = Fraction(45359237, 100000000)
_NEAR = 1e-6  # float dust: a millionth of a millimetre is no size
_DECIMALS = 9  # a length keeps a thousandth of that; exact for halves of an inch down to 1/256
_LONGEST_TEXT = 60
#: Between these a count of millionths is exact enough to say which is nearest.
_FEW, _MANY, _SURE = 1.0, 1.0e12, 0.49
_TOLD_AS_FRACTION = 2.0
#: Lengths told in millimetres, alone or as a size (``460 x 360 x 180 mm``); one in brackets
#: after inches has been told already.
_TOLD_MM = re.compile(
    r"(?<![\w.,])(?<! in \()(\d+(?:\.\d+)?(?: [x×] \d+(?:\.\d+)?)*) mm\b(?![/²³])"
)

_MM_PER: dict[str, Fraction] = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), Fraction(1)),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), Fraction(10)),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), Fraction(1000)),
    **dict.fromkeys(("in", "inch", "inches", '"', "''"), _INCH),
    **dict.fromkeys(("ft", "foot", "feet", "'"), 12 * _INCH),
}
_KG_PER: dict[str, Fraction] = {
    **dict.fromkeys(("", "kg", "kilogram", "kilograms"), Fraction(1)),
    **dict.fromkeys(("g", "gram", "grams"), Fraction(1, 1000)),
    **dict.fromkeys(("t", "tonne", "tonnes"), Fraction(1000)),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), _POUND),
}
_ONE_SIGN_FRACTIONS = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5",
    "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8",
    "⅞": "7/8", "⅐": "1/7", "⅑": "1/9", "⅒": "1/10",
}  # fmt: skip
_SAME_SIGNS = str.maketrans(
    {
        "″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "‘": "'", "⁄": "/", "−": "-",
        "–": "-", "\u00a0": " ", "\u2009": " ", "\u202f": " ",
        **{sign: f" {text}" for sign, text in _ONE_SIGN_FRACTIONS.items()},
    }
)  # fmt: skip

_NUMBER = r"(?:\d+\s*/\s*\d+|\d+(?:\s+|\s*-\s*)\d+\s*/\s*\d+|\d+\.\d*|\.\d+|\d+)"
_FEET_INCHES = re.compile(
    rf"(?P<feet>{_NUMBER})\s*(?:ft|foot|feet|')\s*-?\s*"
    rf"(?P<inches>{_NUMBER})\s*(?:in|inch|inches|\"|'')?",
    re.ASCII,
)
_PLAIN = re.compile(rf"(?P<number>{_NUMBER})\s*(?P<unit>[a-z]*|\"|''|')", re.ASCII)
_MIXED = re.compile(r"(?:(\d+)(?:\s+|\s*-\s*))?(\d+)\s*/\s*(\d+)", re.ASCII)


def parse_length(value: float | str, *, units: Unit) -> float:
    """Read a length. [mm].

    Args:
        value: A number in the job's unit, or a text with or without a unit of its own.
        units: The job's unit, for what has none of its own.

    Raises:
        JobError: With one mistake that says what was found and what a length may look like.
    """
    if units == "mm" and isinstance(value, float) and abs(value) < math.inf:
        return round(value, _DECIMALS)
    return _as_float(parse_length_exact(value, units=units))


def parse_length_exact(value: float | str, *, units: Unit) -> Fraction:
    """Read a length as an exact fraction of millimetres.

    A float is taken as the decimal that it prints as: 0.1 is one tenth.

    Raises:
        JobError: As ``parse_length``.
    """
    scale = _MM_PER[units]
    if isinstance(value, str):
        return _length_text(value, scale)
    return _plain_number(value, field="length", allowed=LENGTH_FORMS) * scale


def parse_mass(value: float | str) -> float:
    """Read a mass. [kg].

    Raises:
        JobError: With one mistake that says what was found and what a mass may look like.
    """
    if not isinstance(value, str):
        return _as_float(_plain_number(value, field="mass", allowed=MASS_FORMS))
    sign, text = _tidy(value)
    match = _PLAIN.fullmatch(text) if len(text) <= _LONGEST_TEXT else None
    number = _fraction(match["number"]) if match else None
    if match is None or number is None or match["unit"] not in _KG_PER:
        raise _refused("mass", repr(value[:_LONGEST_TEXT]), MASS_FORMS)
    return _as_float(sign * number * _KG_PER[match["unit"]])


def format_length(
    mm: float,
    units: Unit = "mm",
    *,
    with_unit: bool = False,
    decimal: bool = False,
    rounding: bool = False,
    parts: int = 32,
) -> str:
    """Print a length as the trade writes it.

    Millimetres go to 0.1 and drop a trailing zero (514.5, 1088). Inches go to the nearest
    ``1/parts`` as whole and fraction (``20 1/4``).

    Args:
        mm: The length. [mm]
        units: The unit to print in.
        with_unit: Add ``mm`` or ``in``.
        decimal: Add the decimal inches in brackets; nothing in a millimetre job.
        rounding: Add what the rounding left out, in millimetres: true = printed + rest.
        parts: Finest part of an inch; a power of two.

    Raises:
        OutOfRangeError: If the length is not finite.
    """
    _require_finite(mm)
    if units == "mm":
        tenths = _half_up(mm * 10.0)
        shown, text = tenths / 10.0, _without_zeros(f"{tenths / 10.0:.1f}")
    else:
        sign, whole, top, bottom = inch_parts(mm, parts=parts)
        shown = sign * (whole + top / bottom) * MM_PER_INCH
        text = _inch_text(sign, whole, top, bottom)
    unit = f" {units}" if with_unit else ""
    extra = f" ({mm / MM_PER_INCH:.3f})" if decimal and units == "in" else ""
    return text + unit + extra + (_rest(mm - shown) if rounding else "")


def in_job_unit(text: str, units: Unit) -> str:
    """Return a sentence with its millimetres told in the job's own unit.

    Inches stand before the millimetres that they were rounded from, which stay in brackets: a
    limit told to the nearest 1/32 could be on the wrong side of itself.

    Args:
        text: A sentence with lengths such as ``0.8 mm`` or ``460 x 360 mm``.
        units: The unit that the job is printed in; ``mm`` leaves the sentence as it is.
    """
    if units == "mm":
        return text
    return _TOLD_MM.sub(_with_inches, text)


def _with_inches(found: re.Match[str]) -> str:
    sizes = re.split(r" [x×] ", found[1])
    return f"{' × '.join(_inches_told(float(size)) for size in sizes)} in ({found[0]})"


def _inches_told(mm: float) -> str:
    """Return a fraction, or decimals where 1/32 in is too coarse to tell anything."""
    return f"{mm / MM_PER_INCH:.3f}" if 0.0 < mm < _TOLD_AS_FRACTION else format_length(mm, "in")


def format_mass(kg: float, *, with_unit: bool = True) -> str:
    """Print a mass to 0.1 kg; masses are in kilograms in every job.

    Raises:
        OutOfRangeError: If the mass is not finite.
    """
    if not abs(kg) < math.inf:
        raise OutOfRangeError("kg", kg, "a finite number")
    return _without_zeros(f"{_half_up(kg * 10.0) / 10.0:.1f}") + (" kg" if with_unit else "")


def inch_parts(mm: float, *, parts: int = 32) -> tuple[int, int, int, int]:
    """Split a length into sign, whole inches and a reduced fraction, to the nearest 1/parts.

    Halves are rounded away from zero. The fraction is ``(0, 1)`` for a whole number of inches.
    """
    _require_finite(mm)
    count = abs(_half_up(mm / MM_PER_INCH * parts))
    whole, top = divmod(count, parts)
    divisor = math.gcd(top, parts)
    sign = -1 if mm < 0.0 and count else 1
    return sign, whole, top // divisor, parts // divisor


def tidy(mm: float) -> float:
    """Return a length to a millionth of a millimetre: ``round(mm, 6)`` to the last bit, but sooner.

    Sixty-fourths of a millimetre have six decimals at most. Others are counted in millionths, which
    one division turns into the nearest float; what lies near half of one, or near nothing (for its
    sign), is left to ``round``.
    """
    if (mm * 64.0).is_integer():
        return mm
    exact = mm * 1.0e6
    if not _FEW < abs(exact) < _MANY:
        return round(mm, 6)
    count = math.floor(exact + 0.5)
    return count / 1.0e6 if abs(exact - count) < _SURE else round(mm, 6)


@lru_cache(maxsize=4096)
def snap_down(mm: float, grid: float) -> float:
    """Return the greatest multiple of the grid that is not above the length. [mm].

    A length within a millionth of a millimetre of a multiple is that multiple. Grid 0 means that
    any size can be cut: only float dust is taken off.

    Raises:
        OutOfRangeError: If the length is not finite or the grid is negative or not finite.
    """
    return _snapped(mm, grid, math.floor)


def snap_up(mm: float, grid: float) -> float:
    """Return the least multiple of the grid that is not below the length; see ``snap_down``."""
    return _snapped(mm, grid, math.ceil)


def snap_nearest(mm: float, grid: float) -> float:
    """Return the nearest multiple of the grid, halves away from zero; see ``snap_down``."""
    return _snapped(mm, grid, _half_up)


def _snapped(mm: float, grid: float, rounded: Callable[[float], int]) -> float:
    if not abs(mm) < math.inf:
        raise OutOfRangeError("mm", mm, "a finite number")
    if grid == 0.0:
        return round(mm, 6) + 0.0  # + 0.0: no minus zero in print
    top, bottom = _grid_ratio(grid)
    count = mm * bottom / top
    whole = round(count)
    if abs(mm - whole * top / bottom) > _NEAR:
        whole = rounded(count)
    return whole * top / bottom  # one division of integers: the nearest float, every time


@lru_cache(maxsize=64)
def _grid_ratio(grid: float) -> tuple[int, int]:
    """Return the grid as a fraction of integers, taken as the decimal that it prints as."""
    if not 0.0 < grid < math.inf:
        raise OutOfRangeError("grid", grid, "zero or more and finite")
    return Fraction(repr(float(grid))).as_integer_ratio()


def _half_up(value: float) -> int:
    """Round to a whole number, halves away from zero, blind to float dust."""
    whole = math.floor(round(abs(value), 6) + 0.5)
    return -whole if value < 0.0 else whole


def _require_finite(mm: float) -> None:
    if not abs(mm) < math.inf:
        raise OutOfRangeError("mm", mm, "a finite number")


def _length_text(value: str, bare_scale: Fraction) -> Fraction:
    sign, text = _tidy(value)
    if len(text) <= _LONGEST_TEXT:
        if (match := _FEET_INCHES.fullmatch(text)) is not None:
            feet, inches = _fraction(match["feet"]), _fraction(match["inches"])
            if feet is not None and inches is not None:
                return sign * (12 * feet + inches) * _INCH
        elif (match := _PLAIN.fullmatch(text)) is not None:
            number = _fraction(match["number"])
            scale = _MM_PER.get(match["unit"]) if match["unit"] else bare_scale
            if number is not None and scale is not None:
                return sign * number * scale
    raise _refused("length", repr(value[:_LONGEST_TEXT]), LENGTH_FORMS)


def _tidy(value: str) -> tuple[int, str]:
    """Return the sign and the rest in one spelling of quotes, fractions and spaces."""
    text = value.translate(_SAME_SIGNS).strip().lower()
    return (-1, text[1:].lstrip()) if text.startswith("-") else (1, text.removeprefix("+").lstrip())


def _fraction(text: str) -> Fraction | None:
    """Return ``47``, ``47.5``, ``1/16``, ``47 1/16`` or ``47-1/16``; None for a part of zero."""
    mixed = _MIXED.fullmatch(text)
    if mixed is None:
        return Fraction(text)
    whole, top, bottom = int(mixed[1] or 0), int(mixed[2]), int(mixed[3])
    return whole + Fraction(top, bottom) if bottom else None


def _plain_number(value: float, *, field: str, allowed: str) -> Fraction:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise _refused(field, repr(value)[:_LONGEST_TEXT], allowed)
    if isinstance(value, float) and not abs(value) < math.inf:
        raise _refused(field, str(value), allowed)
    return Fraction(repr(value)) if isinstance(value, float) else Fraction(value)


def _as_float(value: Fraction) -> float:
    """Return the nearest float at the kept precision; an absurd size becomes infinite."""
    if abs(value) < 10**15:
        return round(float(value), _DECIMALS)
    return math.inf if value > 0 else -math.inf


def _refused(field: str, found: str, allowed: str) -> JobError:
    return JobError((Mistake(field=field, found=found, allowed=allowed),))


def _without_zeros(text: str) -> str:
    text = text.removesuffix(".0")
    return "0" if text == "-0" else text


def _inch_text(sign: int, whole: int, top: int, bottom: int) -> str:
    minus = "-" if sign < 0 else ""
    if not top:
        return f"{minus}{whole}"
    return f"{minus}{whole} {top}/{bottom}" if whole else f"{minus}{top}/{bottom}"


def _rest(mm: float) -> str:
    """Say what rounding left out, to 0.01 mm; nothing when that is nothing."""
    rest = round(mm, 2)
    if rest == 0.0:
        return ""
    return f" {'+' if rest > 0.0 else '−'} {_without_zeros(f'{abs(rest):.2f}')} mm"
