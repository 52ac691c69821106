"""Part drawings shared out to pages: in order, as many as fit, none smaller than it has to be."""

from dataclasses import replace
from types import SimpleNamespace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.book.part_pages import (
    CAPTION,
    drawn_with,
    filled_up,
    kept_together,
    part_pages,
    shared_out,
    turned,
)
from stowright.drawings.overlap import overlaps
from stowright.drawings.part_check import missing_sizes


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


def test_a_low_drawing_fills_the_page_of_one_a_few_places_before_it():
    assert filled_up([[160.0], [200.0], [90.0]], height=250.0) == (((0, 0), (2, 0)), ((1, 0),))
    far = filled_up([[160.0], *[[200.0]] * 7, [90.0]], height=250.0)
    assert far[0] == ((0, 0),)  # eight places on is too far to look for it


@settings(max_examples=60)
@given(heights=st.lists(WAYS, min_size=1, max_size=12))
def test_filled_pages_hold_every_drawing_once_and_few_places_ahead(heights):
    pages = filled_up(heights, height=250.0)
    order = [k for page in pages for k, _ in page]
    assert sorted(order) == list(range(len(heights)))
    assert [page[0][0] for page in pages] == sorted(page[0][0] for page in pages)
    for page in pages:
        assert max(k for k, _ in page) <= page[0][0] + 6
        assert len(page) == 1 or sum(heights[k][way] for k, way in page) <= 250.0


@pytest.mark.parametrize("height", [261.0, 243.4], ids=["a4", "letter"])
def test_the_pickups_parts_fit_their_pages_at_a_readable_scale(pickup, height):
    pages = part_pages(pickup.design, height_mm=height)
    marks = [mark for page in pages for mark, _ in page.drawings]
    shown = drawn_with(pickup.design.parts)
    own = [part.mark for part in pickup.design.parts if shown[part.mark] == part.mark]
    assert sorted(marks) == sorted(own)
    first = [own.index(page.drawings[0][0]) for page in pages]
    assert first == sorted(first)
    assert len(pages) < len(marks) * 0.75
    for page in pages:
        assert sum(scene.height + CAPTION for _, scene in page.drawings) <= height
        for mark, scene in page.drawings:
            # ISO 5455: 1:2, 1:5, 1:10, 1:20; below 1:10 only alone on its page, or bare
            assert any(abs(scene.scale * n - 1.0) < 1e-9 for n in (2.0, 5.0, 10.0, 20.0))
            bare = not pickup.design.part(mark).features
            assert len(page.drawings) == 1 or bare or scene.scale >= 0.1


def test_one_drawing_serves_parts_that_are_made_alike(pickup):
    shown = drawn_with(pickup.design.parts)
    others = {mark: drawn for mark, drawn in shown.items() if mark != drawn}
    hands = set()
    for mark, drawn in others.items():
        one, other = pickup.design.part(drawn), pickup.design.part(mark)
        hands.add((one.hand, other.hand))
        made = [sorted((f.face, f.at, f.size, f.depth) for f in p.features) for p in (one, other)]
        assert made[0] == made[1]  # of the other hand u runs the other way: the sizes are the same
        assert (one.length, one.width, one.material) == (other.length, other.width, other.material)
    assert ("left", "right") in hands  # a mirror image
    assert ("", "") in hands  # the same part that waits for another reading
    assert shown["A1"] == "A1"
    assert shown["A2"] == "A2"  # the sides of a module differ in their holes


def test_a_pair_of_hands_with_a_drawing_each_stands_on_one_page_where_it_fits(pickup):
    pages = part_pages(pickup.design, height_mm=264.0)
    scenes = {f"part-{mark}": scene for page in pages for mark, scene in page.drawings}
    rows = kept_together(pickup.design.parts, scenes, height_mm=264.0)
    pairs = [row for row in rows if len(row) == 2]
    assert ["part-A1", "part-A2"] in pairs
    for row in pairs:
        assert sum(scenes[name].height + CAPTION for name in row) <= 264.0
        assert any(set(row) <= {f"part-{mark}" for mark, _ in page.drawings} for page in pages)
    assert [name for row in rows for name in row] == list(scenes)


def test_a_long_part_with_many_holes_is_drawn_larger_on_a_turned_page(pickup):
    """What an upright A4 page has at 1:20 alone stands at 1:10 where the page lies on its side."""
    named = {part.name: part for part in reversed(pickup.design.parts)}
    side, plain = named["side, left"], named["drawer bottom"]
    hole = next(f for f in side.features if len(f.size) == 1 and f.face == "good")
    rows = [(30.0 + 40.0 * k, 60.0 + 300.0 * (k % 2)) for k in range(38)]
    long = replace(
        side,
        length=1560.0,
        outline=((0.0, 0.0), (1560.0, 0.0), (1560.0, side.width), (0.0, side.width)),
        features=tuple(replace(hole, at=at) for at in rows),
    )
    bare = replace(
        plain,
        length=2100.0,
        outline=((0.0, 0.0), (2100.0, 0.0), (2100.0, plain.width), (0.0, plain.width)),
        features=(),
    )
    parts = (long, bare, replace(long, mark="Z1", hand="", width=90.0, name="strip"))
    made = SimpleNamespace(job=pickup.job, parts=parts)
    pages = part_pages(made, height_mm=264.0)
    found = {mark: (page.turned, scene) for page in pages for mark, scene in page.drawings}
    assert set(found) == {part.mark for part in parts}
    lies, scene = found[long.mark]
    assert lies
    assert scene.scale == pytest.approx(0.1)
    assert overlaps(scene) == []
    assert missing_sizes(long, scene) == []
    assert not found[bare.mark][0]  # nothing is made in it: as clear on an upright page
    rows_kept = kept_together(
        parts, {f"part-{m}": s for m, (_, s) in found.items()}, height_mm=264.0
    )
    for row in rows_kept:
        assert len({turned(found[name.removeprefix("part-")][1]) for name in row}) == 1
