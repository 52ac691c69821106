"""The shape of ``[[block]]`` and ``[[deck]]``: what is to be built."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator

from stowright.jobfile.shape_build import BuildKeys
from stowright.jobfile.shape_types import (
    Area,
    Force,
    Gap,
    Number,
    Range,
    Shape,
    ShareOrSize,
    Size,
    Texts,
    refusal,
    says,
)

__all__ = [
    "BlockShape",
    "ColumnShape",
    "DeckShape",
    "FillShape",
    "PlaceShape",
    "RailShape",
    "WingsShape",
]

type PlaceWord = Literal["fill", "left", "right", "tail", "cab"]

_UNBUILT_FACES = ("cab", "top")


def _face(value: Any) -> Any:
    if value in _UNBUILT_FACES:
        raise refusal("tail, left or right; a block that faces cab or top is refused until built")
    return value


def _word(value: Any) -> Any:
    """Let a word alone stand for a place; ``place = "left"`` is the usual form."""
    return {"word": value} if isinstance(value, str) else value


def _latch(value: Any) -> Any:
    """Read ``true`` as "the program chooses": a drawer that nothing holds shut is not offered."""
    if value is False or value == "none":
        raise refusal("the name of a latch, or true: the program chooses one")
    return "" if value is True else value


def _lock(value: Any) -> Any:
    """Read ``true`` as a lock both shut and open, ``false`` as none."""
    return {True: "in-out", False: "none"}[value] if isinstance(value, bool) else value


def _net(value: Any) -> Any:
    """A net named by its kind is a net."""
    return value not in ("", "none") if isinstance(value, str) else value


class FillShape(BuildKeys):
    """What fills one opening of a stack. Any [build] key may stand here too."""

    fill: Literal["drawer", "tray", "open", "locker", "through", "blank"] | None = says(
        "drawer | tray (slides; no or low sides) | open | locker (drop or lift door) | "
        "through (open from face to back) | blank. Default drawer."
    )
    name: str | None = says("Name of the opening, unique in the job. Default: made from its kind.")
    height: ShareOrSize | None = says("Clear height of the opening. Default share.")
    weight: Number | None = says("Weight of the share. Default 1.")
    least: Size | None = says("Least clear height.")
    door: Literal["drop", "lift"] | None = says("Door of a locker. Default drop.")
    lock: Annotated[str, BeforeValidator(_lock, json_schema_input_type=bool | str)] | None = says(
        "Runner lock wanted: in (shut), out (open), in-out or none; true is in-out. "
        "Default: the program chooses."
    )
    latch: Annotated[str, BeforeValidator(_latch, json_schema_input_type=bool | str)] | None = says(
        "Name of a latch, or true. Default: the program chooses."
    )
    net: Annotated[bool, BeforeValidator(_net, json_schema_input_type=bool | str)] | None = says(
        "A net across the opening. Default false."
    )
    sides: Gap | None = says("Height of a tray's sides. Default 0: a flat tray.")
    cable_way: Gap | None = says("Diameter of a cable way through the back. Default 0: none.")
    vent: Area | None = says("Free area of a vent. [cm2]. Default 0: none.")


class ColumnShape(BuildKeys):
    """A column of a block and its stack from the floor up. Any [build] key may stand here too."""

    width: ShareOrSize | None = says("Clear width of the opening. Default share.")
    weight: Number | None = says("Weight of the share. Default 1.")
    least: Size | None = says("Least clear width.")
    stack: list[FillShape] | None = says("Fills from the floor up. Default: one drawer.")


class PlaceShape(Shape):
    """Where a block goes, written as one table."""

    word: PlaceWord | None = says("fill | left | right | tail | cab. Default fill.")
    beside: str | None = says("Name of the block that it stands beside.")
    x: Range | None = says("Range along x.")
    y: Range | None = says("Range along y.")
    z: Range | None = says("Range along z.")


class WingsShape(Shape):
    """What covers the space over the arches beside a block."""

    left: Literal["fixed", "lid", "none"] | None = says("Left wing. Default none.")
    right: Literal["fixed", "lid", "none"] | None = says("Right wing. Default none.")


class BlockShape(BuildKeys):
    """A body of one or more carcasses that opens to one face. Any [build] key may stand here."""

    name: str | None = says("Name of the block, unique in the job. Default: numbered.")
    face: Annotated[Literal["tail", "left", "right"], BeforeValidator(_face)] | None = says(
        "Side that it opens to: tail | left | right. Default tail."
    )
    place: (
        Annotated[PlaceShape, BeforeValidator(_word, json_schema_input_type=PlaceWord | PlaceShape)]
        | None
    ) = says("fill | left | right | tail | cab, or a table with beside and ranges. Default fill.")
    beside: str | None = says("Name of the block that it stands beside.")
    x: Range | None = says("Range along x.")
    y: Range | None = says("Range along y.")
    z: Range | None = says("Range along z.")
    modules: Literal["separate", "shared"] | None = says(
        "Each column its own carcass, or partitions in one. Default separate."
    )
    over_arches: Literal["no", "yes", "offer"] | None = says(
        "An upper body over the arches. Default no."
    )
    columns: list[ColumnShape] | None = says(
        "Columns from left to right as you look at the face. Default: two of one drawer each "
        "where the least width is over 800 mm, else one."
    )
    clear_at_face: Gap | None = says(
        "From the outermost of front, handle and lever to the shut tailgate or door. Default 45 mm."
    )
    wings: WingsShape | None = says("What covers the space over the arches beside the block.")


class RailShape(Shape):
    """A rail with tie points, bolted along an edge of a deck."""

    needs = ("side",)
    side: Literal["left", "right", "tail", "cab"] | None = says("The edge it lies along.")
    name: str | None = says("What carry.lash.to calls it. Default: left rail, right rail, ….")
    rating: Force | None = says(
        'What one tie point takes, a working load stated by its maker, in N, or "unknown".'
    )
    inset: Size | None = says("From the deck's edge to the middle of the rail. Default 40 mm.")
    pitch: Size | None = says("Distance of its bolts at most. Default 200 mm.")


class DeckShape(Shape):
    """The platform on top of one or more blocks."""

    name: str | None = says("Name of the deck. Default: deck, deck 2, ….")
    over: Texts | None = says("Names of the blocks under it. Default: all.")
    kind: Literal["fixed", "lift-out"] | None = says("Fixed or lift-out. Default fixed.")
    below_rail: Gap | None = says("How far it lies below the rail. Default 45 mm.")
    top: Size | None = says("Height of its upper surface above the floor, instead of below_rail.")
    back: Literal["block", "wall"] | None = says(
        "As far as the block's back, or the wall. Default block."
    )
    overhang: Gap | None = says("How far it stands out over the face. Default 0.")
    sleeper: Gap | None = says(
        "Height of the tallest person who sleeps on it. Default 0: nobody does."
    )
    rails: list[RailShape] | None = says("Rails with tie points along its edges. Default none.")
    deck_sheet: str | None = says("Its sheet, where it differs from [build].")
    grain: Literal["long", "across", "strongest"] | None = says("Where it differs from [build].")
    finish: str | None = says("Where it differs from [build].")
