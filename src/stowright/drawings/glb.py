"""The unit as a binary glTF 2.0 file: named parts, materials by family of sheet, metres, y up.

Written straight to the published format (ISO/IEC 12113:2022), so that the same design gives the
same bytes. Each different part is one mesh; each piece is a node that stands it in its place, with
what a viewer wants to know about it under ``extras``. Meshes carry no normals: viewers then shade
faces flat, which is what sheets of plywood look like.

The tail looks towards +Z, the roof towards +Y. Mirrored parts are mirrored in their mesh, so that
every node is a plain turn and shift. What stands on a deck (cargo, tie-down rails) is a box under a
root of its own, so that the unit stays the unit.
"""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

import manifold3d as m3
import numpy as np
from numpy.typing import NDArray

from stowright.drawings.deck_things import StandIn, deck_things
from stowright.drawings.explode import exploded_offsets
from stowright.drawings.motions import Open, body_poses, placed_matrix
from stowright.drawings.solids import Matrix, Mesh, mesh_of, part_solid
from stowright.model.design import Design, Motion
from stowright.model.geometry import Box
from stowright.model.part import Part, PlacedPart

__all__ = ["part_mesh", "quick_mesh", "stand_in_looks", "to_glb", "unit_nodes", "wood_looks"]

#: Bay axes (cab, left, up) into glTF axes (right, up, towards the eye behind the tail).
_TO_GLTF = np.array([[0.0, -1.0, 0.0], [0.0, 0.0, 1.0], [-1.0, 0.0, 0.0]])
_MM = 0.001
_DIGITS = 9
#: Linear colours of the families of sheet; what is not listed looks like plain plywood.
_COLOURS: dict[str, tuple[float, float, float]] = {
    "ply": (0.72, 0.55, 0.34),
    "birch": (0.83, 0.69, 0.47),
    "softwood": (0.80, 0.58, 0.31),
    "hardwood": (0.54, 0.32, 0.18),
    "poplar": (0.86, 0.78, 0.60),
}
#: Linear colours of what stands on decks, the last number how much it covers.
_STAND_INS: dict[str, tuple[float, float, float, float]] = {
    "cargo": (0.35, 0.42, 0.50, 0.35),
    "rail": (0.45, 0.46, 0.48, 1.0),
}
_ARRAY_BUFFER, _ELEMENT_BUFFER = 34962, 34963
_FLOAT, _UINT = 5126, 5125
_JSON_CHUNK, _BIN_CHUNK = 0x4E4F534A, 0x004E4942


def to_glb(design: Design, *, open_by: Open = 0.0) -> bytes:
    """Return the unit as a GLB file.

    Args:
        design: The design.
        open_by: Fraction of the travel that bodies are open by: one for all or one for each.

    Raises:
        OutOfRangeError: When a fraction is not within 0 and 1.
    """
    materials = sorted({part.material for part in design.parts})
    file = _File()
    meshes = {part.mark: file.mesh(part, materials.index(part.material)) for part in design.parts}
    nodes = unit_nodes(design, meshes, open_by=open_by)
    looks = [wood_looks(name) for name in materials]
    things = deck_things(design)
    if things:
        nodes += _deck_nodes(file, things, first=len(nodes), material=len(looks))
        looks += [stand_in_looks(kind) for kind in _STAND_INS]
    return file.glb(nodes, looks, roots=[0, len(nodes) - 1] if things else [0])


def _deck_nodes(
    file: _File, things: tuple[StandIn, ...], *, first: int, material: int
) -> list[dict[str, Any]]:
    """Return nodes for what stands on decks, each a box, and last the node that holds them."""
    nodes = []
    kinds = list(_STAND_INS)
    for thing in things:
        points, triangles = _box_mesh(thing.box)
        mesh = file.body(thing.id, points, triangles, material + kinds.index(thing.kind))
        told = {"stand_in": thing.kind, "name": thing.what, "mass_kg": thing.mass_kg}
        nodes.append({"name": thing.id, "mesh": mesh, "extras": {**told, "deck": thing.deck}})
    children = list(range(first, first + len(nodes)))
    return [*nodes, {"name": "on the deck", "children": children}]


def _box_mesh(box: Box) -> tuple[NDArray[np.float32], NDArray[np.uint32]]:
    """Return a box in the file's axes: eight corners [m] and twelve triangles, outwards."""
    solid = m3.Manifold.cube(box.size).translate((box.x.low, box.y.low, box.z.low))
    raw = mesh_of(solid)
    return (raw.vertices @ _TO_GLTF.T * _MM).astype("<f4"), raw.triangles.astype("<u4")


def stand_in_looks(kind: str) -> dict[str, Any]:
    """Return the looks of what stands in for cargo, seen through, or for a rail of metal."""
    red, green, blue, alpha = _STAND_INS[kind]
    looks: dict[str, Any] = {
        "name": kind,
        "pbrMetallicRoughness": {
            "baseColorFactor": [red, green, blue, alpha],
            "metallicFactor": 0.0,
            "roughnessFactor": 0.6,
        },
    }
    return {**looks, "alphaMode": "BLEND"} if alpha < 1.0 else looks


def unit_nodes(
    design: Design, meshes: Mapping[str, int], *, open_by: Open = 0.0
) -> list[dict[str, Any]]:
    """Return the nodes of the unit as the file holds them: the unit first, then each piece.

    Args:
        design: The design.
        meshes: Number of each part's mesh by the part's mark.
        open_by: Fraction of the travel that bodies are open by.
    """
    poses = body_poses(design, open_by)
    explode = exploded_offsets(design)
    nodes = [
        _node(design.part(p.mark), p, poses, meshes[p.mark], explode[p.id]) for p in design.placed
    ]
    unit = {
        "name": "unit",
        "children": list(range(1, len(nodes) + 1)),
        "extras": {"title": design.job.title, "motions": [_motion(m) for m in design.motions]},
    }
    return [unit, *nodes]


def part_mesh(part: Part) -> tuple[NDArray[np.float32], NDArray[np.uint32]]:
    """Return a part's corners [m] and triangles as the file holds them: n × 3 and m × 3."""
    return _in_file(_mesh_of_part(part), part)


class _File:
    """Collects meshes and their bytes."""

    def __init__(self) -> None:
        self._meshes: list[dict[str, Any]] = []
        self._accessors: list[dict[str, Any]] = []
        self._views: list[dict[str, Any]] = []
        self._bytes = bytearray()

    def mesh(self, part: Part, material: int) -> int:
        """Add a part's mesh and return its number."""
        points, triangles = part_mesh(part)
        return self.body(part.mark, points, triangles, material)

    def body(
        self,
        name: str,
        points: NDArray[np.float32],
        triangles: NDArray[np.uint32],
        material: int,
    ) -> int:
        """Add a mesh from its corners [m] and triangles, and return its number."""
        position = self._positions(points)
        index = self._indices(triangles)
        primitive = {
            "attributes": {"POSITION": position},
            "indices": index,
            "material": material,
            "mode": 4,
        }
        self._meshes.append({"name": name, "primitives": [primitive]})
        return len(self._meshes) - 1

    def _positions(self, points: NDArray[np.float32]) -> int:
        return self._accessor(
            points.tobytes(),
            _ARRAY_BUFFER,
            componentType=_FLOAT,
            count=len(points),
            type="VEC3",
            min=[float(c) for c in points.min(axis=0)],
            max=[float(c) for c in points.max(axis=0)],
        )

    def _indices(self, triangles: NDArray[np.uint32]) -> int:
        return self._accessor(
            triangles.tobytes(),
            _ELEMENT_BUFFER,
            componentType=_UINT,
            count=triangles.size,
            type="SCALAR",
        )

    def _accessor(self, data: bytes, target: int, **words: Any) -> int:
        view = {"buffer": 0, "byteOffset": len(self._bytes), "byteLength": len(data)}
        self._views.append({**view, "target": target})
        self._bytes += data
        self._accessors.append({"bufferView": len(self._views) - 1, **words})
        return len(self._accessors) - 1

    def glb(
        self, nodes: list[dict[str, Any]], materials: list[dict[str, Any]], *, roots: list[int]
    ) -> bytes:
        """Return the file."""
        document: dict[str, Any] = {
            "asset": {"version": "2.0", "generator": "stowright"},
            "scene": 0,
            "scenes": [{"name": "unit", "nodes": roots}],
            "nodes": nodes,
        }
        if self._meshes:
            document |= {
                "materials": materials,
                "meshes": self._meshes,
                "accessors": self._accessors,
                "bufferViews": self._views,
                "buffers": [{"byteLength": len(self._bytes)}],
            }
        text = json.dumps(document, separators=(",", ":"), ensure_ascii=False).encode()
        chunks = _chunk(_JSON_CHUNK, text, b" ")
        if self._bytes:
            chunks += _chunk(_BIN_CHUNK, bytes(self._bytes), b"\0")
        return struct.pack("<4sII", b"glTF", 2, 12 + len(chunks)) + chunks


def quick_mesh(part: Part) -> tuple[NDArray[np.float32], NDArray[np.uint32]]:
    """Return a part's outline drawn out to its thickness: true in size, nothing cut into it yet.

    Made in a fraction of the time of ``part_mesh``, for a first look.
    """
    return _in_file(mesh_of(_outline_solid(part)), part)


def _outline_solid(part: Part) -> m3.Manifold:
    section = m3.CrossSection([np.array(part.outline, dtype=float)], m3.FillRule.NonZero)
    return m3.Manifold.extrude(section, part.thickness)


def _in_file(raw: Mesh, part: Part) -> tuple[NDArray[np.float32], NDArray[np.uint32]]:
    points, triangles = raw.vertices * _MM, raw.triangles
    if part.mirrored:
        points = points * np.array([-1.0, 1.0, 1.0])
        triangles = triangles[:, ::-1]
    return points.astype("<f4"), triangles.astype("<u4")


@lru_cache(maxsize=512)
def _mesh_of_part(part: Part) -> Mesh:
    """Return a part's mesh; when one size changes, the other parts' meshes are still known."""
    return mesh_of(part_solid(part))


def _chunk(kind: int, data: bytes, pad: bytes) -> bytes:
    data += pad * (-len(data) % 4)
    return struct.pack("<II", len(data), kind) + data


def wood_looks(name: str) -> dict[str, Any]:
    """Return a sheet's name and colour as the file holds them."""
    family = name.rpartition("-")[0] or name
    red, green, blue = _COLOURS.get(family, _COLOURS["ply"])
    return {
        "name": name,
        "pbrMetallicRoughness": {
            "baseColorFactor": [red, green, blue, 1.0],
            "metallicFactor": 0.0,
            "roughnessFactor": 0.85,
        },
    }


def _node(
    part: Part,
    placed: PlacedPart,
    poses: Mapping[str, Matrix],
    mesh: int,
    explode: tuple[float, float, float],
) -> dict[str, Any]:
    matrix = placed_matrix(placed, poses)
    turn = _TO_GLTF @ matrix[:, :3]
    if part.mirrored:
        turn = turn @ np.diag([-1.0, 1.0, 1.0])
    return {
        "name": placed.id,
        "mesh": mesh,
        "translation": _numbers(_TO_GLTF @ matrix[:, 3] * _MM),
        "rotation": _numbers(_quaternion(turn)),
        "extras": {
            "part": placed.id,
            "mark": placed.mark,
            "name": part.name,
            "role": placed.role,
            "material": part.material,
            "size_mm": [part.length, part.width, part.thickness],
            "body": placed.body,
            "block": placed.block,
            "module": placed.module,
            "opening": placed.opening,
            "explode_m": _numbers(_TO_GLTF @ np.array(explode) * _MM),
        },
    }


def _motion(motion: Motion) -> dict[str, Any]:
    """Return a motion in the file's axes: metres for a slide, degrees for a swing."""
    slide = motion.kind == "slide"
    pivot = motion.pivot or (0.0, 0.0, 0.0)
    return {
        "body": motion.body,
        "kind": motion.kind,
        "axis": _numbers(_TO_GLTF @ np.array(motion.axis)),
        "travel": round(motion.travel * _MM if slide else motion.travel, _DIGITS),
        "pivot_m": _numbers(_TO_GLTF @ np.array(pivot) * _MM),
    }


def _numbers(vector: NDArray[np.float64]) -> list[float]:
    return [round(float(c), _DIGITS) + 0.0 for c in vector]


def _quaternion(turn: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return x, y, z, w of a turn, by its largest component, so that none is lost."""
    xx, yy, zz = turn.diagonal().tolist()
    squares = np.array([1 + xx - yy - zz, 1 - xx + yy - zz, 1 - xx - yy + zz, 1 + xx + yy + zz])
    # products of the components: [i, j] is 4 q_i q_j
    products = np.array(
        [
            [squares[0], turn[0, 1] + turn[1, 0], turn[0, 2] + turn[2, 0], turn[2, 1] - turn[1, 2]],
            [turn[0, 1] + turn[1, 0], squares[1], turn[1, 2] + turn[2, 1], turn[0, 2] - turn[2, 0]],
            [turn[0, 2] + turn[2, 0], turn[1, 2] + turn[2, 1], squares[2], turn[1, 0] - turn[0, 1]],
            [turn[2, 1] - turn[1, 2], turn[0, 2] - turn[2, 0], turn[1, 0] - turn[0, 1], squares[3]],
        ]
    )
    largest = products[int(np.argmax(squares))]
    return np.asarray(largest / np.linalg.norm(largest))
