"""The pages of a stage are the book's own, cut out where its chapters begin."""

import io
from pathlib import Path

import pytest
from pypdf import PdfReader

from stowright.app.loading import load_job
from stowright.app.planning import plan
from stowright.app.print_pages import CHAPTERS, book_pages, pages_of, section_pdf, words_of

TRAY = (Path(__file__).parents[2] / "examples" / "tray" / "job.toml").read_text()


@pytest.fixture(scope="module")
def made():
    return book_pages(plan(load_job(TRAY)), TRAY, lambda _: None)


def test_every_page_of_the_book_has_its_sheet(made):
    assert len(made.packed) == len(PdfReader(io.BytesIO(made.book)).pages)
    assert made.sheet(0).startswith("<svg")


@pytest.mark.parametrize("stage", CHAPTERS)
def test_every_stage_has_chapters_of_its_own(made, stage):
    titles = [title.casefold() for title, _ in made.chapters]
    for word in CHAPTERS[stage]:
        if word != "unit in its bay" or stage == "arrange":
            assert any(word in title for title in titles), word
    assert 0 < len(pages_of(made, stage)) < len(made.packed)


def test_a_section_has_the_words_of_the_books_pages(made):
    section = PdfReader(io.BytesIO(section_pdf(made, "cut")))
    pages = pages_of(made, "cut")
    assert len(section.pages) == len(pages)
    assert tuple(page.extract_text() for page in section.pages) == words_of(made, pages)


def test_a_stage_without_chapters_has_the_whole_book(made):
    assert pages_of(made, "history") == tuple(range(len(made.packed)))
