"""Bolts that hold the unit to the vehicle: through carcass floor, packer and load floor.

Factory anchors that lie under a floor are used first. Every carcass that stands on the load floor
gets four bolts where it can, two at the front and two at the back, each on a packer and within
60 mm of an upright, its washer clear of upright and runner, with room above for a socket before
the drawers go in. Heads point up and stay under what slides over them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import hypot

from stowright.design.anchor_rules import (
    UNDER_HALF,
    floor_ban,
    floor_note,
    grip_below,
    look_under,
    rib_notes,
)
from stowright.design.bolt_choice import (
    BoltSet,
    anchor_bolt,
    bolt_set,
    large_washers,
    plates,
    sinks_in,
)
from stowright.design.bolting import note_motion
from stowright.design.fixing_bolts import Bolted, bolt_hole, head_solid, put_bolt
from stowright.design.fixing_ledger import FixingResult, Ledger
from stowright.design.fixing_rows import blocked_stretches
from stowright.design.fixing_space import Body, Solid, body_of, meets, solid_along
from stowright.design.hold_down_angle import angle_has_room, angle_named, put_angle
from stowright.design.hold_down_ask import CarcassAsk, HoldDownAsk
from stowright.design.hold_down_places import (
    NEAR_UPRIGHT,
    Berth,
    Carcass,
    Quarter,
    berths,
    carcasses_of,
    packer_under,
    say_what_is_not_held,
)
from stowright.design.pieces import Piece
from stowright.design.runner_holes import shade_runners
from stowright.model.bay import Anchor, Bay
from stowright.model.catalogue import Catalogue
from stowright.model.design import AnchorPoint, BlockDesign, ThicknessInUse
from stowright.model.geometry import Point2, Point3

__all__ = ["HoldDownAsk", "hold_down", "place_hold_downs"]

#: Room over a head for what slides past it (the geometry page: + 2). [mm]
CLEAR_OVER = 2.0
#: Height that a socket with its drive needs above the head (common practice). [mm]
_SOCKET_HEIGHT = 120.0
#: How much wider than the head's flats a socket is, each side (common practice). [mm]
_SOCKET_WALL = 4.0
#: Bolts of one carcass stand at least this far apart, so that their plates lie side by side. [mm]
_APART = 150.0
#: Wood left between a bolt's hole and a packer's edge. [mm]
_WHOLE = 2.0


@dataclass(slots=True)
class _Site:
    """The job at hand: the ledger, the bay, what stands where."""

    ledger: Ledger
    bay: Bay
    ask: HoldDownAsk
    placed: list[Point2] = field(default_factory=list)
    choices: dict[tuple[str, float, float, str, str], tuple[BoltSet, ...]] = field(
        default_factory=dict
    )
    near: dict[str, list[Solid]] = field(default_factory=dict)

    def asked(self, carcass: Carcass) -> CarcassAsk:
        """Return what is settled for a carcass."""
        return self.ask.of(carcass.block.name, carcass.module)

    def lift(self, carcass: Carcass) -> float:
        """Return how far an angle under a head lifts it off the floor. [mm]."""
        angle = angle_named(self.ledger, self.asked(carcass).angle)
        return angle.size[2] if angle else 0.0


def hold_down(
    pieces: Iterable[Piece],
    blocks: Iterable[BlockDesign],
    bay: Bay,
    catalogue: Catalogue,
    thickness_of: Mapping[str, ThicknessInUse],
    ask: HoldDownAsk | None = None,
) -> FixingResult:
    """Return hold-down bolts and anchor points of pieces on which nothing but runners stands yet.

    Args:
        pieces: Every piece in the bay.
        blocks: The blocks they make up.
        bay: The load area.
        catalogue: The shop's shelf.
        thickness_of: Thickness in use, by material.
        ask: Positions that a plan has fixed; without it the usual four.
    """
    blocks = tuple(blocks)
    ledger = Ledger.of(pieces, catalogue, thickness_of)
    note_motion(ledger, blocks)
    shade_runners(ledger, blocks)
    place_hold_downs(ledger, blocks, bay, ask or HoldDownAsk())
    return ledger.result()


def place_hold_downs(
    ledger: Ledger, blocks: Iterable[BlockDesign], bay: Bay, ask: HoldDownAsk
) -> None:
    """Bolt every carcass that stands on the load floor to it."""
    site = _Site(ledger=ledger, bay=bay, ask=ask)
    all_blocks = tuple(blocks)
    carcasses = [c for block in all_blocks for c in carcasses_of(ledger, block)]
    used = _use_factory_anchors(site, carcasses)
    for carcass in carcasses:
        wanted = ask.wanted.get((carcass.block.name, carcass.module))
        if wanted is None:
            _hold(site, carcass, used.get(carcass.name, []))
        else:
            _hold_as_planned(site, carcass, wanted)
    standing = {carcass.name for carcass in carcasses}
    for block in all_blocks:
        say_what_is_not_held(ledger, block, standing)
    if ledger.anchors and not grip_below(bay).known:
        ledger.warn("bay.floor is not given: hold-down bolts are reckoned for 1 mm of sheet")


def _use_factory_anchors(site: _Site, carcasses: Sequence[Carcass]) -> dict[str, list[Point2]]:
    """Bolt into every factory anchor in the floor that a carcass covers and can reach."""
    used: dict[str, list[Point2]] = {}
    for anchor in site.bay.anchors:
        spot = (anchor.x, anchor.y)
        carcass = next((c for c in carcasses if c.floor_at(spot) is not None), None)
        if anchor.surface != "floor" or carcass is None:
            continue
        planned = site.ask.wanted.get((carcass.block.name, carcass.module))
        if planned is not None:
            continue
        why = _try_anchor(site, carcass, anchor)
        if why:
            site.ledger.note(f"{anchor.what} at ({anchor.x:g}, {anchor.y:g}) is not used: {why}")
        else:
            used.setdefault(carcass.name, []).append(spot)
    return used


def _try_anchor(site: _Site, carcass: Carcass, anchor: Anchor) -> str:
    """Bolt into one factory anchor; return why not when it cannot be."""
    belts = ((b.x, b.y) for b in site.bay.belts)
    if any(hypot(x - anchor.x, y - anchor.y) < 1.0 for x, y in belts):
        return "it is a belt or seat anchorage"
    if not any(b.thread == anchor.thread for b in site.ledger.catalogue.bolts):
        return f"no bolt for its thread ({anchor.thread or 'none given'})"
    spot = (anchor.x, anchor.y)
    floor = carcass.floor_at(spot)
    if floor is None:
        return "no floor above it"
    for choice in _anchor_choices(site, floor, anchor, site.lift(carcass)):
        reach = bolt_hole(choice.bolt) / 2.0 + _WHOLE
        half_on = carcass.packer_at(spot, -reach)
        if half_on is not None and carcass.packer_at(spot, reach) is None:
            return f"its bolt would break out of the edge of {half_on.id}"
        if _stands(site, carcass, floor, spot, choice):
            _put(site, carcass, floor, spot, choice, existing=anchor)
            return ""
    return "head, washer or socket would meet something there"


def _anchor_choices(site: _Site, floor: Body, anchor: Anchor, lift: float) -> Iterator[BoltSet]:
    catalogue = site.ledger.catalogue
    stack = floor.high[2] - anchor.z + lift
    for head in ("hex", "countersunk"):
        washers = large_washers(catalogue, anchor.thread) if head == "hex" else (None,)
        for washer in washers:
            found = anchor_bolt(
                catalogue, thread=anchor.thread, head=head, stack=stack, head_washer=washer
            )
            if found is not None and sinks_in(found.bolt, site.ledger.limits(floor)[0]):
                yield found


def _hold(site: _Site, carcass: Carcass, have: list[Point2]) -> None:
    """Give a carcass its bolts: a quarter that holds a factory anchor has one already."""
    wanted = site.asked(carcass).count
    quarters = {carcass.quarter(spot) for spot in have}
    spots = list(have)
    for quarter in ((False, False), (False, True), (True, False), (True, True)):
        if quarter not in quarters:
            spots += _first_free(site, carcass, spots, quarter)
    while len(spots) < wanted:
        found = _furthest_free(site, carcass, spots)
        if not found:
            break
        spots += found
    if len(spots) < wanted:
        site.ledger.warn(
            f"{carcass.name}: only {len(spots)} places for hold-down bolts; "
            f"{_why_not(site, carcass)}"
        )


def _why_not(site: _Site, carcass: Carcass) -> str:
    """Say what keeps bolts out: the bans that lie over the floor, else want of room."""
    bans: dict[str, None] = {}
    for floor in carcass.floors:
        for i in range(5):
            for j in range(5):
                x = floor.low[0] + (floor.high[0] - floor.low[0]) * i / 4.0
                y = floor.low[1] + (floor.high[1] - floor.low[1]) * j / 4.0
                ban = floor_ban(site.bay, x, y)
                if ban:
                    bans.setdefault(ban)
    return ", ".join(bans) if bans else "no other place on a packer near an upright is free"


def _first_free(
    site: _Site, carcass: Carcass, spots: Sequence[Point2], quarter: Quarter
) -> list[Point2]:
    """Bolt at the first place of a quarter that every rule allows; nothing where there is none.

    On the packers that are there first; beside them where a packer may be added.
    """
    for on_packers in _packer_rounds(site, carcass):
        for thread in site.asked(carcass).threads:
            for berth in berths(carcass, quarter, on_packers=on_packers):
                found = _bolt_at_berth(site, carcass, berth, thread, spots)
                if found:
                    return found
    return []


def _furthest_free(site: _Site, carcass: Carcass, spots: Sequence[Point2]) -> list[Point2]:
    """Bolt anywhere beside an upright, as far as can be from the bolts that are there."""

    def nearest(berth: Berth) -> float:
        x, y = carcass.point(berth.face, berth.depth)
        return min((hypot(x - a, y - b) for a, b in spots), default=0.0)

    for on_packers in _packer_rounds(site, carcass):
        every = berths(carcass, None, on_packers=on_packers)
        for berth in sorted(every, key=nearest, reverse=True):
            for thread in site.asked(carcass).threads:
                found = _bolt_at_berth(site, carcass, berth, thread, spots)
                if found:
                    return found
    return []


def _packer_rounds(site: _Site, carcass: Carcass) -> tuple[bool, ...]:
    """On packers that are there first; then, where one may be added, anywhere."""
    return (True, False) if site.ask.add_packers and carcass.packers else (True,)


def _bolt_at_berth(
    site: _Site, carcass: Carcass, berth: Berth, thread: str, spots: Sequence[Point2]
) -> list[Point2]:
    for choice in _choices(site, carcass, berth.floor, thread):
        at_zero = carcass.point(0.0, berth.depth)
        blocked = [
            stretch
            for solids, probe, clear in _tests(site, carcass, berth.floor, at_zero, choice)
            for stretch in blocked_stretches(solids, probe, carcass.across, clear=clear)
        ]
        reach = max(_needed(choice) + 1.0, site.asked(carcass).stand_off)
        for across in berth.places(reach, blocked):
            spot = carcass.point(across, berth.depth)
            if any(hypot(spot[0] - x, spot[1] - y) < _APART for x, y in spots):
                continue
            if _allowed(site, spot) and _put(site, carcass, berth.floor, spot, choice):
                return [spot]
    return []


def _allowed(site: _Site, spot: Point2) -> bool:
    if floor_ban(site.bay, *spot):
        return False
    side = 2.0 * UNDER_HALF + 4.0
    return all(abs(spot[0] - x) >= side or abs(spot[1] - y) >= side for x, y in site.placed)


def _choices(site: _Site, carcass: Carcass, floor: Body, thread: str) -> tuple[BoltSet, ...]:
    """Return bolts worth trying, best first: hexagon heads, a cup head, a flush one."""
    wanted, lift = site.asked(carcass).plate, site.lift(carcass)
    key = (thread, round(floor.high[2], 3), lift, floor.piece.material, wanted)
    if key not in site.choices:
        catalogue = site.ledger.catalogue
        washers = large_washers(catalogue, thread)
        rows = sorted(plates(catalogue, thread), key=lambda row: row.name != wanted)
        plate = next(iter(rows), washers[0] if washers else None)
        found = [
            bolt_set(
                catalogue,
                thread=thread,
                head=head,
                stack=floor.high[2] + lift + grip_below(site.bay).depth,
                head_washer=washer,
                nut_washer=plate,
            )
            for head, washer in (
                *(("hex", washer) for washer in washers),
                ("coach", None),
                ("countersunk", None),
            )
        ]
        t_min = site.ledger.limits(floor)[0]
        site.choices[key] = tuple(c for c in found if c is not None and sinks_in(c.bolt, t_min))
    return site.choices[key]


def _needed(choice: BoltSet) -> float:
    """Return the radius to be free above: washer, and a socket over a hexagon head. [mm]."""
    if choice.bolt.head != "hex":
        return choice.head_reach
    return max(choice.head_reach, choice.bolt.across_flats / 2.0 + _SOCKET_WALL)


def _place_of(
    site: _Site, carcass: Carcass, floor: Body, packer: Body | None, spot: Point2, choice: BoltSet
) -> Bolted:
    seat: Point3 = (spot[0], spot[1], floor.high[2] + site.lift(carcass))
    return Bolted(
        set=choice,
        through=(floor, packer) if packer else (floor,),
        beyond=("vehicle",),
        axis=2,
        sign=-1.0,
        seat=seat,
        far=round(-grip_below(site.bay).depth, 4),
        joint="",
        step="install",
        purpose="hold-down bolt",
    )


type _Test = tuple[Iterable[Solid], Solid, float]


def _tests(
    site: _Site, carcass: Carcass, floor: Body, spot: Point2, choice: BoltSet
) -> tuple[_Test, ...]:
    """Return what a bolt at a place must miss: what slides over it, what stands about, holes."""
    place = _place_of(site, carcass, floor, None, spot, choice)
    space = site.ledger.space
    over = head_solid(place, above=CLEAR_OVER + site.ask.sag)
    top = place.seat[2] + choice.head_stands + _SOCKET_HEIGHT
    socket = solid_along(2, place.seat[2], top, place.seat, _needed(choice))
    hole = max(bolt_hole(choice.bolt) / 2.0, choice.bolt.across_flats / 2.0)
    shank = solid_along(2, place.far, floor.high[2], place.seat, hole)
    wood = [solid for body in (floor, *carcass.packers) for solid in space.hard.get(body.id, ())]
    return (
        (space.moving, over, 0.0),
        (_near(site, carcass, floor), socket, 0.0),
        (wood, shank, 3.0),
    )


def _stands(site: _Site, carcass: Carcass, floor: Body, spot: Point2, choice: BoltSet) -> bool:
    """Whether a bolt can stand at a place: wood, washer, socket and what slides over it."""
    return not any(
        meets(probe, solid, clear)
        for solids, probe, clear in _tests(site, carcass, floor, spot, choice)
        for solid in solids
    )


def _near(site: _Site, carcass: Carcass, floor: Body) -> list[Solid]:
    """Return what stands over a floor as high as a socket reaches."""
    if floor.id not in site.near:
        x0, x1, y0, y1, _, top = floor.solid()
        above = (x0, x1, y0, y1, top, top + _SOCKET_HEIGHT + 20.0)
        packers = [packer.id for packer in carcass.packers]
        space = site.ledger.space
        site.near[floor.id] = [
            solid
            for solid in (*space.standing(but=[floor.id, *packers]), *space.hard.get("air", ()))
            if meets(above, solid, 1.0)
        ]
    return site.near[floor.id]


def _put(
    site: _Site,
    carcass: Carcass,
    floor: Body,
    spot: Point2,
    choice: BoltSet,
    *,
    existing: Anchor | None = None,
) -> bool:
    """Bolt at a place that has been found free; False where it wants a packer that cannot be."""
    ledger, notes = site.ledger, []
    packer = carcass.packer_at(spot)
    if packer is None:
        packer = carcass.packer_at(spot, -bolt_hole(choice.bolt) / 2.0 - _WHOLE)
        if packer is not None and existing is None:
            return False  # it would break out of the packer's edge
    if packer is None and carcass.packers:
        packer = _added_packer(site, carcass, floor, spot) if site.ask.add_packers else None
        if packer is None and site.ask.add_packers and existing is None:
            return False
        notes += [] if packer else ["put a packer there"]
    angle = angle_named(ledger, site.asked(carcass).angle)
    if angle is not None and not angle_has_room(ledger, carcass, floor, spot, angle):
        return False  # its upright leg would meet a runner or a drawer
    fixing = put_bolt(ledger, _place_of(site, carcass, floor, packer, spot, choice))
    if angle is not None:
        put_angle(ledger, carcass, floor, spot, angle)
    site.placed.append(spot)
    away = carcass.from_upright(spot)
    if away > NEAR_UPRIGHT:
        notes.append(f"{away:.0f} mm from the nearest upright")
    if existing is None:
        notes += rib_notes(site.bay, choice.nut_washers)
        told = floor_note(site.bay)
        notes += [look_under(site.bay, *spot), *([told] if told else [])]
    ledger.anchors.append(
        AnchorPoint(
            id=f"bolt {len(ledger.anchors) + 1}",
            module=carcass.module,
            block=carcass.block.name,
            x=spot[0],
            y=spot[1],
            z=existing.z if existing else 0.0,
            surface="floor",
            thread=choice.bolt.thread,
            existing=existing.what if existing else "",
            part=floor.id,
            bolt=choice.bolt.name,
            washer=choice.head_washer.name if choice.head_washer else "",
            plate=next((w.name for w in choice.nut_washers if w.shape == "square"), ""),
            nut=choice.nut.name if choice.nut else "",
            note="; ".join(notes),
            fixing=fixing,
            angle=angle.name if angle else "",
        )
    )
    return True


def _added_packer(site: _Site, carcass: Carcass, floor: Body, spot: Point2) -> Body | None:
    """Add a packer under a bolt that would stand on none; None where there is no room for one."""
    space = site.ledger.space
    others = [b for b in space.bodies.values() if b.piece.role == "packer"]
    piece = packer_under(carcass, floor, spot, others, number=len(site.ledger.packers) + 1)
    if piece is None:
        return None
    site.ledger.packers.append(piece)
    space.bodies[piece.id] = body_of(piece)
    return space.bodies[piece.id]


def _hold_as_planned(site: _Site, carcass: Carcass, wanted: Iterable[Point2]) -> None:
    """Bolt where a plan says, and say what speaks against a place."""
    for spot in wanted:
        anchor = next(
            (
                a
                for a in site.bay.anchors
                if a.surface == "floor" and hypot(a.x - spot[0], a.y - spot[1]) < 1.0
            ),
            None,
        )
        why = (
            _try_anchor(site, carcass, anchor)
            if anchor is not None
            else _try_planned(site, carcass, spot)
        )
        if why:
            site.ledger.warn(
                f"{carcass.name}: no hold-down bolt at ({spot[0]:g}, {spot[1]:g}): {why}"
            )


def _try_planned(site: _Site, carcass: Carcass, spot: Point2) -> str:
    ban = floor_ban(site.bay, *spot)
    if ban:
        return ban
    under = carcass.floor_at(spot)
    if under is None:
        return "no carcass floor above it"
    for thread in site.asked(carcass).threads:
        for choice in _choices(site, carcass, under, thread):
            if _stands(site, carcass, under, spot, choice) and _put(
                site, carcass, under, spot, choice
            ):
                return ""
    return "head, washer or socket would meet something there"
