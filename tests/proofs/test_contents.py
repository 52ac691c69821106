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
    job = read_job(JOB.format(top=top))
    design = design_job(job, catalogue=CATALOGUE)
    return {found.id: found for found in prove(design, CATALOGUE, builds=0)}


def test_an_opening_as_much_higher_as_advised_takes_it():
    low = findings(350)
    assert low["STOWED:carry"].status == "fail"
    words = " ".join(low["CONTENTS-HEIGHT:only"].advice)
    more = int(re.search(r"an opening (\d+) mm higher", words)[1])
    assert findings(350 + more)["STOWED:carry"].status == "pass"
    # ten less is the gap over a drawer (build.over_gap): then it would still be left out
    assert findings(350 + more - 10)["STOWED:carry"].status == "fail"


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
