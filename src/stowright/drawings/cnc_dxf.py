"""DXF for a router: one file per part or per nested sheet, layers by operation and depth.

Origin at the lower left corner of the part (or of the sheet, its trim included), good face up,
z = 0 at the upper face: said in the file on its own layer. Outlines are closed, arcs are arcs,
holes are circles, the rims of countersinks too. A part's outline and inside cuts enclose exactly
its area, reliefs included.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts import Modelspace

from stowright.drawings.dxf import document_bytes, new_document
from stowright.drawings.toolpaths import Drill, Operation, part_operations, turned
from stowright.errors import UnknownNameError
from stowright.model.geometry import Point2
from stowright.model.layout import Layout, Piece, StockUse
from stowright.model.part import Part
from stowright.units import MM_PER_INCH, Unit

__all__ = ["part_cnc", "sheet_cnc"]

_MARKS = "marks, not cut"
_ORIGIN = "origin and notes, not cut"
_SHEET = "sheet, not cut"
_COLOURS = (1, 5, 3, 6, 4, 2, 30, 140, 210, 90)
_TEXT = 12.0
_ARM = 20.0


def part_cnc(part: Part, *, units: Unit = "mm", cutter: float = 0.0) -> bytes:
    """Return the DXF of one part for a router.

    Args:
        part: The part.
        units: Unit of the file.
        cutter: Diameter of the cutter for which inside corners are relieved; 0 for none. [mm]
    """
    operations = part_operations(part, cutter=cutter, units=units)
    hand = " u = 0 lies at the right." if part.mirrored else ""
    notes = [
        f"{part.mark} {part.name}, {part.material}, {part.thickness:g} mm thick",
        f"Origin: lower left corner of the part, good face up, z = 0 at the upper face.{hand}",
    ]
    notes += _other_sides((part,))
    middle = (part.length / 2.0, part.width / 2.0)
    return _file(operations, [(part.mark, middle)], notes, units, cutter)


def sheet_cnc(
    layout: Layout,
    parts: Iterable[Part],
    *,
    stock: StockUse,
    units: Unit = "mm",
    cutter: float = 0.0,
) -> bytes:
    """Return the DXF of a nested sheet for a router.

    Args:
        layout: What lies where.
        parts: The parts, each mark once.
        stock: The sheet it is cut from.
        units: Unit of the file.
        cutter: Diameter of the cutter for which inside corners are relieved; 0 for none. [mm]

    Raises:
        UnknownNameError: If a piece's mark is not among the parts.
    """
    by_mark = {part.mark: part for part in parts}
    operations: list[Operation] = []
    names: list[tuple[str, Point2]] = []
    for piece in layout.pieces:
        if piece.mark not in by_mark:
            raise UnknownNameError("part", piece.mark)
        part = by_mark[piece.mark]
        place = _placing(piece, part)
        operations += [
            turned(op, place) for op in part_operations(part, cutter=cutter, units=units)
        ]
        names.append((piece.mark, (piece.x + piece.along / 2.0, piece.y + piece.across / 2.0)))
    often = "cut once" if layout.copies == 1 else f"cut {layout.copies} times"
    notes = [
        f"Sheet {layout.number}: {layout.sheet}, {layout.material}, {often}",
        "Origin: lower left corner of the whole sheet, good face up, z = 0 at the upper face.",
        f"Keep {layout.trim:g} mm clear along every edge.",
        *_other_sides(by_mark[piece.mark] for piece in layout.pieces),
    ]
    return _file(operations, names, notes, units, cutter, sheet=(stock.length, stock.width))


def _placing(piece: Piece, part: Part) -> Callable[[Point2], Point2]:
    """Return how a part's points go onto the sheet: shifted, or turned a quarter and shifted."""

    def straight(p: Point2) -> Point2:
        return (piece.x + p[0], piece.y + p[1])

    def quarter(p: Point2) -> Point2:
        return (piece.x + part.width - p[1], piece.y + p[0])

    return quarter if piece.turned else straight


def _other_sides(parts: Iterable[Part]) -> list[str]:
    """Return what a router that comes from above has to be told of backs and edges."""
    faces = {feature.face for part in parts for feature in part.features}
    notes = []
    if "back" in faces:
        notes.append(
            'Layers "from the back" are drawn as seen through the good face: mirror them when the '
            "part is turned over."
        )
    if faces - {"good", "back"}:
        notes.append("Holes in edges are not in this file: they are drilled by hand.")
    return notes


# The file ----------------------------------------------------------------------------------------


def _file(
    operations: Iterable[Operation],
    names: list[tuple[str, Point2]],
    notes: list[str],
    units: Unit,
    cutter: float,
    *,
    sheet: tuple[float, float] | None = None,
) -> bytes:
    document = new_document(units)
    factor = 1.0 / MM_PER_INCH if units == "in" else 1.0
    space = document.modelspace()
    rows = list(operations)
    for k, layer in enumerate(sorted({op.layer for op in rows})):
        document.layers.add(layer, color=_COLOURS[k % len(_COLOURS)])
    for layer in (_MARKS, _ORIGIN, *((_SHEET,) if sheet else ())):
        document.layers.add(layer, color=8)
    for op in rows:
        _write(space, op, factor)
    for name, at in names:
        text = space.add_text(name, height=_TEXT * factor, dxfattribs={"layer": _MARKS})
        text.set_placement(_scaled(at, factor), align=TextEntityAlignment.MIDDLE_CENTER)
    if cutter > 0.0:
        notes.append(f"Inside corners are relieved for a cutter of {cutter:g} mm.")
    if sheet:
        corners = ((0.0, 0.0), (sheet[0], 0.0), sheet, (0.0, sheet[1]))
        ring = [_scaled(c, factor) for c in corners]
        space.add_lwpolyline(ring, close=True, dxfattribs={"layer": _SHEET})
    _origin(space, notes, factor)
    return document_bytes(document)


def _write(space: Modelspace, op: Operation, factor: float) -> None:
    on = {"layer": op.layer}
    if isinstance(op.path, Drill):
        radius = op.path.diameter / 2.0 * factor
        space.add_circle(_scaled(op.path.centre, factor), radius, dxfattribs=on)
        return
    points = [(x * factor, y * factor, bulge) for x, y, bulge in op.path.vertices]
    space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=on)


def _origin(space: Modelspace, notes: list[str], factor: float) -> None:
    on = {"layer": _ORIGIN}
    arm = _ARM * factor
    space.add_line((-arm, 0.0), (arm, 0.0), dxfattribs=on)
    space.add_line((0.0, -arm), (0.0, arm), dxfattribs=on)
    for k, note in enumerate(notes):
        text = space.add_text(note, height=_TEXT * 0.7 * factor, dxfattribs=on)
        text.set_placement((0.0, -(2.2 + 1.3 * k) * arm))


def _scaled(point: Point2, factor: float) -> Point2:
    return (point[0] * factor, point[1] * factor)
