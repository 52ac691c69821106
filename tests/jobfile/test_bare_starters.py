"""A job of a bay that nobody has measured yet: nothing invented hides in it."""

import pytest

from stowright.errors import JobError, UnknownNameError
from stowright.jobfile import STARTER_KINDS, bare_starter, read_job, save_edits, starter


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("kind", STARTER_KINDS)
def test_only_length_width_and_height_are_said_of_the_bay(kind, units):
    text = bare_starter(kind, units=units, title='Six "readings" $here')
    job = read_job(text)
    bay = job.bay
    assert (job.title, bay.kind, job.units) == ('Six "readings" $here', kind, units)
    assert job.warnings == ()
    assert len(bay.widths) == len(bay.lengths) == 1
    assert not any((bay.between, bay.arches, bay.anchors, bay.no_drill, bay.openings, job.carry))
    assert bay.floor is None
    assert [block.name for block in job.blocks] == ["drawers"]


def test_what_is_typed_over_is_all_that_the_bay_then_says():
    text = bare_starter("tub", title="t")
    typed = {"bay.length": 1622, "bay.width": 1471, "bay.rail": 513, "bay.clear_height": 880}
    bay = read_job(save_edits(text, typed)).bay
    assert (bay.length, bay.width, bay.rail, bay.clear_height) == (1622, 1471, 513, 880)
    assert [station.left + station.right for station in bay.widths] == [1471]


@pytest.mark.parametrize("length", ["-5", 0, "nan"])
def test_an_answer_that_is_no_length_is_told_by_its_own_name(length):
    with pytest.raises(JobError, match=r"^length: found"):
        starter("tub", answers={"length": length})


def test_an_unknown_kind_is_told():
    with pytest.raises(UnknownNameError):
        bare_starter("barge")
