"""Line types, widths and colours: one table for every back end.

Line types are those of ISO 128-2: continuous, dashed, long-dashed dotted, long-dashed
double-dotted; wide lines are twice the width of narrow ones. The dash lengths as multiples of the
width (dash 12 d, gap 3 d, long dash 24 d, dot 0.5 d) are from memory. Widths are for A4 and A3, in
millimetres.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["FILLS", "PENS", "FillInk", "Ink", "Pen", "PenStyle"]

type Ink = Literal["colour", "black"]
type Pen = Literal[
    "visible",
    "hidden",
    "centre",
    "phantom",
    "cutting",
    "dimension",
    "hatching",
    "outline",
    "edge",
    "light",
    "emphasis",
    "cut",
    "lettering",
    "warning",
    "grain",
    "treated",
]
type Fill = Literal[
    "none",
    "paper",
    "ink",
    "tint",
    "wood",
    "wood-side",
    "wood-dark",
    "new",
    "new-side",
    "new-dark",
    "metal",
    "offcut",
    "warning",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class PenStyle:
    """How a pen draws.

    Attributes:
        width: On paper. [mm]
        dashes: Dash, gap, dash, gap … on paper; empty is continuous. [mm]
        colour: Hexadecimal, with colour ink.
        black: Hexadecimal, with plain black ink.
        layer: Layer in plain words, as CAD programs show it.
        iso: Line type in ISO 128-2 words.
    """

    width: float
    dashes: tuple[float, ...]
    colour: str
    black: str
    layer: str
    iso: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FillInk:
    """A fill's colour with either ink; an empty text is no fill."""

    colour: str
    black: str


_WIDE = 0.5
_NARROW = 0.25
_THIN = 0.18
_BLACK = "#000000"
_CONTINUOUS: tuple[float, ...] = ()
_DASHED = (12 * _NARROW, 3 * _NARROW)
_CHAIN = (24 * _NARROW, 3 * _NARROW, 0.5 * _NARROW, 3 * _NARROW)
_DOUBLE_CHAIN = (*_CHAIN, 0.5 * _NARROW, 3 * _NARROW)


def _pen(
    layer: str,
    iso: str,
    *,
    width: float = _NARROW,
    dashes: tuple[float, ...] = _CONTINUOUS,
    colour: str = _BLACK,
    black: str = _BLACK,
) -> PenStyle:
    return PenStyle(width=width, dashes=dashes, colour=colour, black=black, layer=layer, iso=iso)


PENS: dict[Pen, PenStyle] = {
    "visible": _pen("visible edges", "continuous wide", width=_WIDE),
    "outline": _pen("outlines", "continuous narrow", width=0.35),
    "edge": _pen("edges", "continuous narrow"),
    "hidden": _pen("hidden edges", "dashed narrow", dashes=_DASHED, colour="#3c4650"),
    "centre": _pen("centre lines", "long-dashed dotted narrow", dashes=_CHAIN, colour="#8a3324"),
    "phantom": _pen(
        "other positions",
        "long-dashed double-dotted narrow",
        dashes=_DOUBLE_CHAIN,
        colour="#4a4e8c",
    ),
    "cutting": _pen("cutting planes", "long-dashed dotted narrow", dashes=_CHAIN, colour="#8a3324"),
    "dimension": _pen("dimensions", "continuous narrow", width=_THIN, colour="#1f4e79"),
    "hatching": _pen("hatching", "continuous narrow", width=0.13, colour="#7a6a55"),
    "light": _pen("existing", "continuous narrow", width=_THIN, colour="#8c8c8c", black="#555555"),
    "emphasis": _pen("new parts", "continuous wide", width=0.7),
    "cut": _pen("cuts", "continuous wide", width=_WIDE, colour="#b03a2e"),
    "lettering": _pen("lettering", "continuous narrow", width=_NARROW),
    "warning": _pen("keep clear", "continuous narrow", width=0.35, colour="#b03a2e"),
    "treated": _pen(
        "edges to seal",
        "long-dashed dotted wide",
        width=_WIDE,
        dashes=(10 * _WIDE, 3 * _WIDE, 0.5 * _WIDE, 3 * _WIDE),
        colour="#2e7d5b",
    ),
    "grain": _pen("grain", "continuous narrow", width=_NARROW, colour="#7a5c2e"),
}

FILLS: dict[Fill, FillInk] = {
    "none": FillInk(colour="", black=""),
    "paper": FillInk(colour="#ffffff", black="#ffffff"),
    "ink": FillInk(colour=_BLACK, black=_BLACK),
    "tint": FillInk(colour="#f1f3f5", black="#ffffff"),
    "wood": FillInk(colour="#f6ead2", black="#ffffff"),
    "wood-side": FillInk(colour="#ead7b3", black="#ffffff"),
    "wood-dark": FillInk(colour="#d8bf93", black="#ffffff"),
    "new": FillInk(colour="#ffd98a", black="#ffffff"),
    "new-side": FillInk(colour="#f4c25c", black="#ffffff"),
    "new-dark": FillInk(colour="#dfa63a", black="#ffffff"),
    "metal": FillInk(colour="#dfe5ea", black="#ffffff"),
    "offcut": FillInk(colour="#eef3ea", black="#ffffff"),
    "warning": FillInk(colour="#f9e3df", black="#ffffff"),
}
