"""The proofs of use on generated jobs: each says what it is, lacks or wants; none falls over."""

import math
import sys
from pathlib import Path

from hypothesis import HealthCheck, given, settings

sys.path.append(str(Path(__file__).parents[1] / "jobfile"))

from strategies import jobs

from stowright.catalogue import load_catalogue
from stowright.design.build import design
from stowright.errors import DesignError
from stowright.proofs.use import use_findings

CATALOGUE = load_catalogue()


@settings(
    max_examples=12,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
@given(jobs())
def test_every_finding_can_be_read(job):
    try:
        unit = design(job, CATALOGUE)
    except DesignError:
        return
    found = tuple(use_findings(unit, CATALOGUE, builds=1000))
    ids = [each.id for each in found]
    assert len(set(ids)) == len(ids)
    for each in found:
        assert each.title
        assert each.source
        assert each.family in {1, 2, 3, 4, 12, 13, 14, 15}
        assert each.needs or each.status != "not proved"
        assert each.advice or each.status not in {"warn", "fail"}
        assert each.capacity is None or each.kind != "chance" or 0.0 <= each.capacity <= 1.0
        assert each.utilisation is None or math.isfinite(each.utilisation)
