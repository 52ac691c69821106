"""Stops behind boxes: on the back, on blocks, or on the uprights, each with its screws counted."""

import re
from collections import Counter
from dataclasses import replace
from functools import cache
from pathlib import Path
from types import SimpleNamespace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.app.loading import load_catalogue
from stowright.design.back_stops import (
    BLOCK_MM,
    ScrewShelf,
    back_stops,
    on_uprights,
    stop_places,
)
from stowright.design.build import design
from stowright.design.ring_bolts import with_ring_bolts
from stowright.jobfile import load_job
from stowright.model.design import Gap

EXAMPLES = Path(__file__).parents[2] / "examples"
SHELF = load_catalogue()
SCREWS = {screw.name: screw for screw in SHELF.screws}


@cache
def unit_of(name):
    return design(load_job(EXAMPLES / name / "job.toml"), SHELF)


@pytest.fixture(scope="module")
def wagon():
    return unit_of("wagon")


def pieces_of(unit):
    """Return the placed parts as the pieces that they were made from, as far as stops ask."""
    words = ("id", "role", "block", "module", "opening", "thickness")
    return [
        SimpleNamespace(
            material=unit.part(p.mark).material, **{word: getattr(p, word) for word in words}
        )
        for p in unit.placed
    ]


def fitted(unit, *, room, screws=SHELF.screws):
    """Return the goods and words of the first drawer's stops, as if this were its room behind."""
    opening = next(o for block in unit.blocks for o in block.openings if o.runner)
    gap = Gap(
        name=f"{opening.name}: behind the box", between=("", ""), axis="x", sum=room, least=0.0
    )
    rows = tuple(
        back_stops(
            [opening],
            pieces_of(unit),
            [gap],
            shelf=ScrewShelf(screws=screws, used=frozenset()),
            thinnest={},
        )
    )
    counts = Counter()
    for name, count, _ in rows:
        counts[name] += count
    words = {where for _, _, where in rows}
    assert len(words) == 1  # one sentence for what goes together
    return opening, counts, words.pop(), rows


@settings(max_examples=60, deadline=None)
@given(room=st.floats(9.0, 600.0))
def test_stops_stand_where_they_are_reached_and_their_screws_end_in_wood(room):
    wagon = unit_of("wagon")
    opening, counts, words, _ = fitted(wagon, room=room)
    assert counts["bump-stop-10"] == 2
    under = room - 9.0
    layers = counts["stop-block"] / 2
    back = next(p for p in wagon.placed if p.role == "carcass-back")
    assert on_uprights(room) == ("blocks on each upright" in words)
    if on_uprights(room):
        assert under > 45.0
        # from the upright at least as far as the far side of a stop on the middle of a box side
        assert layers * BLOCK_MM[2] >= (opening.width - opening.box.width) / 2.0 + 6.0
        deep, into = layers * BLOCK_MM[2], min(p.thickness for p in wagon.placed)
        assert sum(counts[name] for name in counts if name in SCREWS) == 6
    else:
        assert under <= 45.0
        assert layers * BLOCK_MM[2] >= under - 2.0
        deep, into = under, back.thickness
        assert sum(counts[name] for name in counts if name in SCREWS) in {2, 4}
    for name in counts:
        if name in SCREWS:
            assert f"{name} " in words
            through_both = deep + 4.0 + max(into, back.thickness)  # 4 mm of rubber under the head
            assert 7.0 <= SCREWS[name].length <= through_both


@settings(max_examples=40, deadline=None)
@given(room=st.floats(9.0, 600.0))
def test_places_of_stops_are_those_of_the_words_and_touch_box_and_back(room):
    wagon = unit_of("wagon")
    opening, counts, words, _ = fitted(wagon, room=room)
    gap = Gap(
        name=f"{opening.name}: behind the box", between=("", ""), axis="x", sum=room, least=0.0
    )
    places = tuple(stop_places([opening], pieces_of(wagon), [gap], thinnest={}))
    stops = [p for p in places if p.what == "bump-stop-10"]
    blocks = [p for p in places if p.what == "stop-block"]
    assert len(stops) == counts["bump-stop-10"]
    assert sum(p.count for p in blocks) == counts["stop-block"]
    left, right = stops
    assert f"{left.across:g} mm in from the upright" in words
    assert f"{left.up:g} mm above" in words
    assert left.across + right.across == pytest.approx(opening.width, abs=0.1)
    # a stop reaches 1 mm past the shut box's back: places are told to 0.1 mm
    assert left.inwards == pytest.approx(opening.depth - room - 1.0, abs=0.1)
    for block in blocks:
        assert block.inwards == pytest.approx(left.inwards + 10.0, abs=0.1)
        if block.on == "back":
            # blocks are planed to whole millimetres
            assert block.inwards + block.size[1] == pytest.approx(opening.depth, abs=0.6)
            assert f"planed to {block.size[1]:g} mm" in words
        else:
            assert f"their ends {block.inwards:g} mm behind the face" in words


def test_a_block_that_lies_behind_a_low_box_stays_out_of_the_uprights():
    """60 wide, its stop nearer to the upright than half of that: it lies against the upright."""
    wagon = unit_of("wagon")
    low = replace(fitted(wagon, room=30.0)[0], height=70.0)
    gap = Gap(name=f"{low.name}: behind the box", between=("", ""), axis="x", sum=30.0, least=0.0)
    places = tuple(stop_places([low], pieces_of(wagon), [gap], thinnest={}))
    rows = back_stops(
        [low], pieces_of(wagon), [gap], shelf=ScrewShelf(screws=(), used=frozenset()), thinnest={}
    )
    assert all("to the back, lying, planed to" in where for _, _, where in rows)
    blocks = [p for p in places if p.kind == "block"]
    assert len(blocks) == 2
    for block in blocks:
        assert block.size[0] == BLOCK_MM[0]
        assert block.across - block.size[0] / 2.0 >= 0.0
        assert block.across + block.size[0] / 2.0 <= low.width + 0.05  # told to 0.1 mm
    stop = next(p for p in places if p.kind == "stop")
    assert stop.across < BLOCK_MM[0] / 2.0
    assert stop.across + stop.size[0] / 2.0 <= BLOCK_MM[0]


def test_without_a_screw_that_fits_stops_are_glued():
    _, counts, words, _ = fitted(unit_of("pickup"), room=14.0, screws=())
    assert set(counts) == {"bump-stop-10", "stop-block"}
    assert "glued" in words


def test_no_stop_is_packed_out_further_than_a_block_stands(wagon):
    _, _, words, _ = fitted(wagon, room=372.0)
    assert not re.search(r"(packed|planed)", words)
    _, _, words, _ = fitted(wagon, room=40.0)
    assert "planed to 31 mm in all" in words


def test_a_ring_is_bought_with_what_bolts_it_down(wagon):
    opening = next(o for block in wagon.blocks for o in block.openings if o.runner)
    rows = [("lashing-ring", 3, f"{opening.name}: for a crate"), ("cam-strap-25", 3, "x: y")]
    made = list(with_ring_bolts(rows, wagon.placed, SHELF))
    assert made[-1] == rows[1]
    counts = {name: count for name, count, _ in made[:-1]}
    bolts = [b for b in SHELF.bolts if b.name in counts]
    nuts = [n for n in SHELF.nuts if n.name in counts]
    assert counts["lashing-ring"] == 3
    assert [counts[b.name] for b in bolts] == [6]
    assert [counts[n.name] for n in nuts] == [6]
    assert counts["washer-M6-timber"] >= 6
    assert len({where for _, _, where in made[:-1]}) == 1
    # thread shows past the nut: bolt longer than ring base, sheet, washers and nut
    bottom = next(p for p in wagon.placed if p.opening == opening.name and "bottom" in p.role)
    washers = sum(w.thickness * counts[w.name] / 6 for w in SHELF.washers if w.name in counts)
    assert bolts[0].length > 3.0 + bottom.thickness + washers + nuts[0].height


def test_a_ring_on_what_nobody_knows_stays_as_it_is():
    rows = [("lashing-ring", 2, "nowhere: for a crate")]
    assert list(with_ring_bolts(rows, (), SHELF)) == rows
