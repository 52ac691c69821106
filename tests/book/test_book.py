"""The printed book: page boxes, text against the plan, fonts, bookmarks, the bar of 100 mm."""

import io
import re
from dataclasses import replace
from math import hypot

import pytest
from pypdf import PdfReader

from stowright.book import make_book, make_cards, make_full_size
from stowright.book.figures import layout_scenes
from stowright.book.stamp import stamp_of
from stowright.units import format_length

#: ISO 216: A4 is 210 x 297 mm, A3 297 x 420. ANSI Y14.1: A (Letter) 8.5 x 11 in, B 11 x 17 in.
#: A PDF counts in points of 1/72 in.
MM = 72.0 / 25.4
PAGES = {
    "a4": (210 * MM, 297 * MM),
    "a3": (420 * MM, 297 * MM),
    "letter": (612.0, 792.0),
    "ansi b": (1224.0, 792.0),
}


@pytest.fixture(scope="session")
def book(pickup):
    return make_book(pickup)


@pytest.fixture(scope="session")
def reader(book):
    return PdfReader(io.BytesIO(book))


@pytest.fixture(scope="session")
def texts(reader):
    """The text of each page, read back once."""
    return [page.extract_text() for page in reader.pages]


def box_of(page):
    return float(page.mediabox.width), float(page.mediabox.height)


def test_a4_pages_are_of_iso_216(reader):
    """Upright, or on its side for the drawing of a long part."""
    boxes = [tuple(round(v) for v in box_of(page)) for page in reader.pages]
    assert {tuple(sorted(box)) for box in boxes} == {(595, 842)}
    lying = [page for page, box in zip(reader.pages, boxes, strict=True) if box[0] > box[1]]
    assert all("scale 1:10" in page.extract_text() for page in lying)
    assert box_of(reader.pages[0]) == pytest.approx(PAGES["a4"], abs=0.1)


def test_letter_pages_black_ink_and_drawings_on_the_larger_sheet(pickup):
    made = make_book(pickup, paper="letter", ink="black", drawings="large", projection="third")
    boxes = [box_of(page) for page in PdfReader(io.BytesIO(made)).pages]
    assert boxes[0] == pytest.approx(PAGES["letter"], abs=0.1)
    larger = [box for box in boxes if box[0] > 700.0]
    assert len(larger) == len(pickup.design.blocks)
    assert larger[0] == pytest.approx(PAGES["ansi b"], abs=0.1)


def test_the_same_plan_gives_the_same_bytes(pickup, book):
    assert make_book(pickup) == book


def test_every_mark_size_and_count_of_the_plan_is_in_the_text(pickup, texts):
    said = squeezed(" ".join(texts))
    wanted = [part.mark for part in pickup.design.parts]
    wanted += [
        f"{format_length(part.length, 'mm')} × {format_length(part.width, 'mm')}"
        for part in pickup.design.parts
    ]
    for step in pickup.making.steps:
        wanted += [step.title, *(f"{f.count} × {f.type}" for f in step.fixings)]
    wanted += [finding.id for finding in pickup.findings]
    wanted += [row.name for row in pickup.making.schedule]
    assert [words for words in wanted if squeezed(words) not in said] == []


def squeezed(text):
    """Return a text without white space: where lines break is the page's own affair."""
    return re.sub(r"\s+", "", text)


def test_the_book_has_all_its_chapters(reader):
    titles = [item.title for item in reader.outline if not isinstance(item, list)]
    for wanted in (
        "Measure first",
        "Cautions",
        "Tools, time and what to buy",
        "Cutting list",
        "If an opening reads less or more",
        "Sheet layouts",
        "The unit in its bay",
        "Set-out",
        "Part drawings",
        "Runner sheets",
        "Steps",
        "Runner adjustment and back-off test",
        "Finish",
        "Install",
        "Test and weigh",
        "Handover",
        "Assumptions",
        "Proofs",
        "Survey form for the next vehicle",
    ):
        assert any(title.endswith(wanted) for title in titles), wanted


def test_every_figure_is_referred_to_in_the_text(texts):
    text = re.sub(r"\s+", " ", " ".join(texts))
    captions = set(re.findall(r"Figure (\d+):", text))
    mentions = set(re.findall(r"Figure (\d+)(?!\d|:)", text))
    in_lists = set(re.findall(r" (\d+) (?=[A-Z]\d)", text))  # part drawings: a column of numbers
    numbers = {int(n) for n in captions}
    assert numbers == set(range(1, len(numbers) + 1))
    assert len(mentions) > 10
    assert {n for n in captions if n not in mentions | in_lists | numbers_in(text)} == set()


def numbers_in(text):
    return set(re.findall(r"\d+", text))


def test_pages_are_counted_and_stamped(texts, pickup):
    count = len(texts)
    stamp = stamp_of(pickup.job).text
    for number, text in enumerate(texts, start=1):
        assert f"page {number} of {count}" in text
        assert stamp in text


def test_revision_and_date_are_printed_only_when_given(pickup, texts):
    assert not any("revision" in text.split("page")[0][-60:] for text in texts)
    cards = make_cards(pickup, revision="C", date="2026-03-01")
    pages = PdfReader(io.BytesIO(cards)).pages
    assert len(pages) >= len(pickup.making.steps)
    assert "revision C · 2026-03-01" in pages[0].extract_text()
    assert min(type_sizes(pages)) >= 8.99
    for step in pickup.making.steps:
        assert any(page.extract_text().startswith(f"{step.number} ") for page in pages)


def type_sizes(pages):
    """Return the sizes of the type on pages, in points: 9 is what a telephone is read at."""
    found = set()

    def look(text, page, own, _font, size):
        # figures are forms with a scale of their own: its square is the matrix's determinant
        scale = [(m[0] * m[3] - m[1] * m[2]) ** 2 for m in (page, own)]
        if text.strip():
            found.add(round(size * (scale[0] * scale[1]) ** 0.25, 2))

    for page in pages:
        page.extract_text(visitor_text=look)
    return found


def test_a_long_list_of_cuts_stands_on_pages_of_its_own(pickup):
    layout = pickup.cutting.layouts[0]
    many = tuple(replace(cut, order=n) for n, cut in enumerate((layout.cuts * 30)[:120], start=1))
    cutting = replace(
        pickup.cutting, layouts=(replace(layout, cuts=many), *pickup.cutting.layouts[1:])
    )
    scenes = layout_scenes(replace(pickup, cutting=cutting))
    lists = [name for name in scenes if name.startswith(f"layout-{layout.number}-cuts-")]
    assert lists
    assert all(scene.height <= 223.0 for _, scene in scenes.values())  # a page holds 246 on Letter
    usual = [name for name in layout_scenes(pickup) if "-cuts-" in name]
    assert usual == []


def test_a_changed_job_has_another_stamp(pickup):
    assert stamp_of(replace(pickup.job, title="Another")) != stamp_of(pickup.job)


def test_title_language_and_tags(reader, pickup):
    assert reader.metadata.title == pickup.job.title
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert "/StructTreeRoot" in root
    assert str(root["/Lang"]).startswith("en")


def test_only_our_font_is_embedded(reader):
    fonts = {}
    for page in reader.pages:
        for font in (page["/Resources"].get("/Font") or {}).values():
            found = font.get_object()
            fonts[str(found["/BaseFont"]).split("+")[-1]] = found
    assert fonts
    assert all(name.startswith("SourceSansPro") for name in fonts), fonts
    for font in fonts.values():
        kept = font["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
        assert {"/FontFile2", "/FontFile3"} & set(kept)


def lines_of(page):
    """Yield the straight strokes of a page in points: its own content and its forms, placed."""
    found, last = [], []

    def walk(operator, operands, matrix, _text):
        def placed(x, y):
            a, b, c, d, e, f = (float(v) for v in matrix)
            return (a * x + c * y + e, b * x + d * y + f)

        if operator == b"m":
            last[:] = [placed(*map(float, operands))]
        elif operator == b"l" and last:
            point = placed(*map(float, operands))
            found.append((last[0], point))
            last[:] = [point]

    page.extract_text(visitor_operand_before=walk)
    return found


def test_the_bar_measures_100_mm_in_the_pdfs_own_points(pickup):
    reader = PdfReader(io.BytesIO(make_full_size(pickup)))
    for page in reader.pages[:3]:
        lengths = [hypot(b[0] - a[0], b[1] - a[1]) for a, b in lines_of(page)]
        assert any(length == pytest.approx(100.0 * MM, abs=0.02) for length in lengths)
        assert box_of(page) == pytest.approx(PAGES["a4"], abs=0.1)
