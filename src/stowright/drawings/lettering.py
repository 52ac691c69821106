"""Lettering with known boxes: widths come from the font's own tables.

Heights are heights of capitals (ISO 3098 counts lettering so); the font size follows from the
font's capital height, 0.66 of an em. Kerning, which mostly tightens, is left out, so a box is a
little on the wide side.
"""

from __future__ import annotations

from functools import cache
from math import cos, radians, sin
from pathlib import Path

import font_source_sans_pro
from fontTools.ttLib import TTFont

from stowright.drawings.scene import Text, Weight
from stowright.model.geometry import Point2

__all__ = [
    "DIAMETER",
    "FAMILY",
    "FONT_WEIGHTS",
    "font_folder",
    "font_size",
    "hangs",
    "text_box",
    "text_width",
    "wrapped",
]

FAMILY = "Source Sans Pro"
#: The sign for diameter. The font has no U+2300, and a sign from another font would break the
#: known widths; the letter Ø has the sign's shape.
DIAMETER = "Ø"
FONT_WEIGHTS: dict[Weight, tuple[str, str, str]] = {
    # file, font-weight, font-style
    "regular": ("SourceSansPro-Regular.ttf", "400", "normal"),
    "bold": ("SourceSansPro-Bold.ttf", "700", "normal"),
    "italic": ("SourceSansPro-It.ttf", "400", "italic"),
}
_CAPITAL_EM = 0.66
_ASCENT = 1.09  # of the capital height: b, d, f, h, k, l and brackets
_DESCENT = 0.33  # of the capital height: g, j, p, q, y and brackets
_DEEP = frozenset("gjpqy,;()[]{}/|_Q")
_LOW = frozenset("acegmnopqrsuvwxyz.,:;-–_~·…")  # nothing above the x-height


def font_folder() -> Path:
    """Return the folder of the font's files, for typesetters."""
    return Path(font_source_sans_pro.font_directory)


@cache
def _advances(weight: Weight) -> tuple[dict[int, int], int]:
    with TTFont(font_folder() / FONT_WEIGHTS[weight][0], lazy=True) as font:
        metrics = font["hmtx"]
        table = {code: metrics[name][0] for code, name in font.getBestCmap().items()}
        return table, font["head"].unitsPerEm


def has_glyphs(text: str, *, weight: Weight = "regular") -> bool:
    """Return whether the font has every character of a text."""
    table, _ = _advances(weight)
    return all(ord(letter) in table for letter in text)


@cache
def _width_em(text: str, weight: Weight) -> float:
    table, per_em = _advances(weight)
    return sum(table.get(ord(letter), per_em) for letter in text) / per_em


def font_size(height: float) -> float:
    """Return the font size (one em) whose capitals are this high. [mm]."""
    return height / _CAPITAL_EM


def text_width(text: str, *, height: float, weight: Weight = "regular") -> float:
    """Return the width of a line of lettering. [mm]."""
    return _width_em(text, weight) * font_size(height)


def hangs(text: str) -> bool:
    """Return whether a letter of a text goes below the base line."""
    return bool(set(text) & _DEEP)


def text_box(text: Text) -> tuple[Point2, Point2, Point2, Point2]:
    """Return the corners of a text's box on paper, counter-clockwise from its lower left.

    The box holds the ink: it goes below the base line only where a letter does.
    """
    width = text_width(text.text, height=text.height, weight=text.weight)
    left = {"start": 0.0, "middle": -width / 2.0, "end": -width}[text.anchor]
    base = {"base": 0.0, "middle": -text.height / 2.0, "top": -text.height}[text.rise]
    letters = set(text.text)
    low = base - (_DESCENT * text.height if letters & _DEEP else 0.0)
    high = base + text.height * (0.75 if letters <= _LOW else _ASCENT)
    if text.text.replace(".", "").isdigit():
        high = base + text.height
    return _turned(text, ((left, low), (left + width, low), (left + width, high), (left, high)))


def _turned(
    text: Text, corners: tuple[Point2, Point2, Point2, Point2]
) -> tuple[Point2, Point2, Point2, Point2]:
    c, s = cos(radians(text.turn)), sin(radians(text.turn))
    x, y = text.at
    a, b, d, e = ((x + c * u - s * v, y + s * u + c * v) for u, v in corners)
    return (a, b, d, e)


def wrapped(
    text: str, *, width: float, height: float, weight: Weight = "regular"
) -> tuple[str, ...]:
    """Break a text into lines no wider than ``width``, at spaces; a long word stays whole."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        trial = f"{line} {word}" if line else word
        if line and text_width(trial, height=height, weight=weight) > width:
            lines.append(line)
            line = word
        else:
            line = trial
    return (*lines, line) if line else tuple(lines)
