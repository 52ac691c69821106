"""What a design tells is told in the job's unit, and a front that its gaps leave nothing of."""

import re

import pytest
from job_texts import CATALOGUE, PLAIN, TUB, made

from stowright.design.build import design
from stowright.errors import DesignError
from stowright.jobfile import read_job

INCHES = """
format = 1
[job]
title = "An invented job in inches"
units = "in"
[bay]
kind = "tub"
length = 60
width = 48
rail = 20
[[block]]
name = "unit"
columns = [ {width = WIDTH, stack = [ {fill = "drawer"} ]}, {stack = [ {fill = "drawer"} ]} ]
"""


def _in_inches(width):
    return design(read_job(INCHES.replace("WIDTH", width)), CATALOGUE)


def test_warnings_of_a_job_in_inches_name_inches():
    lengths = [text for text in _in_inches('"share"').warnings if " mm" in text]
    assert any("pre-drilled" in text for text in lengths)
    for text in lengths:
        assert not re.search(r"(?<![\d.(])[\d.]+ mm", text), text


def test_refusals_of_a_job_in_inches_name_inches():
    with pytest.raises(DesignError, match=r"needs 60 in \(1524\.0 mm\)"):
        _in_inches("60")


def test_front_gaps_that_leave_nothing_of_a_front_are_refused():
    with pytest.raises(DesignError, match="nothing is left of its front between gaps of 300 mm"):
        made(TUB, PLAIN, "[build]\nfront_gap = 300")
