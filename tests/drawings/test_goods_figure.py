"""Figures of stops, blocks and hooks: every place from two datums, and the look that checks it."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from stowright.app.loading import load_catalogue, load_job
from stowright.app.planning import design_job
from stowright.drawings.dimension_check import false_dimensions
from stowright.drawings.goods_figure import goods_figure, goods_groups, unfitted
from stowright.drawings.overlap import overlaps
from stowright.drawings.scene import Region, Running

EXAMPLES = Path(__file__).parents[2] / "examples"
ROOM = (174.0, 96.0)


@cache
def unit_of(name):
    shelf = load_catalogue()
    return design_job(load_job(EXAMPLES / name / "job.toml", catalogue=shelf), catalogue=shelf)


def figures(design, units="mm"):
    return [
        goods_figure(group, units=units, room=ROOM, name=f"fitted-{n}")
        for n, group in enumerate(goods_groups(design), start=1)
    ]


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("name", ["pickup", "wagon"])
def test_figures_of_places_are_legible_true_and_complete(name, units):
    design = unit_of(name)
    scenes = figures(design, units)
    assert scenes
    for scene in scenes:
        assert overlaps(scene) == []
        assert false_dimensions(scene, units=units) == []
        assert scene.width <= ROOM[0]
        assert scene.height <= ROOM[1]
    assert unfitted(design, scenes) == []


def test_every_stop_and_hook_that_is_bought_has_its_place():
    design = unit_of("wagon")
    stops = [p for p in design.goods_places if p.what == "bump-stop-10"]
    bought = {name: 0 for name, _, _ in design.hardware}
    for name, count, _ in design.hardware:
        bought[name] += count
    assert len(stops) == bought["bump-stop-10"]
    blocks = sum(p.count for p in design.goods_places if p.what == "stop-block")
    assert blocks == bought["stop-block"]
    assert len([p for p in design.goods_places if p.is_hook]) == 4 * bought["net"]


def test_a_stop_is_drawn_where_its_place_is():
    design = unit_of("pickup")
    for group, scene in zip(goods_groups(design), figures(design), strict=True):
        view = scene.view("face")
        stops = {p for p in group.places if p.what == "bump-stop-10"}
        drawn = [i for i in view.items if isinstance(i, Region) and i.about == "bump-stop-10"]
        middles = {
            tuple(round(sum(c) / 4.0, 3) for c in zip(*region.outer, strict=True))
            for region in drawn
        }
        wanted = {tuple(round(c, 3) for c in view.paper((p.across, p.up))) for p in stops}
        assert middles == wanted


@pytest.mark.parametrize(("view", "axis"), [("face", "x"), ("face", "y"), ("side", "x")])
def test_the_look_notices_a_place_that_is_left_out(view, axis):
    design = unit_of("wagon")  # has stops on the uprights and a net
    scenes = figures(design)

    def robbed(scene):
        views = tuple(
            replace(v, items=tuple(i for i in v.items if not _is_run(i, axis)))
            if v.name == view
            else v
            for v in scene.views
        )
        return replace(scene, views=views)

    assert unfitted(design, [robbed(scene) for scene in scenes])


def test_the_look_notices_a_stop_that_moved_and_a_figure_that_is_missing():
    design = unit_of("wagon")
    scenes = figures(design)
    first, *others = design.goods_places
    moved = replace(design, goods_places=(replace(first, up=first.up + 3.0), *others))
    assert unfitted(moved, scenes)
    assert unfitted(design, scenes[1:])


def _is_run(item, axis):
    return isinstance(item, Running) and item.axis == axis
