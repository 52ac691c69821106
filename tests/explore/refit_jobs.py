"""Jobs for the tests of refit: one cabinet of two drawers, with what was cut and read."""

from stowright.catalogue import load_catalogue
from stowright.design.build import design
from stowright.explore.refit import Asked, as_planned, find_refit
from stowright.jobfile import read_job
from stowright.model.given import Given

CATALOGUE = load_catalogue()
UNIT = """
format = 1
[job]
title = "An invented job"
[bay]
kind = "tub"
length = 1494
width = 1392
rail = 486
widths = [ {at = 0, height = 0, width = 1392}, {at = 740, height = 450, width = 1400} ]
arches = [ {side = "left", start = 402, end = 1105, height = 228, reach = 141},
           {side = "right", start = 404, end = 1105, height = 229, reach = 139} ]
[[bay.opening]]
face = "tail"
width = 1328
[build.measured_thickness]
ply-15 = [14.6, 14.6]
ply-12 = [11.8, 11.8]
[[block]]
name = "unit"
wings = {left = "fixed", right = "fixed"}
columns = [ {stack = [ {fill = "drawer", name = "left"} ]},
            {stack = [ {fill = "drawer", name = "right"} ]} ]
[[deck]]
over = ["unit"]
below_rail = 45
"""


def reading(what, *values, opening="left", block=""):
    of = f'block = "{block}"' if block else f'opening = "{opening}"'
    told = ", ".join(f"{value!r}" for value in values)
    return f'\n[[reading]]\nof = {{{of}, what = "{what}"}}\nvalues = [{told}]\n'


def done(*parts, stage="cut"):
    rows = ", ".join(
        f'{{mark = "{mark}", size = [{", ".join(str(v) for v in size)}]}}' for mark, size in parts
    )
    return f'\n[[done]]\nstage = "{stage}"\nparts = [{rows}]\n'


def job(*texts):
    return read_job("".join((UNIT, *texts)))


BASE = design(job(), CATALOGUE)


def size_of(part):
    return (part.length, part.width, part.thickness)


SIZES = {part.mark: size_of(part) for part in BASE.parts}


def refit(*texts, base=None):
    """The refit of the unit with what was cut and read; None when there is nothing."""
    asked = job(*texts)
    planned = base or design(as_planned(asked), CATALOGUE)
    return find_refit(planned, asked, CATALOGUE, Asked(sizes=SIZES, marks={}))


def refitted(*texts):
    """The design of the unit after what was cut and read, and the refit."""
    asked = job(*texts)
    found = refit(*texts)
    return design(asked, CATALOGUE, Given(refit=found)), found


def marks_of(role, unit=BASE, opening="left"):
    return [p.mark for p in unit.placed if p.role == role and opening in (p.opening, p.module)]
