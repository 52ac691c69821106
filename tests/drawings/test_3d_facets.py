"""Faces and edges of parts: closed, of the right area, and no edge where there is none."""

from math import pi

import numpy as np
import pytest
import shapely
from samples import T, hole, pocket, two_drawers

from stowright.drawings.facets import part_shape
from stowright.drawings.solids import part_solid
from stowright.model.part import Part


def plain_part(length, width, thickness, *features, outline=(), mark="A1"):
    return Part(
        mark=mark,
        name="panel",
        role="panel",
        block="b",
        module="1",
        material="ply-15",
        length=length,
        width=width,
        thickness=thickness,
        outline=outline or ((0, 0), (length, 0), (length, width), (0, width)),
        quantity=1,
        grain="long",
        hand="",
        mirrored=False,
        release="A",
        waits_for="",
        edges=(),
        front_edge="",
        features=features,
        mass_kg=0.0,
        origin_note="",
    )


def area(facet):
    """Area of a plane face with holes, from Newell's sums."""
    total = 0.0
    for k, ring in enumerate(facet.rings):
        newell = np.cross(ring, np.roll(ring, -1, axis=0)).sum(axis=0) / 2.0
        total += np.linalg.norm(newell) * (1.0 if k == 0 else -1.0)
    return total


def test_a_plain_panel_has_six_faces_and_twelve_edges():
    shape = part_shape(plain_part(400.0, 300.0, 15.0))
    assert len(shape.facets) == 6
    assert len(shape.edges) == 12
    lengths = np.linalg.norm(shape.edges[:, 1] - shape.edges[:, 0], axis=1)
    assert sorted(lengths) == pytest.approx([15.0] * 4 + [300.0] * 4 + [400.0] * 4)


def test_a_groove_from_end_to_end_adds_three_faces_and_splits_the_top():
    groove = pocket("groove", (0.0, 100.0), (400.0, 12.0), depth=6.0)
    shape = part_shape(plain_part(400.0, 300.0, 15.0, groove))
    up = [f for f in shape.facets if f.normal == (0.0, 0.0, 1.0)]
    # two lands and the groove's bottom
    assert sorted(area(f) for f in up) == pytest.approx([400 * 12, 400 * 100, 400 * 188])
    # 8 along the length: 4 outer ones, 2 lips, 2 inner corners
    along = np.abs(shape.edges[:, 1, 0] - shape.edges[:, 0, 0]) > 399.0
    assert along.sum() == 8


def test_the_end_of_a_groove_leaves_no_line_across_the_flat_end():
    groove = pocket("groove", (0.0, 100.0), (400.0, 12.0), depth=6.0)
    shape = part_shape(plain_part(400.0, 300.0, 15.0, groove))
    end = np.abs(shape.edges[:, :, 0]).max(axis=1) < 1e-6
    # the end face: 4 sides of the panel, the top broken by the groove, and the groove's three
    assert end.sum() == 4 + 1 + 3


@pytest.mark.parametrize("mark", [p.mark for p in two_drawers().parts])
def test_faces_close_and_weigh_what_the_solid_weighs(mark):
    """Outside route: surface and volume of the boolean solid."""
    part = two_drawers().part(mark)
    from_faces = part_shape(part)
    solid = part_solid(part)
    edge_holes = [f for f in part.features if f.face[0] in "uv"]
    assert (from_faces.beside >= 0).all()
    volume = sum(
        area(f) * float(np.array(f.normal) @ f.rings[0][0]) / 3.0 for f in from_faces.facets
    )
    drilled = sum(pi * (f.size[0] / 2.0) ** 2 * f.depth for f in edge_holes)
    # faces share corners rounded to 1e-4 mm
    assert volume - drilled == pytest.approx(solid.volume(), rel=1e-6)
    if not edge_holes:
        assert sum(area(f) for f in from_faces.facets) == pytest.approx(
            solid.surface_area(), rel=1e-6
        )


def test_small_holes_are_left_out_when_asked():
    part = plain_part(400.0, 300.0, T, hole((50, 50), 5.0), hole((200, 150), 35.0))
    assert len(part_shape(part, least_mm=12.0).facets) < len(part_shape(part).facets)
    top = next(f for f in part_shape(part, least_mm=12.0).facets if f.normal[2] > 0.5)
    assert len(top.rings) == 2
    assert area(top) == pytest.approx(400 * 300 - pi * 17.5**2)


def test_a_blind_hole_has_a_bottom():
    part = plain_part(400.0, 300.0, T, hole((200, 150), 35.0, depth=12.0))
    bottoms = [f for f in part_shape(part).facets if f.normal[2] > 0.5]
    assert sorted(f.rings[0][0, 2] for f in bottoms) == pytest.approx([T - 12.0, T])
    # corners lie on a grid of 1e-4 mm
    assert shapely.Polygon(bottoms[0].rings[0][:, :2]).area == pytest.approx(pi * 17.5**2, rel=1e-5)
