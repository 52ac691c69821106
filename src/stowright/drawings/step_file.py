"""The unit as a STEP file with its assembly tree: an optional extra.

Solids are exact: round holes are cylinders, round corners arcs. The library behind it is large and
slow to load, so it is an extra and is loaded only when this is asked for.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from copy import copy
from dataclasses import replace
from importlib import import_module
from io import BytesIO
from itertools import count
from math import cos, pi, sin
from typing import Any

import numpy as np

from stowright.drawings.board import shapes_outline
from stowright.drawings.deck_things import StandIn, deck_things
from stowright.drawings.motions import Open, body_poses, placed_matrix
from stowright.drawings.solids import Matrix, drawn_out
from stowright.drawings.toolpaths import outside_of
from stowright.errors import MissingExtraError
from stowright.model.design import Design
from stowright.model.geometry import Point2
from stowright.model.part import Feature, Part
from stowright.model.part_area import Pocket, pockets_of

__all__ = ["to_step"]

_EXTRA = "step"
_CLOCK = re.compile(r"'\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d'")
_USE = re.compile(r"OCCURRENCE\('\d+'")
_PRODUCT = re.compile(r"PRODUCT\('(\w+) [^']*','[^']*'")
_BEYOND = 1.0
_TOUCH = 1e-6


def to_step(design: Design, *, open_by: Open = 0.0) -> bytes:
    """Return the unit as a STEP file: unit, blocks, modules and openings, pieces.

    What stands on decks is a group of plain boxes of its own.

    Args:
        design: The design.
        open_by: Fraction of the travel that bodies are open by: one for all or one for each.

    Raises:
        MissingExtraError: When the library for it is not installed.
        OutOfRangeError: When a fraction is not within 0 and 1.
    """
    cad = _library()
    poses = body_poses(design, open_by)
    solids = {part.mark: _Shaper(cad, part).solid() for part in design.parts}
    tree: dict[str, dict[str, list[Any]]] = {}
    for placed in design.placed:
        part = design.part(placed.mark)
        piece = copy(solids[placed.mark])
        piece.label = f"{placed.mark} {placed.id}"
        piece.locate(_location(cad, placed_matrix(placed, poses), mirrored=part.mirrored))
        module = f"module {placed.module}" if placed.module else placed.block
        group = placed.opening or module
        tree.setdefault(placed.block, {}).setdefault(group, []).append(piece)
    blocks = [
        cad.Compound(
            label=block,
            children=[cad.Compound(label=name, children=pieces) for name, pieces in groups.items()],
        )
        for block, groups in tree.items()
    ]
    aboard = [_stand_in(cad, thing) for thing in deck_things(design)]
    if aboard:
        blocks.append(cad.Compound(label="on the deck", children=aboard))
    out = BytesIO()
    cad.export_step(cad.Compound(label=design.job.title, children=blocks), out)
    return _steady(out.getvalue().decode(), {p.mark: p.name for p in design.parts}).encode()


def _stand_in(cad: Any, thing: StandIn) -> Any:
    """Return cargo or a rail as a plain box in its place."""
    box = thing.box
    corner = cad.Plane(origin=(box.x.low, box.y.low, box.z.low))
    solid = cad.Solid.make_box(*box.size, corner)
    solid.label = thing.id
    return solid


def _steady(text: str, names: Mapping[str, str]) -> str:
    """Return the file without clock and running numbers, each statement on a line of its own.

    Copies of a part share one product; it is named after the part, its uses after the pieces.
    """
    statements = re.sub(r"\n {2,}", "", text).split("\n")
    uses = count(1)
    for k, line in enumerate(statements):
        if line.startswith("FILE_NAME("):
            statements[k] = _CLOCK.sub("'1970-01-01T00:00:00'", line, count=1)
        elif " = NEXT_ASSEMBLY_USAGE_OCCURRENCE(" in line:
            statements[k] = _USE.sub(f"OCCURRENCE('{next(uses)}'", line, count=1)
        elif found := _PRODUCT.search(line):
            name = names.get(found[1], "")
            plain = f"{found[1]} {name}" if name.isascii() and "'" not in name else found[1]
            if found[1] in names:
                statements[k] = _PRODUCT.sub(f"PRODUCT('{plain}','{plain}'", line, count=1)
    return "\n".join(statements)


def _library() -> Any:
    try:
        return import_module("build123d")
    except ImportError as error:
        raise MissingExtraError("the STEP export", "build123d", _EXTRA) from error


def _location(cad: Any, matrix: Matrix, *, mirrored: bool) -> Any:
    """Return where a piece stands; a mirrored part's solid is mirrored already."""
    across = -matrix[:, 0] if mirrored else matrix[:, 0]
    plane = cad.Plane(
        origin=tuple(matrix[:, 3].tolist()),
        x_dir=tuple(across.tolist()),
        z_dir=tuple(matrix[:, 2].tolist()),
    )
    return cad.Location(plane)


class _Shaper:
    """Makes a part's solid in its own frame; u runs towards -x in a mirrored part."""

    def __init__(self, cad: Any, part: Part) -> None:
        self._cad = cad
        self._part = part
        self._sign = -1.0 if part.mirrored else 1.0

    def solid(self) -> Any:
        """Return the part with everything cut away that is made in it."""
        part = self._part
        body = self._prism(self._outside(), 0.0, part.thickness)
        # What the outline has already is not cut again: faces that coincide are slow to take apart.
        corners = set(part.outline)
        within = replace(
            part,
            features=tuple(f for f in part.features if not shapes_outline(f, part)),
            reliefs=tuple(row for row in part.reliefs if row.corner not in corners),
        )
        tools = [self._pocket(pocket) for pocket in pockets_of(within)]
        tools += [
            self._edge_hole(feature)
            for feature in self._part.features
            if feature.face not in {"good", "back"} and len(feature.size) == 1
        ]
        return body.cut(*tools) if tools else body

    def _pocket(self, pocket: Pocket) -> Any:
        wide = drawn_out(pocket, self._part)
        low = pocket.w0 - (_BEYOND if pocket.w0 <= _TOUCH else 0.0)
        high = pocket.w1 + (_BEYOND if pocket.w1 >= self._part.thickness - _TOUCH else 0.0)
        return self._prism(self._rounded(wide), low, high)

    def _edge_hole(self, feature: Feature) -> Any:
        along, up = feature.at
        inward, start = {
            "u0": ((1.0, 0.0), (-_BEYOND, along)),
            "u1": ((-1.0, 0.0), (self._part.length + _BEYOND, along)),
            "v0": ((0.0, 1.0), (along, -_BEYOND)),
            "v1": ((0.0, -1.0), (along, self._part.width + _BEYOND)),
        }[feature.face]
        plane = self._cad.Plane(
            origin=(self._sign * start[0], start[1], up),
            z_dir=(self._sign * inward[0], inward[1], 0.0),
        )
        long = feature.starts + feature.depth + _BEYOND
        return self._cad.Solid.make_cylinder(feature.size[0] / 2.0, long, plane)

    def _prism(self, wire: Any, low: float, high: float) -> Any:
        face = self._cad.Face(wire).moved(self._cad.Location((0.0, 0.0, low)))
        return self._cad.Solid.extrude(face, (0.0, 0.0, high - low))

    def _at(self, point: Point2) -> tuple[float, float, float]:
        return (self._sign * point[0], point[1], 0.0)

    def _outside(self) -> Any:
        """Return the part's outline, reliefs of its inside corners as arcs."""
        shift = -self._part.length if self._part.mirrored else 0.0
        rows = [(x + shift, y, bulge) for x, y, bulge in outside_of(self._part).vertices]
        edges = []
        for (x0, y0, bulge), (x1, y1, _) in zip(rows, [*rows[1:], rows[0]], strict=True):
            start, end = (x0, y0, 0.0), (x1, y1, 0.0)
            if np.hypot(x1 - x0, y1 - y0) <= _TOUCH:
                continue
            if bulge == 0.0:
                edges.append(self._cad.Edge.make_line(start, end))
                continue
            # an arc's rise is half its chord times its bulge, to the right of the way along it
            rise = bulge / 2.0
            middle = (
                (x0 + x1) / 2.0 + rise * (y1 - y0),
                (y0 + y1) / 2.0 - rise * (x1 - x0),
                0.0,
            )
            edges.append(self._cad.Edge.make_three_point_arc(start, middle, end))
        return self._cad.Wire(edges)

    def _polygon(self, points: Sequence[Point2]) -> Any:
        return self._cad.Wire.make_polygon([self._at(p) for p in points], close=True)

    def _rounded(self, p: Pocket) -> Any:
        """Return the contour of a pocket with true arcs."""
        r = p.radius
        if r <= 0.0:
            return self._polygon(((p.u0, p.v0), (p.u1, p.v0), (p.u1, p.v1), (p.u0, p.v1)))
        centres = (
            (p.u1 - r, p.v1 - r),
            (p.u0 + r, p.v1 - r),
            (p.u0 + r, p.v0 + r),
            (p.u1 - r, p.v0 + r),
        )
        edges, last = [], _on_arc(centres[3], r, 2.0 * pi)
        for quarter, centre in enumerate(centres):
            turn = quarter * pi / 2.0
            start, middle, end = (_on_arc(centre, r, turn + k * pi / 4.0) for k in range(3))
            if np.hypot(start[0] - last[0], start[1] - last[1]) > _TOUCH:
                edges.append(self._cad.Edge.make_line(self._at(last), self._at(start)))
            edges.append(
                self._cad.Edge.make_three_point_arc(
                    self._at(start), self._at(middle), self._at(end)
                )
            )
            last = end
        return self._cad.Wire(edges)


def _on_arc(centre: Point2, radius: float, turn: float) -> Point2:
    return (centre[0] + radius * cos(turn), centre[1] + radius * sin(turn))
