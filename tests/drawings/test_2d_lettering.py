"""Lettering: widths from the font itself, boxes that hold the ink, signs that the font has.

Outside source: the font's own tables, read here by another road (its glyph outlines).
"""

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.drawings.lettering import (
    DIAMETER,
    FONT_WEIGHTS,
    font_folder,
    font_size,
    has_glyphs,
    text_box,
    text_width,
    wrapped,
)
from stowright.drawings.scene import Text

FONT = TTFont(font_folder() / FONT_WEIGHTS["regular"][0])
LETTERS = st.text("abcdefgijklmnopqrstuvwxyzABCXYZ0123456789 ×.,/()–", min_size=1, max_size=24)


def ink(text):
    """Extent of a text's outlines in ems, from the glyphs: left, low, right, high."""
    cmap, glyphs = FONT.getBestCmap(), FONT.getGlyphSet()
    x, boxes = 0, []
    for letter in text:
        glyph = glyphs[cmap[ord(letter)]]
        pen = BoundsPen(glyphs)
        glyph.draw(pen)
        if pen.bounds:
            left, low, right, high = pen.bounds
            boxes.append((x + left, low, x + right, high))
        x += glyph.width
    if not boxes:
        return None
    lefts, lows, rights, highs = zip(*boxes, strict=True)
    return tuple(v / 1000 for v in (min(lefts), min(lows), max(rights), max(highs)))


def test_capitals_are_as_high_as_asked():
    # ISO 3098 counts lettering by the height of its capitals: an H at nominal 2.5 is 2.5 mm high.
    _, low, _, high = ink("H")
    # The font states 660 units and draws its H 656 high: 0.015 mm at this size.
    assert (high - low) * font_size(2.5) == pytest.approx(2.5, abs=0.016)


def test_width_is_the_sum_of_the_advances():
    # 0 and 1 both advance 497 units of 1000 in this font: figures are tabular.
    assert text_width("1400", height=0.66) == pytest.approx(4 * 0.497)


@settings(max_examples=60, deadline=None)
@given(LETTERS, st.floats(1.8, 10.0))
def test_the_box_holds_the_ink(text, height):
    found = ink(text)
    if found is None:
        return
    size = font_size(height)
    left, low, right, high = (v * size for v in found)
    box = text_box(Text(text=text, at=(0.0, 0.0), height=height))
    # Overhang of single letters over their advance is allowed: 0.04 em.
    assert box[0][0] <= left + 0.04 * size
    assert box[1][0] >= right - 0.04 * size
    assert box[0][1] <= low + 0.02 * size
    assert box[2][1] >= high - 0.02 * size


@pytest.mark.parametrize(
    ("anchor", "rise", "corner"),
    [("start", "base", (5, 7)), ("end", "base", (5 - 4 * 0.497, 7)), ("start", "top", (5, 6.34))],
)
def test_anchor_and_rise_move_the_box(anchor, rise, corner):
    box = text_box(Text(text="1400", at=(5, 7), height=0.66, anchor=anchor, rise=rise))
    assert box[0] == pytest.approx(corner)


def test_a_turned_box_turns_about_its_anchor():
    box = text_box(Text(text="1400", at=(5, 7), height=0.66, turn=90))
    xs, ys = zip(*box, strict=True)
    assert (min(ys), max(ys)) == pytest.approx((7, 7 + 4 * 0.497))
    assert (min(xs), max(xs)) == pytest.approx((5 - 0.66, 5))


def test_the_font_has_every_sign_that_drawings_use():
    for weight in FONT_WEIGHTS:
        assert has_glyphs(f"{DIAMETER} × – · … / ( ) ° ½ − ′ ″", weight=weight)


def test_the_proper_diameter_sign_is_not_in_the_font():
    # Were it there, DIAMETER should be it: ISO 129-1 writes U+2300.
    assert not has_glyphs("\u2300")


def test_wrapping_breaks_at_spaces_and_keeps_long_words():
    lines = wrapped("cut after reading unbreakablylongword here", width=20.0, height=2.5)
    assert " ".join(lines) == "cut after reading unbreakablylongword here"
    assert "unbreakablylongword" in lines
    fits = [line for line in lines if " " in line]
    assert all(text_width(line, height=2.5) <= 20.0 for line in fits)
    assert wrapped("", width=20.0, height=2.5) == ()
