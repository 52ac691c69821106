"""On generated jobs: every finding can be followed, codes are unique, the quick look agrees."""

import sys
from collections import Counter
from pathlib import Path

from hypothesis import HealthCheck, given, settings

sys.path.insert(0, str(Path(__file__).parents[1] / "jobfile"))
from strategies import jobs
from structure_jobs import CATALOGUE

from stowright.design.build import design
from stowright.errors import DesignError, UnknownNameError
from stowright.proofs.quick import feasible
from stowright.proofs.structure import structure_findings

ALLOWED = {"characteristic": {1.0, 1.35, 1.5}, "allowable": {1.0}, "common practice": {1.0}}


@settings(max_examples=25, suppress_health_check=list(HealthCheck))
@given(job=jobs())
def test_every_finding_can_be_followed_and_the_quick_look_agrees(job):
    try:
        unit = design(job, CATALOGUE)
    except (DesignError, UnknownNameError):
        return
    found = list(structure_findings(unit, CATALOGUE))
    codes = Counter(each.id for each in found)
    assert not [code for code, count in codes.items() if count > 1]
    for each in found:
        assert each.source
        assert each.needs or each.status != "not proved", each.id
        if each.basis:
            assert each.factor in ALLOWED[each.basis], each.id
        if each.utilisation is not None and each.kind == "ratio" and each.status != "not proved":
            limit = {"pass": (0.0, 0.9), "warn": (0.9, 1.0), "fail": (1.0, float("inf"))}
            low, high = limit[each.status]
            assert low - 1e-3 <= each.utilisation <= high + 1e-3, each.id
    by_code = {each.id: each for each in found}
    for reason in feasible(unit, CATALOGUE).reasons:
        if reason.code in by_code:
            assert by_code[reason.code].status == "fail", reason
