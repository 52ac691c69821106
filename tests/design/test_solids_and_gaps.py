"""No two solids run into each other, every gap is the gap of the sums; on generated jobs.

trimesh and manifold (general geometry libraries) are the outside check of volumes and masses.
"""

import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

sys.path.insert(0, str(Path(__file__).parents[1] / "jobfile"))
from strategies import jobs

from stowright.catalogue import load_catalogue
from stowright.design.build import design
from stowright.drawings.clashes import interpenetrations
from stowright.drawings.solids import part_solid
from stowright.errors import DesignError, UnknownNameError

CATALOGUE = load_catalogue()
LAW = settings(
    max_examples=300,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)


def designed(job):
    """A generated job may ask for what does not fit; then it must be told so, not drawn."""
    try:
        return design(job, CATALOGUE)
    except (DesignError, UnknownNameError):
        return None


def span(piece, axis):
    k = "xyz".index(axis)
    one = piece.point(0, 0, 0)[k]
    two = piece.point(piece.length, piece.width, piece.thickness)[k]
    return min(one, two), max(one, two)


def check(unit):
    assert interpenetrations(unit) == []
    by_id = {piece.id: piece for piece in unit.placed}
    for gap in unit.gaps:
        if all(name in by_id for name in gap.between):
            (a, b), (c, d) = (span(by_id[name], gap.axis) for name in gap.between)
            # a micrometre: sizes are rounded to that when panels are placed
            assert max(a, c) - min(b, d) == pytest.approx(gap.sum, abs=1e-3), gap
    for row in unit.sums:
        assert sum(line.value for line in row.lines) == pytest.approx(row.result, abs=1e-6), row


@LAW
@given(job=jobs())
def test_nothing_overlaps_and_gaps_are_the_gaps_of_the_sums(job):
    unit = designed(job)
    if unit is not None:
        check(unit)


@settings(LAW, max_examples=12)
@given(job=jobs())
def test_masses_are_those_of_the_solids(job):
    unit = designed(job)
    if unit is None:
        return
    for part in unit.parts:
        density = CATALOGUE.material(part.material).density
        volume = part_solid(part).volume()
        # a meshed circle is a polygon: holes come out up to 2 % small, of a few per cent of a part
        assert part.mass_kg == pytest.approx(volume * 1e-9 * density, rel=5e-3), part.mark


@settings(LAW, max_examples=12)
@given(job=jobs())
def test_the_same_job_gives_the_same_design(job):
    assert designed(job) == designed(job)
