"""Broken layouts, fed to both checkers: each has to refuse what it can see."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.cutting import check_plan, lay_out
from stowright.cutting.rectangles import check_by_rectangles, check_counts
from stowright.cutting.replay import check_by_replay
from stowright.errors import CuttingError
from stowright.model.layout import CutPart, Layout, Piece, SawSettings, StockSheet

UNIT = 1 / 160  # mm


@pytest.fixture
def plan(parts, stock, saw):
    return lay_out(parts, stock, saw, effort="first")


@pytest.fixture
def layout(plan):
    return plan.layouts[0]


def refused_by_both(layout, parts, sheet, match):
    for check in (check_by_replay, check_by_rectangles):
        with pytest.raises(CuttingError, match=match):
            check(layout, parts, sheet)


def change_piece(layout, index, **fields):
    """Change a piece in the list and in the tree alike, so that only its place is wrong."""
    old = layout.pieces[index]
    new = replace(old, **fields)

    def visit(node):
        at = (node.x, node.y)
        if node.axis is None and node.mark == old.mark and at == (old.x, old.y):
            same = {k: v for k, v in fields.items() if k != "turned"}
            return replace(node, turned=new.turned, **same)
        return replace(node, children=tuple(visit(child) for child in node.children))

    pieces = tuple(new if n == index else p for n, p in enumerate(layout.pieces))
    return replace(layout, pieces=pieces, tree=visit(layout.tree))


def test_a_sound_plan_passes_both(plan, parts, stock):
    check_plan(plan, parts, stock)


def test_every_cut_shifted_by_one_unit_is_refused(layout, parts, stock):
    for index, cut in enumerate(layout.cuts):
        shifted = replace(cut, at=cut.at + UNIT)
        broken = replace(layout, cuts=(*layout.cuts[:index], shifted, *layout.cuts[index + 1 :]))
        with pytest.raises(CuttingError, match="cut"):
            check_by_replay(broken, parts, stock[0])


def test_every_cut_left_out_is_refused(layout, parts, stock):
    for index in range(len(layout.cuts)):
        rest = layout.cuts[:index] + layout.cuts[index + 1 :]
        broken = replace(
            layout, cuts=tuple(replace(c, order=n) for n, c in enumerate(rest, start=1))
        )
        with pytest.raises(CuttingError):
            check_by_replay(broken, parts, stock[0])


def test_a_cut_that_stops_short_is_refused(layout, parts, stock):
    cut = layout.cuts[0]
    broken = replace(layout, cuts=(replace(cut, end=cut.end - UNIT), *layout.cuts[1:]))
    with pytest.raises(CuttingError, match="edge to edge"):
        check_by_replay(broken, parts, stock[0])


def test_cuts_in_another_order_are_refused(layout, parts, stock):
    turned_round = tuple(
        replace(cut, order=n) for n, cut in enumerate(reversed(layout.cuts), start=1)
    )
    with pytest.raises(CuttingError, match="edge to edge"):
        check_by_replay(replace(layout, cuts=turned_round), parts, stock[0])


def test_a_piece_shifted_by_one_unit_is_refused_by_the_replay(layout, parts, stock):
    for index in range(len(layout.pieces)):
        x = layout.pieces[index].x + UNIT
        broken = replace(layout, pieces=change_piece(layout, index, x=x).pieces)
        with pytest.raises(CuttingError, match="list of pieces"):
            check_by_replay(broken, parts, stock[0])


def test_a_piece_turned_against_its_grain_is_refused_by_both(layout, parts, stock):
    index = next(n for n, piece in enumerate(layout.pieces) if piece.mark == "A1")
    refused_by_both(change_piece(layout, index, turned=True), parts, stock[0], "grain")


def test_a_piece_of_another_size_is_refused_by_both(layout, parts, stock):
    smaller = tuple(replace(p, width=p.width - UNIT) if p.mark == "A2" else p for p in parts)
    laid = next(la for la in [layout] if any(p.mark == "A2" for p in la.pieces))
    refused_by_both(laid, smaller, stock[0], "A2")


def test_an_unknown_part_is_refused_by_both(layout, parts, stock):
    without = tuple(part for part in parts if part.mark != "A1")
    refused_by_both(layout, without, stock[0], "A1 is not a part")


def test_a_part_of_another_material_is_refused_by_both(layout, parts, stock):
    other = tuple(replace(part, material="ply-9") for part in parts)
    refused_by_both(layout, other, stock[0], "of ply-9")


def test_a_defect_under_a_piece_is_refused_by_both(layout, parts, stock):
    piece = layout.pieces[0]
    corner = (piece.x + piece.along - 1, piece.y + piece.across - 1, 20, 20)
    refused_by_both(layout, parts, replace(stock[0], defects=(corner,)), "defect")


def test_a_smaller_sheet_is_refused_by_both(layout, parts, stock):
    small = replace(stock[0], length=stock[0].length - 400)
    with pytest.raises(CuttingError, match="trimmed sheet"):
        check_by_replay(layout, parts, small)
    edge = max(piece.x + piece.along for piece in layout.pieces)
    with pytest.raises(CuttingError, match="beyond the trimmed sheet"):
        check_by_rectangles(layout, parts, replace(stock[0], length=edge + 10 - UNIT))


def test_a_part_missing_or_doubled_is_refused(plan, parts, stock):
    first = plan.layouts[0]
    fewer = replace(first, pieces=first.pieces[1:])
    more = replace(first, pieces=(*first.pieces, first.pieces[0]))
    for broken in (fewer, more):
        changed = replace(plan, layouts=(broken, *plan.layouts[1:]))
        with pytest.raises(CuttingError, match="asked for"):
            check_counts(changed, parts, stock)


def test_more_sheets_than_there_are_is_refused(plan, parts, stock):
    one_less = plan.stock[0].used - 1
    limited = (replace(stock[0], copies=one_less), stock[1])
    with pytest.raises(CuttingError, match="used"):
        check_counts(plan, parts, limited)


def by_hand(pieces, kerf=0.0):
    """A layout of pieces given as x, y, along, across; with a tree only to ask for cuttability."""
    parts = tuple(
        CutPart(mark=f"P{n}", length=a, width=b, material="ply")
        for n, (_, _, a, b) in enumerate(pieces)
    )
    laid = tuple(
        Piece(mark=f"P{n}", x=x, y=y, along=a, across=b, turned=False)
        for n, (x, y, a, b) in enumerate(pieces)
    )
    sheet = StockSheet(id="S", material="ply", length=300, width=300)
    plan = lay_out(parts[:1], (sheet,), SawSettings(kerf=kerf, trim=0), effort="first")
    return replace(plan.layouts[0], pieces=laid), parts, sheet


def test_a_pinwheel_cannot_be_cut_edge_to_edge():
    # the classic five-block pattern: no line crosses the sheet without crossing a piece
    pinwheel = [(0, 0, 200, 100), (200, 0, 100, 200), (100, 200, 200, 100), (0, 100, 100, 200)]
    layout, parts, sheet = by_hand(pinwheel)
    with pytest.raises(CuttingError, match="no edge-to-edge cuts"):
        check_by_rectangles(layout, parts, sheet)
    check_by_rectangles(replace(layout, tree=None), parts, sheet)  # cnc needs no such cuts


@given(gap=st.integers(0, 6 * 160))
@settings(max_examples=30, deadline=None)
def test_pieces_nearer_than_the_kerf_are_refused(gap):
    kerf = 3.0
    layout, parts, sheet = by_hand([(0, 0, 100, 100), (100 + gap * UNIT, 0, 50, 50)], kerf)
    if gap * UNIT >= kerf:
        check_by_rectangles(layout, parts, sheet)
    else:
        with pytest.raises(CuttingError, match="overlap or leave no room"):
            check_by_rectangles(layout, parts, sheet)


def test_a_tree_whose_children_do_not_add_up_is_refused(layout, parts, stock):
    tree = layout.tree
    broken = replace(layout, tree=replace(tree, children=tree.children[:-1]))
    with pytest.raises(CuttingError, match="does not add up"):
        check_by_replay(broken, parts, stock[0])


def test_a_length_between_two_units_is_refused(layout, parts, stock):
    cut = replace(layout.cuts[0], at=layout.cuts[0].at + UNIT / 2)
    with pytest.raises(CuttingError, match="whole number of 1/160"):
        check_by_replay(replace(layout, cuts=(cut, *layout.cuts[1:])), parts, stock[0])


def test_a_layout_is_a_value_of_the_model(layout):
    assert isinstance(layout, Layout)
