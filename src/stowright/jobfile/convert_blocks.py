"""From the shape of blocks and decks to the model, every opening named and every share set."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import count
from typing import Literal

from stowright.jobfile.convert_build import overridden
from stowright.jobfile.naming import Names, blocks_of, columns_of, stack_of
from stowright.jobfile.scanner import Path
from stowright.jobfile.shape_blocks import (
    BlockShape,
    ColumnShape,
    DeckShape,
    FillShape,
    RailShape,
)
from stowright.jobfile.shape_job import JobFile
from stowright.jobfile.taking import NOT_SAID, USUAL, Taker
from stowright.model.bay import Bay
from stowright.model.job import (
    Block,
    Build,
    Column,
    Deck,
    DeckRail,
    Fill,
    FillKind,
    Place,
    Wings,
)

__all__ = ["blocks_from", "decks_from"]

type PlaceWord = Literal["fill", "left", "right", "tail", "cab"]

_NAMED = "made from its kind and its number (assumed)"
_OVER_ARCH = 50.0
#: Of a rail with tie points: from the deck's edge to its middle, and its bolts (common practice).
_RAIL_INSET, _RAIL_PITCH = 40.0, 200.0
#: Usual unit heights where no rail sets one: 250-350 in tub and wagon, 400-700 in a van. [mm]
_UNIT_HEIGHT = {"wagon": 300.0, "tub": 300.0, "tray": 350.0, "van": 450.0}


def blocks_from(
    job: JobFile, names: Names, bay: Bay, build: Build, taker: Taker
) -> tuple[Block, ...]:
    """Return the blocks; a job without any gets one of drawers."""
    if not job.block:
        taker.note(("block",), "one block of drawers facing the tail", USUAL)
    return tuple(
        _Block(place, shape, names, taker).block(
            columns_of(job, shape), build, unit_height(bay) if _wants_height(job, bay) else None
        )
        for place, shape in enumerate(blocks_of(job))
    )


def _wants_height(job: JobFile, bay: Bay) -> bool:
    """A default block with neither rail nor deck above it needs a height of its own."""
    return not job.block and not job.deck and bay.rail is None


def unit_height(bay: Bay) -> float:
    """Return the usual height of a unit in a bay without a rail. [mm]."""
    usual = _UNIT_HEIGHT[bay.kind]
    usual = max([usual, *(arch.height + _OVER_ARCH for arch in bay.arches)])
    return float(round(min(usual, (bay.clear_height or usual * 2.0) / 2.0)))


class _Block:
    """One block on its way to the model."""

    def __init__(self, place: int, shape: BlockShape, names: Names, taker: Taker) -> None:
        self.place, self.shape, self.taker = place, shape, taker
        self.path: Path = ("block", place)
        self.name = names.blocks[place]
        self.openings = names.openings[place]

    def block(self, columns: Sequence[ColumnShape], build: Build, height: float | None) -> Block:
        shape, take, path = self.shape, self.taker.take, self.path
        own = overridden(shape, build)
        if not shape.name:
            self.taker.note((*path, "name"), self.name, _NAMED)
        if not shape.columns:
            self.taker.note((*path, "columns"), f"{len(columns)} of one drawer each", USUAL)
        wings = shape.wings
        return Block(
            name=self.name,
            face=take((*path, "face"), shape.face, "tail"),
            place=self.where(height),
            modules=take((*path, "modules"), shape.modules, "separate"),
            over_arches=take((*path, "over_arches"), shape.over_arches, "no"),
            columns=tuple(
                self.column((*path, "columns", place), column, self.openings[place], own)
                for place, column in enumerate(columns)
            ),
            clear_at_face=self.taker.length((*path, "clear_at_face"), shape.clear_at_face, 45.0),
            wings=Wings(
                left=take(
                    (*path, "wings", "left"), wings.left if wings else None, "none", NOT_SAID
                ),
                right=take(
                    (*path, "wings", "right"), wings.right if wings else None, "none", NOT_SAID
                ),
            ),
            build=own,
        )

    def where(self, height: float | None) -> Place:
        shape, inner = self.shape, self.shape.place
        beside = shape.beside or (inner.beside if inner else None) or ""
        x, y, z = (
            getattr(shape, axis) or (getattr(inner, axis) if inner else None)
            for axis in ("x", "y", "z")
        )
        word: PlaceWord | None = inner.word if inner else None
        if word is None and (beside or x or y or z):
            word = "fill"  # the ranges, or the neighbour, say where it goes
        if z is None and height is not None:
            top = self.taker.shown(height)
            why = "usual height of such a unit (common practice)"
            self.taker.note((*self.path, "z"), f"from the floor to {top}", why)
            z = (0.0, height)
        taken: PlaceWord = self.taker.take((*self.path, "place"), word, "fill")
        return Place(word=taken, beside=beside, x=x, y=y, z=z)

    def column(
        self, path: Path, shape: ColumnShape, names: tuple[str, ...], build: Build
    ) -> Column:
        width, weight = self.share((*path, "width"), shape.width, shape.weight)
        own = overridden(shape, build)
        if not shape.stack:
            self.taker.note((*path, "stack"), "one drawer", USUAL)
        return Column(
            width=width,
            weight=weight,
            least=shape.least,
            stack=tuple(
                self.fill((*path, "stack", place), fill, names[place], own)
                for place, fill in enumerate(stack_of(shape))
            ),
            build=own,
        )

    def fill(self, path: Path, shape: FillShape, name: str, build: Build) -> Fill:
        if not shape.name:
            self.taker.note((*path, "name"), name, _NAMED)
        kind: FillKind = self.taker.take((*path, "fill"), shape.fill, "drawer")
        height, weight = self.share((*path, "height"), shape.height, shape.weight)
        door = shape.door or ""
        if kind == "locker":
            door = self.taker.take((*path, "door"), shape.door, "drop")
        sides = shape.sides or 0.0
        if kind == "tray":  # elsewhere sides do nothing, and a warning says so
            sides = self.taker.length((*path, "sides"), shape.sides, 0.0, NOT_SAID)
        return Fill(
            fill=kind,
            name=name,
            height=height,
            weight=weight,
            least=shape.least,
            door=door,
            lock=shape.lock or "",
            latch=shape.latch or "",
            net=bool(shape.net),
            sides=sides,
            cable_way=shape.cable_way or 0.0,
            vent=shape.vent or 0.0,
            build=overridden(shape, build),
        )

    def share(
        self, path: Path, given: float | str | None, weight: float | None
    ) -> tuple[float | None, float]:
        """Return a fixed size, or None for a share, and the weight of the share."""
        if given is None:
            self.taker.note(path, "share", USUAL)
        size = given if isinstance(given, float) else None
        return size, 1.0 if weight is None else weight


def decks_from(
    job: JobFile, names: Names, bay: Bay, build: Build, taker: Taker
) -> tuple[Deck, ...]:
    """Return the decks; a job with neither block nor deck gets one under its rail."""
    shapes = list(job.deck or ())
    if not shapes and not job.block and bay.rail is not None:
        taker.note(("deck",), "one fixed deck over the drawers", USUAL)
        shapes = [DeckShape()]
    given = {shape.name for shape in shapes if shape.name}
    made_up = (name for name in _deck_names() if name not in given)
    asked = _asked_tops(job, names)
    return tuple(
        _Deck(("deck", place), shape, bay, taker).deck(
            shape.name or next(made_up), names, build, asked
        )
        for place, shape in enumerate(shapes)
    )


def _asked_tops(job: JobFile, names: Names) -> dict[str, float]:
    """Return up to what height blocks may reach, for those that say so."""
    found = {}
    for name, shape in zip(names.blocks, blocks_of(job), strict=True):
        z = shape.z or (shape.place.z if shape.place else None)
        if z is not None:
            found[name] = z[1]
    return found


def _deck_names() -> Iterator[str]:
    yield "deck"
    yield from (f"deck {number}" for number in count(2))


class _Deck:
    """One deck on its way to the model."""

    def __init__(self, path: Path, shape: DeckShape, bay: Bay, taker: Taker) -> None:
        self.path, self.shape, self.bay, self.taker = path, shape, bay, taker

    def deck(self, name: str, names: Names, build: Build, asked: Mapping[str, float]) -> Deck:
        shape, take, path = self.shape, self.taker.take, self.path
        if not shape.name:
            self.taker.note((*path, "name"), name, _NAMED)
        over = shape.over
        if over is None:
            over = names.blocks
            self.taker.note((*path, "over"), ", ".join(over), USUAL)
        below_rail, top = self.height([asked[each] for each in over if each in asked])
        own = {
            key: value
            for key in ("deck_sheet", "grain", "finish")
            if (value := getattr(shape, key)) is not None
        }
        return Deck(
            name=name,
            over=over,
            kind=take((*path, "kind"), shape.kind, "fixed"),
            below_rail=below_rail,
            top=top,
            back=take((*path, "back"), shape.back, "block"),
            overhang=self.taker.length((*path, "overhang"), shape.overhang, 0.0),
            build=replace(build, **own) if own else build,
            sleeper=shape.sleeper or 0.0,
            rails=tuple(self.rail(n, each) for n, each in enumerate(shape.rails or ())),
        )

    def rail(self, place: int, shape: RailShape) -> DeckRail:
        """Return a rail along an edge of the deck."""
        path, side = (*self.path, "rails", place), shape.side or "left"
        return DeckRail(
            name=shape.name or f"{side} rail",
            side=side,
            rating_n=shape.rating,
            inset=self.taker.length((*path, "inset"), shape.inset, _RAIL_INSET),
            pitch=self.taker.length((*path, "pitch"), shape.pitch, _RAIL_PITCH),
        )

    def height(self, asked: Sequence[float]) -> tuple[float, float | None]:
        """Return how far the deck lies below the rail, and its own height where that governs.

        Args:
            asked: Up to what height the blocks under it may reach, where they say so.
        """
        shape, path = self.shape, self.path
        if shape.top is not None:
            return shape.below_rail or 0.0, shape.top
        if self.bay.rail is not None:
            return self.taker.length((*path, "below_rail"), shape.below_rail, 45.0), None
        why = "usual height of such a unit (common practice)"
        usual = unit_height(self.bay)
        if asked:
            why, usual = "up to where its blocks may reach (block.z)", max(asked)
        return 0.0, self.taker.length((*path, "top"), None, usual, why)
