"""Figures of steps that put no part on: members, readings, joining, anchors, pairs, edges."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from samples import two_drawers

from stowright.app.loading import load_catalogue, load_job
from stowright.app.planning import design_job
from stowright.drawings.overlap import overlaps
from stowright.drawings.scene import Arrow, Balloon, Polyline, Region
from stowright.drawings.stand_ins import actor_corners, bolt_actors, member_actors
from stowright.drawings.step_figures import step_scenes
from stowright.making.drafts import finish_steps
from stowright.making.steps import step_drafts
from stowright.model.part import PlacedFixing


def scenes_of(design):
    steps = finish_steps(design, step_drafts(design))
    return {
        (s.kind, s.about): scene
        for s, scene in zip([s for s in steps if s.figure], step_scenes(design, steps), strict=True)
    }


@pytest.fixture(scope="module")
def pickup_design():
    shelf = load_catalogue()
    job = Path(__file__).parents[2] / "examples" / "pickup" / "job.toml"
    return design_job(load_job(job, catalogue=shelf), catalogue=shelf)


@pytest.fixture(scope="module")
def scenes(pickup_design):
    return scenes_of(pickup_design)


def arrows(scene, style):
    return [i for i in scene.items if isinstance(i, Arrow) and i.style == style]


def marks(scene):
    return {i.text for i in scene.items if isinstance(i, Balloon)}


def test_a_member_lies_against_its_upright(pickup_design):
    opening = pickup_design.opening("tools")
    left, right = member_actors(pickup_design, opening, "cabinet")
    y = 1
    # the block faces the tail: left is +y; a member lies inside its upright, half as thick as the
    # runner is (0.1: the flange under the screws' heads is only about 1.5)
    side = pickup_design.placed_by_id(opening.bounds[0])
    inner = min(side.point(0.0, 0.0, w)[y] for w in (0.0, side.thickness))
    corners = actor_corners(left)
    assert corners[:, y].max() == pytest.approx(inner, abs=0.1)
    assert np.ptp(corners[:, y]) == pytest.approx(opening.runner.runner.thickness / 2.0)
    assert np.ptp(corners[:, 0]) == pytest.approx(opening.runner.size.length)
    assert actor_corners(right)[:, y].max() < corners[:, y].min()


def test_a_member_lies_at_the_runners_line(pickup_design):
    opening = pickup_design.opening("tools")
    for member in ("cabinet", "drawer"):
        for actor in member_actors(pickup_design, opening, member):
            corners = actor_corners(actor)
            middle = (corners[:, 2].min() + corners[:, 2].max()) / 2.0
            assert middle == pytest.approx(opening.at[2] + opening.runner.line)


def test_a_bolt_points_along_its_direction_with_its_head_behind():
    bolt = PlacedFixing(
        id="f1",
        type="M8x40",
        kind="bolt",
        length=40.0,
        joins=(),
        at=(10.0, 20.0, 30.0),
        direction=(0.0, 0.0, -1.0),
        pilot=9.0,
        step="install",
        joint="",
    )
    shank, head = (actor_corners(a) for a in bolt_actors(bolt, (0.0, 0.0, 100.0)))
    assert (shank[:, 2].min(), shank[:, 2].max()) == pytest.approx((90.0, 130.0))
    assert head[:, 2].min() == pytest.approx(130.0)
    assert head.mean(axis=0)[:2] == pytest.approx((10.0, 20.0))


def test_runners_are_pushed_in_and_members_come_from_both_sides(scenes):
    assert len(arrows(scenes["runners", "tools"], "block")) == 2
    assert len(arrows(scenes["members", "tools"], "block")) == 2
    for kind in ("runners", "members"):
        pens = {i.pen for i in scenes[kind, "tools"].items if isinstance(i, Polyline)}
        assert {"light", "outline", "hidden"} <= pens


def test_readings_are_taken_at_three_places_and_both_diagonals(scenes):
    assert len(arrows(scenes["drawer", "tools"], "double")) == 3
    assert len(arrows(scenes["check", "drawers/1"], "double")) == 5


def test_modules_are_numbered_and_each_bolt_has_its_line(scenes, pickup_design):
    scene = scenes["modules", "drawers"]
    assert marks(scene) == {"1", "2"}
    assert len(arrows(scene, "block")) == 1
    lines = [i for i in scene.items if isinstance(i, Polyline) and i.pen == "centre"]
    bolts = [f for f in pickup_design.fixings if f.step == "modules" and f.kind == "bolt"]
    assert len(lines) == len(bolts) > 0


def test_each_anchor_is_named_over_its_hole(scenes, pickup_design):
    assert marks(scenes["install", ""]) == {a.id for a in pickup_design.anchors}


def test_modules_come_down_on_their_packers(scenes, pickup_design):
    scene = scenes["packers", ""]
    packers = {p.mark for p in pickup_design.placed if p.role == "packer"}
    assert marks(scene) == packers
    down = arrows(scene, "block")
    assert len(down) == 2
    for arrow in down:
        assert arrow.tip[0] == pytest.approx(arrow.tail[0])
        assert arrow.tip[1] < arrow.tail[1]


def test_a_pair_lies_mirrored(scenes):
    scene = scenes["machine", ""]
    assert marks(scene) == {"A1", "A2"}
    assert {i.about for i in scene.items if isinstance(i, Region) and i.about} == {"A1", "A2"}


def test_edges_to_seal_are_in_their_line(scenes, pickup_design):
    scene = scenes["finish", ""]
    (mark,) = marks(scene)
    treated = [i for i in scene.items if isinstance(i, Polyline) and i.pen == "treated"]
    assert len(treated) == len(pickup_design.part(mark).edges) > 0
    roles = {p.role for p in pickup_design.placed if p.mark == mark}
    assert not roles & {"deck", "wing"}  # they are not cut at that step yet


def test_all_drawers_are_hung_at_once(scenes):
    assert len(arrows(scenes["drawers-in", ""], "block")) == 2


def test_an_unit_without_runners_or_anchors_still_has_its_figures():
    design = replace(two_drawers(), anchors=())
    found = scenes_of(design)
    assert ("install", "") in found
    assert all(overlaps(scene) == [] for scene in found.values())
