"""What a search finds and hands back to the design: places and sizes that are no longer open.

Each field has a default that leaves the design free.
"""

from __future__ import annotations

from dataclasses import dataclass

from stowright.model.geometry import Point2
from stowright.model.packed import PackedLoad
from stowright.model.refit import Refit

__all__ = ["AnchorDemand", "AnchorPlan", "Given", "ModuleAnchors"]


@dataclass(frozen=True, slots=True, kw_only=True)
class AnchorDemand:
    """What an anchor sees under a rule set, before any factor. [N].

    Attributes:
        id: The anchor's.
        shear_n, tension_n: The greatest of every case, each on its own; no tension is known where
            no bolt of the carcass stands off the edge that it tips about.
        shear_case, tension_case: By which case; empty where there is no pull.
        rules: Name of the rule set.
    """

    id: str
    shear_n: float
    shear_case: str
    tension_n: float | None
    tension_case: str
    rules: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ModuleAnchors:
    """How one carcass is to be held down.

    Attributes:
        places: Where (x, y), factory anchors included; empty leaves the places to the design.
        count: How many bolts are wanted where ``places`` is empty.
        thread: Thread of new bolts; empty for the usual one.
        plate: Spreader plate under new bolts, a catalogue name; empty for the usual one.
        angle: Metal angle from floor to upright at each bolt, a catalogue name; empty for none.
        stand_off: Least distance of new bolts from an upright: the further, the longer a stretch
            of the joint carries. [mm]
        use: Worst utilisation found.
        why: What was tried and why this was taken, in words.
    """

    block: str
    module: str
    places: tuple[Point2, ...] = ()
    count: int = 4
    thread: str = ""
    plate: str = ""
    angle: str = ""
    stand_off: float = 0.0
    use: float = 0.0
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class AnchorPlan:
    """How every carcass is to be held down.

    Attributes:
        modules: One row a carcass that is to differ from the usual four bolts, in order.
        open: What could not be made to pass, a line each.
    """

    modules: tuple[ModuleAnchors, ...] = ()
    open: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """What searches have settled.

    Attributes:
        anchors: How the unit is held down; None leaves it to the usual four bolts a carcass.
        packed: Where each thing of the carry list lies; None shares it out by volume.
        refit: What was cut and read while building; None plans as if nothing was.
    """

    anchors: AnchorPlan | None = None
    packed: PackedLoad | None = None
    refit: Refit | None = None
