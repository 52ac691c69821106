"""Packing the carry list into the openings of a design.

Daily things are pulled towards the face, heavy ones down and towards the axle, seldom used ones
to the back; what names its opening goes there; what may not stand together does not; a pair of
runners is loaded to no more than nine tenths of what it is rated for. Things that belong together
are pulled into the same opening, and the load is balanced left to right.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from stowright.design.frame import frame_of
from stowright.design.runner_choice import allowed_kg
from stowright.explore.packing_dividers import with_dividers
from stowright.explore.packing_search import (
    Bin,
    Item,
    Packing,
    Position,
    pack,
    patience,
    pleasing,
)
from stowright.model.design import BlockDesign, Design, OpeningDesign, RunnerFit
from stowright.model.geometry import Box, Span
from stowright.model.job import CarryItem, Job
from stowright.model.packed import LeftOut, PackedLoad, PackedThing
from stowright.units import Unit, format_length

__all__ = ["QUICK", "WOULD_FIT", "left_to_carry", "pack_carry", "with_reasons"]

#: Packings tried after the first orders while planning.
QUICK = 200
#: Openings that hold things. A blank holds nothing.
HOLDING = frozenset({"drawer", "tray", "open", "locker", "through"})
#: A pair of runners is loaded to this share of its rating.
SHARE_OF_RATING = 0.9
NO_LIMIT_KG = 1.0e6
#: What a thing is too much of, across an opening, into it and up.
_AXES = ("wide", "long", "high")
#: How the reason of a thing begins that would go in if others did not lie there.
WOULD_FIT = "it would fit into"
#: Pulls, as shares of a thing's touching surface (assumed; they only break ties).
TO_THE_FACE, TO_THE_BACK, HEAVY_DOWN, HEAVY_TO_AXLE = 0.6, -0.2, 0.3, 0.2
#: What an opening is worth to a thing, in the same shares (assumed): daily things in the upper
#: openings, to be got at standing; a high opening kept for what is high.
DAILY_UP, HIGH_FOR_HIGH = 0.1, 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class _Room:
    block: BlockDesign
    opening: OpeningDesign
    size: tuple[float, float, float]


def pack_carry(
    design: Design,
    *,
    seed: int = 0,
    budget: int | None = None,
    longer: int | None = None,
    progress: Callable[[str, float], None] | None = None,
    should_stop: Callable[[], bool] | None = None,
) -> PackedLoad:
    """Return where each thing of the carry list lies in a design.

    Args:
        design: The design; its openings are the rooms.
        seed: Start of the random numbers.
        budget: How many packings are tried after the first orders.
        longer: How many fillings are tried for what is left out then. Both go by the number of
            things unless told.
        progress: Told the stage in words and the share of the work done, 0 to 1.
        should_stop: Asked now and then; True ends the search with the best so far.
    """
    rooms = _rooms(design)
    inside = [item for item in design.job.carry if not item.on]
    singles = tuple((item, n + 1) for item in inside for n in range(item.quantity))
    if not singles:
        return PackedLoad()
    found = pack(
        tuple(_bin(room) for room in rooms),
        _items(design, rooms, singles),
        seed=seed,
        budget=pleasing(len(singles)) if budget is None else budget,
        longer=patience(len(singles)) if longer is None else longer,
        progress=progress,
        should_stop=should_stop,
    )
    things = tuple(_thing(rooms, singles, p) for p in found.placed)
    things = tuple(sorted(things, key=lambda t: (_rank(rooms, t), t.at[1], t.at[0], t.at[2])))
    load = PackedLoad(
        things=things,
        left_out=_left_out(singles, found),
        tried=found.tried,
        stopped=found.stopped,
    )
    return with_dividers(design, with_reasons(design, load))


def _rank(rooms: tuple[_Room, ...], thing: PackedThing) -> int:
    return next(i for i, room in enumerate(rooms) if room.opening.name == thing.opening)


def _rooms(design: Design) -> tuple[_Room, ...]:
    return tuple(
        _Room(block=block, opening=opening, size=_inside(block, opening))
        for block in design.blocks
        for opening in block.openings
        if opening.fill in HOLDING and min(opening.usable.size) > 0.0
    )


def _inside(block: BlockDesign, opening: OpeningDesign) -> tuple[float, float, float]:
    """Return across, depth and height of what can be filled."""
    x, y, z = opening.usable.size
    return (y, x, z) if block.face == "tail" else (x, y, z)


def _bin(room: _Room) -> Bin:
    across, depth, height = room.size
    point = (0.0, 0.0, 0.0)
    start = _boxed(room.block, room.opening.usable, point, point).y.low
    return Bin(
        across=across,
        depth=depth,
        height=height,
        most_kg=_most(room.opening),
        sideways=(start, room.block.axes[0][1], room.block.axes[1][1]),
        runners=_runners(room.opening),
    )


def _most(opening: OpeningDesign) -> float:
    """Return what an opening may hold by its runners. [kg]."""
    if opening.runner is None:
        return NO_LIMIT_KG
    own = opening.gross_kg - opening.contents_kg
    return max(0.0, SHARE_OF_RATING * _allowed(opening, opening.runner) - own)


def _runners(opening: OpeningDesign) -> tuple[float, float] | None:
    """Return what an opening's runners may carry and what moves besides the load. [kg]."""
    if opening.runner is None:
        return None
    allowed = SHARE_OF_RATING * _allowed(opening, opening.runner)
    return (allowed, opening.gross_kg - opening.contents_kg) if allowed > 0.0 else None


def left_to_carry(opening: OpeningDesign) -> float:
    """Return what an opening's runners may still carry; below zero where they are overloaded."""
    if opening.runner is None:
        return NO_LIMIT_KG
    return _allowed(opening, opening.runner) - opening.gross_kg


def _allowed(opening: OpeningDesign, fit: RunnerFit) -> float:
    """Return what a pair of runners may carry by the job's own factors. [kg]."""
    width = opening.box.width if opening.box else opening.width
    table = opening.build.runner_factors
    return allowed_kg(fit.runner, fit.size, box_width=width, table=table)


def _items(
    design: Design, rooms: tuple[_Room, ...], singles: tuple[tuple[CarryItem, int], ...]
) -> tuple[Item, ...]:
    heaviest = max(item.mass for item, _ in singles) or 1.0
    top = max((room.opening.usable.z.high for room in rooms), default=1.0)
    to_axle = 1.0 if _axle_is_ahead(design.job) else -1.0
    return tuple(
        Item(
            size=(item.size[0], item.size[1], item.size[2] + item.clear_above),
            mass_kg=item.mass,
            upright=item.stays_upright,
            bears=item.clear_above <= 0.0,
            only_in=_only_in(rooms, item),
            apart_from=_apart(singles, item),
            together_with=_together(singles, item),
            kin=design.job.carry.index(item),
            at_hand=item.used == "daily",
            wanted=tuple(
                _worth(design.job, room, item, weight=item.mass / heaviest, top=top)
                for room in rooms
            ),
            pulls=(0.0, _depth_pull(item, heaviest, to_axle), HEAVY_DOWN * item.mass / heaviest),
        )
        for item, _ in singles
    )


def _axle_is_ahead(job: Job) -> bool:
    """Tell whether the rear axle lies nearer the cab than the middle of the load area."""
    axle = job.vehicle.rear_axle_x if job.vehicle else None
    return axle is None or axle >= job.bay.length / 2.0


def _depth_pull(item: CarryItem, heaviest: float, to_axle: float) -> float:
    """Return what depth counts against a place: what is wanted daily is at hand, heavy or not."""
    if item.used == "daily":
        return TO_THE_FACE
    wish = TO_THE_BACK if item.used == "seldom" else 0.0
    return wish - to_axle * HEAVY_TO_AXLE * item.mass / heaviest


def _worth(job: Job, room: _Room, item: CarryItem, *, weight: float, top: float) -> float:
    """Return what an opening is worth to a thing: heavy ones low and by the axle."""
    usable = room.opening.usable
    up = usable.z.low / top
    worth = -HEAVY_DOWN * weight * up
    if item.used == "daily":
        worth += DAILY_UP * up
    worth -= HIGH_FOR_HIGH * max(0.0, 1.0 - item.size[2] / usable.size[2])
    axle = job.vehicle.rear_axle_x if job.vehicle else None
    if axle is not None:
        middle = (usable.x.low + usable.x.high) / 2.0
        worth -= HEAVY_TO_AXLE * weight * abs(middle - axle) / job.bay.length
    return worth


def _only_in(rooms: tuple[_Room, ...], item: CarryItem) -> tuple[int, ...] | None:
    if not item.goes_in:
        return None
    return tuple(i for i, room in enumerate(rooms) if room.opening.name == item.goes_in)


def _apart(singles: tuple[tuple[CarryItem, int], ...], item: CarryItem) -> tuple[int, ...]:
    return tuple(i for i, (other, _) in enumerate(singles) if _foes(item, other))


def _together(singles: tuple[tuple[CarryItem, int], ...], item: CarryItem) -> tuple[int, ...]:
    return tuple(i for i, (other, _) in enumerate(singles) if other.what in item.goes_with)


def _thing(
    rooms: tuple[_Room, ...], singles: tuple[tuple[CarryItem, int], ...], place: Position
) -> PackedThing:
    item, copy = singles[place.item]
    room = rooms[place.room]
    size = (place.size[0], place.size[1], place.size[2] - item.clear_above)
    return PackedThing(
        what=item.what,
        copy=copy,
        opening=room.opening.name,
        at=place.at,
        size=size,
        box=_boxed(room.block, room.opening.usable, place.at, size),
        mass_kg=item.mass,
        stands=place.stands,
        used=item.used,
    )


def _boxed(
    block: BlockDesign,
    usable: Box,
    at: tuple[float, float, float],
    size: tuple[float, float, float],
) -> Box:
    """Return a box of an opening's own frame (across, depth, up) in the bay's axes."""
    across, depth, up = (
        Span(low=low, high=low + extent) for low, extent in zip(at, size, strict=True)
    )
    return frame_of(block.face, usable).box(across=across, depth=depth, up=up)


def with_reasons(design: Design, load: PackedLoad) -> PackedLoad:
    """Return a load that says of what is left out by how much it does not fit a design.

    Masses choose runners, and runners the depths of boxes, so that a packing may change the design
    it was made for; what is left out is told by the design that is built.
    """
    rooms = _rooms(design)
    items = {item.what: item for item in design.job.carry}
    there = tuple(
        tuple(items[t.what] for t in load.things if t.opening == room.opening.name)
        for room in rooms
    )
    told = tuple(
        replace(left, why=_why(design.job.units, rooms, there, items[left.what]))
        for left in load.left_out
    )
    return replace(load, left_out=told)


def _left_out(singles: tuple[tuple[CarryItem, int], ...], found: Packing) -> tuple[LeftOut, ...]:
    counts: dict[str, int] = {}
    for index in found.left_out:
        what = singles[index][0].what
        counts[what] = counts.get(what, 0) + 1
    return tuple(LeftOut(what=what, copies=n, why="") for what, n in counts.items())


def _why(
    units: Unit,
    rooms: tuple[_Room, ...],
    there: tuple[tuple[CarryItem, ...], ...],
    item: CarryItem,
) -> str:
    """Say by how much a thing does not fit, or what takes its place."""
    open_to = [k for k, r in enumerate(rooms) if not item.goes_in or r.opening.name == item.goes_in]
    if not open_to:
        return f"there is no opening {item.goes_in!r} that holds things"
    short = {k: _short(rooms[k], item) for k in open_to}
    nearest = min(open_to, key=lambda k: short[k][0])
    much, axis = short[nearest]
    if much > 0.0:
        told = format_length(much, units, with_unit=True)
        name = rooms[nearest].opening.name
        return f"{told} too {_AXES[axis]} for {name}, the opening that comes nearest"
    large = [k for k in open_to if not short[k][0] > 0.0]
    most = {k: _most(rooms[k].opening) for k in large}
    strongest = max(large, key=lambda k: most[k])
    if item.mass > most[strongest]:
        return f"{item.mass - most[strongest]:.1f} kg more than the runners may carry"
    return _taken(rooms, there, item, {k: most[k] for k in large if item.mass <= most[k]})


def _taken(
    rooms: tuple[_Room, ...],
    there: tuple[tuple[CarryItem, ...], ...],
    item: CarryItem,
    most: dict[int, float],
) -> str:
    """Say what takes a thing's place in the openings that it would go into empty."""
    friendly = [k for k in most if not any(_foes(item, other) for other in there[k])]
    if not friendly:
        foes = dict.fromkeys(o.what for k in most for o in there[k] if _foes(item, o))
        return f"{WOULD_FIT} what holds {', '.join(foes)}, which it may not stand with"
    left = {k: max(0.0, most[k] - sum(other.mass for other in there[k])) for k in friendly}
    freest = max(friendly, key=lambda k: left[k])
    name = rooms[freest].opening.name
    if item.mass > left[freest]:
        return (
            f"{WOULD_FIT} {name} empty, but its {item.mass:g} kg are "
            f"{item.mass - left[freest]:.1f} kg more than the runners there still carry"
        )
    litres = item.size[0] * item.size[1] * (item.size[2] + item.clear_above) / 1.0e6
    return f"{WOULD_FIT} {name} empty, but its {litres:.0f} litres are taken by other things"


def _foes(one: CarryItem, other: CarryItem) -> bool:
    """Tell whether two things may not stand together."""
    return other.what in one.never_with or one.what in other.never_with


def _short(room: _Room, item: CarryItem) -> tuple[float, int]:
    """Return by how much a thing is too large for an empty room, and along which axis.

    As it would lie best; 0 when it goes in. [mm]
    """
    length, width, height = item.size
    lying = [(length, width, height + item.clear_above)]
    if not item.stays_upright:
        lying += [(length, height, width), (width, height, length)]
    across, depth, up = room.size
    over = (
        (a - across, b - depth, h - up)
        for one, two, h in lying
        for a, b in ((one, two), (two, one))
    )
    much, axis = min((max(each), each.index(max(each))) for each in over)
    return max(0.0, round(much, 1)), axis
