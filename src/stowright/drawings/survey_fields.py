"""What is measured on a vehicle: one number for each field of the job file, a letter per reading.

The numbers are the same for every kind of bay, so that a form, the measure-first page and a job
file can be held beside one another; a kind leaves out what it has not.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["KINDS", "SurveyField", "SurveyReading", "field_number", "survey_fields"]

type Kind = Literal["tub", "van", "wagon", "tray"]

KINDS: tuple[Kind, ...] = ("tub", "van", "wagon", "tray")
_ALL = frozenset(KINDS)
_ARCHED: frozenset[Kind] = frozenset({"tub", "van", "wagon"})
_RAILED: frozenset[Kind] = frozenset({"tub", "tray"})
_DOORED: frozenset[Kind] = frozenset({"van", "wagon", "tray"})
_SIDED: frozenset[Kind] = frozenset({"van", "tray"})


@dataclass(frozen=True, slots=True, kw_only=True)
class SurveyReading:
    """One reading: its label on the drawing, the key it goes to, and what is read."""

    label: str
    key: str
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SurveyField:
    """A field of the job file.

    Attributes:
        number: Its number, on every form.
        field: Its name in the job file.
        readings: What is read for it.
        kinds: The kinds of bay that have it.
    """

    number: int
    field: str
    readings: tuple[SurveyReading, ...]
    kinds: frozenset[Kind]


def _field(
    number: int, field: str, kinds: frozenset[Kind], *readings: tuple[str, str]
) -> SurveyField:
    letters = "abcdefgh" if len(readings) > 1 else ("",)
    return SurveyField(
        number=number,
        field=field,
        readings=tuple(
            SurveyReading(label=f"{number}{letter}", key=key, what=what)
            for letter, (key, what) in zip(letters, readings, strict=False)
        ),
        kinds=kinds,
    )


_FIELDS: tuple[SurveyField, ...] = (
    _field(1, "bay.length", _ALL, ("length", "floor, tail plane to headboard, on the centre line")),
    _field(2, "bay.width", _ALL, ("width", "floor, wall to wall, the least of what is read")),
    _field(
        3,
        "bay.widths",
        _ALL,
        ("at, height 0, width", "floor, near the tail"),
        ("at, height 0, width", "floor, near the headboard"),
        ("at, height, width", "at the height of the unit's top, near the tail"),
        ("at, height, width", "at the height of the unit's top, near the headboard"),
    ),
    _field(
        4,
        "bay.between",
        _ARCHED,
        ("at, width", "clear between the arches, tail end"),
        ("at, width", "clear between the arches, headboard end"),
    ),
    _field(
        5,
        "bay.lengths",
        _ALL,
        ("height 0, y, length", "floor, along the left wall"),
        ("height 0, y, length", "floor, along the right wall"),
        ("height, y 0, length", "at the height of the unit's top"),
    ),
    _field(
        6,
        "bay.diagonals",
        _ALL,
        ("first", "floor, left tail corner to right front corner"),
        ("second", "floor, right tail corner to left front corner"),
    ),
    _field(
        7,
        "bay.arches, left",
        _ARCHED,
        ("start", "tail plane to the arch's start"),
        ("end", "tail plane to its end"),
        ("height", "floor to its top"),
        ("reach", "wall to its inner face"),
    ),
    _field(
        8,
        "bay.arches, right",
        _ARCHED,
        ("start", "tail plane to the arch's start"),
        ("end", "tail plane to its end"),
        ("height", "floor to its top"),
        ("reach", "wall to its inner face"),
    ),
    _field(9, "bay.rail", _RAILED, ("rail", "floor to the top of the side rail")),
    _field(
        10, "bay.clear_height", _ALL, ("clear_height", "floor to roof or canopy, if there is one")
    ),
    _field(
        11,
        "bay.tail_lean",
        _ALL,
        ("height, x", "how far the shut tail stands in, at the height of the unit's top"),
    ),
    _field(12, "bay.cove", _ALL, ("cove", "radius of the fillet between floor and wall")),
    _field(
        13,
        "bay.opening, tail",
        _ALL,
        ("width", "clear width of the doorway"),
        ("height", "clear height of the doorway; none where it is open above"),
        ("sill_rise", "step above the load floor"),
        ("above_ground", "ground to the sill"),
    ),
    _field(
        14,
        "bay.opening, side",
        _SIDED,
        ("at", "tail plane to the side doorway's start"),
        ("width", "clear width of the side doorway"),
        ("height", "clear height of the side doorway"),
    ),
    _field(
        15,
        "bay.tailgate",
        frozenset({"tub", "wagon"}),
        ("length", "hinge to free edge"),
        ("open_top", "z of its upper surface when open (minus: below the floor)"),
    ),
    _field(
        16,
        "bay.floor",
        _ALL,
        ("thickness", "of the floor's sheet"),
        ("rib_depth", "valley to rib top"),
        ("rib_pitch", "rib to rib"),
    ),
    _field(17, "bay.anchors", _ALL, ("x, y, thread", "each factory anchor")),
    _field(
        18,
        "bay.no_drill, belts, access",
        _ALL,
        ("x, y", "tank, lines and looms beneath; belt anchorages; spare and jack"),
    ),
    _field(
        19,
        "vehicle",
        _ALL,
        ("wheelbase", "axle to axle"),
        ("rear_axle_x", "tail plane to the rear axle"),
    ),
)


def survey_fields(kind: Kind) -> tuple[SurveyField, ...]:
    """Return the fields that a kind of bay has, in the order of their numbers."""
    return tuple(field for field in _FIELDS if kind in field.kinds)


def field_number(name: str) -> str:
    """Return the number of a job file's field: ``bay.widths[2]`` gives ``3``; empty if none."""
    plain = name.split("[", maxsplit=1)[0]
    for field in _FIELDS:
        if field.field.split(",")[0] == plain:
            return str(field.number)
    return ""
