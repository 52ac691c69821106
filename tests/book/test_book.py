"""The printed book: page sizes (ISO 216, US Letter), text, completeness."""

import io
from dataclasses import replace

import pytest
from pypdf import PdfReader

from stowright.book import book_findings, make_book

#: ISO 216 A4 is 210 x 297 mm; US Letter (ANSI A) 8.5 x 11 in; in points of 1/72 in.
PAGES = {"a4": (210 / 25.4 * 72, 297 / 25.4 * 72), "letter": (612.0, 792.0)}


@pytest.fixture(scope="session")
def book(pickup):
    return make_book(pickup)


def test_a4_pages_are_of_iso_216(book):
    box = PdfReader(io.BytesIO(book)).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(PAGES["a4"], abs=0.1)


def test_letter_pages_and_black_ink(pickup):
    made = make_book(pickup, paper="letter", ink="black")
    box = PdfReader(io.BytesIO(made)).pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(PAGES["letter"], abs=0.1)


def test_the_same_plan_gives_the_same_bytes(pickup, book):
    assert make_book(pickup) == book


def test_every_mark_and_size_can_be_found_in_the_text(pickup, book):
    text = "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(book)).pages)
    for part in pickup.design.parts:
        assert part.mark in text
    assert pickup.job.title in text
    assert "Release B" in text
    assert "no claim of crash safety" in text


def test_the_book_has_a_title_and_bookmarks(book, pickup):
    reader = PdfReader(io.BytesIO(book))
    assert reader.metadata.title == pickup.job.title
    titles = {item.title for item in reader.outline if not isinstance(item, list)}
    assert any(title.endswith("Cutting list") for title in titles)


def test_only_our_font_is_embedded(book):
    fonts = set()
    for page in PdfReader(io.BytesIO(book)).pages:
        for font in (page["/Resources"].get("/Font") or {}).values():
            fonts.add(str(font.get_object()["/BaseFont"]).split("+")[-1])
    assert fonts
    assert all(name.startswith("SourceSansPro") for name in fonts), fonts


def statuses(plan):
    return {found.id: found.status for found in book_findings(plan)}


def test_a_whole_plan_is_complete(pickup):
    assert set(statuses(pickup).values()) == {"pass"}


def test_a_part_that_no_step_introduces_fails_the_book(pickup):
    steps = tuple(
        replace(step, parts=tuple(p for p in step.parts if p.mark != "T1"))
        for step in pickup.making.steps
    )
    broken = replace(pickup, making=replace(pickup.making, steps=steps))
    assert statuses(broken)["BOOK-PARTS"] == "fail"


def test_a_fixing_used_twice_fails_the_book(pickup):
    step = next(s for s in pickup.making.steps if s.fixings)
    broken = replace(
        pickup, making=replace(pickup.making, steps=(*pickup.making.steps, replace(step, parts=())))
    )
    assert statuses(broken)["BOOK-FIXINGS"] == "fail"


def test_a_wrong_count_in_the_schedule_fails_the_book(pickup):
    first = next(r for r in pickup.making.schedule if r.kind == "screws")
    rows = tuple(
        replace(r, quantity=r.quantity + 1) if r is first else r for r in pickup.making.schedule
    )
    broken = replace(pickup, making=replace(pickup.making, schedule=rows))
    assert statuses(broken)["BOOK-SCHEDULE"] == "fail"


def test_a_feature_off_its_part_fails_the_book(pickup):
    part = next(p for p in pickup.design.parts if p.features)
    moved = replace(part.features[0], at=(part.length + 1.0, 0.0))
    bad = replace(part, features=(moved, *part.features[1:]))
    parts = tuple(bad if p is part else p for p in pickup.design.parts)
    broken = replace(pickup, design=replace(pickup.design, parts=parts))
    assert statuses(broken)["BOOK-DATUMS"] == "fail"
