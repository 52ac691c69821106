"""Nets across open spaces: how many, and what holds their hooks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import ceil

from stowright.design.screw_choice import RESERVE
from stowright.model.catalogue import Catalogue, Screw
from stowright.model.design import OpeningDesign
from stowright.model.job import Job

__all__ = ["net_goods", "nets_asked"]

#: An elastic net covers half as much again as it measures; four hooks each (common practice).
_STRETCH, _HOOKS = 1.5, 4
#: Screws of hooks are no thicker. [mm]
_THICKEST = 4.2

type _Row = tuple[str, int, str]


def nets_asked(job: Job) -> frozenset[str]:
    """Return the names of the openings that the job wants a net across."""
    fills = (fill for block in job.blocks for column in block.columns for fill in column.stack)
    return frozenset(fill.name for fill in fills if fill.net)


def net_goods(job: Job, catalogue: Catalogue, openings: Iterable[OpeningDesign]) -> Iterator[_Row]:
    """Yield the nets to buy and the screws of their hooks."""
    asked = nets_asked(job)
    net = next((row for row in catalogue.hardware if row.kind == "net"), None)
    for opening in openings:
        if net is None or opening.name not in asked:
            continue
        across = ceil(opening.width / (net.size[0] * _STRETCH))
        high = ceil(opening.height / (net.size[1] * _STRETCH))
        count = max(1, across) * max(1, high)
        screw = _screw(catalogue, opening)
        by = f", one {screw.name} each" if screw else ""
        where = (
            f"{opening.name}: across its face; {_HOOKS} hooks a net, on the uprights' insides, "
            f"20 mm behind the face and 30 mm from the corners{by}"
        )
        yield net.name, count, where
        if screw is not None:
            yield screw.name, _HOOKS * count, where


def _screw(catalogue: Catalogue, opening: OpeningDesign) -> Screw | None:
    """Return the longest pan head screw that stays inside the thinnest upright."""
    sheet = catalogue.material(opening.build.carcass)
    longest = min(sheet.thickness, sheet.nominal - sheet.thinner) - RESERVE
    fitting = [
        s
        for s in catalogue.screws
        if s.kind == "pan" and s.diameter <= _THICKEST and s.length <= longest
    ]
    return max(fitting, key=lambda s: (s.length, s.diameter, s.name), default=None)
