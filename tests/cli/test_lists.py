"""``stowright catalogue`` and ``stowright schema``."""

import json
import os
import subprocess
import sys

from jsonschema import Draft202012Validator


def test_the_tables_of_the_shelf_are_listed(stowright):
    run = stowright("catalogue")
    assert run.returncode == 0
    for table in ("materials", "runners", "screws", "saws"):
        assert table in run.stdout


def test_the_rows_of_a_table_come_with_standing_and_source(stowright):
    rows = json.loads(stowright("catalogue", "materials", "--json").stdout)["materials"]
    assert "birch-15" in {row["name"] for row in rows}
    assert all(row["origin"]["source"] and row["origin"]["standing"] for row in rows)


def test_an_unknown_table_is_refused(stowright):
    run = stowright("catalogue", "sawz")
    assert run.returncode == 2
    assert "saws" in run.stderr


def test_the_plans_schema_is_a_schema(stowright):
    Draft202012Validator.check_schema(json.loads(stowright("schema", "--of", "plan").stdout))


def test_a_reader_who_goes_away_ends_it_quietly():
    """As behind ``| head -1``; 128 and the signal's number is how shells count it (POSIX)."""
    reads, writes = os.pipe()
    os.close(reads)
    with os.fdopen(writes, "w") as gone:
        ran = subprocess.run(
            [sys.executable, "-m", "stowright", "schema"],
            stdout=gone,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert ran.returncode == 141
    assert ran.stderr == ""
