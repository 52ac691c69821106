"""A job on the bench: saved at once, undone, met by others, mended."""

import re
import shutil
import threading
from dataclasses import replace
from pathlib import Path

import pytest

from stowright.app.bench import Benches, ConflictError
from stowright.app.study import study
from stowright.errors import JobError, UnknownNameError

PICKUP = Path(__file__).parents[2] / "examples" / "pickup" / "job.toml"


@pytest.fixture
def benches(tmp_path):
    shutil.copy(PICKUP, tmp_path / "pickup.toml")
    opened = Benches(tmp_path, clock=lambda: "2026-01-01 10:00:00")
    yield opened
    opened.close()


@pytest.fixture
def bench(benches):
    return benches.open("pickup")


def file(benches):
    return (benches.folder.root / "pickup.toml").read_text()


def test_a_change_is_in_the_file_at_once_and_comments_stay(benches, bench):
    bench.edit({"bay.length": 1505}, seen=bench.number)
    assert "length = 1505" in file(benches)
    assert "# it tapers a little towards the cab" in file(benches)
    assert bench.study.job.bay.length == 1505.0
    assert bench.records.head("pickup").what == "bay.length 1510 → 1505"


def test_nothing_of_a_change_with_a_mistake_is_saved(benches, bench):
    before = file(benches)
    with pytest.raises(JobError) as refused:
        bench.edit({"bay.length": -3}, seen=bench.number)
    assert [mistake.field for mistake in refused.value.mistakes] == ["bay.length"]
    assert file(benches) == before
    assert bench.number == 1


def test_undo_and_redo_walk_through_every_change(benches, bench):
    texts = [file(benches)]
    for length in (1505, 1500, 1495):
        bench.edit({"bay.length": length}, seen=bench.number)
        texts.append(file(benches))
    for text in reversed(texts[:-1]):
        assert bench.undo() is not None
        assert file(benches) == text
    assert bench.undo() is None
    for text in texts[1:]:
        assert bench.redo() is not None
        assert file(benches) == text
    assert bench.redo() is None


def test_a_page_drawn_while_a_change_is_studied_shows_number_and_text_that_belong_together(
    benches, bench, monkeypatch
):
    drawn = []

    def looking(*given, **words):
        drawn.append(bench.records.text("pickup", bench.number) == bench.text)
        return study(*given, **words)

    monkeypatch.setattr("stowright.app.bench.study", looking)
    bench.edit({"bay.length": 1505}, seen=1)
    bench.undo()
    bench.redo()
    path = benches.folder.root / "pickup.toml"
    path.write_text(file(benches).replace("length = 1505", "length = 1500"))
    bench.refresh()
    assert drawn == [True] * 4
    assert bench.records.text("pickup", bench.number) == bench.text == file(benches)


def test_two_changes_of_different_fields_both_stand(bench):
    seen = bench.number
    bench.edit({"bay.length": 1505}, seen=seen)
    bench.edit({"bay.width": 1400}, seen=seen)
    assert (bench.study.job.bay.length, bench.study.job.bay.width) == (1505.0, 1400.0)


def test_two_changes_of_one_field_are_told_and_can_be_decided(bench):
    seen = bench.number
    bench.edit({"bay.length": 1505}, seen=seen)
    with pytest.raises(ConflictError) as met:
        bench.edit({"bay.length": 1490}, seen=seen)
    (clash,) = met.value.clashes
    assert (clash.seen, clash.now, clash.wanted) == (1510, 1505, 1490)
    assert bench.study.job.bay.length == 1505.0
    bench.edit(met.value.edits, seen=bench.number)
    assert bench.study.job.bay.length == 1490.0


def test_the_same_change_twice_is_no_conflict(bench):
    seen = bench.number
    bench.edit({"bay.length": 1505}, seen=seen)
    bench.edit({"bay.length": 1505}, seen=seen)
    assert bench.number == 2


def test_a_place_in_a_list_that_moved_meanwhile_is_a_conflict(bench):
    seen = bench.number
    bench.edit({"carry[1]": None}, seen=seen)
    with pytest.raises(ConflictError):
        bench.edit({"carry[2].mass": 3}, seen=seen)


def test_what_another_program_writes_is_taken_over(benches, bench):
    (benches.folder.root / "pickup.toml").write_text(file(benches).replace("1510\n", "1507\n"))
    assert bench.refresh()
    assert bench.study.job.bay.length == 1507.0
    assert bench.records.head("pickup").who == "outside this program"
    assert bench.undo() is not None
    assert bench.study.job.bay.length == 1510.0


def test_a_killed_program_finds_everything_again(benches, bench):
    bench.edit({"bay.length": 1505}, seen=bench.number)
    again = Benches(benches.folder.root)  # nothing was closed
    found = again.open("pickup")
    assert found.number == 2
    assert found.undo().what == "bay.length 1510 → 1505"
    again.close()


def test_a_file_saved_before_its_version_was_noted_is_not_lost(benches, bench):
    """Killed between the file and the records: the file is the truth."""
    (benches.folder.root / "pickup.toml").write_text(file(benches).replace("1510\n", "1507\n"))
    again = Benches(benches.folder.root)
    assert again.open("pickup").study.job.bay.length == 1507.0
    assert bench.refresh()
    assert again.open("pickup").number == bench.number == 2
    again.close()


@pytest.mark.parametrize("text", ["format = 1\n[bay\n", "format = 9\n", '[job]\ntitel = "x"\n', ""])
def test_a_job_that_cannot_be_read_is_locked_with_the_last_good_version_at_hand(
    benches, bench, text
):
    (benches.folder.root / "pickup.toml").write_text(text or "\n")
    bench.refresh()
    assert bench.locked
    good = bench.last_good()
    assert good.number == 1
    bench.restore(good.number, who="")
    assert not bench.locked
    assert bench.study.job.bay.length == 1510.0


def test_a_job_with_mistakes_may_be_mended_one_by_one(benches, bench):
    text = (
        file(benches).replace("length = 1510\n", "length = -1\n").replace("rail = 492", "rail = -2")
    )
    (benches.folder.root / "pickup.toml").write_text(text)
    bench.refresh()
    assert len(bench.locked) == 2
    bench.edit({"bay.rail": 492}, seen=bench.number)
    assert len(bench.locked) == 1
    bench.edit({"bay.length": 1510}, seen=bench.number)
    assert not bench.locked


def test_the_picture_of_the_last_design_stays_when_nothing_goes(bench):
    key = bench.scene().key
    bench.edit({"block[1].columns[1].width": 1050}, seen=bench.number)
    assert bench.study.design is None
    assert bench.study.refusal.reason
    assert bench.scene().key == key


def test_copies_new_jobs_and_removed_ones(benches):
    name = benches.copy("pickup")
    assert name == "pickup copy"
    assert benches.open(name).text == benches.open("pickup").text
    benches.remove(name)
    with pytest.raises(UnknownNameError):
        benches.open(name)
    with pytest.raises(JobError):
        benches.new("bad", "format = 1\n")


def test_history_is_readable(bench):
    bench.edit({"bay.length": 1505}, seen=bench.number)
    bench.edit({"bay.cove": None}, seen=bench.number, what="no cove")
    told = [version.what for version in bench.records.versions("pickup")]
    assert told == ["no cove", "bay.length 1510 → 1505", "opened"]
    assert all(
        re.fullmatch(r"2026-01-01 10:00:00", v.made) for v in bench.records.versions("pickup")
    )


def test_a_change_read_ahead_is_saved_as_the_same_text(benches, bench):
    edits = ({"bay.length": 1505}, {"carry[1].mass": 7}, {"bay.cove": None}, {"bay.length": 1505})
    copy = benches.open(benches.copy("pickup"))
    for each in edits:
        bench.read_ahead()
        bench.edit(each, seen=bench.number)
        copy.edit(each, seen=copy.number)
        assert bench.text == copy.text
    bench.read_ahead()
    with pytest.raises(JobError):
        bench.edit({"bay.length": -3}, seen=bench.number)
    bench.edit({"bay.rail": 490}, seen=bench.number)  # what was refused is not in the next one
    copy.edit({"bay.rail": 490}, seen=copy.number)
    assert bench.text == copy.text


class Watched:
    """A lock that tells when another thread wants it."""

    def __init__(self):
        self.lock, self.owner = threading.RLock(), threading.get_ident()
        self.wanted = threading.Event()

    def __enter__(self):
        if threading.get_ident() != self.owner:
            self.wanted.set()
        return self.lock.__enter__()

    def __exit__(self, *told):
        return self.lock.__exit__(*told)


def test_nothing_changes_under_a_page_that_is_being_drawn(bench, monkeypatch):
    monkeypatch.setattr(bench, "_standing", Watched())
    change = threading.Thread(target=bench.edit, args=({"bay.length": 1505},), kwargs={"seen": 1})
    with bench.held():
        change.start()
        assert bench._standing.wanted.wait(60.0)  # the change is worked out and wants to be shown
        assert (bench.number, bench.study.job.bay.length) == (1, 1510.0)
    change.join()
    assert (bench.number, bench.study.job.bay.length) == (2, 1505.0)


def test_where_things_lay_before_a_change_is_told_of_the_version_before_it(bench):
    for number, length in enumerate((1505, 1500), start=1):
        assert bench.settle(replace(bench.study, settled=True))
        bench.edit({"bay.length": length}, seen=number)
    bench.undo()
    bench.undo()
    bench.edit({"bay.width": 1400}, seen=1)
    assert not bench.study.settled
    assert "length = 1510" in bench.last_settled.text


def test_what_another_program_wrote_is_kept_when_an_earlier_version_is_to_stand_again(
    benches, bench
):
    path = benches.folder.root / "pickup.toml"
    path.write_text(path.read_text().replace("rail = 492", "rail = 490"))
    bench.restore(1, who="")
    assert "rail = 492" in file(benches)
    assert "rail = 490" in benches.records.text("pickup", 2)
    assert bench.number == 3


def test_a_change_tells_what_it_was_made_from_and_what_stands_then(bench):
    assert bench.edit({"bay.length": 1505}, seen=1) == (1, 2)
    assert bench.edit({"bay.length": 1505}, seen=2) == (2, 2)


def test_what_another_program_writes_while_a_change_is_worked_out_is_not_overwritten(
    benches, bench, monkeypatch
):
    path = benches.folder.root / "pickup.toml"
    before = [path.read_text().replace("rail = 492", "rail = 490")]

    def slowly(*given, **words):
        if before:
            path.write_text(before.pop())
        return study(*given, **words)

    monkeypatch.setattr("stowright.app.bench.study", slowly)
    bench.edit({"bay.length": 1505}, seen=1)
    text = file(benches)
    assert "rail = 490" in text
    assert "length = 1505" in text
    assert [each.what for each in benches.records.versions("pickup")] == [
        "bay.length 1510 → 1505",
        "changed",
        "opened",
    ]
