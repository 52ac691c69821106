"""Very many parts of many jobs: every piece keeps its job, and sheets are saved by draining."""

from collections import Counter
from dataclasses import replace

from stowright.cutting import check_plan, lay_out
from stowright.cutting.batch import LARGE, drained
from stowright.cutting.corners import by_corners
from stowright.cutting.effort import Effort, Watch
from stowright.cutting.intake import by_material
from stowright.cutting.mixed import Group, laid_anew
from stowright.cutting.rounds import crowding
from stowright.cutting.slots import count_kinds
from stowright.cutting.strips import by_strips
from stowright.model.layout import CutPart, SawSettings, StockSheet

SAW = SawSettings(kerf=3, trim=10)
STOCK = (StockSheet(id="S", material="ply", length=2440, width=1220),)


def batch_of(jobs):
    """Cabinets of five sizes: sides, floors, rails, drawer sides and backs."""
    for number in range(jobs):
        high, deep, wide = 400 + 70 * (number % 5), 350 + 60 * (number % 4), 450 + 90 * (number % 7)
        rows = [(high, deep, 2, True), (wide - 36, deep, 2, False), (wide - 36, 100, 2, False)]
        rows += [(deep - 20, 120 + 40 * (number % 3), 4, True), (wide - 120, 180, 4, False)]
        for row, (length, width, quantity, grain) in enumerate(rows, start=1):
            yield CutPart(
                mark=str(row),
                job=f"J{number + 1}",
                length=length,
                width=width,
                quantity=quantity,
                grain=grain,
                material="ply",
            )


def test_every_piece_of_a_batch_bears_its_job_and_sheets_are_saved():
    parts = tuple(batch_of(17))
    asked = Counter({(p.job, p.mark): p.quantity for p in parts})
    assert asked.total() > LARGE
    plan = lay_out(parts, STOCK, SAW, effort=Effort(place=5_000_000, finish=500_000))
    check_plan(plan, parts, STOCK)
    laid = Counter()
    for layout in plan.layouts:
        for piece in layout.pieces:
            laid[piece.job, piece.mark] += layout.copies
    assert laid == asked
    problem = by_material(parts, STOCK, SAW)[0].problem
    assert plan.sheets <= len(by_corners(problem).patterns)


def test_two_runs_of_a_batch_give_the_same_plan():
    parts = tuple(batch_of(17))
    effort = Effort(place=2_000_000, finish=200_000)
    assert lay_out(parts, STOCK, SAW, effort=effort) == lay_out(parts, STOCK, SAW, effort=effort)


def test_draining_keeps_every_part_and_never_takes_more_sheets():
    problem = by_material(tuple(batch_of(17)), STOCK, SAW)[0].problem
    start = by_corners(problem)
    ways = [
        drained(problem, start, is_least=lambda _: False, work=4_000_000, watch=Watch())
        for _ in range(2)
    ]
    assert ways[0] == ways[1]
    asked = Counter({index: kind.copies for index, kind in enumerate(problem.kinds)})
    assert sum((count_kinds(p.root) for p in ways[0].patterns), Counter()) == asked
    bin_, kerf = problem.bins[0], problem.rules.kerf
    assert all(p.root.w <= bin_.w + kerf and p.root.h <= bin_.h + kerf for p in ways[0].patterns)
    fill = [
        min(sum(part.w * part.h for part in p.root.leaves()) for p in answer.patterns)
        for answer in (start, ways[0])
    ]
    # as many sheets: then the emptiest one has become emptier (a wide margin: it was half full)
    assert (len(ways[0].patterns), fill[1]) < (len(start.patterns), 0.8 * fill[0])


def test_a_batch_on_priced_sheets_of_several_sizes_mixes_them_and_keeps_to_what_is_there():
    priced = (
        replace(STOCK[0], id="A", cost=60.0),
        replace(STOCK[0], id="B", length=2500, width=1250, cost=66.0),
        replace(STOCK[0], id="C", length=1220, width=610, cost=14.0, copies=5),
        replace(STOCK[0], id="D", length=900, width=700, cost=3.0, copies=2),
    )
    problem = by_material(tuple(batch_of(8)), priced, SAW)[0].problem
    start = by_strips(problem, Watch())
    found = drained(problem, start, is_least=lambda _: False, work=12_000_000, watch=Watch())
    one = by_strips(replace(problem, bins=problem.bins[:1]), Watch())
    assert found.cost(problem) <= start.cost(problem) < 60.0 * len(one.patterns)
    asked = Counter({index: kind.copies for index, kind in enumerate(problem.kinds)})
    for answer in (start, found):
        assert sum((count_kinds(p.root) for p in answer.patterns), Counter()) == asked
        used = Counter(pattern.bin for pattern in answer.patterns)
        assert used[2] <= 5
        assert used[3] == 2  # a third of the price of the others: all there are
    kerf = problem.rules.kerf
    for pattern in found.patterns:
        bin_ = problem.bins[pattern.bin]
        assert pattern.root.w <= bin_.w + kerf
        assert pattern.root.h <= bin_.h + kerf


def test_sheets_are_traded_for_cheaper_ones_that_hold_the_same():
    priced = (
        replace(STOCK[0], id="A", cost=60.0),
        replace(STOCK[0], id="C", length=1220, width=610, cost=14.0, copies=2),
    )
    small = CutPart(mark="1", length=500, width=280, quantity=4, material="ply")
    problem = by_material((small,), priced, SAW)[0].problem
    start = by_corners(replace(problem, bins=problem.bins[:1]))
    group = Group(patterns=start.patterns, spare={0: None, 1: 1}, trade=True, work=100_000, seed=1)
    (cheaper,) = laid_anew(problem, Watch(), group)
    assert cheaper.bin == 1
    assert count_kinds(cheaper.root) == {0: 4}
    assert laid_anew(problem, Watch(), replace(group, spare={0: None, 1: 0})) is None


def test_what_has_no_place_counts_more_the_larger_each_part_is():
    assert crowding(0.4) > 2 * crowding(0.2) > 4 * crowding(0.1)
    assert crowding(0.4) < 2 * crowding(0.25)  # but far less than its area does


def test_the_same_mark_in_two_jobs_is_two_parts():
    one = CutPart(mark="1", job="north", length=500, width=300, material="ply")
    parts = (one, replace(one, job="south", length=700))
    (layout,) = lay_out(parts, STOCK, SAW, effort="first").layouts
    assert {(p.job, p.along) for p in layout.pieces} <= {
        ("north", 500),
        ("south", 700),
        ("north", 300),
        ("south", 300),
    }
    assert {p.job for p in layout.pieces} == {"north", "south"}
