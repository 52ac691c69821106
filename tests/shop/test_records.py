"""Versions, ticks and prices survive whoever opens the folder next."""

import pytest

from stowright.shop.records import KEPT, Records


@pytest.fixture
def records(tmp_path):
    opened = Records(tmp_path / "shop.db")
    yield opened
    opened.close()


def add(records, text, what="changed"):
    return records.add("a", text, what=what, who="", made="2026-01-01 10:00:00")


def test_versions_stand_one_on_another(records):
    assert [add(records, text) for text in ("one", "two")] == [1, 2]
    assert records.head("a").number == 2
    assert records.before("a").number == 1
    assert records.after("a") is None
    assert [version.number for version in records.versions("a")] == [2, 1]


def test_an_undone_version_can_be_done_again(records):
    add(records, "one")
    add(records, "two")
    records.stand("a", 1)
    assert records.before("a") is None
    assert records.after("a").number == 2
    assert records.text("a", 2) == "two"


def test_a_change_after_an_undo_leaves_nothing_to_do_again_but_loses_nothing(records):
    add(records, "one")
    add(records, "two")
    records.stand("a", 1)
    assert add(records, "three") == 3
    assert records.head("a").parent == 1
    assert records.after("a") is None
    assert records.text("a", 2) == "two"


def test_old_versions_go_first(records):
    for number in range(KEPT + 3):
        add(records, str(number))
    assert records.text("a", 3) is None
    assert records.text("a", KEPT + 3) == str(KEPT + 2)
    assert len(records.versions("a")) == KEPT


def test_another_opener_sees_it_all(records, tmp_path):
    add(records, "one", what="opened")
    records.tick("a", "cut:1", on=True)
    records.keep_note("a", "step", "4")
    records.keep_price("screw", 3.5)
    again = Records(tmp_path / "shop.db")
    assert again.head("a").what == "opened"
    assert again.ticks("a") == {"cut:1"}
    assert again.note("a", "step") == "4"
    assert again.prices() == {"screw": 3.5}
    again.close()


def test_ticks_and_prices_can_be_taken_back(records):
    records.tick("a", "cut:1", on=True)
    records.tick("a", "cut:1", on=False)
    records.keep_price("screw", 3.5)
    records.keep_price("screw", None)
    assert records.ticks("a") == frozenset()
    assert records.prices() == {}


def test_a_name_is_never_read_as_a_command(records):
    name = "x'; drop table version; --"
    records.add(name, "one", what=name, who=name, made="")
    assert records.head(name).what == name
    records.forget(name)
    assert records.head(name) is None
