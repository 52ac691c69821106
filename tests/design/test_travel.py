"""Drawers that have to travel out between the jambs, and the order in which modules go in.

The geometry's sentence: the whole travel lies inside the doorway. Numbers are worked by hand.
"""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from job_texts import CATALOGUE, PLAIN, TUB, VAN, check, job, made

from stowright.design.build import design
from stowright.errors import DesignError
from stowright.proofs.fit import fit_findings

BLOCK = PLAIN.replace('name = "unit"', 'name = "unit"\nplace = {z = [0, 400]}')
OPEN = BLOCK.replace("drawer", "open")


def test_drawers_at_the_outside_keep_the_block_between_the_jambs():
    unit = made(VAN, BLOCK)
    # half of 1500 less half of the 2 mm reading error
    for opening in unit.blocks[0].openings:
        assert max(abs(opening.clear.y.low), abs(opening.clear.y.high)) <= 749
    assert unit.blocks[0].box.y.size > 1490  # and no narrower than that asks
    left = next(limit for limit in unit.blocks[0].usable.limits if limit.side == "left")
    assert left.governed_by == ("the tail doorway that its drawers travel through (bay.opening[1])")
    assert "left wall" in left.next


def test_what_does_not_travel_takes_the_full_width():
    assert made(VAN, OPEN).blocks[0].box.y.size > 1680


def test_only_the_side_with_a_drawer_is_kept_in():
    one = OPEN.replace("open", "drawer", 1)
    box = made(VAN, one).blocks[0].box
    assert box.y.high <= 749 + 15  # the first column stands at the left, as you look at the face
    assert -box.y.low > 840


def test_a_place_that_the_job_fixes_is_kept_and_warned_of():
    fixed = BLOCK.replace("{z", "{y = [-845, 845], z")
    unit = made(VAN, fixed)
    assert unit.blocks[0].box.y.size > 1680
    told = [line for line in unit.warnings if "past the jamb of the tail doorway" in line]
    assert len(told) == 2
    proofs = {found.id: found for found in fit_findings(unit)}
    for line in told:  # the note and the proof have one number
        name, reach = re.match(r"(.+?): reaches ([0-9.]+) mm", line).groups()
        found = proofs[f"DOORWAY:{name}"]
        assert found.demand - found.capacity == pytest.approx(float(reach), abs=0.051)


def test_columns_that_are_all_fixed_are_kept_and_warned_of():
    fixed = BLOCK.replace("{stack", "{width = 790, stack")
    unit = made(VAN, fixed)
    assert [opening.width for opening in unit.blocks[0].openings] == [790, 790]
    assert any("past the jamb" in line for line in unit.warnings)


def test_a_side_block_that_hugs_the_cab_stays_inside_its_doorway():
    side = BLOCK.replace("{z", "{x = [1000, 2600], z").replace(
        "place = {", 'face = "left"\nplace = {'
    )
    told = [line for line in made(VAN, side).warnings if "past the jamb" in line]
    assert told
    word = BLOCK.replace("place = {z = [0, 400]}", 'face = "left"\nplace = "cab"\nz = [0, 400]')
    for opening in made(VAN, word).blocks[0].openings:
        assert opening.clear.x.low >= 1302
        assert opening.clear.x.high <= 2398


TWO = """
[[block]]
name = "near"
place = {x = [0, 700], z = [0, 400]}
columns = [ {stack = [ {fill = "open"} ]} ]
[[block]]
name = "far"
place = {x = [1500, 2600], z = [0, 400]}
columns = [ {stack = [ {fill = "open"} ]} ]
"""


def test_what_stands_further_in_is_carried_in_first():
    unit = made(VAN, TWO)
    (line,) = [note for note in unit.notes if note.startswith("carry in")]
    assert line.endswith("far 1, near 1")


def test_what_stands_already_takes_the_length_for_standing_a_module_up():
    # 1300 high before a doorway of 1200: on its back, and its diagonal of 1.47 m is stood up behind
    bay = VAN[: VAN.index('[[bay.opening]]\nface = "left"')].replace("1350", "2000")
    tall = TWO.replace("x = [0, 700], z = [0, 400]", "x = [0, 700], y = [-700, 700], z = [0, 1310]")
    bay = bay.replace("height = 1290", "height = 1200")
    alone = tall[: tall.index('[[block]]\nname = "far"')]
    assert made(bay, alone).blocks[0].modules[0].doorway.way == "tilted"
    nearer = tall.replace("[1500, 2600]", "[1300, 2600]")
    assert made(bay, tall).blocks[0].modules[0].doorway.way == "tilted"
    assert made(bay, nearer).blocks[0].modules[0].doorway.way == "assemble inside"


def test_a_body_on_another_is_carried_in_after_it():
    over = PLAIN.replace('name = "unit"', 'name = "unit"\nover_arches = "yes"')
    lower = OPEN.replace("[0, 400]", "[0, 240]").replace("unit", "low")
    unit = made(TUB.replace("rail = 486", "rail = 620"), over.replace("drawer", "open"), lower)
    (line,) = [note for note in unit.notes if note.startswith("carry in")]
    assert line.index("low 1") < line.index("unit 1")


def test_a_drawer_behind_another_block_is_warned_of():
    behind = TWO.replace("open", "drawer")
    told = [line for line in made(VAN, behind).warnings if "opens against" in line]
    (line,) = told
    assert line.startswith("drawer 2: opens against near")
    beside = behind.replace("x = [0, 700]", "y = [10, 700]").replace(
        "x = [1500, 2600]", "y = [-700, -10]"
    )
    assert not [line for line in made(VAN, beside).warnings if "opens against" in line]


@settings(max_examples=40, deadline=None, derandomize=True)
@given(
    door=st.integers(700, 1690),
    face=st.sampled_from(["tail", "left", "right"]),
    front=st.sampled_from(["inset", "overlay"]),
    fills=st.tuples(*[st.sampled_from(["drawer", "tray", "open"])] * 3),
    word=st.sampled_from(["fill", "left", "right", "tail", "cab"]),
)
def test_no_drawer_lies_behind_a_jamb_on_generated_jobs(door, face, front, fills, word):
    bay = VAN.replace("width = 1500", f"width = {door}").replace(
        'face = "left"', f'face = "{"left" if face == "tail" else face}"'
    )
    columns = ", ".join(f'{{stack = [ {{fill = "{fill}"}} ]}}' for fill in fills)
    block = f"""
[[block]]
name = "unit"
face = "{face}"
place = "{word}"
z = [0, 400]
columns = [ {columns} ]
"""
    try:
        unit = design(job(bay, block, f'[build]\nfront = "{front}"'), CATALOGUE)
    except DesignError:
        return
    check(unit)
    for opening in (unit.blocks[0].openings[0], unit.blocks[0].openings[-1]):
        if opening.box is None:
            continue
        clear = opening.clear
        if face == "tail":
            assert max(-clear.y.low, clear.y.high) <= door / 2 - 1 + 1e-6
        else:
            assert clear.x.low >= 1302 - 1e-6
            assert clear.x.high <= 2398 + 1e-6
