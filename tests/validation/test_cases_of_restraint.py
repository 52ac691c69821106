"""Load restraint against printed answers: EN 1993-1-3 and -1-8, AISI S100, ASCE 7-22, rule texts.

Each row names its source; half a per cent, because the sources print three or four figures.
"""

import pytest
from cases_of_restraint import TABLES

ROWS = [(page, row) for page, rows in TABLES.items() for row in rows]


@pytest.mark.parametrize(("page", "row"), ROWS, ids=[f"{p}: {r.what}" for p, r in ROWS])
def test_the_number_is_what_the_source_says(page, row):
    assert row.found == pytest.approx(row.said, abs=row.within, rel=0.0), page
