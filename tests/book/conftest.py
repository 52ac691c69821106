from pathlib import Path

import pytest

from stowright import load_job, plan

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="session")
def pickup():
    return plan(load_job(EXAMPLES / "pickup" / "job.toml"))
