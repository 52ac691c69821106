"""Where a deck lies that says nothing of its height."""

from stowright.jobfile import read_job

BAY = """format = 1
[job]
title = "An invented job"
[bay]
kind = "van"
length = 1900
width = 1320
clear_height = 1250
"""
BLOCK = """
[[block]]
name = "unit"
{place}
columns = [{{stack = [{{fill = "drawer"}}]}}]
"""


def deck_over(place, deck="", extra=""):
    text = BAY + extra + BLOCK.format(place=place) + f'\n[[deck]]\nover = ["unit"]\n{deck}\n'
    return read_job(text)


def test_it_lies_as_high_as_its_block_may_reach():
    for place in ("z = [0, 560]", "place = {z = [0, 560]}"):
        job = deck_over(place)
        assert job.decks[0].top == 560.0
        assert any(row.field == "deck[1].top" and "block.z" in row.why for row in job.assumed)


def test_what_the_deck_says_goes_before_that():
    assert deck_over("z = [0, 560]", "top = 500").decks[0].top == 500.0


def test_a_rail_goes_before_that_too():
    assert deck_over("z = [0, 560]", extra="rail = 480\n").decks[0].top is None


def test_without_either_it_has_a_usual_height():
    assert deck_over("").decks[0].top == 450.0
