"""Short invented jobs for the tests of the design room, and what every design of them must keep."""

import pytest

from stowright.catalogue import load_catalogue
from stowright.design.build import design
from stowright.drawings.clashes import interpenetrations
from stowright.jobfile import read_job

CATALOGUE = load_catalogue()

TUB = """
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
"""
VAN = """
[bay]
kind = "van"
length = 2600
width = 1700
clear_height = 1350
[[bay.opening]]
face = "tail"
width = 1500
height = 1290
[[bay.opening]]
face = "left"
at = 1300
width = 1100
height = 1200
"""
TRAY = """
[bay]
kind = "tray"
length = 1800
width = 1800
clear_height = 900
[[bay.opening]]
face = "left"
at = 100
width = 1600
height = 850
[[bay.opening]]
face = "right"
at = 100
width = 1600
height = 850
"""
PLAIN = """
[[block]]
name = "unit"
columns = [ {stack = [ {fill = "drawer"} ]}, {stack = [ {fill = "drawer"} ]} ]
"""


def job(*texts):
    """A job from pieces of a job file."""
    return read_job("\n".join(('format = 1\n[job]\ntitle = "An invented job"', *texts)))


def made(*texts):
    """The design of a job from pieces of a job file."""
    return design(job(*texts), CATALOGUE)


def span(piece, axis):
    """The range of a placed piece on an axis."""
    k = "xyz".index(axis)
    one = piece.point(0, 0, 0)[k]
    two = piece.point(piece.length, piece.width, piece.thickness)[k]
    return min(one, two), max(one, two)


def check(unit):
    """No two solids overlap, each gap in the model is the gap of the sums, each sum adds up."""
    assert interpenetrations(unit) == []
    by_id = {piece.id: piece for piece in unit.placed}
    for gap in unit.gaps:
        if all(name in by_id for name in gap.between):
            (a, b), (c, d) = (span(by_id[name], gap.axis) for name in gap.between)
            # a micrometre: sizes are rounded to that when panels are placed
            assert max(a, c) - min(b, d) == pytest.approx(gap.sum, abs=1e-3), gap
    for row in unit.sums:
        assert sum(line.value for line in row.lines) == pytest.approx(row.result, abs=1e-6), row


def placed(unit, *roles):
    """The placed pieces of some roles."""
    return [piece for piece in unit.placed if piece.role in roles]


def sum_of(unit, size_of):
    """The sum of a size."""
    return next(row for row in unit.sums if row.size_of == size_of)
