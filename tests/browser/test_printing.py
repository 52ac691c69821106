"""What a browser prints are the book's own pages, words and all."""

import io

from browser_app import SLOW_MS, come_to
from pypdf import PdfReader


def words(pdf):
    return [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(pdf)).pages]


def test_a_stage_prints_its_pages_of_the_book(app, page):
    address = app.copy("tray", "printed")
    come_to(page, address + "/cut")
    page.wait_for_selector("#print-sheets[data-ready]", state="attached", timeout=SLOW_MS)
    printed = words(page.pdf(prefer_css_page_size=False, format="A4", print_background=True))
    book = words(page.request.get(f"{address}/get/section-cut.pdf", timeout=SLOW_MS).body())
    assert len(printed) == len(book)
    for came, stands in zip(printed, book, strict=True):
        # a browser may part words otherwise at the ends of lines, but none is lost
        assert set(stands.split()) - set(came.split()) == set()
    whole = words(page.request.get(f"{address}/get/book.pdf", timeout=SLOW_MS).body())
    assert all(each in whole for each in book)


def test_before_the_pages_are_set_the_print_says_what_to_do(app, page):
    address = app.copy("tray", "unprinted")
    # a text of its own: what was set for another job of the same text would be printed
    with (app.folder / "unprinted.toml").open("a", encoding="utf-8") as job:
        job.write("\n# nobody has planned this one\n")
    come_to(page, address + "/measure")
    (told,) = words(page.pdf())
    assert "Press Print in the page" in told
