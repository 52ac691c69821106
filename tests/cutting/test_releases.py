"""Release A and B: cost first; B's material whole where that costs nothing, else its price."""

from dataclasses import replace

from stowright.cutting import check_plan, lay_out
from stowright.cutting.effort import Effort
from stowright.cutting.problem import Bin, Kind, Problem, Rules
from stowright.cutting.releases import by_release
from stowright.model.layout import CutPart, SawSettings, StockSheet

SHORT = Effort(place=300_000, finish=300_000)
STOCK = (StockSheet(id="S", material="ply", length=1000, width=1000, price=40.0),)
BARE = SawSettings(kerf=3, trim=0)


def part(mark, length, width, quantity, release):
    return CutPart(
        mark=mark, length=length, width=width, quantity=quantity, release=release, material="ply"
    )


def releases_on(plan, parts):
    by_mark = {p.mark: p.release for p in parts}
    return [{by_mark[piece.mark] for piece in layout.pieces} for layout in plan.layouts]


def test_release_b_has_its_own_sheets_where_that_costs_nothing():
    # each release fills more than half a sheet: two sheets either way
    parts = (part("A1", 450, 450, 3, "A"), part("B1", 450, 450, 3, "B"))
    plan = lay_out(parts, STOCK, BARE, effort=SHORT)
    check_plan(plan, parts, STOCK)
    assert plan.sheets == 2
    assert all(len(releases) == 1 for releases in releases_on(plan, parts))
    assert "costs nothing" in plan.materials[0].release_b


def test_a_sheet_more_is_not_taken_for_release_b_but_its_price_is_told():
    parts = (part("A1", 450, 450, 2, "A"), part("B1", 450, 450, 2, "B"))
    plan = lay_out(parts, STOCK, BARE, effort=SHORT)
    assert plan.sheets == 1
    assert "1 sheet more (40 more at the prices given)" in plan.materials[0].release_b


def test_on_a_shared_sheet_release_b_is_cut_last():
    parts = (part("A1", 450, 450, 2, "A"), part("B1", 450, 450, 2, "B"))
    (layout,) = lay_out(parts, STOCK, BARE, effort=SHORT).layouts
    releases = [cut.release for cut in layout.cuts]
    assert "B" in releases
    assert releases == sorted(releases)


def test_one_release_says_nothing_about_the_other():
    plan = lay_out((part("A1", 450, 450, 2, "A"),), STOCK, BARE, effort=SHORT)
    assert not plan.materials[0].release_b


def test_a_job_of_one_release_is_not_laid_out_a_second_time():
    kinds = (Kind(length=300, width=200, copies=2, turnable=True),)
    bins = (Bin(w=1000, h=1000, copies=None, cost=1.0, sheet=0),)
    asked = []
    for waits in (False, True):
        one = tuple(replace(kind, waits=waits) for kind in kinds)
        assert by_release(Problem(kinds=one, bins=bins, rules=Rules(kerf=3)), asked.append) is None
    assert not asked
