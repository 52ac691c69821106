"""``stowright shop``: from an empty folder to a signed change, as a shop would go."""

import json

import pytest
from click.testing import CliRunner

from stowright.cli.main import cli

TEXT = """format = 1
[job]
title = "An invented job"
[bay]
kind = "van"
length = 1400
width = 700
clear_height = 900
[[block]]
name = "unit"
z = [0, 400]
columns = [ {stack = [ {fill = "drawer", name = "kit"} ]} ]
"""
FIGURES = """name = "An invented shop"
hour_rate = 60
tax = 0.1
offcut_credit = 0.5
"""


@pytest.fixture
def stowright():
    """Run the command in this process: a shop goes through many, and each would load it all."""

    def run(*arguments):
        return CliRunner().invoke(cli, [str(word) for word in arguments], catch_exceptions=False)

    return run


def test_a_quote_and_the_price_of_a_change(stowright, tmp_path):
    job, page = tmp_path / "job.toml", tmp_path / "quote.pdf"
    job.write_text(TEXT)
    refused = stowright("shop", "quote", job)
    assert refused.exit_code == 2
    assert "shop.toml" in refused.stderr
    (tmp_path / "shop.toml").write_text(FIGURES)
    sent = stowright("shop", "quote", job, "--keep", "--to", page, "--json")
    assert sent.exit_code == 0, sent.stderr
    data = json.loads(sent.stdout)
    assert data["number"] == 1
    assert page.read_bytes().startswith(b"%PDF")
    hours = sum(row["hours"] for row in data["hours"])
    (work,) = [row["amount"] for row in data["sums"] if row["what"] == "work"]
    assert abs(work - 60.0 * hours) < 0.01
    assert data["without_price"]  # no price of ours was made up
    same = json.loads(stowright("shop", "quote", job, "--since", "1", "--json").stdout)
    assert (same["price"], same["parts"]) == (0.0, [])
    job.write_text(TEXT.replace("z = [0, 400]", "z = [0, 380]"))
    changed = json.loads(stowright("shop", "quote", job, "--since", "1", "--json").stdout)
    assert changed["parts"]
    again = stowright("shop", "quote", job, "--to", page)
    assert again.exit_code == 2  # a file that stands there is not overwritten unasked


def test_the_rack_is_cut_from_and_gets_the_offcuts_back(stowright, tmp_path):
    job = tmp_path / "job.toml"
    job.write_text(TEXT)
    there = ("--folder", tmp_path)
    for material in ("ply-12", "ply-15"):
        put = stowright("shop", "put", material, "2440x1220:price=50:count=3", *there)
        assert put.exit_code == 0, put.stderr
    tried = json.loads(stowright("shop", "draw", job, "--json").stdout)
    rack = json.loads(stowright("shop", "rack", *there, "--json").stdout)
    assert [row["copies"] for row in rack] == [3, 3]  # only looked at
    done = json.loads(stowright("shop", "draw", job, "--done", "--json").stdout)
    assert done["taken"] == tried["taken"]
    rack = json.loads(stowright("shop", "rack", *there, "--json").stdout)
    left = {row["id"]: row["copies"] for row in rack}
    assert all(left.get(id_, 0) == 3 - count for id_, count in done["taken"].items())
    assert {row["id"] for row in done["back"]} == {i for i in left if i.startswith("R")}
    wrong = stowright("shop", "take", "R99", *there)
    assert wrong.exit_code == 2
    assert "R99" in wrong.stderr


def test_tracked_hours_count_in_the_next_jobs_quote_only(stowright, tmp_path):
    one, two = tmp_path / "one.toml", tmp_path / "two.toml"
    for job in (one, two):
        job.write_text(TEXT)
    (tmp_path / "shop.toml").write_text(FIGURES)
    kept = stowright("shop", "hours", one, "carcasses", "9", "--json")
    assert kept.exit_code == 0, kept.stderr
    hours = {}
    for job in (one, two):
        data = json.loads(stowright("shop", "quote", job, "--json").stdout)
        hours[job.stem] = {row["what"]: row for row in data["hours"]}["carcasses"]
    assert hours["two"]["hours"] == 9.0
    assert "own hours of 1 job" in hours["two"]["basis"]
    assert hours["one"]["hours"] < 9.0
    wrong = stowright("shop", "hours", one, "carcase", "3")
    assert wrong.exit_code == 2
    assert "carcasses" in wrong.stderr


def test_own_prices_are_those_of_the_web_app(stowright, tmp_path):
    there = ("--folder", tmp_path)
    kept = stowright("shop", "price", "clear", "31.5", *there, "--json")
    assert json.loads(kept.stdout) == {"clear": 31.5}
    assert stowright("shop", "price", "clear", *there).exit_code == 2
    assert stowright("shop", "price", "clear", "nan", *there).exit_code == 2
    odd = stowright("shop", "price", "birch-15, 1525 x 1552", "62", *there)
    assert odd.exit_code == 2
    assert "'birch-15, 1525 × 1525'" in odd.stderr
    assert stowright("shop", "price", "nonsense", "3", *there).exit_code == 2
    own = stowright("shop", "price", "nonsense", "3", "--own", *there, "--json")
    assert json.loads(own.stdout) == {"clear": 31.5, "nonsense": 3.0}
    sheet = stowright("shop", "price", "birch-15, 1525 x 1525", "62", *there, "--json")
    assert "birch-15, 1525 × 1525" in json.loads(sheet.stdout)
    assert stowright("shop", "price", "strap 25 x 5", "8", "--own", *there).exit_code == 0
    for name in ("nonsense", "birch-15, 1525 × 1525", "strap 25 x 5"):
        assert stowright("shop", "price", name, "--forget", *there).exit_code == 0
    assert stowright("shop", "price", "nonsense", "--forget", *there).exit_code == 2
    gone = stowright("shop", "price", "clear", "--forget", *there, "--json")
    assert json.loads(gone.stdout) == {}
