"""The survey of a bay: which readings are asked for by its kind, numbered as on the drawing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from stowright.units import format_length

if TYPE_CHECKING:
    from stowright.model.design import Design

__all__ = ["Reading", "Table", "emerging", "readings_of", "tables_of_kind"]

type Kind = str


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A reading that the survey asks for.

    Attributes:
        number: Number of its arrow.
        path: Where it stands in the job file.
        label: What is read, in words.
        help_name: Name of its help; empty for none.
        kinds: The kinds of bay that it is asked for.
        needed: Whether a job cannot do without.
    """

    number: int
    path: str
    label: str
    help_name: str = ""
    kinds: tuple[Kind, ...] = ("tub", "van", "wagon", "tray")
    needed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Readings that are taken at several places.

    Attributes:
        path: The list in the job file.
        title: What is read.
        columns: Key, label and whether it is a length, for each column.
        fresh: A new row as it is first written.
        help_name: Name of its help.
        kinds: The kinds of bay that it is asked for.
        number: Number of its arrow.
    """

    path: str
    title: str
    columns: tuple[tuple[str, str], ...]
    fresh: tuple[tuple[str, object], ...]
    help_name: str
    number: int
    kinds: tuple[Kind, ...] = ("tub", "van", "wagon", "tray")


_READINGS = (
    Reading(number=1, path="bay.length", label="Length on the floor", needed=True),
    Reading(number=2, path="bay.width", label="Width on the floor at the tail", needed=True),
    Reading(
        number=3, path="bay.rail", label="Floor to side rail", help_name="rail",
        kinds=("tub", "tray"),
    ),
    Reading(
        number=4, path="bay.clear_height", label="Floor to roof, canopy or lid",
        kinds=("tub", "van", "wagon"),
    ),
    Reading(number=5, path="bay.cove", label="Radius of the corner at the floor", help_name="cove"),
    Reading(
        number=6, path="bay.diagonals[1]", label="Diagonal, left tail to right cab",
        help_name="diagonals",
    ),
    Reading(number=7, path="bay.diagonals[2]", label="Diagonal, right tail to left cab"),
    Reading(
        number=0, path="bay.reading_error", label="A reading may be out by",
        help_name="reading-error",
    ),
)  # fmt: skip
_TABLES = (
    Table(
        path="bay.widths", title="Widths at stations", number=8, help_name="station",
        columns=(
            ("at", "from the tail"), ("height", "at height"), ("width", "width"),
            ("left", "or to the left"), ("right", "and right"),
        ),
        fresh=(("at", 0), ("height", 0)),
    ),
    Table(
        path="bay.between", title="Clear between the arches", number=9, help_name="between",
        columns=(("at", "from the tail"), ("height", "at height"), ("width", "clear width")),
        fresh=(("at", 0), ("height", 0)), kinds=("tub", "van", "wagon"),
    ),
    Table(
        path="bay.arches", title="Wheel arches", number=10, help_name="arch",
        columns=(
            ("start", "starts"), ("end", "ends"), ("height", "height"), ("reach", "reach"),
        ),
        fresh=(), kinds=("tub", "van", "wagon"),
    ),
    Table(
        path="bay.lengths", title="Lengths higher up and beside", number=11, help_name="station",
        columns=(("height", "at height"), ("y", "off the middle"), ("length", "length")),
        fresh=(("height", 0), ("y", 0)),
    ),
    Table(
        path="bay.tail_lean", title="Tail leans in", number=12, help_name="lean",
        columns=(("height", "at height"), ("x", "stands in by")), fresh=(("height", 0),),
    ),
    Table(
        path="bay.opening", title="Doorways", number=13, help_name="sill",
        columns=(
            ("width", "clear width"), ("height", "clear height"), ("sill_rise", "step"),
            ("above_ground", "above the ground"),
        ),
        fresh=(("face", "tail"),),
    ),
)  # fmt: skip


def readings_of(kind: str) -> tuple[Reading, ...]:
    """Return the plain readings that a kind of bay is asked for, in the order of their arrows."""
    return tuple(each for each in _READINGS if kind in each.kinds)


def tables_of_kind(kind: str) -> tuple[Table, ...]:
    """Return the readings at several places that a kind of bay is asked for."""
    return tuple(each for each in _TABLES if kind in each.kinds)


def emerging(design: Design) -> tuple[tuple[str, str], ...]:
    """Return what the readings come to: worst sizes, skew, the room left for each block."""
    bay, units = design.job.bay, design.job.units

    def shown(mm: float) -> str:
        return format_length(mm, units, with_unit=True)

    widths = [bay.width, *(s.width for s in bay.widths), *(s.width for s in bay.between)]
    lengths = [bay.length, *(row.length for row in bay.lengths)]
    skew = design.skew
    cause = "side walls or headboard" if skew.cause == "not known which" else skew.cause
    lean = f"{shown(skew.lean)}, between {shown(skew.low)} and {shown(skew.high)}: {cause}"
    rows = [
        ("Worst width", shown(min(widths))),
        ("Worst length", shown(min(lengths))),
        ("Out of square", skew.cause if skew.cause == "not measured" else lean),
    ]
    for block in design.blocks:
        box = block.usable.box
        sizes = " × ".join(shown(span.size) for span in (box.x, box.y, box.z))
        rows.append((f"Room for {block.name}", f"{sizes} (long, wide, high)"))
    return tuple(rows)
