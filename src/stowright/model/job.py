"""A job: what was asked for, with every default filled in. Millimetres and kilograms."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from stowright.model.bay import Bay, Face, Vehicle

__all__ = [
    "Assumption",
    "Block",
    "Build",
    "CarryItem",
    "Column",
    "Deck",
    "DeckRail",
    "DonePart",
    "DoneStage",
    "Fill",
    "Job",
    "Lashed",
    "Lining",
    "Packers",
    "Place",
    "Reading",
    "RunnerFactors",
    "RunnerStated",
    "SheetInHand",
    "Spoiled",
    "TouchingPair",
    "Wings",
]

type FillKind = Literal["drawer", "tray", "open", "locker", "through", "blank"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumption:
    """A default that was taken because the job did not say.

    Attributes:
        field: Dotted path of the field: ``build.front_gap``.
        value: The value taken, as printed in the job's unit.
        why: Where the default comes from, with its standing in brackets.
    """

    field: str
    value: str
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Lashed:
    """What ties a piece of deck cargo down.

    Attributes:
        strap: Catalogue name of the strap; empty for the usual one.
        count: Number of straps, each from the cargo to one point.
        to: ``unit`` for rings bolted through the deck, or names of factory anchors.
    """

    strap: str
    count: int
    to: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CarryItem:
    """Something that has to go in. Size is (length, width, height).

    ``goes_with`` and ``never_with`` name other items that it should, or must not, stand with.
    ``on`` names the deck that it rides on instead of living in an opening, ``at`` where the middle
    of the first one lies there (x, y), ``lash`` what ties it down.
    """

    what: str
    size: tuple[float, float, float]
    mass: float
    quantity: int
    keep_upright: bool
    goes_in: str
    clear_above: float
    hazard: Literal["", "gas", "fuel", "battery", "aerosol"]
    used: Literal["daily", "trip", "seldom"]
    goes_with: tuple[str, ...] = ()
    never_with: tuple[str, ...] = ()
    on: str = ""
    at: tuple[float, float] | None = None
    lash: Lashed | None = None

    @property
    def stays_upright(self) -> bool:
        """Whether it never lies on a side: what has a lid or hand room above it does not."""
        return self.keep_upright or self.clear_above > 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class TouchingPair:
    """Two things that touch or nearly touch, and what lies between them.

    ``lies`` is in words: ``felt``, ``foam``, ``rubber``, ``glue``, ``bolted`` … or ``none``.
    """

    between: tuple[str, str]
    lies: str
    gap: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Packers:
    """What stands between the load floor and the carcass."""

    how: Literal["on-ribs", "in-valleys", "none"]
    sheet: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Lining:
    """Thickness of lining on one face: inside drawers' runners side, carcass, bay walls."""

    drawer: float
    carcass: float
    bay: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RunnerFactors:
    """What a runner's rating is multiplied by; every factor has a name and can be changed.

    Attributes:
        vehicle: Road use, on a rating for buildings; 1 leaves it out.
        flat: Runners that lie flat; 1 leaves it out.
        width: Whether min(1, length / width) is counted.
        length: Whether min(1, basis length / length) is counted, where the rating was taken on
            another length.
    """

    vehicle: float = 0.5
    flat: float = 0.25
    width: bool = True
    length: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class RunnerStated:
    """What the maker of the runners in hand states, over the catalogue's; None: nothing. [N].

    Attributes:
        lateral: What a pair takes sideways while it is shut.
        stop: What the shut stops of a pair take towards the back.
        lock: What one lock holds.
    """

    lateral: float | None = None
    stop: float | None = None
    lock: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Build:
    """Materials and methods. Each block, column and fill carries its own resolved copy.

    ``slots`` and ``fit_allowance`` (None: the usual one) are those of tab-and-slot joints.
    """

    method: Literal["hand", "panel", "cnc"] = "hand"
    saw: str = "track"
    carcass: str = "ply-15"
    drawer: str = "ply-15"
    drawer_bottom: str = "ply-12"
    front_sheet: str = "ply-15"
    deck_sheet: str = "ply-15"
    runner: str = "auto"
    joint: Literal["butt", "rebate", "housing", "tab-and-slot"] = "butt"
    joint_depth: float | None = None
    slots: Literal["through", "blind"] | None = None
    fit_allowance: float | None = None
    carcass_kind: Literal["box", "frame"] = "box"
    top: Literal["rails", "panel", "deck"] = "rails"
    rails: int = 3
    rail_width: float = 90.0
    back: Literal["panel", "frame", "none"] = "panel"
    between_fills: Literal["shelf", "rail", "none"] = "shelf"
    bottom_fit: Literal["between", "planted", "grooved"] = "grooved"
    groove_depth: float = 6.0
    groove_up: float = 10.0
    front: Literal["inset", "overlay"] = "inset"
    lap: float | None = None
    lever: Literal["notch", "narrow", "hand-hole", "none"] = "notch"
    front_gap: float = 3.0
    under_gap: float = 8.0
    over_gap: float = 10.0
    side_clear: float = 5.0
    end_clear: float = 10.0
    back_room: float = 10.0
    module_gap: float = 1.0
    packers: Packers = Packers(how="on-ribs", sheet="ply-12")
    lining: Lining = Lining(drawer=0.0, carcass=0.0, bay=0.0)
    grain: Literal["long", "across", "strongest"] = "long"
    runner_up: float = 0.0
    handle_projection: float = 0.0
    finish: str = "clear"
    runner_factors: RunnerFactors = RunnerFactors()
    runner_stated: RunnerStated = RunnerStated()


@dataclass(frozen=True, slots=True, kw_only=True)
class Fill:
    """What fills one opening of a stack.

    Attributes:
        name: Unique opening name (given, or made from block, column and place).
        height: Clear opening height, or None for a share of what is left.
        weight: Weight of the share.
        least: Least clear height, or None.
        door: Locker door, ``drop`` or ``lift``; empty otherwise.
        lock: Runner lock wanted: ``in``, ``out``, ``in-out`` or empty (the program chooses).
        latch: Name of a latch wanted, or empty (the program chooses).
        net: A net across the opening.
        sides: Height of tray sides, 0 for a flat tray.
        cable_way: Diameter of a cable way through the back, 0 for none.
        vent: Free area of a vent asked for, in cm2, 0 for none.
    """

    fill: FillKind
    name: str
    height: float | None
    weight: float
    least: float | None
    door: Literal["", "drop", "lift"]
    lock: str
    latch: str
    net: bool
    sides: float
    cable_way: float
    vent: float
    build: Build


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column: clear opening width (None is a share) and its stack from the floor up."""

    width: float | None
    weight: float
    least: float | None
    stack: tuple[Fill, ...]
    build: Build


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where a block goes: a word, beside another block, or ranges on any axis."""

    word: Literal["fill", "left", "right", "tail", "cab"]
    beside: str
    x: tuple[float, float] | None
    y: tuple[float, float] | None
    z: tuple[float, float] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Wings:
    """What covers the space over the arches beside a block."""

    left: Literal["fixed", "lid", "none"]
    right: Literal["fixed", "lid", "none"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A body of one or more carcasses that opens to one face.

    Columns run from left to right as you look at the face, stacks from the floor up.
    """

    name: str
    face: Face
    place: Place
    modules: Literal["separate", "shared"]
    over_arches: Literal["no", "yes", "offer"]
    columns: tuple[Column, ...]
    clear_at_face: float
    wings: Wings
    build: Build


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckRail:
    """A rail with tie points, bolted along an edge of a deck.

    Attributes:
        name: What a strap is said to go to.
        side: The edge that it lies along.
        rating_n: What one tie point takes in any direction, as its maker states it: a working
            load; None when unknown, and then nothing tied to it is rated. [N]
        inset: From the edge of the deck to the middle of the rail.
        pitch: Distance of its bolts at most.
    """

    name: str
    side: Literal["left", "right", "tail", "cab"]
    rating_n: float | None
    inset: float
    pitch: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Deck:
    """The platform on top of one or more blocks.

    ``top`` is the z of its upper surface when given; else it lies ``below_rail`` under the rail.
    ``sleeper`` is the height of the tallest person who sleeps on it, 0 when nobody does.
    """

    name: str
    over: tuple[str, ...]
    kind: Literal["fixed", "lift-out"]
    below_rail: float
    top: float | None
    back: Literal["block", "wall"]
    overhang: float
    build: Build
    sleeper: float = 0.0
    rails: tuple[DeckRail, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetInHand:
    """A sheet or remnant that the shop has. ``thickness`` holds caliper readings."""

    id: str
    material: str
    length: float
    width: float
    thickness: tuple[float, ...]
    defects: tuple[tuple[float, float, float, float], ...]
    count: int
    price: float | None
    offcut: bool
    only_in_hand: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class DonePart:
    """A part that is cut or fitted. ``size`` is as cut, or None when the plan must tell."""

    mark: str
    size: tuple[float, float, float] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class DoneStage:
    """Parts that can no longer change."""

    stage: Literal["cut", "fitted"]
    parts: tuple[DonePart, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Spoiled:
    """A part that was spoiled and has to be cut again.

    ``size`` is as it was cut, for the copy of several that is meant; None where that is clear.
    """

    mark: str
    size: tuple[float, float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A reading taken while building: of an opening or of a block."""

    opening: str
    block: str
    what: str
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """Everything that a job file says, defaults filled in.

    Attributes:
        units: ``mm`` or ``in``: the unit of print.
        cut_grid: Sizes are snapped to multiples of this; 0 means the saw can cut any size. [mm]
        measured_thickness: Caliper readings by material.
        assumed: Every default taken.
        warnings: What is odd, and keys that do nothing yet, a line each.
        tape: Class of the tape that the work is measured with.
        service_class: How damp the wood lives, EN 1995-1-1.
        contacts: Pairs that touch, as the job states them.
    """

    title: str
    client: str
    units: Literal["mm", "in"]
    rules: str
    road: Literal["sealed", "rough"]
    cut_grid: float
    bay: Bay
    vehicle: Vehicle | None
    carry: tuple[CarryItem, ...]
    blocks: tuple[Block, ...]
    decks: tuple[Deck, ...]
    build: Build
    measured_thickness: tuple[tuple[str, tuple[float, ...]], ...]
    sheets: tuple[SheetInHand, ...]
    done: tuple[DoneStage, ...]
    spoiled: tuple[Spoiled, ...]
    readings: tuple[Reading, ...]
    assumed: tuple[Assumption, ...]
    warnings: tuple[str, ...]
    tape: Literal["I", "II", "III"] = "II"
    service_class: Literal[1, 2, 3] = 2
    contacts: tuple[TouchingPair, ...] = ()
