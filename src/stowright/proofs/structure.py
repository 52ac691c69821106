"""What the unit is made of carries what it has to: runners, sheets, carcass, joints, latches."""

from __future__ import annotations

from collections.abc import Iterator

from stowright.model.catalogue import Catalogue
from stowright.model.design import Design
from stowright.model.finding import Finding
from stowright.proofs.bottoms import bottom_findings
from stowright.proofs.braking import braking_findings
from stowright.proofs.carcass import carcass_findings
from stowright.proofs.deck_laden import laden_deck_findings
from stowright.proofs.decks import deck_findings
from stowright.proofs.formula_lines import with_formula
from stowright.proofs.index import Index, index_of
from stowright.proofs.joints import joint_findings
from stowright.proofs.runners import runner_findings
from stowright.proofs.shelves import shelf_findings
from stowright.proofs.shut import shut_findings
from stowright.proofs.uprights import upright_findings

__all__ = ["structure_findings"]


def structure_findings(design: Design, catalogue: Catalogue) -> Iterator[Finding]:
    """Yield the findings of families 4 to 7 and 10; each says if its service class was assumed."""
    index = index_of(design.from_shoulders(), catalogue)
    taken = any(each.field == "job.service_class" for each in design.job.assumed)
    note = f"service class {index.service_class} by the bay (job.service_class)" if taken else ""
    for found in _all(index):
        yield with_formula(found, assumed=note)


def _all(index: Index) -> Iterator[Finding]:
    yield from runner_findings(index)
    yield from bottom_findings(index)
    yield from shelf_findings(index)
    yield from deck_findings(index)
    yield from laden_deck_findings(index)
    yield from upright_findings(index)
    yield from carcass_findings(index)
    yield from joint_findings(index)
    yield from shut_findings(index)
    yield from braking_findings(index)
