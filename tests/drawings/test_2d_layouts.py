"""Drawings of cut-up sheets: every part once with mark and sizes, cuts numbered in order."""

import re

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from plans_2d import EXAMPLES, cutting_of, design_of

from stowright.drawings.extent import Bounds, bounds
from stowright.drawings.layout_drawing import layout_drawing, layout_pages
from stowright.drawings.layout_labels import rectangle_label
from stowright.drawings.overlap import overlaps
from stowright.drawings.scene import Balloon, Hatch, Line, Region, Text
from stowright.drawings.svg import to_svg
from stowright.errors import OutOfRangeError
from stowright.model.layout import Cut, Layout, Piece, StockUse
from stowright.units import format_length


def drawings(name):
    plan, units = cutting_of(name), design_of(name).job.units
    for layout in plan.layouts:
        stock = next(s for s in plan.stock if s.sheet == layout.sheet)
        yield layout, stock, layout_drawing(layout, stock=stock, units=units)


@pytest.mark.parametrize("name", sorted(EXAMPLES))
def test_every_layout_is_legible_and_fits_the_page(name):
    for _, _, scene in drawings(name):
        assert overlaps(scene) == []
        assert scene.width <= 176.0
        assert scene.height <= 237.0


@pytest.mark.parametrize("name", sorted(EXAMPLES))
def test_parts_lie_at_true_places_and_carry_their_marks(name):
    for layout, _, scene in drawings(name):
        view = scene.view("sheet")
        shapes = {}
        for item in view.items:
            if isinstance(item, Region) and item.fill == "wood":
                ring = [tuple(round(v, 2) for v in view.model(p)) for p in item.outer]
                shapes.setdefault(item.about.split("/")[-1], []).append(ring[0])
        wanted = {}
        for piece in layout.pieces:
            wanted.setdefault(piece.mark, []).append((round(piece.x, 2), round(piece.y, 2)))
        assert {k: sorted(v) for k, v in shapes.items()} == {
            k: sorted(v) for k, v in wanted.items()
        }
        said = " ".join(i.text for i in scene.items if isinstance(i, Text))
        assert all(piece.mark in said for piece in layout.pieces)


@st.composite
def cut_up(draw):
    """A sheet cut edge to edge at random, down to small pieces."""
    trim, kerf, length, width = 10.0, 3.0, 2440.0, 1220.0
    pieces, cuts = [], []

    def divide(x, y, along, across, depth):
        axis = "x" if along > across else "y"
        size = max(along, across)
        if depth == 0 or size < 140.0 or (depth < 5 and draw(st.booleans())):
            mark = f"A{len(pieces) + 1}"
            row = {"mark": mark, "x": x, "y": y, "along": along, "across": across}
            pieces.append(Piece(**row, turned=False))
            return
        share = round(draw(st.floats(0.08, 0.92)) * (size - kerf), 1)
        at = (x if axis == "x" else y) + share
        start, end = (y, y + across) if axis == "x" else (x, x + along)
        cuts.append(
            Cut(
                order=len(cuts) + 1,
                axis=axis,
                at=at,
                start=start,
                end=end,
                leaves=(),
                setting=share,
                kind="rip",
                level=6 - depth,
            )
        )
        if axis == "x":
            divide(x, y, share, across, depth - 1)
            divide(x + share + kerf, y, along - share - kerf, across, depth - 1)
        else:
            divide(x, y, along, share, depth - 1)
            divide(x, y + share + kerf, along, across - share - kerf, depth - 1)

    divide(trim, trim, length - 2 * trim, width - 2 * trim, 6)
    return Layout(
        number=1,
        sheet="S",
        material="ply-15",
        copies=1,
        kerf=kerf,
        trim=trim,
        pieces=tuple(pieces),
        cuts=tuple(cuts),
        offcuts=(),
    )


@settings(max_examples=25, deadline=None)
@given(cut_up(), st.sampled_from(("mm", "in")))
def test_any_sheet_cut_up_is_legible(layout, units):
    stock = StockUse(
        sheet="S",
        material="ply-15",
        length=2440.0,
        width=1220.0,
        origin="buy",
        used=1,
        available=None,
        price=None,
    )
    scene = layout_drawing(layout, stock=stock, units=units, room=(176.0, 500.0))
    assert overlaps(scene) == []
    rings = sorted(int(i.text) for i in scene.items if isinstance(i, Balloon))
    assert rings == [cut.order for cut in layout.cuts]


def gridded(columns, rows):
    """A sheet cut into strips and those into pieces all alike."""
    trim, kerf, length, width = 10.0, 3.0, 2440.0, 1220.0
    across = (width - 2 * trim - (rows - 1) * kerf) / rows
    along = (length - 2 * trim - (columns - 1) * kerf) / columns
    pieces, cuts = [], []

    def cut(axis, at, start, end):
        order = len(cuts) + 1
        row = {"order": order, "axis": axis, "at": at, "start": start, "end": end, "leaves": ()}
        cuts.append(Cut(**row, setting=across, kind="rip", level=1))

    for j in range(rows):
        y = trim + j * (across + kerf)
        cut("y", y + across, trim, length - trim)
        for i in range(columns):
            x = trim + i * (along + kerf)
            cut("x", x + along, y, y + across)
            row = {"x": x, "y": y, "along": along, "across": across}
            pieces.append(Piece(mark=f"A{len(pieces) + 1}", **row, turned=False))
    more = {"sheet": "S", "material": "ply-15", "copies": 1, "kerf": kerf, "trim": trim}
    return Layout(number=1, pieces=tuple(pieces), cuts=tuple(cuts), offcuts=(), **more)


@pytest.mark.parametrize(("columns", "rows"), [(3, 8), (12, 5), (24, 12)])
def test_a_long_list_of_cuts_does_not_shrink_its_sheet(columns, rows):
    layout = gridded(columns, rows)
    more = {"length": 2440.0, "width": 1220.0, "used": 1, "available": None, "price": None}
    stock = StockUse(sheet="S", material="ply-15", origin="buy", **more)
    pages = layout_pages(layout, stock=stock, units="mm", room=(174.0, 222.0))
    assert [overlaps(page) for page in pages] == [[] for _ in pages]
    assert all(page.height <= 222.0 for page in pages)
    assert pages[0].scale >= 1 / 20  # ISO 5455: 1:20 is the next after 1:10 that A4 holds
    # every cut is in the list once, and its number on the sheet or in the note that it has none
    listed = [
        item
        for page in pages
        for view in page.views
        if view.name == "cuts"
        for item in view.items
        if isinstance(item, Text)
    ]
    orders = [item.text for item in listed if item.text.isdigit()]
    assert all(orders.count(str(cut.order)) >= 1 for cut in layout.cuts)
    rings = {item.text for item in pages[0].items if isinstance(item, Balloon)}
    said = " ".join(i.text for page in pages for i in page.items if isinstance(i, Text))
    without = said.partition("Cuts without room for their number")[2]
    assert {str(cut.order) for cut in layout.cuts} <= rings | set(re.findall(r"\d+", without))
    assert (len(pages) == 1) == (len(layout.cuts) < 40)


def test_cuts_are_numbered_once_each_and_drawn_in_the_middle_of_their_kerf():
    for layout, _, scene in drawings("pickup"):
        view = scene.view("sheet")
        rings = sorted(int(i.text) for i in view.items if isinstance(i, Balloon))
        assert rings == [cut.order for cut in layout.cuts]
        lines = [i for i in view.items if isinstance(i, Line) and i.pen == "cut"][
            : len(layout.cuts)
        ]
        for cut, line in zip(layout.cuts, lines, strict=True):
            k = 0 if cut.axis == "x" else 1
            start, end = view.model(line.start), view.model(line.end)
            assert start[k] == pytest.approx(cut.at + layout.kerf / 2)
            assert end[k] == pytest.approx(cut.at + layout.kerf / 2)
            assert (start[1 - k], end[1 - k]) == pytest.approx((cut.start, cut.end))


def test_the_list_says_what_to_set_and_what_a_cut_leaves():
    layout, _, scene = next(drawings("pickup"))
    said = [i.text for i in scene.view("cuts").items if isinstance(i, Text)]
    assert said.count("set to") >= 1
    for cut in layout.cuts:
        assert format_length(cut.setting) in said
    assert sum(text.isdigit() for text in said) >= len(layout.cuts)


def test_offcuts_worth_keeping_are_named_and_scrap_is_hatched():
    for layout, _, scene in drawings("pickup"):
        view = scene.view("sheet")
        said = " ".join(i.text for i in view.items if isinstance(i, Text))
        kept = [o for o in layout.offcuts if o.keep]
        assert all(offcut.name in said for offcut in kept)
        scrap = [o for o in layout.offcuts if not o.keep and min(o.along, o.across) > 30]
        assert sum(isinstance(i, Hatch) for i in view.items) >= len(scrap)


def test_release_b_is_marked():
    plan = cutting_of("pickup")
    layout = plan.layouts[0]
    stock = next(s for s in plan.stock if s.sheet == layout.sheet)
    mark = layout.pieces[0].mark
    scene = layout_drawing(layout, stock=stock, units="mm", releases={mark: "B"})
    said = " ".join(i.text for i in scene.items if isinstance(i, Text))
    assert f"{mark} (B)" in said


def test_a_room_too_small_is_refused():
    layout, stock, _ = next(drawings("pickup"))
    with pytest.raises(OutOfRangeError):
        layout_drawing(layout, stock=stock, units="mm", room=(30.0, 30.0))


def test_the_same_layout_gives_the_same_bytes():
    (_, _, one), (_, _, two) = next(drawings("wagon")), next(drawings("wagon"))
    assert to_svg(one) == to_svg(two)


@pytest.mark.parametrize(
    ("width", "height"), [(60, 30), (60, 5), (5, 60), (8, 4), (4, 8), (30, 30), (2, 2)]
)
def test_a_label_stays_inside_its_rectangle(width, height):
    box = Bounds(left=10, bottom=20, right=10 + width, top=20 + height)
    label = rectangle_label(box, "A12", "1430 × 409")
    if (width, height) == (2, 2):
        assert label == []
        return
    assert label
    inside = shapely.box(box.left, box.bottom, box.right, box.top)
    found = bounds(label)
    assert inside.covers(shapely.box(found.left, found.bottom, found.right, found.top))
