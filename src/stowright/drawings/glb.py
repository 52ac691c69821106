"""The unit as a binary glTF 2.0 file: one mesh for each different part, one node for each piece.

glTF measures in metres with y up and z towards the viewer; the bay's x (towards the cab) becomes
-z, its y (left) becomes -x and its z becomes y, so that a viewer looks in from the tail. A node is
called by the piece's id and carries mark, body and role for programs that show it.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np
import trimesh

from stowright.drawings.solids import Matrix, frame_matrix, mesh_of, part_solid
from stowright.model.design import Design
from stowright.model.part import Part, PlacedPart

__all__ = ["to_glb"]

_METRES: Final = 0.001
#: Rows: where glTF's x, y and z come from among the bay's x, y and z.
_TURN: Final = np.array([[0.0, -1.0, 0.0], [0.0, 0.0, 1.0], [-1.0, 0.0, 0.0]])
_FIXED: Final = (205, 176, 132, 255)
_MOVING: Final = (228, 206, 170, 255)


def to_glb(design: Design) -> bytes:
    """Return the whole unit, shut, as it stands in the bay. The same design, the same bytes."""
    scene = trimesh.Scene()
    parts = {part.mark: part for part in design.parts}
    for placed in design.placed:
        scene.add_geometry(
            _mesh(parts[placed.mark], placed),
            node_name=placed.id,
            geom_name=placed.id,
            metadata={"mark": placed.mark, "body": placed.body, "role": placed.role},
        )
    made: Any = scene.export(file_type="glb")
    return bytes(made)


def _mesh(part: Part, placed: PlacedPart) -> Any:
    """Return a piece's mesh where it stands. [m]."""
    mesh = mesh_of(part_solid(part))
    points = _in_gltf(mesh.vertices, frame_matrix(placed))
    # a mirrored part's frame is left-handed: its triangles turn the other way round
    turned = np.linalg.det(frame_matrix(placed)[:, :3]) < 0.0
    triangles = mesh.triangles[:, ::-1] if turned else mesh.triangles
    made = trimesh.Trimesh(vertices=points, faces=triangles, process=False)
    made.visual.face_colors = _FIXED if placed.body == "fixed" else _MOVING
    return made


def _in_gltf(points: Matrix, frame: Matrix) -> Matrix:
    in_bay = points @ frame[:, :3].T + frame[:, 3]
    turned: Matrix = in_bay @ _TURN.T * _METRES
    return turned
