"""The load area as it was measured, and the vehicle around it. Millimetres, kilograms, newtons."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from stowright.model.geometry import Box

__all__ = [
    "Access",
    "Anchor",
    "Arch",
    "Bay",
    "BeltAnchorage",
    "BetweenStation",
    "Floor",
    "KeepOut",
    "LengthStation",
    "NoDrill",
    "Opening",
    "PeopleSpace",
    "Person",
    "PlacedMass",
    "Seal",
    "Surface",
    "TailLean",
    "Tailgate",
    "TowBall",
    "Vehicle",
    "VehicleLimits",
    "Weighed",
    "WidthStation",
]

type BayKind = Literal["tub", "van", "wagon", "tray"]
type Surface = Literal["floor", "left", "right", "cab", "roof"]
type Face = Literal["tail", "left", "right"]


@dataclass(frozen=True, slots=True, kw_only=True)
class WidthStation:
    """A width reading at a place along the bay and a height.

    Either ``width`` alone (taken as centred) or the two half widths from the centre line.

    Attributes:
        at: Station along x.
        height: Height z above the rib tops.
        left: From the centre line to the left wall.
        right: From the centre line to the right wall.
        centred: True when only the whole width was read and the halves are its halves.
    """

    at: float
    height: float
    left: float
    right: float
    centred: bool

    @property
    def width(self) -> float:
        """Whole width at the station."""
        return self.left + self.right


@dataclass(frozen=True, slots=True, kw_only=True)
class BetweenStation:
    """Clear width between the two arches at x = ``at`` and z = ``height``."""

    at: float
    height: float
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthStation:
    """Clear length from the tail plane to the headboard at height z and offset y."""

    height: float
    y: float
    length: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TailLean:
    """How far the inner face of the shut tailgate or door stands in (x) at a height z."""

    height: float
    x: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Arch:
    """A wheel arch: ``start`` to ``end`` along x, up to ``height``, ``reach`` in from the wall."""

    side: Literal["left", "right"]
    start: float
    end: float
    height: float
    reach: float


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepOut:
    """A box that nothing may enter."""

    what: str
    box: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class NoDrill:
    """An area of a surface that must not be drilled.

    ``a`` and ``b`` are the two ranges on the surface: (x, y) on floor and roof, (x, z) on the
    sides, (y, z) on the cab wall.
    """

    what: str
    surface: Surface
    a: tuple[float, float]
    b: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Anchor:
    """A factory anchor.

    Attributes:
        x, y, z: Where it is. On the floor z = 0.
        thread: Thread name (``M8``), empty when it is an eye or unknown.
        tension: Stated tension capacity, or None when unknown. [N]
        shear: Stated shear capacity, or None when unknown. [N]
    """

    what: str
    surface: Surface
    x: float
    y: float
    z: float
    thread: str
    tension: float | None
    shear: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class BeltAnchorage:
    """A belt, seat or child-seat anchorage: never drilled near, never shared.

    ``used`` is True where something of the unit or its load is meant to be tied to it.
    """

    what: str
    surface: Surface
    x: float
    y: float
    z: float
    used: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Access:
    """Something below or beside the unit that must stay reachable."""

    what: str
    x: tuple[float, float]
    y: tuple[float, float]
    lift_out: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """The load floor's sheet and ribs."""

    material: str
    thickness: float
    rib_depth: float
    rib_pitch: float
    ribs_run: Literal["lengthwise", "crosswise", "none"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A doorway of the bay.

    Attributes:
        face: Which side it is on.
        width: Clear width.
        height: Clear height, or None for an open tub that is loaded from above.
        sill_rise: Step above the load floor.
        above_ground: Height of the sill above the ground, or None when not given.
        at: Start of the doorway along x for a side door, or None when not given.
        opens_inside: Whether it can be opened from inside, or None when not given.
    """

    face: Face
    width: float
    height: float | None
    sill_rise: float
    above_ground: float | None
    at: float | None
    opens_inside: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tailgate:
    """The tailgate: where its hinge is, its length, and the z of its top surface when open."""

    hinge: Literal["down", "up", "side"]
    length: float
    open_top: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PeopleSpace:
    """Where people share the space with the load."""

    barrier: Literal["none", "rated", "bulkhead"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Seal:
    """A seal round a tailgate, door, lid or hatch.

    Attributes:
        length: How far it runs, 0 when not given.
        free: Its height when nothing presses on it.
        squashed: The least height it can be pressed to.
        panel_error: How far the panel it shuts against is out of flat, or None when not given.
    """

    what: str
    length: float
    free: float
    squashed: float
    panel_error: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bay:
    """The load area, as measured. See the contract's ``[bay]``.

    ``widths`` and ``lengths`` always hold at least one station (the shorthand length and width
    become stations at height 0 when none is given). Heights are above the rib tops: a job measured
    from the valleys has been converted on reading.
    """

    kind: BayKind
    length: float
    width: float
    rail: float | None
    clear_height: float | None
    height_from: Literal["rib-top", "valley"]
    reading_error: float
    widths: tuple[WidthStation, ...]
    between: tuple[BetweenStation, ...]
    lengths: tuple[LengthStation, ...]
    tail_lean: tuple[TailLean, ...]
    arches: tuple[Arch, ...]
    cove: float
    diagonals: tuple[float, float] | None
    keep_out: tuple[KeepOut, ...]
    no_drill: tuple[NoDrill, ...]
    anchors: tuple[Anchor, ...]
    belts: tuple[BeltAnchorage, ...]
    access: tuple[Access, ...]
    floor: Floor | None
    openings: tuple[Opening, ...]
    tailgate: Tailgate | None
    people_space: PeopleSpace | None
    seals: tuple[Seal, ...] = ()

    def __hash__(self) -> int:
        """A few numbers tell bays apart well enough: what depends on a bay is looked up often."""
        return hash((self.kind, self.length, self.width, self.rail, self.clear_height))

    def opening(self, face: str) -> Opening | None:
        """Return the doorway on a face, or None."""
        return next((o for o in self.openings if o.face == face), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """Axle masses read on a weighbridge (or from papers). [kg].

    Attributes:
        loaded: Of a slip after the work: whether the unit's contents were on board.
        people: Of a slip after the work: how many of the people were on board, in their order.
    """

    front_axle: float
    rear_axle: float
    includes: tuple[str, ...]
    note: str
    loaded: bool = False
    people: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class VehicleLimits:
    """Stated limits; None where the job gives none. [kg]."""

    front_axle: float | None
    rear_axle: float | None
    total: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """A person in a seat at x. [kg, mm]."""

    mass: float
    x: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedMass:
    """Something added (positive) or removed (negative) at x. [kg, mm]."""

    what: str
    mass: float
    x: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TowBall:
    """Mass on the tow ball at x (negative: behind the tail). [kg, mm]."""

    mass: float
    x: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Vehicle:
    """Wheelbase, axle masses and limits; axle positions in the bay's x axis.

    Any of the figures may be missing (None): the mass proofs then come back "not proved".
    ``centre_height`` is that of the weighed vehicle's centre of gravity above the ground. [mm]
    """

    wheelbase: float | None
    rear_axle_x: float | None
    weighed: Weighed | None
    weighed_after: Weighed | None
    limits: VehicleLimits
    people: tuple[Person, ...]
    people_in_weighed: bool
    also: tuple[PlacedMass, ...]
    tow_ball: TowBall | None
    centre_height: float | None = None
