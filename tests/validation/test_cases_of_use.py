"""Every row of the validation tables of fit, vehicle, people and keeping holds, and is printed.

Each row names its source and the difference it allows: rounding of the last printed place where a
source is rounded, none where a table is restated, sampling error against the Monte Carlo.
"""

import pytest
from cases_of_use import TABLES
from theory_pages import PAGES, filled, known_tables

ROWS = [(page, row) for page, rows in TABLES.items() for row in rows]


@pytest.mark.parametrize(("page", "row"), ROWS, ids=[f"{p}: {r.what}" for p, r in ROWS])
def test_the_number_is_what_the_source_says(page, row):
    assert row.found == pytest.approx(row.said, abs=row.within, rel=0.0), page


@pytest.mark.parametrize("page", sorted(known_tables()))
def test_the_page_prints_the_rows_that_the_tests_hold(page):
    text = (PAGES / f"{page}.md").read_text(encoding="utf-8")
    assert text == filled(page, known_tables()[page]), "run scripts/theory_tables.py"
