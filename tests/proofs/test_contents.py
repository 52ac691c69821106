"""What does not fit under what is above it: the height that is advised is enough to stow it."""

import re

from use_jobs import CATALOGUE

from stowright.app.planning import design_job
from stowright.design.build import design
from stowright.jobfile import read_job
from stowright.model.given import Given
from stowright.model.packed import LeftOut, PackedLoad
from stowright.proofs.prove import prove

JOB = """
[job]
title = "Chimney sweep"
[bay]
kind = "van"
length = 900
width = 700
clear_height = 1100
[[bay.opening]]
face = "tail"
width = 690
height = 1080
[[carry]]
what = "soot can"
size = [250, 250, 316.4]
mass = 6
keep_upright = true
goes_in = "only"
[[block]]
name = "box"
place = {{z = [0, {top}]}}
columns = [{{stack = [{{fill = "drawer", name = "only"}}]}}]
"""


def findings(top):
    return proved(JOB.format(top=top))


def proved(text):
    design = design_job(read_job(text), catalogue=CATALOGUE)
    return {found.id: found for found in prove(design, CATALOGUE, builds=0)}


def test_an_opening_as_much_higher_as_advised_takes_it():
    low = findings(350)
    assert low["STOWED:carry"].status == "fail"
    words = " ".join(low["CONTENTS-HEIGHT:only"].advice)
    top = int(re.search(r"z = \[0, (\d+)\] for box, passes", words)[1])
    assert findings(top)["STOWED:carry"].status == "pass"
    # ten less is the gap over a drawer (build.over_gap): then it would still be left out
    assert findings(top - 10)["STOWED:carry"].status == "fail"


def test_a_lid_that_would_hit_the_roof_is_told_by_name_and_by_how_much():
    text = JOB.format(top=350).replace("mass = 6", "mass = 6\nclear_above = 500")
    text = text.replace("clear_height = 1100", "clear_height = 800")
    text = text.replace("height = 1080", "height = 780")
    design = design_job(read_job(text), catalogue=CATALOGUE)
    found = {one.id: one for one in prove(design, CATALOGUE, builds=0)}["CONTENTS-HEIGHT:only"]
    # 316.4 high and 500 for its lid stand on the drawer's bottom, over packer, floor and gap
    inside = design.blocks[0].openings[0].usable.z.low
    room = 800 - design.job.bay.reading_error - inside
    words = " ".join(found.advice)
    assert found.status == "fail"
    assert "the lid of" in words
    assert f"would hit the roof: {room:g} mm over where it stands, 816.4 mm wanted" in words
    assert any(line.startswith(f"roof: {room:g} mm") for line in found.working)


def test_a_lid_that_no_lower_place_saves_is_told_so_and_what_is_tried_mends_it():
    """816.4 wanted under a roof of 800: followed, the block is as high as the can, its lid shut."""
    text = JOB.format(top=350).replace("mass = 6", "mass = 6\nclear_above = 500")
    text = text.replace("clear_height = 1100", "clear_height = 800")
    text = text.replace("height = 1080", "height = 780")
    found = proved(text)["CONTENTS-HEIGHT:only"]
    words = "\n".join(found.advice)
    assert "the bay is 798 mm high from its floor" in words
    assert "lower in a higher opening" not in words
    top = re.search(r"z = \[0, (\d+)\] for box and clear_above = 0 for soot can, .* passes", words)
    mended = text.replace("z = [0, 350]", f"z = [0, {top[1]}]")
    mended = mended.replace("clear_above = 500", "clear_above = 0")
    after = proved(mended)
    assert after["CONTENTS-HEIGHT:only"].status == "pass"
    assert after["STOWED:carry"].status == "pass"


def test_a_block_and_the_deck_over_it_stand_under_the_roof():
    tall = JOB.format(top=1120)
    found = proved(tall)["FITS-HEIGHT:box"]
    assert found.status == "fail"
    # 11.7 of packers and a carcass on the grid of 0.5: 1119.7
    assert (found.demand, found.capacity) == (1119.7, 1098.0)
    top = re.search(r"z = \[0, (\d+)\] for box, passes", "\n".join(found.advice))
    assert proved(JOB.format(top=top[1]))["FITS-HEIGHT:box"].status == "pass"
    deck = tall + '[[deck]]\nname = "bed"\nover = ["box"]\ntop = 1099\n'
    found = proved(deck)["FITS-HEIGHT:box"]
    assert (found.demand, found.status) == (1098.9, "warn")
    top = re.search(r"top = (\d+) for bed passes", "\n".join(found.advice))
    assert proved(deck.replace("top = 1099", f"top = {top[1]}"))["FITS-HEIGHT:box"].status == "pass"
    open_tub = tall.replace("clear_height = 1100", "rail = 500").replace('"van"', '"tub"')
    assert "FITS-HEIGHT:box" not in proved(open_tub.replace("height = 1080", ""))


def test_a_block_that_takes_the_height_there_is_leaves_room_for_the_lining():
    """It takes what its reading leaves; a lining thicker than the air above it comes off too."""
    text = JOB.format(top=350).replace("place = {z = [0, 350]}\n", "")
    found = proved(text + "[build]\nlining = {bay = 15}\n")["FITS-HEIGHT:box"]
    assert (found.status, found.capacity) == ("pass", 1083.0)
    assert found.demand > 1083.0 - 10.0 - 0.6  # the air above it, and the grid


def test_a_block_above_the_floor_or_under_a_deck_is_moved_where_it_stands():
    high = JOB.format(top=1120).replace("z = [0, ", "z = [400, ")
    words = "\n".join(proved(high)["FITS-HEIGHT:box"].advice)
    assert re.search(r"z = \[400, \d+\] for box, passes", words)
    decked = JOB.format(top=1000) + '[[deck]]\nname = "bed"\nover = ["box"]\ntop = 350\n'
    words = "\n".join(proved(decked)["CONTENTS-HEIGHT:only"].advice)
    top = re.search(r"top = (\d+) for bed passes", words)
    after = proved(decked.replace("top = 350", f"top = {top[1]}"))
    assert after["CONTENTS-HEIGHT:only"].status == "pass"


def test_a_thing_that_is_tried_in_another_opening_weighs_there():
    """Packed, it had no place at all: tried elsewhere it must not weigh nothing."""
    two = '{{fill = "drawer", name = "only", height = 150}}, {{fill = "drawer", name = "tall"}}'
    text = JOB.replace('{{fill = "drawer", name = "only"}}', two).format(top=900)
    job = read_job(text.replace("mass = 6", "mass = 60"))
    left = PackedLoad(left_out=(LeftOut(what="soot can", copies=1, why="too high"),))
    unit = design(job, CATALOGUE, Given(packed=left))
    found = {each.id: each for each in prove(unit, CATALOGUE, builds=0)}
    words = "\n".join(found["CONTENTS-HEIGHT:only"].advice)
    assert re.search(r'goes_in = "tall" for soot can passes.*; but then fails: .*:tall', words)
