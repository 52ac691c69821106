"""What a page tells becomes an event, and what is typed becomes what the job file holds."""

import pytest

from stowright.web.fields import field_id, raw, said
from stowright.web.tab import event_of
from stowright.web.visitor import Event


@pytest.mark.parametrize(
    ("kind", "value", "written"),
    [("number", "12", 12), ("text", "12", "12"), ("text", "  ", None), ("number", "", None)],
)
def test_a_name_of_digits_stays_a_name(kind, value, written):
    assert said(Event(act="set", data={"kind": kind}, value=value)) == written


@pytest.mark.parametrize(
    "told", [None, [], "x", 3, {"act": ["x"], "data": [1], "values": 3, "seen": "many"}]
)
def test_whatever_is_told_becomes_an_event_of_texts(told):
    event = event_of(told)
    assert event.seen == 0
    assert event.data == {}
    assert event.values == {}


def test_a_tick_is_told_as_one_or_nothing():
    assert event_of({"act": "tick", "value": True}).value == "1"
    assert event_of({"act": "tick", "value": False}).value == ""


def test_values_stand_in_fields_as_a_person_would_type_them():
    assert [raw(value) for value in (None, 1402, 1402.5, True, "47 1/16 in", [1, 2])] == [
        "",
        "1402",
        "1402.5",
        "yes",
        "47 1/16 in",
        "1 2",
    ]


def test_a_path_makes_an_id_without_signs():
    assert field_id('block[1]."a b".x') == "f-block-1-a-b-x"
