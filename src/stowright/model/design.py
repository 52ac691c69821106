"""A design: everything that the geometry decided. Millimetres, kilograms."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from stowright.model.bay import Face
from stowright.model.catalogue import Runner, RunnerSize
from stowright.model.geometry import Axes3, Box, Point2, Point3
from stowright.model.goods_place import GoodsPlace
from stowright.model.job import Assumption, Build, FillKind, Job
from stowright.model.packed import PackedLoad
from stowright.model.part import Joint, Part, PlacedFixing, PlacedPart
from stowright.model.quick_made import quick_made
from stowright.model.refit import Refit

__all__ = [
    "AnchorPoint",
    "BlockDesign",
    "BoxSize",
    "DeckCargo",
    "Design",
    "DoorwayCheck",
    "Gap",
    "Limit",
    "LooseThing",
    "ModuleDesign",
    "Motion",
    "OpeningDesign",
    "RunnerFit",
    "Skew",
    "Sum",
    "SumLine",
    "ThicknessInUse",
    "UsableBox",
    "WingDesign",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class ThicknessInUse:
    """The one thickness a material has in this job, fixed before any part is sized.

    Attributes:
        t: Mean, used for every size.
        t_min, t_max: Least and greatest reading; nominal and tolerance when not measured.
        source: ``measured``, ``sheets`` or ``catalogue``.
    """

    material: str
    t: float
    t_min: float
    t_max: float
    source: Literal["measured", "sheets", "catalogue"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SumLine:
    """One term of a wall sum: ``+ 14.6 side``."""

    what: str
    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """A fitted size as a sum. ``result`` = the lines' total; the snap is the last line.

    Attributes:
        size_of: What it gives: ``meters: box width``.
        exact: Before the snap.
        result: After it, on the cut grid.
    """

    size_of: str
    lines: tuple[SumLine, ...]
    exact: float
    result: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """What limits a usable box on one side.

    Attributes:
        side: ``tail``, ``cab``, ``left``, ``right``, ``floor``, ``top``.
        governed_by: The reading that governs, in words.
        at: Where the limit lies on its axis, before allowances.
        allowances: The allowances, as sum lines signed along the axis: ``at`` and their sum give
            the box's side.
        next: What the next millimetre would buy, or which reading governs then.
        beyond: Where an asked range governs: how far behind it something stands. [mm]
    """

    side: str
    governed_by: str
    at: float
    allowances: tuple[SumLine, ...]
    next: str
    beyond: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class UsableBox:
    """The largest axis-aligned box a block can have.

    Attributes:
        hugs: The side of the box that a smaller block stays at; empty when it fills the box.
        warnings: What the bay's readings leave open at the block's heights, a line each.
    """

    block: str
    box: Box
    limits: tuple[Limit, ...]
    hugs: Literal["", "left", "right", "tail", "cab"] = ""
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Skew:
    """How far out of square the bay is.

    Attributes:
        lean: Sideways lean s of the side walls over the bay's length (positive: the cab end lies
            to the left). [mm]
        low, high: Range of s from the reading error.
        cause: ``side lean``, ``headboard``, ``not known which``, ``square`` (within the reading
            error) or ``not measured``.
    """

    lean: float
    low: float
    high: float
    cause: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorwayCheck:
    """Whether a module passes its doorway.

    Attributes:
        way: ``straight``, ``tilted``, ``from above``, ``assemble inside`` or ``not known``.
        room: Least room left over, negative when it does not pass. [mm]
        needed, available: Of the governing direction. [mm]
        why: In words.
        order: Assembly order when it is assembled inside.
    """

    block: str
    module: str
    way: Literal["straight", "tilted", "from above", "assemble inside", "not known"]
    room: float
    needed: float
    available: float
    why: str
    order: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxSize:
    """Outside size of a drawer box or tray.

    Attributes:
        width: Over both sides.
        height: Of its sides; a planted bottom comes under it.
        length: Along the runner.
        under: Thickness of a bottom planted under the sides, else 0.
    """

    width: float
    height: float
    length: float
    under: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RunnerFit:
    """The runner that was chosen for an opening.

    Attributes:
        runner, size: Catalogue rows.
        set_back: From the face edge of the upright to the runner's face end. [mm]
        line: Height of the centre line above the carcass floor (or shelf) under it. [mm]
        line_in_drawer: Height of the centre line above the drawer side's lower edge. [mm]
        side_space: Space in the design each side, after the snap. [mm]
        lock: ``in``, ``out``, ``in-out`` or empty.
        latch: Hardware name that holds the drawer shut, or empty when the runner's lock does.
        next_size: What the next few millimetres would buy, in words; empty when nothing.
        why: Why this one was chosen.
    """

    runner: Runner
    size: RunnerSize
    set_back: float
    line: float
    line_in_drawer: float
    side_space: float
    lock: str
    latch: str
    next_size: str
    why: str


@quick_made
@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningDesign:
    """One opening of a module and what fills it.

    Attributes:
        clear: The clear opening in the bay (face plane to the back's inner face).
        at: Corner of the opening nearest the face, lowest, leftmost as you look at it.
        width, height, depth: Clear opening.
        bounds: Ids of the placed parts left, right, below and above it.
        box: Drawer box or tray, None for other fills.
        front: (width, height) of the front or door, None without one.
        front_thickness: 0 without a front.
        runner: Runner, None without one.
        usable: Inside of what can be filled (the box inside a drawer, the opening itself else).
        gross_kg: Contents plus moving parts.
        contents_kg: Contents from the carry list assigned to it.
        carried: What was assigned: (what, quantity).
    """

    name: str
    fill: FillKind
    block: str
    module: str
    column: int
    row: int
    at: Point3
    width: float
    height: float
    depth: float
    clear: Box
    bounds: tuple[str, str, str, str]
    box: BoxSize | None
    front: tuple[float, float] | None
    front_thickness: float
    runner: RunnerFit | None
    usable: Box
    gross_kg: float
    contents_kg: float
    carried: tuple[tuple[str, int], ...]
    build: Build


@dataclass(frozen=True, slots=True, kw_only=True)
class ModuleDesign:
    """One carcass. ``name`` is its number in the block, from the left: ``1``.

    ``box`` is the carcass in the bay (packers not included); width, height, depth as you look at
    its face.
    """

    name: str
    block: str
    width: float
    height: float
    depth: float
    box: Box
    openings: tuple[str, ...]
    mass_kg: float
    doorway: DoorwayCheck | None


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockDesign:
    """A block: its modules and openings.

    Attributes:
        face_at: Where its face plane lies on the axis it opens along.
        axes: Where (across to the right as you look, into the block, up) point in the bay.
        packer_height: Height of the packers under it.
    """

    name: str
    face: Face
    usable: UsableBox
    box: Box
    face_at: float
    axes: Axes3
    packer_height: float
    modules: tuple[ModuleDesign, ...]
    openings: tuple[OpeningDesign, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WingDesign:
    """A wing: offsets of its outer edge from the bay's centre line every 100 mm."""

    block: str
    side: Literal["left", "right"]
    kind: Literal["fixed", "lid"]
    offsets: tuple[Point2, ...]
    scribe_gap: float
    measured: bool
    void_litres: float
    mark: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """A named gap between two bodies.

    Attributes:
        name: ``front gap, left``.
        between: Ids of two placed parts, or of one and of ``bay:<limit>``.
        axis: ``x``, ``y`` or ``z``.
        sum: The gap by the sums. [mm]
        least: The least it may become before something touches or binds. [mm]
    """

    name: str
    between: tuple[str, str]
    axis: Literal["x", "y", "z"]
    sum: float
    least: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Motion:
    """How a body moves.

    Attributes:
        body: Opening (or lid, door) name.
        kind: ``slide`` or ``swing``.
        axis: Unit vector of a slide's way out; of the hinge for a swing.
        travel: Slide length, or swing angle in degrees.
        pivot: A point on the hinge; None for a slide.
        droop: Drop of the far end of a slide at full travel.
    """

    body: str
    kind: Literal["slide", "swing"]
    axis: Point3
    travel: float
    pivot: Point3 | None
    droop: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AnchorPoint:
    """Where the unit is bolted to the vehicle.

    Attributes:
        existing: Name of the factory anchor that is used, empty for a new hole.
        part: Id of the placed part the bolt goes through.
        bolt, washer, plate, nut: Catalogue names; empty when not used.
        fixing: Id of the placed bolt.
        angle: Catalogue name of a metal angle from floor to upright under its head, or empty.
    """

    id: str
    module: str
    block: str
    x: float
    y: float
    z: float
    surface: str
    thread: str
    existing: str
    part: str
    bolt: str
    washer: str
    plate: str
    nut: str
    note: str
    fixing: str = ""
    angle: str = ""

    @property
    def number(self) -> str:
        """The id without its word, for where something else says that it is a bolt."""
        return self.id.rpartition(" ")[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class LooseThing:
    """Something that is not fixed, and what holds it (empty: nothing yet)."""

    what: str
    where: str
    mass_kg: float
    held_by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckCargo:
    """One thing that rides on a deck.

    Attributes:
        copy: Which of several alike, from 1.
        box: Where it lies.
        fits: Whether it lies on the deck by itself, nothing else where it is.
        hangs_over: How far it reaches past the deck's outline, the worst side. [mm]
        strap, straps: What ties it down and how many; empty and 0 when nothing does.
        tied_to: ``unit``, names of factory anchors, or of rails on its deck.
        on_rails: Whether it is tied to rails on its deck.
    """

    what: str
    copy: int
    deck: str
    mass_kg: float
    box: Box
    fits: bool
    hangs_over: float
    strap: str
    straps: int
    tied_to: tuple[str, ...]
    on_rails: bool = False

    @property
    def on_unit(self) -> bool:
        """Whether the unit has to hold it: it is tied to it, or to nothing that is named."""
        return not self.tied_to or "unit" in self.tied_to or self.on_rails


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """Everything that the geometry decided for a job.

    Attributes:
        notes: How fixings were arranged where a drawing alone does not tell.
        packed: Where each thing of the carry list lies, when that has been worked out.
        refit: What was cut and read while building, when that has been taken into account.
        deck_cargo: What rides on decks.
        goods_places: Where stops, their blocks and hooks of nets stand.
    """

    job: Job
    thicknesses: tuple[ThicknessInUse, ...]
    skew: Skew
    blocks: tuple[BlockDesign, ...]
    wings: tuple[WingDesign, ...]
    parts: tuple[Part, ...]
    placed: tuple[PlacedPart, ...]
    fixings: tuple[PlacedFixing, ...]
    joints: tuple[Joint, ...]
    anchors: tuple[AnchorPoint, ...]
    gaps: tuple[Gap, ...]
    motions: tuple[Motion, ...]
    loose: tuple[LooseThing, ...]
    sums: tuple[Sum, ...]
    assumed: tuple[Assumption, ...]
    warnings: tuple[str, ...]
    hardware: tuple[tuple[str, int, str], ...]
    empty_kg: float
    contents_kg: float
    centre: Point3
    centre_empty: Point3
    notes: tuple[str, ...] = ()
    packed: PackedLoad | None = None
    refit: Refit | None = None
    deck_cargo: tuple[DeckCargo, ...] = ()
    goods_places: tuple[GoodsPlace, ...] = ()

    def thickness(self, material: str) -> ThicknessInUse:
        """Return the thickness in use of a material; it is known for every material of a part."""
        return next(row for row in self.thicknesses if row.material == material)

    def from_shoulders(self) -> Design:
        """Return the design with its placed pieces from shoulder to shoulder, tabs left out.

        What spans, bears and stands clear does so from the shoulders. Places in a part's own frame
        are those of its blank, so this is for looks at the placed pieces only.
        """
        if not any(any(piece.shoulders) for piece in self.placed):
            return self
        return replace(self, placed=tuple(piece.without_tabs() for piece in self.placed))

    def part(self, mark: str) -> Part:
        """Return a part by mark."""
        return next(part for part in self.parts if part.mark == mark)

    def opening(self, name: str) -> OpeningDesign:
        """Return an opening by name."""
        return next(o for block in self.blocks for o in block.openings if o.name == name)

    def placed_by_id(self, piece: str) -> PlacedPart:
        """Return a placed part by id."""
        return next(p for p in self.placed if p.id == piece)
