"""SVG: well formed, true size, real lettering, the same bytes for the same scene."""

import re

import pytest
from svg_reader_2d import read_svg

from stowright.drawings.lettering import text_width
from stowright.drawings.linetypes import PENS
from stowright.drawings.scene import (
    Arc,
    Arrow,
    Balloon,
    Circle,
    Dimension,
    Hatch,
    Leader,
    Line,
    Polyline,
    Region,
    Running,
    Scene,
    Symbol,
    Text,
    View,
)
from stowright.drawings.svg import number, to_svg

SQUARE = ((10, 10), (40, 10), (40, 30), (10, 30))


def scene(*items, width=120.0, height=80.0):
    return Scene(
        name="s", title="A & B <drawing>", width=width, height=height,
        views=(View(name="v", items=items),),
    )  # fmt: skip


EVERYTHING = scene(
    Line(start=(1, 2), end=(3, 4)),
    Polyline(points=SQUARE, closed=True, about="A1"),
    Region(outer=SQUARE, holes=(((15, 15), (20, 15), (20, 20)),), fill="wood", pen="outline"),
    Arc(centre=(50, 50), radius=10, start=30, end=300),
    Circle(centre=(60, 20), radius=5),
    Text(text="1 < 2 & 3", at=(5, 70), turn=30),
    Dimension(start=(10, 30), end=(40, 30), axis="x", line_at=38, value=300, text="300"),
    Running(
        datum=(10, 10), points=((20, 10), (21, 10)), axis="x", line_at=4,
        texts_at=(10, 19, 23), values=(100, 110), texts=("0", "100", "110"),
    ),
    Leader(points=((30, 20), (50, 60)), lines=("6 × Ø5 through", "pilot")),
    Hatch(outer=SQUARE),
    Balloon(centre=(80, 60), text="A1", target=(60, 40)),
    Arrow(tail=(70, 10), tip=(90, 10), style="block", size=5),
    Symbol(kind="first-angle", at=(95, 70)),
)  # fmt: skip


def root(drawing, **options):
    return read_svg(to_svg(drawing, **options))


def test_it_is_well_formed_and_true_to_size():
    top = root(EVERYTHING)
    assert (top.get("width"), top.get("height")) == ("120mm", "80mm")
    assert top.get("viewBox") == "0 0 120 80"
    assert top.first("title").text == "A & B <drawing>"


def test_lettering_is_text_in_the_font_with_known_widths():
    texts = {element.text for element in root(EVERYTHING).all("text")}
    assert {"1 < 2 & 3", "300", "100", "6 × Ø5 through", "pilot", "A1"} <= texts
    assert root(EVERYTHING).get("font-family").startswith("Source Sans Pro")


def test_y_runs_up_in_a_scene_and_down_in_svg():
    path = root(scene(Line(start=(1, 2), end=(3, 4)))).first("path")
    assert path.get("d") == "M1 78L3 76"


def test_a_line_has_the_width_and_dashes_of_its_pen():
    path = root(scene(Line(start=(0, 0), end=(9, 0), pen="hidden"))).first("path")
    # ISO 128-2: dashes 12 d, gaps 3 d, of a line 0.25 wide (from memory).
    assert path.get("stroke-dasharray") == "3 0.75"
    assert path.get("stroke-width") == "0.25"


def test_wide_lines_are_twice_as_wide_as_narrow_ones():
    # ISO 128-2: widths of wide and narrow lines are as 2 to 1 (from memory).
    assert PENS["visible"].width == 2 * PENS["hidden"].width == 2 * PENS["centre"].width


def test_an_arc_over_half_a_turn_takes_the_long_way_round():
    long = root(scene(Arc(centre=(50, 50), radius=10, start=0, end=270))).first("path")
    short = root(scene(Arc(centre=(50, 50), radius=10, start=0, end=90))).first("path")
    assert " 1 0 " in long.get("d")
    assert " 0 0 " in short.get("d")


def test_middle_and_top_anchors_lower_the_base_line():
    def base(rise):
        text = Text(text="x", at=(5, 50), height=4, rise=rise)
        return float(root(scene(text)).first("text").get("y"))

    assert (base("base"), base("middle"), base("top")) == (30, 32, 34)


def test_the_same_scene_gives_the_same_bytes():
    assert to_svg(EVERYTHING) == to_svg(EVERYTHING)


def test_plain_ink_uses_no_colour():
    colours = set(re.findall(r"#[0-9a-f]{6}", to_svg(EVERYTHING, ink="black")))
    assert all(c[1:3] == c[3:5] == c[5:7] for c in colours), colours
    assert len(set(re.findall(r"#[0-9a-f]{6}", to_svg(EVERYTHING)))) > len(colours)


def test_what_a_shape_stands_for_can_be_picked():
    assert [e.get("data-about") for e in root(EVERYTHING).all() if e.get("data-about")] == ["A1"]


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.0, "0"), (-0.0, "0"), (-0.0004, "0"), (1.0, "1"), (0.12345, "0.123"), (-2.5, "-2.5")],
)
def test_numbers_are_short_and_never_minus_zero(value, text):
    assert number(value) == text


def test_another_font_is_fitted_into_the_length_that_a_text_was_laid_out_for():
    words = Text(text="clearance for a screw", at=(5, 70), height=2.5)
    written = to_svg(scene(words, Text(text="A1", at=(5, 60))))
    wide = text_width(words.text, height=2.5)
    assert re.findall(r'textLength="([^"]*)" lengthAdjust="spacingAndGlyphs"', written) == [
        number(wide)
    ]
