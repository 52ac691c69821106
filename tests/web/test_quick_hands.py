"""Who works faster than the page follows meets no conflict with the own changes."""

import asyncio
import re
import shutil
from pathlib import Path

import pytest

from stowright.app.bench import Benches
from stowright.web import shell
from stowright.web.house import House
from stowright.web.sharing import Sharing
from stowright.web.visitor import Event, Visitor

TRAY = Path(__file__).parents[2] / "examples" / "tray" / "job.toml"


@pytest.fixture
def house(tmp_path):
    shutil.copy(TRAY, tmp_path / "tray.toml")
    benches = Benches(tmp_path)
    yield House(benches=benches, workroom=None, settling=None, sharing=Sharing(now=lambda: 0.0))
    benches.close()


@pytest.fixture
def tab(house):
    return Visitor(house=house, job="tray", stage="carry")


def things(tab):
    return [row["what"] for row in tab.at("carry")]


@pytest.fixture
def do():
    """Do acts that all were told before the page showed the first one's outcome."""

    async def work(tab, events):
        await asyncio.gather(*(shell.act(tab, event) for event in events))

    with asyncio.Runner() as runner:
        yield lambda tab, *events: runner.run(work(tab, events))


def act(name, *, seen, value="", **data):
    return Event(act=name, data=data, value=value, seen=seen)


def test_things_added_one_after_another_are_all_there(tab, do):
    before = things(tab)
    do(tab, *(act("add-generic", seen=1, place=str(place)) for place in (0, 2, 4)))
    assert things(tab) == [*before, "stacking crate, 600 × 400", "tool bag", "drill case"]
    assert (tab.conflict, tab.notice) == (None, None)


def test_a_field_typed_again_before_the_page_followed_holds_what_was_typed_last(tab, do):
    typed = [act("set", seen=1, value=said, path="bay.length") for said in ("1790", "1795")]
    do(tab, *typed)
    assert tab.at("bay.length") == 1795
    assert tab.conflict is None
    do(tab, act("undo", seen=1), act("set", seen=1, value="1780", path="bay.length"))
    assert tab.at("bay.length") == 1780
    assert tab.conflict is None


def test_take_out_pressed_twice_takes_out_what_was_seen_and_not_the_next_as_well(tab, do):
    before = things(tab)
    do(tab, *[act("drop-thing", seen=1, path="carry[1]")] * 2)
    assert things(tab) == before[1:]
    assert "not done as well" in tab.notice.text
    assert tab.conflict is None


def test_what_was_moved_or_replaced_just_before_is_not_taken_for_what_was_seen(tab, do):
    before = things(tab)
    quick = [act("drop-thing", seen=1, path="carry[1]"), act("add-generic", seen=1, place="2")]
    do(tab, *quick, act("set", seen=1, value="9", path="carry[1].mass"))
    assert "not done as well" in tab.notice.text
    assert things(tab)[: len(before) - 1] == before[1:]
    assert tab.at("carry[1].mass") != 9


def test_a_column_moved_by_two_quick_presses_is_not_moved_back(tab, do):
    left = {"path": "block[1].columns[2]", "block": "1", "column": "2", "by": "-1"}
    do(tab, *[act("move-column", seen=1, **left)] * 2)
    assert [column["width"] for column in tab.at("block[1].columns")] == [480, "share"]
    assert "not done as well" in tab.notice.text


def test_what_is_pressed_twice_while_building_is_done_once(tab, do):
    do(tab, *[act("spoil", seen=1, mark="A1", on="1")] * 2)
    assert tab.at("spoiled") == [{"mark": "A1"}]
    for number, name in enumerate(("fittings", "pump"), start=2):
        of = {"opening": name, "what": "width"}
        do(tab, Event(act="reading", data=of, values={"values": "690"}, seen=number))
    do(tab, *[act("take-reading-back", seen=4, path="reading[1]")] * 2)
    assert [row["of"]["opening"] for row in tab.at("reading")] == ["pump"]


def test_what_another_tab_brought_back_is_worked_on_as_it_stands(house, tab, do):
    other = Visitor(house=house, job="tray", stage="carry")
    do(tab, act("add-generic", seen=1, place="2"))
    do(tab, act("undo", seen=2))
    do(other, act("redo", seen=1))
    do(tab, act("set", seen=2, value="9", path="carry[1].mass"))
    assert tab.at("carry[1].mass") == 9
    assert tab.conflict is None


def test_a_change_of_another_tab_between_own_ones_is_met_and_told_in_words(house, tab, do):
    other = Visitor(house=house, job="tray", stage="measure")
    do(tab, act("set", seen=1, value="1790", path="bay.length"))
    do(other, act("set", seen=2, value="1785", path="bay.length"))
    do(tab, act("set", seen=1, value="1795", path="bay.length"))
    assert tab.conflict.rows == (("bay.length", "1790", "1785", "1795"),)
    do(other, act("add-generic", seen=3, place="2"))
    do(tab, act("drop-thing", seen=2, path="carry[1]"))
    assert not re.search(r"[{}'\[\]]", " ".join(tab.conflict.rows[0][1:]))


def test_a_job_file_that_was_refused_and_mended_meets_what_was_changed_meanwhile(house, tab, do):
    other, text = Visitor(house=house, job="tray", stage="measure"), tab.bench.text
    do(tab, Event(act="save-text", data={}, values={"text": "odd"}, seen=1))
    assert "Not saved" in tab.notice.text
    do(other, act("set", seen=1, value="1790", path="bay.length"))
    mended = Event(act="save-text", data={}, values={"text": f"{text}\n"}, seen=2)
    do(tab, mended)
    assert tab.conflict is not None
    assert tab.at("bay.length") == 1790
    do(tab, mended)  # as the page says: look at what stands, and do it again
    assert tab.bench.text == f"{text}\n"


def test_a_tab_whose_job_was_put_aside_shows_the_list_and_says_so(house, tab):
    house.watch("tray", tab.number, print)
    house.benches.remove("tray")
    shell.leave_what_is_gone(tab)
    assert (tab.job, tab.stage) == ("", "jobs")
    assert "put aside" in tab.notice.text
    assert tab.number in house.watchers[""]
    assert "not in the folder" in str(shell.work(tab))
