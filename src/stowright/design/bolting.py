"""Separate modules joined: bolts through two uprights that stand side by side.

What stands proud inside must miss the drawers in their whole travel and the runners, so bolts stand
above a runner's top edge; where no head clears, a flush head or screws from one side do the work.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from stowright.design.bolt_choice import BoltSet, bolt_set, large_washers, sinks_in
from stowright.design.contacts import Contact, contact_of
from stowright.design.fixing_bolts import Bolted, bolt_hole, head_solid, nut_solid, put_bolt
from stowright.design.fixing_ledger import FixingResult, Ledger
from stowright.design.fixing_rows import blocked_stretches, settle, wanted_places
from stowright.design.fixing_space import Interval, Solid, solid_along
from stowright.design.pieces import JointDraft, Piece
from stowright.design.runner_holes import shade_runners
from stowright.design.screw_choice import Passed, face_screw
from stowright.design.screw_rows import Served, drive, free_places, row_of
from stowright.model.catalogue import Catalogue
from stowright.model.design import BlockDesign, ThicknessInUse
from stowright.model.part import Joint

__all__ = ["join_modules", "note_motion", "place_joining_bolts"]

#: Modules further apart than this are not bolted to each other. [mm]
_WIDEST_GAP = 30.0
#: Bolts keep this far from the uprights' ends, and stand no wider apart than the pitch. [mm]
_END, _PITCH = 100.0, 800.0
#: The uppermost row aims this far below the top. [mm]
_FROM_TOP = 60.0
#: Two rows where there is this much between them. [mm]
_BETWEEN_ROWS = 150.0
_STEP_UP = 10.0
#: What must stay free between a proud end and what moves past it. [mm]
_CLEAR = 2.0
_THREADS = ("M6", "M5")


def join_modules(
    pieces: Iterable[Piece],
    drafts: Iterable[JointDraft],
    blocks: Iterable[BlockDesign],
    catalogue: Catalogue,
    thickness_of: Mapping[str, ThicknessInUse],
) -> FixingResult:
    """Return the joining bolts of pieces on which nothing but runners stands yet."""
    blocks = tuple(blocks)
    ledger = Ledger.of(pieces, catalogue, thickness_of)
    note_motion(ledger, blocks)
    shade_runners(ledger, blocks)
    place_joining_bolts(ledger, drafts)
    return ledger.result()


def note_motion(ledger: Ledger, blocks: Iterable[BlockDesign]) -> None:
    """Note what every drawer and tray sweeps on its way out."""
    travels: dict[str, tuple[int, float]] = {}
    for block in blocks:
        depth = block.axes[1]
        axis = max(range(3), key=lambda k: abs(depth[k]))
        for opening in block.openings:
            if opening.runner is not None:
                travel = opening.runner.size.travel
                travels[opening.name] = (axis, -depth[axis] * travel)
    for body in ledger.space.bodies.values():
        if body.piece.body in travels:
            axis, travel = travels[body.piece.body]
            ledger.space.sweep(body, axis, travel)


def place_joining_bolts(ledger: Ledger, drafts: Iterable[JointDraft]) -> None:
    """Bolt every pair of uprights that a ``bolted`` draft names."""
    for draft in drafts:
        if draft.kind != "bolted":
            continue
        one, other = ledger.body(draft.receiver), ledger.body(draft.entering)
        contact = contact_of(one, other, gap=_WIDEST_GAP) if one and other else None
        if contact is None or contact.into_edge:
            ledger.warn(f"{draft.purpose}: the two do not stand side by side; not bolted")
        else:
            _join(ledger, draft, contact)


@dataclass(frozen=True, slots=True)
class _Line:
    """A level at which bolts of one kind may stand, and where along it."""

    up: float
    places: tuple[float, ...]


def _join(ledger: Ledger, draft: JointDraft, contact: Contact) -> None:
    for choice, turned in _choices(ledger, contact):
        lines = _lines(ledger, contact, choice, turned=turned)
        if sum(len(line.places) for line in lines) >= 2:
            _bolt(ledger, draft, _Job(contact, choice, turned), lines)
            return
    _screw_instead(ledger, draft, contact)


def _choices(ledger: Ledger, contact: Contact) -> Iterator[tuple[BoltSet, bool]]:
    """Yield bolts worth trying, best first; ``turned`` puts the head on the other side."""
    stack = contact.passes + contact.bite_room
    for thread in _THREADS:
        washers = large_washers(ledger.catalogue, thread)
        washer = washers[-1] if washers else None
        for head in ("hex", "coach", "countersunk"):
            found = bolt_set(
                ledger.catalogue,
                thread=thread,
                head=head,
                stack=stack,
                head_washer=washer,
                nut_washer=washer,
            )
            if found is None:
                continue
            for turned in (False, True):
                first = contact.entering if turned else contact.receiver
                if sinks_in(found.bolt, ledger.limits(first)[0]):
                    yield found, turned
                else:
                    ledger.note(
                        f"{first.id}: {first.piece.thickness:g} mm is too thin for the flush head "
                        f"of {found.bolt.name}, {found.bolt.head_height:g} mm deep; a head on its "
                        "face stands proud and wants room or packing"
                    )


@dataclass(frozen=True, slots=True)
class _Job:
    contact: Contact
    choice: BoltSet
    turned: bool

    def at(self, draft: JointDraft, joint: str, point: list[float]) -> Bolted:
        """Return the bolt's place at a point of the joint's plane."""
        contact, k = self.contact, self.contact.axis
        far = contact.meet_at + contact.sign * contact.bite_room
        start, end = (far, contact.head_at) if self.turned else (contact.head_at, far)
        through = (contact.receiver, contact.entering)
        seat = list(point)
        seat[k] = start
        return Bolted(
            set=self.choice,
            through=through[::-1] if self.turned else through,
            beyond=(),
            axis=k,
            sign=-contact.sign if self.turned else contact.sign,
            seat=(seat[0], seat[1], seat[2]),
            far=end,
            joint=joint,
            step=draft.step,
            purpose="bolt that joins the modules",
        )


def _lines(ledger: Ledger, contact: Contact, choice: BoltSet, *, turned: bool) -> tuple[_Line, ...]:
    """Return up to two levels with places along each: high up, and as low as they clear."""
    up = contact.span(2)
    steps = int((up.size - 2.0 * _FROM_TOP) // _STEP_UP)
    heights = [up.high - _FROM_TOP - i * _STEP_UP for i in range(max(steps, 0) + 1)]
    job = _Job(contact, choice, turned)
    blockers = _Blockers.of(ledger, contact)
    found: list[_Line] = []
    for order in (heights, heights[::-1]):
        for height in order:
            if found and abs(found[0].up - height) < _BETWEEN_ROWS:
                break
            places = _places(job, blockers, height)
            if len(places) >= 2:
                found.append(_Line(height, places))
                break
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Blockers:
    """What shanks must miss, and what proud ends must miss."""

    wood: list[Solid]
    open: list[Solid]
    moving: list[Solid]

    @classmethod
    def of(cls, ledger: Ledger, contact: Contact) -> _Blockers:
        """Gather what is near the two uprights."""
        space = ledger.space
        ids = (contact.receiver.id, contact.entering.id)
        return cls(
            wood=[solid for name in ids for solid in space.hard.get(name, ())],
            open=[*space.standing(but=ids), *space.hard.get("air", ())],
            moving=space.moving,
        )


def _along(contact: Contact) -> int:
    return next(k for k in contact.others if k != 2)


def _places(job: _Job, blockers: _Blockers, height: float) -> tuple[float, ...]:
    """Return places along a level, as bay coordinates."""
    contact = job.contact
    along = _along(contact)
    span = contact.span(along)
    probe = job.at(_PROBE, "", _point(contact, along, 0.0, height))
    shank = solid_along(
        contact.axis,
        probe.seat[contact.axis],
        probe.far,
        probe.seat,
        bolt_hole(job.choice.bolt) / 2.0,
    )
    ends = (head_solid(probe), nut_solid(probe))
    blocked = blocked_stretches(blockers.wood, shank, along, clear=3.0)
    for end in ends:
        blocked += blocked_stretches(blockers.open, end, along, clear=1.0)
        blocked += blocked_stretches(blockers.moving, end, along, clear=_CLEAR)
    sign = contact.receiver.sign[along]
    start = span.low if sign > 0.0 else span.high
    local: list[Interval] = []
    for a, b in blocked:
        one, two = sign * (a - start), sign * (b - start)
        local.append((min(one, two), max(one, two)))
    low = min(_END / 2.0, span.size / 2.0)
    wanted = wanted_places(span.size, end=_END, pitch=_PITCH)
    settled = settle(wanted, local, low=low, high=span.size - low, spacing=60.0)
    return tuple(start + sign * t for t in settled)


_PROBE = JointDraft(
    receiver="", entering="", kind="bolted", glued=False, step="modules", purpose=""
)


def _point(contact: Contact, along: int, at: float, height: float) -> list[float]:
    point = [0.0, 0.0, height]
    point[along] = at
    point[contact.axis] = contact.head_at
    return point


def _bolt(ledger: Ledger, draft: JointDraft, job: _Job, lines: tuple[_Line, ...]) -> None:
    joint, count = ledger.next_joint(), 0
    along = _along(job.contact)
    for line in lines:
        for at in line.places:
            put_bolt(ledger, job.at(draft, joint, _point(job.contact, along, at, line.up)))
            count += 1
    _add_joint(ledger, draft, joint, job.choice.bolt.name, count)
    head, nut = job.choice.head_stands, job.choice.nut_stands
    ledger.note(
        f"{draft.purpose}: {count} bolts clear of the runners; heads stand {head:.1f} mm and nuts "
        f"{nut:.1f} mm proud and clear the drawers"
    )


def _add_joint(ledger: Ledger, draft: JointDraft, joint: str, fixing: str, count: int) -> None:
    made = Joint(
        id=joint,
        kind="bolted",
        parts=(draft.receiver, draft.entering),
        glued=False,
        fixing=fixing if count else "",
        count=count,
    )
    ledger.join(draft.step, made)


def _screw_instead(ledger: Ledger, draft: JointDraft, contact: Contact) -> None:
    """Join two uprights with flush screws from one side where no bolt clears."""
    t_least, t_most = ledger.limits(contact.receiver)
    t = contact.receiver.piece.thickness
    screw = face_screw(
        ledger.catalogue.screws,
        passed=Passed(least=contact.passes - t + t_least, most=contact.passes - t + t_most),
        t_min=ledger.limits(contact.entering)[0],
        thickness=contact.entering.piece.thickness,
    )
    joint, count = ledger.next_joint(), 0
    if screw is not None:
        along, up = _along(contact), contact.span(2)
        served = Served(joint=joint, step=draft.step)
        for height in _two_levels(up.low, up.high):
            row = row_of(contact, screw, along=along, line_at=height)
            wanted = wanted_places(row.length, end=_END, pitch=_PITCH / 2.0)
            count += drive(ledger, row, free_places(ledger, row, wanted), served)
    if count < 2:
        ledger.warn(f"{draft.purpose}: no bolt or screw clears the drawers; not joined")
    else:
        ledger.note(f"{draft.purpose}: {count} flush screws, no bolt's ends clear the drawers")
    _add_joint(ledger, draft, joint, screw.name if screw else "", count)


def _two_levels(low: float, high: float) -> tuple[float, ...]:
    if high - low < 2.0 * _FROM_TOP + _BETWEEN_ROWS:
        return ((low + high) / 2.0,)
    return (high - _FROM_TOP, low + _FROM_TOP)
