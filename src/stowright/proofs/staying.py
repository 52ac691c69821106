"""Everything that has to stay where it is: the unit on its bolts, loose things, tipping.

The carcasses are looked through once and their bolts' strengths worked out once for all of it.
"""

from __future__ import annotations

from collections.abc import Iterator

from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.proofs.loose import loose_findings
from stowright.proofs.restraint import restraint_findings
from stowright.proofs.restraint_check import studied
from stowright.proofs.tipping import tipping_findings

__all__ = ["staying_findings"]


def staying_findings(design: Design, catalogue: Catalogue) -> Iterator[Finding]:
    """Yield findings about restraint, loose things and tipping (families 8, 9, 11)."""
    study = studied(design, catalogue)
    yield from restraint_findings(design, catalogue, study)
    yield from loose_findings(design, catalogue)
    yield from tipping_findings(design, catalogue, study)
