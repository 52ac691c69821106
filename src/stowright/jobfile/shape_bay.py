"""The shape of ``[bay]``: the load area as measured."""

from __future__ import annotations

from typing import Literal

from stowright.jobfile.shape_types import (
    Force,
    Gap,
    Range,
    Shape,
    Size,
    Sizes2,
    Spot,
    says,
)

__all__ = [
    "AccessShape",
    "AnchorShape",
    "ArchShape",
    "BayShape",
    "BeltShape",
    "BetweenShape",
    "FloorShape",
    "KeepOutShape",
    "LengthShape",
    "NoDrillShape",
    "OpeningShape",
    "PeopleSpaceShape",
    "SealShape",
    "TailLeanShape",
    "TailgateShape",
    "WidthShape",
    "ribs_of",
]

type SurfaceName = Literal["floor", "left", "right", "cab", "roof"]
_SURFACE = "Which surface it is on: floor, left, right, cab or roof."


class WidthShape(Shape):
    """A width reading: ``width`` alone, or the two parts from the centre line."""

    needs = ("at",)
    at: Spot | None = says("Station along x, from the tail.")
    height: Spot | None = says("Height of the reading. Default 0.")
    width: Size | None = says("Whole width; its halves are taken as equal.")
    left: Size | None = says("From the centre line to the left wall.")
    right: Size | None = says("From the centre line to the right wall.")


class BetweenShape(Shape):
    """Clear width between the arches; governs over their reach."""

    needs = ("at", "width")
    at: Spot | None = says("Station along x.")
    height: Spot | None = says("Height of the reading. Default 0.")
    width: Size | None = says("Clear width between the arches.")


class LengthShape(Shape):
    """A length reading from the tail plane to the headboard."""

    needs = ("length",)
    height: Spot | None = says("Height of the reading. Default 0.")
    y: Spot | None = says("Offset from the centre line, left positive. Default 0.")
    length: Size | None = says("Clear length.")


class TailLeanShape(Shape):
    """How far the inner face of the shut tailgate, glass or door stands in at a height."""

    needs = ("height", "x")
    height: Spot | None = says("Height of the reading.")
    x: Spot | None = says("How far the face stands in.")


class ArchShape(Shape):
    """A wheel arch."""

    needs = ("side", "start", "end", "height", "reach")
    side: Literal["left", "right"] | None = says("Which side it is on.")
    start: Spot | None = says("Where it begins along x.")
    end: Spot | None = says("Where it ends along x.")
    height: Size | None = says("Top of the arch.")
    reach: Size | None = says("How far it stands in from the wall.")


class KeepOutShape(Shape):
    """A box that nothing may enter; an axis without a range means all of it."""

    what: str | None = says("What is there.")
    x: Range | None = says("Range along x. Default: the whole length.")
    y: Range | None = says("Range along y. Default: the whole width.")
    z: Range | None = says("Range along z. Default: the whole height.")


class NoDrillShape(Shape):
    """An area that must not be drilled; an axis without a range means all of it."""

    needs = ("surface",)
    what: str | None = says("What is behind it.")
    surface: SurfaceName | None = says(_SURFACE)
    x: Range | None = says("Range along x (floor, roof, left, right).")
    y: Range | None = says("Range along y (floor, roof, cab).")
    z: Range | None = says("Range along z (left, right, cab).")


class AnchorShape(Shape):
    """A factory anchor in the vehicle."""

    what: str | None = says("What it is.")
    surface: SurfaceName | None = says(_SURFACE + " Default floor.")
    x: Spot | None = says("Place along x.")
    y: Spot | None = says("Place along y. Default on a side: the wall.")
    z: Spot | None = says("Height. Default 0.")
    thread: str | None = says('Thread: "M8". Empty for an eye, or when not known.')
    tension: Force | None = says('Stated capacity in tension, in N, or "unknown".')
    shear: Force | None = says('Stated capacity in shear, in N, or "unknown".')


class BeltShape(Shape):
    """A belt, seat or child-seat anchorage."""

    what: str | None = says("What it is.")
    surface: SurfaceName | None = says(_SURFACE + " Default floor.")
    x: Spot | None = says("Place along x.")
    y: Spot | None = says("Place along y. Default on a side: the wall.")
    z: Spot | None = says("Height. Default 0.")
    used: bool | None = says("True where the unit or its load is to be tied to it. Default false.")


class SealShape(Shape):
    """A seal round a tailgate, door, lid or hatch."""

    needs = ("what", "free", "squashed")
    what: str | None = says("What it seals.")
    length: Gap | None = says("How far it runs. Default 0: not known.")
    free: Size | None = says("Its height when nothing presses on it.")
    squashed: Gap | None = says("The least height it can be pressed to.")
    panel_error: Gap | None = says(
        "How far the panel that shuts against it is out of flat. Default: not known."
    )


class AccessShape(Shape):
    """Something that must stay within reach: a hatch, a winch, a jack."""

    needs = ("x", "y")
    what: str | None = says("What it is.")
    x: Range | None = says("Range along x.")
    y: Range | None = says("Range along y.")
    lift_out: bool | None = says("True when a lift-out piece over it will do. Default false.")


class FloorShape(Shape):
    """The load floor's sheet and ribs."""

    material: str | None = says("What the floor is made of. Default steel.")
    thickness: Size | None = says("Thickness of the sheet. Default 0.7 mm.")
    rib_depth: Gap | None = says("Height of the ribs. Default 0.")
    rib_pitch: Gap | None = says("Distance from rib to rib. Default 0: not known.")
    ribs_run: Literal["lengthwise", "crosswise", "none"] | None = says(
        "Which way the ribs run. Default lengthwise where there are ribs, else none."
    )


class OpeningShape(Shape):
    """A doorway of the bay."""

    face: Literal["tail", "left", "right"] | None = says("Which side it is on. Default tail.")
    width: Size | None = says("Clear width.")
    height: Size | None = says("Clear height; absent for a tub that is loaded from above.")
    sill_rise: Gap | None = says("Step above the load floor. Default 0.")
    above_ground: Gap | None = says("Height of the sill above the ground.")
    at: Spot | None = says("Where a side doorway begins along x.")
    x: Range | None = says("A side doorway as a range along x, instead of at and width.")
    opens_inside: bool | None = says("True when it can be opened from inside. Default: not known.")


class TailgateShape(Shape):
    """The tailgate or tail doors."""

    hinge: Literal["down", "up", "side"] | None = says(
        "How it opens. Default down for tub and tray, up for wagon, side for van."
    )
    length: Gap | None = says("From hinge to free edge. Default 0: not known.")
    open_top: Spot | None = says("Height of its upper surface when open. Default 0.")


class PeopleSpaceShape(Shape):
    """Only where people share the space with the load."""

    barrier: Literal["none", "rated", "bulkhead"] | None = says(
        "What parts people from the load. Default none."
    )


class BayShape(Shape):
    """The load area as measured."""

    needs = ("length", "width")
    kind: Literal["tub", "van", "wagon", "tray"] | None = says(
        "Kind of load area. Default tub where a rail is given, else van."
    )
    length: Size | None = says("Length on the floor.")
    width: Size | None = says("Width on the floor.")
    rail: Size | None = says("Floor to the top of the side rail.")
    clear_height: Size | None = says("Floor to roof or canopy underside; absent: open above.")
    height_from: Literal["rib-top", "valley"] | None = says(
        "What the heights of [bay] were measured from. Default rib-top."
    )
    reading_error: Gap | None = says(
        "A single tape reading may be out by this much, either way. Default 2 mm."
    )
    widths: list[WidthShape] | None = says("Width stations.")
    between: list[BetweenShape] | None = says("Clear widths between the arches.")
    lengths: list[LengthShape] | None = says("Length stations.")
    tail_lean: list[TailLeanShape] | None = says("How far the shut tailgate or door leans in.")
    arches: list[ArchShape] | None = says("Wheel arches.")
    cove: Gap | None = says("Radius of the fillet between floor and wall or arch. Default 0.")
    diagonals: Sizes2 | None = says("Corner to corner on the floor.")
    keep_out: list[KeepOutShape] | None = says("Boxes that nothing may enter.")
    no_drill: list[NoDrillShape] | None = says("Areas that must not be drilled.")
    anchors: list[AnchorShape] | None = says("Factory anchors.")
    belts: list[BeltShape] | None = says("Belt, seat and child-seat anchorages.")
    access: list[AccessShape] | None = says("What must stay within reach.")
    floor: FloorShape | None = says("The load floor's sheet and ribs.")
    opening: list[OpeningShape] | None = says("Doorways.")
    tailgate: TailgateShape | None = says("The tailgate or tail doors.")
    people_space: PeopleSpaceShape | None = says("Where people share the space with the load.")
    seals: list[SealShape] | None = says("Seals round tailgate, doors, lids and hatches.")


#: Ribs of a floor whose heights were read from the valleys, where nobody read the ribs: deep
#: ones, so that no height comes out too large (judgement). [mm]
_DEEP_RIBS = 15.0


def ribs_of(bay: BayShape) -> float:
    """Return how high the floor's ribs are; deep ones where valleys were measured from. [mm]."""
    depth = bay.floor.rib_depth if bay.floor else None
    if depth is not None:
        return depth
    return _DEEP_RIBS if bay.height_from == "valley" else 0.0
