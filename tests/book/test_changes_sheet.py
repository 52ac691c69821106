"""The sheet of changes: each reason once with a letter, a size struck only where it changed."""

import io

import pytest
from pypdf import PdfReader

from stowright.book import make_changes
from stowright.model.refit import PartChange

SAME, WIDE = (500.0, 90.0, 14.8), (500.0, 88.0, 14.8)


def change(mark, old, new, *why):
    return PartChange(
        mark=mark,
        name="top rail",
        old=old,
        new=new,
        old_quantity=1,
        new_quantity=1,
        what=("size",) if old != new else ("holes",),
        why=why,
    )


@pytest.fixture(scope="module")
def text(pickup):
    rows = (
        change("X1", SAME, WIDE, "the opening reads less", "a new batch"),
        change("X2", SAME, SAME, "the opening reads less"),
    )
    made = make_changes(pickup.design, None, rows)
    return " ".join(PdfReader(io.BytesIO(made)).pages[0].extract_text().split())


def test_each_reason_is_told_once_and_rows_name_it_by_its_letter(text):
    assert text.count("the opening reads less") == 1
    assert text.count("a new batch") == 1
    assert "size A, B" in text
    assert "holes A" in text
    assert "A the opening reads less B a new batch" in text


def test_a_part_of_which_holes_alone_changed_keeps_its_size(text):
    assert "500 × 90 × 14.8 its size stays" in text
    assert "500 × 88 × 14.8" in text
