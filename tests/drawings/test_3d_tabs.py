"""Models of routed parts: tabs, slots, reliefs, grooves and holes, read back by trimesh.

trimesh (a general mesh library) is the outside reader: every node a named piece of a named sheet,
closed, and as heavy as the plan says.
"""

import io
import sys
from pathlib import Path

import pytest
import trimesh

sys.path.insert(0, str(Path(__file__).parents[1] / "design"))
from job_texts import CATALOGUE, TUB, made

from stowright.drawings.glb import to_glb
from stowright.model.part_area import volume_mm3

UNIT = """
[[block]]
name = "unit"
columns = [ {stack = [ {fill = "drawer", height = 170}, {fill = "open"} ]} ]
[build]
method = "cnc"
saw = "cnc-6"
joint = "tab-and-slot"
slots = "SLOTS"
"""


@pytest.fixture(scope="module", params=["through", "blind"])
def unit(request):
    return made("cut_grid = 0", TUB, UNIT.replace("SLOTS", request.param))


def test_every_piece_of_the_model_weighs_what_the_plan_says(unit):
    scene = trimesh.load(io.BytesIO(to_glb(unit)), file_type="glb")
    assert set(scene.graph.nodes_geometry) == {p.id for p in unit.placed}
    for placed in unit.placed:
        part = unit.part(placed.mark)
        mesh = scene.geometry[scene.graph[placed.id][1]].copy()
        assert mesh.visual.material.name == part.material
        mesh.merge_vertices()
        assert mesh.is_watertight, placed.id
        # 32-bit floats over a metre; a tab's root is meshed with circles of the true area
        assert mesh.volume * 1e9 == pytest.approx(volume_mm3(part), rel=5e-5), placed.id
        density = CATALOGUE.material(part.material).density
        assert part.mass_kg == pytest.approx(volume_mm3(part) * 1e-9 * density, abs=1e-6)
