"""How the unit is to be held down: what a plan has settled, carcass by carcass."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from stowright.model.geometry import Point2
from stowright.model.given import AnchorPlan

__all__ = ["CarcassAsk", "HoldDownAsk", "ask_of"]

#: Bolts a carcass gets where no plan says otherwise, and the threads tried, best first.
USUAL_COUNT = 4
USUAL_THREADS = ("M8", "M6")


@dataclass(frozen=True, slots=True, kw_only=True)
class CarcassAsk:
    """How one carcass is to be held down where its places are left open.

    Attributes:
        count: How many bolts, factory anchors included.
        threads: Threads of new bolts, best first.
        plate: Catalogue name of the spreader plate; empty for the smallest there is.
        angle: Catalogue name of a metal angle at each bolt; empty for none.
        stand_off: Least distance of a new bolt from an upright. [mm]
    """

    count: int = USUAL_COUNT
    threads: tuple[str, ...] = USUAL_THREADS
    plate: str = ""
    angle: str = ""
    stand_off: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldDownAsk:
    """How the unit is to be held down.

    Attributes:
        wanted: Positions (x, y) by (block, module) that a plan has fixed; a carcass that is
            not named gets the usual four. Factory anchors are then used only where named.
        carcasses: What else a plan has settled, by (block, module).
        add_packers: Put a packer of its own under a bolt that would stand on none (the packer is
            then among the result's ``pieces``); else the anchor's note asks for one.
        sag: Sag of floor and drawer bottom that the room over a head must also take. [mm]
    """

    wanted: Mapping[tuple[str, str], tuple[Point2, ...]] = field(default_factory=dict)
    carcasses: Mapping[tuple[str, str], CarcassAsk] = field(default_factory=dict)
    add_packers: bool = False
    sag: float = 0.0

    def of(self, block: str, module: str) -> CarcassAsk:
        """Return what is settled for a carcass; the usual where nothing is."""
        return self.carcasses.get((block, module), CarcassAsk())


def ask_of(plan: AnchorPlan | None) -> HoldDownAsk:
    """Return a plan of anchors as the design takes it; without one the usual bolts."""
    rows = plan.modules if plan else ()
    return HoldDownAsk(
        wanted={(row.block, row.module): row.places for row in rows if row.places},
        carcasses={
            (row.block, row.module): CarcassAsk(
                count=row.count,
                threads=(row.thread,) if row.thread else USUAL_THREADS,
                plate=row.plate,
                angle=row.angle,
                stand_off=row.stand_off,
            )
            for row in rows
        },
        add_packers=True,
    )
