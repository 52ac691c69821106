"""One row of screws through one piece into another: where they stand, what they make in both."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

from stowright.design.contacts import Contact
from stowright.design.fixing_ledger import Ledger, unit_vector
from stowright.design.fixing_rows import END_LEAST, blocked_stretches, settle
from stowright.design.fixing_space import EPS, Body, Interval, Solid, meets, solid_along
from stowright.design.screw_choice import clearance_hole
from stowright.model.catalogue import Screw
from stowright.model.geometry import Point3
from stowright.model.part import Feature, PlacedFixing

__all__ = ["Row", "Served", "drive", "free_places", "row_of"]

#: Least distance of two screws, times their diameter: EN 1995-1-1 Table 8.2 asks for (5 + 2 cos) d
#: of ply, the angle between force and grain at its worst (from memory).
SPACING_D = 7.0

#: Wood left between two holes, or between a hole and a recess. [mm]
CLEAR = 3.0
#: How near a recess's bottom lies to the piece that sits in it. [mm]
_SEAT = 0.5
#: Further away than any bay is long. [mm]
_FAR = 1.0e6


@dataclass(frozen=True, slots=True, kw_only=True)
class Served:
    """What a screw serves: the joint's id and the stage it is driven in."""

    joint: str
    step: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A line along which screws of one kind may stand.

    Distances along it run from the end nearest the receiver's own origin, so that handed pieces
    come out alike.

    Attributes:
        along, across: The bay axes along the row and across it.
        line_at: Where it lies on the axis across. [mm]
        start, sign: Where it begins on the axis along, and which way it runs.
        length: Its length. [mm]
    """

    contact: Contact
    screw: Screw
    along: int
    across: int
    line_at: float
    start: float
    sign: float
    length: float

    def point(self, t: float) -> Point3:
        """Return where the head of a screw at distance t sits, in the bay."""
        found = [0.0, 0.0, 0.0]
        found[self.contact.axis] = self.contact.head_at
        found[self.across] = self.line_at
        found[self.along] = self.start + self.sign * t
        return (found[0], found[1], found[2])

    @property
    def tip_at(self) -> float:
        """Where its points end on the axis they run along. [mm]."""
        return self.contact.head_at + self.contact.sign * self.screw.length


def row_of(contact: Contact, screw: Screw, *, along: int, line_at: float) -> Row:
    """Return the row along one axis of a contact."""
    span = contact.span(along)
    sign = contact.receiver.sign[along]
    return Row(
        contact=contact,
        screw=screw,
        along=along,
        across=next(k for k in contact.others if k != along),
        line_at=line_at,
        start=span.low if sign > 0.0 else span.high,
        sign=sign,
        length=span.size,
    )


def free_places(
    ledger: Ledger, row: Row, wanted: Sequence[float], *, under_runner: bool = False
) -> tuple[float, ...]:
    """Return where screws can stand on a row, as near as can be to where they are wanted.

    Args:
        ledger: What is there already.
        row: The row.
        wanted: Distances along it.
        under_runner: Let heads lie flush where a runner will cover them.
    """
    low = min(END_LEAST, row.length / 2.0)
    return settle(
        wanted,
        _blocked(ledger, row, under_runner=under_runner),
        low=low,
        high=row.length - low,
        spacing=max(SPACING_D * row.screw.diameter, 25.0),
    )


def _blocked(ledger: Ledger, row: Row, *, under_runner: bool) -> list[Interval]:
    contact, space = row.contact, ledger.space
    receiver, entering = contact.receiver, contact.entering
    shank, head = _probes(row)
    inside = entering.solid()
    passed = [s for s in space.hard.get(receiver.id, ()) if not _is_seat(s, inside, row)]
    found = blocked_stretches(passed, shank, row.along, clear=CLEAR)
    found += blocked_stretches(passed, head, row.along, clear=1.0)
    found += blocked_stretches(space.hard.get(entering.id, ()), shank, row.along, clear=CLEAR)
    found += blocked_stretches(space.covers.get(receiver.id, ()), head, row.along, clear=0.0)
    found += blocked_stretches(space.hard.get("air", ()), head, row.along, clear=0.0)
    if not under_runner:
        found += blocked_stretches(space.soft.get(receiver.id, ()), head, row.along, clear=0.0)
    stretches = [_in_row(row, a, b) for a, b in found]
    head_reach = row.screw.head / 2.0
    rims = [(row.across, row.line_at + side) for side in (-head_reach, head_reach)]
    stretches += _off_outline(receiver, row, rims, head_reach)
    if contact.into_edge:
        start = contact.meet_at + contact.sign
        rims = [(contact.axis, start), (contact.axis, row.tip_at)]
    stretches += _off_outline(entering, row, rims, 8.0)
    return stretches


def _in_row(row: Row, a: float, b: float) -> Interval:
    one, two = row.sign * (a - row.start), row.sign * (b - row.start)
    return (min(one, two), max(one, two))


def _is_seat(solid: Solid, inside: Solid, row: Row) -> bool:
    """Whether a recess is the one that the entering piece itself sits in."""
    a, k = 2 * row.along, 2 * row.contact.axis
    bottom = solid[k] if row.contact.sign > 0.0 else solid[k + 1]
    return (
        meets(solid, inside)
        and abs(bottom - row.contact.meet_at) < _SEAT
        and solid[a + 1] - solid[a] > 0.9 * row.length - EPS
    )


def _probes(row: Row) -> tuple[Solid, Solid]:
    """Return shank and head with their centre at 0 along the row."""
    contact, screw = row.contact, row.screw
    centre = [0.0, 0.0, 0.0]
    centre[row.across] = row.line_at
    shank = solid_along(
        contact.axis, contact.head_at, row.tip_at, centre, clearance_hole(screw) / 2.0
    )
    sunk = (screw.head - screw.diameter) / 2.0
    head = solid_along(
        contact.axis,
        contact.head_at - 0.4 * contact.sign,
        contact.head_at + contact.sign * sunk,
        centre,
        screw.head / 2.0,
    )
    return shank, head


def _off_outline(
    body: Body, row: Row, lines: Iterable[tuple[int, float]], margin: float
) -> list[Interval]:
    """Return stretches of a row where a shaped piece is not there to be drilled.

    Args:
        body: The piece; a plain rectangle gives none.
        row: The row.
        lines: Lines along the row that must lie in wood: the axis they lie at, and where on it.
        margin: Wood wanted along the row on either side. [mm]
    """
    if not body.piece.outline:
        return []
    found: list[Interval] = []
    for axis, value in lines:
        at = -_FAR
        for low, high in _inside(body, row.along, axis, value):
            found.append((at, low + margin))
            at = high - margin
        found.append((at, _FAR))
    return [_in_row(row, a, b) for a, b in found]


def _inside(body: Body, along: int, axis: int, value: float) -> list[Interval]:
    """Return the stretches of a line along one bay axis that lie inside a piece's outline."""
    j, origin, sign = body.local[along], body.piece.origin, body.sign
    level = sign[axis] * (value - origin[axis])
    crossings: list[float] = []
    outline = body.piece.outline
    for one, two in pairwise((*outline, outline[0])):
        a, b = one[1 - j], two[1 - j]
        if (a > level) != (b > level):
            local = one[j] + (two[j] - one[j]) * (level - a) / (b - a)
            crossings.append(origin[along] + sign[along] * local)
    crossings.sort()
    return list(zip(crossings[::2], crossings[1::2], strict=False))


def drive(ledger: Ledger, row: Row, places: Iterable[float], served: Served) -> int:
    """Place screws on a row: fixings, holes in both pieces, room taken. Return how many."""
    count = 0
    for t in places:
        _drive_one(ledger, row, t, served)
        count += 1
    return count


def _drive_one(ledger: Ledger, row: Row, t: float, served: Served) -> None:
    contact, screw = row.contact, row.screw
    head = row.point(t)
    pilot = screw.pilot_edge if contact.into_edge else screw.pilot_face
    make = partial(
        PlacedFixing,
        type=screw.name,
        kind="screw",
        length=screw.length,
        joins=(contact.receiver.id, contact.entering.id),
        at=head,
        direction=unit_vector(contact.axis, contact.sign),
        pilot=pilot,
        step=served.step,
    )
    fixing = ledger.place(make, step=served.step, joint=served.joint)
    _passed_hole(ledger, row, head, fixing)
    _pilot(ledger, row, head, pilot, fixing)
    _take(ledger, row, head)


def _passed_hole(ledger: Ledger, row: Row, head: Point3, fixing: str) -> None:
    """Cut the hole that the screw slides through: as deep as a recess leaves wood."""
    contact, screw = row.contact, row.screw
    body, face = contact.receiver, contact.head_face
    whole = contact.passes > body.piece.thickness - 0.05
    make = partial(
        Feature,
        kind="hole",
        face=face,
        at=body.at_on(face, head),
        size=(clearance_hole(screw),),
        depth=body.piece.thickness if whole else round(contact.passes, 4),
        through=whole,
        purpose=f"clearance for {screw.name}, countersunk {screw.head:g}",
    )
    ledger.cut(body, make, fixing)


def _pilot(ledger: Ledger, row: Row, head: Point3, pilot: float, fixing: str) -> None:
    contact, screw = row.contact, row.screw
    body, face = contact.entering, contact.bitten_face
    point = list(head)
    point[contact.axis] = contact.meet_at
    make = partial(
        Feature,
        kind="pilot",
        face=face,
        at=body.at_on(face, point),
        size=(pilot,),
        depth=round(screw.length - contact.passes, 1),
        through=False,
        purpose=f"pilot for {screw.name}",
    )
    ledger.cut(body, make, fixing)


def _take(ledger: Ledger, row: Row, head: Point3) -> None:
    contact, screw, space = row.contact, row.screw, ledger.space
    hole = clearance_hole(screw) / 2.0
    sunk = contact.head_at + contact.sign * (screw.head - screw.diameter) / 2.0
    space.take(
        contact.receiver.id,
        solid_along(contact.axis, contact.head_at, contact.meet_at, head, hole),
    )
    space.take(
        contact.receiver.id,
        solid_along(contact.axis, contact.head_at, sunk, head, screw.head / 2.0),
    )
    space.take(
        contact.entering.id,
        solid_along(contact.axis, contact.meet_at, row.tip_at, head, screw.diameter / 2.0),
    )
