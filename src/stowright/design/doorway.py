"""Whether a module gets into the bay: straight, tilted, from above, or built inside. Millimetres.

A module is moved in as it will stand, not turned end for end: along x through the tail doorway,
along y through a side doorway. What is compared:

* Straight: its section against the opening; over the sill its top stays under the roof behind;
  where it has to pass the arches it goes between them or, raised, over them.
* Rolled about its way in (``swings.rolled_fit``): at the angle at which its section passes the
  opening with the most room, then rolled upright behind it, for which the whole swing needs room.
* On its back: a quarter turn about the crosswise axis before the opening, stood up behind it; its
  diagonal has to pass the height once.
* Turned: a quarter turn about the upright axis before the opening, turned back behind it; its
  diagonal has to pass width and length once.
* From above: between the walls from its own top up to the rail, where the bay is open above.

What stands further in when a module comes through the tail doorway takes its length off the turns.
Each of these is a way that works when it fits; a cleverer one may exist, so "assemble inside" says
that none of them does.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import degrees, hypot
from typing import Literal

from stowright.design.bay_solid import ArchSolid, BaySolid, bay_solid, tail_lean_over
from stowright.design.bay_surface import FAR, cuts_at, least_net
from stowright.design.doorway_travel import TravelRoom, travel_inside_doorway
from stowright.design.swings import rolled_fit, swing_extents
from stowright.errors import require_positive
from stowright.model.bay import Bay, Face, Opening
from stowright.model.design import DoorwayCheck
from stowright.model.geometry import Box, Span

__all__ = [
    "ASSEMBLE_INSIDE",
    "TravelRoom",
    "building_room",
    "doorway_check",
    "travel_inside_doorway",
]

type Way = Literal["straight", "tilted", "from above"]

#: The order in which a module that does not pass is built in its place.
ASSEMBLE_INSIDE = (
    "carry the parts in flat, each checked against the doorway",
    "lay the packers in place; put the carcass together beside its place or on its back",
    "sides and partitions to the floor (or the floor rails), screwed from outside",
    "fix the back, which pulls it square; check the diagonals",
    "fix the top rails or the top",
    "stand it up, push it into its place, anchor it, then hang runners and drawers",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Need:
    """One thing that has to pass another: what is needed and what is there. [mm]."""

    what: str
    needed: float
    available: float

    @property
    def room(self) -> float:
        """What is left over; negative when it does not pass."""
        return self.available - self.needed


@dataclass(frozen=True, slots=True, kw_only=True)
class _Attempt:
    """One way in: all that it needs."""

    way: Way
    words: str
    needs: tuple[_Need, ...]

    @property
    def worst(self) -> _Need:
        """The need with the least room."""
        return min(self.needs, key=lambda need: need.room)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Frame:
    """A module before a doorway: sizes along the way in, across it and upright.

    Attributes:
        width, height: Of the opening, reading error off; height may be unbounded.
        ceiling: Under the roof, reading error off; unbounded when open above.
        free_to: Where along x the first thing stands that was carried in before.
    """

    solid: BaySolid
    opening: Opening
    door: str
    box: Box
    along: float
    across: float
    tall: float
    width: float
    height: float
    ceiling: float
    free_to: float

    @property
    def under(self) -> float:
        """Height that a section may have while it passes the sill: lintel or roof behind it."""
        return min(self.height, self.ceiling - self.opening.sill_rise)


def doorway_check(
    *,
    bay: Bay,
    block: str,
    module: str,
    face: Face,
    module_box: Box,
    size: tuple[float, float, float] | None = None,
    order: tuple[str, ...] = ASSEMBLE_INSIDE,
    standing: tuple[Box, ...] = (),
) -> DoorwayCheck:
    """Return by which way a module gets to its place, and with how much room.

    Args:
        bay: The bay.
        block: The block's name.
        module: The module's name.
        face: The side the module faces.
        module_box: Where it will stand.
        size: (width, height, depth) as carried, seen at its face, when that differs from the box.
        order: How it is built in its place when no way works.
        standing: What was carried in before it, and stands further in.
    """
    carried = _carried(face, module_box, size)
    solid = bay_solid(bay)
    frames = [
        _frame(solid, opening, number, module_box, carried, standing)
        for number, opening in enumerate(bay.openings, start=1)
    ]
    frames.sort(key=lambda f: (-f.width * min(f.height, 1.0e4), f.opening.face != "tail"))
    attempts = list(_attempts(solid, frames, module_box, carried))
    if not attempts:
        return DoorwayCheck(
            block=block,
            module=module,
            way="not known",
            room=0.0,
            needed=0.0,
            available=0.0,
            why="no doorway was measured (bay.opening)",
            order=(),
        )
    good = next((attempt for attempt in attempts if attempt.worst.room >= 0.0), None)
    shown = good or attempts[0]
    worst = shown.worst
    return DoorwayCheck(
        block=block,
        module=module,
        way=good.way if good else "assemble inside",
        room=worst.room,
        needed=worst.needed,
        available=worst.available,
        why=f"{shown.words}: {worst.what} governs"
        if good
        else f"{shown.words} does not go for the {worst.what}, nor does any tilt",
        order=() if good else order,
    )


def building_room(
    *, bay: Bay, module_box: Box, standing: tuple[Box, ...] = ()
) -> tuple[float, float]:
    """Return the width and the height that are free to put a module together inside. [mm].

    The width is the greatest over the module's own length, wherever along the bay; the height is
    up to the roof, unbounded where the bay is open above. A bay without a doorway has no limits.

    Args:
        bay: The bay.
        module_box: Where the module will stand.
        standing: What was carried in before it.
    """
    if not bay.openings:
        return FAR, FAR
    solid, carried = bay_solid(bay), module_box.size
    frame = _frame(solid, bay.openings[0], 1, module_box, carried, standing)
    return _best_width(frame, length=carried[0], high=carried[2]), frame.ceiling


def _carried(
    face: Face, box: Box, size: tuple[float, float, float] | None
) -> tuple[float, float, float]:
    """Return the module's sizes along x, y and z as it is carried."""
    if size is None:
        sizes = box.size
    else:
        width, height, depth = size
        sizes = (depth, width, height) if face == "tail" else (width, depth, height)
    require_positive(module_x_mm=sizes[0], module_y_mm=sizes[1], module_z_mm=sizes[2])
    return sizes


def _frame(
    solid: BaySolid,
    opening: Opening,
    number: int,
    box: Box,
    carried: tuple[float, float, float],
    standing: tuple[Box, ...],
) -> _Frame:
    """Return a module before one doorway."""
    error = solid.bay.reading_error
    roof = solid.bay.clear_height
    along, across = carried[:2] if opening.face == "tail" else (carried[1], carried[0])
    return _Frame(
        solid=solid,
        opening=opening,
        door=f"the {opening.face} doorway (bay.opening[{number}])",
        box=box,
        along=along,
        across=across,
        tall=carried[2],
        width=opening.width - error,
        height=FAR if opening.height is None else opening.height - error,
        ceiling=FAR if roof is None else roof - error,
        free_to=min((other.x.low for other in standing), default=FAR),
    )


def _attempts(
    solid: BaySolid, frames: list[_Frame], box: Box, carried: tuple[float, float, float]
) -> Iterator[_Attempt]:
    """Yield the ways in, the plainest first."""
    open_above = solid.bay.clear_height is None
    low_sided = any(f.opening.height is None for f in frames) or not frames
    above = _from_above(solid, box, carried)
    if open_above and low_sided:
        yield above
    yield from (_straight(frame) for frame in frames)
    if open_above and not low_sided:
        yield above
    for frame in frames:
        yield _rolled(frame)
        yield _on_its_back(frame)
        yield _turned(frame)


# --- the ways in ---------------------------------------------------------------------------------


def _straight(frame: _Frame) -> _Attempt:
    """Return what a level, unturned module needs."""
    return _Attempt(
        way="straight",
        words=f"straight through {frame.door}",
        needs=(
            _Need(what="width of the doorway", needed=frame.across, available=frame.width),
            _Need(what="height of the doorway", needed=frame.tall, available=frame.under),
            _corridor(frame),
        ),
    )


def _rolled(frame: _Frame) -> _Attempt:
    """Return what a module needs that is rolled about its way in and set upright behind it."""
    roll = rolled_fit(
        width_mm=frame.across,
        height_mm=frame.tall,
        opening_width_mm=frame.width,
        opening_height_mm=frame.under,
    )
    wide, high = swing_extents(frame.across, frame.tall, roll.angle)
    return _Attempt(
        way="tilted",
        words=f"rolled by {degrees(roll.angle):.0f} degrees through {frame.door}",
        needs=(
            _Need(what="width of the doorway, rolled", needed=roll.width, available=frame.width),
            _Need(what="height of the doorway, rolled", needed=roll.height, available=frame.under),
            _Need(
                what="width for rolling it upright",
                needed=wide,
                available=_room_across(frame, along=frame.along, high=high),
            ),
            _Need(what="height for rolling it upright", needed=high, available=frame.ceiling),
            _corridor(frame),
        ),
    )


def _on_its_back(frame: _Frame) -> _Attempt:
    """Return what a module needs that goes in on its back and is stood up behind the doorway."""
    swing = hypot(frame.along, frame.tall)
    return _Attempt(
        way="tilted",
        words=f"on its back through {frame.door}",
        needs=(
            _Need(what="width of the doorway", needed=frame.across, available=frame.width),
            _Need(
                what="height of the doorway, on its back",
                needed=frame.along,
                available=frame.under,
            ),
            _Need(what="height for standing it up", needed=swing, available=frame.ceiling),
            _Need(
                what="room behind for standing it up",
                needed=swing,
                available=_room_along(frame, across=frame.across, high=swing),
            ),
            _corridor(frame),
        ),
    )


def _turned(frame: _Frame) -> _Attempt:
    """Return what a module needs that goes in sideways and is turned back behind the doorway."""
    swing = hypot(frame.along, frame.across)
    return _Attempt(
        way="tilted",
        words=f"turned a quarter about the upright through {frame.door}",
        needs=(
            _Need(what="width of the doorway, sideways", needed=frame.along, available=frame.width),
            _Need(what="height of the doorway", needed=frame.tall, available=frame.under),
            _Need(
                what="width for turning it back",
                needed=swing,
                available=_room_across(frame, along=swing, high=frame.tall),
            ),
            _Need(
                what="length for turning it back",
                needed=swing,
                available=_room_along(frame, across=swing, high=frame.tall),
            ),
            _corridor(frame),
        ),
    )


def _from_above(solid: BaySolid, box: Box, carried: tuple[float, float, float]) -> _Attempt:
    """Return what a module needs that is let down into its place from above."""
    rail = solid.bay.rail if solid.bay.rail is not None else box.z.high
    z = Span(low=min(box.z.high, rail), high=max(box.z.high, rail))
    left, right = (
        least_net(cuts_at(wall, z=z), low=box.x.low, high=box.x.high)
        for wall in (solid.left, solid.right)
    )
    head = least_net(cuts_at(solid.headboard, z=z), low=box.y.low, high=box.y.high)
    tail, _ = tail_lean_over(solid, z=z)
    return _Attempt(
        way="from above",
        words="let down from above",
        needs=(
            _Need(
                what="width between the walls up to the rail",
                needed=carried[1],
                available=left + right,
            ),
            _Need(what="length up to the rail", needed=carried[0], available=head - tail),
        ),
    )


# --- the room inside -----------------------------------------------------------------------------


def _corridor(frame: _Frame) -> _Need:
    """Return what the module needs on its way along x to its place, between or over the arches."""
    box, solid = frame.box, frame.solid
    needed = frame.across if frame.opening.face == "tail" else frame.along
    start = 0.0
    if frame.opening.face != "tail":
        at = frame.opening.at
        start = box.x.middle if at is None else at + frame.opening.width / 2.0
    x = Span(low=min(start, box.x.low), high=max(start, box.x.high))
    arches = [a for a in solid.arches if a.start < x.high and a.end > x.low]
    between = _Need(
        what="width on the way to its place",
        needed=needed,
        available=_width_in(solid, x, Span(low=0.0, high=frame.tall), arches),
    )
    top = max((arch.height for arch in arches), default=FAR)
    among = any(a.start < box.x.high and a.end > box.x.low for a in arches)
    if between.room >= 0.0 or top == FAR or (among and box.z.low < top):
        return between
    raised = top + solid.bay.reading_error
    over = Span(low=raised, high=raised + frame.tall)
    lintel = frame.opening.sill_rise + frame.height
    ways = (
        _Need(
            what="height over the arches on the way",
            needed=over.high,
            available=min(frame.ceiling, lintel),
        ),
        _Need(
            what="width over the arches on the way",
            needed=needed,
            available=_width_in(solid, x, over, []),
        ),
    )
    return min(ways, key=lambda need: need.room)


def _width_in(solid: BaySolid, x: Span, z: Span, arches: list[ArchSolid]) -> float:
    """Return the least net width over a length and a range of heights. [mm]."""
    width = 0.0
    for side, wall in (("left", solid.left), ("right", solid.right)):
        least = least_net(cuts_at(wall, z=z), low=x.low, high=x.high)
        for arch in arches:
            if arch.side == side and arch.start < x.high and arch.end > x.low:
                over = Span(low=min(z.low, arch.height), high=min(z.high, arch.height))
                low, high = max(x.low, arch.start), min(x.high, arch.end)
                inner = least_net(cuts_at(arch.inner, z=over), low=low, high=high)
                least = min(least, inner)
        width += least
    return width


def _best_width(frame: _Frame, *, length: float, high: float) -> float:
    """Return the greatest width over a stretch: behind a doorway, at the cab, in its place."""
    solid, z = frame.solid, Span(low=0.0, high=high)
    head = _length(frame, high)
    middle = min(max(frame.box.x.middle, length / 2.0), head - length / 2.0)
    starts = {0.0, head - length, middle - length / 2.0}
    if frame.opening.at is not None:
        door = frame.opening.at + frame.opening.width / 2.0 - length / 2.0
        starts.add(min(max(door, 0.0), head - length))
    return max(
        _width_in(solid, Span(low=start, high=start + length), z, list(solid.arches))
        for start in starts
    )


def _length(frame: _Frame, high: float) -> float:
    """Return the least net length of the bay up to a height. [mm]."""
    z = Span(low=0.0, high=high)
    cuts = cuts_at(frame.solid.headboard, z=z)
    return min(*cuts.least, frame.free_to) - tail_lean_over(frame.solid, z=z)[0]


def _room_across(frame: _Frame, *, along: float, high: float) -> float:
    """Return the room crosswise to the way in, over a stretch along it."""
    if frame.opening.face == "tail":
        return _best_width(frame, length=along, high=high)
    return _length(frame, high) if _best_width(frame, length=0.0, high=high) >= along else -FAR


def _room_along(frame: _Frame, *, across: float, high: float) -> float:
    """Return the room along the way in, over a stretch crosswise to it."""
    if frame.opening.face == "tail":
        return _length(frame, high) if _best_width(frame, length=0.0, high=high) >= across else -FAR
    return _best_width(frame, length=across, high=high)
