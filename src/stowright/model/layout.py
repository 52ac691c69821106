"""What is cut from what: parts to cut, stock sheets, the saw, and the cutting plan.

All lengths are in millimetres. On a sheet x runs along its length (the direction of the face
grain), y across it; the origin is the corner of the whole sheet, the edge trim included.
The plan maps one to one to the ``cutting`` object of ``plan.json``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = [
    "Cut",
    "CutLeaf",
    "CutNode",
    "CutPart",
    "CuttingPlan",
    "EdgeTrim",
    "Layout",
    "MaterialResult",
    "Offcut",
    "Piece",
    "SawSettings",
    "SettingGroup",
    "StockSheet",
    "StockUse",
    "Unplaced",
]

type Axis = Literal["x", "y"]
type Method = Literal["hand", "panel", "cnc"]
type Release = Literal["A", "B"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPart:
    """One row of the list of parts to cut.

    Attributes:
        mark: Short unique mark; unique within its job.
        name: What it is, in words.
        length: Size along the grain when ``grain`` is set, else either size. [mm]
        width: The other size. [mm]
        thickness: Thickness of the sheet it comes from; only used for its mass. [mm]
        quantity: How many.
        material: Name of the sheet material.
        grain: True when the length must run along the sheet's length.
        release: ``"A"`` is cut now, ``"B"`` waits for a measurement on the assembled body.
        job: Which job it belongs to, for a batch.
    """

    mark: str
    length: float
    width: float
    material: str
    name: str = ""
    thickness: float = 0.0
    quantity: int = 1
    grain: bool = False
    release: Release = "A"
    job: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSheet:
    """One kind of sheet that can be cut up.

    Attributes:
        id: Unique within the stock.
        material: Name of the sheet material.
        length: Size along the face grain, as delivered. [mm]
        width: Size across it. [mm]
        name: What it is, in words.
        copies: How many there are; None when any number can be bought.
        cost: What using one counts for in the search. None: nothing for stock in hand, else the
            price when every bought sheet of the material has one, else the area in m2.
        price: The shop's price for one, if known; only printed.
        in_hand: True for stock that the shop has.
        offcut: True for a remnant of an earlier job.
        defects: Places that no part may touch, each ``(x, y, along, across)``. [mm]
        mass: Mass of one whole sheet; None when not known. [kg]
    """

    id: str
    material: str
    length: float
    width: float
    name: str = ""
    copies: int | None = None
    cost: float | None = None
    price: float | None = None
    in_hand: bool = False
    offcut: bool = False
    defects: tuple[tuple[float, float, float, float], ...] = ()
    mass: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SawSettings:
    """The saw and the rules of the bench.

    Attributes:
        method: ``hand`` (track or circular saw), ``panel`` (table or wall saw: rips, then
            crosscuts, then one more stage) or ``cnc`` (free rectangles, no edge-to-edge rule).
        kerf: Width lost to the blade; for ``cnc`` the cutter's diameter. [mm]
        trim: Taken off each edge of a sheet; for ``cnc`` the clamp margin. [mm]
        good_face_down: The good-face rule of this saw.
        carry: What one person may carry. [kg]
        hold: Narrowest piece in hand that can be held while a strip is cut along it. [mm]
        keep_length: Least longer side of an offcut worth keeping. [mm]
        keep_width: Least shorter side of an offcut worth keeping. [mm]
    """

    method: Method = "hand"
    kerf: float = 3.0
    trim: float = 10.0
    good_face_down: bool = True
    carry: float = 25.0
    hold: float = 40.0
    keep_length: float = 300.0
    keep_width: float = 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A part as it lies on a sheet.

    Attributes:
        mark: The part's mark.
        x: Lower edge along the sheet's length. [mm]
        y: Lower edge across it. [mm]
        along: Extent along the sheet's length. [mm]
        across: Extent across it. [mm]
        turned: True when the part's length runs across the sheet.
        job: The job that the part belongs to.
    """

    mark: str
    x: float
    y: float
    along: float
    across: float
    turned: bool
    job: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutLeaf:
    """One of the pieces that a cut leaves.

    Attributes:
        what: ``piece`` (a finished part), ``rest`` (to be cut again), ``offcut`` or ``scrap``.
        name: The part's mark or the offcut's name; empty for a rest and for scrap.
        x: Lower edge along the sheet's length. [mm]
        y: Lower edge across it. [mm]
        along: Extent along the sheet's length. [mm]
        across: Extent across it. [mm]
    """

    what: Literal["piece", "rest", "offcut", "scrap"]
    name: str
    x: float
    y: float
    along: float
    across: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One saw line, edge to edge of the piece in hand.

    Attributes:
        order: Number in the order of work, from 1 on each layout.
        axis: Axis that ``at`` is measured along: a cut with axis x is a line of constant x.
        at: Lower edge of the kerf, which is the finished edge of the piece on that side. [mm]
        start: Where the line starts, on the other axis. [mm]
        end: Where it ends. [mm]
        leaves: What it leaves, lower side first; one entry when the rest is all sawdust.
        setting: Fence or stop distance: from the datum edge of the piece in hand to ``at``. [mm]
        kind: ``break`` (makes a heavy piece light enough to carry), ``rip`` (along the sheet's
            length), ``crosscut`` or ``trim`` (brings a piece to size, the other side is waste).
        level: Stage of the cut, 1 for the first.
        narrow: True when the piece in hand is narrower than can be held: clamp it to a carrier.
        release: ``"B"`` when the piece in hand holds nothing but parts of that release.
    """

    order: int
    axis: Axis
    at: float
    start: float
    end: float
    leaves: tuple[CutLeaf, ...]
    setting: float
    kind: Literal["break", "rip", "crosscut", "trim"]
    level: int
    narrow: bool = False
    release: Release = "A"


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeTrim:
    """A factory edge to be taken off before the piece is cut from it.

    Attributes:
        edge: Which edge of the whole sheet.
        at: Where the trimmed edge lies. [mm]
        start: Start of the line on the other axis. [mm]
        end: Its end. [mm]
        before: Order of the first cut that needs it; 0 when none follows.
    """

    edge: Literal["left", "right", "bottom", "top"]
    at: float
    start: float
    end: float
    before: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """What is left over.

    Attributes:
        name: Name to write on it; empty for scrap.
        x: Lower edge along the sheet's length. [mm]
        y: Lower edge across it. [mm]
        along: Extent along the sheet's length. [mm]
        across: Extent across it. [mm]
        keep: True when it is large enough to go back on the rack.
    """

    name: str
    x: float
    y: float
    along: float
    across: float
    keep: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class CutNode:
    """A rectangle in the tree of edge-to-edge cuts.

    Attributes:
        x: Lower edge along the sheet's length. [mm]
        y: Lower edge across it. [mm]
        along: Extent along the sheet's length. [mm]
        across: Extent across it. [mm]
        axis: Axis along which it is divided; None for a rectangle that is not cut again.
        children: The parts it is divided into, lower first, one kerf between neighbours.
        mark: The part that an undivided rectangle is; empty for waste.
        job: The part's job.
        turned: True when the part lies turned.
    """

    x: float
    y: float
    along: float
    across: float
    axis: Axis | None = None
    children: tuple[CutNode, ...] = ()
    mark: str = ""
    job: str = ""
    turned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """How one sheet is cut up, or several sheets alike.

    Attributes:
        number: Number of the layout in the plan, from 1.
        sheet: Id of the stock sheet.
        material: Its material.
        copies: How many sheets are cut like this.
        kerf: Kerf it was made for. [mm]
        trim: Edge trim it was made for. [mm]
        pieces: The parts on it.
        cuts: The saw lines inside the trimmed sheet, in order; empty for ``cnc``.
        offcuts: What is left, largest first.
        trims: The factory edges to take off.
        tree: The tree of cuts inside the trimmed sheet; None for ``cnc``.
        fits_by: Least room left over in any strip that is divided. [mm]
    """

    number: int
    sheet: str
    material: str
    copies: int
    kerf: float
    trim: float
    pieces: tuple[Piece, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]
    trims: tuple[EdgeTrim, ...] = ()
    tree: CutNode | None = None
    fits_by: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StockUse:
    """A stock sheet as the plan uses it.

    Attributes:
        sheet: Id of the stock sheet.
        material: Its material.
        length: Size along the face grain. [mm]
        width: Size across it. [mm]
        origin: ``in hand``, ``offcut in hand`` or ``buy``.
        used: How many are used.
        available: How many there are; None without limit.
        price: The shop's price for one, if known.
        name: What it is, in words.
        defects: Places that no part may touch.
    """

    sheet: str
    material: str
    length: float
    width: float
    origin: Literal["in hand", "offcut in hand", "buy"]
    used: int
    available: int | None
    price: float | None
    name: str = ""
    defects: tuple[tuple[float, float, float, float], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Unplaced:
    """Parts that the stock did not reach for.

    Attributes:
        mark: The part's mark.
        quantity: How many of it are left over.
        job: Its job.
    """

    mark: str
    quantity: int
    job: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingGroup:
    """All cuts made at one fence or stop setting.

    Attributes:
        material: Sheet material.
        setting: The distance to set. [mm]
        cuts: The cuts, each ``(layout number, order)``.
    """

    material: str
    setting: float
    cuts: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class MaterialResult:
    """What came out for one material.

    Attributes:
        material: Sheet material.
        sheets: Sheets used.
        lower_bound: Sheets that no layout can do without.
        cost: What the sheets used count for, in the units of the stock's costs.
        cost_bound: Cost that no layout can go below.
        proved_least: True when no layout costs less.
        reason: The proof in words, or how far it falls short.
        release_b: What keeping the B release on sheets of its own costs, in words; empty when
            there is no second release.
        found_by: Which member of the portfolio made the layout.
        stopped: True when a time limit or the caller ended the search before its budget.
    """

    material: str
    sheets: int
    lower_bound: int
    cost: float
    cost_bound: float
    proved_least: bool
    reason: str
    release_b: str = ""
    found_by: str = ""
    stopped: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingPlan:
    """The cutting plan of a job or of a batch of jobs.

    Attributes:
        stock: The sheets that are used, in the order given.
        layouts: How each is cut.
        sheets: Sheets used in all.
        lower_bound: Sheets that no layout can do without, summed over the materials.
        proved_least: True when it is proved for every material that no layout costs less.
        bound_reason: The proofs in words.
        saw_lines: Separating and trimming lines inside the trimmed sheets, copies counted.
        settings: Distinct fence and stop settings.
        cut_metres: Length of those lines; for ``cnc`` of the pieces' edges. [m]
        trim_metres: Length of the edge trims. [m]
        part_area: Area of the parts. [m2]
        kerf_area: Area lost to the blade inside the trimmed sheets. [m2]
        trim_area: Area of the trimmed edges. [m2]
        offcut_area: Area of offcuts worth keeping. [m2]
        scrap_area: Area of the rest. [m2]
        materials: Result for each material.
        setting_groups: Which cuts share a setting, across sheets.
        unplaced: Parts that the stock did not reach for; empty unless that was allowed.
        method: The cutting method.
        good_face_down: The good-face rule of the saw.
    """

    stock: tuple[StockUse, ...]
    layouts: tuple[Layout, ...]
    sheets: int
    lower_bound: int
    proved_least: bool
    bound_reason: str
    saw_lines: int
    settings: int
    cut_metres: float
    trim_metres: float = 0.0
    part_area: float = 0.0
    kerf_area: float = 0.0
    trim_area: float = 0.0
    offcut_area: float = 0.0
    scrap_area: float = 0.0
    materials: tuple[MaterialResult, ...] = ()
    setting_groups: tuple[SettingGroup, ...] = ()
    unplaced: tuple[Unplaced, ...] = ()
    method: Method = "hand"
    good_face_down: bool = True
