"""Making the unit: what to buy, the steps in order, hours. Values only."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["HoldPoint", "Making", "ScheduleRow", "Step", "StepFixing", "StepPart", "Task"]

type Stage = Literal[
    "cut", "machine", "carcass", "runners", "drawer", "finish", "install", "deck", "test"
]


@dataclass(frozen=True, slots=True, kw_only=True)
class ScheduleRow:
    """A row of the hardware schedule.

    Attributes:
        kind: ``screws``, ``bolts``, ``nuts``, ``washers``, ``runners``, ``latches``, ``glue`` …
        name: Catalogue name.
        quantity: Exactly what the placed fixings count.
        spare: Spares on top.
        unit: ``piece``, ``pair``, ``litre``, ``kg``, ``m``.
        packs: Packs to buy, and how many a pack holds (0, 0 when sold loose).
        used_for: Where, in words.
        price: Total price where the shop's prices are known.
        mass_kg: Mass of the quantity where known.
    """

    kind: str
    name: str
    quantity: float
    spare: float
    unit: str
    packs: tuple[int, int]
    used_for: tuple[str, ...]
    price: float | None
    mass_kg: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StepPart:
    """A part used in a step. ``first`` when the step introduces it."""

    mark: str
    copies: int
    placed: tuple[str, ...]
    first: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class StepFixing:
    """Fixings used in a step, with the ids of the placed ones.

    Runners and other goods that have no place of their own have no ids: a pair of runners counts 1.
    """

    type: str
    count: int
    ids: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldPoint:
    """Stop here and read: what to measure, what it must read, what to do when it does not.

    Attributes:
        what: What to measure, in words.
        least, most: What it must read. [mm]
        otherwise: What to do when it does not.
        reads: Where in the job the reading belongs when it is none of an opening:
            ``thickness`` of the sheets, ``bay``; else empty.
    """

    what: str
    least: float | None
    most: float | None
    otherwise: str
    reads: Literal["", "thickness", "bay"] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of the work.

    Attributes:
        number: From 1.
        stage: Which part of the work.
        title: One action.
        text: What to do, in short sentences.
        parts, fixings, tools: What it takes.
        checks: Check figures: "opening reads 514.5 to 515.0".
        hold_point: Where the work waits for a reading.
        cautions: Cautions that belong here.
        figure: Name of its figure, empty where it is done from another chapter's.
        kind: Stable word for programs: ``carcass``, ``runners``, ``modules``, ``install`` …
        about: What it is about: an opening, ``block/module``, a block, a side; may be empty.
    """

    number: int
    stage: Stage
    title: str
    text: tuple[str, ...]
    parts: tuple[StepPart, ...]
    fixings: tuple[StepFixing, ...]
    tools: tuple[str, ...]
    checks: tuple[str, ...]
    hold_point: HoldPoint | None
    cautions: tuple[str, ...]
    figure: str
    kind: str = ""
    about: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """Hours of one kind of work, with where the figure comes from."""

    what: str
    hours_amateur: float
    hours_shop: float
    basis: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Making:
    """How it is made."""

    schedule: tuple[ScheduleRow, ...]
    steps: tuple[Step, ...]
    tasks: tuple[Task, ...]
    removal_order: tuple[str, ...]
    cautions: tuple[str, ...]
    cost: tuple[tuple[str, float], ...]
