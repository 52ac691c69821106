"""Every finding about a design, worst first."""

from __future__ import annotations

from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.proofs.fields import with_field
from stowright.proofs.staying import staying_findings
from stowright.proofs.structure import structure_findings
from stowright.proofs.tolerance import BUILDS
from stowright.proofs.tried_again import tried_again
from stowright.proofs.use import use_findings

__all__ = ["findings_in_strength", "findings_in_use", "prove", "ranked", "with_tried_advice"]

_RANK = {"fail": 0, "warn": 1, "not proved": 2, "pass": 3}


def prove(
    design: Design, catalogue: Catalogue, *, builds: int = BUILDS, advise: bool = True
) -> tuple[Finding, ...]:
    """Return all findings, passes included, worst first.

    ``builds`` is how many builds the Monte Carlo of the fits makes; 0 leaves it out. Without
    ``advise`` no unit is designed again to try advice: for searches, which read none.
    """
    found = ranked(
        (
            *findings_in_use(design, catalogue, builds=builds),
            *findings_in_strength(design, catalogue),
        )
    )
    return with_tried_advice(found, design, catalogue) if advise else found


def with_tried_advice(
    findings: tuple[Finding, ...], design: Design, catalogue: Catalogue
) -> tuple[Finding, ...]:
    """Return findings, those that fail or warn with advice that was tried on the whole unit."""
    return tried_again(findings, design, catalogue, prove=_unadvised)


def _unadvised(design: Design, catalogue: Catalogue) -> tuple[Finding, ...]:
    return prove(design, catalogue, builds=0, advise=False)


def findings_in_use(
    design: Design, catalogue: Catalogue, *, builds: int = BUILDS
) -> tuple[Finding, ...]:
    """Return the findings about fit and use, not yet ranked: one half of ``prove``."""
    return tuple(use_findings(design, catalogue, builds=builds))


def findings_in_strength(design: Design, catalogue: Catalogue) -> tuple[Finding, ...]:
    """Return the findings about strength and staying put, not yet ranked: the other half."""
    return (*structure_findings(design, catalogue), *staying_findings(design, catalogue))


def ranked(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Return findings worst first: failed, warned, not proved, then passes by utilisation.

    Each that is not proved names the field that would settle it.
    """
    named = [with_field(found) for found in findings]
    return tuple(sorted(named, key=lambda f: (_RANK[f.status], -(f.utilisation or 0.0), f.id)))
