"""The tables of the catalogue: which columns a row has and what each takes.

A table's ``needed`` columns must be there (in the row, or in the row that it overrides); an
``optional`` one falls back on the value written here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from stowright.catalogue.cells import (
    COUNT,
    FLAG,
    FLAT_NAME,
    NAME,
    NOT_NEGATIVE,
    PAIR,
    PLACES,
    POSITIVE,
    POSITIVES,
    TEXT,
    TRIPLE,
    Cell,
    words,
)
from stowright.model.catalogue import (
    Adhesive,
    Bolt,
    Finish,
    Hardware,
    Material,
    Nut,
    Runner,
    Saw,
    Screw,
    StockSize,
    Thing,
    Washer,
)

__all__ = [
    "BASIS",
    "HOLE_PATTERN",
    "ORIGIN",
    "SIDE_SPACE",
    "SIZE",
    "STANDING",
    "STANDINGS",
    "TABLES",
    "Table",
]

STANDINGS: Final = ("published", "common practice", "from memory", "assumed")
STANDING: Final = words(*STANDINGS)
BASIS: Final = words("characteristic", "mean ultimate", "allowable", "common practice")

#: Columns that any row may carry.
ORIGIN: Final[Mapping[str, Cell]] = {"source": TEXT, "standing": STANDING}


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One table: its key in the file, the value its rows become, and its columns.

    ``name_from`` is the name of a row that gives none, with ``{column}`` standing for its cells.
    """

    key: str
    value: type
    needed: Mapping[str, Cell]
    optional: Mapping[str, tuple[Cell, Any]] = field(default_factory=dict)
    name_from: str = ""

    def cell(self, column: str) -> Cell | None:
        """Return what a column takes, or None when the table has no such column."""
        if column in self.needed:
            return self.needed[column]
        if column in self.optional:
            return self.optional[column][0]
        return ORIGIN.get(column)

    @property
    def columns(self) -> tuple[str, ...]:
        """Every column that a row may carry."""
        return (*self.needed, *self.optional, *ORIGIN)


_PRICE: Final = {"price": (NOT_NEGATIVE, None)}
_MASS: Final = {"mass": (NOT_NEGATIVE, 0.0)}

#: The parts of a runner row that are tables of their own.
SIDE_SPACE: Final[Mapping[str, Cell]] = {"least": POSITIVE, "aim": POSITIVE, "most": POSITIVE}
SIZE: Final = Table(
    key="sizes",
    value=tuple,
    needed={
        "length": POSITIVE,
        "travel": POSITIVE,
        "rating_kg": POSITIVE,
        "mass": POSITIVE,
    },
    optional={"overlap": (NOT_NEGATIVE, 0.0), **_PRICE},
)
HOLE_PATTERN: Final[Mapping[str, Cell]] = {
    "first": POSITIVE,
    "step": POSITIVE,
    "pair": POSITIVE,
    "end": POSITIVE,
    "up": NOT_NEGATIVE,
}

TABLES: Final = (
    Table(
        key="materials",
        value=Material,
        needed={
            "name": FLAT_NAME,
            "family": FLAT_NAME,
            "nominal": POSITIVE,
            "thickness": POSITIVE,
            "thinner": POSITIVE,
            "thicker": POSITIVE,
            "plies": COUNT,
            "density": POSITIVE,
            "density_char": POSITIVE,
            "e_along": POSITIVE,
            "e_across": POSITIVE,
            "f_along": POSITIVE,
            "f_across": POSITIVE,
            "g_panel": POSITIVE,
            "f_rolling": POSITIVE,
            "f_panel_shear": POSITIVE,
            "f_compression": POSITIVE,
            "basis": BASIS,
        },
        optional={"layup": (POSITIVES, ())},
    ),
    Table(
        key="stock_sizes",
        value=StockSize,
        needed={"name": FLAT_NAME, "material": FLAT_NAME, "length": POSITIVE, "width": POSITIVE},
        optional={"offered": (FLAG, True), **_PRICE},
        name_from="{material}-{length}x{width}",
    ),
    Table(
        key="runners",
        value=Runner,
        needed={
            "name": FLAT_NAME,
            "section": POSITIVE,
            "thickness": POSITIVE,
            "set_back": NOT_NEGATIVE,
            "overlap": POSITIVE,
            "droop": NOT_NEGATIVE,
            "flange": POSITIVE,
            "screw": NAME,
            "mount": words("side", "flat"),
            "basis": TEXT,
        },
        optional={
            "lateral_rating_n": (POSITIVE, None),
            "lever": (TRIPLE, None),
            "lock_in": (FLAG, False),
            "lock_out": (FLAG, False),
            "basis_length": (POSITIVE, None),
            "lock_n": (POSITIVE, None),
            "stop_n": (POSITIVE, None),
            "vehicle_rated": (FLAG, False),
        },
    ),
    Table(
        key="screws",
        value=Screw,
        needed={
            "name": NAME,
            "diameter": POSITIVE,
            "root": POSITIVE,
            "length": POSITIVE,
            "thread": NOT_NEGATIVE,
            "head": POSITIVE,
            "head_height": NOT_NEGATIVE,
            "kind": words("countersunk", "pan", "brad", "self-drilling"),
            "pilot_face": NOT_NEGATIVE,
            "pilot_edge": NOT_NEGATIVE,
            "pack": COUNT,
        },
        optional={**_PRICE, **_MASS},
    ),
    Table(
        key="bolts",
        value=Bolt,
        needed={
            "name": NAME,
            "thread": NAME,
            "diameter": POSITIVE,
            "pitch": POSITIVE,
            "length": POSITIVE,
            "grade": NAME,
            "head": words("hex", "countersunk", "coach"),
            "across_flats": POSITIVE,
            "head_height": POSITIVE,
            "clearance_hole": POSITIVE,
        },
        optional={**_PRICE, **_MASS},
    ),
    Table(
        key="nuts",
        value=Nut,
        needed={
            "name": NAME,
            "thread": NAME,
            "kind": words("insert-lock", "tee", "rivet", "plain"),
            "height": POSITIVE,
            "across_flats": POSITIVE,
            "hole": NOT_NEGATIVE,
        },
        optional={"grip": (PAIR, None), **_PRICE, **_MASS},
    ),
    Table(
        key="washers",
        value=Washer,
        needed={
            "name": NAME,
            "thread": NAME,
            "outside": POSITIVE,
            "hole": POSITIVE,
            "thickness": POSITIVE,
            "shape": words("round", "square"),
        },
        optional={**_PRICE, **_MASS},
    ),
    Table(
        key="saws",
        value=Saw,
        needed={
            "name": FLAT_NAME,
            "method": words("hand", "panel", "cnc"),
            "kerf": POSITIVE,
            "trim": NOT_NEGATIVE,
            "tolerance": POSITIVE,
            "good_face_down": FLAG,
        },
    ),
    Table(
        key="adhesives",
        value=Adhesive,
        needed={"name": FLAT_NAME, "durability": TEXT, "coverage": POSITIVE},
        optional={**_PRICE},
    ),
    Table(
        key="finishes",
        value=Finish,
        needed={"name": FLAT_NAME, "coats": COUNT, "coverage": POSITIVE},
        optional={**_PRICE},
    ),
    Table(
        key="hardware",
        value=Hardware,
        needed={
            "name": FLAT_NAME,
            "kind": FLAT_NAME,
            "size": TRIPLE,
            "basis": BASIS,
            "mass": NOT_NEGATIVE,
        },
        optional={"capacity_n": (POSITIVE, None), "holes": (PLACES, ()), **_PRICE},
    ),
    Table(
        key="things",
        value=Thing,
        needed={
            "name": FLAT_NAME,
            "kind": TEXT,
            "what": TEXT,
            "size": TRIPLE,
            "mass": NOT_NEGATIVE,
        },
        optional={
            "keep_upright": (FLAG, False),
            "hazard": (words("", "gas", "fuel", "battery", "aerosol"), ""),
        },
    ),
)
