"""The GLB file, read back by trimesh: volumes, places, names; and by its own bytes."""

import io
import json
import struct

import numpy as np
import pytest
import trimesh
from samples import two_drawers

from stowright.drawings.glb import to_glb
from stowright.drawings.motions import body_poses, placed_matrix
from stowright.model.part_area import volume_mm3


#: glTF axes of a bay point: right is -y, up is z, the tail looks at +Z.
def in_gltf(point):
    x, y, z = point
    return np.array([-y, z, -x]) / 1000.0


def document(data):
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack_from("<II", data, 12)
    assert kind == 0x4E4F534A
    return json.loads(data[20 : 20 + size]), data[20 + size :]


@pytest.fixture(scope="module")
def loaded():
    return trimesh.load(io.BytesIO(to_glb(two_drawers())), file_type="glb")


def world(scene, node):
    matrix, name = scene.graph[node]
    mesh = scene.geometry[name].copy()
    mesh.merge_vertices()
    return mesh.apply_transform(matrix)


def test_every_piece_is_a_node_of_its_name(loaded):
    assert set(loaded.graph.nodes_geometry) == {p.id for p in two_drawers().placed}


def test_every_piece_is_watertight_and_weighs_what_the_plane_areas_say(loaded):
    design = two_drawers()
    for placed in design.placed:
        mesh = world(loaded, placed.id)
        assert mesh.is_watertight
        # positions are stored as 32-bit floats: about 1e-7 of each length
        assert mesh.volume * 1e9 == pytest.approx(volume_mm3(design.part(placed.mark)), rel=2e-5), (
            placed.id
        )


def test_every_piece_stands_where_it_does_in_the_bay(loaded):
    design = two_drawers()
    for placed in design.placed:
        corners = [
            in_gltf(placed.point(u, v, w))
            for u, v in design.part(placed.mark).outline
            for w in (0.0, placed.thickness)
        ]
        mesh = world(loaded, placed.id)
        assert mesh.bounds == pytest.approx(
            np.array([np.min(corners, axis=0), np.max(corners, axis=0)]), abs=1e-6
        )


def test_metres_and_y_up(loaded):
    # 449.6 mm to the deck's top, standing on packers at z = 0
    assert loaded.bounds[:, 1] == pytest.approx([0.0, 0.4496], abs=1e-6)


def test_an_open_drawer_has_moved_out_towards_the_eye():
    shut = trimesh.load(io.BytesIO(to_glb(two_drawers())), file_type="glb")
    open_ = trimesh.load(io.BytesIO(to_glb(two_drawers(), open_by={"ropes": 0.5})), file_type="glb")
    for piece, out in (("ropes/front", 0.675), ("meters/front", 0.0), ("deck/1", 0.0)):
        moved = open_.graph[piece][0][:3, 3] - shut.graph[piece][0][:3, 3]
        assert moved == pytest.approx([0.0, 0.0, out], abs=1e-9)


def test_nodes_tell_a_viewer_what_they_are():
    found, _ = document(to_glb(two_drawers()))
    node = next(n for n in found["nodes"] if n["name"] == "meters/box-side-left")
    assert node["extras"]["part"] == "meters/box-side-left"
    assert node["extras"]["mark"] == "D1"
    assert node["extras"]["body"] == "meters"
    assert node["extras"]["size_mm"] == [1350.0, 375.8, 14.6]
    assert len(node["extras"]["explode_m"]) == 3
    unit = found["nodes"][0]
    assert [m["body"] for m in unit["extras"]["motions"]] == ["meters", "ropes"]
    assert unit["extras"]["motions"][0]["axis"] == [0.0, 0.0, 1.0]
    assert unit["extras"]["motions"][0]["travel"] == 1.35


def test_copies_share_a_mesh_and_sheets_have_materials():
    found, _ = document(to_glb(two_drawers()))
    design = two_drawers()
    assert [m["name"] for m in found["meshes"]] == [p.mark for p in design.parts]
    assert [m["name"] for m in found["materials"]] == ["ply-12", "ply-15", "ply-9"]


def test_the_file_is_laid_out_as_the_format_asks():
    data = to_glb(two_drawers())
    found, rest = document(data)
    size, kind = struct.unpack_from("<II", rest)
    assert kind == 0x004E4942
    assert size == len(rest) - 8
    assert len(data) % 4 == 0
    assert found["buffers"][0]["byteLength"] <= size
    for view in found["bufferViews"]:
        assert view["byteOffset"] % 4 == 0
        assert view["byteOffset"] + view["byteLength"] <= found["buffers"][0]["byteLength"]
    turns = np.array([n["rotation"] for n in found["nodes"][1:]])
    assert np.linalg.norm(turns, axis=1) == pytest.approx(np.ones(len(turns)))


def test_same_design_same_bytes():
    assert to_glb(two_drawers(), open_by=0.3) == to_glb(two_drawers(), open_by=0.3)


def test_explode_moves_agree_with_the_pose_of_the_bay():
    design = two_drawers()
    found, _ = document(to_glb(design))
    node = next(n for n in found["nodes"] if n["name"] == "deck/1")
    # up only
    assert node["extras"]["explode_m"][0] == 0.0
    assert node["extras"]["explode_m"][1] > 0.3
    matrix = placed_matrix(design.placed_by_id("deck/1"), body_poses(design, 0.0))
    assert node["translation"] == pytest.approx(in_gltf(matrix[:, 3]))
