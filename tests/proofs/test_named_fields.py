"""What is not proved names the field of the job file that would settle it."""

import re
import sys
from pathlib import Path

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parents[1] / "design"))
sys.path.insert(0, str(Path(__file__).parents[1] / "jobfile"))

from broad_jobs import broad_jobs
from strategies import job_texts
from use_jobs import CATALOGUE

from stowright.design.build import design
from stowright.errors import DesignError, JobError
from stowright.jobfile import read_job
from stowright.jobfile.shape_bay import BayShape
from stowright.jobfile.shape_blocks import BlockShape, DeckShape, FillShape
from stowright.jobfile.shape_build import BuildShape
from stowright.jobfile.shape_job import CarryShape, ContactShape, JobShape, VehicleShape
from stowright.proofs.fields import names_a_field
from stowright.proofs.prove import findings_in_strength, findings_in_use, ranked

MISTAKES = Path(__file__).parent / "mistakes"
TABLES = {
    "job": JobShape,
    "bay": BayShape,
    "vehicle": VehicleShape,
    "carry": CarryShape,
    "contact": ContactShape,
    "block": BlockShape,
    "deck": DeckShape,
    "fill": FillShape,
    "build": BuildShape,
}
NAMED = re.compile(rf"\b({'|'.join(TABLES)})\.([a-z_]+)")


def look(text):
    """Hold every finding of a job that is not proved against what it has to say."""
    made = design(read_job(text), CATALOGUE)
    use = findings_in_use(made, CATALOGUE, builds=0)
    for found in ranked((*use, *findings_in_strength(made, CATALOGUE))):
        if found.status == "not proved":
            assert names_a_field(found), (found.id, found.needs)
        for line in found.needs:
            for table, key in NAMED.findall(line):
                assert key in TABLES[table].model_fields, (found.id, line)


@pytest.mark.parametrize(
    "name",
    [
        "01-measured-as-a-rectangle",
        "06-cut-before-the-reading",
        "08-anchorage-undefined",
        "12-deck-sags",
        "17-wing-copied",
        "23-belt-used-as-a-tie",
    ],
)
def test_jobs_with_a_mistake_say_which_field_would_settle_what_is_not_proved(name):
    look((MISTAKES / f"{name}.toml").read_text(encoding="utf-8"))


@settings(max_examples=12, deadline=None)
@given(text=st.one_of(job_texts(), broad_jobs()))
def test_any_job_says_which_field_would_settle_what_is_not_proved(text):
    try:
        look(text)
    except (DesignError, JobError):
        reject()
