"""Details: true sections of the model, at full or half size, each piece and fixing named."""

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
import shapely
from plans_2d import EXAMPLES, design_of
from shapely.geometry import box

from stowright.app.loading import load_catalogue
from stowright.drawings.detail_cut import cut_pieces, joined_rings
from stowright.drawings.details import detail_figures
from stowright.drawings.dimension_check import false_dimensions
from stowright.drawings.extent import Bounds
from stowright.drawings.ortho import Sight
from stowright.drawings.overlap import overlaps
from stowright.drawings.scene import Dimension, Leader, Region
from stowright.model.part_area import volume_mm3

FROM_THE_TAIL = Sight(right=(0.0, -1.0, 0.0), up=(0.0, 0.0, 1.0), look=(1.0, 0.0, 0.0))
EVERYTHING = Bounds(left=-9000.0, right=9000.0, bottom=-9000.0, top=9000.0)


@pytest.mark.parametrize("name", sorted(EXAMPLES))
def test_details_are_at_full_or_half_size_and_legible(name):
    design = design_of(name)
    units = design.job.units
    scenes = detail_figures(design, load_catalogue(), units=units, room=(174.0, 160.0))
    names = {scene.name for scene in scenes}
    assert {"detail-runner", "detail-anchor"} <= names
    assert "detail-joint" in names
    roles = {piece.role for piece in design.placed}
    assert ("detail-deck" in names) == ("deck" in roles)
    assert ("detail-wing-cleat" in names) == ("wing-cleat" in roles)
    assert ("detail-latch" in names) == any(f.kind == "latch" for f in design.fixings)
    assert ("detail-modules" in names) == any(f.step == "modules" for f in design.fixings)
    for scene in scenes:
        assert scene.scale in {1.0, 0.5}
        assert scene.width <= 174.0
        assert overlaps(scene) == []
        assert false_dimensions(scene, units=units) == []


def test_leaders_hardly_ever_cross():
    """Of the thirty-odd details of the examples one has two that do: seven before orders varied."""
    crossed = []
    for name in sorted(EXAMPLES):
        design = design_of(name)
        room = (174.0, 237.0)
        for scene in detail_figures(design, load_catalogue(), units=design.job.units, room=room):
            ways = [shapely.LineString(i.points) for i in scene.items if isinstance(i, Leader)]
            pairs = sum(a.crosses(b) for a, b in combinations(ways, 2))
            crossed += [f"{name} {scene.name}"] * pairs
    assert len(crossed) <= 1, crossed


def test_slices_add_up_to_the_volume():
    """Cavalieri: areas of even slices times their distance is the volume, here to one in a hundred.

    Thirty slices through pieces whose shape changes at a few places only.
    """
    design = design_of("pickup")
    for piece in [p for p in design.placed if p.role in {"drawer-side", "drawer-front"}][:3]:
        part = design.part(piece.mark)
        alone = replace(design, placed=(piece,))
        corners = [
            piece.point(u, v, w)[0]
            for u in (0.0, piece.length)
            for v in (0.0, piece.width)
            for w in (0.0, piece.thickness)
        ]
        low, high = min(corners), max(corners)
        step = (high - low) / 30
        total = 0.0
        for k in range(30):
            cut = cut_pieces(alone, FROM_THE_TAIL, depth=low + (k + 0.5) * step, window=EVERYTHING)
            total += step * sum(shape.area for one in cut for shape in one.shapes)
        assert total == pytest.approx(volume_mm3(part), rel=0.01)


def test_a_section_shows_the_groove_and_no_two_pieces_in_one_place():
    design = design_of("pickup")
    opening = design.opening("tools")
    depth = opening.at[0] + 0.45 * opening.depth
    cut = cut_pieces(design, FROM_THE_TAIL, depth=depth, window=EVERYTHING)
    shapes = [shape for piece in cut for shape in piece.shapes]
    for k, one in enumerate(shapes):
        for other in shapes[k + 1 :]:
            assert one.intersection(other).area < 0.05
    side = next(c for c in cut if c.placed.role == "drawer-side" and c.placed.body == "tools")
    whole = box(*side.shapes[0].bounds)
    groove = 12.0 * 6.0  # a 12 mm bottom, 6 deep: the default of the contract
    assert whole.area - side.shapes[0].area == pytest.approx(groove, abs=0.5)


def test_the_anchor_names_its_bolt_plate_and_nut():
    design = design_of("pickup")
    shelf = load_catalogue()
    scene = next(
        s
        for s in detail_figures(design, shelf, units="mm", room=(174.0, 160.0))
        if s.name == "detail-anchor"
    )
    anchor = next(a for a in design.anchors if a.plate)
    words = {line for item in scene.items if isinstance(item, Leader) for line in item.lines}
    assert {anchor.bolt, anchor.plate, anchor.nut} <= words
    assert any(line.startswith("vehicle's floor, 0.8") for line in words)


def test_a_frames_corner_is_drawn_at_its_floor_rail():
    scenes = figures_of("pickup-inches")
    words = leaders(scenes["detail-joint"])
    assert "floor rail" in scenes["detail-joint"].title
    assert any("floor rail" in line for line in words)


def test_rings_that_touch_along_a_line_leave_areas_only():
    """Two squares that share a side, and one inside another: lines are no part of a section."""
    square = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]
    beside = [(10.0, 2.0), (20.0, 2.0), (20.0, 8.0), (10.0, 8.0)]
    hole = [(4.0, 0.0), (6.0, 0.0), (6.0, 5.0), (4.0, 5.0)]
    rings = [np.array(ring) for ring in (square, beside, hole)]
    area = joined_rings(rings)
    assert {part.geom_type for part in area.geoms} == {"Polygon"}
    assert area.area == pytest.approx(100.0 + 60.0 - 10.0)


def test_a_latch_has_its_body_keeper_and_place():
    scene = figures_of("tray")["detail-latch"]
    assert {"slam-latch", "its keeper"} <= leaders(scene)
    design = design_of("tray")
    latch = next(f for f in design.fixings if f.kind == "latch")
    door = design.placed_by_id(latch.joins[0])
    top = max(door.point(0.0, v, 0.0)[2] for v in (0.0, door.width))
    (size,) = [i for i in scene.items if isinstance(i, Dimension)]
    assert size.value == pytest.approx(top - latch.at[2])
    # body 60 x 50 x 35 of the catalogue: 50 by 35 in the section
    boxes = [
        shapely.Polygon(i.outer).bounds
        for i in scene.items
        if isinstance(i, Region) and i.fill == "metal"
    ]
    sizes = {(round(b[2] - b[0], 1), round(b[3] - b[1], 1)) for b in boxes}
    assert (35.0, 50.0) in sizes


def figures_of(name):
    design = design_of(name)
    scenes = detail_figures(design, load_catalogue(), units=design.job.units, room=(174.0, 160.0))
    return {scene.name: scene for scene in scenes}


def leaders(scene):
    return {line for item in scene.items if isinstance(item, Leader) for line in item.lines}
