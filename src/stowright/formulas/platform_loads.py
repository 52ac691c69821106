"""People on decks: spread loads, feet and knees; parked only, never with driving accelerations."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from stowright.formulas.sources import Source

__all__ = ["LYING", "PATCHES", "SOURCES", "WORKING_PLATFORM", "AreaLoad", "PatchLoad"]


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaLoad:
    """A load spread over a whole deck.

    Attributes:
        what: In words.
        pressure_n_mm2: Even load. [N/mm2].
        source: Where it comes from.
    """

    what: str
    pressure_n_mm2: float
    source: Source


@dataclass(frozen=True, slots=True, kw_only=True)
class PatchLoad:
    """A load on a square at the worst place; alone, not together with a spread load.

    Attributes:
        what: In words.
        load_n: Force. [N].
        side_mm: Side of the square. [mm].
        source: Where it comes from.
    """

    what: str
    load_n: float
    side_mm: float
    source: Source


_KNEE: Final = Source(
    text=(
        "no published load for a kneeling person was found: 100 kg on one knee (0.98 kN), and the"
        " stair rule of EN ISO 14122 (1.5 kN on 100 x 100)"
    ),
    standing="judgement",
)
LYING: Final = AreaLoad(
    what="people lying or sitting on the deck",
    pressure_n_mm2=2.0e-3,
    source=Source(
        text="2 kN/m2 as for working platforms (EN ISO 14122-2), taken for sleepers",
        standing="judgement",
    ),
)
PATCHES: Final = (
    PatchLoad(what="a knee", load_n=1000.0, side_mm=50.0, source=_KNEE),
    PatchLoad(what="a foot", load_n=1500.0, side_mm=100.0, source=_KNEE),
)
WORKING_PLATFORM: Final = (
    AreaLoad(
        what="working platform",
        pressure_n_mm2=2.0e-3,
        source=Source(text="EN ISO 14122-2", standing="public restatement"),
    ),
    PatchLoad(
        what="working platform, worst place",
        load_n=1500.0,
        side_mm=200.0,
        source=Source(text="EN ISO 14122-2", standing="public restatement"),
    ),
)
SOURCES: Final[dict[str, Source]] = {}
