"""Where a deck is cut and what carries its joints: 15 mm on both sides, by a rail or by a strip.

The 15 mm are the geometry's sentence on decks; the numbers are worked by hand.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from job_texts import CATALOGUE, VAN, check, job, made, placed, span

from stowright.design.build import design
from stowright.design.context import Context
from stowright.design.deck_joints import CARRIED, cuts_of
from stowright.errors import DesignError
from stowright.model.geometry import Span

LONG = VAN.replace("length = 2600", "length = 3200")


def unit_of(*, face="tail", top="rails", kind="fixed", fill="open", bay=LONG, more=""):
    block = f"""
[[block]]
name = "unit"
face = "{face}"
place = {{z = [0, 400]}}
columns = [ {{stack = [ {{fill = "{fill}"}} ]}}, {{stack = [ {{fill = "{fill}"}} ]}} ]
[[deck]]
over = ["unit"]
top = 430
kind = "{kind}"
[build]
top = "{top}"
{more}"""
    return job(bay, block)


def joints_of(unit):
    ends = sorted(span(deck, "x") for deck in placed(unit, "deck"))
    return [high for _, high in ends[:-1]]


def carried_length(unit, x):
    """How much of the block's width carries a joint by 15 on both sides, pieces that touch only."""
    top = span(placed(unit, "deck")[0], "z")[0]
    total = 0.0
    for piece in placed(unit, "joint-strip", "carcass-rail", "carcass-top"):
        (x0, x1), (y0, y1), (_, z1) = (span(piece, axis) for axis in "xyz")
        if z1 == pytest.approx(top, abs=0.51) and x0 <= x - CARRIED and x1 >= x + CARRIED:
            total += y1 - y0
    return total


def test_a_joint_goes_to_a_rail_where_one_is_near_enough():
    spans = cuts_of(Span(low=0, high=2400), 3, (850, 1650), longest=1000, grid=1.0)
    assert [s.high for s in spans] == [850, 1650, 2400]


def test_no_piece_becomes_longer_than_the_sheet_gives():
    spans = cuts_of(Span(low=0, high=2400), 3, (1150, 1250), longest=810, grid=1.0)
    assert max(s.size for s in spans) <= 810


def test_a_joint_between_rails_gets_strips_at_their_level():
    unit = design(unit_of(), CATALOGUE)
    (first, second) = joints_of(unit)
    strips = placed(unit, "joint-strip")
    assert len(strips) == 4  # two joints over two modules
    deck = span(placed(unit, "deck")[0], "z")[0]
    for strip in strips:
        assert span(strip, "z")[1] == pytest.approx(deck)
    inner = sum(opening.width for opening in unit.blocks[0].openings)
    for x in (first, second):
        assert carried_length(unit, x) == pytest.approx(inner, abs=1.5)  # the cut grid, twice
    check(unit)


def test_a_top_panel_carries_every_joint():
    unit = design(unit_of(top="panel"), CATALOGUE)
    assert joints_of(unit)
    assert not placed(unit, "joint-strip")


def test_under_a_deck_that_is_the_top_a_strip_goes_into_the_air_over_a_drawer():
    unit = design(unit_of(top="deck", fill="drawer"), CATALOGUE)
    strips = placed(unit, "joint-strip")
    # 10 over the box, 2 stay free: 6.5 mm nominal goes in, 9 does not
    assert {unit.part(strip.mark).material for strip in strips} == {"ply-6"}
    check(unit)


def test_where_no_strip_goes_in_it_is_told():
    unit = design(unit_of(top="deck", fill="drawer", more="over_gap = 6"), CATALOGUE)
    assert not placed(unit, "joint-strip")
    assert any("is not carried over" in line for line in unit.warnings)


def test_a_joint_across_a_void_between_two_blocks_gets_a_strip():
    block = """
[[block]]
name = "{0}"
place = {{y = {1}, z = [0, 400]}}
columns = [ {{stack = [ {{fill = "open"}} ]}} ]
"""
    unit = made(
        LONG,
        block.format("one", "[200, 845]"),
        block.format("two", "[-845, -200]"),
        '[[deck]]\nover = ["one", "two"]\ntop = 430',
    )
    across = [s for s in placed(unit, "joint-strip") if span(s, "y")[0] < 0 < span(s, "y")[1]]
    for x in joints_of(unit):
        assert any(span(s, "x")[0] < x + CARRIED and span(s, "x")[1] > x - CARRIED for s in across)
    check(unit)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(
    length=st.integers(1500, 4400),
    face=st.sampled_from(["tail", "left", "right"]),
    top=st.sampled_from(["rails", "panel", "deck"]),
    kind=st.sampled_from(["fixed", "lift-out"]),
    fill=st.sampled_from(["open", "drawer", "through"]),
    rails=st.integers(2, 5),
    gap=st.sampled_from([0, 1, 5]),
)
def test_strips_overlap_nothing_and_no_deck_is_larger_than_its_sheet(
    length, face, top, kind, fill, rails, gap
):
    bay = VAN.replace("length = 2600", f"length = {length}").replace("at = 1300", "at = 200")
    asked = unit_of(
        face=face,
        top=top,
        kind=kind,
        fill=fill,
        bay=bay.replace('face = "left"', 'face = "left"' if face == "tail" else f'face = "{face}"'),
        more=f"rails = {rails}\nmodule_gap = {gap}",
    )
    try:
        unit = design(asked, CATALOGUE)
    except DesignError:
        return
    check(unit)
    for deck in placed(unit, "deck"):
        short, long = sorted((deck.length, deck.width))
        sheet_long, sheet_short = Context.of(asked, CATALOGUE).largest_sheet("ply-15")
        assert short <= sheet_short
        assert long <= sheet_long
