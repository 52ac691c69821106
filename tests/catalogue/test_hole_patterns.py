"""Fixing holes of runners: laws that hold for every pattern and length."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.catalogue import load_catalogue
from stowright.catalogue.build import hole_pattern

PATTERNS = st.fixed_dictionaries(
    {
        "first": st.integers(20, 60).map(float),
        "step": st.sampled_from([96.0, 128.0, 160.0, 224.0]),
        "pair": st.just(32.0),
        "end": st.integers(15, 40).map(float),
        "up": st.just(0.0),
    }
)
LENGTHS = st.integers(250, 1500).map(float)


def test_a_pattern_worked_by_hand():
    # 500 long, first 35, step 128, end 20: room for a pair's slot up to 448; 35 + 12 x 32 = 419 is
    # the last; 35 and 163 and 291 stand, 291 being a whole step before 419.
    holes = hole_pattern("cabinet", 500.0, first=35, step=128, pair=32, end=20, up=0)
    assert [(h.at, h.kind) for h in holes] == [
        (35.0, "slot"),
        (67.0, "round"),
        (163.0, "slot"),
        (195.0, "round"),
        (291.0, "slot"),
        (323.0, "round"),
        (419.0, "slot"),
        (451.0, "round"),
    ]


def test_a_station_crowding_the_last_is_left_out():
    # 400 long: the last slot stands at 323; 291 would be 32 before it.
    holes = hole_pattern("drawer", 400.0, first=35, step=128, pair=32, end=20, up=0)
    assert [h.at for h in holes if h.kind == "slot"] == [35.0, 163.0, 323.0]


def test_a_runner_too_short_for_two_stations_has_one():
    holes = hole_pattern("drawer", 100.0, first=35, step=128, pair=32, end=20, up=2)
    assert [(h.at, h.kind, h.up) for h in holes] == [(35.0, "slot", 2.0), (67.0, "round", 2.0)]


def test_a_runner_too_short_for_a_round_hole_has_a_slot():
    holes = hole_pattern("drawer", 60.0, first=35, step=128, pair=32, end=20, up=0)
    assert [(h.at, h.kind) for h in holes] == [(35.0, "slot")]


@settings(max_examples=60, deadline=None)
@given(pattern=PATTERNS, length=LENGTHS)
def test_holes_lie_on_the_runner_on_their_pitch_and_apart(pattern, length):
    holes = hole_pattern("cabinet", length, **pattern)
    ats = [hole.at for hole in holes]
    assert ats == sorted(set(ats))
    assert ats[0] == pattern["first"]
    assert ats[-1] <= length - pattern["end"]
    assert all((at - pattern["first"]) % 32.0 == 0.0 for at in ats)
    slots = [hole.at for hole in holes if hole.kind == "slot"]
    rounds = [hole.at for hole in holes if hole.kind == "round"]
    assert rounds == [at + 32.0 for at in slots]
    # No bare stretch longer than a step and a half, nor a last hole far from the end.
    assert all(b - a <= 1.5 * pattern["step"] for a, b in pairwise(slots))
    assert length - ats[-1] < pattern["end"] + 32.0


def test_every_shipped_length_can_be_fixed():
    for runner in load_catalogue().runners:
        for size in runner.sizes:
            for member in ("cabinet", "drawer"):
                mine = [hole for hole in size.holes if hole.member == member]
                assert len([h for h in mine if h.kind == "slot"]) >= 2, (runner.name, size.length)
                assert all(0.0 < hole.at < size.length for hole in mine)
                assert all(abs(hole.up) < runner.section / 2.0 for hole in mine)


def test_both_members_of_the_shipped_families_share_a_pattern():
    for runner in load_catalogue().runners:
        for size in runner.sizes:
            cabinet = [(h.at, h.up, h.kind) for h in size.holes if h.member == "cabinet"]
            drawer = [(h.at, h.up, h.kind) for h in size.holes if h.member == "drawer"]
            assert cabinet == drawer
