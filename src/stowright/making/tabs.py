"""Steps of tab-and-slot joints: the trial cut, the order of pushing together, tapping home.

All tabs of a body point one way, so a carcass is built up on its left side, column by column: what
stands between two uprights goes in before the second one.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from stowright.model.design import Design
from stowright.model.part import PlacedPart

__all__ = [
    "MALLET",
    "TAPPED_DRY",
    "TAPPED_GLUED",
    "TAPPED_HOME",
    "corners_with_tabs",
    "pushed_together",
    "trial_cut",
]

MALLET = ("mallet and a block of scrap",)
TAPPED_HOME = (
    "Try it dry: each tab goes into its slot by hand or with light taps; ease a slot that binds.",
    (
        "Brush glue thinly on shoulders, tabs and slots; tap the part home over a block of scrap "
        "until its shoulders close along their whole length."
    ),
    "Clamp, check the corner with a square, then drive the screws between the tabs.",
)
TAPPED_DRY = "Tap the corners together dry first."
TAPPED_GLUED = "Glue shoulders, tabs and slots, tap them home"
_PARTITION = re.compile(r"/partition-(\d+)$")
_BETWEEN = re.compile(r"/(?:shelf|stack-rail|back)-(\d+)-")


def trial_cut(design: Design) -> Iterator[str]:
    """Yield what is cut first where a design has tabs."""
    names = sorted({part.material for part in design.parts if part.tabs})
    if names:
        yield (
            f"Before the sheets, cut one tab and one slot in an offcut of {', '.join(names)}: the "
            "tab goes in by hand and holds its own weight. If not, caliper the sheet again and "
            "print the plan with what it reads."
        )


def pushed_together(pieces: Iterable[PlacedPart]) -> Iterator[tuple[str, list[str]]]:
    """Yield the steps of a carcass that is pushed together from the left, with their pieces."""
    rows = list(pieces)

    def of(*roles: str) -> list[str]:
        return [p.id for p in rows if p.role in roles]

    left = [p.id for p in rows if p.id.endswith("side-left")]
    floor = of("carcass-floor", "floor-rail")
    yield "lay the left side down and stand the floor in it", [*left, *floor]
    between = {p.id: int(found[1]) for p in rows if (found := _BETWEEN.search(p.id))}
    backs = [name for name in of("carcass-back", "back-rail") if name not in between]
    yield "stand the back in it", backs
    partitions = {int(found[1]): p.id for p in rows if (found := _PARTITION.search(p.id))}
    for column in sorted({*between.values(), *partitions}):
        new = [name for name, at in between.items() if at == column]
        yield f"stand what parts the openings of column {column}", new
        if column in partitions:
            yield f"lower the partition right of column {column}", [partitions[column]]
    yield "close it with the right side", [p.id for p in rows if p.id.endswith("side-right")]
    yield "drop in the top", of("carcass-rail", "carcass-top")


def corners_with_tabs(pieces: Iterable[PlacedPart]) -> bool:
    """Return whether the corners of a box go together with tabs."""
    return any(any(piece.shoulders) for piece in pieces)
