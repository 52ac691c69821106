"""Sizes of parts lie on the cut grid, whatever a column is filled with."""

import pytest

from stowright.app.loading import load_catalogue, load_job
from stowright.design.build import design

CATALOGUE = load_catalogue()
JOB = """
[job]
title = "Grid"
cut_grid = {grid}
[bay]
kind = "tub"
length = 1187
width = 1304
rail = 521
[[block]]
name = "unit"
columns = [
  {{stack = [{{fill = "tray", name = "flat"}}, {{fill = "drawer", name = "over"}}]}},
  {{stack = [{{fill = "tray", name = "low", sides = 45}}, {{fill = "locker", name = "shut"}}]}},
]
[build]
bottom_fit = "{fit}"
"""


@pytest.mark.parametrize("grid", [0.5, 1.0])
@pytest.mark.parametrize("fit", ["grooved", "planted", "between"])
def test_every_part_is_a_whole_number_of_steps(grid, fit):
    unit = design(load_job(JOB.format(grid=grid, fit=fit)), CATALOGUE)
    for part in unit.parts:
        for size in (part.length, part.width):
            # a thousandth of a step is far below what a saw can be set to
            assert size / grid == pytest.approx(round(size / grid), abs=1e-3), part.name
    (base,) = [row for row in unit.sums if row.size_of == "flat: tray base width"]
    assert 0.0 <= base.exact - base.result < grid
