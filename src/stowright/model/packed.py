"""Where the carry list lies: a packed place for each thing, or why it has none."""

from __future__ import annotations

from dataclasses import dataclass

from stowright.model.geometry import Box, Point3

__all__ = ["Divider", "LeftOut", "PackedLoad", "PackedThing"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PackedThing:
    """One thing in its place.

    Attributes:
        what: Its name in the carry list.
        copy: Which of its copies, from 1.
        opening: The opening it lies in.
        at: Its corner: across from the left as you look at the face, depth from the face, up;
            from the near left lower corner of what can be filled. [mm]
        size: Extent across, into the opening and up. [mm]
        box: The same in the bay. [mm]
        mass_kg: Its mass. [kg]
        stands: Share of its base that stands on something; below 1 it needs packing under it.
        used: How often it is used.
    """

    what: str
    copy: int
    opening: str
    at: Point3
    size: Point3
    box: Box
    mass_kg: float
    stands: float
    used: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Divider:
    """A board across a drawer that keeps what lies behind it from sliding.

    Attributes:
        opening: The opening it stands in.
        depth: Where its near face stands, from the front of what can be filled. [mm]
        height: How high it is. [mm]
        material: Sheet it is cut from.
    """

    opening: str
    depth: float
    height: float
    material: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """What found no place: how many, and by how much it does not fit."""

    what: str
    copies: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PackedLoad:
    """The whole carry list in its places.

    Attributes:
        things: What has a place, by opening.
        dividers: Boards that keep things apart.
        left_out: What has none.
        tried: How many packings were tried.
        stopped: Whether the search was stopped before its budget was used.
    """

    things: tuple[PackedThing, ...] = ()
    dividers: tuple[Divider, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    tried: int = 0
    stopped: bool = False
