"""The rack: what is put on it is there, what a job uses is gone, and ids are never given twice."""

import pytest
from quotes import quote

from stowright.app.plain import plain
from stowright.errors import UnknownNameError
from stowright.shop.ledger import Ledger, quote_from
from stowright.shop.records import Records
from stowright.shop.stockroom import Draw, Rack, Stockroom


@pytest.fixture
def records(tmp_path):
    made = Records(tmp_path / "shop.db")
    yield made
    made.close()


def sheet(**other):
    return Rack(id="", material="ply-15", length=2440.0, width=1220.0, **other)


def test_like_sheets_are_counted_together_and_offcuts_never(records):
    rack = Stockroom(records)
    first = rack.put((sheet(copies=2, price=58.0), sheet(price=58.0), sheet(price=61.0)))
    assert [(row.id, row.copies) for row in first] == [("S1", 2), ("S1", 3), ("S2", 1)]
    offcuts = rack.put((sheet(offcut=True), sheet(offcut=True)))
    assert [row.id for row in offcuts] == ["R1", "R2"]
    assert sum(row.copies for row in rack.rows()) == 6


def test_an_id_is_never_given_twice(records):
    rack = Stockroom(records)
    rack.put((sheet(offcut=True),))
    rack.take("R1")
    assert rack.rows() == ()
    assert rack.put((sheet(offcut=True),))[0].id == "R2"


@pytest.mark.parametrize(("name", "copies"), [("S9", 1), ("S1", 3), ("S1", 0), ("S1", -1)])
def test_what_is_not_there_cannot_be_taken(records, name, copies):
    rack = Stockroom(records)
    rack.put((sheet(copies=2),))
    with pytest.raises(UnknownNameError):
        rack.take(name, copies)
    assert rack.rows()[0].copies == 2


def test_a_draw_is_made_whole_or_not_at_all(records):
    rack = Stockroom(records)
    rack.put((sheet(copies=2), sheet(price=1.0)))
    back = (sheet(offcut=True),)
    with pytest.raises(UnknownNameError):
        rack.draw(Draw(taken=(("S1", 1), ("S2", 2)), back=back))
    assert [(row.id, row.copies) for row in rack.rows()] == [("S1", 2), ("S2", 1)]
    kept = rack.draw(Draw(taken=(("S1", 2), ("S2", 1)), back=back))
    assert [row.id for row in kept] == ["R1"]
    assert rack.rows() == kept


def test_the_rack_outlives_the_program(tmp_path):
    first = Records(tmp_path / "shop.db")
    Stockroom(first).put((sheet(),))
    first.close()
    again = Records(tmp_path / "shop.db")
    assert [row.id for row in Stockroom(again).rows()] == ["S1"]
    again.close()


def test_hours_told_again_replace_the_older_figure(records):
    ledger = Ledger(records)
    ledger.keep_hours("tub", "carcasses", estimated=2.5, took=3.0)
    ledger.keep_hours("tub", "carcasses", estimated=2.5, took=4.0)
    assert [(row.task, row.took) for row in ledger.worked()] == [("carcasses", 4.0)]


def test_a_kept_quote_comes_back_as_it_was(records):
    ledger, sent = Ledger(records), quote()
    assert ledger.keep_quote("tub", plain(sent), made="2026-01-02") == 1
    assert ledger.keep_quote("tub", plain(sent), made="2026-01-03") == 2
    kept = ledger.quote("tub", 1)
    assert (kept.made, kept.quote) == ("2026-01-02", sent)
    assert quote_from(plain(sent)) == sent
    with pytest.raises(UnknownNameError):
        ledger.quote("tub", 3)
