"""Looking for the best arrangements: the true set, whoever works on it, and stopped at any time."""

import pytest
from small_bays import TUB, VAN, WAGON, judge_of, small_judge

from stowright.app.exploring import explore_job, first_cut
from stowright.app.loading import load_catalogue, load_job
from stowright.book.comparison import told
from stowright.explore.arrangement import everything
from stowright.explore.budget import Budget
from stowright.explore.design_search import search
from stowright.explore.exploring import explore
from stowright.explore.judging import judge_many
from stowright.explore.measures import criteria_known, stepped
from stowright.explore.pareto import beats
from stowright.explore.settle import settled
from stowright.explore.workers import crew
from stowright.jobfile import dump_job

SHELF = load_catalogue()
FEW = Budget(quick=90, whole=14, first_quick=40, first_whole=6, round_quick=40, round_whole=6)


def true_front(rows):
    """What no other beats, by comparing each with each."""
    serving = [row for row in rows if row.serves]
    criteria = criteria_known([row.measures for row in serving])
    values = [stepped(row.measures, criteria) for row in serving]
    return {v for v in values if not any(beats(other, v) for other in values)}


def values_of(rows):
    criteria = criteria_known([row.measures for row in rows])
    return {stepped(row.measures, criteria) for row in rows}


@pytest.fixture(scope="module")
def judge():
    return small_judge()


@pytest.fixture(scope="module")
def all_quick(judge):
    return judge_many(judge, [("quick", choice) for choice in everything(judge.space)])


def test_the_set_found_by_less_than_half_of_the_work_is_the_true_one(judge, all_quick):
    """An exhaustive search by bodies confirms what breeding and single changes found."""
    most = int(0.48 * len(all_quick))
    budget = Budget(quick=most, whole=0, first_quick=30, round_quick=20)
    with crew(judge, workers=1) as hands:
        found, stopped = search(judge, hands, seed=2, budget=budget)
    assert not stopped
    assert len(found.quick) <= most
    assert values_of(found.best()) == true_front(all_quick)


@pytest.mark.parametrize(
    ("text", "heights", "depths"),
    [
        (TUB, (435.0, 385.0, 335.0), (0.0, 700.0, 600.0)),
        (VAN, (600.0, 500.0, 400.0), (0.0, 900.0, 600.0)),
    ],
)
def test_the_set_found_in_two_more_bays_is_the_true_one(text, heights, depths):
    """Two hundred arrangements each, half of the work: again confirmed by looking at all."""
    judge = judge_of(
        text,
        layout=("tail",),
        columns=(1, 2),
        widths=("even",),
        rows=("one", "two"),
        heights=("even",),
        fills=("drawers",),
        depth=depths,
        height=heights,
        deck=("none", "fixed"),
        back=("block",),
        modules=("separate",),
        wings=("none",),
        carcass=("birch-15", "birch-12"),
        drawer=("birch-12",),
        drawer_bottom=("birch-9",),
        front_sheet=("birch-15",),
        deck_sheet=("birch-18", "birch-15"),
        **({} if text is TUB else {"arches": ("between",)}),
    )
    rows = judge_many(judge, [("quick", choice) for choice in everything(judge.space)])
    truth = true_front(rows)
    budget = Budget(quick=int(0.48 * len(rows)), whole=0, first_quick=30, round_quick=20)
    with crew(judge, workers=1) as hands:
        found, _ = search(judge, hands, seed=0, budget=budget)
    assert len(found.quick) < 0.5 * len(rows)
    assert len(truth) > 5
    assert values_of(found.best()) == truth


def test_the_proved_set_is_the_true_one():
    """On a space small enough to prove all of it, each with each compared by hand."""
    judge = judge_of(
        WAGON,
        columns=(1, 2),
        widths=("even",),
        heights=("even",),
        rows=("one", "two"),
        fills=("drawers",),
        depth=(0.0,),
        height=(468.0, 418.0),
        deck=("fixed",),
        back=("block",),
        modules=("separate",),
        carcass=("birch-15",),
        drawer=("birch-12",),
        drawer_bottom=("birch-9", "birch-12"),
        front_sheet=("birch-15",),
        deck_sheet=("birch-18",),
    )
    rows = judge_many(judge, [("whole", choice) for choice in everything(judge.space)])
    found = explore(load_job(WAGON), SHELF, first_cut, space=judge.space, workers=1)
    assert any(row.serves for row in rows)
    assert values_of(found.front) == true_front(rows)
    assert {c.judged for c in found.kept} <= set(found.front)


@pytest.fixture(scope="module")
def few():
    return explore_job(load_job(WAGON), catalogue=SHELF, seed=5, budget=FEW, workers=1)


def test_the_number_of_processes_makes_no_difference(few):
    assert explore_job(load_job(WAGON), catalogue=SHELF, seed=5, budget=FEW, workers=2) == few


def test_every_kept_design_is_a_job_like_any_other(few):
    assert few.kept
    names = [candidate.name for candidate in few.kept]
    assert len(set(names)) == len(names)
    for candidate in few.kept:
        again = load_job(dump_job(candidate.job), catalogue=SHELF)
        assert again.blocks == candidate.job.blocks
        assert candidate.name in again.title


def test_no_kept_design_beats_another(few):
    values = sorted(values_of([c.judged for c in few.kept]))
    assert not any(beats(one, two) for one in values for two in values)


def test_a_stopped_search_has_the_best_so_far():
    asked = []

    def stop():
        asked.append(1)
        return len(asked) > 6

    found = explore_job(load_job(WAGON), catalogue=SHELF, budget=FEW, workers=1, should_stop=stop)
    assert found.stopped
    assert 0 < found.quick < FEW.quick
    assert found.kept


def test_progress_tells_how_far_it_is(few):
    told = []
    found = explore_job(
        load_job(WAGON), catalogue=SHELF, seed=5, budget=FEW, workers=1, progress=told.append
    )
    shares = [each.share for each in told]
    assert shares == sorted(shares)
    assert told[-1].quick == found.quick == few.quick
    assert told[0].best


def test_the_job_as_it_stands_is_told_with_the_sheets_that_its_plan_takes():
    """Also where it does not serve: sheets by area alone would look like fewer than they are."""
    block = """
[[block]]
place = {z = [0, 468]}
columns = [{width = "share", stack = [{fill = "drawer"}, {fill = "drawer"}]}]
"""
    job = load_job(WAGON + block)
    found = explore_job(
        job, catalogue=SHELF, seed=5, budget=Budget(quick=4, whole=0, first_quick=4), workers=1
    )
    cut = first_cut(settled(job, SHELF), SHELF)
    assert found.asked is not None
    measures = found.asked.judged.measures
    assert not found.asked.judged.serves
    assert (measures.sheets, measures.cuts) == (cut.sheets, cut.saw_lines)
    lines = [row for row in told(found) if row.startswith("The job as it stands does not serve")]
    first = next(each for each in found.asked.judged.wrong if not each.no_place)
    assert ":no opening" not in lines[0]
    assert first.looked_at not in {"", first.what}
    assert f"{first.looked_at} ({first.what})" in lines[0]


def test_what_failed_most_often_is_told_in_words_with_its_code(few):
    most = few.refused[0]
    assert most.count == max(each.count for each in few.refused) <= few.whole
    assert ":" not in most.code
    assert f"{most.code} in {most.count} (as: {most.looked_at})" in " ".join(told(few))
