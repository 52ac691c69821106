"""Everything about fitting, measuring, carrying, sleeping, danger and keeping, in one row."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.proofs.contents import contents_findings
from stowright.proofs.cut_sizes import cut_size_findings
from stowright.proofs.danger import danger_findings
from stowright.proofs.fit import fit_findings
from stowright.proofs.fixing_lengths import fixing_findings
from stowright.proofs.keeping import keeping_findings
from stowright.proofs.measuring import measuring_findings
from stowright.proofs.people import people_findings
from stowright.proofs.sleeping import sleeping_findings
from stowright.proofs.tab_holds import tab_fit_findings
from stowright.proofs.tolerance import BUILDS, tolerance_findings
from stowright.proofs.touching import touching_findings
from stowright.proofs.vehicle import vehicle_findings

__all__ = ["use_findings"]


def use_findings(
    design: Design, catalogue: Catalogue, *, builds: int = BUILDS
) -> Iterator[Finding]:
    """Yield the findings of the families 1 to 3 and 12 to 15.

    ``builds`` is how many builds the Monte Carlo of the fits makes; 0 leaves it out. Two things of
    one name give two proofs, the later ones numbered: ``HAZARD:can (2)``.
    """
    seen: Counter[str] = Counter()
    for found in _all(design.from_shoulders(), catalogue, builds):
        seen[found.id] += 1
        again = seen[found.id]
        yield found if again == 1 else replace(found, id=f"{found.id} ({again})")


def _all(design: Design, catalogue: Catalogue, builds: int) -> Iterator[Finding]:
    yield from fit_findings(design)
    yield from contents_findings(design, catalogue)
    yield from measuring_findings(design, catalogue)
    yield from cut_size_findings(design)
    yield from tolerance_findings(design, catalogue, builds=builds)
    yield from tab_fit_findings(design)
    yield from vehicle_findings(design)
    yield from people_findings(design, catalogue)
    yield from sleeping_findings(design)
    yield from danger_findings(design)
    yield from fixing_findings(design, catalogue)
    yield from keeping_findings(design, catalogue)
    yield from touching_findings(design)
