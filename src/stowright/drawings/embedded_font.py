"""The drawing's own lettering inside an SVG that is shown as a picture of its own.

A page shows a drawing as an image, and an image may use no font of the page: its letters have to
come with it. Only the letters that are needed do.
"""

from __future__ import annotations

from base64 import b64encode
from functools import lru_cache
from html import unescape
from io import BytesIO
from re import finditer

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

from stowright.drawings.lettering import FAMILY, FONT_WEIGHTS, font_folder
from stowright.drawings.scene import Weight

__all__ = ["with_own_lettering"]

#: Letters that most drawings need: one set serves them all and is made once.
_USUAL = frozenset(chr(code) for code in (*range(0x20, 0x7F), *range(0xA0, 0x100))) | set("–−…½×")
_AFTER = "</title>"


def with_own_lettering(svg: str) -> str:
    """Return an SVG of this program with the letters that it uses inside it.

    Characters that the font does not have are shown in whatever the machine has.
    """
    used = frozenset(unescape("".join(found[1] for found in finditer(r">([^<]*)</text>", svg))))
    if not used or _AFTER not in svg:
        return svg
    letters = _USUAL | used
    faces = [
        f'@font-face{{font-family:"{FAMILY}";font-weight:{number};font-style:{slant};'
        f'src:url("data:font/ttf;base64,{_letters(weight, letters)}")}}'
        for weight, (_, number, slant) in FONT_WEIGHTS.items()
        if weight == "regular" or _asks(svg, number, slant)
    ]
    head, title, rest = svg.partition(_AFTER)
    return f"{head}{title}<style>{''.join(faces)}</style>{rest}"


def _asks(svg: str, number: str, slant: str) -> bool:
    return f'font-style="{slant}"' in svg if slant != "normal" else f'weight="{number}"' in svg


@lru_cache(maxsize=16)
def _letters(weight: Weight, letters: frozenset[str]) -> str:
    """Return a font file of these letters alone, in base64."""
    options = Options()
    options.layout_features = []  # widths are counted without kerning, and shown so
    options.hinting = False
    options.recalc_timestamp = False
    with TTFont(font_folder() / FONT_WEIGHTS[weight][0], recalcTimestamp=False) as font:
        cutter = Subsetter(options)
        cutter.populate(unicodes=[ord(letter) for letter in letters])
        cutter.subset(font)
        file = BytesIO()
        font.save(file)
    return b64encode(file.getvalue()).decode()
