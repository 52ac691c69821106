"""What the shop can buy and use: sheets, runners, fixings, saws, finishes. Values only.

Every row carries ``source`` and ``standing``; both are printed wherever the value is used. The
row's ``origin`` is that of its weakest value; ``origins`` names the fields that have one of their
own, such as those that a shop's file has overridden.
"""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from typing import Literal, Protocol

from stowright.errors import UnknownNameError
from stowright.model.origin import Basis, Origin, Standing
from stowright.model.runner import Runner, RunnerHole, RunnerSize, SideSpace

__all__ = [
    "Adhesive",
    "Basis",
    "Bolt",
    "Catalogue",
    "Finish",
    "Hardware",
    "Material",
    "Nut",
    "Origin",
    "Runner",
    "RunnerHole",
    "RunnerSize",
    "Saw",
    "Screw",
    "SideSpace",
    "Standing",
    "StockSize",
    "Thing",
    "Washer",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A sheet material of one thickness.

    Attributes:
        name: ``birch-15``; plain ``ply-15`` is unknown, non-structural.
        family: ``ply``, ``birch``, ``softwood``, ``hardwood``, ``poplar``.
        nominal: Trade thickness. [mm]
        thickness: Mean thickness. [mm]
        thinner, thicker: Tolerance below and above nominal as sold. [mm]
        plies: Number of plies, 0 when unknown.
        density: Mean density. [kg/m3]
        density_char: Characteristic density. [kg/m3]
        e_along, e_across: Mean modulus in bending along and across the face grain. [N/mm2]
        f_along, f_across: Bending strength on ``basis``. [N/mm2]
        g_panel: In-plane shear modulus. [N/mm2]
        f_rolling: Rolling (planar) shear strength on ``basis``. [N/mm2]
        f_panel_shear: Panel shear strength on ``basis``. [N/mm2]
        f_compression: Compression strength across the plane of the sheet edge (in plane), lower
            of the two directions, on ``basis``. [N/mm2]
        basis: What the strengths are.
        origin: Source and standing.
        layup: Thickness of each ply from the back face up, faces along the grain; empty when
            unknown. [mm]
    """

    name: str
    family: str
    nominal: float
    thickness: float
    thinner: float
    thicker: float
    plies: int
    density: float
    density_char: float
    e_along: float
    e_across: float
    f_along: float
    f_across: float
    g_panel: float
    f_rolling: float
    f_panel_shear: float
    f_compression: float
    basis: Basis
    origin: Origin
    origins: tuple[tuple[str, Origin], ...] = ()
    layup: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSize:
    """A sheet size that can be bought for a material family, with the shop's price if it has one.

    Attributes:
        material: A family, or one material's name where the row (its price) is for that alone.
        length: Along the face grain. [mm]
        width: Across it. [mm]
        price: The shop's price per sheet, or None.
        name: ``birch-2440x1220``.
        offered: Whether the shop buys this size.
    """

    material: str
    length: float
    width: float
    price: float | None
    origin: Origin
    origins: tuple[tuple[str, Origin], ...] = ()
    name: str = ""
    offered: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Screw:
    """A wood screw, tapping screw, self-drilling screw or brad of one size.

    Attributes:
        name: ``screw-4x40``, ``screw-8g-32``, ``pan-8g-15``.
        diameter: Shank (outside) diameter. [mm]
        root: Root diameter. [mm]
        length: Overall for a countersunk head, under the head for a pan head. [mm]
        thread: Threaded length. [mm]
        head: Head diameter. [mm]
        head_height: Height that stands proud: 0 for a countersunk head. [mm]
        kind: ``countersunk``, ``pan``, ``brad``, ``self-drilling``.
        pilot_face, pilot_edge: Pilot hole into face and edge of ply. [mm]
        pack: Number in a pack.
        price: The shop's price per pack, or None.
        mass: Mass of one, 0 when unknown. [kg]
    """

    name: str
    diameter: float
    root: float
    length: float
    thread: float
    head: float
    head_height: float
    kind: Literal["countersunk", "pan", "brad", "self-drilling"]
    pilot_face: float
    pilot_edge: float
    pack: int
    price: float | None
    origin: Origin
    origins: tuple[tuple[str, Origin], ...] = ()
    mass: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Bolt:
    """A bolt of one thread and length.

    Attributes:
        name: ``M8x40-8.8``.
        thread: ``M8``.
        diameter: Nominal. [mm]
        pitch: Coarse pitch. [mm]
        length: Under the head (overall for a countersunk head). [mm]
        grade: ``8.8``, ``10.9``, ``A2-70``.
        head: ``hex`` or ``countersunk`` or ``coach`` (cup square).
        across_flats: Across flats (head diameter for the others). [mm]
        head_height: Height of the head. [mm]
        clearance_hole: Medium clearance hole. [mm]
        mass: Mass of one, 0 when unknown. [kg]
    """

    name: str
    thread: str
    diameter: float
    pitch: float
    length: float
    grade: str
    head: Literal["hex", "countersunk", "coach"]
    across_flats: float
    head_height: float
    clearance_hole: float
    price: float | None
    origin: Origin
    origins: tuple[tuple[str, Origin], ...] = ()
    mass: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Nut:
    """A nut, threaded insert, tee nut or rivet nut.

    Attributes:
        kind: ``insert-lock``, ``tee``, ``rivet``, ``plain``.
        height: Height of the nut. [mm]
        hole: Hole it needs, 0 for one that stands free. [mm]
        grip: Least and greatest grip for a rivet nut. [mm]
        mass: Mass of one, 0 when unknown. [kg]
    """

    name: str
    thread: str
    kind: Literal["insert-lock", "tee", "rivet", "plain"]
    height: float
    across_flats: float
    hole: float
    grip: tuple[float, float] | None
    price: float | None
    origin: Origin
    origins: tuple[tuple[str, Origin], ...] = ()
    mass: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Washer:
    """A washer or a spreader plate (``square`` side in ``outside``); ``mass`` of one in kg."""

    name: str
    thread: str
    outside: float
    hole: float
    thickness: float
    shape: Literal["round", "square"]
    price: float | None
    origin: Origin
    origins: tuple[tuple[str, Origin], ...] = ()
    mass: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw:
    """A way of cutting: kerf, trim, tolerance of a cut size, which way the good face lies."""

    name: str
    method: Literal["hand", "panel", "cnc"]
    kerf: float
    trim: float
    tolerance: float
    good_face_down: bool
    origin: Origin
    origins: tuple[tuple[str, Origin], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Adhesive:
    """A glue: class, coverage [g/m2 of joint], the shop's price per kg or None."""

    name: str
    durability: str
    coverage: float
    origin: Origin
    origins: tuple[tuple[str, Origin], ...] = ()
    price: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Finish:
    """A finish: coats, coverage [m2 per litre and coat], the shop's price per litre or None."""

    name: str
    coats: int
    coverage: float
    origin: Origin
    origins: tuple[tuple[str, Origin], ...] = ()
    price: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware:
    """Anything else bought by name: latches, handles, hinges, stops, seals, tapes.

    Attributes:
        kind: ``latch``, ``handle``, ``hinge``, ``stop``, ``seal``, ``strap``, ``lining`` …
        size: Envelope (along, across, height). [mm]
        capacity_n: Holding force on ``basis``, or None when unknown. [N]
        mass: [kg]
        holes: Screw holes of one leaf, flange or bracket: along from its middle, and across from
            a hinge's pin (from the middle of anything else). Empty: by its kind and size. [mm]
    """

    name: str
    kind: str
    size: tuple[float, float, float]
    capacity_n: float | None
    basis: Basis
    mass: float
    price: float | None
    origin: Origin
    origins: tuple[tuple[str, Origin], ...] = ()
    holes: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """Something that people carry, with a generic size to start from: measure yours.

    Attributes:
        kind: ``crate``, ``case``, ``can``, ``gas bottle``, ``fridge``, ``furniture``, ``battery``.
        what: In words.
        size: Length, width, height as it stands. [mm]
        mass: As it is usually carried. [kg]
        keep_upright: Whether it has to stay upright.
        hazard: ``gas``, ``fuel``, ``battery``, ``aerosol`` or empty.
    """

    name: str
    kind: str
    what: str
    size: tuple[float, float, float]
    mass: float
    keep_upright: bool
    hazard: Literal["", "gas", "fuel", "battery", "aerosol"]
    origin: Origin
    origins: tuple[tuple[str, Origin], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Catalogue:
    """The shelf: every row by table. Look-ups are methods; unknown names are refused."""

    materials: tuple[Material, ...]
    stock_sizes: tuple[StockSize, ...]
    runners: tuple[Runner, ...]
    screws: tuple[Screw, ...]
    bolts: tuple[Bolt, ...]
    nuts: tuple[Nut, ...]
    washers: tuple[Washer, ...]
    saws: tuple[Saw, ...]
    adhesives: tuple[Adhesive, ...]
    finishes: tuple[Finish, ...]
    hardware: tuple[Hardware, ...]
    things: tuple[Thing, ...] = ()

    def __hash__(self) -> int:
        """How many rows there are tells shelves apart well enough: few are in use at once."""
        return hash((len(self.materials), len(self.stock_sizes), len(self.runners)))

    def material(self, name: str) -> Material:
        """Return a material by name.

        Raises:
            UnknownNameError: With the nearest known names.
        """
        return _find("material", name, self.materials)

    def runner(self, name: str) -> Runner:
        """Return a runner family by name.

        Raises:
            UnknownNameError: With the nearest known names.
        """
        return _find("runner", name, self.runners)

    def screw(self, name: str) -> Screw:
        """Return a screw by name.

        Raises:
            UnknownNameError: With the nearest known names.
        """
        return _find("screw", name, self.screws)

    def bolt(self, name: str) -> Bolt:
        """Return a bolt by name.

        Raises:
            UnknownNameError: With the nearest known names.
        """
        return _find("bolt", name, self.bolts)

    def nut(self, name: str) -> Nut:
        """Return a nut by name.

        Raises:
            UnknownNameError: With the nearest known names.
        """
        return _find("nut", name, self.nuts)

    def washer(self, name: str) -> Washer:
        """Return a washer by name.

        Raises:
            UnknownNameError: With the nearest known names.
        """
        return _find("washer", name, self.washers)

    def adhesive(self, name: str) -> Adhesive:
        """Return an adhesive by name.

        Raises:
            UnknownNameError: With the nearest known names.
        """
        return _find("adhesive", name, self.adhesives)

    def saw(self, name: str) -> Saw:
        """Return a saw by name.

        Raises:
            UnknownNameError: With the nearest known names.
        """
        return _find("saw", name, self.saws)

    def finish(self, name: str) -> Finish:
        """Return a finish by name.

        Raises:
            UnknownNameError: With the nearest known names.
        """
        return _find("finish", name, self.finishes)

    def item(self, name: str) -> Hardware:
        """Return any other hardware by name.

        Raises:
            UnknownNameError: With the nearest known names.
        """
        return _find("hardware", name, self.hardware)

    def thing(self, name: str) -> Thing:
        """Return a generic thing to carry by name.

        Raises:
            UnknownNameError: With the nearest known names.
        """
        return _find("thing to carry", name, self.things)


class _Named(Protocol):
    @property
    def name(self) -> str: ...


def _find[T: _Named](kind: str, name: str, rows: tuple[T, ...]) -> T:
    for row in rows:
        if row.name == name:
            return row
    names = [row.name for row in rows]
    raise UnknownNameError(kind, name, tuple(get_close_matches(name, names, n=3, cutoff=0.5)))
