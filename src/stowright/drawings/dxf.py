"""DXF (R2010) of a drawing, at true size: the main view measures what the part measures.

Layers carry plain names, line types and widths those of ISO 128-2; linear dimensions are real
ones, whose measured length is the length they state. Views at another scale than the main view
keep that ratio, and their dimensions its factor. Units are set to millimetres, or to inches for an
inch job. Same scene, same bytes.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import ezdxf
import shapely
from ezdxf import colors
from ezdxf import units as dxf_units
from ezdxf.document import Drawing
from ezdxf.layouts import Modelspace
from shapely import LineString, MultiPolygon, Polygon

from stowright.drawings.dxf_marks import DxfMarks
from stowright.drawings.figures import ARROW, FOOT_GAP, OVERSHOOT, TEXT_GAP, marks_of
from stowright.drawings.lettering import DIAMETER, FONT_WEIGHTS, text_box
from stowright.drawings.linetypes import PENS, Pen
from stowright.drawings.scene import (
    Arc,
    Circle,
    Dimension,
    Item,
    Line,
    Mark,
    Polyline,
    Region,
    Scene,
    Text,
    View,
)
from stowright.model.geometry import Point2
from stowright.units import MM_PER_INCH, Unit

__all__ = ["document_bytes", "new_document", "to_dxf"]

#: What lettering may interrupt: extension lines, centre lines, hatching.
_MAY_BE_BROKEN: frozenset[Pen] = frozenset({"dimension", "centre", "hatching"})
#: Line widths that DXF knows, in hundredths of a millimetre.
_WIDTHS = (13, 18, 25, 35, 50, 70)


def to_dxf(scene: Scene, *, units: Unit = "mm") -> bytes:
    """Return a drawing as a DXF file.

    Args:
        scene: The drawing.
        units: The unit of the file's coordinates.
    """
    factor = 1.0 / scene.scale / (MM_PER_INCH if units == "in" else 1.0)
    document = new_document(units)
    _add_styles(document, factor)
    space = document.modelspace()
    marks = DxfMarks(document.entitydb.next_handle, space.layout_key)
    writer = _Writer(
        space=space, marks=marks, factor=factor, scale=scene.scale, words=_clear_words(scene)
    )
    for view in scene.views:
        for item in view.items:
            writer.item(item, view)
    return marks.set_into(document_bytes(document))


def _clear_words(scene: Scene) -> MultiPolygon:
    """Return where lettering stands that interrupts the lines behind it. [mm on paper]."""
    texts = (mark for item in scene.items for mark in marks_of(item) if isinstance(mark, Text))
    return MultiPolygon([Polygon(text_box(text)) for text in texts if text.clear and text.text])


def new_document(units: Unit) -> Drawing:
    """Return an empty drawing whose units are set."""
    with _without_dates():
        document = ezdxf.new("R2010")
    document.units = dxf_units.IN if units == "in" else dxf_units.MM
    document.header["$MEASUREMENT"] = 0 if units == "in" else 1
    return document


def document_bytes(document: Drawing) -> bytes:
    """Return a drawing as a file; it carries no date and no random id."""
    for kind in sorted(document.entitydb.dxf_types_in_use()):  # the library's own order varies
        document.classes.add_class(kind)
    stream = io.StringIO()
    with _without_dates():
        document.write(stream)
    return stream.getvalue().encode("utf-8")


@contextmanager
def _without_dates() -> Iterator[None]:
    """Have the library write a fixed date and id where it would put today's and a random one."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


# Layers and styles -------------------------------------------------------------------------------


def _add_styles(document: Drawing, factor: float) -> None:
    for style in PENS.values():
        kind = "Continuous"
        if style.dashes:
            kind = style.iso
            if kind not in document.linetypes:
                pattern = [
                    d * factor * (1 if k % 2 == 0 else -1) for k, d in enumerate(style.dashes)
                ]
                total = sum(style.dashes) * factor
                document.linetypes.add(kind, pattern=[total, *pattern], description=style.iso)
        if style.layer not in document.layers:
            layer = document.layers.add(style.layer, linetype=kind)
            layer.dxf.lineweight = _width_code(style.width)
            ink = int(style.colour[1:], 16)
            if ink:  # black stays colour 7, which is white on a dark screen
                layer.rgb = colors.int2rgb(ink)
    for weight, (file, _, _) in FONT_WEIGHTS.items():
        document.styles.add(f"lettering {weight}", font=file)
    _add_dimension_style(document, factor)


def _width_code(width: float) -> int:
    """Return the nearest of the line widths that DXF knows. [1/100 mm]."""
    return min(_WIDTHS, key=lambda code: abs(code - 100.0 * width))


def _add_dimension_style(document: Drawing, factor: float) -> None:
    style = document.dimstyles.new("running from a datum")
    values = {
        "dimtxsty": "lettering regular",
        "dimtxt": 2.5 * factor,
        "dimasz": ARROW * factor,
        "dimexe": OVERSHOOT * factor,
        "dimexo": FOOT_GAP * factor,
        "dimgap": TEXT_GAP * factor,
        "dimscale": 1.0,
        "dimtad": 1,
        "dimtih": 0,
        "dimtoh": 0,
        "dimdec": 1,
        "dimzin": 8,
    }
    for name, value in values.items():
        style.dxf.set(name, value)


# Marks -------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Writer:
    """Writes marks into model space.

    Attributes:
        space: Where dimensions go.
        marks: Where all else goes.
        factor: File units per paper millimetre.
        scale: Scale of the main view.
        words: Lettering that interrupts extension lines, centre lines and hatching, as the SVG's
            clear paper behind it does. [mm on paper]
    """

    space: Modelspace
    marks: DxfMarks
    factor: float
    scale: float
    words: MultiPolygon

    def item(self, item: Item, view: View) -> None:
        """Write one item; a linear dimension stays one."""
        if isinstance(item, Dimension):
            self._dimension(item, view)
            return
        for mark in marks_of(item):
            self._mark(mark)

    def _at(self, point: Point2) -> Point2:
        return (point[0] * self.factor, point[1] * self.factor)

    def _mark(self, mark: Mark) -> None:
        match mark:
            case Line():
                for bit in self._left_of((mark.start, mark.end), mark.pen):
                    ends = self._at(bit[0]), self._at(bit[-1])
                    self.marks.line(*ends, layer=_layer(mark.pen))
            case Polyline():
                self._polyline(mark)
            case Region():
                self._region(mark)
            case Circle():
                self._circle(mark)
            case Arc():
                self.marks.arc(
                    self._at(mark.centre),
                    mark.radius * self.factor,
                    start=mark.start,
                    end=mark.end,
                    layer=_layer(mark.pen),
                )
            case Text():
                self._text(mark)

    def _left_of(self, points: tuple[Point2, ...], pen: Pen) -> list[tuple[Point2, ...]]:
        """Return a line in pieces where lettering interrupts it, whole where none does."""
        line = LineString(points)
        if pen not in _MAY_BE_BROKEN or not self.words.intersects(line):
            return [points]
        pieces = shapely.get_parts(line.difference(self.words))
        return [tuple((float(x), float(y)) for x, y in piece.coords) for piece in pieces]

    def _polyline(self, mark: Polyline) -> None:
        closed = (*mark.points, mark.points[0]) if mark.closed else mark.points
        pieces = self._left_of(closed, mark.pen)
        if pieces == [closed]:
            self._ring(mark.points, closed=mark.closed, pen=mark.pen)
            return
        for piece in pieces:
            self._ring(piece, closed=False, pen=mark.pen)

    def _ring(self, points: tuple[Point2, ...], *, closed: bool, pen: Pen) -> None:
        self.marks.run([self._at(p) for p in points], closed=closed, layer=_layer(pen))

    def _region(self, mark: Region) -> None:
        """Write a region's edge; one of solid ink is filled, other fills are for paper only."""
        rings = (mark.outer, *mark.holes)
        if mark.fill == "ink":
            solid = [[self._at(p) for p in ring] for ring in rings]
            self.marks.solid(solid, layer=_layer(mark.pen or "lettering"))
        elif mark.pen is not None:
            for ring in rings:
                self._ring(ring, closed=True, pen=mark.pen)

    def _circle(self, mark: Circle) -> None:
        centre, radius = self._at(mark.centre), mark.radius * self.factor
        self.marks.circle(centre, radius, layer=_layer(mark.pen))
        if mark.fill == "ink":
            self.marks.disc(centre, radius, layer=_layer(mark.pen))

    def _text(self, mark: Text) -> None:
        if mark.text:
            self.marks.text(
                _plain(mark.text),
                self._at(mark.at),
                height=mark.height * self.factor,
                turn=mark.turn,
                style=f"lettering {mark.weight}",
                anchor=mark.anchor,
                rise=mark.rise,
                layer=_layer(mark.pen),
            )

    def _dimension(self, d: Dimension, view: View) -> None:
        along = 0 if d.axis == "x" else 1
        base = (d.start[0], d.line_at) if along == 0 else (d.line_at, d.start[1])
        override: dict[str, Any] = {
            "dimlfac": self.scale / view.scale,
            "dimtxt": d.height * self.factor,
        }
        location = None
        if d.text_at is not None:
            raised = d.line_at + (TEXT_GAP + d.height / 2.0) * (1 if along == 0 else -1)
            location = self._at((d.text_at, raised) if along == 0 else (raised, d.text_at))
        dimension = self.space.add_linear_dim(
            base=self._at(base),
            p1=self._at(d.start),
            p2=self._at(d.end),
            angle=0.0 if along == 0 else 90.0,
            text=_plain(d.text),
            location=location,
            dimstyle="running from a datum",
            override=override,
            dxfattribs={"layer": _layer("dimension")},
        )
        dimension.render()
        self._settle_lines(dimension.dimension.get_geometry_block())

    def _settle_lines(self, block: Any) -> None:
        """Put the lines that a dimension was drawn with on its layer, broken by lettering."""
        for line in list(block.query("LINE")):
            line.dxf.layer = _layer("dimension")
            ends = [(p.x / self.factor, p.y / self.factor) for p in (line.dxf.start, line.dxf.end)]
            bits = self._left_of((ends[0], ends[1]), "dimension")
            if len(bits) > 1:
                for bit in bits:
                    block.add_line(
                        self._at(bit[0]), self._at(bit[-1]), dxfattribs={"layer": line.dxf.layer}
                    )
                block.delete_entity(line)


def _layer(pen: Pen) -> str:
    return PENS[pen].layer


def _plain(text: str) -> str:
    """Return a text as DXF spells it: on one line, with a code of its own for the diameter sign.

    A line break, which a title of a job may have, would end the entity's value.
    """
    return " ".join(text.splitlines()).replace("%", "%%%").replace(DIAMETER, "%%c")
