"""Proposals for the page: a few arrangements with their numbers, in the unit of the job."""

import sys
from dataclasses import replace
from pathlib import Path

sys.path.append(str(Path(__file__).parents[1] / "explore"))
from small_bays import WAGON

from stowright.app.loading import load_catalogue, load_job
from stowright.app.proposals import propose


def test_heights_are_in_inches_where_the_job_is():
    job = replace(load_job(WAGON), units="in")
    told: list[str] = []
    found = propose(
        job,
        load_catalogue(),
        progress=told.append,
        should_stop=lambda: any("looked at, " in line for line in told),
    )
    assert found.rows
    assert all(dict(row.numbers)["Height"].endswith(" in") for row in found.rows)
    assert "of a first layout" in found.told
