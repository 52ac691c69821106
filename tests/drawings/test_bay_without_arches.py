"""A width between the arches may be all that is known of them; the arrangement is drawn."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "design"))
from job_texts import made

from stowright.drawings.general_arrangement import general_arrangement

BAY = """
[bay]
kind = "tub"
length = 1494
width = 1392
rail = 500
between = [ {at = 500, height = 0, width = 1106} ]
[[block]]
name = "unit"
columns = [ {stack = [ {fill = "drawer"} ]} ]
"""


def test_the_arrangement_is_drawn_without_arches():
    scene = general_arrangement(made(BAY), projection="first", units="mm")
    assert len(scene.views) >= 3
    assert all(view.items for view in scene.views)
