"""Where a drawer's runners sit and where their screws go, read off the placed pieces.

Along is measured from the face edge of the upright (cabinet member) or from the face end of the
drawer's side (drawer member); up from the carcass floor under the opening, or from the lower edge
of the drawer's side.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from stowright.drawings.arrangement import dot
from stowright.model.design import BlockDesign, Design, OpeningDesign, RunnerFit
from stowright.model.geometry import Point3
from stowright.model.part import PlacedFixing, PlacedPart

__all__ = ["MemberPlaces", "RunnerScrew", "drawn_members", "members_of"]

#: What a drawer's member is screwed to.
_BOX_SIDES = frozenset({"drawer-side", "tray-cheek"})

type Member = Literal["cabinet", "drawer"]
#: A drilled place within this of the catalogue's is that hole, moved to the grid. [mm]
_NEAR = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RunnerScrew:
    """A screw of a runner's member. [mm].

    Attributes:
        along, up: Where it goes.
        kind: ``slot`` (goes in first, can be shifted) or ``round`` (after the run test).
        pilot: Diameter to drill.
        type: Catalogue name of the screw.
    """

    along: float
    up: float
    kind: Literal["slot", "round"]
    pilot: float
    type: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberPlaces:
    """One member of a runner on the piece it is screwed to. [mm].

    Attributes:
        member: ``cabinet`` or ``drawer``.
        side: ``left`` or ``right``, as one looks at the face.
        mark: Mark of the part it is screwed to.
        piece: What that part is, in words.
        length, height: Extent of what is shown of the part: along, and up from zero.
        below: How far the part goes below zero.
        start: Where the member starts along.
        line: Height of its centre line.
        runner_length, section: Of the runner.
        screws: Its screws, slots first, each kind from the face inwards; none where none holds.
        stands_on: What zero up is of a cabinet member: the carcass floor, or what parts the
            opening from the one below.
        under: Thickness of that, below zero; 0 of a drawer member.
        both: Whether the other side's member is drilled alike, so that this one shows both.
    """

    member: Member
    side: Literal["left", "right"]
    mark: str
    piece: str
    length: float
    height: float
    below: float
    start: float
    line: float
    runner_length: float
    section: float
    screws: tuple[RunnerScrew, ...]
    stands_on: str = "carcass floor"
    under: float = 0.0
    both: bool = True

    @property
    def hand(self) -> str:
        """Which side's it is, to stand behind ``member``; empty where it shows both."""
        return "" if self.both else f", {self.side}"


def members_of(design: Design, opening: OpeningDesign) -> tuple[MemberPlaces, ...]:
    """Return the members of an opening's runners; none when it has no runner."""
    fit = opening.runner
    if fit is None:
        return ()
    block = next(b for b in design.blocks if b.name == opening.block)
    found = []
    for side in ("left", "right"):
        for member in ("cabinet", "drawer"):
            places = _member(design, block, opening, fit, side, member)
            if places is not None:
                found.append(places)
    return tuple(found)


def drawn_members(design: Design, opening: OpeningDesign) -> tuple[MemberPlaces, ...]:
    """Return the members to draw: the left ones, and right ones that are drilled otherwise.

    On a partition two runners share the holes, so that a side has others than the side opposite.
    """
    members = members_of(design, opening)
    found = []
    for left in (m for m in members if m.side == "left"):
        right = next((m for m in members if (m.side, m.member) == ("right", left.member)), None)
        if right is None or _drilled(left) == _drilled(right):
            found.append(left)
        else:
            found += [replace(left, both=False), replace(right, both=False)]
    return tuple(found)


def _drilled(member: MemberPlaces) -> tuple[object, ...]:
    holes = sorted(
        (s.kind, round(s.along, 1), round(s.up, 1), s.pilot, s.type) for s in member.screws
    )
    return (round(member.line, 1), *holes)


def _member(
    design: Design,
    block: BlockDesign,
    opening: OpeningDesign,
    fit: RunnerFit,
    side: str,
    member: str,
) -> MemberPlaces | None:
    runner = f"{opening.name}/runner-{side}"
    by_id = {p.id: p for p in design.placed}
    mine = [
        f
        for f in design.fixings
        if runner in f.joins and f.kind in {"screw", "bolt"} and _holds(f, by_id, member, opening)
    ]
    held = next((by_id[j] for f in mine[:1] for j in f.joins if j in by_id), None)
    piece = held or _beside(design, block, opening, side, member)
    if piece is None:
        return None
    part = design.part(piece.mark)
    inward, up = block.axes[1], block.axes[2]
    (near, far), (low, high) = _extent(piece, inward), _extent(piece, up)
    drawer = member == "drawer"
    zero_up = low if drawer else dot(opening.at, up)
    zero_in = near
    start = _runner_start(opening, fit, inward) - zero_in
    line = dot(opening.at, up) + fit.line - zero_up
    base = next((p for p in design.placed if p.id == opening.bounds[2]), None)
    bottom = _extent(base, up)[0] if base is not None else low
    return MemberPlaces(
        member="drawer" if drawer else "cabinet",
        side="left" if side == "left" else "right",
        mark=part.mark,
        piece=part.name,
        length=far - near,
        height=min(high, zero_up + opening.height) - zero_up if not drawer else high - low,
        below=zero_up - low,
        start=start,
        line=line,
        runner_length=fit.size.length,
        section=fit.runner.section,
        screws=_screws(mine, fit, member, inward, up, (zero_in, zero_up), start),
        stands_on=_UNDER.get(base.role if base is not None else "", "carcass floor"),
        under=0.0 if drawer else max(zero_up - max(bottom, low), 0.0),
    )


#: What lies under an opening, in words for who marks out from it.
_UNDER = {"shelf": "shelf's upper face", "stack-rail": "upper face of the rail below"}


def _beside(
    design: Design, block: BlockDesign, opening: OpeningDesign, side: str, member: str
) -> PlacedPart | None:
    """Return what a member lies on that no screw holds: the upright, or the box's side."""
    k = 0 if side == "left" else -1
    if member == "cabinet":
        return next((p for p in design.placed if p.id == opening.bounds[:2][k]), None)
    across = block.axes[0]
    sides = [p for p in design.placed if p.body == opening.name and p.role in _BOX_SIDES]
    sides.sort(key=lambda p: dot(p.origin, across))
    return sides[k] if len(sides) > 1 else None


def _runner_start(opening: OpeningDesign, fit: RunnerFit, inward: Point3) -> float:
    """Return where a runner's face end lies along the block. [mm]."""
    return dot(opening.at, inward) + fit.set_back


def _holds(
    fixing: PlacedFixing, by_id: dict[str, PlacedPart], member: str, opening: OpeningDesign
) -> bool:
    """Return whether a fixing holds the member in question: the drawer's moves with its box."""
    bodies = {by_id[j].body for j in fixing.joins if j in by_id}
    return (opening.name in bodies) == (member == "drawer")


def _screws(
    fixings: list[PlacedFixing],
    fit: RunnerFit,
    member: str,
    inward: Point3,
    up: Point3,
    zero: tuple[float, float],
    start: float,
) -> tuple[RunnerScrew, ...]:
    rows = []
    for fixing in fixings:
        along, height = dot(fixing.at, inward) - zero[0], dot(fixing.at, up) - zero[1]
        near = [
            hole
            for hole in fit.size.holes
            if hole.member == member and abs(hole.at - (along - start)) <= _NEAR
        ]
        rows.append(
            RunnerScrew(
                along=round(along, 3),
                up=round(height, 3),
                kind=near[0].kind if near else "round",
                pilot=fixing.pilot,
                type=fixing.type,
            )
        )
    return tuple(sorted(rows, key=lambda r: (r.kind != "slot", r.along, r.up)))


def _extent(piece: PlacedPart, direction: Point3) -> tuple[float, float]:
    ends = [
        dot(piece.point(u, v, w), direction)
        for u in (0.0, piece.length)
        for v in (0.0, piece.width)
        for w in (0.0, piece.thickness)
    ]
    return min(ends), max(ends)
