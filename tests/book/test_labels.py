"""Labels: one for each piece, on grids that fit their page, with a code that reads as the mark."""

import io

import pytest
from pypdf import PdfReader
from qr_reader import text_of

from stowright.book.label_grids import GRIDS, PAGES, grid_for, grid_named, grid_of_size
from stowright.book.labels import code_svg, label_rows, make_labels
from stowright.errors import OutOfRangeError, UnknownNameError
from stowright.units import format_length


@pytest.mark.parametrize("mark", ["A1", "W12", "T3", "B107", "D", "P9"])
def test_a_code_reads_as_the_mark(mark):
    assert text_of(code_svg(mark)) == mark


@pytest.mark.parametrize(
    "grid", [*GRIDS.values(), grid_of_size("a4", 60, 30)], ids=lambda g: g.name
)
def test_labels_lie_on_the_page_and_off_one_another(grid):
    wide, high = PAGES[grid.page]
    assert grid.left >= 0.0
    assert grid.top >= 0.0
    assert grid.left + (grid.columns - 1) * grid.pitch_x + grid.width <= wide + 1e-9
    assert grid.top + (grid.rows - 1) * grid.pitch_y + grid.height <= high + 1e-9
    assert grid.pitch_x >= grid.width
    assert grid.pitch_y >= grid.height


def test_a_grid_is_asked_for_by_name_or_by_size():
    assert grid_named("a4", "") == grid_for("a4")
    assert grid_named("letter", "letter-30").count == 30
    assert grid_named("a4", "100 x 50").width == 100.0
    with pytest.raises(UnknownNameError):
        grid_named("a4", "letter-30")
    with pytest.raises(OutOfRangeError):
        grid_named("a4", "300x40")
    with pytest.raises(OutOfRangeError):
        grid_of_size("a4", float("nan"), 40.0)


def test_each_piece_has_a_label_and_each_says_what_the_plan_says(pickup):
    rows = label_rows(pickup)
    assert len(rows) == len(pickup.design.placed) == sum(p.quantity for p in pickup.design.parts)
    for row in rows:
        part = pickup.design.part(row["mark"])
        for size in (part.length, part.width, part.thickness):
            assert format_length(size, "mm") in row["size"]
        assert part.name == row["name"]
        assert row["long_grain"] == (part.grain == "long")


def test_the_sheets_hold_every_label_and_start_where_the_last_one_ended(pickup):
    grid = grid_for("a4")
    count = len(pickup.design.placed)
    for skip in (0, 5):
        pages = PdfReader(io.BytesIO(make_labels(pickup, skip=skip))).pages
        assert len(pages) == -(-(count + skip) // grid.count)
    box = pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx((595.28, 841.89), abs=0.1)
    text = "\n".join(page.extract_text() for page in pages)
    for part in pickup.design.parts:
        assert text.count(f"{part.mark}\n") + text.count(f"{part.mark} ") >= part.quantity
