"""Letters of a drawing inside its own SVG, for pages that show it as an image."""

import re
from base64 import b64decode
from io import BytesIO

from fontTools.ttLib import TTFont

from stowright.drawings.embedded_font import with_own_lettering
from stowright.drawings.lettering import font_folder

SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg"><title>Panel &lt;/style&gt;</title>'
    '<text x="0" y="0">514.5 × Ø8 &amp; 3°</text>{more}</svg>'
)


def fonts(svg):
    return [TTFont(BytesIO(b64decode(data))) for data in re.findall(r'base64,([^"]+)"', svg)]


def test_the_letters_come_with_the_drawing_in_their_own_widths():
    shown = with_own_lettering(SVG.format(more=""))
    assert shown.count("<style>") == shown.count("</style>") == 1
    (font,) = fonts(shown)
    whole = TTFont(font_folder() / "SourceSansPro-Regular.ttf")
    for letter in "514.5 × Ø8 & 3°":
        name, there = font.getBestCmap()[ord(letter)], whole.getBestCmap()[ord(letter)]
        assert font["hmtx"][name][0] == whole["hmtx"][there][0]
    assert len(shown) < 40_000


def test_bold_letters_come_where_they_are_used_and_so_do_rare_ones():
    bold = '<text font-weight="700">Łuk</text>'
    shown = with_own_lettering(SVG.format(more=bold))
    assert len(fonts(shown)) == 2
    assert all(ord("Ł") in font.getBestCmap() for font in fonts(shown))
    assert shown == with_own_lettering(SVG.format(more=bold))


def test_a_drawing_without_letters_stays_as_it_is():
    bare = '<svg xmlns="http://www.w3.org/2000/svg"><title>bare</title></svg>'
    assert with_own_lettering(bare) == bare
