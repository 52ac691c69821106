"""Every row of the tables of fit and of loads holds: to rounding, or to the last digit printed."""

import pytest
from cases_of_fit import TABLES

ROWS = [(page, row) for page, rows in TABLES.items() for row in rows]


@pytest.mark.parametrize(("page", "row"), ROWS, ids=[f"{p}: {r.what}" for p, r in ROWS])
def test_the_number_is_what_the_source_says(page, row):
    assert row.found == pytest.approx(row.said, abs=row.within, rel=0.0), page
