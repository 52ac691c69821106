"""The 25 mistakes made by other routes, on other vehicles: caught, and gone once the advice is met.

Each edits a shipped example; ``test_costly_mistakes`` has the job that makes just one mistake.
"""

import re
from functools import cache

import pytest
from other_mistakes import OTHERS, changed, example

from stowright.app.loading import load_job
from stowright.app.planning import cut_design, design_job, plan
from stowright.catalogue import load_catalogue
from stowright.design.build import design
from stowright.errors import JobError
from stowright.proofs.prove import findings_in_strength, findings_in_use

CATALOGUE = load_catalogue()
NAMES = [each.name for each in OTHERS]


#: Proofs of strength and of staying put; all others are about use, and each half is asked alone.
STRENGTH = ("RUNNER:", "LATCH:", "BOTTOM-", "DECK-", "RESTRAINT", "DRILL")


@cache
def designed(text):
    return design(load_job(text, catalogue=CATALOGUE), CATALOGUE)


def proof(text, code):
    """Return a finding of a job by its id, or None."""
    made = designed(text)
    if code.startswith(STRENGTH):
        rows = findings_in_strength(made, CATALOGUE)
    else:
        rows = findings_in_use(made, CATALOGUE, builds=0)
    return next((found for found in rows if found.id == code), None)


@pytest.mark.parametrize("other", OTHERS, ids=NAMES)
def test_the_plan_catches_it_with_advice_and_the_advice_mends_it(other):
    found = proof(other.text, other.caught_by)
    assert found.status == other.status
    assert re.search(re.escape(other.says), " ".join((*found.advice, *found.needs)))
    after = proof(other.mended, other.caught_by)
    assert after is None or after.status == "pass"


@pytest.mark.parametrize("job", ["van", "pickup-inches"])
def test_kerf_and_trim_are_in_the_layouts_of_other_saws(job):
    # mistake 14: parts of one strip, a saw cut between each two and the trim, stay on the sheet
    text = changed(example(job), (("[build]\n", '[build]\nsaw = "table"\n'),))
    made = design(load_job(text, catalogue=CATALOGUE), CATALOGUE)
    cutting = cut_design(made)
    saw = CATALOGUE.saw("table")
    for layout in cutting.layouts:
        assert (layout.kerf, layout.trim) == (saw.kerf, saw.trim)
        assert layout.fits_by >= 0.0
        for one in layout.pieces:
            assert min(one.x, one.y) >= saw.trim - 1e-6 or saw.trim == 0.0
            for other in layout.pieces:
                if one is not other:
                    assert apart(one, other) >= saw.kerf - 1e-6


def apart(one, other):
    """Return the gap between two pieces, along or across, whichever parts them."""
    along = max(one.x - other.x - other.along, other.x - one.x - one.along)
    across = max(one.y - other.y - other.across, other.y - one.y - one.across)
    return max(along, across)


@pytest.fixture(scope="module", params=["tray", "wagon"])
def whole(request):
    return plan(load_job(example(request.param), catalogue=CATALOGUE))


def test_hours_are_counted_by_task_and_add_up(whole):
    # mistake 21
    tasks = whole.making.tasks
    assert len(tasks) >= 5
    assert all(task.hours_amateur > task.hours_shop > 0.0 and task.basis for task in tasks)


def test_no_size_is_missing(whole):
    # mistake 25
    found = {finding.id.split(":")[0]: finding.status for finding in whole.findings}
    for code in ("BOOK-SIZES", "BOOK-DATUMS", "BOOK-PARTS", "BOOK-FIXINGS"):
        assert found[code] == "pass"


@pytest.mark.parametrize(
    ("job", "edits", "more", "says"),
    [
        # mistake 24: inches read as millimetres, the other way round, and a sheet in the wrong unit
        ("pickup-inches", (('units = "in"', 'units = "mm"'),), "", 'write "78.875 in"'),
        ("tray", (), "\n[build.measured_thickness]\nhardwood-15 = [0.59]\n", 'write "0.59 in"'),
        ("tray", (), '\n[[sheet]]\nmaterial = "hardwood-15"\nsize = [96, 48]\n', 'write "96 in"'),
        ("wagon", (("end_clear = 15", "end_clear = 15\nfront_gap = 0.125"),), "", '"0.125 in"'),
    ],
)
def test_a_unit_that_was_not_meant_is_asked_about(job, edits, more, says):
    read = load_job(changed(example(job), edits) + more, catalogue=CATALOGUE)
    assert any(says in line for line in read.warnings)


@pytest.mark.parametrize(
    ("job", "edits", "more", "says"),
    [
        ("van", (('road = "sealed"', 'units = "in"'),), "", "bay.length"),
        ("pickup-inches", (), '\n[[sheet]]\nmaterial = "birch-24"\nsize = [2440, 1220]\n', "sheet"),
        ("pickup-inches", (('"birch-24"', '"birch-3/4"'),), "", "did you mean birch-24"),
    ],
)
def test_a_unit_that_cannot_be_is_refused_at_its_line(job, edits, more, says):
    with pytest.raises(JobError, match=r"line \d+") as caught:
        load_job(changed(example(job), edits) + more, catalogue=CATALOGUE)
    assert says in str(caught.value)


def test_parts_that_no_longer_fit_a_reading_are_told():
    # mistake 2: inner front and back cut by the plan, then the runners stand 3 mm closer
    read = (
        '\n[[reading]]\nof = {opening = "fittings", what = "between-runners"}\nvalues = [678.0]\n'
    )
    cut = '\n[[done]]\nstage = "cut"\nparts = [{mark = "B10", size = [669.0, 460.5, 12.0]}]\n'
    made = design_job(load_job(example("tray") + read + cut, catalogue=CATALOGUE))
    found = {row.id: row for row in findings_in_use(made, CATALOGUE, builds=0)}
    assert found["CUT-SIZE:parts"].status == "fail"
    assert "stowright refit" in found["CUT-SIZE:parts"].advice[0]
    made = design_job(load_job(example("tray") + read, catalogue=CATALOGUE))
    found = {row.id: row for row in findings_in_use(made, CATALOGUE, builds=0)}
    assert "CUT-SIZE:parts" not in found
    assert found["WIDTH:fittings"].status == "pass"


def test_every_one_of_the_25_is_tried_again():
    told = {other.mistake for other in OTHERS} | {14, 21, 24, 25}
    assert told == set(range(1, 26))
    twice = [n for n in told - {2, 14, 21, 24, 25} if sum(o.mistake == n for o in OTHERS) < 2]
    assert twice == []
