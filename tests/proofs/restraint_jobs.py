"""Jobs and bodies that the tests of restraint, loose things and tipping share."""

from dataclasses import replace

from stowright.catalogue import load_catalogue
from stowright.design.build import design
from stowright.jobfile import read_job
from stowright.model.geometry import Span
from stowright.proofs.restraint_bodies import StandingBody, Weight, survey_of
from stowright.proofs.restraint_check import check_of

CATALOGUE = load_catalogue()
FLOOR = 'floor = {material = "steel", thickness = 0.8}'
JOB = """
[job]
title = "Restraint cases"
rules = "%(rules)s"
[bay]
kind = "tub"
length = 1500
width = 1400
rail = 500
%(floor)s
no_drill = [ {what = "tank", surface = "floor", x = [0, 10], y = [-600, -590]} ]
%(bay)s
[[bay.opening]]
face = "tail"
width = 1330
%(people)s
[[carry]]
what = "case"
size = [400, 300, 200]
mass = %(mass)s
goes_in = "one"
[[block]]
name = "drawers"
modules = "shared"
columns = [ {stack = [ %(one)s ]}, {stack = [ {fill = "drawer", name = "two"} ]} ]
%(more)s
"""
DEFAULTS = {
    "rules": "light-envelope",
    "floor": FLOOR,
    "bay": "",
    "people": "",
    "mass": 20,
    "one": '{fill = "drawer", name = "one"}',
    "more": "",
}


def unit(**changes):
    return design(read_job(JOB % (DEFAULTS | changes)), CATALOGUE)


def held(**changes):
    """Return the only carcass of a job on its bolts."""
    survey = survey_of(unit(**changes))
    return check_of(survey, survey.bodies[0], CATALOGUE)


def body(*, mass, centre, x, y, empty=None):
    """Return a carcass of any mass and size: edges x and y as (low, high), floor at z = 0."""
    like = survey_of(unit()).bodies[0]
    loaded = Weight(mass=mass, centre=centre)
    return replace(
        like,
        x=Span(low=x[0], high=x[1]),
        y=Span(low=y[0], high=y[1]),
        pivot_z=0.0,
        loaded=loaded,
        empty=empty or loaded,
    )


__all__ = ["CATALOGUE", "StandingBody", "body", "held", "unit"]
