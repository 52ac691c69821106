"""Packing between modules that stand apart: strips where the bolts are, and their line in the sum.

That a bolt is packed where it would pull two uprights across a void is common practice.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from job_texts import PLAIN, TUB, check, made, placed, span, sum_of

THREE = PLAIN.replace("]} ]\n", ']}, {stack = [ {fill = "open"} ]} ]\n')


def gap(mm):
    return f"[build]\nmodule_gap = {mm}\n"


def test_a_narrow_gap_needs_no_packing():
    for mm in (0, 1, 3):
        unit = made(TUB, PLAIN, gap(mm))
        assert not placed(unit, "side-packing")
        assert not [line for line in unit.warnings if "pack" in line]


def test_a_wide_gap_gets_strips_of_the_thickest_sheet_that_goes_in():
    unit = made(TUB, PLAIN, gap(14))
    strips = placed(unit, "side-packing")
    assert strips
    # 12 mm nominal goes in, 15 does not
    assert {unit.part(strip.mark).material for strip in strips} == {"ply-12"}
    t = unit.thickness("ply-12").t
    row = sum_of(unit, "unit: packing between modules 1 and 2, play left")
    assert [line.value for line in row.lines] == [14, -t]
    assert row.result == pytest.approx(14 - t)
    check(unit)


def test_every_bolt_between_the_modules_goes_through_a_strip_and_its_hole():
    unit = made(TUB, PLAIN, gap(14))
    strips = {strip.id: strip for strip in placed(unit, "side-packing")}
    bolts = [f for f in unit.fixings if f.kind == "bolt" and f.step == "modules"]
    assert bolts
    for bolt in bolts:
        (inside,) = [strips[name] for name in bolt.joins if name in strips]
        assert bolt.joins.index(inside.id) == 1
        (x0, x1), (z0, z1) = span(inside, "x"), span(inside, "z")
        assert x0 < bolt.at[0] < x1
        assert z0 < bolt.at[2] < z1
    for strip in strips.values():
        holes = [f for f in unit.part(strip.mark).features if f.kind == "hole"]
        passing = [b for b in bolts if strip.id in b.joins]
        assert len(holes) == len(passing)
        # round, of the bolt's clearance, and where the bolt is: not a square beside it
        assert {len(hole.size) for hole in holes} == {1}
        (x0, _), (z0, _) = span(strip, "x"), span(strip, "z")
        bored = {(round(x0 + h.at[1], 2), round(z0 + h.at[0], 2)) for h in holes}
        assert bored == {(round(b.at[0], 2), round(b.at[2], 2)) for b in passing}


def test_a_gap_that_no_sheet_goes_into_is_told():
    unit = made(TUB, PLAIN, gap(5))
    assert not placed(unit, "side-packing")
    assert any("no sheet is thin enough to pack the 5.0 mm" in line for line in unit.warnings)


@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    mm=st.floats(3.5, 30).map(lambda value: round(value, 1)),
    face=st.sampled_from(["tail", "left", "right"]),
    block=st.sampled_from([PLAIN, THREE]),
)
def test_strips_overlap_nothing_and_leave_the_play_of_their_sum(mm, face, block):
    unit = made(
        '[bay]\nkind = "tray"\nlength = 2000\nwidth = 1900\nclear_height = 900',
        block.replace('"unit"', f'"unit"\nface = "{face}"\nplace = {{z = [0, 400]}}'),
        gap(mm),
    )
    check(unit)
    plays = [g for g in unit.gaps if g.name.endswith(": play")]
    assert len(plays) == len(placed(unit, "side-packing"))
    for play in plays:
        assert 0.0 <= play.sum < mm
