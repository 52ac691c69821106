"""Wings beside blocks of every face: which side, what holds them, that nothing lies in anything.

The scribe gap of 5 to 8 at the wall is common practice; the rest is worked by hand.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from job_texts import CATALOGUE, TUB, VAN, check, job, made, placed, span

from stowright.design.build import design
from stowright.errors import DesignError

SIDE = """
[[block]]
name = "unit"
face = "left"
place = {x = [1350, 2350], y = [-400, 845], z = [0, 400]}
wings = {left = "%s", right = "%s"}
columns = [ {stack = [ {fill = "drawer"} ]} ]
"""
DECK = '[[deck]]\nover = ["unit"]\ntop = 430'


def test_a_block_that_opens_to_the_left_has_its_wing_at_the_right_wall():
    unit = made(VAN, SIDE % ("none", "fixed"), DECK)
    (wing,) = placed(unit, "wing")
    box = unit.blocks[0].box
    low, high = span(wing, "y")
    assert low >= -850 + 5  # the wall, less the least scribe gap
    assert high <= box.y.low
    assert box.y.low - high < 5
    assert span(wing, "x") == (pytest.approx(box.x.low), pytest.approx(box.x.high))
    check(unit)


def test_its_cleat_is_screwed_to_the_back():
    unit = made(VAN, SIDE % ("none", "fixed"), DECK)
    (cleat,) = placed(unit, "wing-cleat")
    held = [joint for joint in unit.joints if cleat.id in joint.parts and joint.count]
    assert any("back" in name for joint in held for name in joint.parts)


def test_before_its_face_no_wing_is_made_and_it_says_so():
    unit = made(VAN, SIDE % ("fixed", "none"), DECK)
    assert not placed(unit, "wing", "wing-lid")
    (told,) = [line for line in unit.warnings if "wing" in line]
    assert told.startswith("unit wing, left: left out, the block opens to that side")


def test_a_lid_behind_a_side_block_swings():
    unit = made(VAN, SIDE % ("none", "lid"), DECK)
    (lid,) = placed(unit, "wing-lid")
    (motion,) = [m for m in unit.motions if m.kind == "swing"]
    assert motion.body == lid.body


def test_two_blocks_in_one_row_have_a_wing_each():
    tail = """
[[block]]
name = "tail unit"
place = {x = [0, 1250], y = [-400, 400], z = [0, 400]}
wings = {left = "fixed", right = "fixed"}
columns = [ {stack = [ {fill = "drawer"} ]} ]
"""
    deck = '[[deck]]\nover = ["unit", "tail unit"]\ntop = 430'
    unit = made(VAN, tail, SIDE % ("none", "fixed"), deck)
    right = [w for w in placed(unit, "wing") if span(w, "y")[1] < 0]
    assert len(right) == 2
    check(unit)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(
    face=st.sampled_from(["tail", "left", "right"]),
    kinds=st.tuples(*[st.sampled_from(["fixed", "lid", "none"])] * 2),
    room=st.integers(0, 300),
    bay=st.sampled_from([TUB, VAN]),
    back=st.sampled_from(["panel", "frame", "none"]),
    deck=st.booleans(),
)
def test_wings_overlap_nothing_on_generated_jobs(face, kinds, room, bay, back, deck):
    half = 500 if bay is TUB else 840
    y = {
        "tail": [-half + room, half - room],
        "left": [-half + room, half],
        "right": [-half, half - room],
    }
    where = f"{{x = [0, 1450], y = {y[face]}, z = [0, 400]}}"
    block = (SIDE % kinds).replace('"left"\nplace', f'"{face}"\nplace')
    block = block.replace("{x = [1350, 2350], y = [-400, 845], z = [0, 400]}", where)
    try:
        unit = design(job(bay, block, DECK * deck, f'[build]\nback = "{back}"'), CATALOGUE)
    except DesignError:
        return
    check(unit)
    for wing in placed(unit, "wing", "wing-lid"):
        low, high = span(wing, "y")
        side = "left" if low > 0 else "right"
        assert side != face
        # 5 mm is the least that is left at the wall
        assert max(-low, high) <= (700 if bay is TUB else 850) - 5
