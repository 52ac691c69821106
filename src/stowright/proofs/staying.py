"""Everything that has to stay where it is: the unit on its bolts, loose things, tipping.

The carcasses are looked through once and their bolts' strengths worked out once for all of it.
"""

from __future__ import annotations

from collections.abc import Iterator

from stowright.formulas.restraint import rule_set
from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.proofs.loose import loose_findings
from stowright.proofs.restraint import restraint_findings
from stowright.proofs.restraint_check import greatest_use, studied
from stowright.proofs.tipping import tipping_findings

__all__ = ["staying_findings", "worst_hold"]


def staying_findings(design: Design, catalogue: Catalogue) -> Iterator[Finding]:
    """Yield findings about restraint, loose things and tipping (families 8, 9, 11)."""
    design = design.from_shoulders()
    study = studied(design, catalogue)
    yield from restraint_findings(design, catalogue, study)
    yield from loose_findings(design, catalogue)
    yield from tipping_findings(design, catalogue, study)


def worst_hold(design: Design, catalogue: Catalogue) -> float:
    """Return the worst use of any link that holds a carcass down, under the job's rule set.

    For searches that ask it often: 0 without a carcass, infinite where one is not held. What is not
    known (a floor, an anchor's strength) does not count here.
    """
    rules = rule_set(design.job.rules)
    found = studied(design.from_shoulders(), catalogue)
    return max((greatest_use(h, rules) for h in found.held), default=0.0)
