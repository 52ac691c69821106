"""Part drawings shared out to pages: in order, as many as fit, none smaller than it has to be."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.book.part_pages import CAPTION, part_pages, shared_out


def test_three_low_ones_share_a_page():
    assert shared_out([[80.0], [80.0], [80.0], [80.0]], height=250.0) == (
        ((0, 0),),
        ((1, 0), (2, 0), (3, 0)),
    )


def test_one_is_drawn_smaller_where_that_saves_a_page():
    assert shared_out([[160.0, 110.0], [120.0]], height=250.0) == (((0, 1), (1, 0)),)


def test_none_is_drawn_smaller_where_that_saves_nothing():
    assert shared_out([[160.0, 110.0], [200.0]], height=250.0) == (((0, 0),), ((1, 0),))


def test_one_too_tall_for_a_page_stands_alone():
    assert shared_out([[400.0], [90.0]], height=250.0) == (((0, 0),), ((1, 0),))


WAYS = st.lists(st.floats(20.0, 300.0), min_size=1, max_size=3).map(
    lambda row: sorted(row, reverse=True)
)


@settings(max_examples=60)
@given(heights=st.lists(WAYS, min_size=1, max_size=9))
def test_every_drawing_is_on_one_page_in_order_and_pages_hold_them(heights):
    pages = shared_out(heights, height=250.0)
    assert [k for page in pages for k, _ in page] == list(range(len(heights)))
    for page in pages:
        assert len(page) == 1 or sum(heights[k][way] for k, way in page) <= 250.0
    # no page more than one drawing each
    assert len(pages) <= len(heights)


@pytest.mark.parametrize("height", [261.0, 243.4], ids=["a4", "letter"])
def test_the_pickups_parts_fit_their_pages_at_a_readable_scale(pickup, height):
    pages = part_pages(pickup, height_mm=height)
    marks = [mark for page in pages for mark, _ in page.drawings]
    assert marks == [part.mark for part in pickup.design.parts]
    assert len(pages) < len(marks) * 0.75
    for page in pages:
        assert sum(scene.height + CAPTION for _, scene in page.drawings) <= height
        for _, scene in page.drawings:
            # ISO 5455: 1:2, 1:5, 1:10, 1:20; below 1:10 only alone on its page
            assert any(abs(scene.scale * n - 1.0) < 1e-9 for n in (2.0, 5.0, 10.0, 20.0))
            assert len(page.drawings) == 1 or scene.scale >= 0.1
