"""Openings cut for hands, latches, handles, cables and air, before any fixing is placed.

A drawer's front and the inner front behind it get the same opening at the same place. A latch is
let in where it is too deep to lie on the face. A handle that stands proud gets its fixing holes, a
front without one a hand-hole. Cable ways and vents go through the back.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from math import ceil, pi

from stowright.design.fixing_ledger import FixingResult, Ledger
from stowright.design.fixing_space import Body, Solid, kept_free
from stowright.design.handles import bolt_handle
from stowright.design.latches import LatchSeat
from stowright.design.pieces import Piece
from stowright.model.catalogue import Catalogue, Hardware
from stowright.model.design import BlockDesign, OpeningDesign, ThicknessInUse
from stowright.model.job import Fill
from stowright.model.part import Feature, FeatureKind

__all__ = ["cut_outs", "handle_for", "place_cut_outs"]

#: Wood left between an opening and an edge, and between two openings (common practice). [mm]
_WOOD = 25.0
_BETWEEN = 15.0
#: A hand-hole for three fingers, for two, a round one for one finger (common practice): along,
#: high. [mm]
_HANDS = ((100.0, 30.0), (75.0, 30.0), (35.0, 35.0))
_TWO_FINGERS = 60.0
#: A latch deeper than this cannot lie on the face of a front: it is let in (judgement). [mm]
_LAID_ON = 28.0
#: One vent slot: along, high; its free area is that of the slot with round ends. [mm]
_SLOT = (100.0, 20.0)
_STEP = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Window:
    """What front and inner front have in common, or one panel alone.

    Attributes:
        bodies: The panels, all cut alike.
        across: The bay axis across; the other is z.
        low, high: Range on the axis across.
        bottom, top: Range on z.
        free_edge_low: Whether the hand belongs at the lower edge: a door that lifts.
    """

    bodies: tuple[Body, ...]
    across: int
    low: float
    high: float
    bottom: float
    top: float
    free_edge_low: bool = False

    @property
    def normal(self) -> int:
        """The bay axis through the panels."""
        return 1 - self.across


def cut_outs(
    pieces: Iterable[Piece],
    blocks: Iterable[BlockDesign],
    fills: Mapping[str, Fill],
    catalogue: Catalogue,
    thickness_of: Mapping[str, ThicknessInUse],
) -> FixingResult:
    """Return the openings cut into pieces on which no fixing stands yet.

    Args:
        pieces: Every piece in the bay.
        blocks: The blocks they make up.
        fills: What the job asks for, by opening.
        catalogue: For latches and handles.
        thickness_of: Thickness in use, by material.
    """
    ledger = Ledger.of(pieces, catalogue, thickness_of)
    place_cut_outs(ledger, blocks, fills)
    return ledger.result()


def place_cut_outs(
    ledger: Ledger, blocks: Iterable[BlockDesign], fills: Mapping[str, Fill]
) -> None:
    """Cut every opening that fronts, doors and backs need."""
    for block in blocks:
        across = max(range(2), key=lambda k: abs(block.axes[0][k]))
        for opening in block.openings:
            fill = fills.get(opening.name)
            lifts = fill is not None and fill.door == "lift"
            front = _front_window(ledger, opening, across, lifts=lifts)
            if front is not None:
                _front(ledger, opening, fill, front)
            if fill is not None:
                _back(ledger, opening, fill, across)


def _front_window(
    ledger: Ledger, opening: OpeningDesign, across: int, *, lifts: bool
) -> _Window | None:
    mine = [b for b in ledger.space.bodies.values() if b.piece.opening == opening.name]
    front = next((b for b in mine if b.piece.role in {"drawer-front", "door"}), None)
    if front is None:
        return None
    inner = next((b for b in mine if b.piece.role == "drawer-inner-front"), None)
    bodies = (front, inner) if inner is not None else (front,)
    return _Window(
        bodies=bodies,
        across=across,
        low=max(b.low[across] for b in bodies),
        high=min(b.high[across] for b in bodies),
        bottom=max(b.low[2] for b in bodies),
        top=min(b.high[2] for b in bodies),
        free_edge_low=lifts,
    )


def _front(ledger: Ledger, opening: OpeningDesign, fill: Fill | None, window: _Window) -> None:
    """Cut for the latch, then for the hand, side by side at one height."""
    middle = (window.low + window.high) / 2.0
    latch = _latch(ledger, opening, fill)
    if latch is not None:
        _put_latch(ledger, opening, window, latch)
    projection = opening.build.handle_projection
    handle = handle_for(ledger.catalogue, projection) if projection > 0.0 else None
    if handle is not None:
        _put_handle(ledger, opening, window, handle)
        return
    if projection > 0.0:
        ledger.warn(f"{opening.name}: no handle in the catalogue stands {projection:g} mm or less")
        return
    for size in _HANDS:
        hole = _room_for(ledger, window, size, middle)
        if hole is not None:
            what = "hand-hole" if size[0] > _TWO_FINGERS else "finger hole"
            _cut(ledger, window, hole, ("hand-hole", what), size[1] / 2.0)
            return
    ledger.warn(f"{opening.name}: no room for a hand-hole in the front")


def _put_latch(ledger: Ledger, opening: OpeningDesign, window: _Window, latch: Hardware) -> None:
    """Let a latch in, or lay it on the face, near the free edge; its screws find wood there."""
    seat = LatchSeat(
        ledger=ledger,
        opening=opening,
        latch=latch,
        front=window.bodies[0],
        across=window.across,
        lifts=window.free_edge_low,
    )
    let_in = latch.size[2] > _LAID_ON
    place = window if let_in else replace(window, bodies=window.bodies[:1])
    size = (latch.size[0], latch.size[1])
    middle = (window.low + window.high) / 2.0
    found = _room_for(ledger, place, size, middle, accept=seat.takes)
    if found is None:
        ledger.warn(f"{opening.name}: no room for the {latch.name} on its front")
        return
    seat.put(found, proud=not let_in)
    if let_in:
        _cut(ledger, window, found, ("cut-out", f"cut-out for the {latch.name}"), 0.0)
    else:
        ledger.space.take(place.bodies[0].id, found)


def _latch(ledger: Ledger, opening: OpeningDesign, fill: Fill | None) -> Hardware | None:
    """Return the latch: a runner's own choice, a door's as asked for or the first on the shelf."""
    latches = [row for row in ledger.catalogue.hardware if row.kind == "latch"]
    if opening.runner is not None:
        name = opening.runner.latch
    elif fill is not None and fill.latch:
        name = fill.latch
    else:
        return latches[0] if latches else None
    return next((row for row in latches if row.name == name), None)


def handle_for(catalogue: Catalogue, projection: float) -> Hardware | None:
    """Return the handle that stands proud by a projection or a little less, None without one."""
    rows = [
        row
        for row in catalogue.hardware
        if row.kind == "handle" and 0.0 < row.size[2] <= projection + 1.0e-6
    ]
    return max(rows, key=lambda row: (row.size[2], row.name), default=None)


def _room_for(
    ledger: Ledger,
    window: _Window,
    size: tuple[float, float],
    centre: float,
    *,
    accept: Callable[[Solid], bool] | None = None,
) -> Solid | None:
    """Return a free rectangle near the free edge, as near the middle as it goes; None without."""
    half = size[0] / 2.0
    for top in _tops(window, size[1]):
        for middle in _outward(centre, window.low + _WOOD + half, window.high - _WOOD - half):
            solid = _solid(window, middle - half, middle + half, top - size[1], top)
            free = ledger.space.free((b.id for b in window.bodies), solid, clear=_BETWEEN)
            if free and (accept is None or accept(solid)):
                return solid
    return None


def _tops(window: _Window, tall: float) -> list[float]:
    """Return upper edges to try: from the top down, from the bottom up where it opens upward."""
    room = window.top - window.bottom - 2.0 * _WOOD - tall
    if room < 0.0:
        return []
    found = [window.top - _WOOD - i * _STEP for i in range(int(room // _STEP) + 1)]
    return [window.bottom + _WOOD + tall, *found[::-1]] if window.free_edge_low else found


def _outward(centre: float, low: float, high: float) -> Iterable[float]:
    """Yield places from the centre outward, within a range."""
    if low > high:
        return
    for i in range(ceil((high - low) / _STEP) + 1):
        for at in (centre - i * _STEP, centre + i * _STEP) if i else (centre,):
            if low <= at <= high:
                yield round(at, 4)


def _solid(window: _Window, low: float, high: float, bottom: float, top: float) -> Solid:
    near = min(b.low[window.normal] for b in window.bodies)
    far = max(b.high[window.normal] for b in window.bodies)
    if window.across == 1:
        return (near, far, low, high, bottom, top)
    return (low, high, near, far, bottom, top)


def _cut(
    ledger: Ledger,
    window: _Window,
    solid: Solid,
    what: tuple[FeatureKind, str],
    radius: float,
) -> None:
    kind, purpose = what
    for body in window.bodies:
        one = body.uvw((solid[0], solid[2], solid[4]))
        two = body.uvw((solid[1], solid[3], solid[5]))
        u, v = min(one[0], two[0]), min(one[1], two[1])
        size = (round(abs(one[0] - two[0]), 4), round(abs(one[1] - two[1]), 4))
        make = partial(
            Feature,
            kind=kind,
            face="good",
            at=(u, v),
            size=size,
            depth=body.piece.thickness,
            through=True,
            radius=radius,
            purpose=purpose,
        )
        ledger.cut(body, make)
        ledger.space.take(body.id, kept_free(body, make()))


def _round(
    ledger: Ledger, window: _Window, across: float, up: float, size: float, what: str
) -> None:
    centre = [0.0, 0.0, up]
    centre[window.across] = across
    for body in window.bodies:
        centre[window.normal] = body.low[window.normal]
        make = partial(
            Feature,
            kind="hole",
            face="good",
            at=body.at_on("good", centre),
            size=(size,),
            depth=body.piece.thickness,
            through=True,
            purpose=what,
        )
        ledger.cut(body, make)
        ledger.space.take(body.id, kept_free(body, make()))


def _put_handle(ledger: Ledger, opening: OpeningDesign, window: _Window, handle: Hardware) -> None:
    """Bolt a handle on, level, near the top, from inside through all that is behind it."""
    spread = handle.holes or (
        (10.0 - handle.size[0] / 2.0, 0.0),
        (handle.size[0] / 2.0 - 10.0, 0.0),
    )
    half = max(10.0, *(abs(along) for along, _ in spread))
    middle = (window.low + window.high) / 2.0
    for up in _handle_heights(window, handle):
        for at in _outward(middle, window.low + half + _WOOD, window.high - half - _WOOD):
            solid = _solid(window, at - half - 5.0, at + half + 5.0, up - 5.0, up + 5.0)
            if ledger.space.free((b.id for b in window.bodies), solid, clear=5.0):
                spots = tuple((at + along, up) for along, _ in spread)
                bolt_handle(ledger, opening, handle, window.bodies, window.across, spots)
                return
    ledger.warn(f"no room for the {handle.name} on {window.bodies[0].id}")


def _handle_heights(window: _Window, handle: Hardware) -> list[float]:
    """Return heights to try: a quarter down from the free edge, then further from it."""
    tall = window.top - window.bottom
    least = _WOOD + handle.size[1] / 2.0
    first = max(least, tall / 4.0)
    downs = [
        first + i * 2.0 * _STEP for i in range(int(max(tall - least - first, 0.0) // 10.0) + 1)
    ]
    if window.free_edge_low:
        return [window.bottom + down for down in downs]
    return [window.top - down for down in downs]


def _back(ledger: Ledger, opening: OpeningDesign, fill: Fill, across: int) -> None:
    """Cut the cable way and the vents asked for into the back behind an opening."""
    if fill.cable_way <= 0.0 and fill.vent <= 0.0:
        return
    window = _back_window(ledger, opening, across)
    if window is None:
        ledger.note(f"{opening.name}: no back panel; cable and air have the open back")
        return
    if fill.cable_way > 0.0 and not _cable_way(ledger, window, fill.cable_way):
        ledger.warn(f"{opening.name}: no room for a cable way of {fill.cable_way:g} in the back")
    if fill.vent > 0.0:
        short = _vents(ledger, window, fill.vent)
        if short > 0.0:
            ledger.warn(
                f"{opening.name}: the back has room for {fill.vent - short:.0f} cm2 of vent, "
                f"{short:.0f} less than asked for"
            )


def _back_window(ledger: Ledger, opening: OpeningDesign, across: int) -> _Window | None:
    """Return the largest part of a back panel that lies behind an opening."""
    clear = opening.clear
    span = (clear.x, clear.y)[across]
    found = [
        _Window(
            bodies=(body,),
            across=across,
            low=max(body.low[across], span.low),
            high=min(body.high[across], span.high),
            bottom=max(body.low[2], clear.z.low),
            top=min(body.high[2], clear.z.high),
        )
        for body in ledger.space.bodies.values()
        if body.piece.role in {"carcass-back", "back-rail"}
        and (body.piece.block, body.piece.module) == (opening.block, opening.module)
    ]
    behind = [w for w in found if w.high > w.low and w.top > w.bottom]
    return max(behind, key=lambda w: w.top - w.bottom, default=None)


def _cable_way(ledger: Ledger, window: _Window, size: float) -> bool:
    """Drill a cable way low at one side, clear of the edges."""
    half = size / 2.0
    up = window.bottom + _WOOD + half
    while up + half + _WOOD <= window.top:
        for at in _outward(
            window.low + _WOOD + half, window.low + _WOOD + half, window.high - _WOOD - half
        ):
            solid = _solid(window, at - half, at + half, up - half, up + half)
            if ledger.space.free((b.id for b in window.bodies), solid, clear=_BETWEEN):
                _round(ledger, window, at, up, size, "cable way")
                return True
        up += _STEP
    return False


def _vents(ledger: Ledger, window: _Window, area_cm2: float) -> float:
    """Cut slots for a free area, half of them high and half low. Return what is short. [cm2]."""
    along, tall = _SLOT
    each = (along * tall - (4.0 - pi) * (tall / 2.0) ** 2) / 100.0
    left = ceil(area_cm2 / each - 1.0e-9)
    for level in _levels(window, tall):
        for at in _columns(window, along):
            if left == 0:
                return 0.0
            solid = _solid(window, at, at + along, level, level + tall)
            if ledger.space.free((b.id for b in window.bodies), solid, clear=_BETWEEN - 0.1):
                _cut(ledger, window, solid, ("vent", "vent"), tall / 2.0)
                left -= 1
    return max(area_cm2 - (ceil(area_cm2 / each - 1.0e-9) - left) * each, 0.0) if left else 0.0


def _levels(window: _Window, tall: float) -> list[float]:
    """Return slot levels: the topmost, the lowest, the next from the top, and so on."""
    room = window.top - window.bottom - 2.0 * _WOOD - tall
    if room < 0.0:
        return []
    count = int(room // (tall + _BETWEEN)) + 1
    rising = [window.bottom + _WOOD + i * (tall + _BETWEEN) for i in range(count)]
    falling = [window.top - _WOOD - tall - i * (tall + _BETWEEN) for i in range(count)]
    half = (count + 1) // 2
    found: list[float] = []
    for i in range(half):
        found.append(round(falling[i], 4))
        if len(found) < count:
            found.append(round(rising[i], 4))
    return found


def _columns(window: _Window, along: float) -> list[float]:
    """Return slots along a level, spread about its middle."""
    room = window.high - window.low - 2.0 * _WOOD
    count = int((room + _BETWEEN) // (along + _BETWEEN))
    used = count * along + (count - 1) * _BETWEEN
    start = (window.low + window.high - used) / 2.0
    return [round(start + i * (along + _BETWEEN), 4) for i in range(count)]
