"""Screws of the runners: cabinet members into uprights, drawer members into drawer sides.

Both members take their catalogue's holes on the runner's centre line, slots first. A partition
carries a runner on either face: where holes of the two meet, each runner gets every other one, so
that their screws stand at least 10 mm apart.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from math import hypot
from typing import Literal

from stowright.design.fixing_ledger import FixingResult, Ledger, unit_vector
from stowright.design.fixing_space import Body, Solid, solid_along
from stowright.design.pieces import Piece
from stowright.design.screw_choice import pan_screw
from stowright.model.catalogue import Catalogue, RunnerHole, Screw
from stowright.model.design import BlockDesign, OpeningDesign, RunnerFit, ThicknessInUse
from stowright.model.geometry import Axes3, Point3
from stowright.model.part import Feature, Joint, PlacedFixing

__all__ = ["STAGGER", "place_runners", "runner_fixings", "runner_id", "shade_runners"]

#: Least distance between screws that meet from both faces of a partition. [mm]
STAGGER = 10.0
#: A hole nearer than this to a piece's edge is left out. [mm]
_EDGE = 8.0
_TOUCH = 0.05
#: A runner longer than this wants three screws in a member, a shorter one two. [mm]
_SHORT = 350.0

type _Hand = Literal["left", "right"]
type _Kind = Literal["cabinet", "drawer"]
_HANDS: tuple[_Hand, _Hand] = ("left", "right")


@dataclass(frozen=True, slots=True, eq=False)
class _Spot:
    """A hole of a runner's member, and where its screw enters the piece's face."""

    hole: RunnerHole
    point: Point3


@dataclass(slots=True, eq=False)
class _Member:
    """One member of one runner against one piece.

    Attributes:
        axes: The block's.
        axis, sign: Which way its screws run.
        face_at: Where the piece's face is on that axis. [mm]
        passes: Flange and lining. [mm]
        spots: The holes it uses, slots first.
        centre: Where a flat one's centre line lies across the opening; None for one on edge. [mm]
    """

    axes: Axes3
    opening: OpeningDesign
    fit: RunnerFit
    hand: _Hand
    kind: Literal["cabinet", "drawer"]
    body: Body
    axis: int
    sign: float
    face_at: float
    passes: float
    spots: list[_Spot] = field(default_factory=list)
    centre: float | None = None

    @property
    def runner(self) -> str:
        """Id of the runner."""
        return runner_id(self.opening.name, self.hand)


def runner_id(opening: str, hand: str) -> str:
    """Return the id that stands for a runner among the things a fixing joins."""
    return f"{opening}/runner-{hand}"


def runner_fixings(
    pieces: Iterable[Piece],
    blocks: Iterable[BlockDesign],
    catalogue: Catalogue,
    thickness_of: Mapping[str, ThicknessInUse],
) -> FixingResult:
    """Return the runners' screws and pilots for pieces on which nothing else stands yet."""
    ledger = Ledger.of(pieces, catalogue, thickness_of)
    place_runners(ledger, blocks)
    return ledger.result()


def place_runners(ledger: Ledger, blocks: Iterable[BlockDesign]) -> None:
    """Place the screws of every runner, on edge or flat, and note the room it takes."""
    members = _all_members(ledger, blocks)
    _stagger(ledger, [m for m in members if m.kind == "cabinet"])
    for member in members:
        _place(ledger, member)
    for member in members:
        _shade(ledger, member)


def shade_runners(ledger: Ledger, blocks: Iterable[BlockDesign]) -> None:
    """Note the room that runners take, without placing their screws."""
    for member in _all_members(ledger, blocks):
        _shade(ledger, member)


def _all_members(ledger: Ledger, blocks: Iterable[BlockDesign]) -> list[_Member]:
    members: list[_Member] = []
    for block in blocks:
        for opening in block.openings:
            fit = opening.runner
            if fit is None:
                continue
            make = _members if fit.runner.mount == "side" else _flat_members
            members.extend(make(ledger, block.axes, opening, fit))
    return members


def _members(
    ledger: Ledger, axes: Axes3, opening: OpeningDesign, fit: RunnerFit
) -> Iterable[_Member]:
    across = max(range(3), key=lambda k: abs(axes[0][k]))
    direction = axes[0][across]
    boxes = _box_sides(ledger, opening.name, across, direction)
    hands: tuple[tuple[_Hand, float], ...] = (("left", -direction), ("right", direction))
    for n, (hand, outward) in enumerate(hands):
        upright = ledger.body(opening.bounds[n])
        if upright is None:
            ledger.warn(f"{opening.name}: nothing on the {hand} to screw the runner to")
        else:
            yield _member(axes, opening, fit, (hand, "cabinet"), upright, across, outward)
        if len(boxes) == 2:
            yield _member(axes, opening, fit, (hand, "drawer"), boxes[n], across, -outward)
        else:
            ledger.warn(f"{opening.name}: no side of its own to screw the {hand} runner to")


def _flat_members(
    ledger: Ledger, axes: Axes3, opening: OpeningDesign, fit: RunnerFit
) -> Iterable[_Member]:
    """Lay a pair flat under a box, its outer edges in line with the box's sides."""
    floor, bottom = ledger.body(opening.bounds[2]), _underside(ledger, opening.name)
    if floor is None or bottom is None:
        ledger.warn(
            f"{opening.name}: a flat-mounted runner wants a panel under the box, and a bottom that "
            "lies at its underside (bottom_fit = planted or between)"
        )
        return
    packing = _flat_packing(ledger, opening, fit, bottom.low[2] - floor.high[2])
    if packing is None:
        return
    across = max(range(3), key=lambda k: abs(axes[0][k]))
    right = axes[0][across]
    sides = _box_sides(ledger, opening.name, across, right)
    reach = fit.runner.section / 2.0
    low, high = min(b.low[across] for b in sides), max(b.high[across] for b in sides)
    edges = (low + reach, high - reach) if right > 0.0 else (high - reach, low + reach)
    for hand, centre in zip(_HANDS, edges, strict=True):
        which: tuple[_Hand, _Kind] = (hand, "cabinet")
        passes = packing + opening.build.lining.carcass
        yield _flat_member(axes, opening, fit, which, (floor, across, centre, passes))
        yield _flat_member(axes, opening, fit, (hand, "drawer"), (bottom, across, centre, 0.0))


def _flat_packing(
    ledger: Ledger, opening: OpeningDesign, fit: RunnerFit, apart: float
) -> float | None:
    """Return what a flat runner is packed up by; None where it does not go under the box. [mm]."""
    thick = fit.runner.thickness
    if apart < thick - _TOUCH:
        ledger.warn(
            f"{opening.name}: the {fit.runner.name} runner lies flat and is {thick:g} mm thick; "
            f"{apart:.1f} mm are free under the box: raise under_gap by {thick - apart:.1f}"
        )
        return None
    packing = round(max(apart - thick, 0.0), 4)
    if packing > _TOUCH:
        ledger.note(f"{opening.name}: pack its flat runners up by {packing:.1f} mm")
    return packing


def _flat_member(
    axes: Axes3,
    opening: OpeningDesign,
    fit: RunnerFit,
    which: tuple[_Hand, _Kind],
    lies: tuple[Body, int, float, float],
) -> _Member:
    """Return one member that lies on a panel's top or under a bottom.

    Args:
        axes: The block's.
        opening: The opening.
        fit: The runner in it.
        which: Hand and kind.
        lies: The panel, the axis across, where the centre line is on it, what the screws pass.
    """
    (hand, kind), (body, across, centre, passes) = which, lies
    sign = -1.0 if kind == "cabinet" else 1.0
    member = _Member(
        axes=axes,
        opening=opening,
        fit=fit,
        hand=hand,
        kind=kind,
        body=body,
        axis=2,
        sign=sign,
        face_at=body.high[2] if kind == "cabinet" else body.low[2],
        passes=round(fit.runner.flange + passes, 4),
        centre=centre,
    )
    holes = [hole for hole in fit.size.holes if hole.member == kind]
    for hole in sorted(holes, key=lambda h: (h.kind != "slot", h.at, h.up)):
        point = _on_line(axes, opening, fit, hole.at, 0.0)
        point[across], point[2] = centre + hole.up, member.face_at
        if _on_piece(body, 2, point):
            member.spots.append(_Spot(hole=hole, point=(point[0], point[1], point[2])))
    return member


def _underside(ledger: Ledger, opening: str) -> Body | None:
    """Return the bottom of a box that lies at its underside, None where its sides reach lower."""
    mine = [
        b
        for b in ledger.space.bodies.values()
        if b.piece.opening == opening and b.piece.role not in {"drawer-front", "door"}
    ]
    lowest = min((b.low[2] for b in mine), default=0.0)
    return next(
        (
            b
            for b in mine
            if b.piece.role in {"drawer-bottom", "tray-base"} and b.low[2] < lowest + _TOUCH
        ),
        None,
    )


def _box_sides(ledger: Ledger, opening: str, across: int, direction: float) -> list[Body]:
    """Return the moving uprights of an opening that carry runners, left and right."""
    found = [
        body
        for body in ledger.space.bodies.values()
        if body.piece.opening == opening
        and body.piece.role in {"drawer-side", "tray-cheek"}
        and body.local[across] == 2
    ]
    found.sort(key=lambda body: direction * body.low[across])
    return [found[0], found[-1]] if len(found) > 1 else found


def _member(
    axes: Axes3,
    opening: OpeningDesign,
    fit: RunnerFit,
    which: tuple[_Hand, Literal["cabinet", "drawer"]],
    body: Body,
    axis: int,
    sign: float,
) -> _Member:
    hand, kind = which
    lining = opening.build.lining
    member = _Member(
        axes=axes,
        opening=opening,
        fit=fit,
        hand=hand,
        kind=kind,
        body=body,
        axis=axis,
        sign=sign,
        face_at=body.low[axis] if sign > 0.0 else body.high[axis],
        passes=fit.runner.flange + (lining.carcass if kind == "cabinet" else lining.drawer),
    )
    holes = [hole for hole in fit.size.holes if hole.member == kind]
    for hole in sorted(holes, key=lambda h: (h.kind != "slot", h.at, h.up)):
        point = _on_line(axes, opening, fit, hole.at, hole.up)
        point[axis] = member.face_at
        if _on_piece(body, axis, point):
            member.spots.append(_Spot(hole=hole, point=(point[0], point[1], point[2])))
    return member


def _on_line(
    axes: Axes3, opening: OpeningDesign, fit: RunnerFit, at: float, up: float
) -> list[float]:
    """Return a point of the runner's line, ``at`` from its face end and ``up`` above it."""
    return [
        opening.at[k] + axes[1][k] * (fit.set_back + at) + axes[2][k] * (fit.line + up)
        for k in range(3)
    ]


def _on_piece(body: Body, axis: int, point: Sequence[float]) -> bool:
    return all(
        body.low[k] + _EDGE <= point[k] <= body.high[k] - _EDGE for k in range(3) if k != axis
    )


def _stagger(ledger: Ledger, members: list[_Member]) -> None:
    """Share out holes that meet on the two faces of one upright."""
    by_upright: dict[str, list[_Member]] = {}
    for member in members:
        by_upright.setdefault(member.body.id, []).append(member)
    for upright, sharing in by_upright.items():
        if len({member.sign for member in sharing}) > 1:
            least = _share_holes(sharing)
            names = " and ".join(dict.fromkeys(member.opening.name for member in sharing))
            ledger.note(
                f"{upright}: runner screws of {names} are staggered, the nearest two stand "
                f"{least:.1f} mm apart"
            )


def _share_holes(sharing: list[_Member]) -> float:
    """Give each clashing hole to one runner; return the least distance left between the two."""
    flat = [k for k in range(3) if k != sharing[0].axis]
    every = [(member, spot) for member in sharing for spot in member.spots]
    every.sort(key=lambda e: (e[1].point[flat[0]], e[1].point[flat[1]]))
    kept: dict[_Member, list[_Spot]] = {member: [] for member in sharing}
    gone: set[_Spot] = set()
    for member, spot in every:
        if spot in gone:
            continue
        rivals = [
            (other, theirs)
            for other, theirs in every
            if other.sign != member.sign
            and theirs not in gone
            and _apart(spot, theirs, flat) < STAGGER
        ]
        if rivals and _has_more(kept[member], kept[rivals[0][0]], spot.hole):
            gone.add(spot)
            continue
        gone.update(theirs for _, theirs in rivals)
        kept[member].append(spot)
    for member in sharing:
        member.spots = [spot for spot in member.spots if spot in kept[member]]
    return min(
        (
            _apart(a, b, flat)
            for one in sharing
            for other in sharing
            if one.sign < other.sign
            for a in one.spots
            for b in other.spots
        ),
        default=float("inf"),
    )


def _apart(a: _Spot, b: _Spot, flat: Sequence[int]) -> float:
    return hypot(a.point[flat[0]] - b.point[flat[0]], a.point[flat[1]] - b.point[flat[1]])


def _has_more(mine: list[_Spot], theirs: list[_Spot], hole: RunnerHole) -> bool:
    """Whether a runner has more holes of this kind already than its rival, or else of any kind."""
    one = sum(spot.hole.kind == hole.kind for spot in mine)
    two = sum(spot.hole.kind == hole.kind for spot in theirs)
    return (one, len(mine)) > (two, len(theirs))


def _place(ledger: Ledger, member: _Member) -> None:
    screw = _screw_for(ledger, member)
    if screw is None:
        ledger.warn(
            f"{member.opening.name}: no pan screw holds in {member.body.piece.material} behind "
            f"the {member.fit.runner.name} runner without coming through"
        )
        return
    joint = ledger.next_joint()
    count = sum(_drive(ledger, member, screw, spot.point, joint) for spot in member.spots)
    wanted = 3 if member.fit.size.length > _SHORT else 2
    if count < wanted:
        ledger.warn(
            f"{member.opening.name}: only {count} screws in the {member.kind} member of the "
            f"{member.hand} runner"
        )
    made = Joint(
        id=joint,
        kind="runner",
        parts=(member.body.id, member.runner),
        glued=False,
        fixing=screw.name if count else "",
        count=count,
    )
    ledger.join("runners", made)


def _screw_for(ledger: Ledger, member: _Member) -> Screw | None:
    runner = member.fit.runner
    wanted = next((s for s in ledger.catalogue.screws if s.name == runner.screw), None)
    t_min, _ = ledger.limits(member.body)
    screw = pan_screw(ledger.catalogue.screws, wanted=wanted, passes=member.passes, t_min=t_min)
    if screw is not None and screw.name != runner.screw:
        ledger.note(
            f"{runner.name} asks for {runner.screw}; {member.body.piece.material}, at least "
            f"{t_min:.2f} mm, takes {screw.name} behind {member.passes:g} mm"
        )
    return screw


def _drive(ledger: Ledger, member: _Member, screw: Screw, point: Point3, joint: str) -> int:
    """Place one screw; 0 when something is in its way already."""
    body, axis = member.body, member.axis
    bite = screw.length - member.passes
    inside = solid_along(
        axis, member.face_at, member.face_at + member.sign * bite, point, screw.diameter / 2.0
    )
    if not ledger.space.free((body.id,), inside, clear=2.0, soft=False):
        return 0
    head = list(point)
    head[axis] = round(member.face_at - member.sign * member.passes, 4)
    make = partial(
        PlacedFixing,
        type=screw.name,
        kind="screw",
        length=screw.length,
        joins=(member.runner, body.id),
        at=(head[0], head[1], head[2]),
        direction=unit_vector(axis, member.sign),
        pilot=screw.pilot_face,
        step="runners",
    )
    fixing = ledger.place(make, step="runners", joint=joint)
    face = body.face_towards(axis, -member.sign)
    pilot = partial(
        Feature,
        kind="pilot",
        face=face,
        at=body.at_on(face, point),
        size=(screw.pilot_face,),
        depth=round(bite, 2),
        through=False,
        purpose=f"pilot for {screw.name}, {member.kind} member of the runner",
    )
    ledger.cut(body, pilot, fixing)
    ledger.space.take(body.id, inside)
    return 1


def _shade(ledger: Ledger, member: _Member) -> None:
    """Note where the runner lies: soft on the piece's face, in the air beside it."""
    band = _band(member)
    a, out = 2 * member.axis, -member.sign
    ledger.space.shade(
        member.body.id, _between(band, a, member.face_at - 0.5, member.face_at + 0.5)
    )
    if member.kind == "cabinet":
        lining = member.passes - member.fit.runner.flange
        start = member.face_at + out * (lining + 0.6)
        end = member.face_at + out * (lining + member.fit.runner.thickness)
        if member.centre is not None:
            start, end = member.face_at + 0.6, member.face_at + lining + member.fit.runner.thickness
        ledger.space.take("air", _between(band, a, min(start, end), max(start, end)))


def _between(band: list[float], a: int, low: float, high: float) -> Solid:
    band = list(band)
    band[a], band[a + 1] = low, high
    return (band[0], band[1], band[2], band[3], band[4], band[5])


def _band(member: _Member) -> list[float]:
    """Return the runner's rectangle: ranges on the three axes, none across it."""
    fit, half = member.fit, member.fit.runner.section / 2.0
    one = _on_line(member.axes, member.opening, fit, 0.0, -half)
    two = _on_line(member.axes, member.opening, fit, fit.size.length, half)
    band: list[float] = []
    for a, b in zip(one, two, strict=True):
        band += [min(a, b), max(a, b)]
    if member.centre is not None:
        across = max(range(3), key=lambda k: abs(member.axes[0][k]))
        band[2 * across : 2 * across + 2] = [member.centre - half, member.centre + half]
    return band
