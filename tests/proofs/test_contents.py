"""What does not fit under what is above it: the height that is advised is enough to stow it."""

import re

from use_jobs import CATALOGUE

from stowright.app.planning import design_job
from stowright.jobfile import read_job
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
