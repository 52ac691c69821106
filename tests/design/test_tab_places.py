"""Where tabs stand along a joint: laws that hold for every length and everything in the way."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.design.tab_places import rule_for, tab_places

LENGTHS = st.floats(20.0, 2400.0)
CUTTERS = st.sampled_from([0.0, 3.3, 6.1, 8.1, 12.1])
QUICK = settings(max_examples=150, deadline=None, derandomize=True)


def lands(places, length):
    """Wood before the first tab, between tabs, and behind the last."""
    ends = [0.0, *(at for place in places for at in place), length]
    return [b - a for a, b in zip(ends[::2], ends[1::2], strict=True)]


@QUICK
@given(length=LENGTHS, cutter=CUTTERS, keyed=st.booleans())
def test_tabs_leave_wood_at_the_ends_and_between(length, cutter, keyed):
    rule = rule_for(cutter)
    places = tab_places(length, (), rule, keyed=keyed)
    if not places:
        # two shortest tabs with their wood would not go in
        assert length < 2 * (rule.end + rule.least) + rule.land + 1e-6 + length / 4
        return
    assert len(places) >= 2
    assert all(b - a >= rule.least - 1e-6 for a, b in places)
    first, *between, last = lands(places, length)
    assert min(first, last) >= rule.end - 1e-6
    assert min(between) >= rule.land - 1e-6
    # a round cutter that clears both roots of two neighbours never meets itself
    assert min(between) >= 2 * cutter


@QUICK
@given(length=st.floats(120.0, 2400.0), cutter=CUTTERS)
def test_without_a_front_edge_a_joint_is_alike_from_both_ends(length, cutter):
    places = tab_places(length, (), rule_for(cutter), keyed=False)
    turned = sorted((length - b, length - a) for a, b in places)
    assert [x for p in places for x in p] == pytest.approx([x for p in turned for x in p])


@QUICK
@given(length=st.floats(150.0, 2400.0))
def test_with_one_a_part_turned_about_does_not_go_in(length):
    places = tab_places(length, (), rule_for(6.1), keyed=True)
    turned = sorted((length - b, length - a) for a, b in places)
    # the widest play of a slot is under 2 mm: EN 315 spread of a 21 mm sheet, and the allowance
    most = max(
        abs(a - b) for p, q in zip(places, turned, strict=True) for a, b in zip(p, q, strict=True)
    )
    assert most > 2.0


@QUICK
@given(
    length=st.floats(60.0, 1500.0),
    blocked=st.lists(st.tuples(st.floats(0.0, 1500.0), st.floats(1.0, 120.0)), max_size=5),
)
def test_no_tab_touches_what_is_in_its_way(length, blocked):
    walls = [(at, at + size) for at, size in blocked]
    rule = rule_for(6.1)
    places = tab_places(length, walls, rule, keyed=False)
    assert len(places) != 1
    for a, b in places:
        assert all(b <= low + 1e-6 or a >= high - 1e-6 for low, high in walls)
    if places:
        assert min(lands(places, length)[1:-1]) >= rule.land - 1e-6


def test_a_long_joint_by_hand():
    # 1400 long: 40 from either end, the run of 1320 divides by 200 into 6.6, so 1 + 7 tabs of
    # min(0.45 x 1320 / 8 = 74.25, 60) = 60; their pitch is (1320 - 60) / 7 = 180
    places = tab_places(1400.0, (), rule_for(6.1), keyed=False)
    assert places[0] == (40.0, 100.0)
    assert [round(a) for a, _ in places] == [40, 220, 400, 580, 760, 940, 1120, 1300]
    keyed = tab_places(1400.0, (), rule_for(6.1), keyed=True)
    assert keyed[0] == (40.0, 108.0)
    assert keyed[1:] == places[1:]
