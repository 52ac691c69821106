"""Every row of the tables of plates, beams, joints, runners and latches holds.

Each row names its source and what it may be apart: half a per cent where the source was worked to
three or four figures, 1 % of a deflection and 3 % of a moment against finite elements.
"""

import pytest
from cases_of_structure import TABLES

ROWS = [(page, row) for page, rows in TABLES.items() for row in rows]


@pytest.mark.parametrize(("page", "row"), ROWS, ids=[f"{p}: {r.what}" for p, r in ROWS])
def test_the_number_is_what_the_source_says(page, row):
    assert row.found == pytest.approx(row.said, abs=row.within, rel=0.0), page
