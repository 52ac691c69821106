"""Solids of parts. Outside checks: trimesh's volumes and watertightness."""

from math import pi

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st
from samples import T, hole, pocket, two_drawers
from test_3d_facets import plain_part

from stowright.drawings.solids import (
    circle_corners,
    frame_matrix,
    mesh_of,
    part_solid,
    pocket_ring,
)
from stowright.model.part_area import Pocket, polygon_area_mm2, volume_mm3


def as_trimesh(solid):
    mesh = mesh_of(solid)
    return trimesh.Trimesh(mesh.vertices, mesh.triangles, process=False)


@pytest.mark.parametrize("mark", [p.mark for p in two_drawers().parts])
def test_a_part_is_watertight_and_weighs_what_its_plane_areas_say(mark):
    part = two_drawers().part(mark)
    mesh = as_trimesh(part_solid(part))
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    # the polygon of a round hole has the circle's area: only rounding is left
    assert mesh.volume == pytest.approx(volume_mm3(part), rel=1e-9)


def test_every_placed_piece_keeps_its_volume_and_faces_outwards():
    design = two_drawers()
    for placed in design.placed:
        part = design.part(placed.mark)
        mesh = as_trimesh(part_solid(part).transform(frame_matrix(placed)))
        # a mirrored part with its triangles left as they were would weigh less than nothing
        assert mesh.volume == pytest.approx(volume_mm3(part), rel=1e-9)


def test_a_left_and_a_right_side_are_mirror_images():
    design = two_drawers()
    left, right = (design.placed_by_id(f"drawers/1/side-{s}") for s in ("left", "right"))
    assert np.linalg.det(frame_matrix(left)[:, :3]) == pytest.approx(1.0)
    assert np.linalg.det(frame_matrix(right)[:, :3]) == pytest.approx(-1.0)


def test_depth_counts_from_the_right_face():
    good = part_solid(plain_part(200.0, 100.0, T, hole((50, 50), 20.0, depth=6.0)))
    back = part_solid(plain_part(200.0, 100.0, T, hole((50, 50), 20.0, depth=6.0, face="back")))
    just_below, just_above = ([50.0, 50.0, 6.5], [50.0, 50.0, T - 6.5])
    up, down = [50.0, 50.0, T + 5.0], [50.0, 50.0, -5.0]
    assert len(good.ray_cast(just_above, up)) == 1  # still in wood half a millimetre further down
    assert len(good.ray_cast([50.0, 50.0, T - 5.5], up)) == 0
    assert len(back.ray_cast(just_below, down)) == 1
    assert len(back.ray_cast([50.0, 50.0, 5.5], down)) == 0


@pytest.mark.parametrize(
    ("face", "along", "inside", "outside"),
    [
        ("u0", 30.0, (19.0, 30.0), (21.0, 30.0)),
        ("u1", 30.0, (181.0, 30.0), (179.0, 30.0)),
        ("v0", 30.0, (30.0, 19.0), (30.0, 21.0)),
        ("v1", 30.0, (30.0, 81.0), (30.0, 79.0)),
    ],
)
def test_an_edge_hole_runs_in_from_its_own_edge(face, along, inside, outside):
    part = plain_part(200.0, 100.0, T, hole((along, T / 2), 4.0, face=face, depth=20.0))
    solid = part_solid(part)
    assert solid.volume() == pytest.approx(200 * 100 * T - pi * 4.0 * 20.0)
    for spot, crossings in ((inside, 2), (outside, 0)):
        # from the hole's middle across its wall, then the panel's face
        hits = solid.ray_cast([*spot, T / 2 - 0.5], [*spot, T / 2 + 0.5])
        assert len(hits) == 0
        through = solid.ray_cast([*spot, -1.0], [*spot, T + 1.0])
        assert len(through) == 2 + crossings


def test_a_groove_that_runs_out_leaves_no_skin():
    groove = pocket("groove", (0.0, 10.0), (200.0, 12.0), depth=6.0)
    assert part_solid(plain_part(200.0, 100.0, T, groove)).genus() == 0
    assert part_solid(plain_part(200.0, 100.0, T, groove)).num_tri() == 28


@settings(max_examples=60, deadline=None)
@given(
    radius=st.floats(0.2, 400.0),
    along=st.floats(0.0, 300.0),
    across=st.floats(0.0, 200.0),
)
def test_a_ring_has_the_area_of_its_true_arcs(radius, along, across):
    ring = pocket_ring(Pocket(0.0, 0.0, 2 * radius + along, 2 * radius + across, radius, 0.0, 1.0))
    exact = (2 * radius + along) * (2 * radius + across) - (4.0 - pi) * radius**2
    # corners nearer than 1e-6 mm are joined
    assert polygon_area_mm2(ring) == pytest.approx(exact, rel=1e-6)


@given(radius=st.floats(0.3, 60.0))
def test_a_circle_polygon_stays_near_the_circle(radius):
    ring = np.array(pocket_ring(Pocket(-radius, -radius, radius, radius, radius, 0.0, 1.0)))
    corners = np.hypot(*ring.T)
    middles = np.hypot(*((ring + np.roll(ring, -1, axis=0)) / 2.0).T)
    assert len(ring) == circle_corners(radius)
    # a tenth of a millimetre of sag, or a twelve-cornered small hole
    assert max(corners.max() - radius, radius - middles.min()) < max(0.2, 0.04 * radius)
