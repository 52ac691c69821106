"""Tabs and slots on paper and for the router: complete drawings, areas, arcs, layers, corners.

ezdxf (a general DXF library) reads the files back; areas of arcs are worked out here from their
bulges: with t the angle of an arc, r its radius, it adds r² (t - sin t) / 2 to its chord's polygon.
"""

import re
import sys
from dataclasses import replace
from io import StringIO
from math import atan, hypot, pi, sin
from pathlib import Path

import ezdxf
import pytest
import shapely
from ezdxf import path

sys.path.insert(0, str(Path(__file__).parents[1] / "design"))
from job_texts import TUB, VAN, made

from stowright.drawings.cnc_dxf import part_cnc, sheet_cnc
from stowright.drawings.dimension_check import false_dimensions, foreign_sizes
from stowright.drawings.part_check import missing_sizes
from stowright.drawings.part_drawing import part_drawing, shown_beside
from stowright.drawings.scene import Text
from stowright.drawings.sheet_frame import PAPERS, drawing_room
from stowright.model.layout import Layout, Piece, StockUse
from stowright.model.part_area import face_area_mm2

ROUTED = """
[build]
method = "cnc"
saw = "SAW"
joint = "JOINT"
joint_depth = 6
carcass = "SHEET"
drawer = "SHEET"
"""
BLOCK = """
[[block]]
name = "unit"
modules = "MODULES"
columns = [ {stack = [ {fill = "drawer", height = 170}, {fill = "open"} ]},
            {stack = [ {fill = "drawer"} ]} ]
"""
DECK = """
[[deck]]
over = ["unit"]
"""


def unit_of(joint="tab-and-slot", *, sheet="ply-15", saw="cnc-6", modules="separate"):
    build = ROUTED.replace("SAW", saw).replace("JOINT", joint).replace("SHEET", sheet)
    wings = "" if modules == "shared" else 'wings = {left = "fixed", right = "fixed"}\n'
    block = BLOCK.replace("MODULES", modules).rstrip() + "\n" + wings
    return made("cut_grid = 0", TUB, block, DECK, build)


@pytest.fixture(
    scope="module",
    params=[
        {},
        {"sheet": "ply-18", "saw": "cnc-3"},
        {"joint": "housing", "modules": "shared", "saw": "cnc-8"},
        {"joint": "rebate", "sheet": "ply-9"},
    ],
    ids=["tabs", "tabs in 18", "housings", "rebates in 9"],
)
def unit(request):
    return unit_of(**request.param), float(
        {"cnc-3": 3.3, "cnc-6": 6.1, "cnc-8": 8.1}[request.param.get("saw", "cnc-6")]
    )


def read(data):
    document = ezdxf.read(StringIO(data.decode()))
    assert document.audit().errors == []
    return document


def enclosed(entity):
    """The area that a closed polyline of lines and arcs encloses. [unit2]"""
    points = list(entity.get_points("xyb"))
    area = 0.0
    for (x0, y0, bulge), (x1, y1, _) in zip(points, [*points[1:], points[0]], strict=True):
        area += (x0 * y1 - x1 * y0) / 2.0
        if bulge:
            turn = 4.0 * atan(bulge)
            radius = hypot(x1 - x0, y1 - y0) / 2.0 / sin(turn / 2.0)
            area += radius**2 * (turn - sin(turn)) / 2.0
    return area


def net_area(document):
    total = 0.0
    for e in document.modelspace():
        layer = e.dxf.layer
        if "not cut" in layer or "through" not in layer:
            continue
        if e.dxftype() == "CIRCLE":
            total -= pi * e.dxf.radius**2
        else:
            total += enclosed(e) if "outside" in layer else -enclosed(e)
    return total


def test_the_router_s_file_encloses_the_part_s_area(unit):
    design, cutter = unit
    for part in design.parts:
        document = read(part_cnc(part, cutter=cutter))
        # 0.01 mm2: coordinates are written to 1e-6 mm over contours of some metres
        assert net_area(document) == pytest.approx(face_area_mm2(part), abs=0.01), part.mark
        inches = read(part_cnc(part, cutter=cutter, units="in"))
        assert net_area(inches) * 25.4**2 == pytest.approx(face_area_mm2(part), abs=0.05)
        assert (document.header["$INSUNITS"], inches.header["$INSUNITS"]) == (4, 1)


def test_a_nested_sheet_encloses_its_parts_and_nothing_more():
    design = unit_of(saw="cnc-8")
    kerf, room = 8.1, {"x": 10.0, "y": 10.0}
    rows = [p for p in design.parts if p.role in {"carcass-floor", "drawer-side", "carcass-back"}]
    pieces, sum_of_areas = [], 0.0
    for k, part in enumerate(rows):
        turned = k % 2 == 1
        along, across = (part.width, part.length) if turned else (part.length, part.width)
        pieces.append(Piece(mark=part.mark, **room, along=along, across=across, turned=turned))
        room["x"] += along + kerf
        sum_of_areas += face_area_mm2(part)
    sheet = {"sheet": "S", "material": "ply-15"}
    layout = Layout(
        number=1, copies=1, kerf=kerf, trim=10.0, pieces=tuple(pieces), cuts=(), offcuts=(), **sheet
    )
    stock = StockUse(
        length=9000.0, width=3000.0, origin="buy", used=1, available=None, price=None, **sheet
    )
    document = read(sheet_cnc(layout, design.parts, stock=stock, cutter=kerf))
    # 0.05 mm2: coordinates are written to 1e-6 mm over contours of many metres
    assert net_area(document) == pytest.approx(sum_of_areas, abs=0.05)
    outlines = [
        shapely.Polygon([(v.x, v.y) for v in path.make_path(e).flattening(0.01)])
        for e in document.modelspace()
        if e.dxf.layer == "cut outside, through"
    ]
    for piece, outline in zip(pieces, outlines, strict=True):
        low = (piece.x, piece.y, piece.x + piece.along, piece.y + piece.across)
        assert outline.bounds == pytest.approx(low, abs=1e-6)
    notes = " ".join(t.dxf.text for t in document.modelspace().query("TEXT"))
    assert "Origin: lower left corner of the whole sheet" in notes


def test_every_path_is_closed_on_a_layer_in_plain_words(unit):
    design, cutter = unit
    named = re.compile(
        r"(from the back, )?(drill [\d.]+ mm, (through|[\d.]+ mm deep)|countersink [\d.]+ mm wide"
        r"|pocket, [\d.]+ mm deep|cut inside, through|cut outside, through)"
    )
    for part in design.parts:
        for e in read(part_cnc(part, cutter=cutter)).modelspace():
            if "not cut" in e.dxf.layer:
                continue
            assert named.fullmatch(e.dxf.layer), e.dxf.layer
            assert e.dxftype() == "CIRCLE" or (e.dxftype() == "LWPOLYLINE" and e.closed)


def test_a_square_corner_seats_in_every_inside_corner(unit):
    """A tiny square pushed into each sharp inside corner meets no wood that a cutter left."""
    design, cutter = unit
    seen = 0
    for part in design.parts:
        (outside,) = [
            e
            for e in read(part_cnc(part, cutter=cutter)).modelspace()
            if e.dxf.layer == "cut outside, through"
        ]
        wood = shapely.Polygon([(v.x, v.y) for v in path.make_path(outside).flattening(0.001)])
        # what a round cutter can clear: closed by its radius, from outside
        left = wood.buffer(cutter / 2.0 - 0.02).buffer(-cutter / 2.0 + 0.02)
        for row in part.reliefs:
            corner = row.corner
            if (
                row.through
                and shapely.Point(corner).distance(shapely.Polygon(part.outline).exterior) < 1e-6
            ):
                x = part.length - corner[0] if part.mirrored else corner[0]
                seen += 1
                assert not left.contains(shapely.Point(x, corner[1]).buffer(0.05)), part.mark
    if any(part.tabs for part in design.parts):
        assert seen > 100


def test_countersinks_lie_at_the_face_that_the_head_sits_in(unit):
    design, cutter = unit
    part = next(p for p in design.parts if p.role == "carcass-side")
    space = read(part_cnc(part, cutter=cutter)).modelspace()
    sunk = [f for f in part.features if "countersunk" in f.purpose]
    drawn = [e for e in space if "countersink" in e.dxf.layer]
    assert len(sunk) == len(drawn)
    if not sunk:  # nothing is screwed into the edge of a 9 mm sheet
        return
    assert all(e.dxf.layer.startswith("from the back") for e in drawn)
    notes = " ".join(t.dxf.text for t in space.query("TEXT"))
    assert "mirror them when the part is turned over" in notes
    assert "Origin: lower left corner of the part, good face up, z = 0 at the upper face" in notes


def test_a_groove_runs_out_between_tabs():
    design = unit_of()
    part = next(p for p in design.parts if p.role == "drawer-inner-front")
    space = read(part_cnc(part, cutter=6.1)).modelspace()
    (groove,) = [e for e in space if "pocket" in e.dxf.layer]
    xs = [p[0] for p in groove.get_points("xy")]
    reach = part.tabs[0].reach
    # half a cutter beyond both shoulders, and square there: nothing is left to relieve
    assert min(xs) == pytest.approx(reach - 6.1 / 2)
    assert max(xs) == pytest.approx(part.length - reach + 6.1 / 2)
    assert not any(b for _, _, b in groove.get_points("xyb"))


def test_part_drawings_say_everything_and_nothing_false(unit):
    design, _ = unit
    room = drawing_room(PAPERS["A4"])
    for part in design.parts:
        scene = part_drawing(part, units="mm", room=room, pair=shown_beside(part, design.parts))
        assert missing_sizes(part, scene) == []
        assert false_dimensions(scene, units="mm") == []
        assert foreign_sizes(part, scene) == []


def test_a_drawing_that_loses_a_tab_is_noticed():
    design = unit_of()
    part = next(p for p in design.parts if p.tabs)
    scene = part_drawing(part, units="mm", room=drawing_room(PAPERS["A4"]))
    first = part.tabs[0]
    moved = replace(first, start=first.start + 7.0, end=first.end + 7.0)
    wrong = replace(part, tabs=(moved, *part.tabs[1:]))
    assert any("tab at" in line for line in missing_sizes(wrong, scene))


def test_a_sawn_job_has_no_reliefs():
    unit = made(VAN, '[[block]]\nname = "unit"\ncolumns = [ {stack = [ {fill = "drawer"} ]} ]\n')
    assert not any(part.reliefs for part in unit.parts)


def test_an_inch_drawing_tells_a_fit_in_decimals():
    design = unit_of()
    room = drawing_room(PAPERS["A4"])
    tabbed = next(p for p in design.parts if p.role == "carcass-floor")
    scene = part_drawing(tabbed, units="in", room=room)
    words = " ".join(item.text for item in scene.items if isinstance(item, Text))
    # 60 mm = 2.362 in
    assert "are 2.362 long" in words
    assert "Ø0.240" in words
