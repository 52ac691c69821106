"""Where the planner puts bolts, over generated bays: spread about the centre, and by the rules."""

import sys
from math import hypot
from pathlib import Path

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1] / "design"))
sys.path.insert(0, str(Path(__file__).parents[1] / "jobfile"))
sys.path.insert(0, str(Path(__file__).parents[1] / "proofs"))

from broad_jobs import broad_jobs
from restraint_jobs import CATALOGUE, unit
from strategies import job_texts

from stowright.design.anchor_rules import floor_ban
from stowright.design.build import design as design_of
from stowright.errors import DesignError, JobError
from stowright.explore.anchors import anchored
from stowright.jobfile import read_job
from stowright.proofs.restraint import restraint_findings
from stowright.proofs.restraint_check import spread, studied

HATCH = '{what = "hatch", x = [%s, 1500], y = [-700, 700]}'


def spread_of(design):
    return {
        held.body.id: not spread(held.holds, (held.body,))
        for held in studied(design, CATALOGUE).held
        if held.holds
    }


@settings(max_examples=20, deadline=None)
@given(text=st.one_of(job_texts(), broad_jobs()))
def test_planned_bolts_are_spread_where_the_usual_ones_are_and_keep_the_rules_of_place(text):
    try:
        usual = design_of(read_job(text), CATALOGUE)
    except (DesignError, JobError):
        reject()
    plan, planned = anchored(usual, CATALOGUE)
    before, after = spread_of(usual), spread_of(planned)
    named = {f"{row.block}/{row.module}" for row in plan.modules}
    assert all(after[name] for name in named if before[name])
    bay = planned.job.bay
    uprights = [p for p in planned.placed if p.role in {"carcass-side", "partition"}]
    for anchor in planned.anchors:
        if anchor.existing:
            continue
        assert not floor_ban(bay, anchor.x, anchor.y)
        assert all(hypot(b.x - anchor.x, b.y - anchor.y, b.z) >= 300.0 for b in bay.belts)
        mine = [p for p in uprights if (p.block, p.module) == (anchor.block, anchor.module)]
        assert min(beside(planned, p, anchor) for p in mine) <= 60.0


def beside(design, piece, anchor):
    """Return how far a bolt stands from an upright's face, across the block."""
    face = next(block.face for block in design.blocks if block.name == piece.block)
    axis = 1 if face == "tail" else 0
    ends = piece.origin[axis], piece.point(piece.length, piece.width, piece.thickness)[axis]
    at = (anchor.x, anchor.y)[axis]
    return min(abs(at - end) for end in ends)


def found(design):
    rows = restraint_findings(design, CATALOGUE)
    return {row.id: row for row in rows if row.id.startswith("RESTRAINT-SPREAD")}


def test_bolts_at_one_end_are_told_with_the_side_that_is_bare():
    whole = found(unit())
    assert {row.status for row in whole.values()} == {"pass"}
    bare = next(iter(found(unit(bay=f"access = [ {HATCH % 420} ]")).values()))
    assert bare.status == "not proved"
    assert "towards the cab" in bare.needs[0]
    assert "bay.anchors" in bare.needs[0]


def test_factory_anchors_alone_serve_where_their_maker_put_them():
    ring = '{what = "ring", surface = "floor", x = %s, y = %s, thread = "M8", %s}'
    stated = "tension = 9000, shear = 9000"
    rings = ", ".join(ring % (120, y, stated) for y in (500, -500))
    bay = f"anchors = [ {rings} ]\naccess = [ {HATCH % 0} ]"
    row = next(iter(found(unit(bay=bay)).values()))
    assert row.status == "pass"


@pytest.mark.parametrize(
    ("bolts", "bare"),
    [
        (((100, 400), (100, -400)), "towards the cab"),
        (((1400, 400), (1400, -400)), "towards the tail"),
        (((100, 500), (1400, 450)), "to the right"),
        (((100, 400), (1400, -400)), ""),
    ],
)
def test_the_bare_side_is_named(bolts, bare):
    design = unit()
    held = studied(design, CATALOGUE).held[0]
    spots = [_Spot(*at) for at in bolts]
    assert spread(spots, (held.body,)) == bare


class _Spot:
    def __init__(self, x, y):
        self.x, self.y = float(x), float(y)
