"""Sheets: sizes of ISO 216 and ANSI Y14.1, frame of ISO 5457, title block of ISO 7200."""

from math import sqrt

import pytest
import sample_parts_2d as samples
from svg_reader_2d import read_svg

from stowright.drawings.overlap import overlaps
from stowright.drawings.part_drawing import part_drawing
from stowright.drawings.scales import ALL_SCALES, SCALES, scale_text
from stowright.drawings.scene import Line, Polyline, Scene, Symbol, Text, View
from stowright.drawings.sheet_frame import PAPERS, TitleBlock, check_bar, drawing_room, framed
from stowright.drawings.svg import to_svg
from stowright.errors import OutOfRangeError

BLOCK = TitleBlock(
    owner="River gauging crew",
    number="PU-A1",
    title="Carcass side, left",
    issued="2026-03-02",
    creator="J. Weir",
    approval="M. Ford",
    document_type="part drawing",
    sheet=3,
    sheets=12,
    more="two-drawer unit for a pickup",
    revision="B",
)


def empty(width=100.0, height=60.0, **more):
    return Scene(name="s", title="s", width=width, height=height, views=(), **more)


def texts(scene):
    return [i.text for i in scene.items if isinstance(i, Text)]


def test_a_sizes_are_those_of_iso_216():
    # ISO 216: A0 is one square metre, sides as 1 to sqrt 2, each size half the one before,
    # millimetres rounded down.
    sides = [1000.0 * 2.0**0.25, 1000.0 * 2.0**-0.25]
    for _ in range(3):
        sides = [sides[1], sides[0] / 2.0]
    assert (PAPERS["A3"].height, PAPERS["A3"].width) == (int(sides[1]), int(sides[0] + 0.5))
    assert (PAPERS["A4"].width, PAPERS["A4"].height) == (210.0, 297.0)
    assert PAPERS["A4"].height / PAPERS["A4"].width == pytest.approx(sqrt(2), abs=0.001)


def test_ansi_sizes_are_letter_and_twice_letter():
    # ANSI/ASME Y14.1, as tabulated on its page of the free encyclopedia: A 8.5 x 11, B 11 x 17 in.
    a, b = PAPERS["ANSI A"], PAPERS["ANSI B"]
    assert (a.width / 25.4, a.height / 25.4) == pytest.approx((8.5, 11))
    assert (b.width / 25.4, b.height / 25.4) == pytest.approx((17, 11))


def test_small_sheets_stand_and_large_ones_lie():
    assert PAPERS["A4"].upright
    assert PAPERS["ANSI A"].upright
    assert not PAPERS["A3"].upright
    assert not PAPERS["ANSI B"].upright


@pytest.mark.parametrize(("paper", "space"), [("A4", (180, 277)), ("A3", (390, 277))])
def test_the_frame_leaves_the_drawing_space_of_iso_5457(paper, space):
    # ISO 5457: 20 mm at the filing edge, 10 mm elsewhere, so 180 x 277 and 390 x 277 (from memory).
    scene = framed(empty(), paper=PAPERS[paper], block=BLOCK)
    frame = next(i for i in scene.view("frame").items if isinstance(i, Polyline))
    xs, ys = zip(*frame.points, strict=True)
    assert (max(xs) - min(xs), max(ys) - min(ys)) == space
    assert min(xs) == 20
    assert PAPERS[paper].width - max(xs) == min(ys) == 10


def test_centring_marks_lie_on_the_sheet_s_middles():
    scene = framed(empty(), paper=PAPERS["A3"], block=BLOCK)
    marks = [i for i in scene.view("frame").items if isinstance(i, Line) and i.pen == "emphasis"]
    assert len(marks) == 4
    assert all(m.start[0] == m.end[0] == 210 or m.start[1] == m.end[1] == 148.5 for m in marks)


@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_the_title_block_has_the_fields_of_iso_7200_and_fits(paper):
    # ISO 7200 fields: legal owner, identification number, date of issue, sheet number, title,
    # approval, creator, document type; revision index and supplementary title are its options.
    scene = framed(empty(scale=0.1, projection="first"), paper=PAPERS[paper], block=BLOCK)
    said = texts(scene)
    for value in ("River gauging crew", "PU-A1", "2026-03-02", "3 of 12", "Carcass side, left"):
        assert value in said
    for value in ("M. Ford", "J. Weir", "part drawing", "B", "1:10", "mm"):
        assert value in said
    assert [i.kind for i in scene.items if isinstance(i, Symbol)] == ["first-angle"]
    assert overlaps(scene) == []
    assert (scene.width, scene.height) == (PAPERS[paper].width, PAPERS[paper].height)


def test_the_title_block_is_180_wide_and_ends_at_the_frame():
    scene = framed(empty(), paper=PAPERS["A4"], block=BLOCK)
    border = [i for i in scene.view("title block").items if isinstance(i, Polyline)][-1]
    xs, ys = zip(*border.points, strict=True)
    assert (min(xs), max(xs), min(ys)) == (20, 200, 10)


def test_long_words_are_made_to_fit():
    long = TitleBlock(
        owner="The association of hut wardens and mountain path keepers of the upper valley",
        number="PU-A1",
        title="A very long title that goes on and on, longer than any title block can hold in one "
        "line, however small its lettering may be, and then some more of it",
        issued="2026-03-02",
        creator="somebody with a rather long name, joiner",
        approval="",
        document_type="general arrangement of the whole unit",
    )
    assert overlaps(framed(empty(), paper=PAPERS["A4"], block=long)) == []


def test_a_framed_part_drawing_is_legible_and_keeps_its_scale():
    scene = part_drawing(samples.drawer_side(), units="mm", room=drawing_room(PAPERS["A4"]))
    sheet = framed(scene, paper=PAPERS["A4"], block=BLOCK)
    assert overlaps(sheet) == []
    before, after = scene.view("good face"), sheet.view("good face")
    assert after.scale == before.scale
    hole = (45.0, 40.0)
    assert after.model(after.paper(hole)) == pytest.approx(hole)


def test_a_drawing_larger_than_the_sheet_is_refused():
    with pytest.raises(OutOfRangeError):
        framed(empty(width=200.0), paper=PAPERS["A4"], block=BLOCK)
    with pytest.raises(OutOfRangeError):
        framed(empty(height=250.0), paper=PAPERS["A4"], block=BLOCK)


def test_the_check_bar_measures_100_mm_on_the_page():
    page = Scene(
        name="s",
        title="s",
        width=210,
        height=297,
        views=(View(name="b", items=check_bar((30, 20))),),
    )
    top = read_svg(to_svg(page))
    # One unit of the page is a millimetre: its width says so.
    assert top.get("width") == "210mm"
    assert top.get("viewBox").split()[2] == "210"
    ends = [p.get("d") for p in top.all("path")]
    assert "M30 277L130 277" in ends
    assert overlaps(page) == []


def test_scales_are_those_of_iso_5455():
    # ISO 5455: enlargements 2:1, 5:1; full size; reductions 1:2, 1:5, 1:10, 1:20, 1:50, 1:100.
    assert [scale_text(s) for s in SCALES] == [
        "5:1", "2:1", "1:1", "1:2", "1:5", "1:10", "1:20", "1:50", "1:100",
    ]  # fmt: skip


def test_between_1_to_20_and_1_to_50_there_are_intermediate_ones():
    # ISO 5455 allows intermediate scales where the recommended ones do not serve (from memory).
    extra = [scale_text(s) for s in ALL_SCALES if s not in SCALES]
    assert extra == ["1:25", "1:30", "1:40"]
    assert list(ALL_SCALES) == sorted(ALL_SCALES, reverse=True)
