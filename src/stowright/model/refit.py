"""What the work so far has settled: sizes that are cut, openings as they read, what follows.

Found by a search and handed back to the design in ``Given``; every field's default changes nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from stowright.model.geometry import Point2
from stowright.model.part import Feature

__all__ = [
    "AsBuilt",
    "BegunSheet",
    "BlockRefit",
    "Change",
    "DeckRefit",
    "FrozenPart",
    "NoLonger",
    "OpeningRefit",
    "PartChange",
    "Redrill",
    "Refit",
    "ShimPack",
    "SoFar",
    "WingRefit",
]

type Three = tuple[float, float, float]
type Rect = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A term that a size gains because of what was read or cut; ``why`` stands in its sum. [mm]."""

    by: float
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AsBuilt:
    """An opening as it reads, at face, middle and back; None where nothing was read. [mm].

    Attributes:
        room: What the box and the space of both runners have together: the opening, or what was
            read between the runners plus their thicknesses.
        box: The drawer box over all, once it is made.
        face: Width of the opening at its face, where that was read.
        runner: Thickness of a closed runner.
        rise: How much higher the opening reads than planned: at its face, and at its least.
        lean: How far the top of the face stands sideways of its foot.
        box_run_out: How far the back of the box stands sideways of its front.
    """

    opening: str
    room: Three | None = None
    box: Three | None = None
    face: float | None = None
    runner: float | None = None
    rise: tuple[float, float] = (0.0, 0.0)
    lean: float = 0.0
    box_run_out: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningRefit:
    """What changes in one opening.

    Attributes:
        box_across, box_up: What the box's inner width and its height gain.
        front_across, front_up: What the front's width and height gain.
        depth: What the clear depth gains.
        length, side_height, t: Of drawer sides that are cut to another size than is planned now.
        roomier: How much wider the opening reads at its least than the model shows it; negative
            when narrower.
    """

    opening: str
    box_across: Change | None = None
    box_up: Change | None = None
    front_across: Change | None = None
    front_up: Change | None = None
    depth: Change | None = None
    length: float | None = None
    side_height: float | None = None
    t: float | None = None
    roomier: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockRefit:
    """Sizes of a block that its cut panels have settled; None and empty leave them to the design.

    Attributes:
        height, depth: Of its carcasses.
        clears: Clear width of each column, None where it is open.
        t: Thickness of its carcass panels.
        packers: Thickness of the packers that it stands on.
    """

    block: str
    height: float | None = None
    depth: float | None = None
    clears: tuple[float | None, ...] = ()
    t: float | None = None
    packers: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WingRefit:
    """How the outer edge of a wing moves: (x, by) from the tail on, positive to the wall. [mm]."""

    block: str
    side: Literal["left", "right"]
    shifts: tuple[Point2, ...]
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckRefit:
    """What a deck's width gains, as the unit under it reads."""

    deck: str
    width: Change


@dataclass(frozen=True, slots=True, kw_only=True)
class FrozenPart:
    """A part that is cut or fitted and so keeps its size.

    Attributes:
        pieces: Ids of the placed pieces that it is.
        differs: Whether the design alone would now give it another size.
        features, outline: What was cut in it and its contour, in the plan that it was cut from;
            None where that is not known, or where it was cut to another size than planned.
    """

    mark: str
    stage: Literal["cut", "fitted"]
    pieces: tuple[str, ...]
    length: float
    width: float
    thickness: float
    differs: bool = False
    features: tuple[Feature, ...] | None = None
    outline: tuple[Point2, ...] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Redrill:
    """What a cut part needs beyond the holes that it has.

    Attributes:
        piece: Id of the placed piece.
        drill: Holes to drill new.
        fill: Holes that it has, to be filled first because a new one meets them.
        deepen: Holes that it has, as deep as they have to become.
        widen: Grooves and cut-outs that it has, as large as they have to become.
        lost: What it would have to have elsewhere and cannot get any more, in words.
    """

    mark: str
    piece: str
    name: str
    drill: tuple[Feature, ...]
    fill: tuple[Feature, ...]
    widen: tuple[Feature, ...] = ()
    lost: tuple[str, ...] = ()
    deepen: tuple[Feature, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ShimPack:
    """Shims behind one runner at one of its screws.

    Attributes:
        at: Distance from the runner's face end. [mm]
        shims: Thicknesses to lay in together, from the set, thickest first. [mm]
        wanted: What they make up for. [mm]
    """

    opening: str
    side: Literal["left", "right"]
    at: float
    shims: tuple[float, ...]
    wanted: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NoLonger:
    """A cut part that no longer serves as it is, and the least that mends it.

    Attributes:
        pieces: Ids of the placed pieces that it is; other copies of its mark may serve as they are.
        why: What is wrong with it, in words.
        way: ``trim`` (cut down), ``shim``, ``recut``.
        size: What it has to be: length, width. [mm]
        source: What the mended or new part comes from: its own mark, another part that is no
            longer wanted, an offcut; empty for new sheet.
        new_parts: How many parts are cut new.
        new_area: New sheet that is spent. [mm2]
    """

    mark: str
    pieces: tuple[str, ...]
    name: str
    why: str
    way: Literal["trim", "shim", "recut"]
    size: tuple[float, float]
    source: str
    new_parts: int
    new_area: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PartChange:
    """A part before and after; a size is None where the part was not, or is no more.

    Attributes:
        old, new: Length, width, thickness. [mm]
        what: ``size``, ``shape`` (outline), ``holes``, ``new``, ``gone``.
        why: Reasons in words.
    """

    mark: str
    name: str
    old: Three | None
    new: Three | None
    old_quantity: int
    new_quantity: int
    what: tuple[str, ...]
    why: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BegunSheet:
    """A sheet that something was cut from.

    Attributes:
        id: What it is called from then on.
        sheet: Id of the row of stock that it is one of.
        length, width: Size as delivered. [mm]
        gone: What is no longer there, the saw's kerf round it, each (x, y, along, across). [mm]
        offcuts: What was named to be kept of it, each (name, x, y, along, across). [mm]
    """

    id: str
    sheet: str
    material: str
    length: float
    width: float
    gone: tuple[Rect, ...]
    offcuts: tuple[tuple[str, float, float, float, float], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SoFar:
    """What a plan of a begun job remembers of the plans before it, for the next refit.

    Attributes:
        parts: Rows of parts as they were when they were cut, of those that the plan has otherwise.
        entries: How often each mark stood in the record as done.
        pieces: How many pieces of each mark were cut, spoiled ones among them.
        sheets: Sheets that they came from.
        covers: How often a mark was done and how often spoiled before its copies were told apart.
    """

    parts: tuple[Mapping[str, Any], ...] = ()
    entries: tuple[tuple[str, int], ...] = ()
    pieces: tuple[tuple[str, int], ...] = ()
    sheets: tuple[BegunSheet, ...] = ()
    covers: tuple[tuple[str, tuple[int, int]], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Refit:
    """Everything that the work so far has settled.

    Attributes:
        marks: Mark of every piece by its id, as the plan before had it; empty keeps no marks.
        frozen: Parts that keep their sizes.
        shims: Shims by screw.
        reasons: What changed and why, a line each.
        no_longer: Cut parts that no longer serve.
        open: What could not be mended, a line each.
        redrills: What cut parts need beyond the holes that they have.
    """

    marks: tuple[tuple[str, str], ...] = ()
    frozen: tuple[FrozenPart, ...] = ()
    as_built: tuple[AsBuilt, ...] = ()
    openings: tuple[OpeningRefit, ...] = ()
    blocks: tuple[BlockRefit, ...] = ()
    wings: tuple[WingRefit, ...] = ()
    decks: tuple[DeckRefit, ...] = ()
    shims: tuple[ShimPack, ...] = ()
    reasons: tuple[str, ...] = ()
    no_longer: tuple[NoLonger, ...] = ()
    open: tuple[str, ...] = ()
    redrills: tuple[Redrill, ...] = ()

    def of_opening(self, name: str) -> OpeningRefit | None:
        """Return what changes in an opening."""
        return next((row for row in self.openings if row.opening == name), None)

    def of_block(self, name: str) -> BlockRefit | None:
        """Return what is settled of a block."""
        return next((row for row in self.blocks if row.block == name), None)

    def cut_as(self, piece: str) -> FrozenPart | None:
        """Return the cut part that a placed piece is; None while it is still to be cut."""
        return next((row for row in self.frozen if piece in row.pieces), None)

    def of_deck(self, name: str) -> Change | None:
        """Return what the width of a deck gains."""
        return next((row.width for row in self.decks if row.deck == name), None)

    def built(self, opening: str) -> AsBuilt | None:
        """Return an opening as it reads."""
        return next((row for row in self.as_built if row.opening == opening), None)
