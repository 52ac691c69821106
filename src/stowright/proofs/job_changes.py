"""A job with one thing changed: what advice is made of when it is tried on the whole unit."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from stowright.model.catalogue import Catalogue
from stowright.model.design import BlockDesign, Design, OpeningDesign
from stowright.model.finding import Finding
from stowright.model.job import Block, Build, Deck, Fill, Job

__all__ = [
    "Asked",
    "Change",
    "with_block",
    "with_build",
    "with_carry",
    "with_deck",
    "with_fill",
    "with_lighter",
    "with_place",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change of a job: how it reads, and the job with it made.

    ``lighter`` says that things are taken out, which is for people to choose: no edit of the file.
    """

    words: str
    job: Job
    lighter: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A finding for which changes are looked for, and what it is about.

    Attributes:
        design: The design that it was found in.
        catalogue: The shelf.
        finding: What fails or warns.
    """

    design: Design
    catalogue: Catalogue
    finding: Finding

    @property
    def code(self) -> str:
        """The finding's code."""
        return self.finding.id.partition(":")[0]

    @property
    def name(self) -> str:
        """What the code is followed by: a block, an opening, a deck."""
        return self.finding.id.partition(":")[2].partition(" (")[0]

    @property
    def block(self) -> str:
        """Name of the block that the finding is about, empty when it is about another thing.

        The code may name the block, a module or a piece of it, or an opening in it.
        """
        home = self.home(self.name)
        if home is not None:
            return home[0].name
        names = {block.name for block in self.design.blocks}
        return next(
            (each for each in (self.name, self.name.partition("/")[0]) if each in names), ""
        )

    def short(self) -> float:
        """Return what a clearance lacks, to the next whole millimetre up. [mm]."""
        return math.ceil((self.finding.demand or 0.0) - (self.finding.capacity or 0.0) - 1.0e-6)

    def mm(self, value: float) -> str:
        """Return a length as it is written in the job's file: an inch job names its unit."""
        return f"{value:g}" if self.design.job.units == "mm" else f'"{value:g} mm"'

    def inward(self, low: float, high: float) -> tuple[float, float]:
        """Return a range in whole millimetres that lies within one. [mm]."""
        return float(math.ceil(low - 1.0e-6)), float(math.floor(high + 1.0e-6))

    def home(self, opening: str) -> tuple[BlockDesign, OpeningDesign] | None:
        """Return an opening with its block, None where there is none of that name."""
        for block in self.design.blocks:
            for each in block.openings:
                if each.name == opening:
                    return block, each
        return None


def with_build(job: Job, *, block: str = "", **keys: Any) -> Job:
    """Return a job built otherwise: one block of it, or everything and the decks too."""

    def other(build: Build) -> Build:
        return replace(build, **keys)

    blocks = tuple(_rebuilt(row, other) if block in {"", row.name} else row for row in job.blocks)
    if block:
        return replace(job, blocks=blocks)
    decks = tuple(replace(row, build=other(row.build)) for row in job.decks)
    return replace(job, build=other(job.build), blocks=blocks, decks=decks)


def _rebuilt(block: Block, other: Callable[[Build], Build]) -> Block:
    columns = tuple(
        replace(
            column,
            build=other(column.build),
            stack=tuple(replace(fill, build=other(fill.build)) for fill in column.stack),
        )
        for column in block.columns
    )
    return replace(block, build=other(block.build), columns=columns)


def with_block(job: Job, name: str, **keys: Any) -> Job:
    """Return a job with something about one block changed."""
    return replace(
        job,
        blocks=tuple(replace(row, **keys) if row.name == name else row for row in job.blocks),
    )


def with_place(job: Job, name: str, **ranges: tuple[float, float]) -> Job:
    """Return a job with one block in other ranges along x, y or z. [mm]."""
    place = next(row.place for row in job.blocks if row.name == name)
    x, y, z = (ranges.get(axis, getattr(place, axis)) for axis in ("x", "y", "z"))
    return with_block(job, name, place=replace(place, x=x, y=y, z=z))


def with_fill(job: Job, opening: str, *, build: dict[str, Any] | None = None, **keys: Any) -> Job:
    """Return a job with something about one opening changed, or how it is built."""

    def other(fill: Fill) -> Fill:
        if fill.name != opening:
            return fill
        return replace(fill, build=replace(fill.build, **(build or {})), **keys)

    blocks = tuple(
        replace(
            row,
            columns=tuple(
                replace(column, stack=tuple(other(fill) for fill in column.stack))
                for column in row.columns
            ),
        )
        for row in job.blocks
    )
    return replace(job, blocks=blocks)


def with_lighter(job: Job, names: frozenset[str], share: float) -> Job:
    """Return a job with some of what it carries lighter, to a share of its mass."""
    carry = tuple(
        replace(item, mass=share * item.mass) if item.what in names else item for item in job.carry
    )
    return replace(job, carry=carry)


def with_carry(job: Job, what: str, **keys: Any) -> Job:
    """Return a job with something about one thing of its carry list changed."""
    carry = tuple(replace(item, **keys) if item.what == what else item for item in job.carry)
    return replace(job, carry=carry)


def with_deck(job: Job, name: str, *, build: dict[str, Any] | None = None, **keys: Any) -> Job:
    """Return a job with something about one deck changed, or how it is built."""

    def other(deck: Deck) -> Deck:
        if deck.name != name:
            return deck
        return replace(deck, build=replace(deck.build, **(build or {})), **keys)

    return replace(job, decks=tuple(other(deck) for deck in job.decks))
