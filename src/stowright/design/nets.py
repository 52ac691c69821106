"""Nets across open spaces: how many, where their hooks go, and what holds them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import partial
from itertools import product
from math import ceil
from typing import Literal

from stowright.design.screw_choice import RESERVE
from stowright.model.catalogue import Catalogue, Hardware, Screw
from stowright.model.design import OpeningDesign
from stowright.model.goods_place import GoodsPlace
from stowright.model.job import Job

__all__ = ["hook_places", "net_goods", "nets_asked"]

#: An elastic net covers half as much again as it measures; four hooks each (common practice).
_STRETCH, _HOOKS = 1.5, 4
#: Where a hook goes: behind the face, and from a net's corner along the edge. [mm]
_BEHIND, _FROM_CORNER = 20.0, 30.0
#: Screws of hooks are no thicker. [mm]
_THICKEST = 4.2

type _Row = tuple[str, int, str]


def nets_asked(job: Job) -> frozenset[str]:
    """Return the names of the openings that the job wants a net across."""
    fills = (fill for block in job.blocks for column in block.columns for fill in column.stack)
    return frozenset(fill.name for fill in fills if fill.net)


def net_goods(job: Job, catalogue: Catalogue, openings: Iterable[OpeningDesign]) -> Iterator[_Row]:
    """Yield the nets to buy and the screws of their hooks."""
    for opening, net, across, high in _nets(job, catalogue, openings):
        count = across * high
        screw = _screw(catalogue, opening)
        by = f", one {screw.name} each" if screw else ""
        between = "; where two nets meet, on what is above and under them" if across > 1 else ""
        where = (
            f"{opening.name}: across its face; {_HOOKS} hooks a net, on the uprights' insides, "
            f"{_BEHIND:g} mm behind the face and {_FROM_CORNER:g} mm from the corners{by}{between}"
        )
        yield net.name, count, where
        if screw is not None:
            yield screw.name, _HOOKS * count, where


def hook_places(
    job: Job, catalogue: Catalogue, openings: Iterable[OpeningDesign]
) -> Iterator[GoodsPlace]:
    """Yield where the hooks of nets go; where four nets meet they hook into one another."""
    for opening, net, across, high in _nets(job, catalogue, openings):
        hook = partial(
            GoodsPlace,
            opening=opening.name,
            kind="hook",
            what=net.name,
            inwards=_BEHIND,
            size=(0.0, 0.0, 0.0),
        )
        for column, row, right, upper in product(range(across), range(high), (0, 1), (0, 1)):
            x, z = opening.width * (column + right) / across, opening.height * (row + upper) / high
            if not 0 < column + right < across:
                yield hook(on="upright", across=x, up=z + _FROM_CORNER * (1 - 2 * upper))
            elif not 0 < row + upper < high:
                on: Literal["floor", "top"] = "top" if upper else "floor"
                yield hook(on=on, across=x + _FROM_CORNER * (1 - 2 * right), up=z)


def _nets(
    job: Job, catalogue: Catalogue, openings: Iterable[OpeningDesign]
) -> Iterator[tuple[OpeningDesign, Hardware, int, int]]:
    """Yield each opening that wants a net, the net, and how many side by side and up."""
    asked = nets_asked(job)
    net = next((row for row in catalogue.hardware if row.kind == "net"), None)
    if net is None:
        return
    for opening in openings:
        if opening.name in asked:
            across = ceil(opening.width / (net.size[0] * _STRETCH))
            yield opening, net, across, ceil(opening.height / (net.size[1] * _STRETCH))


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
