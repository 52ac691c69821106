"""The look at finished drawings finds a figure that is not what is drawn, or not the part's."""

from dataclasses import replace

import pytest
from plans_2d import design_of

from stowright.drawings.dimension_check import false_dimensions, foreign_sizes
from stowright.drawings.dimensioning import linear, running
from stowright.drawings.part_drawing import part_drawing, shown_beside
from stowright.drawings.scene import Dimension, Running, Scene, View


def scene_of(item, scale=0.1):
    view = View(name="v", items=(item,), scale=scale)
    return Scene(name="s", title="s", width=100.0, height=100.0, views=(view,))


def test_a_true_dimension_passes_and_a_wrong_one_does_not():
    true = linear((0.0, 0.0), (50.0, 0.0), axis="x", line_at=5.0, value=500.0, units="mm")
    assert false_dimensions(scene_of(true), units="mm") == []
    assert len(false_dimensions(scene_of(replace(true, value=501.0)), units="mm")) == 2
    assert len(false_dimensions(scene_of(replace(true, text="50")), units="mm")) == 1
    assert false_dimensions(scene_of(true, scale=0.2), units="mm") != []


def test_a_running_figure_is_measured_from_its_datum():
    run = running(
        (1.0, 0.0),
        [((11.0, 0.0), 100.0), ((31.0, 0.0), 300.0)],
        axis="x",
        line_at=-5.0,
        units="mm",
        side=-1,
    )
    assert false_dimensions(scene_of(run), units="mm") == []
    assert false_dimensions(scene_of(replace(run, values=(100.0, 290.0))), units="mm") != []


@pytest.mark.parametrize("name", ["pickup", "pickup-inches"])
def test_every_part_drawing_holds_only_sizes_of_its_part(name):
    design = design_of(name)
    units = design.job.units
    for part in design.parts[:12]:
        pair = shown_beside(part, design.parts)
        scene = part_drawing(part, units=units, room=(400.0, 600.0), pair=pair)
        assert false_dimensions(scene, units=units) == []
        assert foreign_sizes(part, scene) == []


def test_the_drawing_of_another_part_is_noticed():
    design = design_of("pickup")
    side = design.part("A1")
    scene = part_drawing(replace(side, width=side.width - 2.0), units="mm", room=(400.0, 600.0))
    kinds = {type(item) for item in scene.items}
    assert {Dimension, Running} <= kinds
    assert foreign_sizes(side, scene) != []


def test_a_pair_is_drawn_with_its_left_one():
    design = design_of("pickup")
    left = next(p for p in design.parts if p.hand == "left")
    right = shown_beside(left, design.parts)
    assert right.hand == "right"
    assert (right.length, right.width) == (left.length, left.width)
    assert shown_beside(right, design.parts) is None
    scene = part_drawing(left, units="mm", room=(400.0, 600.0), pair=right)
    assert scene.view("other hand").mirrored
