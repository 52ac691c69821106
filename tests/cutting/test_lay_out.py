"""Laws that every cutting plan keeps."""

import json
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stowright.cutting import check_plan, cutting_to_dict, lay_out
from stowright.cutting.effort import Effort
from stowright.errors import CuttingError
from stowright.model.layout import CutPart, SawSettings, StockSheet

SHORT = Effort(place=400_000, finish=400_000)
SIZES = st.integers(40, 1100).map(lambda v: v / 2 + 20)


@st.composite
def jobs(draw):
    count = draw(st.integers(1, 7))
    parts = tuple(
        CutPart(
            mark=f"P{n}",
            length=draw(SIZES),
            width=draw(SIZES),
            quantity=draw(st.integers(1, 3)),
            material=draw(st.sampled_from(["ply-12", "ply-15"])),
            grain=draw(st.booleans()),
            release=draw(st.sampled_from(["A", "B"])),
        )
        for n in range(count)
    )
    saw = SawSettings(
        kerf=draw(st.sampled_from([0, 2.2, 3.2])), trim=draw(st.sampled_from([0, 10]))
    )
    return parts, saw


STOCK = tuple(
    StockSheet(id=f"S-{m}", material=m, length=1525, width=1220) for m in ("ply-12", "ply-15")
)


@given(job=jobs())
@settings(max_examples=25, deadline=None)
def test_every_plan_is_whole_and_its_areas_add_up(job):
    parts, saw = job
    plan = lay_out(parts, STOCK, saw, effort=SHORT)
    check_plan(plan, parts, STOCK)
    cut = Counter()
    for layout in plan.layouts:
        for piece in layout.pieces:
            cut[piece.mark] += layout.copies
    assert cut == Counter({part.mark: part.quantity for part in parts})
    area = plan.part_area + plan.kerf_area + plan.trim_area + plan.offcut_area + plan.scrap_area
    assert area == pytest.approx(plan.sheets * 1.525 * 1.22, abs=1e-5)  # each rounded to 1e-6 m2
    assert plan.kerf_area >= 0.0
    assert plan.lower_bound <= plan.sheets
    assert plan.saw_lines == sum(layout.copies * len(layout.cuts) for layout in plan.layouts)


def test_the_same_input_gives_the_same_bytes(parts, stock, saw):
    texts = {
        json.dumps(cutting_to_dict(lay_out(parts, stock, saw, effort=SHORT))) for _ in range(3)
    }
    assert len(texts) == 1


def test_the_contract_object_has_the_contract_keys(parts, stock, saw):
    found = cutting_to_dict(lay_out(parts, stock, saw, effort="first"))
    keys = {"stock", "layouts", "sheets", "lower_bound", "proved_least", "saw_lines", "settings"}
    assert keys | {"cut_metres"} <= set(found)
    assert {"sheet", "width", "length", "origin"} <= set(found["stock"][0])
    layout = found["layouts"][0]
    assert {"sheet", "copies", "kerf", "trim", "pieces", "cuts", "offcuts"} <= set(layout)
    assert {"mark", "x", "y", "along", "across", "turned"} <= set(layout["pieces"][0])
    assert {"order", "axis", "at", "start", "end", "leaves"} <= set(layout["cuts"][0])
    assert {"along", "across", "keep"} <= set(layout["offcuts"][0])
    assert json.loads(json.dumps(found)) == found


def test_a_part_too_long_is_told_with_what_would_serve(stock, saw):
    part = CutPart(mark="D1", length=2600, width=400, material="ply-15", grain=True)
    with pytest.raises(CuttingError) as refused:
        lay_out((part,), stock, saw)
    text = str(refused.value)
    assert "D1 (2600 × 400 mm" in text
    assert "180 mm too long" in text  # 2600 - (2440 - 2 * 10)
    assert "at least 2620 × 420 mm" in text
    assert "2 pieces of 1300 × 400 mm" in text


def test_a_part_that_only_fits_across_the_grain_is_told(stock, saw):
    part = CutPart(mark="D2", length=900, width=1500, material="ply-15", grain=True)
    with pytest.raises(CuttingError, match="fits only across the grain"):
        lay_out((part,), stock, saw)


def test_all_mistakes_are_told_at_once(stock, saw):
    parts = (
        CutPart(mark="A", length=100, width=100, quantity=0, material="ply-15"),
        CutPart(mark="B", length=float("nan"), width=100, material="ply-15"),
        CutPart(mark="B", length=100, width=100, material="ply-15"),
    )
    with pytest.raises(CuttingError) as refused:
        lay_out(parts, stock, saw, effort="first")
    assert len(str(refused.value).splitlines()) == 3


def test_stock_in_hand_is_used_before_any_is_bought():
    parts = (CutPart(mark="A", length=500, width=400, quantity=4, material="ply"),)
    stock = (
        StockSheet(id="new", material="ply", length=2440, width=1220, price=60.0),
        StockSheet(id="old", material="ply", length=1030, width=830, copies=1, in_hand=True),
    )
    plan = lay_out(parts, stock, SawSettings(kerf=3, trim=10), effort=SHORT)
    assert [use.sheet for use in plan.stock] == ["old"]
    assert plan.stock[0].origin == "in hand"
    assert plan.proved_least


def test_a_sheet_with_a_defect_is_cut_round_it():
    parts = (CutPart(mark="A", length=500, width=400, quantity=6, material="ply"),)
    knot = (700.0, 500.0, 60.0, 60.0)
    stock = (
        StockSheet(
            id="S", material="ply", length=2440, width=1220, copies=1, in_hand=True, defects=(knot,)
        ),
    )
    plan = lay_out(parts, stock, SawSettings(kerf=3, trim=10), only_in_hand=True)
    check_plan(plan, parts, stock)
    assert plan.sheets == 1


def test_a_part_is_proposed_in_pieces_only_where_they_are_few():
    sheet = StockSheet(id="S", material="ply", length=1000, width=600)
    with pytest.raises(CuttingError, match="or 2 pieces of 800 × 500 mm joined"):
        lay_out((CutPart(mark="A", length=1600, width=500, material="ply"),), (sheet,))
    with pytest.raises(CuttingError, match=r"would serve$"):
        lay_out((CutPart(mark="A", length=4600, width=500, material="ply"),), (sheet,))


def test_a_part_that_only_defects_are_in_the_way_of_is_told_what_would_help():
    knot = StockSheet(
        id="S", material="ply", length=1000, width=600, defects=((480.0, 280.0, 40.0, 40.0),)
    )
    with pytest.raises(CuttingError, match="without them would serve"):
        lay_out((CutPart(mark="A", length=900, width=500, material="ply"),), (knot,))


def test_a_cost_that_was_given_is_not_called_an_area():
    part = CutPart(mark="A", length=900, width=500, quantity=3, material="ply")
    sheets = [
        StockSheet(id=name, material="ply", length=1000, width=width)
        for name, width in (("S", 600), ("L", 1200))
    ]
    by_area = lay_out((part,), sheets).materials[0].reason
    given = [replace(sheet, cost=sheet.width / 10.0) for sheet in sheets]
    by_cost = lay_out((part,), given).materials[0].reason
    assert "m2 of sheet" in by_area
    assert "180" in by_cost
    assert "m2" not in by_cost
