"""What designs are compared by, and when one beats another.

Differences that nobody would choose by (less than a criterion's step) are not counted: values are
compared in whole steps.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import floor
from typing import Literal

__all__ = ["CRITERIA", "Criterion", "Measures", "criteria_known", "stepped", "worth"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """The numbers of a design that choices are made by.

    Attributes:
        litres: Inside of everything that holds things, under lids of wings too; of what does not
            slide out only as far in as an arm reaches. [litre]
        mass_kg: The unit, empty. [kg]
        sheets: Sheets cut up; before the cut, the share of a sheet by area. [-]
        cost: Sheets and runners by the shop's prices; None where one is not known.
        axle_margin_kg: What the axle nearest its limit, or the whole, has left; None without
            a vehicle. [kg]
        height_mm: Upper face of the unit. [mm]
        sleeping_mm: Length of the longest deck; None where nobody sleeps on it. [mm]
        worst_use: Greatest demand over capacity of the proofs; None before they were made. [-]
        cuts: Saw lines; before the cut, pieces. [-]
    """

    litres: float
    mass_kg: float
    sheets: float
    cost: float | None
    axle_margin_kg: float | None
    height_mm: float
    sleeping_mm: float | None
    worst_use: float | None
    cuts: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Criterion:
    """Something to compare by.

    Attributes:
        name: Field of ``Measures``.
        title: In words.
        unit: As printed; empty where it has none.
        better: Whether more or less is better.
        step: Differences below it are not counted.
        best: What the best one is called: ``the roomiest``.
        gives_up: How a worse value is told: ``less room``.
    """

    name: str
    title: str
    unit: str
    better: Literal["more", "less"]
    step: float
    best: str
    gives_up: str


CRITERIA: tuple[Criterion, ...] = (
    Criterion(
        name="litres",
        title="Room that can be used",
        unit="l",
        better="more",
        step=5.0,
        best="the roomiest",
        gives_up="less room",
    ),
    Criterion(
        name="mass_kg",
        title="Mass, empty",
        unit="kg",
        better="less",
        step=1.0,
        best="the lightest",
        gives_up="heavier",
    ),
    Criterion(
        name="sheets",
        title="Sheets",
        unit="",
        better="less",
        step=0.5,
        best="the fewest sheets",
        gives_up="more sheets",
    ),
    Criterion(
        name="cost",
        title="Sheets and runners",
        unit="cost",
        better="less",
        step=5.0,
        best="the cheapest",
        gives_up="dearer",
    ),
    Criterion(
        name="axle_margin_kg",
        title="Left on the axle nearest its limit",
        unit="kg",
        better="more",
        step=2.0,
        best="the most left on its axles",
        gives_up="less left on an axle",
    ),
    Criterion(
        name="height_mm",
        title="Height",
        unit="mm",
        better="less",
        step=10.0,
        best="the lowest",
        gives_up="higher",
    ),
    Criterion(
        name="sleeping_mm",
        title="Sleeping length",
        unit="mm",
        better="more",
        step=10.0,
        best="the longest to sleep on",
        gives_up="shorter to sleep on",
    ),
    Criterion(
        name="worst_use",
        title="Most used part of its strength",
        unit="%",
        better="less",
        step=0.05,
        best="the strongest for its load",
        gives_up="nearer a limit",
    ),
    Criterion(
        name="cuts",
        title="Saw lines",
        unit="",
        better="less",
        step=5.0,
        best="the fewest cuts",
        gives_up="more cuts",
    ),
)


def criteria_known(rows: Iterable[Measures]) -> tuple[Criterion, ...]:
    """Return the criteria that every design has a value for."""
    all_rows = tuple(rows)
    return tuple(
        each for each in CRITERIA if all(getattr(row, each.name) is not None for row in all_rows)
    )


def worth(row: Measures, criteria: Sequence[Criterion]) -> tuple[float, ...]:
    """Return a design's values in steps, turned so that less is better; nothing is 0."""
    return tuple(
        (value if each.better == "less" else -value) / each.step
        for each in criteria
        for value in (float(getattr(row, each.name) or 0.0),)
    )


def stepped(row: Measures, criteria: Sequence[Criterion]) -> tuple[int, ...]:
    """Return a design's values in whole steps, turned so that less is better."""
    return tuple(floor(value + 0.5) for value in worth(row, criteria))
