"""What a runner sheet draws below the zero of its heights: the board that the opening ends at."""

import pytest
from plans_2d import design_of

from stowright.drawings.extent import bounds
from stowright.drawings.runner_places import members_of
from stowright.drawings.runner_sheet import runner_figure
from stowright.drawings.scene import Region


def dark(member):
    """Return the dark regions of a member's drawing and its scale."""
    scene = runner_figure([member], units="mm", room=(174.0, 160.0), name="r")
    marks = [i for i in scene.items if isinstance(i, Region) and i.fill == "wood-dark"]
    return [bounds((mark,)) for mark in marks], scene.scale


@pytest.mark.parametrize(
    ("opening", "role", "stands_on"),
    [
        ("pump parts", "shelf", "shelf's upper face"),
        ("pruning", "carcass-floor", "carcass floor"),
    ],
)
def test_the_board_below_zero_is_as_thick_as_it_is(opening, role, stands_on):
    design = design_of("tray")
    cabinet, drawer = members_of(design, design.opening(opening))[:2]
    base = next(p for p in design.placed if p.id == design.opening(opening).bounds[2])
    assert base.role == role
    assert cabinet.stands_on == stands_on
    ((box,), scale) = dark(cabinet)
    thickness = design.part(base.mark).thickness
    assert box.height == pytest.approx(thickness * scale)  # what was measured, to rounding
    assert dark(drawer)[0] == []
