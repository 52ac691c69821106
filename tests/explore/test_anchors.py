"""The planner of hold-down bolts: rules of place, fewest that pass, the same every time."""

import sys
from dataclasses import replace
from math import hypot
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "proofs"))

from restraint_jobs import CATALOGUE, unit

from stowright.app.planning import design_job
from stowright.design.build import design as design_of
from stowright.explore.anchors import plan_anchors
from stowright.formulas.restraint import rule_set
from stowright.model.given import AnchorPlan, Given, ModuleAnchors
from stowright.proofs.restraint_check import greatest_use, studied
from stowright.proofs.tipping import use_when_out

HEAVY = unit(mass=320)
PLAN = plan_anchors(HEAVY, CATALOGUE)
PLANNED = design_of(HEAVY.job, CATALOGUE, Given(anchors=PLAN))


def use_of(design):
    rules = rule_set(design.job.rules)
    return max(
        max(greatest_use(held, rules), use_when_out(held))
        for held in studied(design, CATALOGUE).held
    )


def test_the_usual_four_stand_where_they_pass():
    assert plan_anchors(unit(), CATALOGUE) == AnchorPlan()


def test_what_fails_with_four_is_planned_until_it_passes():
    assert use_of(HEAVY) > 0.9
    assert use_of(PLANNED) <= 0.9
    row = PLAN.modules[0]
    assert row.use == pytest.approx(use_of(PLANNED), abs=1e-3)
    assert row.why


def test_no_fewer_bolts_of_any_kind_would_pass():
    row = PLAN.modules[0]
    for count in range(2, row.count):
        for thread in ("", "M10"):
            fewer = ModuleAnchors(
                block=row.block, module=row.module, count=count, thread=thread, angle="angle-60"
            )
            other = design_of(HEAVY.job, CATALOGUE, Given(anchors=AnchorPlan(modules=(fewer,))))
            assert len(other.anchors) >= 4 or use_of(other) > 0.9


def test_the_same_job_gives_the_same_plan():
    assert plan_anchors(unit(mass=320), CATALOGUE) == PLAN


def test_every_planned_bolt_keeps_the_rules_of_place():
    many = design_of(
        HEAVY.job,
        CATALOGUE,
        Given(anchors=AnchorPlan(modules=(ModuleAnchors(block="drawers", module="1", count=8),))),
    )
    assert len(many.anchors) == 8
    packers = [p for p in many.placed if p.role == "packer"]
    uprights = [p for p in many.placed if p.role in {"carcass-side", "partition"}]
    for anchor in many.anchors:
        assert any(_over(p, anchor.x, anchor.y) for p in packers)
        assert min(_beside(p, anchor.y) for p in uprights) <= 60.0


def _over(piece, x, y):
    one, two = piece.origin, piece.point(piece.length, piece.width, piece.thickness)
    return all(min(a, b) <= v <= max(a, b) for a, b, v in zip(one, two, (x, y), strict=False))


def _beside(piece, y):
    one, two = piece.origin, piece.point(piece.length, piece.width, piece.thickness)
    return min(abs(y - one[1]), abs(y - two[1]))


def test_belts_and_no_drill_areas_are_kept_clear():
    belt = 'belts = [ {what = "child seat", surface = "floor", x = 1400, y = 600} ]'
    free = unit(bay=belt, mass=320)
    plan = plan_anchors(free, CATALOGUE)
    design = design_of(free.job, CATALOGUE, Given(anchors=plan))
    assert design.anchors
    for anchor in design.anchors:
        assert hypot(anchor.x - 1400.0, anchor.y - 600.0) >= 300.0


def test_factory_anchors_come_first():
    ring = '{what = "ring", surface = "floor", x = 200, y = %s, thread = "M8", %s}'
    stated = "tension = 9000, shear = 9000"
    rings = f"anchors = [ {ring % (500, stated)}, {ring % (-500, stated)} ]"
    free = unit(bay=rings, mass=320)
    plan = plan_anchors(free, CATALOGUE)
    design = design_of(free.job, CATALOGUE, Given(anchors=plan))
    assert sum(1 for a in design.anchors if a.existing) == 2


def test_what_cannot_be_held_is_said():
    plan = plan_anchors(unit(mass=2500), CATALOGUE)
    assert plan.open
    assert "drawers/1" in plan.open[0]


def test_a_plan_is_made_on_what_other_searches_settled():
    given = Given(anchors=PLAN)
    again = plan_anchors(PLANNED, CATALOGUE, given)
    assert again == AnchorPlan()


def test_without_settling_the_design_keeps_the_usual_four():
    assert design_job(HEAVY.job, catalogue=CATALOGUE, settle=False) == HEAVY
    assert len(HEAVY.anchors) == 4


def test_angles_are_bought_and_lift_the_heads():
    row = ModuleAnchors(block="drawers", module="1", angle="angle-40")
    job = replace(HEAVY.job)
    design = design_of(job, CATALOGUE, Given(anchors=AnchorPlan(modules=(row,))))
    angled = [a for a in design.anchors if a.angle]
    placed = [f for f in design.fixings if f.type == "angle-40"]
    assert len(placed) == len(angled)
    thick = CATALOGUE.item("angle-40").size[2]
    floor = next(p for p in design.placed if p.role == "carcass-floor")
    top = floor.origin[2] + floor.thickness
    heads = {f.id: f for f in design.fixings if f.kind == "bolt"}
    for anchor in angled:
        assert heads[anchor.fixing].at[2] >= top + thick - 1e-6


def test_each_new_hole_says_what_to_look_for_underneath():
    notes = [a.note for a in unit().anchors if not a.existing]
    assert any("look underneath for tank close by" in note for note in notes)
    assert any("look underneath for tank, pipes, cables" in note for note in notes)
    assert all("look underneath for" in note for note in notes)


def two_carcasses(**changes):
    """Return a unit of two carcasses that are bolted together."""
    job = unit(**changes).job
    block = replace(job.blocks[0], modules="separate")
    return design_of(replace(job, blocks=(block,)), CATALOGUE)


def test_carcasses_bolted_together_get_the_fewest_that_pass_two_or_more_each():
    design = two_carcasses()
    plan = plan_anchors(design, CATALOGUE)
    assert [row.module for row in plan.modules] == ["1", "2"]
    made = design_of(design.job, CATALOGUE, Given(anchors=plan))
    assert len(made.anchors) < len(design.anchors)
    assert use_of(made) <= 0.9
    rules = rule_set(design.job.rules)
    for held in studied(made, CATALOGUE).held:
        count = len(held.holds)
        assert count >= 2
        for out in range(count if count > 2 else 0):
            rest = held.only([n for n in range(count) if n != out])
            assert max(greatest_use(rest, rules), use_when_out(rest)) > 0.9


def test_a_carcass_by_itself_keeps_four():
    assert len(unit().blocks[0].modules) == 1
    assert plan_anchors(unit(), CATALOGUE).modules == ()


def test_factory_anchors_are_kept_before_new_holes():
    ring = '{what = "ring", surface = "floor", x = 200, y = %s, thread = "M8", %s}'
    stated = "tension = 9000, shear = 9000"
    design = two_carcasses(bay=f"anchors = [ {ring % (500, stated)}, {ring % (-500, stated)} ]")
    made = design_of(design.job, CATALOGUE, Given(anchors=plan_anchors(design, CATALOGUE)))
    for module in ("1", "2"):
        mine = [a for a in made.anchors if a.module == module]
        assert sum(1 for a in mine if a.existing) == 1


def test_no_bolt_is_saved_where_loads_or_strengths_are_not_known():
    design = two_carcasses()
    nothing = replace(design, job=replace(design.job, carry=()))
    assert plan_anchors(nothing, CATALOGUE).modules == ()
    assert plan_anchors(two_carcasses(floor=""), CATALOGUE).modules == ()
